import { describe, expect, it } from 'vitest'
import { buildGrooves, type GrooveLine, type GrooveRequest, startGrooves } from '../../../src/line/groove/groove.ts'
import type { BarRange, RuleTest } from '../../../src/line/rule.ts'
import { randomRule } from '../../support/groove-random-rules.ts'
import { atMostInARow, breachesOf, keptBar, ruleOf } from '../../support/groove-rules.ts'
import { scoreGroove } from '../../support/groove-scorer.ts'
import { grooveRequest, groovesOf, pitchesText } from '../../support/grooves.ts'
import { randomFrom } from '../../support/random.ts'

const lineOf = (request: GrooveRequest): GrooveLine => groovesOf(request)[0]!
const LATIN = 'Dm7 | G7 | Cmaj7 | % | Fm7 | Bb7 | Em7 | A7'
const SOUL = 'C | Am7 | F | G7 | C | Am7 | Dm7 | G7'
const FEELS = ['shuffle', 'soul-eighths', 'bossa-nova', 'rock-eighths', 'tumbao', 'country-two', 'one-drop', 'hip-hop']
const CHARTS = [LATIN, SOUL, 'A7 | D7 | A7 | % | D7 | % | A7 | E7', 'Em7 | N.C. | Am7 D7 | % | G/B | C | F#m7b5 | B7']

const within = (from: number, to: number): readonly BarRange[] => [{ from, to }]

describe('a rule about the hand', () => {
  it('lets it go no faster than the tempo allows', () => {
    const steady: RuleTest = {
      looksAt: 'hand',
      allows: ({ tenths, fromOpen, seconds }) => fromOpen || tenths <= 900 || seconds >= 0.5,
    }
    const free = lineOf(grooveRequest('soul-eighths', SOUL, { tempoBpm: 200 }))
    expect(breachesOf(grooveRequest('soul-eighths', SOUL, { tempoBpm: 200 }), free, ruleOf('h', steady, 1))).toBe(0)
    const tied: RuleTest = { looksAt: 'hand', allows: ({ tenths }) => tenths === 0 }
    for (const strength of ['must', 3] as const) {
      const rules = [ruleOf('hand-stays', tied, strength)]
      const request = grooveRequest('bossa-nova', LATIN, { rules, loop: true })
      const line = lineOf(request)
      if (strength === 'must') expect(new Set(line.notes.map((note) => note.hand)).size).toBe(1)
      expect(scoreGroove(request, line)).toBe(line.cost)
    }
  })
})

describe('a kept bar', () => {
  it('is played as it is, and the rest leads into and out of it', () => {
    const rules = [ruleOf('kept', keptBar('1 2 3 4', [33, 36, 40, 36]), 'must', within(2, 3))]
    const request = grooveRequest('bossa-nova', LATIN, { rules })
    const line = lineOf(request)
    expect(pitchesText(line, request.form).split(' | ')[2]).toBe('A1 C2 E2 C2')
    const kept = line.notes.filter((note) => note.slot.barIndex === 2)
    expect(kept.map((note) => note.source)).toEqual(['kept', 'kept', 'kept', 'kept'])
    expect(kept[0]!.terms.some((term) => term.rule === 'unlisted')).toBe(true)
  })

  it('is a clash where the instrument has not its notes', () => {
    const rules = [ruleOf('kept', keptBar('1 3', [20, 22]), 'must', within(1, 2))]
    expect(buildGrooves(grooveRequest('bossa-nova', LATIN, { rules }))).toEqual({ ok: false, barIndex: 1 })
  })
})

describe('a bar that is kept by a weight', () => {
  it('gives way to a pattern that a must puts in force there', () => {
    const bars = [{ from: 3, to: 4 }]
    const kept = ruleOf('kept', keptBar('1 2& 4', [36, 38, 43]), 3, bars)
    const pattern = ruleOf('third', { looksAt: 'patterns-in-force', pattern: 'tumbao-third' }, 'must', bars)
    const request = grooveRequest('tumbao', 'Em7 | A7 | Dm7 | G7', { loop: true, rules: [kept, pattern] })
    const [line] = groovesOf(request)
    expect(line!.plan.patterns[3]).toBe('tumbao-third')
    expect(line!.terms).toContainEqual({ rule: 'kept', points: 3, barIndex: 3 })
  })
})

