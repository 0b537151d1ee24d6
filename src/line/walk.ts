import type { Form } from '../chart/form.ts'
import type { Chord } from '../music/chord.ts'
import type { Instrument } from '../music/instrument.ts'
import type { Slot } from '../rhythm/slot.ts'
import { bestPath, costsToGo, deadLayer, leastCost } from '../search/cost-to-go.ts'
import { ExcessGraph, type Found, loopFrom } from '../search/excess.ts'
import { IMPOSSIBLE } from '../search/trellis.ts'
import { heardMemory } from './heard-memory.ts'
import type { CostTerm, SearchedLine, SearchedNote } from './line.ts'
import { type MemoryEdge, type Tracks, unroll } from './memory.ts'
import { costAfter, MOVES } from './move.ts'
import { type Neck, neckOf } from './neck.ts'
import { type NeckLayer, NeckTrellis, type PitchRange, pitchRange } from './neck-step.ts'
import type { Pattern } from './pattern.ts'
import { patternMemory } from './pattern-memory.ts'
import { binds, type RuleInForce } from './rule.ts'
import { automatonOf } from './rule-memory.ts'
import {
  type AddTerm,
  handTerms,
  moveTerms,
  noteTerms,
  pairTerms,
  placeTerms,
  type WalkPlace,
  walkPlaces,
} from './walk-costs.ts'
import type { WalkTable } from './walk-table.ts'

/** What a walking line is built from. */
export interface WalkRequest {
  readonly form: Form
  /** in order of time, ghosts among them */
  readonly slots: readonly Slot[]
  /** what the rhythm plan cost */
  readonly planTerms: readonly CostTerm[]
  readonly table: WalkTable
  readonly instrument: Instrument
  /** frets that may be used, both ends included */
  readonly frets: { readonly from: number; readonly to: number }
  /** degree patterns in force; absent: the notes are free */
  readonly patterns: readonly Pattern[] | undefined
  readonly rules: readonly RuleInForce[]
  /** the last note has to lead into the first */
  readonly loop: boolean
  /** how many lines, >= 1 */
  readonly variations: number
  /** least share of slots in which two lines differ, 0 to 1 */
  readonly difference: number
}

/** The lines, cheapest first, or the bar where no line can go on. */
export type WalkResult =
  | {
      readonly ok: true
      /** at least one; fewer than asked where no more are different enough, or `exhausted` says that looking on was given up */
      readonly lines: readonly SearchedLine[]
      readonly exhausted: boolean
    }
  | { readonly ok: false; readonly barIndex: number }

/**
 * Distances above the optimum, in points, within which further lines and loops are looked for. They grow by half: the labels
 * of a search grow faster than its limit.
 */
const LIMITS = [5, 8, 12, 18, 24, 36, 54, 80, 120, 180, 270, 400, 600]

/**
 * The best walking lines over a rhythm plan: the exact optimum over (string, fret, hand, pattern place, last move), and after it
 * the cheapest lines that differ from each earlier one in at least the share asked for.
 *
 * Where two chords follow each other so that nothing can be played, the answer names the bar.
 */
