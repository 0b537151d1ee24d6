import { describe, expect, it } from 'vitest'
import { scoreGroove } from '../../support/groove-scorer.ts'
import { grooveRequest, groovesOf } from '../../support/grooves.ts'

const LATIN = 'Dm7 | G7 | Cmaj7 | % | Fm7 | Bb7 | Em7 | A7'

const drawn = (seed: number, halfPoints = 4) =>
  grooveRequest('bossa-nova', LATIN, { variations: 2, difference: 0.1, surprise: { halfPoints, seed } })

describe('surprise', () => {
  it('draws the same grooves from the same seed', () => {
    for (const seed of [1, 2, -7]) expect(groovesOf(drawn(seed))).toEqual(groovesOf(drawn(seed)))
  })

  it('draws others from another, none further from the best than eight halvings, and says how far', () => {
    const best = groovesOf(grooveRequest('bossa-nova', LATIN))[0]!.cost
    const costs = new Set<number>()
    for (let seed = 1; seed <= 12; seed++) {
      const request = drawn(seed)
      for (const line of groovesOf(request)) {
        expect(scoreGroove(request, line)).toBe(line.cost)
        expect(line.cost - best).toBeLessThanOrEqual(8 * 12)
        expect(line.provenWithin).toBe(line.cost - best)
        costs.add(line.cost)
      }
    }
    expect(costs.size).toBeGreaterThan(2)
  })

  it('stays nearer to the best the less of it is asked for', () => {
    const mean = (halfPoints: number) => {
      const costs = Array.from({ length: 12 }, (_, seed) => groovesOf(drawn(seed, halfPoints))[0]!.cost)
      return costs.reduce((sum, cost) => sum + cost, 0) / costs.length
    }
    expect(mean(1)).toBeLessThan(mean(8))
  })
})