describe('rules about patterns and cells', () => {
  it('put a pattern in force in some bars', () => {
    const base = grooveRequest('shuffle', SOUL)
    const plain = lineOf(base).plan.patterns
    const other = base.patterns.find(({ pattern }) => !plain.includes(pattern.id))!.pattern.id
    const test: RuleTest = { looksAt: 'patterns-in-force', pattern: other }
    const line = lineOf({ ...base, rules: [ruleOf('in-force', test, 'must', within(4, 6))] })
    expect(line.plan.patterns.slice(4, 6)).toEqual([other, other])
    expect(line.cost).toBeGreaterThan(lineOf(base).cost)
  })

  it('count the bars that a pattern makes the head of', () => {
    const counted = (line: GrooveLine, pattern: string) => line.plan.patterns.filter((one) => one === pattern).length
    const plain = lineOf(grooveRequest('shuffle', SOUL))
    const pattern = plain.plan.patterns[0]!
    const most = counted(plain, pattern)
    for (const [atLeast, atMost] of [
      [0, most - 1],
      [0, 0],
      [SOUL.split('|').length - 1, undefined],
    ] as const) {
      const test: RuleTest = { looksAt: 'pattern', pattern, atLeast, atMost }
      const line = lineOf(grooveRequest('shuffle', SOUL, { rules: [ruleOf('count', test, 'must')] }))
      expect(counted(line, pattern)).toBeGreaterThanOrEqual(atLeast)
      expect(counted(line, pattern)).toBeLessThanOrEqual(atMost ?? most)
      const weight = grooveRequest('shuffle', SOUL, { rules: [ruleOf('count', test, 2)] })
      const paid = lineOf(weight)
      expect(scoreGroove(weight, paid)).toBe(paid.cost)
    }
  })

  it('leave out cells that break them', () => {
    const test: RuleTest = { looksAt: 'cell', allows: (cell) => cell.onsets.every((onset) => onset.tick % 480 === 0) }
    const request = grooveRequest('bossa-nova', LATIN, { rules: [ruleOf('on-beats', test, 'must', within(4, 6))] })
    const result = buildGrooves(request)
    if (result.ok) {
      const ticks = result.lines[0]!.notes.filter(({ slot }) => slot.barIndex === 4 || slot.barIndex === 5)
      expect(ticks.every(({ slot }) => slot.startTick % 480 === 0)).toBe(true)
    } else expect(result.barIndex).toBe(4)
  })
})

describe('a rule that leads back', () => {
  it('closes the loop as if the line were looped', () => {
    const rules = [ruleOf('loop', { looksAt: 'loop' }, 'must')]
    const asked = lineOf(grooveRequest('soul-eighths', SOUL, { rules }))
    const looped = lineOf(grooveRequest('soul-eighths', SOUL, { loop: true }))
    expect(asked.notes.map((note) => note.pitch)).toEqual(looped.notes.map((note) => note.pitch))
    expect(asked.cost).toBe(looped.cost)
  })
})

describe('a rule about neighbours', () => {
  it('sees over silence that the note before it leads to a chord', () => {
    const leads = ruleOf('leads', { looksAt: 'pair', allows: (from, to) => from.leads === to.arrives }, 'must')
    const request = grooveRequest('soul-eighths', 'C7 | N.C. | F7 | G7', { rules: [leads] })
    expect(groovesOf(request)[0]!.notes.length).toBeGreaterThan(3)
  })
})

describe('any set of rules', () => {
  it('gives a line that keeps every must and pays each breach, or the bar of a clash', () => {
    const count = process.env['SOAK'] ? 2000 : 60
    // The last ones were wrong once: a bar kept by chance, a loop that a rule asks for, a tie into silence.
    const seeds = [...Array(count).keys(), 83, 268, 832].map((seed) => seed + 1)
    let found = 0
    for (const seed of seeds) {
      const random = randomFrom(seed)
      const pick = <T>(rows: readonly T[]): T => rows[random(rows.length)]!
      const base = grooveRequest(pick(FEELS), pick(CHARTS), { loop: random(2) === 0, tempoBpm: 60 + random(140) })
      const many = random(4) === 0 ? 20 : 1 + random(5)
      const rules = Array.from({ length: many }, (_, i) => randomRule(random, base, i))
      const request = { ...base, rules }
      const search = startGrooves(request)
      for (let breath = 0; breath < 60 && !search.advance(20).done; breath++);
      const result = search.result()
      if (!result.ok) {
        expect(request.form.bars[result.barIndex], `seed ${seed}`).toBeDefined()
        continue
      }
      found++
      const line = result.lines[0]!
      const terms = [...line.terms, ...line.notes.flatMap((note) => note.terms)]
      expect(
        terms.reduce((sum, term) => sum + term.points, 0),
        `seed ${seed}`,
      ).toBe(line.cost)
      for (const rule of rules) {
        const breaches = breachesOf(request, line, rule)
        const paid = terms.filter((term) => term.rule === rule.id).reduce((sum, term) => sum + term.points, 0)
        if (rule.strength === 'must') expect(breaches, `seed ${seed} ${rule.id} ${rule.test.looksAt}`).toBe(0)
        else expect(paid, `seed ${seed} ${rule.id} ${rule.test.looksAt}`).toBe(breaches * rule.strength)
      }
      if (rules.every(({ test }) => !['cell', 'patterns-in-force', 'kept-bar'].includes(test.looksAt)))
        expect(scoreGroove(request, line), `seed ${seed}`).toBe(line.cost)
    }
    expect(found).toBeGreaterThan(count / 3)
  })

  it('is counted over a memory with many states', () => {
    const rules = [1, 2, 3, 4, 5].map((limit) => ({ ...atMostInARow(limit + 1, limit), id: `at-most-${limit}` }))
    const request = grooveRequest('rock-eighths', SOUL, { rules, loop: true })
    const line = lineOf(request)
    expect(scoreGroove(request, line)).toBe(line.cost)
    expect(line.provenWithin).toBeLessThan(line.cost)
  })
})
