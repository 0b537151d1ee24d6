import { describe, expect, it } from 'vitest'
import { compose } from '../../../src/compose.ts'

const TWO = 'Bar 1: keep D2 F2 on 1 3'
const FOUR = 'Bar 1: keep D2 E2 F2 G2 on 1 2 3 4'

describe('Two rules that keep the same bar', () => {
  it('clash where one has a note more, whichever comes first', () => {
    for (const rules of [
      [TWO, FOUR],
      [FOUR, TWO],
    ]) {
      const { lines, clash } = compose('| Dm7 | G7 |', { rules })
      expect(lines).toHaveLength(0)
      expect([...clash!.rules].sort()).toEqual([`${TWO} (must)`, `${FOUR} (must)`].sort())
      expect(clash!.bars).toEqual([1])
    }
  })

  it('are both kept where they say the same', () => {
    const { lines } = compose('| Dm7 | G7 |', { rules: [TWO, TWO, FOUR.replace('(must)', '').concat(' (weight 3)')] })
    const first = lines[0]!.notes.filter(({ slot }) => slot.barIndex === 0)
    expect(first.map(({ name }) => name)).toEqual(['D2', 'F2'])
  })

  it('clash where they keep different notes at the two times of a bar that is to stay the same', () => {
    const rules = ['Bar 1: keep D2 F2 on 1 3', 'Bar 2: keep D2 E2 F2 G2 on 1 2 3 4']
    const { lines, clash } = compose('|: Dm7 :| G7 |', { rules })
    expect([lines.length, clash!.rules.length]).toEqual([0, 2])
    const anew = compose('|: Dm7 :| G7 |', { rules: [...rules, 'a new line at each repeat'] }).lines[0]!
    expect(anew.notes.slice(0, 6).map(({ name }) => name)).toEqual(['D2', 'F2', 'D2', 'E2', 'F2', 'G2'])
  })
})
