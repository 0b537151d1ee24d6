import { describe, expect, it } from 'vitest'
import { type Composition, compose, noteAlternativesOf } from '../../src/compose.ts'

const bestCost = (chart: string, rules: readonly string[]): number | undefined =>
  compose(chart, { rules }).lines[0]?.cost

/** What the first or last note of the best line could be instead. */
function othersOf(composition: Composition, which: 0 | -1) {
  return noteAlternativesOf(composition)![0]!.at(which)!
}

describe('What else a note could be', () => {
  for (const chart of ['| Dm7 | G7 | Cmaj7 | A7 |', 'rule: no leap over a fourth\n| Fm7 | Bb7 Eb7 | Abmaj7 | C7 |'])
    it(`costs what the best line costs that has it there: ${chart}`, () => {
      const composition = compose(chart)
      const { cost } = composition.lines[0]!
      for (const [which, says] of [
        [0, 'first note on'],
        [-1, 'last note on'],
      ] as const) {
        const others = othersOf(composition, which)
        expect(others.length).toBeGreaterThan(0)
        for (const other of others) {
          expect(bestCost(chart, [`${says} ${other.name}`]), other.name).toBe(other.cost)
          expect(other.above).toBe(other.cost - cost)
        }
        expect(others.map((other) => other.cost)).toEqual(others.map((other) => other.cost).sort((a, b) => a - b))
        expect(others.map((other) => other.pitch)).not.toContain(composition.lines[0]!.notes.at(which)!.pitch)
      }
    })

  it('is spelled in its place: on its way into G it is F#, or Ab', () => {
    const composition = compose('| Dm7 | G7 |', { rules: ['Bar 2: first note on G2 (off)', 'arrive on the root'] })
    const { notes } = composition.lines[0]!
    const before = notes.findIndex(({ slot }) => slot.barIndex === 1) - 1
    const names = [notes[before]!.name, ...noteAlternativesOf(composition)![0]![before]!.map(({ name }) => name)]
    expect(names.filter((name) => /^(F#|Gb|G#|Ab)/.test(name)).sort()).toEqual(['Ab2', 'F#2'])
  })

  it('is not known of a walking line where bars are played again as they were', () => {
    expect(noteAlternativesOf(compose('|: C | F :|'))).toBeUndefined()
    expect(noteAlternativesOf(compose('rule: a new line at each repeat\n|: C | F :|'))).toBeDefined()
  })
})
