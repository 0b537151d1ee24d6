import { describe, expect, it } from 'vitest'
import { type Composition, compose, composing } from '../../src/compose.ts'
import { formatRule } from '../../src/line/rule-sentence.ts'
import { KnownWalks } from '../../src/line/walk/known.ts'
import { type WalkRequest, walkProblem, withPatterns } from '../../src/line/walk/problem.ts'
import { walk, walkDies } from '../../src/line/walk/walk.ts'
import { walkAlternatives } from '../../src/line/walk/written.ts'
import { costsToGo } from '../../src/search/cost-to-go.ts'
import { IMPOSSIBLE } from '../../src/search/trellis.ts'
import { randomFrom } from '../support/random.ts'
import { pick, randomStated } from '../support/random-rule.ts'
import { editedRequests } from '../support/walk-edits.ts'
import { WalkScore } from '../support/walk-scorer.ts'
import { everyLine, pitchesOf, rowOf, ruledRequest, type Trial, walkTrial } from '../support/walk-trials.ts'

// Every check is beside enumeration of all fingered lines, scored from the definitions and apart from the search.

/** All of a large run, or a tenth. */
const tenth = (all: number): number => (process.env['SOAK'] ? all : all / 10)

const HOUR = 3_600_000

const planCost = ({ planTerms }: WalkRequest) => planTerms.reduce((sum, term) => sum + term.points, 0)

const least = (numbers: Iterable<number>): number => {
  let found = Number.POSITIVE_INFINITY
  for (const number of numbers) found = Math.min(found, number)
  return found
}

const pitches = (notes: readonly { readonly pitch: number }[]) => notes.map(({ pitch }) => pitch)

/** Trials of chance from a seed on, as many as asked. */
function* trials(first: number, count: number): Generator<Trial> {
  let made = 0
  for (let seed = first; made < count; seed++) {
    const trial = walkTrial(seed)
    if (!trial) continue
    made++
    yield trial
  }
}

describe('Exact: a walking line', () => {
  it(
    'is the cheapest of every line that can be fretted, and there is none where there is none',
    () => {
      let without = 0
      for (const { request, title } of trials(1, tenth(2000))) {
        const all = everyLine(request)
        const result = walk(request)
        expect([walkDies(request) === undefined, result.ok], title).toEqual([all.size > 0, all.size > 0])
        if (!result.ok) {
          without++
          continue
        }
        const [line] = result.lines
        const cost = least(all.values())
        expect([line!.cost - planCost(request), line!.provenWithin], title).toEqual([cost, 0])
        expect(new WalkScore(request).of(line!.notes), title).toBe(cost)
        const terms = [...line!.terms, ...line!.notes.flatMap((note) => note.terms)]
        expect(
          terms.reduce((sum, { points }) => sum + points, 0),
          title,
        ).toBe(line!.cost)
      }
      expect(without).toBeGreaterThan(tenth(2000) / 20)
    },
    HOUR,
  )

  it(
    'has at every place the cheapest way on that there is',
    () => {
      for (const { request, title } of trials(20_268, tenth(2000))) {
        const known = new KnownWalks()
        const problem = walkProblem(withPatterns(request, known), known)
        if (!problem) continue
        const { trellis } = problem
        const { at, base } = costsToGo(trellis)
        for (let layer = 0; layer + 1 < trellis.layers; layer++) {
          for (const [state, cost] of at[layer]!.entries()) {
            if (cost + base[layer]! >= IMPOSSIBLE) continue
            let best = IMPOSSIBLE
            trellis.successors(layer, state, (next, step) => {
              best = Math.min(best, step + at[layer + 1]![next]! + base[layer + 1]!)
            })
            if (cost + base[layer]! !== best)
              throw new Error(`${title}: slot ${layer}, ${cost + base[layer]!}, not ${best}`)
          }
        }
      }
    },
    HOUR,
  )

  it(
    'is followed by the cheapest that differ from each earlier one in the share asked for, as long as there are any',
    () => {
      for (const { request, title } of trials(10_001, tenth(1000))) {
        const all = everyLine(request)
        const difference = [0.25, 0.5, 1][all.size % 3]!
        const asked = { ...request, variations: 4, difference }
        const result = walk(asked)
        if (!result.ok) continue
        const { length } = result.lines[0]!.notes
        const most = length - Math.max(1, Math.ceil(difference * length - 1e-9))
        const plan = planCost(request)
        const earlier: (readonly number[])[] = []
        const cheapest = () => {
          let best = Number.POSITIVE_INFINITY
          for (const [row, cost] of all) {
            if (cost >= best) continue
            const own = pitchesOf(row, length)
            if (earlier.every((other) => own.filter((pitch, i) => pitch === other[i]).length <= most)) best = cost
          }
          return best
        }
        for (const line of result.lines) {
          expect([line.cost - plan, line.provenWithin], title).toEqual([cheapest(), 0])
          earlier.push(pitches(line.notes))
        }
        if (result.lines.length < 4)
          expect([cheapest(), result.exhausted], title).toEqual([Number.POSITIVE_INFINITY, false])
      }
    },
    HOUR,
  )

  it(
    'is the first of the k best, each the next cheapest row of pitches',
    () => {
      for (const { request, title } of trials(20_001, tenth(500))) {
        const all = everyLine(request)
        const result = walk({ ...request, variations: 20, difference: 0 })
        if (!result.ok) continue
        const costs = [...all.values()].sort((a, b) => a - b).slice(0, 20)
        const plan = planCost(request)
        expect(
          result.lines.map(({ cost }) => cost - plan),
          title,
        ).toEqual(costs)
        const rows = result.lines.map(({ notes }) => rowOf(pitches(notes)))
        expect(new Set(rows).size, title).toBe(rows.length)
        expect(
          rows.map((row) => all.get(row)),
          title,
        ).toEqual(costs)
      }
    },
    HOUR,
  )

  it(
    'could have at each slot what is said, for exactly the cost that is said',
    () => {
      for (const { request, title } of trials(30_001, tenth(500))) {
        const all = everyLine(request)
        const slots = walkAlternatives(request)
        if (all.size === 0) {
          expect(slots, title).toEqual([])
          continue
        }
        const plan = planCost(request)
        const length = slots.length
        for (const [i, { costs, beyond }] of slots.entries()) {
          const owed = new Map<number, number>()
          for (const [row, cost] of all) {
            const pitch = pitchesOf(row, length)[i]!
            if (cost + plan <= beyond) owed.set(pitch, Math.min(cost + plan, owed.get(pitch) ?? beyond))
          }
          expect(
            [...costs].sort((a, b) => a[0] - b[0]),
            `${title}, slot ${i}`,
          ).toEqual([...owed].sort((a, b) => a[0] - b[0]))
        }
      }
    },
    HOUR,
  )
})

