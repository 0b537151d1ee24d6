import { describe, expect, it } from 'vitest'
import { costsToGo, leastCost } from '../../src/search/cost-to-go.ts'
import { leastThrough, leastWith } from '../../src/search/least-through.ts'
import { NearGraph } from '../../src/search/near-graph.ts'
import { IMPOSSIBLE } from '../../src/search/trellis.ts'
import { everyPath, randomTrellis } from '../support/dense-trellis.ts'

const LIMIT = 9

describe('what the best path with a label at a layer loses', () => {
  for (const loop of [false, true]) {
    it(`is what trying every ${loop ? 'loop' : 'path'} says`, () => {
      let seen = 0
      for (let seed = 1; seed <= 200; seed++) {
        const trellis = randomTrellis(seed, { layers: 2 + (seed % 4), states: 4, loop })
        const toGo = costsToGo(trellis)
        const optimum = leastCost(trellis, toGo)
        if (optimum >= IMPOSSIBLE) continue
        const near = new NearGraph(trellis, toGo, optimum, LIMIT)
        const extra = loop
          ? (last: number, first: number) => {
              const state = near.states.at(-1)![last]!
              return trellis.close(state, near.states[0]![first]!) - trellis.end[state]!
            }
          : undefined
        const all = everyPath(trellis, loop)
        for (const [layer, found] of leastThrough(near, extra).entries()) {
          const wanted = new Map<number, number>()
          for (const { path, cost } of all) {
            const label = trellis.label(layer, path[layer]!)
            if (cost - optimum <= LIMIT) wanted.set(label, Math.min(wanted.get(label) ?? LIMIT, cost - optimum))
          }
          expect(new Map([...found].sort()), `seed ${seed}, layer ${layer}`).toEqual(new Map([...wanted].sort()))
          seen += wanted.size
        }
      }
      expect(seen).toBeGreaterThan(500)
    })

    it(`and the cheapest ${loop ? 'loop' : 'path'} with all its labels is found`, () => {
      for (let seed = 1; seed <= 120; seed++) {
        const trellis = randomTrellis(seed, { layers: 4, states: 4, loop })
        const toGo = costsToGo(trellis)
        const optimum = leastCost(trellis, toGo)
        if (optimum >= IMPOSSIBLE) continue
        const near = new NearGraph(trellis, toGo, optimum, LIMIT)
        const extra = loop
          ? (last: number, first: number) => {
              const state = near.states.at(-1)![last]!
              return trellis.close(state, near.states[0]![first]!) - trellis.end[state]!
            }
          : undefined
        const labelsOf = (path: readonly number[]) => path.map((state, layer) => trellis.label(layer, state))
        for (const { path } of everyPath(trellis, loop).slice(0, 5)) {
          const alike = everyPath(trellis, loop).filter((one) => labelsOf(one.path).join() === labelsOf(path).join())
          const cost = Math.min(...alike.map((one) => one.cost))
          const found = leastWith(near, labelsOf(path), extra)
          if (cost - optimum <= LIMIT) expect(found && optimum + found.loss, `seed ${seed}`).toBe(cost)
        }
      }
    })
  }
})
