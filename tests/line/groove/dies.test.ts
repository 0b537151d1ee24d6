import { describe, expect, it } from 'vitest'
import { GrooveMortality } from '../../../src/line/groove/dies.ts'
import { type GrooveRequest, startGrooves } from '../../../src/line/groove/groove.ts'
import type { RuleInForce } from '../../../src/line/rule.ts'
import { changes } from '../../support/changes.ts'
import { randomRule } from '../../support/groove-random-rules.ts'
import { grooveRequest } from '../../support/grooves.ts'
import { randomFrom } from '../../support/random.ts'

const CHARTS = [
  ['shuffle', 'A7 | D7 | Em7 | A7 D7'],
  ['soul-eighths', 'Dm7 | G7 | C | %'],
  ['bossa-nova', 'C7 | % | F7 | N.C. | F7 | G7'],
  ['tumbao', 'Em7 | A7 | Dm7 | G7'],
  ['waltz', '(3/4) C | G7 | C | %'],
] as const

/** A chart, and rules of which three in four are musts. */
function randomTask(seed: number): { readonly request: GrooveRequest; readonly rules: readonly RuleInForce[] } {
  const random = randomFrom(seed)
  const [feel, row] = CHARTS[random(CHARTS.length)]!
  const request = grooveRequest(feel, changes(row), { loop: random(3) === 0 })
  const rules = Array.from({ length: 1 + random(14) }, (_, index): RuleInForce => {
    const strength = random(4) === 0 ? 3 : 'must'
    return { ...randomRule(random, request, index), strength }
  })
  return { request, rules }
}

/** What the whole search says. */
function hasLine(request: GrooveRequest): boolean {
  const search = startGrooves(request)
  for (;;) {
    const { done, best } = search.advance(1)
    if (best) return true
    if (done) return search.result().ok
  }
}

describe('whether there is a groove under some rules', () => {
  it('is told as the search tells it', () => {
    let dead = 0
    for (let seed = 1; seed <= 60; seed++) {
      const { request, rules } = randomTask(seed)
      const dies = new GrooveMortality(request).dies(rules)
      if (dies !== undefined) dead++
      expect([seed, dies === undefined]).toEqual([seed, hasLine({ ...request, rules })])
    }
    expect(dead).toBeGreaterThan(9)
    expect(dead).toBeLessThan(51)
  }, 60_000)

  it('is told alike by one that has told it of other rules', () => {
    const { request } = randomTask(1)
    const known = new GrooveMortality(request)
    const random = randomFrom(5)
    for (let set = 0; set < 12; set++) {
      const rules = Array.from({ length: 6 }, (_, index): RuleInForce => {
        return { ...randomRule(random, request, index), strength: 'must' }
      })
      expect(known.dies(rules)).toBe(new GrooveMortality(request).dies(rules))
    }
  })

  it('is told of a few bars only where there is none on the whole', () => {
    let within = 0
    for (let seed = 1; seed <= 100; seed++) {
      const { request, rules } = randomTask(seed)
      const mortality = new GrooveMortality(request)
      for (const bars of [
        { from: 1, to: 2 },
        { from: 0, to: 3 },
      ]) {
        if (!mortality.diesWithin(rules, bars)) continue
        within++
        expect([seed, typeof mortality.dies(rules)]).toEqual([seed, 'number'])
      }
    }
    expect(within).toBeGreaterThan(3)
  })
})
