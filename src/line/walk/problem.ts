import type { Form } from '../../chart/form.ts'
import type { Instrument } from '../../music/instrument.ts'
import type { Pitch } from '../../music/pitch.ts'
import type { Slot } from '../../rhythm/slot.ts'
import { IMPOSSIBLE } from '../../search/trellis.ts'
import { heardMemory } from '../heard-memory.ts'
import type { CostTerm, SearchedNote } from '../line.ts'
import { type MemoryEdge, type Tracks, unroll } from '../memory.ts'
import type { Neck, Place } from '../neck.ts'
import type { HandRuleCosts, NeckLayer } from '../neck-problem.ts'
import { NeckTrellis } from '../neck-step.ts'
import type { Pattern } from '../pattern.ts'
import { type PatternsAsked, patternMemory } from '../pattern-memory.ts'
import { patternNamed } from '../patterns.ts'
import { type BarRange, binds, type RuleInForce, type Sounding } from '../rule.ts'
import { automatonOf, soundings } from '../rule-memory.ts'
import { chordKey, standingKey } from '../standing.ts'
import {
  type AddTerm,
  gripTerms,
  handTerms,
  moveTerms,
  noteTerms,
  pairTerms,
  placeTerms,
  type WalkPlace,
  walkPlaces,
} from './costs.ts'
import type { KnownNeck, KnownWalks } from './known.ts'
import { keptBar, keptPitch } from './plan.ts'
import type { WalkTable } from './table.ts'

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
  /** at the tempo of the line */
  readonly secondsPerTick: number
  /** the last note has to lead into the first */
  readonly loop: boolean
  /** how many lines, >= 1 */
  readonly variations: number
  /** least share of slots in which two lines differ, 0 to 1; two lines of the same notes are one line */
  readonly difference: number
  /** for each sounded slot, the slot whose note it has too, as an index; absent: each has its own */
  readonly repeats?: readonly number[] | undefined
  /** for each bar, the first that is the same; with `repeats` */
  readonly repeatedBars?: readonly number[] | undefined
  /** where a sounded slot has to be fretted; absent: anywhere */
  readonly fixed?: ((index: number) => { readonly string: number; readonly fret: number } | undefined) | undefined
  /** lines are drawn by chance instead of being the cheapest */
  readonly surprise?: Surprise | undefined
}

/** How lines are drawn. */
export interface Surprise {
  /** twice the points that halve a line's likelihood, a whole number >= 1 */
  readonly halfPoints: number
  /** any whole number; the same one gives the same lines */
  readonly seed: number
}

/** What a free line never does a pattern may ask for: a chromatic note on a change, and for each semitone over the octave more points. */
const IN_A_PATTERN = { chromaticArrival: 15, perSemitoneOverOctave: 2, widest: 24 }

/** A request whose weights let patterns do what they ask for. */
export function withPatterns(request: WalkRequest, known: KnownWalks): WalkRequest {
  if (!patternsAsked(request)) return request
  return { ...request, table: known.widened(request.table, widened) }
}

function widened(table: WalkTable): WalkTable {
  const wide = (intervals: readonly number[]) =>
    Array.from(
      { length: IN_A_PATTERN.widest + 1 },
      (_, size) =>
        intervals[size] ?? intervals.at(-1)! + (size - intervals.length + 1) * IN_A_PATTERN.perSemitoneOverOctave,
    )
  return {
    ...table,
    arrival: { ...table.arrival, chromatic: table.arrival.chromatic ?? IN_A_PATTERN.chromaticArrival },
    intervals: wide(table.intervals),
    intoOffBeat: wide(table.intoOffBeat),
  }
}

/** A request as a trellis, and how to read its states. */
export interface WalkProblem {
  readonly places: readonly WalkPlace[]
  readonly neck: Neck
  readonly tracks: Tracks
  readonly trellis: NeckTrellis
  readonly patternAt: (slot: number, track: number) => Pick<SearchedNote, 'pattern' | 'number'>
}

