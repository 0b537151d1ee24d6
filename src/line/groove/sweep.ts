import type { Pitch } from '../../music/pitch.ts'
import type { Tick } from '../../music/tick.ts'
import { IMPOSSIBLE } from '../../search/trellis.ts'
import type { LaidBar } from './bar.ts'
import { type Bounds, firstSlot, leastOf } from './bound.ts'
import type { Tally } from './rules.ts'
import { type PricedStance, stanceTerms } from './stance.ts'
import { HANDS_ON, type HandsOn, handedOn, takesPush } from './standing.ts'
import type { Steps, SweptNote } from './steps.ts'
import type { GrooveTable } from './table.ts'
import type { Stance, VoicedBar, VoicedSlot } from './voiced.ts'

/** What each bar of a form may be: one laid bar, or several where fills or walks are to be chosen. */
export type Alternatives = readonly (readonly LaidBar[])[]

/** The best line of a plan in one stance. */
export interface Swept {
  readonly cost: number
  readonly stance: Stance
  /** the laid bar chosen for each bar */
  readonly bars: readonly LaidBar[]
  readonly notes: readonly SweptNote[]
  /** bars that count for the rules that count */
  readonly tally: Tally
}

/** A bar in its place. */
interface PlacedBar {
  readonly barIndex: number
  readonly bar: VoicedBar
}

/** The first note of a bar onwards: what it costs to the end from each candidate in each state of the memories. */
export interface Head extends PlacedBar {
  readonly first: number
  /** bars without a note before it, chosen on the way */
  readonly passed: readonly PlacedBar[]
  readonly toGo: Int32Array
  /** the seam after its bar */
  readonly out: HandsOn
  /** what counts from here to the end, and after this bar */
  readonly tally: Tally
  readonly onward: Tally
}

/** The way to the end without a note, and what the silent bars cost. */
interface Rest {
  readonly tally: Tally
  readonly cost: number
  readonly silent: readonly PlacedBar[]
}

/** The ways to go on from a bar line. */
export interface Seam {
  readonly heads: readonly Head[]
  readonly rests: readonly Rest[]
}

/** The seams of a bar line, by what is handed over it. */
export type Seams = Readonly<Record<HandsOn, Seam>>

const DEAD: Seam = { heads: [], rests: [] }

/** A plan in a stance, closed to a first note where it loops. */
export interface Course {
  readonly plan: Alternatives
  readonly stance: Stance
  /** `undefined`: open, or closed to whichever first note is nearest */
  readonly closing: Start | undefined
  readonly extra: Extra
}

/** What is charged beside the plan's own costs. */
export interface Extra {
  /** points on top for a grip at a tick of a bar; IMPOSSIBLE: it may not be */
  readonly dearer?: Dearer
  /** points for a bar of another pairing than the one before; absent: pairings are the plan's */
  readonly change?: number | undefined
}

/** Points on top for a grip, which sounds a pitch, at a tick of a bar. */
type Dearer = (barIndex: number, tick: Tick, pitch: Pitch, grip: number) => number

/** A first note of a swept form. */
export interface Start {
  /** its head's place in the seam */
  readonly order: number
  /** `undefined` where nothing sounds */
  readonly head: Head | undefined
  readonly candidate: number
  readonly state: number
  readonly tally: Tally
  /** to the end of the form, all counted in */
  readonly cost: number
  readonly silent: readonly PlacedBar[]
}

/**
 * Sweeps plans over the neck, from the last note to the first.
 *
 * A state is a grip of one of the pitches a slot may take, with the joint state of the rules that have a memory; rules that count bars
 * keep the ways through a bar apart by what they have counted. The zone of the roots and the home of the hand are fixed for a whole
 * line, so each pair of them, a *stance*, is a sweep of its own; the least over all is the exact optimum.
 */
export class Sweep {
  readonly steps: Steps
  readonly bounds: Bounds
  /** all there are, the cheapest first */
  readonly stances: readonly PricedStance[]

  /** by seam, its heads by how they are reached */
  readonly #kinds = new WeakMap<Seam, Map<string, HeadKind>>()

  /** the bar at which the sweep that came furthest died; `undefined` while none did */
  deadBar: number | undefined

