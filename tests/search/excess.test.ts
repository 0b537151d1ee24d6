import { describe, expect, it } from 'vitest'
import { costsToGo } from '../../src/search/cost-to-go.ts'
import { ExcessGraph } from '../../src/search/excess.ts'
import { type DenseTrellis, everyPath, randomTrellis } from '../support/dense-trellis.ts'

const LIMITS = [1, 3, 9, 27, 81]

const labelsOf = (trellis: DenseTrellis, path: readonly number[]) =>
  path.map((state, layer) => trellis.label(layer, state))

const closingOf = (trellis: DenseTrellis) => (last: number, visit: (first: number, cost: number) => void) => {
  for (let first = 0; first < trellis.size(0); first++) visit(first, trellis.close(last, first))
}

const agreements = (a: readonly number[], b: readonly number[]) => a.filter((label, i) => label === b[i]).length

describe('the paths near the best one', () => {
  it('give the cheapest path that differs from earlier ones in so many layers', () => {
    let found = 0
    for (let seed = 1; seed <= 200; seed++) {
      const trellis = randomTrellis(seed, { layers: 5, states: 4 })
      const graph = new ExcessGraph(trellis, costsToGo(trellis))
      const most = 1 + (seed % 4)
      const others: { labels: readonly number[]; most: number }[] = []
      for (let line = 0; line < 4; line++) {
        const allowed = everyPath(trellis).filter(({ path }) =>
          others.every((other) => agreements(other.labels, labelsOf(trellis, path)) <= other.most),
        )
        const next = graph.cheapest({ others, closing: undefined }, LIMITS)
        if (allowed.length === 0) {
          expect(next.kind, `seed ${seed}, line ${line}`).toBe('none')
          break
        }
        if (next.kind !== 'path') throw new Error(`seed ${seed}, line ${line}: ${next.kind}`)
        expect(next.cost, `seed ${seed}, line ${line}`).toBe(Math.min(...allowed.map(({ cost }) => cost)))
        expect(allowed.find(({ path }) => path.join() === next.path.join())?.cost).toBe(next.cost)
        others.push({ labels: labelsOf(trellis, next.path), most })
        found++
      }
    }
    expect(found).toBeGreaterThan(300)
  })

  it('close a loop at the least cost of all closed paths', () => {
    let open = 0
    for (let seed = 1; seed <= 300; seed++) {
      const trellis = randomTrellis(seed, { layers: 2 + (seed % 4), states: 4, loop: true })
      const graph = new ExcessGraph(trellis, costsToGo(trellis))
      const all = everyPath(trellis, true)
      const next = graph.cheapest({ others: [], closing: closingOf(trellis) }, LIMITS)
      if (all.length === 0) {
        expect(next.kind, `seed ${seed}`).toBe('none')
        continue
      }
      if (next.kind !== 'path') throw new Error(`seed ${seed}: ${next.kind}`)
      expect(next.cost, `seed ${seed}`).toBe(Math.min(...all.map(({ cost }) => cost)))
      if (next.cost > graph.optimum) open++
    }
    expect(open).toBeGreaterThan(20)
  })

  it('close a loop and differ at the same time', () => {
    for (let seed = 1; seed <= 100; seed++) {
      const trellis = randomTrellis(seed, { layers: 4, states: 4, loop: true })
      const graph = new ExcessGraph(trellis, costsToGo(trellis))
      const first = graph.cheapest({ others: [], closing: closingOf(trellis) }, LIMITS)
      if (first.kind !== 'path') continue
      const others = [{ labels: labelsOf(trellis, first.path), most: 2 }]
      const allowed = everyPath(trellis, true).filter(
        ({ path }) => agreements(others[0]!.labels, labelsOf(trellis, path)) <= 2,
      )
      const second = graph.cheapest({ others, closing: closingOf(trellis) }, LIMITS)
      if (allowed.length === 0) expect(second.kind).toBe('none')
      else expect(second.kind === 'path' && second.cost, `seed ${seed}`).toBe(Math.min(...allowed.map((p) => p.cost)))
    }
  })
})
