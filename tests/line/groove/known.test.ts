import { describe, expect, it } from 'vitest'
import { GrooveMortality } from '../../../src/line/groove/dies.ts'
import { buildGrooves, type GrooveRequest } from '../../../src/line/groove/groove.ts'
import { KnownGrooves } from '../../../src/line/groove/known.ts'
import type { RuleInForce } from '../../../src/line/rule.ts'
import { changes } from '../../support/changes.ts'
import { randomRule } from '../../support/groove-random-rules.ts'
import { ruleOf } from '../../support/groove-rules.ts'
import { grooveRequest } from '../../support/grooves.ts'
import { randomFrom } from '../../support/random.ts'

const CHORDS = ['A7', 'D7', 'Em7', 'Gmaj7', 'F#m7b5', 'C/E', 'Bb', 'C7 F7', 'N.C.', '%']

/** Charts each of which differs from the one before in a bar or two, in what surrounds it, or in what is asked. */
function edits(seed: number, count: number): readonly GrooveRequest[] {
  const random = randomFrom(seed)
  const pick = <T>(rows: readonly T[]): T => rows[random(rows.length)]!
  const feel = pick(['shuffle', 'soul-eighths', 'bossa-nova', 'tumbao'])
  const row = Array.from({ length: 8 }, () => pick(CHORDS.slice(0, 7)))
  return Array.from({ length: count }, () => {
    row[1 + random(7)] = pick(CHORDS)
    if (random(4) === 0) row.push(pick(CHORDS))
    const base = grooveRequest(feel, changes(row.join(' | ')), { loop: random(2) === 0 })
    const frets = { from: 0, to: pick([12, 12, 7]) }
    const motif = { looksAt: 'motif', period: 2, strictness: 'with-fills' } as const
    const rules = [[], [], [ruleOf('motif', motif, 'must')], [randomRule(random, base, 0)]][random(4)]!
    return { ...base, frets, rules, patterns: random(5) === 0 ? base.patterns.slice(1) : base.patterns }
  })
}

describe('what earlier grooves left behind', () => {
  it('changes no line', () => {
    for (let seed = 1; seed <= 3; seed++) {
      const known = new KnownGrooves()
      for (const [edit, request] of edits(seed, 7).entries())
        expect([seed, edit, buildGrooves(request, known)]).toEqual([seed, edit, buildGrooves(request)])
    }
  }, 60_000)

  it('changes no verdict', () => {
    const known = new KnownGrooves()
    const random = randomFrom(6)
    for (const request of edits(5, 12)) {
      buildGrooves({ ...request, rules: [] }, known)
      const rules = Array.from({ length: 6 }, (_, index): RuleInForce => {
        return { ...randomRule(random, request, index), strength: 'must' }
      })
      expect(new GrooveMortality(request, known).dies(rules)).toBe(new GrooveMortality(request).dies(rules))
    }
  }, 60_000)
})