  constructor(steps: Steps, bounds: Bounds, table: GrooveTable, lowest: Pitch) {
    this.steps = steps
    this.bounds = bounds
    const wanted = lowest + table.zone
    const stances: PricedStance[] = []
    for (let zone = Math.max(lowest, wanted - 6); zone <= wanted + 6; zone++) {
      for (const home of steps.voicer.neck.homes()) {
        const terms = stanceTerms(table, lowest, { zone, home })
        stances.push({ stance: { zone, home }, points: terms.reduce((sum, term) => sum + term.points, 0) })
      }
    }
    this.stances = stances.sort((a, b) => a.points - b.points)
  }

  /**
   * What a plan costs at least in a stance up to each bar and, last, on the whole: every bar free to begin anywhere, with the step into
   * the bar after.
   */
  atLeast(plan: Alternatives, { stance, points }: PricedStance): readonly number[] {
    const before = [points]
    for (const [index, bars] of plan.entries()) {
      const mayPush = plan[index - 1]?.some((laid) => laid.tiedOver) === true
      const next = plan[index + 1] && { bars: plan[index + 1]! }
      before.push(Math.min(before[index]! + this.bounds.seam({ bars }, next, stance, mayPush), IMPOSSIBLE))
    }
    return before
  }

  /**
   * The best line of a plan in a stance, or `undefined` if there is none that costs at most `limit` (if there is one). Ties are told apart by pitch,
   * string, fret and hand, earlier notes first.
   */
  solve(plan: Alternatives, priced: PricedStance, limit: number | undefined, extra: Extra = {}): Swept | undefined {
    if (limit !== undefined) return this.#solve(plan, priced, this.atLeast(plan, priced), limit, extra)
    const nothing = [...plan, []].map(() => priced.points)
    return this.#solve(plan, priced, nothing, IMPOSSIBLE - 1, extra)
  }

