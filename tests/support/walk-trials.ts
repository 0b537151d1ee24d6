import { WALKING_WEIGHTS } from '../../src/feels/walking-weights.ts'
import { ownPattern, type Pattern, parsePattern } from '../../src/line/pattern.ts'
import { patternOf } from '../../src/line/patterns.ts'
import { enforce, type RuleInForce, type RuleTest, takenApart } from '../../src/line/rule.ts'
import { KEEPS_BAR } from '../../src/line/rules/keeps-bar.ts'
import { walkPlan } from '../../src/line/walk/plan.ts'
import type { WalkRequest } from '../../src/line/walk/problem.ts'
import type { WalkTable } from '../../src/line/walk/table.ts'
import type { Instrument } from '../../src/music/instrument.ts'
import { changes as formOf } from './changes.ts'
import { isReached } from './hand.ts'
import { randomFrom } from './random.ts'
import { pick, type Random, randomStated } from './random-rule.ts'
import { type Fingered, NEVER, WalkScore } from './walk-scorer.ts'
import { cellsOf, walkRequest } from './walking.ts'

/** A small request of chance, and how to say which. `undefined` where rules leave a bar without a cell, or no note. */
export interface Trial {
  readonly title: string
  readonly request: WalkRequest
}

const CHORDS = [
  'Dm7',
  'G7',
  'Cmaj7',
  'A7b9',
  'Bdim7',
  'F#m7b5',
  'C/E',
  'G7sus4',
  'Eb6',
  'E7#9',
  'Fm(maj7)',
  'C5',
  'Am9',
  'D',
]

/** Charts of three to five notes: chords go where the blanks are. */
const SHAPES: readonly (readonly [changes: string, ...cells: string[]])[] = [
  ['_', '1 2 3 4'],
  ['_ _', '1 2& 3 4'],
  ['_ _', '1 2 3 4'],
  ['_ | _', '1 3', '1 3'],
  ['_ | _', '1', '1 2 3 4'],
  ['_ | _', '1 2x 3', '1 3'],
  ['_ | _', '1 3 4&~', '~1 3'],
  ['[A] _ | [B] _', '1 2 3', '1 2'],
  ['_ | %', '1 2 3', '1 3'],
  ['_ | _ | _', '1', '1 3', '1'],
  ['_ | (3/4) _', '1 3', '1 2 3'],
  ['_', '1 & 2 &'],
]

/** Charts of four to six notes in which bars are played again. */
const REPEATED: typeof SHAPES = [
  ['|: _ :|', '1 3', '1 3'],
  ['|: _ _ :|', '1 3', '1 3'],
  ['|: _ :| _', '1 3', '1 3', '1'],
  ['|: _ | _ :|', '1 3', '1', '1 3', '1'],
  ['|: _ |1. _ :|2. _ |', '1 3', '1', '1 3', '1'],
  ['|: _ :|', '1 2 3', '1 2 3'],
]

const OPEN: readonly (readonly number[])[] = [
  [28, 33],
  [33, 38],
  [38, 43],
  [28, 33, 38],
  [31, 43],
  [40, 45],
]

/** Some of the vocabulary, and rows that try every kind of token. */
const PATTERN_TEXTS = [
  '1 3',
  '1',
  '1 h-',
  's+ h- 1',
  '1 5 w- h-',
  '5 >1',
  '1 d+',
  'h- >1',
  '3 h+ 5 1',
  '1 s-',
  '>1 >3',
  '^1 v5',
  'h- 3',
  '1 5 s+ h-',
]

function own(text: string): Pattern {
  const reading = parsePattern(text)
  if (!reading.ok) throw new Error(reading.message)
  return ownPattern(text, reading.tokens)
}

