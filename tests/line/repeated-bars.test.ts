import { describe, expect, it } from 'vitest'
import { type Composition, compose } from '../../src/compose.ts'
import { repeatedBars } from '../../src/line/repeated-bars.ts'

/** What is struck in each bar: places, pitches, strings and frets. */
function barsOf({ form, lines }: Composition, line = 0): readonly string[] {
  return form.bars.map((bar) =>
    lines[line]!.notes.filter((note) => note.slot.barIndex === bar.index)
      .map((note) => `${note.slot.startTick - bar.startTick}:${note.slot.ghost ? 'x' : note.pitch}/${note.string}`)
      .join(' '),
  )
}

const ONCE_REPEATED = `feel: swing-medium
|: Dm7 | G7 | Cmaj7 | A7 :|
| Fmaj7 | Fm7 | Em7 A7 | Dm7 G7 |`

const AABA = `feel: swing-medium
form: A A B A
[A]
| Dm7 | G7 | Cmaj7 | A7 |
[B]
| Fmaj7 | Fm7 | Em7 A7 | Dm7 G7 |`

const ENDINGS = `feel: swing-medium
|: Cm7 | F7 | Bbmaj7 |1. Ebmaj7 :|2. Bbmaj7 |`

describe('bars that are played several times', () => {
  it('are known by the written bar and its chords', () => {
    const { form } = compose(ENDINGS)
    expect(repeatedBars(form)).toEqual([0, 1, 2, 3, 0, 1, 2, 7])
  })

  for (const [name, text] of Object.entries({ ONCE_REPEATED, AABA, ENDINGS })) {
    for (const loop of [false, true]) {
      it(`have the same line each time: ${name}${loop ? ', looped' : ''}`, () => {
        const composition = compose(text, { loop, variations: 2 })
        const [best] = composition.lines
        const firsts = repeatedBars(composition.form)
        for (const [index] of composition.lines.entries()) {
          const bars = barsOf(composition, index)
          expect(bars).toEqual(firsts.map((first) => bars[first]!))
        }
        expect(best!.provenWithin).toBeGreaterThanOrEqual(0)
        expect(
          best!.terms.concat(best!.notes.flatMap((note) => note.terms)).reduce((sum, { points }) => sum + points, 0),
        ).toBe(best!.cost)
      })
    }
  }

  it('keep the rule of one time each time', () => {
    const composition = compose(AABA, { rules: ['Bar 1: begin each bar on the fifth'] })
    const bars = barsOf(composition)
    const degreeAt = (index: number) => composition.lines[0]!.notes.find((note) => note.slot.barIndex === index)!.degree
    expect([0, 4, 12].map(degreeAt)).toEqual(['5', '5', '5'])
    expect(bars[4]).toBe(bars[0])
  })

  it('have a new line each time where a rule says so', () => {
    const once = barsOf(compose(AABA))
    const anew = barsOf(compose(AABA, { rules: ['a new line at each repeat'] }))
    expect(once.slice(4, 8)).toEqual(once.slice(0, 4))
    expect(anew.slice(12)).not.toEqual(anew.slice(0, 4))
  })

  it('may differ where no line can stay the same, and it is said', () => {
    const rules = ['Bar 1: begin each bar on the fifth', 'Bar 5: begin each bar on the third']
    const composition = compose(AABA, { rules })
    expect(composition.lines).toHaveLength(1)
    expect(composition.diagnostics.map(({ code }) => code)).toContain('line/repeats-differ')
    const degreeAt = (index: number) => composition.lines[0]!.notes.find((note) => note.slot.barIndex === index)!.degree
    expect([0, 4].map(degreeAt)).toEqual(['5', 'b3'])
  })

  it('are the same in a groove, or anew where a rule says so', () => {
    const groove = AABA.replace('swing-medium', 'bossa-nova').replace('| A7 |', '| D7 |')
    const once = compose(groove)
    const anew = compose(groove, { rules: ['a new line at each repeat'] })
    expect(barsOf(once).slice(12)).toEqual(barsOf(once).slice(0, 4))
    // Anew, what leads into the middle part is not what leads back to the first.
    expect(barsOf(anew)[7]).not.toBe(barsOf(anew)[3])
    expect([...once.diagnostics, ...anew.diagnostics]).toEqual([])
    expect(once.lines[0]!.cost - once.lines[0]!.provenWithin).toBeLessThanOrEqual(once.lines[0]!.cost)
  })
})
