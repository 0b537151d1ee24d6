import { describe, expect, it, test } from 'vitest'
import { compose } from '../../src/compose.ts'

const CHART = '| Dm7 | G7 | Cmaj7 | A7 |'

/** The best line of a chart under rules: string and fret, or the names of its notes, bar by bar. */
function built(chart: string, rules: readonly string[], show: 'frets' | 'names' = 'names'): string {
  const { form, lines, clash, diagnostics } = compose(chart, { rules })
  expect(diagnostics.filter(({ code }) => code.startsWith('rule/'))).toEqual([])
  if (clash) throw new Error(clash.message)
  const text = (bar: number) =>
    lines[0]!.notes
      .filter(({ slot }) => slot.barIndex === bar && !slot.ghost)
      .map((note) => (show === 'frets' ? note.fret : note.name))
      .join(' ')
  return form.bars.map(({ index }) => text(index)).join(' | ')
}

describe.each(['swing-medium', 'bossa-nova'])('Rules written in a chart in %s', (feel) => {
  const chart = (rules: readonly string[]) =>
    `feel: ${feel}\n${rules.map((rule) => `rule: ${rule}\n`).join('')}${CHART}`

  it('lead above the twelfth fret where they speak of it', () => {
    const frets = built(chart(['stay between frets 12 and 16']), [], 'frets')
      .split(/[ |]+/)
      .map(Number)
    expect(Math.min(...frets)).toBeGreaterThanOrEqual(12)
    expect(Math.max(...frets)).toBeLessThanOrEqual(16)
  })

  it('keep a bar as it is', () => {
    expect(built(chart(['Bar 2: keep B1 Db2 D2 Ab2 on 1 2 3& 4']), []).split(' | ')[1]).toMatch(
      /^B1 (Db|C#)2 D2 (Ab|G#)2$/,
    )
  })

  test.each(['begin each bar on the third', 'stay between A1 and A2', 'no pitch twice in a row', 'last note on G2'])(
    'or asked for beside it are the same: %s',
    (rule) => {
      expect(built(chart([rule]), [])).toBe(built(chart([]), [rule]))
      expect(built(chart([rule]), [])).not.toBe(built(chart([]), []))
    },
  )
})