/** Weights of chance in the place of the real ones, whose widths stay. */
function randomTable(random: Random): WalkTable {
  const shaken = (value: unknown): unknown => {
    if (typeof value === 'number') return random(3) === 0 ? random(16) : value
    if (value === undefined) return random(3) === 0 ? random(16) : undefined
    if (Array.isArray(value)) return value.map(shaken)
    return Object.fromEntries(Object.entries(value as object).map(([name, inner]) => [name, shaken(inner)]))
  }
  const made = shaken(WALKING_WEIGHTS) as WalkTable
  const low = 26 + random(14)
  return {
    ...made,
    arrival: { ...made.arrival, chromatic: random(3) === 0 ? random(16) : undefined },
    contour: { low, high: low + random(14), bars: 1 + random(4), free: random(5), points: random(4) },
    above: { pitch: 34 + random(10), points: random(4) },
  }
}

/** Rules that mean nothing to a player: any pairs, any automaton, any reach of the hand. */
function randomRule(random: Random, number: number): RuleInForce {
  const seed = random(1 << 30)
  const chance = (one: number, two: number, three: number, outOf: number) =>
    randomFrom(seed ^ (one * 73856093) ^ (two * 19349663) ^ (three * 83492791))(outOf)
  const tests: readonly RuleTest[] = [
    { looksAt: 'note', allows: ({ pitch, string, fret }) => chance(pitch, string, fret, 4) > 0 },
    { looksAt: 'pair', allows: (from, to) => chance(from.pitch, to.pitch, Number(to.arrives), 4) > 0 },
    {
      looksAt: 'memory',
      states: 3,
      step: (state, from, to) => ({
        state: chance(state, from.pitch, to.pitch, 3),
        kept: chance(state, to.pitch, Number(from.leads), 4) > 0,
      }),
    },
    { looksAt: 'hand', allows: ({ tenths, fromOpen }) => chance(tenths, Number(fromOpen), 0, 3) > 0 },
  ]
  const first = random(2)
  return {
    id: `chance-${number}`,
    sentence: `rule of chance ${seed}`,
    strength: random(3) === 0 ? 'must' : 1 + random(9),
    ...(random(3) === 0 ? { bars: [{ from: first, to: first + 1 }] } : {}),
    test: pick(random, tests),
  }
}

/** Rules about bars that come again: these forms have none. */
const OF_FORM = ['motif-throughout', 'line-at-repeats']

/** A rule of the product with a value of chance, in the bars of a short form. */
function productRule(random: Random, texts: readonly string[], cell: string, pitches: readonly number[]): RuleInForce {
  const stated = () => {
    for (;;) {
      const one = randomStated(random, 3)
      if (random(12) === 0) return { ...one, rule: KEEPS_BAR, value: undefined }
      if (!OF_FORM.includes(one.rule.id)) return one
    }
  }
  const { rule, value, strength } = stated()
  const first = random(2)
  const points = random(3) === 0 ? 'must' : typeof strength === 'number' ? strength : 1 + random(9)
  const bars = random(3) === 0 ? { bars: [{ from: first, to: first + 1 }], where: `Bars ${first + 1}: ` } : {}
  if (rule.id === 'keeps-bar') {
    // One that the neck has and the form can hold.
    const struck = cellsOf(cell)[0]!.cell.onsets.filter(({ ghost, continues }) => !ghost && !continues)
    const kept = { pitches: struck.map(() => pick(random, pitches)), notation: cell }
    return enforce(rule, kept, { strength: points, bars: [{ from: 0, to: 1 }], where: 'Bar 1: ' })
  }
  const known = rule.id.startsWith('pattern-') && texts.length > 0 && random(2) === 0 ? pick(random, texts) : undefined
  const worth =
    known === undefined ? value : typeof value === 'string' ? known : { ...(value as object), pattern: known }
  return enforce(rule, worth, { strength: points, ...bars })
}

/** Fretted lines of a trial, about. */
const MOST_LINES = 12_000