/** The trellis of a request; `undefined` if nothing sounds. */
export function walkProblem(request: WalkRequest, known: KnownWalks): WalkProblem | undefined {
  const places = walkPlaces(request.form, request.slots, request.table, request.loop, keptAt(request))
  return places.length === 0 ? undefined : problemOf(request, places, { from: 0, to: places.length }, true, known)
}

/**
 * The trellis in which it is asked whether a line can be at all: what only makes notes dearer is left out.
 *
 * @param bars  played bars to look at, half-open: begun where a chord arrives, whatever came before, and not ended; absent: all, as asked
 * @returns     with the bar of each layer; `undefined` if nothing sounds
 */
export function walkMusts(
  request: WalkRequest,
  known: KnownWalks,
  bars: BarRange | undefined,
): { readonly trellis: NeckTrellis; readonly barAt: (layer: number) => number } | undefined {
  const isMust = ({ strength, test }: RuleInForce) =>
    strength === 'must' || test.looksAt === 'pattern' || test.looksAt === 'patterns-in-force'
  const musts = { ...request, rules: request.rules.filter(isMust) }
  const { form, slots, table, loop } = musts
  const kept = keptAt(musts)
  // Without a bar that stays they are the same under any rules.
  const places = kept
    ? walkPlaces(form, slots, table, loop, kept)
    : known.places(slots, loop, () => walkPlaces(form, slots, table, loop))
  if (places.length === 0) return undefined
  let part = { from: 0, to: places.length }
  if (bars) {
    let from = places.findIndex(({ slot }) => slot.barIndex >= bars.from)
    while (from > 0 && !places[from]!.arrives) from--
    const to = places.findLastIndex(({ slot }) => slot.barIndex < bars.to) + 1
    if (from < 0 || to <= from) return undefined
    part = { from, to }
  }
  const { trellis } = problemOf(musts, places, part, false, known)
  return { trellis, barAt: (layer) => places[part.from + layer]!.slot.barIndex }
}

/** @param soft  what makes notes dearer counts */
function problemOf(
  request: WalkRequest,
  places: readonly WalkPlace[],
  part: { readonly from: number; readonly to: number },
  soft: boolean,
  known: KnownWalks,
): WalkProblem {
  const { table, rules } = request
  const isWhole = part.from === 0 && part.to === places.length
  const loop = request.loop && isWhole
  const knownNeck = known.neck(table, request.instrument, request.frets)
  const { neck, range, masks } = knownNeck

  // What needs memory.
  const asked = patternsAsked(request)
  const patterns = asked && patternMemory(asked, places, table, masks, request.loop)
  const automata = rules
    .filter((rule) => rule.test.looksAt === 'memory')
    .map((rule) => automatonOf(rule, places, range, request.loop, knownNeck.ways))
  // Where notes are free of patterns, chords have to be heard.
  const heard = (asked && !asked.free) || !soft ? [] : [heardMemory(places, table, masks)]
  const memories = [...(patterns ? [patterns] : []), ...heard, ...automata]
  const tracks = unroll(memories, part, loop, knownNeck.tracks)

  // What does not.
  const sum = (terms: readonly CostTerm[]) => terms.reduce((points, term) => points + term.points, 0)
  const slots = Array.from({ length: part.to - part.from }, (_, layer) => part.from + layer)
  const trellis = new NeckTrellis({
    neck,
    hand: table.hand,
    across: knownNeck.across,
    after: knownNeck.after,
    layers: slots.map(
      (slot, layer): NeckLayer => ({
        placeCost: fixedAt(request.fixed?.(slot), placeCosts(request, places[slot]!, knownNeck), knownNeck),
        tracks: tracks.places[layer]!,
        remembersMove: places[slot]!.onBeat,
        hurried: ticksTo(request, places, slot) <= HURRIED_TICKS,
        handRules: handRulesAt(request, places, slot, knownNeck),
      }),
    ),
    edges: tracks.edges,
    pair: slots.map((slot) => pairCosts(request, places, slot, knownNeck)),
    startCost: tracks.startTerms.map(sum),
    endCost: tracks.endTerms.map((terms) => (part.to < places.length ? 0 : terms ? sum(terms) : IMPOSSIBLE)),
    loop,
    identities: known.identities,
  })
  const patternAt = (slot: number, track: number) => {
    const state = patterns?.stateOf(tracks.states[slot]![track]![0]!)
    const token = state?.pattern && state.token !== undefined ? state.pattern.tokens[state.token] : undefined
    return { pattern: state?.pattern?.id, number: token?.kind === 'degree' ? token.number : undefined }
  }
  return { places, neck, tracks, trellis, patternAt }
}