export function walk(asked: WalkRequest): WalkResult {
  const steps = walking(asked)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

/** The same a line at a time: yields all lines known so far, so that the caller may take breath or give it up. */
export function* walking(asked: WalkRequest): Generator<readonly SearchedLine[], WalkResult> {
  const request = withPatterns(asked)
  const ghosts = request.slots.filter((slot) => slot.ghost)
  const total = request.planTerms.reduce((sum, term) => sum + term.points, 0)
  const problem = problemOf(request)
  if (!problem) {
    const line = { notes: [], ghosts, terms: request.planTerms, cost: total, provenWithin: 0 }
    return { ok: true, lines: [line], exhausted: false }
  }
  const { trellis, places } = problem
  const toGo = costsToGo(trellis)
  if (leastCost(trellis, toGo) >= IMPOSSIBLE) {
    return { ok: false, barIndex: places[deadLayer(trellis, toGo)!]!.slot.barIndex }
  }
  let excess = new ExcessGraph(trellis, toGo)
  let closing = request.loop ? trellis.closing : undefined
  const most = places.length - Math.ceil(request.difference * places.length - 1e-9)
  const lines: SearchedLine[] = []
  const others: { labels: readonly number[]; most: number }[] = []
  let exhausted = false
  let firstState: number | undefined
  while (lines.length < request.variations) {
    const found =
      lines.length === 0 && !closing ? plainBest(trellis, toGo) : excess.cheapest({ others, closing }, LIMITS)
    if (found.kind === 'given-up' && closing && firstState !== undefined) {
      // Loops that begin as the best one does are plain paths: those are found, and only not proven to be the best of all.
      const round = loopFrom(trellis, closing, firstState)
      excess = new ExcessGraph(round, costsToGo(round))
      closing = undefined
      continue
    }
    if (found.kind !== 'path') {
      exhausted = found.kind === 'given-up'
      break
    }
    others.push({ labels: found.path.map((state, layer) => trellis.label(layer, state)), most })
    firstState ??= found.path[0]!
    const isPart = request.loop && !closing
    const notes = notesOf(request, problem, found.path)
    lines.push({
      notes,
      ghosts,
      terms: request.planTerms,
      cost: total + found.cost,
      provenWithin: isPart ? total + found.cost - lines[0]!.cost : found.provenWithin,
    })
    if (lines.length < request.variations) yield [...lines]
  }
  if (lines.length === 0) return { ok: false, barIndex: places.at(-1)!.slot.barIndex }
  return { ok: true, lines, exhausted }
}

/** What a free line never does a pattern may ask for: a chromatic note on a change, and for each semitone over the octave more points. */
const IN_A_PATTERN = { chromaticArrival: 15, perSemitoneOverOctave: 2, widest: 24 }

function withPatterns(request: WalkRequest): WalkRequest {
  if (!request.patterns) return request
  const { table } = request
  const wide = (intervals: readonly number[]) =>
    Array.from(
      { length: IN_A_PATTERN.widest + 1 },
      (_, size) =>
        intervals[size] ?? intervals.at(-1)! + (size - intervals.length + 1) * IN_A_PATTERN.perSemitoneOverOctave,
    )
  return {
    ...request,
    table: {
      ...table,
      arrival: { ...table.arrival, chromatic: table.arrival.chromatic ?? IN_A_PATTERN.chromaticArrival },
      intervals: wide(table.intervals),
      intoOffBeat: wide(table.intoOffBeat),
    },
  }
}

function plainBest(trellis: NeckTrellis, toGo: readonly Int32Array[]): Found {
  const path = bestPath(trellis, toGo)
  return path ? { kind: 'path', path, cost: leastCost(trellis, toGo), provenWithin: 0 } : { kind: 'none' }
}

/** True if any line at all obeys the rules. Cheaper than building one. */
export function canWalk(request: WalkRequest): boolean {
  const problem = problemOf(withPatterns(request))
  if (!problem) return true
  return leastCost(problem.trellis, costsToGo(problem.trellis)) < IMPOSSIBLE
}

/** How many states the search has, for benchmarks: all of them are expanded once. */
export function statesOfWalk(request: WalkRequest): { readonly slots: number; readonly states: number } {
  const problem = problemOf(request)
  if (!problem) return { slots: 0, states: 0 }
  const { trellis } = problem
  let states = 0
  for (let layer = 0; layer < trellis.layers; layer++) states += trellis.size(layer)
  return { slots: trellis.layers, states }
}

interface WalkProblem {
  readonly places: readonly WalkPlace[]
  readonly neck: Neck
  readonly tracks: Tracks
  readonly trellis: NeckTrellis
  readonly patternAt: (slot: number, track: number) => Pick<SearchedNote, 'pattern' | 'number'>
}

/** The trellis of a request; `undefined` if nothing sounds. */
function problemOf(request: WalkRequest): WalkProblem | undefined {
  const { table, rules, loop } = request
  const places = walkPlaces(request.form, request.slots, table, loop)
  if (places.length === 0) return undefined
  const neck = neckOf(request.instrument, request.frets)
  const range = pitchRange(neck)

  // What needs memory.
  const patterns = request.patterns ? patternMemory(request.patterns, places, table, neck, loop) : undefined
  const automata = rules
    .filter((rule) => rule.test.looksAt === 'memory')
    .map((rule) => automatonOf(rule, places, range, loop))
  const tracks = unroll([patterns ?? heardMemory(places, table, neck), ...automata], places.length, neck, loop)

  // What does not.
  const costs = new PairCosts(request, places, range)
  const layers: NeckLayer[] = places.map((place, slot) => ({
    placeCost: placeCosts(request, place, neck),
    tracks: tracks.places[slot]!,
    remembersMove: place.onBeat,
    hurried: isHurried(places, slot, request.form.ticks),
  }))
  const after = new Int32Array(MOVES * MOVES)
  for (let before = 0; before < MOVES; before++)
    for (let move = 0; move < MOVES; move++) after[before * MOVES + move] = costAfter(table.after, before, move)
  const sum = (terms: readonly CostTerm[]) => terms.reduce((points, term) => points + term.points, 0)
  const trellis = new NeckTrellis({
    neck,
    hand: table.hand,
    after,
    layers,
    edges: tracks.edges,
    pair: places.map((_, slot) => costs.of(slot)),
    startCost: tracks.startTerms.map(sum),
    endCost: tracks.endTerms.map(sum),
    loop,
  })
  const patternAt = (slot: number, track: number) => {
    const state = patterns?.stateOf(tracks.states[slot]![track]![0]!)
    const token = state?.pattern && state.token !== undefined ? state.pattern.tokens[state.token] : undefined
    return { pattern: state?.pattern?.id, number: token?.kind === 'degree' ? token.number : undefined }
  }
  return { places, neck, tracks, trellis, patternAt }
}

/** An eighth or less from the note before. In a loop the first note follows the last. */
function isHurried(places: readonly WalkPlace[], slot: number, formTicks: number): boolean {
  const here = places[slot]!.slot.startTick
  const before = slot > 0 ? places[slot - 1]!.slot.startTick : places.at(-1)!.slot.startTick - formTicks
  return here - before <= 240
}

/** What each place of the neck costs at a slot, rules about single notes included. */
function placeCosts(request: WalkRequest, place: WalkPlace, neck: Neck): Int32Array {
  const costs = new Int32Array(neck.places.length)
  for (const [index, at] of neck.places.entries()) {
    let total = 0
    const add: AddTerm = (_, points) => {
      total += points
    }
    const allowed = noteTerms(request.table, place, at.pitch, add) && noteRules(request, place, at, add)
    placeTerms(request.table, at.fret, add)
    costs[index] = allowed ? total : IMPOSSIBLE
  }
  return costs
}

/** The rules that look at one note; `false` if a must forbids it. */
function noteRules(
  { rules, instrument }: WalkRequest,
  place: WalkPlace,
  at: { readonly pitch: number; readonly string: number; readonly fret: number },
  add: AddTerm,
): boolean {
  for (const rule of rules) {
    if (rule.test.looksAt !== 'note' || !binds(rule, place.slot.barIndex)) continue
    const { pitch, string, fret } = at
    if (rule.test.allows({ ...place, pitch, string, fret, open: instrument.open })) continue
    if (rule.strength === 'must') return false
    add(rule.id, rule.strength)
  }
  return true
}

/** The rules that look at two neighbours. They bind where the second stands. */
function pairRules(
  rules: readonly RuleInForce[],
  from: WalkPlace,
  to: WalkPlace,
  x: number,
  y: number,
  add: AddTerm,
): boolean {
  for (const rule of rules) {
    if (rule.test.looksAt !== 'pair' || !binds(rule, to.slot.barIndex)) continue
    if (rule.test.allows({ ...from, pitch: x }, { ...to, pitch: y })) continue
    if (rule.strength === 'must') return false
    add(rule.id, rule.strength)
  }
  return true
}

/** Tables of what a pitch costs after another. Places that the weights cannot tell apart share one. */
class PairCosts {
  readonly #request: WalkRequest
  readonly #places: readonly WalkPlace[]
  readonly #range: PitchRange
  readonly #tables = new Map<string, Int32Array>()
  readonly #perSlot: boolean
  readonly #chordKeys = new Map<Chord, string>()

  constructor(request: WalkRequest, places: readonly WalkPlace[], range: PitchRange) {
    this.#request = request
    this.#places = places
    this.#range = range
    this.#perSlot = request.rules.some((rule) => rule.test.looksAt === 'pair')
  }

  /** The table for the step from a slot to the next, or from the last to the first. */
  of(slot: number): Int32Array {
    const from = this.#places[slot]!
    const to = this.#places[(slot + 1) % this.#places.length]!
    const key = this.#perSlot
      ? String(slot)
      : `${this.#keyOf(from.chord)} ${this.#keyOf(to.chord)} ${to.arrives} ${to.onBeat} ${from.run === to.run && to.runSlots === 2}`
    const known = this.#tables.get(key)
    if (known) return known
    const { base, width } = this.#range
    const costs = new Int32Array(width * width)
    for (let x = 0; x < width; x++) {
      for (let y = 0; y < width; y++) {
        let total = 0
        const add: AddTerm = (_, points) => {
          total += points
        }
        const { table, rules } = this.#request
        const allowed =
          pairTerms(table, from, to, base + x, base + y, add) &&
          (!this.#perSlot || pairRules(rules, from, to, base + x, base + y, add))
        costs[x * width + y] = allowed ? total : IMPOSSIBLE
      }
    }
    this.#tables.set(key, costs)
    return costs
  }

  #keyOf(chord: Chord): string {
    const known = this.#chordKeys.get(chord) ?? `${chord.symbol.text}|${chord.scale.id}`
    this.#chordKeys.set(chord, known)
    return known
  }
}

/** The notes of a path with the terms that add up to its cost, taken from the definitions and not from the tables. */
function notesOf(request: WalkRequest, problem: WalkProblem, path: readonly number[]): readonly SearchedNote[] {
  const { table, rules } = request
  const { places, neck, tracks, trellis } = problem
  const states = path.map((state, slot) => trellis.stateOf(slot, state))
  const terms: CostTerm[][] = path.map(() => [])
  const addTo =
    (slot: number): AddTerm =>
    (rule, points) => {
      if (points > 0) terms[slot]!.push({ rule, points })
    }
  const count = path.length
  for (let slot = 0; slot < count; slot++) {
    const add = addTo(slot)
    const at = neck.places[states[slot]!.place]!
    noteTerms(table, places[slot]!, at.pitch, add)
    placeTerms(table, at.fret, add)
    noteRules(request, places[slot]!, at, add)
    if (slot === 0 && !request.loop) {
      terms[0]!.push(...tracks.startTerms[states[0]!.track]!)
      continue
    }
    const before = (slot + count - 1) % count
    const from = neck.places[states[before]!.place]!
    pairTerms(table, places[before]!, places[slot]!, from.pitch, at.pitch, add)
    pairRules(rules, places[before]!, places[slot]!, from.pitch, at.pitch, add)
    if (places[slot]!.onBeat) moveTerms(table, states[before]!.move, at.pitch - from.pitch, add)
    const hurried = isHurried(places, slot, request.form.ticks)
    handTerms(table, { ...from, hand: states[before]!.hand }, { ...at, hand: states[slot]!.hand }, hurried, add)
    const edge = trellis.edgeBetween(before, path[before]!, path[slot]!) as MemoryEdge
    for (const { rule, points } of edge.arriving) add(rule, points)
    for (const { rule, points } of edge.leaving) addTo(before)(rule, points)
  }
  for (const { rule, points } of tracks.endTerms[states.at(-1)!.track]!) addTo(count - 1)(rule, points)
  return path.map((_, slot) => {
    const { place, hand, track } = states[slot]!
    const { pitch, string, fret } = neck.places[place]!
    return {
      slot: places[slot]!.slot,
      pitch,
      string,
      fret,
      hand,
      ...problem.patternAt(slot, track),
      terms: terms[slot]!,
    }
  })
}
