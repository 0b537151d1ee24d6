import loadHighs from 'highs'
import { describe, expect, it } from 'vitest'
import type { GrooveRequest } from '../../src/line/groove/groove.ts'
import { linksAcross } from '../../src/line/groove/links.ts'
import { problemOf } from '../../src/line/groove/problem.ts'
import type { PricedStance } from '../../src/line/groove/stance.ts'
import type { Alternatives } from '../../src/line/groove/sweep.ts'
import type { Voicer } from '../../src/line/groove/voice.ts'
import type { VoicedSlot } from '../../src/line/groove/voiced.ts'
import { grooveRequest, patternIn } from '../support/grooves.ts'
import { randomFrom } from '../support/random.ts'
import { cellsOf } from '../support/walking.ts'

// Source: HiGHS, an open-source solver of mixed-integer programs (Huangfu & Hall 2018, "Parallelizing the dual revised simplex
// method"), as the npm package `highs`.

/** A plan of one bar each, without fills or pushes. */
function task(seed: number): GrooveRequest {
  const random = randomFrom(seed)
  const pick = <T>(rows: readonly T[]): T => rows[random(rows.length)]!
  const row = Array.from({ length: 2 }, () => pick(['A7', 'Dm7', 'E7', 'Gmaj7', 'Bm7b5', 'C/G'])).join(' | ')
  const base = grooveRequest(pick(['shuffle', 'bossa-nova', 'soul-eighths']), row)
  return {
    ...base,
    table: { ...base.table, fills: [] },
    cells: cellsOf(pick(['1 3', '1 3 4', '1 2& 4&'])),
    patterns: [{ pattern: patternIn(pick(['1 5', '1 v5 v6', '1 3 h-'])), weight: 1 }],
    frets: { from: 0, to: 5 },
    loop: random(2) === 0,
  }
}

/** The same line for a general solver: one grip for each slot, a step between neighbours, all of them whole. */
function model(voicer: Voicer, plan: Alternatives, { stance }: PricedStance, closes: boolean): string {
  const bars = plan.map((laid) => voicer.voice(laid[0]!, stance))
  const slots = bars.flatMap((bar) => bar.slots.map((slot, order) => ({ bar, slot, order })))
  const cost: string[] = []
  const rules: string[] = []
  const whole: string[] = []
  const steps = slots.map((from, i) => [from, slots[i + 1] ?? (closes ? slots[0] : undefined)] as const)
  for (const [i, { slot }] of slots.entries()) {
    const grips = [...slot.grips.keys()].map((grip) => `y${i}_${grip}`)
    whole.push(...grips)
    rules.push(`${grips.join(' + ')} = 1`)
    for (const [grip, y] of grips.entries()) cost.push(`${slot.costs[grip]} ${y}`)
  }
  for (const [i, [from, to]] of steps.entries()) {
    if (!to) continue
    const next = (i + 1) % slots.length
    const links = to.order > 0 ? from.bar.links[from.order]! : linksAcross(from.bar, from.slot, to.bar, to.slot)
    const out = new Map<number, string[]>()
    const into = new Map<number, string[]>()
    const gripsOf = (slot: VoicedSlot, choice: number, end: number) =>
      Array.from({ length: slot.from[end]! - slot.from[choice]! }, (_, k) => slot.from[choice]! + k)
    for (const { before, beforeTo, after, afterTo, reach, points } of links) {
      for (const a of gripsOf(from.slot, before, beforeTo)) {
        for (const b of gripsOf(to.slot, after, afterTo)) {
          let sum = points
          const grip = (slot: VoicedSlot, at: number) => voicer.neck.grips[slot.grips[at]!]!
          voicer.neck.reachTerms(grip(from.slot, a), grip(to.slot, b), reach, (_, more) => {
            sum += more
          })
          const x = `x${i}_${a}_${b}`
          cost.push(`${sum} ${x}`)
          out.set(a, [...(out.get(a) ?? []), x])
          into.set(b, [...(into.get(b) ?? []), x])
        }
      }
    }
    const balance = (slot: VoicedSlot, index: number, flows: Map<number, string[]>) => {
      for (const grip of slot.grips.keys())
        rules.push(`${(flows.get(grip) ?? []).map((x) => `${x} + `).join('')}0 y0_0 - y${index}_${grip} = 0`)
    }
    balance(from.slot, i, out)
    balance(to.slot, next, into)
  }
  const rows = rules.map((rule, i) => `r${i}: ${rule}`)
  return ['Minimize', `obj: ${cost.join('\n + ')}`, 'Subject To', ...rows, 'Binary', ...whole, 'End', ''].join('\n')
}

describe('the notes of a groove beside a general-purpose solver', () => {
  it('cost what HiGHS proves to be the least', async () => {
    const highs = await loadHighs()
    for (let seed = 1; seed <= (process.env['SOAK'] ? 300 : 30); seed++) {
      const request = task(seed)
      const { voicer, sweep, plans, pairings } = problemOf(request, false)
      const random = randomFrom(seed)
      const all = plans.schemes.flatMap((scheme) => pairings.flatMap((a) => plans.plansOf(scheme, a, 1e9)))
      const plan = plans.alternativesOf(all[random(all.length)]!)
      const priced = sweep.stances[random(sweep.stances.length)]!
      const least = sweep.solve(plan, priced, 1e6)
      const answer = highs.solve(model(voicer, plan, priced, sweep.steps.closes))
      expect(answer.Status, `seed ${seed}`).toBe(least ? 'Optimal' : 'Infeasible')
      const own = priced.points + plan.reduce((sum, bars) => sum + bars[0]!.points, 0)
      if (least) expect(Math.round(answer.ObjectiveValue) + own, `seed ${seed}`).toBe(least.cost)
    }
  })
})
