import { describe, expect, it } from 'vitest'
import { buildGrooves, type GrooveLine, type GrooveRequest } from '../../../src/line/groove/groove.ts'
import { soundedOf } from '../../../src/line/groove/pool.ts'
import { vary } from '../../../src/line/groove/vary.ts'
import { atMostInARow } from '../../support/groove-rules.ts'
import { partsOf, type Step, tryAll, waysOf } from '../../support/groove-ways.ts'
import { FOUR_STRINGS, grooveRequest, patternIn } from '../../support/grooves.ts'
import { randomFrom } from '../../support/random.ts'
import { cellsOf } from '../../support/walking.ts'

/** A random small task: two or three bars, a cell or two, short patterns, few frets. */
function smallTask(seed: number): GrooveRequest {
  const random = randomFrom(seed)
  const pick = <T>(rows: readonly T[]): T => rows[random(rows.length)]!
  const chords = ['A7', 'D7', 'Em7', 'Gmaj7', 'Fm7', 'Bm7b5', 'C', 'E7', 'C7 F7', 'G/B', 'N.C.']
  const row = Array.from({ length: 2 + random(2) }, () => pick(chords)).join(' | ')
  const cells = ['1 3', '1 2& 4', '1 3 4', '1 3&~', '(1) 2 4', '~1 3']
  const patterns = ['1 5', '1 v5', '1', '1 3 h-', 'v5 v7 1', '1 5 >1']
  const base = grooveRequest(pick(['shuffle', 'bossa-nova', 'soul-eighths']), row)
  const from = pick([0, 0, 1, 4])
  return {
    ...base,
    table: { ...base.table, fills: base.table.fills.filter(({ cell }) => cell.startsWith('1/4')) },
    cells: cellsOf(...new Set([pick(cells), pick(cells)])),
    patterns: [...new Set([pick(patterns), pick(patterns)])].map((text) => ({ pattern: patternIn(text), weight: 1 })),
    instrument: { ...FOUR_STRINGS, open: FOUR_STRINGS.open.slice(0, 2 + random(2)) },
    frets: { from, to: from + 3 + random(2) },
    register: { lowest: 28 + random(3), highest: 40 },
    rules: random(3) === 0 ? [atMostInARow(1 + random(2), pick(['must', 4] as const))] : [],
    loop: random(2) === 0,
  }
}

describe('the sweep of a plan', () => {
  it('finds the least of all ways through it, and no bound lies above it', () => {
    let tried = 0
    for (let seed = 1; seed <= (process.env['SOAK'] ? 1000 : 100); seed++) {
      const request = smallTask(seed)
      if (request.loop && request.rules.length > 0) continue
      const { voicer, sweep, plans, all } = partsOf(request)
      const random = randomFrom(seed)
      for (let time = 0; time < 3 && all.length > 0; time++) {
        const plan = all[random(all.length)]!
        const priced = sweep.stances[random(sweep.stances.length)]!
        const alternatives = plans.alternativesOf(plan)
        if (waysOf(voicer, alternatives, priced) > 2e5) continue
        const swept = sweep.solve(alternatives, priced, 1e6)
        const least = tryAll(request, alternatives, priced, swept ? swept.cost + 1 : 1e6)
        expect(swept?.cost, `seed ${seed}`).toBe(least)
        tried++
        if (least === undefined) continue
        const { classes, scheme, pushes } = plan
        const inner = classes.map((choice) => sweep.bounds.inner(choice, priced.stance, pushes))
        const sum = inner.reduce((total, bound, index) => total + bound * scheme.classes[index]!.count, 0)
        expect(sum + priced.points, `seed ${seed}`).toBeLessThanOrEqual(least)
        const seams = scheme.seams.map(
          ({ from, to, count }) =>
            count *
            sweep.bounds.seam(classes[from]!, to === undefined ? undefined : classes[to], priced.stance, pushes),
        )
        expect(
          seams.reduce((total, bound) => total + bound, priced.points),
          `seed ${seed}`,
        ).toBeLessThanOrEqual(least)
      }
    }
    expect(tried).toBeGreaterThan(50)
  })
})

describe('the search over plans', () => {
  it('finds the least of all plans in all stances', () => {
    let equal = 0
    for (let seed = 1; seed <= (process.env['SOAK'] ? 400 : 40); seed++) {
      const request = smallTask(seed)
      const { sweep, plans, all } = partsOf(request)
      let least = Number.POSITIVE_INFINITY
      for (const plan of all) {
        for (const priced of sweep.stances) {
          const swept = sweep.solve(plans.alternativesOf(plan), priced, 1e6)
          if (swept) least = Math.min(least, swept.cost + plan.points)
        }
      }
      const result = buildGrooves(request)
      if (least === Number.POSITIVE_INFINITY) continue
      if (!result.ok) throw new Error(`seed ${seed}: no line`)
      const [{ cost, notes }] = result.lines as [GrooveLine]
      // Where a must is hard to keep, a line with notes of no figure may be cheaper than any that these plans have.
      const isFree = request.rules.length > 0 && notes.some(({ kind }) => kind === 'free')
      if (isFree) expect(cost, `seed ${seed}`).toBeLessThanOrEqual(least)
      else expect(cost, `seed ${seed}`).toBe(least)
      if (cost === least) equal++
    }
    expect(equal).toBeGreaterThan(20)
  })
})

describe('another line of a plan', () => {
  it('is the least of all ways through it that differ enough', () => {
    let tried = 0
    for (let seed = 1; seed <= (process.env['SOAK'] ? 1500 : 120); seed++) {
      const request = { ...smallTask(seed), rules: [] }
      const { voicer, sweep, plans, all } = partsOf(request)
      if (all.length === 0) continue
      const random = randomFrom(seed)
      const alternatives = plans.alternativesOf(all[random(all.length)]!)
      const priced = sweep.stances[random(sweep.stances.length)]!
      if (waysOf(voicer, alternatives, priced) > 20_000) continue
      const best = sweep.solve(alternatives, priced, undefined)
      if (!best || best.notes.length === 0) continue
      const earlier = [soundedOf(request.form, sweep, best)]
      const share = [0.25, 0.4, 0.5, 1][random(4)]!
      const pitchOf = ({ bar, slot, candidate }: Step) => voicer.neck.grips[bar.slots[slot]!.grips[candidate]!]!.pitch
      const accepts = (path: readonly Step[]) => {
        const onsets = new Map(
          path.map((step) => [
            request.form.bars[step.barIndex]!.startTick + step.bar.slots[step.slot]!.laid.onset.tick,
            pitchOf(step),
          ]),
        )
        const ticks = new Set([...onsets.keys(), ...earlier[0]!.pitches.keys()])
        const same = [...ticks].filter((tick) => onsets.get(tick) === earlier[0]!.pitches.get(tick)).length
        return ticks.size - same >= share * ticks.size - 1e-9
      }
      const least = tryAll(request, alternatives, priced, 1e6, accepts)
      const varied = vary(sweep, request.form, alternatives, priced, earlier, share, 100_000)
      expect(varied.kind === 'line' ? varied.swept.cost : undefined, `seed ${seed}`).toBe(least)
      tried++
    }
    expect(tried).toBeGreaterThan(20)
  })
})
