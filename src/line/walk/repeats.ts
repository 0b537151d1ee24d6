import type { Change, Form, FormBar } from '../../chart/form.ts'
import type { Slot } from '../../rhythm/slot.ts'
import { IMPOSSIBLE } from '../../search/trellis.ts'
import type { SearchedLine } from '../line.ts'
import type { BarRange, RuleInForce } from '../rule.ts'
import type { KnownWalks } from './known.ts'
import type { WalkRequest } from './problem.ts'
import { type SlotAlternatives, type WalkResult, walkAlternatives, writing } from './written.ts'

/** Lines more than asked for that are looked at: some are lost where a seam forbids them. */
const SPARE = 6

/**
 * Walking lines whose bars are the same each time they are played.
 *
 * They are looked for over the bars as they are written, each once; what is found is played everywhere, and every seam is paid for
 * like any step. The best line written out, with the notes of one playing put into all, is looked at too. No line that stays the same
 * is cheaper than the best that need not: `provenWithin` is the distance from that one.
 *
 * @param repeats  for each sounded slot, the slot whose note it has
 */
export function* repeating(
  asked: WalkRequest,
  repeats: readonly number[],
  known: KnownWalks,
): Generator<readonly SearchedLine[], WalkResult> {
  const { variations } = asked
  const free = writing({ ...asked, variations: 1, surprise: undefined }, known)
  let step = free.next()
  while (!step.done) {
    yield []
    step = free.next()
  }
  if (!step.value.ok) return step.value
  const best = step.value.lines[0]!
  const least = best.cost - best.provenWithin
  const lines: SearchedLine[] = []
  const take = (tied: SearchedLine | undefined): void => {
    if (!tied || lines.length === variations) return
    if (!lines.every((other) => differs(tied, other, asked.difference))) return
    lines.push({ ...tied, provenWithin: Math.max(0, tied.cost - least) })
  }

  const written = writtenBars(asked)
  const steps = writing({ ...written.request, variations: variations > 1 ? variations + SPARE : 1 }, known)
  const playedAll = (line: SearchedLine) =>
    played(asked, (slot) => line.notes[written.slotOf(repeats[slot]!) ?? -1], known)
  let tried = 0
  const takeAll = (found: readonly SearchedLine[]): void => {
    for (; tried < found.length; tried++) {
      const tied = playedAll(found[tried]!)
      const other = tried === 0 && !asked.surprise ? tiedToOneTime(asked, best, repeats, known) : undefined
      take(other && (!tied || other.cost < tied.cost) ? other : tied)
    }
  }
  for (let next = steps.next(); ; next = steps.next()) {
    if (!next.done) {
      takeAll(next.value)
      if (lines.length === variations) break
      yield [...lines]
      continue
    }
    if (next.value.ok) takeAll(next.value.lines)
    else if (!asked.surprise) take(tiedToOneTime(asked, best, repeats, known))
    break
  }
  // Where the best cannot stay the same, one next to them may.
  if (lines.length === 0) for (const line of yield* nearBest(written.request, known)) take(playedAll(line))
  if (lines.length === 0)
    for (const line of yield* nearBest(asked, known)) take(tiedToOneTime(asked, line, repeats, known))
  if (lines.length === 0) return yield* differing(asked, known)
  return { ok: true, lines, exhausted: lines.length < variations }
}

/** The best lines of a request, a few, whatever they differ in. */
function* nearBest(asked: WalkRequest, known: KnownWalks): Generator<readonly SearchedLine[], readonly SearchedLine[]> {
  const steps = writing({ ...asked, variations: SPARE, difference: 0, surprise: undefined }, known)
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done) return step.value.ok ? step.value.lines : []
    yield []
  }
}

/** Nothing was found that stays the same: the lines of the form written out. */
function* differing(asked: WalkRequest, known: KnownWalks): Generator<readonly SearchedLine[], WalkResult> {
  const result = yield* writing(asked, known)
  return result.ok ? { ...result, repeatsDiffer: true } : result
}

/** The best line with some of its notes given; `undefined` if a rule forbids them. */
function played(
  asked: WalkRequest,
  placeOf: (slot: number) => { readonly string: number; readonly fret: number } | undefined,
  known: KnownWalks,
): SearchedLine | undefined {
  const steps = writing({ ...asked, fixed: placeOf, variations: 1, surprise: undefined }, known)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value.ok ? step.value.lines[0] : undefined
  }
}

/** A line with the notes of one playing in all, the rest anew, by whichever time comes cheapest. */
function tiedToOneTime(
  asked: WalkRequest,
  line: SearchedLine,
  repeats: readonly number[],
  known: KnownWalks,
): SearchedLine | undefined {
  const times = slotsOfTimes(repeats)
  const most = Math.max(...[...times.values()].map((slots) => slots.length))
  let best: SearchedLine | undefined
  for (let time = 0; time < most; time++) {
    const again = (slot: number) => times.get(repeats[slot]!)!
    const tied = played(
      asked,
      (slot) => (again(slot).length > 1 ? line.notes[again(slot)[Math.min(time, again(slot).length - 1)]!] : undefined),
      known,
    )
    if (tied && (!best || tied.cost < best.cost)) best = tied
  }
  return best
}

/** Other notes of a slot that are worked out exactly, those that promise to be the cheapest. */
const MOST_ALTERNATIVES = 8

/** Points above the line within which they are looked for: with all others in their places there are few. */
const WITHIN = 100

/**
 * For each sounded slot of a line whose bars are the same each time, what else it could have: a note is changed in all its playings, and all
 * others stay in their places. Exactly what such lines cost, for the few cheapest, and for the note it has.
 *
 * @param repeats  for each sounded slot, the slot whose note it has
 */
