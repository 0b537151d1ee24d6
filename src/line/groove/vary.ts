import type { Form } from '../../chart/form.ts'
import type { Pitch } from '../../music/pitch.ts'
import type { Tick } from '../../music/tick.ts'
import { Heap } from '../../search/heap.ts'
import { IMPOSSIBLE } from '../../search/trellis.ts'
import type { LaidBar } from './bar.ts'
import type { PricedStance } from './stance.ts'
import type { SweptNote } from './steps.ts'
import {
  type Alternatives,
  type Course,
  entryOf,
  type Head,
  type Seams,
  type Start,
  type Sweep,
  type Swept,
  slotOfHead,
} from './sweep.ts'
import { choiceAt, type VoicedBar } from './voiced.ts'

/** A line to differ from: its pitches by onset, and its onsets by bar. */
export interface Earlier {
  readonly pitches: ReadonlyMap<Tick, Pitch>
  readonly ticks: readonly (readonly Tick[])[]
}

/** A line as one to differ from. */
export function earlierOf(
  form: Form,
  notes: readonly { readonly slot: { readonly startTick: Tick; readonly barIndex: number }; readonly pitch: Pitch }[],
): Earlier {
  const ticks: Tick[][] = form.bars.map(() => [])
  for (const { slot } of notes) ticks[slot.barIndex]!.push(slot.startTick)
  return { pitches: new Map(notes.map(({ slot, pitch }) => [slot.startTick, pitch])), ticks }
}

/** The share of all onsets of two lines at which they differ, in onset or in pitch. */
export function differenceBetween(one: Earlier, other: Earlier): number {
  const union = new Set([...one.pitches.keys(), ...other.pitches.keys()]).size
  let same = 0
  for (const [tick, pitch] of one.pitches) if (other.pitches.get(tick) === pitch) same++
  return union === 0 ? 0 : (union - same) / union
}

/** Another line of a plan, and how many notes were looked at for it. */
export type Varied = { readonly looked: number } & (
  | { readonly kind: 'line'; readonly swept: Swept }
  /** there is none */
  | { readonly kind: 'none' }
  /** there is none that costs less than `bound`; whether there is one at all was not found out */
  | { readonly kind: 'given-up'; readonly bound: number }
)

/** Of a thousand; shares are counted in whole numbers. */
const WHOLE = 1000

/** A line up to one of its notes. */
interface Label {
  readonly head: Head
  readonly slot: number
  readonly candidate: number
  readonly state: number
  /** what it has cost, and costs at least to the end */
  readonly spent: number
  readonly least: number
  /** for each earlier line, how far ahead of the difference asked for it is */
  readonly ahead: readonly number[]
  readonly before: Label | undefined
  readonly order: number
}

/** The end of a line. */
interface Ending {
  readonly last: Label
  readonly silent: readonly { readonly barIndex: number; readonly bar: VoicedBar }[]
}

/**
 * The cheapest line of a plan in a stance that differs from each earlier line in at least a share of the onsets of both.
 *
 * Best-first over lines note by note, with the swept costs to the end as the exact rest; how far a line is ahead of each difference is a
 * resource, and a line that is ahead in none of them and no cheaper is dropped (resource-constrained shortest paths, Irnich & Desaulniers
 * 2005).
 *
 * @param most  notes looked at before it is given up
 */
export function vary(
  sweep: Sweep,
  form: Form,
  plan: Alternatives,
  priced: PricedStance,
  earlier: readonly Earlier[],
  share: number,
  most: number,
): Varied {
  const { points, stance } = priced
  const nothing = [...plan, []].map(() => points)
  const open: Course = { plan, stance, closing: undefined, extra: {} }
  const seams = sweep.sweep(open, nothing, IMPOSSIBLE - 1)
  if (!seams) return { kind: 'none', looked: 0 }
  const starts = sweep.starts(seams[0]![0], points)
  let best: { readonly cost: number; readonly swept: Swept } | undefined
  let bound = IMPOSSIBLE
  let left = most
  for (const start of starts) {
    if (start.cost >= Math.min(best?.cost ?? IMPOSSIBLE, bound)) break
    const course: Course = sweep.steps.turns ? { plan, stance, closing: start, extra: {} } : open
    const closed = sweep.steps.turns ? sweep.sweep(course, nothing, (best?.cost ?? IMPOSSIBLE) - 1) : seams
    if (!closed) continue
    const search = new Search(sweep, form, course, closed, earlier, share, points)
    const found = search.from(start, best?.cost ?? IMPOSSIBLE, left)
    left -= found.looked
    if (found.swept) best = { cost: found.swept.cost, swept: found.swept }
    else if (found.bound < IMPOSSIBLE) bound = Math.min(bound, found.bound)
    if (left <= 0) {
      const next = starts[starts.indexOf(start) + 1]
      if (next) bound = Math.min(bound, Math.max(next.cost, start.cost))
      break
    }
  }
  const looked = most - left
  if (best && best.cost <= bound) return { kind: 'line', swept: best.swept, looked }
  return bound < IMPOSSIBLE ? { kind: 'given-up', bound, looked } : { kind: 'none', looked }
}

