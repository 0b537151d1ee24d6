import { describe, expect, it } from 'vitest'
import { type Composition, compose, noteAlternativesOf } from '../../src/compose.ts'
import { repeatedBars, repeatedSlots } from '../../src/line/repeated-bars.ts'
import { KnownWalks } from '../../src/line/walk/known.ts'
import { repeatedAlternatives } from '../../src/line/walk/repeats.ts'
import { walk } from '../../src/line/walk/walk.ts'
import { changes } from '../support/changes.ts'
import { cellsOf, walkRequest } from '../support/walking.ts'

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
    const around = names.map((name) => name.replace(/-?\d/, '')).filter((name) => /^(F#|Gb|G#|Ab)/.test(name))
    expect([...new Set(around)].sort()).toEqual(['Ab', 'F#'])
  })

  for (const [chart, loop] of [
    ['|: C | F :|', false],
    ['|: Dm7 | G7 |1. Cmaj7 :|2. Fmaj7 | C |', false],
    ['|: Am7 | D7 :|x3 G |', true],
  ] as const)
    it(`changes a note in all its playings where bars are the same each time: ${chart}`, () => {
      const form = changes(chart)
      const plain = walkRequest(form, { cells: cellsOf('1 3'), loop })
      const repeatedBarsOfForm = repeatedBars(form)
      const repeats = repeatedSlots(form, plain.slots, repeatedBarsOfForm)
      const request = { ...plain, repeats, repeatedBars: repeatedBarsOfForm }
      const result = walk(request)
      if (!result.ok) throw new Error('no line')
      const [line] = result.lines
      const known = repeatedAlternatives(request, line!, repeats, new KnownWalks())
      for (const [index, note] of line!.notes.entries()) {
        const isPlaying = (slot: number) => repeats[slot] === repeats[index]
        const all = new Map<number, number>()
        for (const [string, open] of plain.instrument.open.entries())
          for (let fret = 0; fret <= 12; fret++) {
            const found = walk({ ...plain, fixed: (slot) => (isPlaying(slot) ? { string, fret } : line!.notes[slot]!) })
            const cost = found.ok ? found.lines[0]!.cost : Number.POSITIVE_INFINITY
            if (cost < (all.get(open + fret) ?? Number.POSITIVE_INFINITY)) all.set(open + fret, cost)
          }
        const others = [...known[index]!.costs].filter(([pitch]) => pitch !== note.pitch)
        expect(others.length, `note ${index}`).toBeGreaterThan(0)
        for (const [pitch, cost] of others) expect(cost, `note ${index}, pitch ${pitch}`).toBe(all.get(pitch))
        const cheapest = [...all].filter(([pitch]) => pitch !== note.pitch).map(([, cost]) => cost)
        const sorted = (costs: readonly number[]) => [...costs].sort((a, b) => a - b)
        expect(sorted(others.map(([, cost]) => cost))).toEqual(sorted(cheapest).slice(0, others.length))
        expect(known[index]!.costs.get(note.pitch)).toBe(line!.cost)
      }
    })
})