  #solve(
    plan: Alternatives,
    { stance, points }: PricedStance,
    before: readonly number[],
    limit: number,
    extra: Extra,
  ): Swept | undefined {
    if (before.at(-1)! > limit) return undefined
    // Without a loop one sweep is enough. With one, a sweep closed to whichever first note is nearest is a bound, and the sweeps
    // closed to each first note are exact.
    const open: Course = { plan, stance, closing: undefined, extra }
    const seams = this.sweep(open, before, limit)
    if (!seams) return undefined
    const starts = this.starts(seams[0]![HANDS_ON.nothing], points).filter((start) => start.cost <= limit)
    if (!this.steps.turns) return starts[0] && this.#trace(open, seams, starts[0])
    let best: Swept | undefined
    for (const start of starts) {
      const most = best ? best.cost - 1 : limit
      if (start.cost > most) break
      const closed: Course = { plan, stance, closing: start, extra }
      const exact = this.sweep(closed, before, most)
      const found = exact && this.starts(exact[0]![HANDS_ON.nothing], points).find((one) => isSameStart(one, start))
      if (exact && found && found.cost <= most) best = this.#trace(closed, exact, found)
    }
    return best
  }

  /** First notes of a swept form, the cheapest first. Where nothing sounds there is one start, with no head. */
  starts(seam: Seam, points: number): readonly Start[] {
    const { rules, states } = this.steps
    const starts: Start[] = []
    const begin = this.steps.turns ? states : 1
    for (const [order, head] of seam.heads.entries()) {
      const { tally } = head
      const counted = points + rules.tallyPoints(tally)
      for (let candidate = 0; candidate < slotOfHead(head).grips.length; candidate++) {
        for (let state = 0; state < begin; state++) {
          const cost = head.toGo[candidate * states + state]! + counted
          if (cost < IMPOSSIBLE) starts.push({ order, head, candidate, state, tally, cost, silent: [] })
        }
      }
    }
    for (const [at, { tally, cost, silent }] of seam.rests.entries()) {
      const sum = cost + points + rules.tallyPoints(tally)
      const order = seam.heads.length + at
      if (sum < IMPOSSIBLE) starts.push({ order, head: undefined, candidate: 0, state: 0, tally, cost: sum, silent })
    }
    const grip = ({ head, candidate }: Start): number => (head ? slotOfHead(head).grips[candidate]! : 0)
    return starts.sort((a, b) => a.cost - b.cost || grip(a) - grip(b) || a.order - b.order || a.candidate - b.candidate)
  }

  /** All seams of a form; `undefined` where none is left within the limit. */
  sweep(course: Course, before: readonly number[], limit: number): readonly Seams[] | undefined {
    const { plan, stance } = course
    const seams: Seams[] = new Array(plan.length + 1)
    const end: Seam = { heads: [], rests: [{ tally: 0, cost: 0, silent: [] }] }
    seams[plan.length] = { 0: end, 1: end, 2: end }
    const handed = this.#handed(plan)
    for (let index = plan.length - 1; index >= 0; index--) {
      const after = seams[index + 1]!
      const seamAt = (from: HandsOn): Seam => {
        if (!handed[index]!.has(from)) return DEAD
        const laid = from === HANDS_ON.due ? plan[index]!.map((bar) => this.steps.dueOf(bar)) : plan[index]!
        const bars = laid.map((bar) => this.steps.voicer.voice(bar, stance))
        return this.#seam(course, index, bars, from, after)
      }
      seams[index] = { 0: seamAt(0), 1: seamAt(1), 2: seamAt(2) }
      const least = Math.min(...Object.values(seams[index]!).map(leastOfSeam))
      if (least >= IMPOSSIBLE) {
        this.deadBar = Math.min(this.deadBar ?? index, index)
        return undefined
      }
      if (least + before[index]! > limit) return undefined
    }
    return seams
  }

  /** What may be handed over each bar line. Whether a chord has been struck matters to rules alone. */
  #handed(plan: Alternatives): readonly ReadonlySet<HandsOn>[] {
    const handed: Set<HandsOn>[] = [new Set([HANDS_ON.nothing])]
    for (const bars of plan) {
      const on = new Set<HandsOn>()
      for (const laid of bars) {
        for (const from of handed.at(-1)!) {
          const out = handedOn(laid, from)
          on.add(out === HANDS_ON.due && this.steps.rules.isEmpty ? HANDS_ON.nothing : out)
        }
      }
      handed.push(on)
    }
    return handed
  }

  #seam(course: Course, index: number, bars: readonly VoicedBar[], from: HandsOn, after: Seams): Seam {
    const heads: Head[] = []
    const rests: Rest[] = []
    for (const bar of bars) {
      const { points } = bar.laid
      const handed = handedOn(bar.laid, from)
      const out = handed === HANDS_ON.due && this.steps.rules.isEmpty ? HANDS_ON.nothing : handed
      const seam = after[out]
      const first = firstSlot(bar, from === HANDS_ON.push ? 1 : 0)
      if (from === HANDS_ON.push && !takesPush(bar.laid)) continue
      for (const onward of talliesOf(seam)) {
        const tally = this.steps.rules.tallied(onward, bar.laid, index)
        if (first < bar.slots.length) {
          const exit = this.exitCosts(course, index, bar, seam, onward)
          const toGo = this.layers(course, index, bar, first, exit)[first]!
          addToAll(toGo, points)
          heads.push({ barIndex: index, bar, first, passed: [], toGo, out, tally, onward })
          continue
        }
        // A bar without a note passes on what follows it.
        const here = { barIndex: index, bar }
        for (const head of seam.heads) {
          if (head.tally !== onward) continue
          const toGo = head.toGo.slice()
          addToAll(toGo, points + changePoints(course, bar, entered(head)))
          heads.push({ ...head, passed: [here, ...head.passed], toGo, tally })
        }
        const rest = seam.rests.find((one) => one.tally === onward)
        if (!rest) continue
        const same = rests.findIndex((one) => one.tally === tally)
        const cost = rest.cost + points
        if (same >= 0 && rests[same]!.cost <= cost) continue
        rests.splice(same < 0 ? rests.length : same, same < 0 ? 0 : 1, { tally, cost, silent: [here, ...rest.silent] })
      }
    }
    return { heads, rests }
  }

  /** What each candidate of each slot of a bar costs to the end of the form, its own cost included; before `first` nothing. */
  layers(course: Course, index: number, bar: VoicedBar, first: number, exit: Int32Array): readonly Int32Array[] {
    const { steps } = this
    const layers: Int32Array[] = new Array(bar.slots.length)
    let toGo = exit.slice()
    for (let slot = bar.slots.length - 1; slot >= first; slot--) {
      const here = bar.slots[slot]!
      if (slot + 1 < bar.slots.length) {
        const costs = new Int32Array(here.grips.length * steps.states).fill(IMPOSSIBLE)
        steps.back(here, bar.slots[slot + 1]!, steps.inBar(bar, slot), toGo, costs)
        toGo = costs
      }
      addCosts(toGo, costsOf(course, index, here), steps.states)
      layers[slot] = toGo
    }
    return layers
  }

  /** From the last note of a bar to the end, with so much counted on the way. */
  exitCosts(course: Course, index: number, bar: VoicedBar, seam: Seam, onward: Tally): Int32Array {
    const { steps } = this
    const { states } = steps
    const last = bar.slots.at(-1)!
    const costs = new Int32Array(last.grips.length * states).fill(IMPOSSIBLE)
    const heads = seam.heads.filter((head) => head.tally === onward)
    const rest = seam.rests.find((one) => one.tally === onward)?.cost ?? IMPOSSIBLE
    if (bar.laid.context.silenceAfter && !steps.rules.judgeSteps)
      // After silence the line begins afresh.
      costs.fill(Math.min(...heads.map((head) => leastOf(head.toGo)), IMPOSSIBLE))
    else if (course.extra.change === undefined)
      for (const head of heads) steps.back(last, slotOfHead(head), steps.over(bar, entryOf(head)), head.toGo, costs)
    else
      for (const { head, toGo } of this.#changing(course, bar, seam, onward))
        steps.back(last, slotOfHead(head), steps.over(bar, entryOf(head)), toGo, costs)
    if (rest < IMPOSSIBLE) {
      const end = this.#endCosts(course, index, bar, last)
      for (let i = 0; i < costs.length; i++) costs[i] = Math.min(costs[i]!, rest + end[i]!)
    }
    return costs
  }

  /** Heads that are reached alike taken together: the least of what follows them, with what it costs to change the pairing. */
  #changing(
    course: Course,
    bar: VoicedBar,
    seam: Seam,
    onward: Tally,
  ): readonly { readonly head: Head; readonly toGo: Int32Array }[] {
    let kinds = this.#kinds.get(seam)
    if (!kinds) {
      kinds = new Map()
      this.#kinds.set(seam, kinds)
      for (const head of seam.heads) {
        const key = `${head.tally} ${head.barIndex} ${head.passed.length} ${kindOf(slotOfHead(head))}`
        const kind = kinds.get(key) ?? { head, tally: head.tally, least: new Map() }
        kinds.set(key, kind)
        const row = entered(head).laid.pairing?.row
        const least = kind.least.get(row)
        if (least) for (const [i, cost] of head.toGo.entries()) least[i] = Math.min(least[i]!, cost)
        else kind.least.set(row, head.toGo.slice())
      }
      for (const kind of kinds.values()) {
        const all = new Int32Array(kind.head.toGo.length).fill(IMPOSSIBLE)
        for (const costs of kind.least.values())
          for (let i = 0; i < all.length; i++) all[i] = Math.min(all[i]!, costs[i]!)
        kind.all = all
      }
    }
    const own = bar.laid.pairing?.row
    return [...kinds.values()].flatMap(({ head, tally, least, all }) => {
      if (tally !== onward || !all) return []
      const toGo = all.slice()
      if (own === undefined) return [{ head, toGo }]
      addToAll(toGo, course.extra.change!)
      for (const row of [own, undefined]) {
        const same = least.get(row)
        if (same) for (let i = 0; i < toGo.length; i++) toGo[i] = Math.min(toGo[i]!, same[i]!)
      }
      return [{ head, toGo }]
    })
  }

  /** From the last note of the form: nothing, or the step that closes the loop. */
  #endCosts(course: Course, index: number, bar: VoicedBar, last: VoicedSlot): Int32Array {
    const { steps } = this
    const { states } = steps
    const costs = new Int32Array(last.grips.length * states)
    // A push over the end is the downbeat of the next time round: there is no step.
    if (!steps.turns || (!steps.rules.judgeSteps && bar.laid.tiedOver)) return costs
    const { closing } = course
    if (closing) {
      if (!closing.head) return costs
      const into = slotOfHead(closing.head)
      const toGo = new Int32Array(into.grips.length * states).fill(IMPOSSIBLE)
      toGo[closing.candidate * states + closing.state] = 0
      this.#close(bar, last, index, closing.head, toGo, costs.fill(IMPOSSIBLE))
      return costs
    }
    costs.fill(IMPOSSIBLE)
    for (const laid of course.plan[0]!) {
      const first = steps.voicer.voice(laid, course.stance)
      const into = first.slots[0]
      if (!into) return costs.fill(0)
      const toGo = new Int32Array(into.grips.length * states)
      this.#close(bar, last, index, { bar: first, barIndex: 0, first: 0 }, toGo, costs)
    }
    return costs
  }

  #close(
    bar: VoicedBar,
    last: VoicedSlot,
    index: number,
    into: PlacedBar & { readonly first: number },
    toGo: Int32Array,
    costs: Int32Array,
  ): void {
    const passed = this.steps.between(index, into.barIndex, true)
    const way = this.steps.over(bar, { bar: into.bar, first: into.first, passed }, true)
    this.steps.back(last, into.bar.slots[into.first]!, way, toGo, costs)
  }

  /** Goes forward through swept seams, always to the least grip among equals. */
  #trace(course: Course, seams: readonly Seams[], start: Start): Swept {
    const bars: LaidBar[] = new Array(course.plan.length)
    const notes: SweptNote[] = []
    const { states } = this.steps
    const take = (passed: readonly PlacedBar[]): void => {
      for (const { barIndex, bar } of passed) bars[barIndex] = bar.laid
    }
    if (!start.head) take(start.silent)
    let at: { head: Head; candidate: number; state: number } | undefined = start.head && { ...start, head: start.head }
    while (at) {
      const { barIndex, bar, first, passed, onward, out } = at.head
      take(passed)
      bars[barIndex] = bar.laid
      const seam = seams[barIndex + 1]![out]
      const exit = this.exitCosts(course, barIndex, bar, seam, onward)
      const layers = this.layers(course, barIndex, bar, first, exit)
      let { candidate, state } = at
      notes.push({ barIndex, bar, slot: first, candidate, state })
      for (let slot = first; slot + 1 < bar.slots.length; slot++) {
        const own = costsOf(course, barIndex, bar.slots[slot]!)[candidate]!
        const wanted = layers[slot]![candidate * states + state]! - own
        const found = this.#follow(bar, slot, layers[slot + 1]!, candidate, state, wanted)
        if (!found) throw new RangeError(`the sweep of bar ${barIndex} does not agree with its reverse`)
        candidate = found.candidate
        state = found.state
        notes.push({ barIndex, bar, slot: slot + 1, candidate, state })
      }
      at = this.#followOver(course, bar, seam, onward, candidate, state, exit[candidate * states + state]!)
      if (!at) take(seam.rests.find((rest) => rest.tally === onward)?.silent ?? [])
    }
    return { cost: start.cost, stance: course.stance, bars, notes, tally: start.tally }
  }

  /** The candidate of the next slot with the least grip that costs what is wanted. */
  #follow(
    bar: VoicedBar,
    slot: number,
    toGo: Int32Array,
    candidate: number,
    state: number,
    wanted: number,
  ): { readonly candidate: number; readonly state: number } | undefined {
    const { steps } = this
    const to = bar.slots[slot + 1]!
    let best: { candidate: number; state: number } | undefined
    steps.successors(bar.slots[slot]!, to, steps.inBar(bar, slot), candidate, state, (next, into, cost) => {
      if (cost + toGo[next * steps.states + into]! !== wanted) return
      if (!best || to.grips[next]! < to.grips[best.candidate]!) best = { candidate: next, state: into }
    })
    return best
  }

  /** The same over the bar line; `undefined` where nothing more sounds. */
  #followOver(
    course: Course,
    bar: VoicedBar,
    seam: Seam,
    onward: Tally,
    candidate: number,
    state: number,
    wanted: number,
  ): { readonly head: Head; readonly candidate: number; readonly state: number } | undefined {
    const { steps } = this
    let best: { head: Head; candidate: number; state: number } | undefined
    let least = Number.POSITIVE_INFINITY
    const offer = (head: Head, next: number, into: number, cost: number): void => {
      const grip = slotOfHead(head).grips[next]!
      const sum = cost + head.toGo[next * steps.states + into]! + changePoints(course, bar, entered(head))
      if (sum !== wanted || grip >= least) return
      best = { head, candidate: next, state: into }
      least = grip
    }
    for (const head of seam.heads) {
      if (head.tally !== onward) continue
      const to = slotOfHead(head)
      if (bar.laid.context.silenceAfter && !steps.rules.judgeSteps)
        for (let next = 0; next < to.grips.length; next++) offer(head, next, 0, 0)
      else
        steps.successors(bar.slots.at(-1)!, to, steps.over(bar, entryOf(head)), candidate, state, (next, into, cost) =>
          offer(head, next, into, cost),
        )
    }
    return best
  }
}