/** The search from the first notes of one sweep. */
class Search {
  readonly #sweep: Sweep
  readonly #form: Form
  readonly #course: Course
  readonly #seams: readonly Seams[]
  readonly #earlier: readonly Earlier[]
  readonly #gain: number
  readonly #points: number
  readonly #rests = new Map<Head, readonly Int32Array[]>()
  /** from each bar to the end, for each earlier line: the most and the least that it may still get ahead */
  readonly #most: readonly (readonly number[])[]
  readonly #least: readonly (readonly number[])[]
  readonly #known = new Map<Head, Map<number, (readonly number[])[]>>()
  #order = 0

  constructor(
    sweep: Sweep,
    form: Form,
    course: Course,
    seams: readonly Seams[],
    earlier: readonly Earlier[],
    share: number,
    points: number,
  ) {
    this.#sweep = sweep
    this.#form = form
    this.#course = course
    this.#seams = seams
    this.#earlier = earlier
    // Each onset of either line is ahead by so much where the two differ, and behind by the rest of the whole where they do not.
    this.#gain = WHOLE - Math.ceil(share * WHOLE - 1e-6)
    this.#points = points
    const most: number[][] = [earlier.map(() => 0)]
    const least: number[][] = [earlier.map(() => 0)]
    for (let index = course.plan.length - 1; index >= 0; index--) {
      const ways = course.plan[index]!.map((laid) => this.#range(index, laid))
      most.unshift(earlier.map((_, j) => most[0]![j]! + Math.max(...ways.map((way) => way[j]!.most))))
      least.unshift(earlier.map((_, j) => least[0]![j]! + Math.min(...ways.map((way) => way[j]!.least))))
    }
    this.#most = most
    this.#least = least
  }

  /** How far a bar may get ahead of each difference, at most and at least. */
  #range(index: number, laid: LaidBar): readonly { readonly most: number; readonly least: number }[] {
    const bar = this.#sweep.steps.voicer.voice(laid, this.#course.stance)
    const start = this.#form.bars[index]!.startTick
    return this.#earlier.map(({ pitches, ticks }) => {
      const own = new Set(bar.slots.map((slot) => start + slot.laid.onset.tick))
      const alone = ticks[index]!.filter((tick) => !own.has(tick)).length * this.#gain
      let most = alone
      let least = alone
      for (const slot of bar.slots) {
        const pitch = pitches.get(start + slot.laid.onset.tick)
        const isSame = pitch !== undefined && slot.choices.every((choice) => choice.pitch === pitch)
        // A push before the bar may take its downbeat away.
        const mayGo = slot.laid.onset.tick === 0
        most += isSame && !mayGo ? this.#gain - WHOLE : this.#gain
        least += pitch === undefined ? (mayGo ? 0 : this.#gain) : this.#gain - WHOLE
      }
      return { most, least }
    })
  }

  from(
    start: Start,
    below: number,
    most: number,
  ): { readonly swept?: Swept; readonly bound: number; readonly looked: number } {
    const heap = new Heap<Label>(
      (a, b) =>
        a.least < b.least ||
        (a.least === b.least &&
          (a.head.barIndex > b.head.barIndex ||
            (a.head.barIndex === b.head.barIndex && (a.slot > b.slot || (a.slot === b.slot && a.order < b.order))))),
    )
    const { head } = start
    if (!head) return { bound: IMPOSSIBLE, looked: 0 }
    const tally = this.#sweep.steps.rules.tallyPoints(start.tally)
    const first = this.#seams[0]![0].heads[start.order]!
    this.#push(heap, first, first.first, start.candidate, start.state, this.#points + tally, undefined, below)
    let looked = 0
    for (;;) {
      const label = heap.pop()
      if (!label || label.least >= below) return { bound: IMPOSSIBLE, looked }
      if (looked++ > most) return { bound: label.least, looked }
      if (this.#isKnown(label)) continue
      const ending = this.#go(heap, label, below)
      if (ending) return { swept: this.#sweptOf(ending, label.least, start), bound: IMPOSSIBLE, looked }
    }
  }

  /** Goes on to the notes after a label; where it is the last, and ahead of all differences, the line is found. */
  #go(heap: Heap<Label>, label: Label, below: number): Ending | undefined {
    const { head, slot, candidate, state, spent } = label
    const { steps } = this.#sweep
    const { bar } = head
    const from = bar.slots[slot]!
    const cost = spent + from.costs[candidate]!
    if (slot + 1 < bar.slots.length) {
      steps.successors(from, bar.slots[slot + 1]!, steps.inBar(bar, slot), candidate, state, (next, into, step) =>
        this.#push(heap, head, slot + 1, next, into, cost + step, label, below),
      )
      return undefined
    }
    const seam = this.#seams[head.barIndex + 1]![head.out]
    const afresh = bar.laid.context.silenceAfter && !steps.rules.judgeSteps
    for (const after of seam.heads) {
      if (after.tally !== head.onward) continue
      const to = slotOfHead(after)
      if (afresh)
        for (let next = 0; next < to.grips.length; next++)
          this.#push(heap, after, after.first, next, 0, cost, label, below)
      else
        steps.successors(from, to, steps.over(bar, entryOf(after)), candidate, state, (next, into, step) =>
          this.#push(heap, after, after.first, next, into, cost + step, label, below),
        )
    }
    const rest = seam.rests.find((one) => one.tally === head.onward)
    if (!rest) return undefined
    const ahead = this.#earlier.map(
      ({ ticks }, j) =>
        label.ahead[j]! + rest.silent.reduce((sum, { barIndex }) => sum + ticks[barIndex]!.length * this.#gain, 0),
    )
    const end = this.#restOf(head).at(-1)![candidate * steps.states + state]!
    const isLast = seam.heads.length === 0 && end + spent === label.least
    return isLast && ahead.every((one) => one >= 0) ? { last: label, silent: rest.silent } : undefined
  }

  /** For each slot of a head's bar, what each candidate costs to the end. */
  #restOf(head: Head): readonly Int32Array[] {
    const known = this.#rests.get(head)
    if (known) return known
    const seam = this.#seams[head.barIndex + 1]![head.out]
    const exit = this.#sweep.exitCosts(this.#course, head.barIndex, head.bar, seam, head.onward)
    const rests = this.#sweep.layers(this.#course, head.barIndex, head.bar, head.first, exit)
    this.#rests.set(head, rests)
    return rests
  }

  #push(
    heap: Heap<Label>,
    head: Head,
    slot: number,
    candidate: number,
    state: number,
    cost: number,
    before: Label | undefined,
    below: number,
  ): void {
    const enters = before?.head !== head
    const points = enters ? head.passed.reduce((sum, { bar }) => sum + bar.laid.points, head.bar.laid.points) : 0
    const spent = cost + points
    const toGo = this.#restOf(head)[slot]![candidate * this.#sweep.steps.states + state]!
    const least = spent + toGo
    if (toGo >= IMPOSSIBLE || least >= below) return
    const { barIndex, bar, first, passed } = head
    const start = this.#form.bars[barIndex]!.startTick
    const tick = start + bar.slots[slot]!.laid.onset.tick
    const { pitch } = choiceAt(bar.slots[slot]!, candidate)
    const ahead: number[] = []
    for (const [j, { pitches, ticks }] of this.#earlier.entries()) {
      let sum = before?.ahead[j] ?? 0
      if (enters) {
        for (const one of passed) sum += ticks[one.barIndex]!.length * this.#gain
        const own = bar.slots.slice(first).map((one) => start + one.laid.onset.tick)
        sum += ticks[barIndex]!.filter((one) => !own.includes(one)).length * this.#gain
      }
      sum += pitches.get(tick) === pitch ? this.#gain - WHOLE : this.#gain
      const left = bar.slots.length - slot - 1
      if (sum + left * this.#gain + this.#most[barIndex + 1]![j]! < 0) return
      // Far enough ahead is far enough.
      const worst = left * (this.#gain - WHOLE) + Math.min(0, this.#least[barIndex + 1]![j]!)
      ahead.push(Math.min(sum, Math.max(0, -worst)))
    }
    heap.push({ head, slot, candidate, state, spent, least, ahead, before, order: this.#order++ })
  }

  /** Whether a line to the same note, no dearer and ahead no less, was looked at before. */
  #isKnown({ head, slot, candidate, state, ahead }: Label): boolean {
    let slots = this.#known.get(head)
    if (!slots) {
      slots = new Map()
      this.#known.set(head, slots)
    }
    const key = (slot * 4096 + candidate) * this.#sweep.steps.states + state
    const rows = slots.get(key) ?? []
    slots.set(key, rows)
    if (rows.some((row) => row.every((one, j) => one >= ahead[j]!))) return true
    rows.push(ahead)
    return false
  }

  #sweptOf({ last, silent }: Ending, cost: number, start: Start): Swept {
    const notes: SweptNote[] = []
    const bars: LaidBar[] = new Array(this.#course.plan.length)
    for (const { barIndex, bar } of silent) bars[barIndex] = bar.laid
    for (let label: Label | undefined = last; label; label = label.before) {
      const { head, slot, candidate, state } = label
      notes.unshift({ barIndex: head.barIndex, bar: head.bar, slot, candidate, state })
      bars[head.barIndex] = head.bar.laid
      for (const { barIndex, bar } of head.passed) bars[barIndex] = bar.laid
    }
    return { cost, stance: this.#course.stance, bars, notes, tally: start.tally }
  }
}