/** What is tried: a neck of two or three strings, a handful of notes, any weights and any rules. */
export function walkTrial(
  seed: number,
  options: { readonly rules?: boolean; readonly patterns?: boolean; readonly repeats?: boolean } = {},
): Trial | undefined {
  const random = randomFrom(seed)
  const [shape, ...cells] = pick(random, options.repeats ? REPEATED : SHAPES)
  const changes = shape.replaceAll('_', () => pick(random, CHORDS))
  const form = formOf(changes)
  const open = pick(random, OPEN)
  let reach = open.length === 3 ? 2 : 3 + random(3)
  const from = random(3) === 0 ? 1 + random(4) : 0
  const instrument: Instrument = {
    id: 'short',
    name: 'a short neck',
    open,
    frets: 12,
    scale: [8636, 7620, 10600][seed % 3]!,
    hand: random(3) === 0 ? 'three-finger' : 'one-finger-per-fret',
    octaveWritten: -1,
  }
  const loop = random(3) === 0
  const pitches = open.flatMap((string) => [string + from, string + from + 1, string + from + 2])
  const withPatterns = options.patterns !== false && random(3) === 0
  const texts = withPatterns ? [pick(random, PATTERN_TEXTS), pick(random, PATTERN_TEXTS)] : []
  const patterns = withPatterns
    ? [...new Set(texts)].map((text) =>
        random(4) === 0
          ? patternOf(pick(random, ['triad-up', 'root-fifth-down', 'walking-below', 'tumbao-approached']))!
          : own(text),
      )
    : undefined
  const count = options.rules === false ? 0 : random(4)
  const rules: RuleInForce[] = []
  while (rules.length < count) {
    const rule = random(2) === 0 ? randomRule(random, rules.length) : productRule(random, texts, cells[0]!, pitches)
    const speaks = rule.test.looksAt === 'pattern' || rule.test.looksAt === 'patterns-in-force'
    if (!(speaks && options.patterns === false)) rules.push(...takenApart([rule]))
  }
  const looped = loop || rules.some(({ test }) => test.looksAt === 'loop')
  const tempo = { bpm: 60 + random(200), usualBpm: 144 }
  const plan = walkPlan(form, (bar) => cellsOf(cells[bar.index]!), tempo, rules, looped)
  if (!plan.ok) return undefined
  // Few enough lines that all can be tried.
  const length = plan.slots.filter((slot) => !slot.ghost).length
  if (length === 0) return undefined
  while (reach > 1 && fingeringsOf({ instrument, frets: { from, to: from + reach } }).length ** length > MOST_LINES)
    reach--
  const title = `seed ${seed}: ${changes}; ${cells.join(' | ')}; ${open} frets ${from} to ${from + reach}${loop ? ', looped' : ''}; ${patterns?.map(({ text }) => text).join(', ') ?? ''}; ${rules.map(({ sentence, strength }) => `${sentence} (${strength})`).join(' + ')}`
  return {
    title,
    request: {
      form,
      slots: plan.slots,
      planTerms: plan.terms,
      table: random(2) === 0 ? randomTable(random) : WALKING_WEIGHTS,
      instrument,
      frets: { from, to: from + reach },
      patterns: patterns && [...new Map(patterns.map((pattern) => [pattern.id, pattern])).values()],
      rules,
      secondsPerTick: 60 / tempo.bpm / 480,
      loop: looped,
      ...(options.repeats ? { repeats: plan.repeats, repeatedBars: plan.repeatedBars } : {}),
      variations: 1,
      difference: 0.25,
    },
  }
}

const LONG = [
  'Dm7 | G7 | Cmaj7 | A7b9 | Dm7 | G7',
  '[A] F7 | Bb7 | F7 | Cm7 F7 | [B] Bb7 | Bdim7 | F7/C | D7b9',
  'Em7b5 | A7 | Dm(maj7) | (3/4) G7sus4 | C5 | (4/4) Fm7 Bb7',
]