/** Of two lines the cheaper; among equals the one with the smaller grip at the first note where they differ. */
export function comesBefore(one: Swept, other: Swept): boolean {
  if (one.cost !== other.cost) return one.cost < other.cost
  for (const [index, note] of one.notes.entries()) {
    const against = other.notes[index]
    if (!against) return false
    const difference = gripOf(note) - gripOf(against)
    if (difference !== 0) return difference < 0
  }
  return false
}

/** A head as what is entered from before. */
export function entryOf({ bar, first, passed }: Head): { bar: VoicedBar; first: number; passed: number } {
  return { bar, first, passed: passed.reduce((sum, one) => sum + one.bar.laid.context.ticks, 0) }
}

/** Heads that are reached alike. */
interface HeadKind {
  readonly head: Head
  readonly tally: Tally
  /** by pairing, the least of what follows */
  readonly least: Map<number | undefined, Int32Array>
  all?: Int32Array
}

/** All of a slot that the way to it depends on. */
function kindOf({ choices, laid }: VoicedSlot): string {
  const rows = choices.map(({ pitch, kind, reference, sounding, octave, folded, lead, target }) =>
    [pitch, kind, reference, sounding, octave, folded, lead, target].join(),
  )
  return `${laid.onset.tick} ${laid.freshInFill} ${rows.join(' ')}`
}

