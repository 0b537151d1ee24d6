import { describe, expect, it } from 'vitest'
import { editedText } from '../../src/chart/header-edit.ts'
import { parseChart } from '../../src/chart/parse.ts'
import { compose } from '../../src/compose.ts'
import { looseningEdit } from '../../src/line/rule-edit.ts'

const TEXT = `feel: swing-medium
rule: arrive on the root
rule: Bars 2-3: do not arrive on the root
| Dm7 | G7 | Cmaj7 | A7 |
`

describe('a loosening', () => {
  it('takes the place of its rule, and each one alone lets a line be', () => {
    const { clash } = compose(TEXT)
    expect(clash!.loosen.length).toBeGreaterThan(1)
    for (const loosening of clash!.loosen) {
      const edit = looseningEdit(parseChart(TEXT).chart, loosening)!
      const text = editedText(TEXT, [edit])
      expect(text.split('\n').filter((row) => row === `rule: ${loosening}`)).toHaveLength(1)
      expect(text.split('\n')).toHaveLength(TEXT.split('\n').length)
      expect(compose(text).lines).toHaveLength(1)
    }
  })

  it('has no place where its rule stands elsewhere', () => {
    expect(looseningEdit(parseChart(TEXT).chart, 'no leap over a fifth (must)')).toBeUndefined()
    expect(looseningEdit(parseChart(TEXT).chart, 'Bars 2–4: do not arrive on the root (off)')).toBeUndefined()
  })
})
