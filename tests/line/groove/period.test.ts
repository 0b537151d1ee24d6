import { describe, expect, it } from 'vitest'
import { type GrooveLine, type GrooveRequest, startGrooves } from '../../../src/line/groove/groove.ts'
import { problemOf } from '../../../src/line/groove/problem.ts'
import { layMotif, layScheme, pairStarts } from '../../../src/line/groove/scheme.ts'
import type { RuleTest } from '../../../src/line/rule.ts'
import { changes } from '../../support/changes.ts'
import { ruleOf } from '../../support/groove-rules.ts'
import { grooveRequest, groovesOf, patternIn } from '../../support/grooves.ts'
import { cellsOf } from '../../support/walking.ts'

type Motif = Extract<RuleTest, { readonly looksAt: 'motif' }>

const LATIN = 'Dm7 | G7 | Cmaj7 | % | Fm7 | Bb7 | Em7 | A7'

function asked(period: Motif['period'], strictness: Motif['strictness'], options: Partial<GrooveRequest> = {}) {
  const rules = [ruleOf('motif', { looksAt: 'motif', period, strictness }, 'must')]
  return grooveRequest('bossa-nova', LATIN, { rules, loop: true, ...options })
}

const lineOf = (request: GrooveRequest): GrooveLine => groovesOf(request)[0]!

/** Onsets of a bar, from its bar line. */
function onsetsIn(line: GrooveLine, request: GrooveRequest, bar: number): string {
  const start = request.form.bars[bar]!.startTick
  const notes = line.notes.filter((note) => note.slot.barIndex === bar)
  return notes.map((note) => note.slot.startTick - start).join()
}

const lettersOf = (period: Motif['period'], strictness: Motif['strictness'], eight: string) => {
  const { bars } = changes(Array(8).fill('C7').join(' | '))
  return layMotif(layScheme([...eight], bars), pairStarts(bars), { period, strictness })
    .map(({ letter }) => letter)
    .join('')
}

describe('the letters of a motif', () => {
  it('are those of the scheme where nothing else is asked for', () => {
    expect(lettersOf(undefined, 'with-fills', 'ABAfABAF')).toBe('ABAfABAF')
  })

  it('follow each other by the period, up to the fills or through them', () => {
    expect(lettersOf(1, 'with-fills', 'ABAfABAF')).toBe('AAAfAAAF')
    expect(lettersOf(2, 'with-fills', 'AAAfAAAF')).toBe('ABAfABAF')
    expect(lettersOf(4, 'strict', 'AAAfAAAF')).toBe('ABCDABCD')
    expect(lettersOf(undefined, 'strict', 'AAABAAAf')).toBe('AAABAAAB')
    expect(lettersOf(1, 'strict', 'AwAwAwAF')).toBe('AAAAAAAA')
  })
})

describe('a strict motif', () => {
  it.each([1, 2, 4] as const)('of %i bars has no fill, and the same onsets in each period', (period) => {
    const request = asked(period, 'strict')
    const line = lineOf(request)
    expect(line.plan.figures.every((figure) => figure === undefined)).toBe(true)
    expect(line.plan.motif.length).toBe(period)
    for (let bar = period; bar < 8; bar++)
      expect(line.plan.patterns[bar], `bar ${bar + 1}`).toBe(line.plan.patterns[bar - period])
    if (!line.notes.some((note) => note.slot.pushed))
      for (let bar = period; bar < 8; bar++)
        expect(onsetsIn(line, request, bar)).toBe(onsetsIn(line, request, bar - period))
  })
})

describe('a period', () => {
  it.each([
    [2, 'strict'],
    [2, 'with-fills'],
    [4, 'strict'],
  ] as const)('of %i bars, %s, is the best of all combinations of bars', (period, strictness) => {
    const request = asked(period, strictness, {
      form: changes('Dm7 | G7 | Cmaj7 | A7'),
      cells: cellsOf('1 3', '1 2& 3'),
      patterns: ['1 5', '1 3'].map((text) => ({ pattern: patternIn(text), weight: 1 })),
      frets: { from: 0, to: 5 },
      loop: period === 2,
    })
    const { plans, pairings, sweep } = problemOf(request, false)
    let motifs: readonly (typeof pairings)[] = [[]]
    for (let part = 0; part < period; part++)
      motifs = motifs.flatMap((motif) => pairings.map((pairing) => [...motif, pairing]))
    let least = Number.POSITIVE_INFINITY
    for (const scheme of plans.schemes) {
      for (const motif of motifs) {
        const plan = plans.planOf(scheme, motif)
        if (!plan) continue
        for (const stance of sweep.stances) {
          const swept = sweep.solve(plans.alternativesOf(plan), stance, least - 1 - plan.points)
          if (swept) least = swept.cost + plan.points
        }
      }
    }
    const line = lineOf(request)
    expect(line.cost).toBe(least)
    expect(line.provenWithin).toBe(0)
    const terms = [...line.terms, ...line.notes.flatMap((note) => note.terms)]
    expect(terms.reduce((sum, term) => sum + term.points, 0)).toBe(line.cost)
  })

  it('of two bars is two bars, and says how far it may be from the best where it is broken off', () => {
    const request = asked(2, 'with-fills')
    const search = startGrooves(request)
    const first = search.advance(1).best!
    expect(first.plan.motif[0]).not.toBe(first.plan.motif[1])
    while (!search.advance(100).done);
    const result = search.result()
    const best = result.ok ? result.lines[0]!.cost : 0
    expect(first.cost - first.provenWithin).toBeLessThanOrEqual(best)
    expect(first.cost).toBeGreaterThanOrEqual(best)
  })
})

describe('a groove of free bars', () => {
  it('costs what the best row of bars costs, each change of bar paid', () => {
    const request = asked(undefined, 'free', {
      form: changes('Dm7 | G7 | Cmaj7 | A7'),
      cells: cellsOf('1 3', '1 2& 3'),
      patterns: [{ pattern: patternIn('1 5'), weight: 1 }],
      frets: { from: 0, to: 5 },
      loop: false,
    })
    const { plans, pairings, sweep } = problemOf(request, false)
    let rows: readonly (typeof pairings)[] = [[]]
    for (let bar = 0; bar < 4; bar++) rows = rows.flatMap((row) => pairings.map((pairing) => [...row, pairing]))
    let least = Number.POSITIVE_INFINITY
    for (const scheme of plans.schemes) {
      const { plan } = plans.freePlan(scheme, pairings.length)
      const ways = plans.alternativesOf(plan)
      for (const row of rows) {
        const chosen = ways.map((bars, bar) => bars.filter((laid) => laid.pairing === row[bar]))
        const changed = row.filter((pairing, bar) => bar > 0 && pairing !== row[bar - 1]).length
        const points = plan.points + changed * request.table.change
        for (const stance of sweep.stances) {
          const swept = sweep.solve(chosen, stance, least - 1 - points)
          if (swept) least = swept.cost + points
        }
      }
    }
    const line = lineOf(request)
    expect(line.cost).toBe(least)
    expect(line.provenWithin).toBe(0)
    const terms = [...line.terms, ...line.notes.flatMap((note) => note.terms)]
    expect(terms.reduce((sum, term) => sum + term.points, 0)).toBe(line.cost)
  })

  it('is no dearer than the same bar throughout, and says what is not proven', () => {
    const free = lineOf(asked(undefined, 'free'))
    const strict = lineOf(asked(1, 'with-fills'))
    expect(free.cost - free.provenWithin).toBeLessThanOrEqual(strict.cost)
  })
})