/** The first bar of a head, one without a note perhaps. */
function entered({ bar, passed }: Head): VoicedBar {
  return passed[0]?.bar ?? bar
}

/** What it costs to go on with a bar of another pairing. */
function changePoints({ extra: { change } }: Course, bar: VoicedBar, next: VoicedBar): number {
  return change !== undefined && changesPairing(bar.laid, next.laid) ? change : 0
}

/** True if two bars are made of different pairings. */
export function changesPairing({ pairing: one }: LaidBar, { pairing: other }: LaidBar): boolean {
  return one !== undefined && other !== undefined && one.row !== other.row
}

/** The slot that a head begins with. */
export function slotOfHead(head: Head): VoicedSlot {
  return head.bar.slots[head.first]!
}

function gripOf({ bar, slot, candidate }: SweptNote): number {
  return bar.slots[slot]!.grips[candidate]!
}

function isSameStart(one: Start, other: Start): boolean {
  return (
    one.order === other.order &&
    one.candidate === other.candidate &&
    one.state === other.state &&
    one.tally === other.tally
  )
}

/** Whatever may have been counted from a seam to the end. */
function talliesOf({ heads, rests }: Seam): readonly Tally[] {
  const tallies = [...heads, ...rests].map((one) => one.tally)
  return tallies.filter((tally, index) => tallies.indexOf(tally) === index)
}

