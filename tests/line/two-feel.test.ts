import { describe, expect, it } from 'vitest'
import { compose } from '../../src/compose.ts'
import type { Settings } from '../../src/settings.ts'

const TUNE = `form: A A B A
[A]
| Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | % |
[B]
| Cm7 | F7 | Bbmaj7 | Eb7 | Am7 | D7 | Gmaj7 | A7 |
`

/** By bar, the cells that its notes are struck in. */
function cells(text: string, settings: Settings): readonly string[] {
  const { form, lines, clash, diagnostics } = compose(text, settings)
  if (clash) throw new Error(clash.message)
  expect(diagnostics.filter(({ code }) => code.startsWith('rule/'))).toEqual([])
  return form.bars.map(({ index }) =>
    [...new Set(lines[0]!.notes.filter(({ slot }) => slot.barIndex === index).map(({ slot }) => slot.cell))].join(' '),
  )
}

const IN_TWO = ['half-notes', 'half-and-two', 'two-beat-skip']

describe('A walking line', () => {
  it('plays the head in two and the bridge in four where a tune asks for it', () => {
    const bars = cells(TUNE, { rules: ['Section A: in two', 'Section B: in four'] })
    const [heads, bridge] = [[...bars.slice(0, 16), ...bars.slice(24)], bars.slice(16, 24)]
    expect(new Set(heads)).toEqual(new Set(IN_TWO))
    expect(heads.filter((cell) => cell === 'half-notes').length).toBeGreaterThan(heads.length / 2)
    expect(bridge.filter((cell) => IN_TWO.includes(cell))).toEqual([])
  })

  it('plays one chorus in two and the next in four', () => {
    const bars = cells('| F7 | Bb7 | F7 | % |', { choruses: 2, rules: ['Chorus 1: in two', 'Chorus 2: in four'] })
    expect(bars.slice(0, 4).every((cell) => IN_TWO.includes(cell))).toBe(true)
    expect(bars.slice(4).some((cell) => IN_TWO.includes(cell))).toBe(false)
  })

  it('leans to two by as much as it weighs', () => {
    const chart = '| Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | % |'
    const inTwo = (rules: readonly string[]) => cells(chart, { rules }).filter((cell) => IN_TWO.includes(cell)).length
    const [some, most, all] = [inTwo(['in two (weight 1)']), inTwo(['in two (weight 9)']), inTwo(['in two'])]
    expect(some).toBeLessThan(most)
    expect([some > 0, most <= 8, all]).toEqual([true, true, 8])
  })

  it('keeps to the cells that a player chose, where one of them is in two', () => {
    const chart = 'cells: half-notes walk-skip-two\n| Dm7 | G7 | Cmaj7 | A7 |'
    expect(new Set(cells(chart, { rules: ['in two'] }))).toEqual(new Set(['half-notes']))
    const others = cells(chart.replace('half-notes ', ''), { rules: ['in two'] })
    expect(others.every((cell) => IN_TWO.includes(cell))).toBe(true)
  })
})

describe('In two', () => {
  it('is about bars of four beats', () => {
    const { diagnostics, lines, rules } = compose('feel: jazz-waltz\ntime: 3/4\nrule: in two\n| Dm7 | G7 |')
    expect(diagnostics.map(({ code }) => code)).toEqual(['rule/other-metre'])
    expect(rules).toEqual([])
    expect(lines).toHaveLength(1)
  })

  it('is what a groove plays too, with cells of its own or such as are offered', () => {
    const chart = '| Dm7 | G7 | Cmaj7 | A7 |'
    const inTwo = (feel: string) => cells(chart, { feel, rules: ['Bars 3-4: in two'] }).slice(2)
    expect(inTwo('bossa-nova')).toEqual(['half-notes', 'half-notes'])
    for (const feel of ['rock-eighths', 'funk-sixteenths', 'disco-octaves'])
      expect(inTwo(feel).every((cell) => IN_TWO.includes(cell))).toBe(true)
  })

  it('clashes with what else its cells have to be, and each of the two can be', () => {
    const chart = '| Dm7 | G7 | Cmaj7 | A7 |'
    const rules = ['at least five notes a bar', 'Bars 3-4: in two']
    for (const feel of ['swing-medium', 'rock-eighths']) {
      const { clash } = compose(chart, { feel, rules })
      expect(clash?.rules).toEqual(['at least five notes a bar (must)', 'Bars 3–4: in two (must)'])
      for (const rule of rules) expect(compose(chart, { feel, rules: [rule] }).lines).toHaveLength(1)
    }
  })
})