/** The pitch that a must keeps at a slot. */
function keptAt({ rules, form }: WalkRequest): ((slot: Slot) => Pitch | undefined) | undefined {
  if (!rules.some((rule) => rule.test.looksAt === 'kept-bar' && rule.strength === 'must')) return undefined
  return ({ barIndex, startTick }) => {
    const bar = keptBar(rules, barIndex)
    return bar && keptPitch(bar, startTick - form.bars[barIndex]!.startTick)
  }
}

/** The patterns that may be in force: those chosen, or else those that a rule speaks of; `undefined` where nobody does. */
function patternsAsked({ patterns, rules }: WalkRequest): PatternsAsked | undefined {
  const named = rules.flatMap(({ test }) =>
    test.looksAt === 'pattern' || test.looksAt === 'patterns-in-force' ? [test.pattern] : [],
  )
  if (!patterns && named.length === 0) return undefined
  const chosen = patterns ?? []
  const spokenOf = named.filter((id) => !chosen.some((pattern) => pattern.id === id))
  const more = [...new Set(spokenOf)].flatMap((name) => patternNamed(name) ?? [])
  return { patterns: [...chosen, ...more], free: !patterns, rules }
}

/** An eighth or less. */
const HURRIED_TICKS = 240

/** Ticks from the note before. In a loop the first note follows the last. */
function ticksTo({ form }: WalkRequest, places: readonly WalkPlace[], slot: number): number {
  const here = places[slot]!.slot.startTick
  const before = slot > 0 ? places[slot - 1]!.slot.startTick : places.at(-1)!.slot.startTick - form.ticks
  return here - before
}

/** What each place of the neck costs at a slot, rules about single notes included. */
function placeCosts(request: WalkRequest, place: WalkPlace, known: KnownNeck): Int32Array {
  const { chord, standing, target, begins, runSlots, coming, kept } = place
  const key = `place ${chordKey(chord)} ${standing} ${target} ${begins} ${runSlots === 2} ${coming} ${kept ?? ''}`
  const plain = known.named(key, () =>
    Int32Array.from(known.neck.places, (at) => {
      let total = 0
      const add: AddTerm = (_, points) => {
        total += points
      }
      const allowed = noteTerms(request.table, place, at.pitch, add)
      placeTerms(request.table, at.fret, add)
      return allowed ? total : IMPOSSIBLE
    }),
  )
  const bound = request.rules.filter((rule) => looksAtNote(rule) && binds(rule, place.slot.barIndex))
  if (bound.length === 0) return plain
  const costs = plain.slice()
  const { slot, phraseShare } = place
  const where = `${standingKey(place)} ${phraseShare} ${slot.startTick} ${slot.ticks} ${slot.pushed}`
  for (const rule of bound) {
    const mask = known.allowed(rule.test, where, () =>
      Uint8Array.from(known.neck.places, (at) => Number(allowsNote(rule, request, place, at))),
    )
    const price = rule.strength === 'must' ? IMPOSSIBLE : rule.strength
    for (let i = 0; i < costs.length; i++) if (!mask[i]) costs[i] = Math.min(IMPOSSIBLE, costs[i]! + price)
  }
  return known.equal(costs)
}

/** The same costs at one place only. */
function fixedAt(
  place: { readonly string: number; readonly fret: number } | undefined,
  costs: Int32Array,
  { neck, equal }: KnownNeck,
): Int32Array {
  if (!place) return costs
  const isThere = (index: number) =>
    neck.places[index]!.string === place.string && neck.places[index]!.fret === place.fret
  return equal(costs.map((cost, index) => (isThere(index) ? cost : IMPOSSIBLE)))
}

