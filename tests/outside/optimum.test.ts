import loadHighs from 'highs'
import { describe, expect, it } from 'vitest'
import { walk } from '../../src/line/walk/walk.ts'
import { costsToGo, leastCost } from '../../src/search/cost-to-go.ts'
import { IMPOSSIBLE } from '../../src/search/trellis.ts'
import { type DenseTrellis, randomTrellis } from '../support/dense-trellis.ts'
import { programOf } from '../support/walk-program.ts'
import { walkTrial } from '../support/walk-trials.ts'

// Source: HiGHS, an open-source solver of mixed-integer programs (Huangfu & Hall 2018, "Parallelizing the dual revised simplex
// method"), as the npm package `highs`.

/** The same problem for a general solver: one state in each layer, one step between neighbours, all of them whole. */
function model(trellis: DenseTrellis): string {
  const cost: string[] = []
  const rules: string[] = []
  const whole: string[] = []
  for (let layer = 0; layer < trellis.layers; layer++) {
    const here = Array.from({ length: trellis.size(layer) }, (_, state) => `y${layer}_${state}`)
    whole.push(...here)
    rules.push(`${here.join(' + ')} = 1`)
    if (layer === 0) cost.push(...here.map((y, state) => `${trellis.start[state]} ${y}`))
    if (layer === trellis.layers - 1) cost.push(...here.map((y, state) => `${trellis.end[state]} ${y}`))
    if (layer === 0) continue
    for (let from = 0; from < trellis.size(layer - 1); from++) {
      const ways = here.map((_, to) => to).filter((to) => trellis.step(layer - 1, from, to) < IMPOSSIBLE)
      for (const to of ways) cost.push(`${trellis.step(layer - 1, from, to)} x${layer}_${from}_${to}`)
      rules.push(`${ways.map((to) => `x${layer}_${from}_${to} + `).join('')}0 y0_0 - y${layer - 1}_${from} = 0`)
    }
    for (const [to, y] of here.entries()) {
      const ways = Array.from({ length: trellis.size(layer - 1) }, (_, from) => from)
        .filter((from) => trellis.step(layer - 1, from, to) < IMPOSSIBLE)
        .map((from) => `x${layer}_${from}_${to} + `)
      rules.push(`${ways.join('')}0 y0_0 - ${y} = 0`)
    }
  }
  const rows = rules.map((rule, i) => `r${i}: ${rule}`)
  return ['Minimize', `obj: ${cost.join('\n + ')}`, 'Subject To', ...rows, 'Binary', ...whole, 'End', ''].join('\n')
}

describe('the search beside a general-purpose solver', () => {
  it('finds the optimum that HiGHS proves, and no way where HiGHS proves that there is none', async () => {
    const highs = await loadHighs()
    let without = 0
    for (let seed = 1; seed <= 60; seed++) {
      const trellis = randomTrellis(seed, { layers: 3 + (seed % 6), states: 2 + (seed % 4) })
      const least = leastCost(trellis, costsToGo(trellis))
      const answer = highs.solve(model(trellis))
      if (least >= IMPOSSIBLE) {
        without++
        expect(answer.Status, `seed ${seed}`).toBe('Infeasible')
      } else {
        expect(answer.Status, `seed ${seed}`).toBe('Optimal')
        expect(Math.round(answer.ObjectiveValue), `seed ${seed}`).toBe(least)
      }
    }
    expect(without).toBeGreaterThan(0)
  })

  it('finds the walking line that HiGHS proves the cheapest, and none where HiGHS proves that there is none', async () => {
    const highs = await loadHighs()
    const seen = { lines: 0, without: 0, loops: 0, ruled: 0 }
    const count = process.env['SOAK'] ? 300 : 30
    for (let seed = 1; seen.lines + seen.without < count; seed++) {
      const trial = walkTrial(seed, { patterns: false })
      // A program has no automata: those rules are proven by enumeration.
      if (!trial || trial.request.rules.some(({ test }) => test.looksAt === 'memory')) continue
      const { request, title } = trial
      const result = walk(request)
      const answer = highs.solve(programOf(request))
      if (request.loop) seen.loops++
      if (request.rules.length > 0) seen.ruled++
      if (!result.ok) {
        seen.without++
        expect(answer.Status, title).toBe('Infeasible')
        continue
      }
      seen.lines++
      const plan = request.planTerms.reduce((sum, { points }) => sum + points, 0)
      expect([answer.Status, Math.round(answer.ObjectiveValue) + plan], title).toEqual([
        'Optimal',
        result.lines[0]!.cost,
      ])
    }
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(0)
  }, 3_600_000)
})