/** A request over some bars of a whole bass, under rules of chance. `undefined` where they leave a bar without a cell. */
export function ruledRequest(seed: number): Trial | undefined {
  const random = randomFrom(seed)
  const form = formOf(pick(random, LONG))
  const texts = [pick(random, PATTERN_TEXTS), pick(random, PATTERN_TEXTS)]
  const patterns = random(4) === 0 ? [...new Set(texts)].map(own) : undefined
  const cell = pick(random, ['1 2 3 4', '1 2& 3 4', '1 3'])
  const pitches = [31, 33, 36, 38, 40, 43]
  const rules = takenApart(Array.from({ length: 1 + random(6) }, () => productRule(random, texts, cell, pitches)))
  const loop = random(4) === 0 || rules.some(({ test }) => test.looksAt === 'loop')
  const tempo = { bpm: 60 + random(200), usualBpm: 144 }
  const plan = walkPlan(
    form,
    (bar) => (bar.metre.upper === 4 ? cellsOf(...new Set([cell, '1 2 3 4'])) : cellsOf('3/4: 1 2 3')),
    tempo,
    rules,
    loop,
  )
  if (!plan.ok) return undefined
  const { slots, terms } = plan
  const asked = rules.map(({ sentence, strength }) => `${sentence} (${strength})`).join(' + ')
  return {
    title: `seed ${seed}${loop ? ', looped' : ''}: ${patterns?.map(({ text }) => text).join(', ') ?? ''}; ${asked}`,
    request: walkRequest(form, {
      slots,
      planTerms: terms,
      patterns,
      rules,
      loop,
      secondsPerTick: 60 / tempo.bpm / 480,
    }),
  }
}

/** Every way to fret a note: each string and fret under each hand that reaches it; an open string goes with any. */
export function fingeringsOf({ instrument, frets }: Pick<WalkRequest, 'instrument' | 'frets'>): readonly Fingered[] {
  const lowest = Math.max(1, frets.from)
  // Up to the first that reaches the last fret.
  const hands = [lowest]
  while (!isReached(instrument, frets.to, hands.at(-1)!)) hands.push(hands.at(-1)! + 1)
  const all: Fingered[] = []
  for (const [string, open] of instrument.open.entries())
    for (let fret = frets.from; fret <= frets.to; fret++)
      for (const hand of hands)
        if (isReached(instrument, fret, hand)) all.push({ pitch: open + fret, string, fret, hand })
  return all
}

/** A row of pitches below 64 as one number. */
export function rowOf(pitches: readonly number[]): number {
  return pitches.reduce((row, pitch) => row * 64 + pitch, 0)
}

/** The pitches of a row. */
export function pitchesOf(row: number, length: number): readonly number[] {
  return Array.from({ length }, (_, i) => Math.floor(row / 64 ** (length - 1 - i)) % 64)
}

/**
 * Every row of pitches that can be played, by {@link rowOf}, with the cost of its cheapest fingering without the plan: all fingered lines
 * are tried one by one.
 *
 * Where bars are to be the same each time they are played, a note of one has the same place on the neck in all.
 *
 * @param score  apart from the search
 */
export function everyLine(request: WalkRequest, score = new WalkScore(request)): ReadonlyMap<number, number> {
  const all = fingeringsOf(request)
  const count = score.length
  const notes = Array.from({ length: count }, (_, i) => all.map((note) => score.note(i, note)))
  const steps = Array.from({ length: count }, (_, i) =>
    i === 0 && !request.loop ? [] : all.map((from) => all.map((to) => score.step(i, from, to))),
  )
  const cheapest = new Map<number, number>()
  const path: number[] = []
  const go = (sofar: number): void => {
    const i = path.length
    if (i === count) {
      const total = sofar + (request.loop ? steps[0]![path.at(-1)!]![path[0]!]! : 0)
      if (total === NEVER) return
      const key = path.reduce((row, at) => row * 64 + all[at]!.pitch, 0)
      if (total < (cheapest.get(key) ?? NEVER)) cheapest.set(key, total)
      return
    }
    for (let at = 0; at < all.length; at++) {
      const first = all[path[request.repeats?.[i] ?? i] ?? at]!
      if (first.string !== all[at]!.string || first.fret !== all[at]!.fret) continue
      const more = notes[i]![at]! + (i > 0 ? steps[i]![path[i - 1]!]![at]! : 0)
      if (more === NEVER) continue
      path.push(at)
      go(sofar + more)
      path.pop()
    }
  }
  go(0)
  const lines = new Map<number, number>()
  for (const [key, cost] of cheapest) {
    const total = cost + score.whole(pitchesOf(key, count))
    if (total < NEVER) lines.set(key, total)
  }
  return lines
}