function looksAtNote({ test }: RuleInForce): boolean {
  return test.looksAt === 'note' || test.looksAt === 'kept-bar'
}

/** True where a rule that looks at one note allows it, or does not bind there. */
function allowsNote(
  { test, ...rule }: RuleInForce,
  { instrument, form }: WalkRequest,
  place: WalkPlace,
  { pitch, string, fret }: Pick<Place, 'pitch' | 'string' | 'fret'>,
): boolean {
  const { barIndex, startTick } = place.slot
  if (!binds(rule, barIndex)) return true
  if (test.looksAt === 'kept-bar') return keptPitch(test, startTick - form.bars[barIndex]!.startTick) === pitch
  return test.looksAt !== 'note' || test.allows({ ...place, pitch, string, fret, open: instrument.open })
}

/** What rules that look at one note ask of it, musts apart: those forbid it before. */
function noteRules(
  request: WalkRequest,
  place: WalkPlace,
  at: Pick<Place, 'pitch' | 'string' | 'fret'>,
  add: AddTerm,
): void {
  for (const rule of request.rules) {
    if (rule.strength !== 'must' && !allowsNote(rule, request, place, at)) add(rule.id, rule.strength)
  }
}

/** What rules that look at two neighbours ask of them, musts apart. They bind where the second stands. */
function pairRules(rules: readonly RuleInForce[], from: WalkPlace, to: WalkPlace, x: number, y: number, add: AddTerm) {
  for (const { id, test, strength, ...rule } of rules) {
    if (test.looksAt !== 'pair' || strength === 'must' || !binds(rule, to.slot.barIndex)) continue
    if (!test.allows({ ...from, pitch: x }, { ...to, pitch: y })) add(id, strength)
  }
}

/** The pairs of pitches that a test allows, as a mask. */
function pairsAllowed(
  allows: (from: Sounding, to: Sounding) => boolean,
  from: readonly Sounding[],
  to: readonly Sounding[],
): Uint8Array {
  const mask = new Uint8Array(from.length * to.length)
  let at = 0
  for (const x of from) for (const y of to) mask[at++] = Number(allows(x, y))
  return mask
}

/** What a pitch costs after another, for the step from a slot to the next, or from the last to the first. */
function pairCosts(
  request: WalkRequest,
  places: readonly WalkPlace[],
  slot: number,
  { range, named, allowed }: KnownNeck,
): Int32Array {
  const { table } = request
  const from = places[slot]!
  const to = places[(slot + 1) % places.length]!
  const hasty = from.run === to.run && to.hasty
  const stays = from.kept !== undefined && to.kept !== undefined
  const flags = [to.arrives, to.leads, from.onBeat, to.onBeat, hasty, stays].map(Number).join('')
  const key = `pair ${chordKey(from.chord)} ${chordKey(to.chord)} ${flags}`
  const over = (cost: (x: number, y: number, add: AddTerm) => boolean): Int32Array => {
    const costs = new Int32Array(range.width * range.width)
    let total = 0
    const add: AddTerm = (_, points) => {
      total += points
    }
    for (let x = 0; x < range.width; x++) {
      for (let y = 0; y < range.width; y++) {
        total = 0
        costs[x * range.width + y] = cost(range.base + x, range.base + y, add) ? total : IMPOSSIBLE
      }
    }
    return costs
  }
  const plain = named(key, () => over((x, y, add) => pairTerms(table, from, to, x, y, add)))
  const bound = request.rules.filter((rule) => rule.test.looksAt === 'pair' && binds(rule, to.slot.barIndex))
  if (bound.length === 0) return plain
  // A sentence says all that its rule asks.
  const asked = bound.map(({ sentence, strength }) => `${sentence} (${strength})`).join(' & ')
  return named(`${key} ${standingKey(from)} ${standingKey(to)} ${asked}`, () => {
    const costs = plain.slice()
    for (const rule of bound) {
      const { test } = rule
      if (test.looksAt !== 'pair') continue
      const mask = allowed(test, `${standingKey(from)} ${standingKey(to)}`, () =>
        pairsAllowed(test.allows, soundings(from, range), soundings(to, range)),
      )
      const price = rule.strength === 'must' ? IMPOSSIBLE : rule.strength
      for (let i = 0; i < costs.length; i++) if (!mask[i]) costs[i] = Math.min(IMPOSSIBLE, costs[i]! + price)
    }
    return costs
  })
}

