import { describe, expect, it } from 'vitest'
import { costsToGo, leastCost } from '../../src/search/cost-to-go.ts'
import { NearGraph } from '../../src/search/near-graph.ts'
import { randomFrom } from '../../src/search/random.ts'
import { halvingFactor, Sampler } from '../../src/search/sample.ts'
import { type DenseTrellis, everyPath, randomTrellis } from '../support/dense-trellis.ts'

describe('chance', () => {
  it('is the same for the same seed', () => {
    // Worked out apart in Python's whole numbers.
    const random = randomFrom(7)
    expect(Array.from({ length: 4 }, random)).toEqual([588686121, 1937383562, 4286812467, 2372217166])
  })

  it('spreads evenly: a thousand numbers in ten drawers, none with less than 70 or more than 130', () => {
    for (const seed of [0, 1, -1, 2 ** 31 - 1]) {
      const random = randomFrom(seed)
      const drawers = new Array(10).fill(0)
      for (let i = 0; i < 1000; i++) drawers[Math.floor((random() / 2 ** 32) * 10)]++
      expect(Math.min(...drawers), `seed ${seed}`).toBeGreaterThan(70)
      expect(Math.max(...drawers), `seed ${seed}`).toBeLessThan(130)
    }
  })
})

describe('the factor by which points make a path less likely', () => {
  it('halves the likelihood for the points asked', () => {
    expect(halvingFactor(2)).toBe(0.5)
    expect(halvingFactor(4) ** 2).toBeCloseTo(0.5, 15)
    expect(halvingFactor(3) ** 3).toBeCloseTo(0.25, 15)
    expect(halvingFactor(1)).toBe(0.25)
  })
})

/** Paths by their states, with how likely they should be. */
function likelihoods(trellis: DenseTrellis, optimum: number, factor: number, loop: boolean): Map<string, number> {
  const weights = new Map<string, number>()
  let total = 0
  for (const { path, cost } of everyPath(trellis, loop)) {
    const weight = factor ** (cost - optimum)
    weights.set(path.join(), weight)
    total += weight
  }
  return new Map([...weights].map(([path, weight]) => [path, weight / total]))
}

describe('drawing paths', () => {
  for (const loop of [false, true]) {
    it(`gives each ${loop ? 'loop' : 'path'} as often as its cost asks`, () => {
      const draws = 6000
      for (let seed = 1; seed <= 12; seed++) {
        const trellis = randomTrellis(seed + 40, { layers: 4, states: 3, loop })
        const toGo = costsToGo(trellis)
        const optimum = leastCost(trellis, toGo)
        const factor = halvingFactor(3)
        const wanted = likelihoods(trellis, optimum, factor, loop)
        if (wanted.size === 0) continue
        // Wide enough for every path of so small a graph.
        const near = new NearGraph(trellis, toGo, optimum, 60)
        const extra = loop
          ? (last: number, first: number) => {
              const state = near.states.at(-1)![last]!
              return trellis.close(state, near.states[0]![first]!) - trellis.end[state]!
            }
          : undefined
        const sampler = new Sampler(near, factor)
        const random = randomFrom(seed)
        const counts = new Map<string, number>()
        for (let i = 0; i < draws; i++) {
          const path = sampler.draw(random, extra)!.map((state, layer) => near.states[layer]![state]!)
          counts.set(path.join(), (counts.get(path.join()) ?? 0) + 1)
        }
        for (const [path, share] of wanted) {
          // Five standard deviations of a binomial.
          const spread = 5 * Math.sqrt(draws * share * (1 - share)) + 1
          expect(Math.abs((counts.get(path) ?? 0) - draws * share), `seed ${seed}: ${path}`).toBeLessThan(spread)
        }
        expect([...counts.values()].reduce((a, b) => a + b)).toBe(draws)
      }
    })
  }
})
