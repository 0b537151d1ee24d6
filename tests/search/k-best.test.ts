import { describe, expect, it } from 'vitest'
import { costsToGo, leastCost } from '../../src/search/cost-to-go.ts'
import { bestPaths } from '../../src/search/k-best.ts'
import { NearGraph } from '../../src/search/near-graph.ts'
import { IMPOSSIBLE } from '../../src/search/trellis.ts'
import { type DenseTrellis, everyPath, randomTrellis } from '../support/dense-trellis.ts'

/** The least cost of each row of labels, cheapest first. */
function everyLabelling(trellis: DenseTrellis, loop: boolean): readonly number[] {
  const least = new Map<string, number>()
  for (const { path, cost } of everyPath(trellis, loop)) {
    const labels = path.map((state, layer) => trellis.label(layer, state)).join()
    least.set(labels, Math.min(least.get(labels) ?? IMPOSSIBLE, cost))
  }
  return [...least.values()].sort((a, b) => a - b)
}

describe('the best paths with different labels', () => {
  for (const loop of [false, true]) {
    it(`are those of trying every ${loop ? 'loop' : 'path'}, each in its cheapest states`, () => {
      let seen = 0
      for (let seed = 1; seed <= 250; seed++) {
        const trellis = randomTrellis(seed, { layers: 1 + (seed % 5), states: 4, loop })
        const toGo = costsToGo(trellis)
        const optimum = leastCost(trellis, toGo)
        if (optimum >= IMPOSSIBLE) continue
        const limit = 12
        const near = new NearGraph(trellis, toGo, optimum, limit)
        const extra = loop
          ? (last: number, first: number) => {
              const state = near.states.at(-1)![last]!
              return trellis.close(state, near.states[0]![first]!) - trellis.end[state]!
            }
          : undefined
        const all = everyLabelling(trellis, loop).filter((cost) => cost <= optimum + limit)
        const found = [...bestPaths(near, extra)]
        expect(
          found.map(({ loss }) => optimum + loss),
          `seed ${seed}`,
        ).toEqual(all)
        for (const { states, loss } of found) {
          const path = states.map((state, layer) => near.states[layer]![state]!)
          const own = everyPath(trellis, loop).find((one) => one.path.join() === path.join())
          expect(own?.cost, `seed ${seed}`).toBe(optimum + loss)
        }
        seen += found.length
      }
      expect(seen).toBeGreaterThan(loop ? 500 : 1000)
    })
  }
})