describe('Bars that are played again', () => {
  it(
    'are the same each time, in a line that is no dearer than it says above the cheapest such line',
    () => {
      const seen = { best: 0, beyond: 0, differ: 0, missed: 0 }
      let made = 0
      for (let seed = 1; made < tenth(1000); seed++) {
        const trial = walkTrial(seed, { repeats: true })
        if (!trial?.request.repeats) continue
        made++
        const { request, title } = trial
        const { repeats, ...free } = request
        const tied = least(everyLine(request).values())
        const result = walk(request)
        if (!result.ok) {
          expect(everyLine(free as WalkRequest).size, title).toBe(0)
          continue
        }
        const line = result.lines[0]!
        const cost = line.cost - planCost(request)
        expect(new WalkScore(request).of(line.notes), title).toBe(cost)
        if (result.repeatsDiffer) {
          seen.differ++
          if (tied < Number.POSITIVE_INFINITY) seen.missed++
          expect(cost, title).toBe(least(everyLine(free as WalkRequest).values()))
          continue
        }
        const places = line.notes.map(({ string, fret }) => `${string}/${fret}`)
        expect(places, title).toEqual(repeats!.map((first) => places[first]))
        expect(cost, title).toBeGreaterThanOrEqual(tied)
        expect(cost - line.provenWithin, title).toBeLessThanOrEqual(tied)
        if (cost === tied) seen.best++
        else seen.beyond++
      }
      // The search for such lines is not an exact one: what it misses is counted.
      expect(seen.best).toBeGreaterThan(2 * seen.beyond)
      expect(seen.missed).toBeLessThanOrEqual(made / 100)
    },
    HOUR,
  )
})

