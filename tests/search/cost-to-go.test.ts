import { describe, expect, it } from 'vitest'
import { bestPath, costsToGo, deadLayer, leastCost } from '../../src/search/cost-to-go.ts'
import { IMPOSSIBLE } from '../../src/search/trellis.ts'
import { everyPath, randomTrellis } from '../support/dense-trellis.ts'

describe('the best path through a layered graph', () => {
  it('costs what the cheapest of all paths costs, and is the first of them by rank', () => {
    let without = 0
    for (let seed = 1; seed <= 300; seed++) {
      const trellis = randomTrellis(seed, { layers: 1 + (seed % 5), states: 4 })
      const all = everyPath(trellis)
      const toGo = costsToGo(trellis)
      const least = all.length > 0 ? Math.min(...all.map(({ cost }) => cost)) : IMPOSSIBLE
      expect(leastCost(trellis, toGo), `seed ${seed}`).toBe(least)
      const cheapest = all.filter(({ cost }) => cost === least).sort((a, b) => compare(a.path, b.path))
      expect(bestPath(trellis, toGo), `seed ${seed}`).toEqual(cheapest[0]?.path)
      if (all.length === 0) without++
    }
    expect(without).toBeGreaterThan(10)
  })

  it('names a layer at which nothing can go on where there is no path', () => {
    for (let seed = 1; seed <= 300; seed++) {
      const trellis = randomTrellis(seed, { layers: 5, states: 2 })
      const toGo = costsToGo(trellis)
      const dead = deadLayer(trellis, toGo)
      if (everyPath(trellis).length > 0) {
        expect(dead).toBeUndefined()
        continue
      }
      expect(
        toGo.at[dead!]!.every((cost) => cost >= IMPOSSIBLE),
        `seed ${seed}`,
      ).toBe(true)
      if (dead! + 1 < trellis.layers) expect(toGo.at[dead! + 1]!.some((cost) => cost < IMPOSSIBLE)).toBe(true)
    }
  })
})

function compare(a: readonly number[], b: readonly number[]): number {
  for (const [i, x] of a.entries()) if (x !== b[i]) return x - b[i]!
  return 0
}