/** What rules about the hand add to its moves to a slot; `undefined` where none binds. */
function handRulesAt(
  request: WalkRequest,
  places: readonly WalkPlace[],
  slot: number,
  known: KnownNeck,
): HandRuleCosts | undefined {
  const bound = request.rules.filter((rule) => rule.test.looksAt === 'hand' && binds(rule, places[slot]!.slot.barIndex))
  if (bound.length === 0) return undefined
  const ticks = ticksTo(request, places, slot)
  const asked = bound.map(({ sentence, strength }) => `${sentence} (${strength})`).join(' & ')
  return known.handRules(`${ticks} ${request.secondsPerTick} ${asked}`, () => {
    const { tenths, lowestHand, highestHand } = known.neck
    const hands = tenths.slice(lowestHand, highestHand + 1)
    const of = (fromOpen: boolean) =>
      Int32Array.from({ length: hands.length * hands.length }, (_, at) => {
        let total = 0
        const way = Math.abs(hands[at % hands.length]! - hands[Math.floor(at / hands.length)]!)
        const allowed = handRules(bound, request, places, slot, way, fromOpen, (_, points) => {
          total += points
        })
        return allowed ? total : IMPOSSIBLE
      })
    return { fretted: of(false), open: of(true) }
  })
}

/** The rules that look at the hand; `false` if a must forbids the move to a slot. */
function handRules(
  rules: readonly RuleInForce[],
  request: WalkRequest,
  places: readonly WalkPlace[],
  slot: number,
  tenths: number,
  fromOpen: boolean,
  add: AddTerm,
): boolean {
  const seconds = ticksTo(request, places, slot) * request.secondsPerTick
  for (const rule of rules) {
    if (rule.test.looksAt !== 'hand' || !binds(rule, places[slot]!.slot.barIndex)) continue
    if (rule.test.allows({ tenths, fromOpen, seconds })) continue
    if (rule.strength === 'must') return false
    add(rule.id, rule.strength)
  }
  return true
}

/** The notes of a path with the terms that add up to its cost, taken from the definitions and not from the tables. */
export function notesOf(request: WalkRequest, problem: WalkProblem, path: readonly number[]): readonly SearchedNote[] {
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
    gripTerms(table, { place: at, hand: states[slot]!.hand }, add)
    noteRules(request, places[slot]!, at, add)
    if (slot === 0 && !request.loop) {
      terms[0]!.push(...tracks.startTerms[states[0]!.track]!)
      continue
    }
    const before = (slot + count - 1) % count
    const from = neck.places[states[before]!.place]!
    pairTerms(table, places[before]!, places[slot]!, from.pitch, at.pitch, add)
    pairRules(rules, places[before]!, places[slot]!, from.pitch, at.pitch, add)
    moveTerms(table, states[before]!.move, at.pitch - from.pitch, places[slot]!.onBeat, add)
    const hurried = ticksTo(request, places, slot) <= HURRIED_TICKS
    const [handBefore, hand] = [states[before]!.hand, states[slot]!.hand]
    handTerms(table, neck, { place: from, hand: handBefore }, { place: at, hand }, hurried, add)
    const way = Math.abs(neck.tenths[hand]! - neck.tenths[handBefore]!)
    handRules(rules, request, places, slot, way, from.fret === 0, add)
    const edge = trellis.edgeBetween(before, path[before]!, path[slot]!) as MemoryEdge
    for (const { rule, points } of edge.arriving) add(rule, points)
    for (const { rule, points } of edge.leaving) addTo(before)(rule, points)
  }
  for (const { rule, points } of tracks.endTerms[states.at(-1)!.track] ?? []) addTo(count - 1)(rule, points)
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