export function repeatedAlternatives(
  asked: WalkRequest,
  line: SearchedLine,
  repeats: readonly number[],
  known: KnownWalks,
): readonly SlotAlternatives[] {
  const times = slotsOfTimes(repeats)
  const found = new Map<number, SlotAlternatives>()
  for (const [first, group] of times) {
    const free = new Set(group)
    const held = (slot: number) => (free.has(slot) ? undefined : line.notes[slot])
    const alone = walkAlternatives({ ...asked, fixed: held }, known, WITHIN)
    if (alone.length === 0) continue
    const least = Math.min(...alone[first]!.costs.values())
    const promised = [...alone[first]!.costs.keys()]
      .map((pitch) => ({
        pitch,
        loss: group.reduce((sum, slot) => sum + (alone[slot]!.costs.get(pitch) ?? alone[slot]!.beyond) - least, 0),
      }))
      .sort((a, b) => a.loss - b.loss)
    const costs = new Map([[line.notes[first]!.pitch, line.cost]])
    for (const { pitch } of promised) {
      if (costs.size > MOST_ALTERNATIVES) break
      if (costs.has(pitch)) continue
      let cost = IMPOSSIBLE
      for (const [string, open] of asked.instrument.open.entries()) {
        const place = { string, fret: pitch - open }
        if (place.fret < asked.frets.from || place.fret > asked.frets.to) continue
        const tied = played(asked, (slot) => held(slot) ?? place, known)
        if (tied && tied.cost < cost) cost = tied.cost
      }
      if (cost < IMPOSSIBLE) costs.set(pitch, cost)
    }
    found.set(first, { costs, beyond: line.cost })
  }
  return repeats.map((first) => found.get(first) ?? { costs: new Map(), beyond: line.cost })
}

/** By the slot whose note they have, the slots that have the same note. */
function slotsOfTimes(repeats: readonly number[]): ReadonlyMap<number, readonly number[]> {
  const times = new Map<number, number[]>()
  for (const [slot, first] of repeats.entries()) times.set(first, [...(times.get(first) ?? []), slot])
  return times
}

/** True if two lines over the same slots differ in at least a share of them, and in one at least. */
function differs(a: SearchedLine, b: SearchedLine, share: number): boolean {
  const count = a.notes.filter((note, i) => note.pitch !== b.notes[i]!.pitch).length
  return count >= Math.max(1, Math.ceil(share * a.notes.length - 1e-9))
}

/** A request over the bars that are the first of their kind, one after the other. */
function writtenBars(asked: WalkRequest): {
  readonly request: WalkRequest
  /** the number of a sounded slot among its own; `undefined` of one whose bar is played again */
  readonly slotOf: (slot: number) => number | undefined
} {
  const { form, slots, rules, repeatedBars = [] } = asked
  const firsts = form.bars.filter(({ index }) => (repeatedBars[index] ?? index) === index)
  const bars: FormBar[] = []
  const changeAt = new Map<Change, number>()
  const indexOf = new Map<number, number>()
  let startTick = 0
  let before: Change | undefined
  for (const bar of firsts) {
    const index = bars.length
    indexOf.set(bar.index, index)
    const shift = startTick - bar.startTick
    const changes = bar.changes.map((change): Change => {
      changeAt.set(change, changeAt.size)
      const held = before !== undefined && before.chord?.symbol.text === change.chord?.symbol.text
      before = change
      return { ...change, startTick: change.startTick + shift, barIndex: index, held }
    })
    bars.push({ ...bar, index, startTick, changes })
    startTick += bar.ticks
  }
  const folded: Form = { bars, changes: bars.flatMap(({ changes }) => changes), ticks: startTick }

  // A push belongs to the chord that it anticipates: in another place it may be another change of that chord.
  const changeOf = ({ changeIndex }: Slot, barIndex: number): number => {
    const own = changeAt.get(form.changes[changeIndex]!)
    if (own !== undefined) return own
    const { text } = form.changes[changeIndex]!.chord!.symbol
    const alike = folded.changes.findIndex((change) => change.chord?.symbol.text === text)
    return alike >= 0 ? alike : folded.changes.findIndex((change) => change.barIndex === barIndex)
  }
  const numbers = new Map<number, number>()
  const foldedSlots: Slot[] = []
  let sounded = -1
  let own = 0
  for (const slot of slots) {
    if (!slot.ghost) sounded++
    const barIndex = indexOf.get(slot.barIndex)
    if (barIndex === undefined) continue
    const shift = bars[barIndex]!.startTick - form.bars[slot.barIndex]!.startTick
    foldedSlots.push({ ...slot, startTick: slot.startTick + shift, barIndex, changeIndex: changeOf(slot, barIndex) })
    if (!slot.ghost) numbers.set(sounded, own++)
  }
  const request = { ...asked, form: folded, slots: foldedSlots, planTerms: [], rules: rules.map(foldedRule) }
  return { request, slotOf: (slot) => numbers.get(slot) }

  /** A rule binds a bar wherever it binds one of its playings. */
  function foldedRule(rule: RuleInForce): RuleInForce {
    if (!rule.bars) return rule
    const bound = new Set<number>()
    for (const { index } of form.bars) {
      const folds = indexOf.get(repeatedBars[index] ?? index)
      if (folds !== undefined && rule.bars.some(({ from, to }) => from <= index && index < to)) bound.add(folds)
    }
    const ranges = [...bound].sort((a, b) => a - b).map((index): BarRange => ({ from: index, to: index + 1 }))
    return { ...rule, bars: ranges }
  }
}
