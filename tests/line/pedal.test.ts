import { describe, expect, it } from 'vitest'
import { compose, read } from '../../src/compose.ts'
import type { Settings } from '../../src/settings.ts'

const CHART = '| Dm7 | G7 | Cmaj7 | A7 | Dm7 | Db7 | Cmaj7 | % |'

/** The notes of each bar, and the chord symbols over them. */
function played(text: string, settings: Settings): readonly { readonly chords: string; readonly notes: string }[] {
  const { form, lines, clash } = compose(text, settings)
  if (clash) throw new Error(clash.message)
  return form.bars.map(({ index, changes }) => ({
    chords: changes.map(({ chord }) => chord?.symbol.text).join(' '),
    notes: lines[0]!.notes
      .filter(({ slot }) => slot.barIndex === index && !slot.ghost)
      .map(({ name }) => name)
      .join(' '),
  }))
}

describe.each(['swing-medium', 'bossa-nova', 'rock-eighths'])('A pedal in %s', (feel) => {
  it('stays on one pitch under all chords of its bars, which are slash chords there', () => {
    const bars = played(CHART, { feel, rules: ['Bars 5-8: pedal on G'] })
    const names = new Set(bars.slice(4).flatMap(({ notes }) => notes.split(' ')))
    expect([...names]).toHaveLength(1)
    expect([...names][0]).toMatch(/^G[12]$/)
    expect(bars.map(({ chords }) => chords)).toEqual([
      ...['Dm7', 'G7', 'Cmaj7', 'A7'],
      ...['Dm7/G', 'Db7/G', 'Cmaj7/G', 'Cmaj7/G'],
    ])
    expect(bars[0]!.notes).toMatch(/^D/)
  })

  it('may be on a degree of the key, in octaves', () => {
    const bars = played(`key: Eb\n${CHART}`, { feel, rules: ['Bars 1-4: pedal on the fifth of the key in octaves'] })
    for (const { notes } of bars.slice(0, 4)) expect(notes).toMatch(/^(Bb[123] ?)+$/)
  })

  it('is where the line leans where it is a weight, and leaves the chords as they are', () => {
    const count = (rules: readonly string[]) =>
      played(CHART, { feel, rules })
        .slice(4)
        .flatMap(({ notes }) => notes.split(' '))
        .filter((name) => name.startsWith('G') && !name.startsWith('G#')).length
    expect(count(['Bars 5-8: pedal on G (weight 9)'])).toBeGreaterThan(count([]))
    expect(played(CHART, { feel, rules: ['pedal on G (weight 9)'] })[5]!.chords).toBe('Db7')
  })

  it('clashes with what it cannot be, and both are named', () => {
    const rules = ['Bars 2-4: arrive on the third', 'Bar 3: pedal on G']
    const { clash } = compose(CHART, { feel, rules })
    expect(clash?.bars).toEqual([3])
    expect(clash?.rules).toEqual(['Bars 2–4: arrive on the third (must)', 'Bar 3: pedal on G (must)'])
    for (const rule of rules) expect(compose(CHART, { feel, rules: [rule] }).lines).toHaveLength(1)
  })
})

describe('A pedal', () => {
  it('that begins or ends under a chord that holds on is arrived at there', () => {
    const { form, plainForm } = read('rule: Bar 2: pedal on D\n| C | % | % | Am/C |')
    expect(form.changes.map(({ chord, held }) => `${chord!.symbol.text} ${held}`)).toEqual([
      'C false',
      'C/D false',
      'C false',
      'Am/C false',
    ])
    expect(plainForm.changes.map(({ held }) => held)).toEqual([false, true, true, false])
  })

  it('takes the place of a bass that is written, and is none under its own chord', () => {
    const { form } = read('rule: pedal on Ab\n| Fm7/C | Ab6 | Ab/Eb | Gm7⁄F |')
    expect(form.changes.map(({ chord }) => chord!.symbol.text)).toEqual(['Fm7/Ab', 'Ab6', 'Ab', 'Gm7/Ab'])
  })

  it('that is a weight does not decide whether there is a line', () => {
    const rules = ['Bars 1-4: pedal on C', 'pedal on Ab (weight 2)']
    expect(compose('| Fm7 | C/E | Db7 | C7 |', { rules }).lines).toHaveLength(1)
  })

  it('on a degree of the key asks for a key', () => {
    const { diagnostics, rules } = read('rule: pedal on the root of the key\n| Dm7 |')
    expect(diagnostics.map(({ code }) => code)).toEqual(['rule/no-key'])
    expect(rules).toEqual([])
  })
})