describe('Exact: any set of rules', () => {
  it(
    'costs a line what its sentences say, counted apart from the search',
    () => {
      let lines = 0
      const seen = new Set<string>()
      for (let seed = 1; seed <= tenth(5000); seed++) {
        const trial = ruledRequest(seed)
        if (!trial) continue
        const { request, title } = trial
        const result = walk(request)
        if (!result.ok) continue
        lines++
        const [line] = result.lines
        expect(new WalkScore(request).of(line!.notes) + planCost(request), title).toBe(line!.cost)
        for (const { test } of request.rules) seen.add(test.looksAt)
      }
      expect(lines).toBeGreaterThan(tenth(5000) / 3)
      expect([...seen].sort()).toEqual([
        'cell',
        'hand',
        'kept-bar',
        'loop',
        'memory',
        'note',
        'pair',
        'pattern',
        'patterns-in-force',
      ])
    },
    HOUR,
  )
})

describe('Repeatable: a walking line', () => {
  it(
    'is the same to the last byte whatever was asked before, with all that earlier lines left behind or with nothing',
    () => {
      let lines = 0
      let without = 0
      for (let sequence = 1; sequence <= tenth(100); sequence++) {
        const known = new KnownWalks()
        const random = randomFrom(sequence)
        let edit = 0
        for (const { request, said } of editedRequests(random, 16)) {
          const title = `sequence ${sequence}, edit ${++edit}: ${said}`
          const fresh = walk(request)
          expect(JSON.stringify(walk(request, known)), title).toBe(JSON.stringify(fresh))
          if (fresh.ok) lines++
          else without++
          expect(walkDies(request, known), title).toBe(walkDies(request))
          // Now and then more than the best is asked for.
          const more = { ...request, variations: 3, difference: random(2) === 0 ? 0 : 0.25 }
          if (random(4) === 0) expect(JSON.stringify(walk(more, known)), title).toBe(JSON.stringify(walk(more)))
          const drawn = { ...more, surprise: { halfPoints: 3, seed: random(1000) } }
          if (random(4) === 0) expect(JSON.stringify(walk(drawn, known)), title).toBe(JSON.stringify(walk(drawn)))
          if (random(4) === 0) expect(walkAlternatives(request, known), title).toEqual(walkAlternatives(request))
        }
      }
      expect([lines > 0, without > 0]).toEqual([true, true])
    },
    HOUR,
  )

  it(
    'is the same to the last byte on a page where much was asked before: charts, repeats, keys, rules, chance',
    () => {
      const chords = ['Dm7', 'G7', 'Cmaj7', 'A7b9', 'Fm7', 'Bb7', 'C/E', 'Bdim7', 'G7 Db7', '%']
      for (let sequence = 1; sequence <= tenth(60); sequence++) {
        const known = new KnownWalks()
        const random = randomFrom(sequence)
        const bars = ['Dm7', ...Array.from({ length: 5 }, () => pick(random, chords))]
        const asked = { feel: 'swing-medium', loop: false, key: 'C', variations: 1, surprise: false }
        const rules: string[] = []
        for (let edit = 1; edit <= 10; edit++) {
          bars[1 + random(5)] = pick(random, chords)
          if (random(4) === 0) asked.feel = pick(random, ['swing-medium', 'swing-fast', 'ballad-two'])
          if (random(4) === 0) asked.key = pick(random, ['C', 'Dm', 'F', 'Eb'])
          if (random(4) === 0) asked.loop = !asked.loop
          if (random(3) === 0) asked.variations = 1 + random(3)
          if (random(4) === 0) asked.surprise = !asked.surprise
          if (random(3) === 0) rules.push(formatRule(randomStated(random, 6)))
          if (random(3) === 0) rules.shift()
          const [open, close] = random(2) === 0 ? ['|:', ':|'] : ['|', '|']
          const text = `key: ${asked.key}\n${open} ${bars.slice(0, 3).join(' | ')} ${close} ${bars.slice(3).join(' | ')} |`
          const { feel, loop, variations } = asked
          const drawn = asked.surprise ? ({ surprise: 'some', seed: random(9) } as const) : {}
          const settings = { feel, loop, variations, rules: [...rules], ...drawn }
          const steps = composing(text, settings, known)
          let step = steps.next()
          while (!step.done) step = steps.next()
          const fresh = compose(text, settings)
          const seen = ({ lines, clash, diagnostics }: Composition) => JSON.stringify([lines, clash, diagnostics])
          expect(seen(step.value), `sequence ${sequence}, edit ${edit}: ${text} ${JSON.stringify(settings)}`).toBe(
            seen(fresh),
          )
        }
      }
    },
    HOUR,
  )
})
