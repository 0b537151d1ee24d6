import { describe, expect, it } from 'vitest'
import { compose, noteAlternativesOf } from '../../../src/compose.ts'
import { FEELS } from '../../../src/feels/feels.ts'
import { grooveAlternatives } from '../../../src/line/groove/alternatives.ts'
import type { LaidBar } from '../../../src/line/groove/bar.ts'
import { type GrooveRequest, startGrooves } from '../../../src/line/groove/groove.ts'
import { IMPOSSIBLE } from '../../../src/search/trellis.ts'
import { atMostInARow } from '../../support/groove-rules.ts'
import { grooveRequest } from '../../support/grooves.ts'

/** What a line of the same bars costs that has a pitch at a place, each found by a sweep of its own; `undefined` if there is none. */
function costWith(request: GrooveRequest, at: number, pitch: number): number | undefined {
  const search = startGrooves(request)
  while (!search.advance(4).done);
  const { problem, solvedLines } = search
  const { plan, swept } = solvedLines[0]!
  const { barIndex, slot, bar } = swept.notes[at]!
  const priced = problem.sweep.stances.find(({ stance }) => stance === swept.stance)!
  const tick = bar.slots[slot]!.laid.onset.tick
  const only = swept.bars.map((laid) => [laid])
  const own = problem.sweep.solve(only, priced, undefined, {
    dearer: (index, onset, sounding) => (index === barIndex && onset === tick && sounding !== pitch ? IMPOSSIBLE : 0),
  })
  const laid = swept.bars[barIndex]!
  const slots = laid.slots.map((one, index) =>
    index === slot ? { ...one, tone: { kind: 'kept', pitch } as const, approachPoints: undefined } : one,
  )
  const kept: LaidBar = { ...laid, slots }
  const free = problem.sweep.solve(
    only.map((bars, index) => (index === barIndex ? [kept] : bars)),
    priced,
    undefined,
  )
  const costs = [own, free].flatMap((one) => (one ? [one.cost + plan.points] : []))
  return costs.length > 0 ? Math.min(...costs) : undefined
}

describe('What else a note of a groove could be', () => {
  for (const [feel, chart, loop, rules] of [
    ['bossa-nova', 'Dm7 | G7 | Cmaj7 | A7', true, []],
    ['shuffle', 'A7 | D7 | A7 | E7', false, []],
    ['soul-eighths', 'C | Am7', true, []],
    ['bossa-nova', 'Dm7 | G7', false, [atMostInARow(1, 4)]],
  ] as const)
    it(`costs what the best line of the same bars costs that has it there: ${feel}, ${chart}, ${rules.length}`, () => {
      const request = grooveRequest(feel, chart, { loop, rules })
      const search = startGrooves(request)
      while (!search.advance(4).done);
      const { problem, solvedLines } = search
      const [solved] = solvedLines
      const found = grooveAlternatives(problem, solved!)
      let compared = 0
      for (const [at, { bar, slot, candidate }] of solved!.swept.notes.entries()) {
        const pitch = problem.voicer.neck.grips[bar.slots[slot]!.grips[candidate]!]!.pitch
        expect(found[at]!.costs.get(pitch)).toBe(solved!.swept.cost + solved!.plan.points)
        // An approach that aims at a note would go with it, and one in a fill pays for repeating it.
        if (bar.laid.slots.some(({ tone }) => tone.kind === 'approach' && tone.target === slot)) continue
        if (bar.laid.figure) continue
        for (const other of [pitch - 5, pitch - 1, pitch + 2, pitch + 7, pitch + 12]) {
          if (!problem.voicer.neck.pitches().includes(other)) continue
          expect(found[at]!.costs.get(other), `${at} ${other}`).toBe(costWith(request, at, other))
          compared++
        }
      }
      expect(compared).toBeGreaterThan(10)
    }, 120_000)

  it('is known of every line and every feel, none cheaper than the best of its plan', () => {
    for (const feel of FEELS) {
      if (feel.line.kind !== 'groove') continue
      const text = `feel: ${feel.id}\ntime: ${feel.metre}\n| C | Am7 | Dm7 | G7 |`
      const composition = compose(text, { loop: true, variations: 2 })
      const alternatives = noteAlternativesOf(composition)!
      for (const [index, { notes }] of composition.lines.entries()) {
        const struck = notes.filter(({ slot }) => !slot.ghost)
        const known = notes.map(({ slot }, at) => ({ ghost: slot.ghost, others: alternatives[index]![at]! }))
        // What a written approach leads into stays.
        expect(known.filter(({ others }) => others.length > 0).length, feel.id).toBeGreaterThan(0.75 * struck.length)
        for (const { ghost, others } of known) {
          if (ghost) expect(others, feel.id).toEqual([])
          for (const { above } of others) expect(above, feel.id).toBeGreaterThanOrEqual(0)
        }
      }
    }
  }, 120_000)

  it('is changed in all playings of its bar, everything else as it is', () => {
    const composition = compose('feel: bossa-nova\n|: Dm7 | G7 :|\n| C | A7 |')
    const [alternatives] = noteAlternativesOf(composition)!
    const { notes } = composition.lines[0]!
    const [first, again] = [0, 2].map((bar) => notes.findIndex(({ slot }) => slot.barIndex === bar && !slot.pushed))
    expect(alternatives![first!]!.length).toBeGreaterThan(0)
    expect(alternatives![again!]!.map(({ pitch, cost }) => [pitch, cost])).toEqual(
      alternatives![first!]!.map(({ pitch, cost }) => [pitch, cost]),
    )
  })
})