function leastOfSeam(seam: Seam): number {
  return Math.min(IMPOSSIBLE, ...seam.rests.map((rest) => rest.cost), ...seam.heads.map((head) => leastOf(head.toGo)))
}

/** What each candidate of a slot pays by itself. */
function costsOf(
  { extra: { dearer } }: Course,
  barIndex: number,
  { laid, choices, from, grips, costs }: VoicedSlot,
): Int32Array {
  if (!dearer) return costs
  const sums = costs.slice()
  for (const [index, { pitch }] of choices.entries()) {
    for (let i = from[index]!; i < from[index + 1]!; i++)
      sums[i] = Math.min(sums[i]! + dearer(barIndex, laid.onset.tick, pitch, grips[i]!), IMPOSSIBLE)
  }
  return sums
}

/** Adds what each candidate pays by itself. */
function addCosts(toGo: Int32Array, costs: Int32Array, states: number): void {
  for (let i = 0, at = 0; i < costs.length; i++)
    for (let state = 0; state < states; state++, at++) toGo[at] = Math.min(toGo[at]! + costs[i]!, IMPOSSIBLE)
}

function addToAll(costs: Int32Array, points: number): void {
  if (points === 0) return
  for (let i = 0; i < costs.length; i++) costs[i] = Math.min(costs[i]! + points, IMPOSSIBLE)
}
