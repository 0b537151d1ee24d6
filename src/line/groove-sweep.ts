import type { Pitch } from '../music/pitch.ts'
import { IMPOSSIBLE } from '../search/trellis.ts'
import type { BarContext, LaidBar } from './groove-bar.ts'
import { type AddPoints, GROOVE_POINTS } from './groove-neck.ts'
import type { GrooveTable } from './groove-table.ts'
import {
  choiceIndexAt,
  type Link,
  linksAcross,
  type Stance,
  type VoicedBar,
  type VoicedSlot,
  type Voicer,
} from './groove-voice.ts'
import type { CostTerm } from './line.ts'
import { binds, type RuleInForce, type Sounding } from './rule.ts'

/** What each bar of a form may be: one laid bar, or several where fills or walks are to be chosen. */
export type Alternatives = readonly (readonly LaidBar[])[]

/** A note of a swept line: where its slot stands and which grip plays it. */
export interface SweptNote {
  readonly barIndex: number
  readonly bar: VoicedBar
  readonly slot: number
  readonly candidate: number
  /** of each rule about runs, folded into one number */
  readonly count: number
}

/** The best line of a plan in one stance. */
export interface Swept {
  readonly cost: number
  readonly stance: Stance
  /** the laid bar chosen for each bar */
  readonly bars: readonly LaidBar[]
  readonly notes: readonly SweptNote[]
}

/** The first note of a bar onwards: what it costs to the end from each candidate (and count of each run). */
interface Head {
  readonly barIndex: number
  readonly bar: VoicedBar
  readonly first: number
  /** bars without a note before it, chosen on the way */
  readonly passed: readonly { readonly barIndex: number; readonly bar: VoicedBar }[]
  readonly toGo: Int32Array
}

/** The ways to go on from a bar line; where none has a note left, `rest` is what the silent bars cost. */
interface Seam {
  readonly heads: readonly Head[]
  readonly rest: number
  readonly silent: readonly { readonly barIndex: number; readonly bar: VoicedBar }[]
}

/** A seam of a form for bars whose downbeat sounds, and for those whose downbeat a push has taken. */
type Seams = readonly [Seam, Seam]

/** Nothing to pay after a step. */
const ZEROS = new Int32Array(4096)

const DEAD: Seam = { heads: [], rest: IMPOSSIBLE, silent: [] }

/**
 * Sweeps plans over the neck, from the last note to the first.
 *
 * A state is a grip of one of the pitches a slot may take, with the count of each rule about runs. The zone of the roots and the
 * home of the hand are fixed for a whole line, so each pair of them, a *stance*, is a sweep of its own; the least over all is
 * the exact optimum. A bound for each comes first: every bar by itself, free to begin anywhere, and the step into the bar after.
 */
export class Sweep {
  readonly #voicer: Voicer
  readonly #contexts: readonly BarContext[]
  /** all there are, the cheapest first */
  readonly stances: readonly PricedStance[]
  readonly #loop: boolean
  readonly #pairRules: readonly RuleInForce[]
  readonly #memoryRules: readonly RuleInForce[]
  /** product of the states of all rules with a memory */
  readonly #counts: number
  /** what is said where there are no rules */
  readonly #free: Judged = { points: 0, next: [0], countPoints: [0] }

  readonly #scratches = [new Int32Array(1024), new Int32Array(1024)]
  #turn = 0

  /** the bar at which the sweep that came furthest died; `undefined` while none did */
  deadBar: number | undefined

  constructor(options: {
    readonly voicer: Voicer
    readonly contexts: readonly BarContext[]
    readonly table: GrooveTable
    readonly lowest: number
    readonly loop: boolean
    readonly rules: readonly RuleInForce[]
  }) {
    const { voicer, table, lowest } = options
    this.#voicer = voicer
    this.#contexts = options.contexts
    this.#loop = options.loop
    this.#pairRules = options.rules.filter((rule) => rule.test.looksAt === 'pair')
    this.#memoryRules = options.rules.filter((rule) => rule.test.looksAt === 'memory')
    this.#counts = this.#memoryRules.reduce((product, rule) => product * statesOf(rule), 1)
    const wanted = lowest + table.zone
    const stances: PricedStance[] = []
    for (let zone = Math.max(lowest, wanted - 6); zone <= wanted + 6; zone++) {
      for (const home of voicer.neck.homes()) {
        const terms = stanceTerms(table, lowest, { zone, home })
        stances.push({ stance: { zone, home }, points: terms.reduce((sum, term) => sum + term.points, 0) })
      }
    }
    this.stances = stances.sort((a, b) => a.points - b.points)
  }

  /**
   * The least that a bar costs inside in a stance, free to begin anywhere.
   *
   * @param mayPush  a push before it may take its downbeat away
   */
  innerBound({ bars }: { readonly bars: readonly LaidBar[] }, stance: Stance, mayPush: boolean): number {
    let least = IMPOSSIBLE
    for (const laid of bars) {
      const bar = this.#voicer.voice(laid, stance)
      const inner = mayPush ? Math.min(this.#inner(bar, 0), this.#inner(bar, 1)) : this.#inner(bar, 0)
      least = Math.min(least, laid.points + inner)
    }
    return least
  }

  /** The same with the step into the bar after; `undefined`: there is none. */
  seamBound(
    { bars }: { readonly bars: readonly LaidBar[] },
    next: { readonly bars: readonly LaidBar[] } | undefined,
    stance: Stance,
    mayPush: boolean,
  ): number {
    const after = next?.bars.map((laid) => this.#voicer.voice(laid, stance)) ?? []
    let least = IMPOSSIBLE
    for (const laid of bars) {
      const bar = this.#voicer.voice(laid, stance)
      least = Math.min(least, laid.points + this.#window(bar, 0, after))
      if (mayPush) least = Math.min(least, laid.points + this.#window(bar, 1, after))
    }
    return least
  }

  #inner(bar: VoicedBar, pushed: 0 | 1): number {
    bar.inner[pushed] ??= this.#windowInto(bar, firstSlot(bar, pushed), undefined)
    return bar.inner[pushed]
  }

  /** The least from anywhere at the start of a bar into any of the bars after it. */
  #window(bar: VoicedBar, pushed: 0 | 1, after: readonly VoicedBar[]): number {
    if (after.length === 0) return this.#inner(bar, pushed)
    let least = IMPOSSIBLE
    for (const next of after) {
      let cost = bar.windows[pushed].get(next)
      if (cost === undefined) {
        cost = this.#windowInto(bar, firstSlot(bar, pushed), next)
        bar.windows[pushed].set(next, cost)
      }
      least = Math.min(least, cost)
    }
    return least
  }

  #windowInto(bar: VoicedBar, first: number, next: VoicedBar | undefined): number {
    if (first >= bar.slots.length) return 0
    const last = bar.slots.at(-1)!
    let toGo = this.#scratch(last.grips.length)
    const begin = next ? firstSlot(next, bar.laid.tiedOver ? 1 : 0) : 0
    if (next && begin < next.slots.length && !bar.laid.context.silenceAfter) {
      const into = next.slots[begin]!
      toGo.fill(IMPOSSIBLE)
      this.#stepPlain(last, into, linksAcross(bar, last, next, into), ZEROS, toGo)
    } else toGo.fill(0)
    addCosts(toGo, last, 1)
    for (let slot = bar.slots.length - 2; slot >= first; slot--) {
      const here = bar.slots[slot]!
      const costs = this.#scratch(here.grips.length).fill(IMPOSSIBLE)
      this.#stepPlain(here, bar.slots[slot + 1]!, bar.links[slot]!, toGo, costs)
      addCosts(costs, here, 1)
      toGo = costs
    }
    return leastOf(toGo)
  }

  /** One of two stretches of memory in turn, so that nothing is made for each slot. */
  #scratch(length: number): Int32Array {
    this.#turn = 1 - this.#turn
    if (this.#scratches[this.#turn]!.length < length) this.#scratches[this.#turn] = new Int32Array(2 * length)
    return this.#scratches[this.#turn]!.subarray(0, length)
  }

  /**
   * The best line of a plan in a stance, or `undefined` if there is none that costs at most `limit`. Ties are told apart by pitch,
   * string, fret and hand, earlier notes first.
   */
  solve(plan: Alternatives, { stance, points }: PricedStance, limit: number): Swept | undefined {
    const before = [points]
    for (const [index, bars] of plan.entries()) {
      const mayPush = plan[index - 1]?.some((laid) => laid.tiedOver) === true
      const next = plan[index + 1] && { bars: plan[index + 1]! }
      before.push(Math.min(before[index]! + this.seamBound({ bars }, next, stance, mayPush), IMPOSSIBLE))
    }
    if (before.at(-1)! > limit) return undefined
    // Without a loop one sweep is enough. With one, a sweep closed to whichever first note is nearest is a bound, and the sweeps
    // closed to each first note are exact.
    const open: Course = { plan, stance, closing: undefined }
    const seams = this.#sweep(open, before, limit)
    if (!seams) return undefined
    const starts = this.#starts(seams[0]![0], points).filter((start) => start.cost <= limit)
    if (!this.closes) return starts[0] && this.#trace(open, seams, starts[0])
    let best: Swept | undefined
    for (const start of starts) {
      const most = best ? best.cost - 1 : limit
      if (start.cost > most) break
      const closed: Course = { plan, stance, closing: start }
      const exact = this.#sweep(closed, before, most)
      const found = exact && this.#starts(exact[0]![0], points).find((one) => isSameStart(one, start))
      if (exact && found && found.cost <= most) best = this.#trace(closed, exact, found)
    }
    return best
  }

  /** The last note has to lead into the first. */
  get closes(): boolean {
    return this.#loop && !this.#contexts.at(-1)!.silenceAfter
  }

  /** First notes of a swept form, the cheapest first. A form without a note has one start, with no head. */
  #starts(seam: Seam, points: number): readonly Start[] {
    const starts: Start[] = []
    const counts = this.closes ? this.#counts : 1
    for (const [order, head] of seam.heads.entries()) {
      const { grips } = slotOfHead(head)
      for (let candidate = 0; candidate < grips.length; candidate++) {
        for (let count = 0; count < counts; count++) {
          const cost = head.toGo[candidate * this.#counts + count]! + points
          if (cost < IMPOSSIBLE) starts.push({ order, head, candidate, count, cost })
        }
      }
    }
    if (seam.rest < IMPOSSIBLE)
      starts.push({ order: seam.heads.length, head: undefined, candidate: 0, count: 0, cost: seam.rest + points })
    const grip = ({ head, candidate }: Start): number => (head ? slotOfHead(head).grips[candidate]! : 0)
    return starts.sort((a, b) => a.cost - b.cost || grip(a) - grip(b) || a.order - b.order || a.candidate - b.candidate)
  }

  /** All seams of a form; `undefined` where none is left within the limit. */
  #sweep(course: Course, before: readonly number[], limit: number): readonly Seams[] | undefined {
    const { plan, stance } = course
    const seams: Seams[] = new Array(plan.length + 1)
    const end: Seam = { heads: [], rest: 0, silent: [] }
    seams[plan.length] = [end, end]
    for (let index = plan.length - 1; index >= 0; index--) {
      const bars = plan[index]!.map((laid) => this.#voicer.voice(laid, stance))
      const pushedBefore = index > 0 && plan[index - 1]!.some((laid) => laid.tiedOver)
      const after = seams[index + 1]!
      const plain = this.#seam(course, index, bars, 0, after)
      const pushed = pushedBefore ? this.#seam(course, index, bars, 1, after) : DEAD
      seams[index] = [plain, pushed]
      const least = Math.min(leastOfSeam(plain), leastOfSeam(pushed))
      if (least >= IMPOSSIBLE) {
        this.deadBar = Math.min(this.deadBar ?? index, index)
        return undefined
      }
      if (least + before[index]! > limit) return undefined
    }
    return seams
  }

  #seam(course: Course, index: number, bars: readonly VoicedBar[], pushed: 0 | 1, after: Seams): Seam {
    const heads: Head[] = []
    let rest = IMPOSSIBLE
    let silent: Seam['silent'] = []
    for (const bar of bars) {
      const { points } = bar.laid
      const seam = after[bar.laid.tiedOver ? 1 : 0]
      const first = firstSlot(bar, pushed)
      if (first < bar.slots.length) {
        const toGo = this.#layers(bar, first, this.#exitCosts(course, bar, seam))[first]!
        addToAll(toGo, points)
        heads.push({ barIndex: index, bar, first, passed: [], toGo })
        continue
      }
      // A bar without a note passes on what follows it.
      const here = { barIndex: index, bar }
      for (const head of seam.heads) {
        const toGo = head.toGo.slice()
        addToAll(toGo, points)
        heads.push({ ...head, passed: [here, ...head.passed], toGo })
      }
      if (seam.rest + points < rest) {
        rest = seam.rest + points
        silent = [here, ...seam.silent]
      }
    }
    return { heads, rest, silent }
  }

  /** What each candidate of each slot of a bar costs to the end of the form, its own cost included; before `first` nothing. */
  #layers(bar: VoicedBar, first: number, exit: Int32Array): readonly Int32Array[] {
    const counts = this.#counts
    const layers: Int32Array[] = new Array(bar.slots.length)
    let toGo = exit.slice()
    for (let slot = bar.slots.length - 1; slot >= first; slot--) {
      const here = bar.slots[slot]!
      if (slot + 1 < bar.slots.length) {
        const costs = new Int32Array(here.grips.length * counts).fill(IMPOSSIBLE)
        this.#step(here, bar.slots[slot + 1]!, bar.links[slot]!, toGo, costs)
        toGo = costs
      }
      addCosts(toGo, here, counts)
      layers[slot] = toGo
    }
    return layers
  }

  /** From the last note of a bar to the end. */
  #exitCosts(course: Course, bar: VoicedBar, seam: Seam): Int32Array {
    const counts = this.#counts
    const last = bar.slots.at(-1)!
    const costs = new Int32Array(last.grips.length * counts).fill(IMPOSSIBLE)
    if (bar.laid.context.silenceAfter) {
      // After silence the line begins afresh.
      const afresh = seam.heads.flatMap((head) => [...head.toGo].filter((_, i) => i % counts === 0))
      return costs.fill(Math.min(seam.rest, ...afresh))
    }
    for (const head of seam.heads) this.#step(last, slotOfHead(head), linksInto(bar, last, head), head.toGo, costs)
    if (seam.rest < IMPOSSIBLE) {
      const end = this.#endCosts(course, bar, last)
      for (let i = 0; i < costs.length; i++) costs[i] = Math.min(costs[i]!, seam.rest + end[i]!)
    }
    return costs
  }

  /** From the last note of the form: nothing, or the step that closes the loop. */
  #endCosts(course: Course, bar: VoicedBar, last: VoicedSlot): Int32Array {
    const counts = this.#counts
    const costs = new Int32Array(last.grips.length * counts)
    // A push over the end is the downbeat of the next time round: there is no step.
    if (!this.closes || bar.laid.tiedOver) return costs
    costs.fill(IMPOSSIBLE)
    const { closing } = course
    if (closing) {
      if (!closing.head) return costs.fill(0)
      const into = slotOfHead(closing.head)
      const toGo = new Int32Array(into.grips.length * counts).fill(IMPOSSIBLE)
      toGo[closing.candidate * counts + closing.count] = 0
      this.#step(last, into, linksAcross(bar, last, closing.head.bar, into), toGo, costs)
      return costs
    }
    for (const laid of course.plan[0]!) {
      const first = this.#voicer.voice(laid, course.stance)
      const into = first.slots[0]
      if (!into) return costs.fill(0)
      this.#step(last, into, linksAcross(bar, last, first, into), new Int32Array(into.grips.length * counts), costs)
    }
    return costs
  }

  /** The reverse step: the least of the step to each candidate and what follows it. */
  #step(from: VoicedSlot, to: VoicedSlot, links: readonly Link[], toGo: Int32Array, into: Int32Array): void {
    if (this.#pairRules.length + this.#memoryRules.length > 0) this.#stepUnderRules(from, to, links, toGo, into)
    else this.#stepPlain(from, to, links, toGo, into)
  }

  #stepPlain(from: VoicedSlot, to: VoicedSlot, links: readonly Link[], toGo: Int32Array, into: Int32Array): void {
    const { neck } = this.#voicer
    const width = neck.grips.length
    const toGrips = to.grips
    for (const { before, after, reach, points } of links) {
      const table = neck.reach(reach)
      const end = from.from[before + 1]!
      const start = to.from[after]!
      const stop = to.from[after + 1]!
      for (let i = from.from[before]!; i < end; i++) {
        const row = from.grips[i]! * width
        let least = into[i]! - points
        for (let j = start; j < stop; j++) {
          const cost = table[row + toGrips[j]!]! + toGo[j]!
          if (cost < least) least = cost
        }
        into[i] = least + points
      }
    }
  }

  #stepUnderRules(from: VoicedSlot, to: VoicedSlot, links: readonly Link[], toGo: Int32Array, into: Int32Array): void {
    const { neck } = this.#voicer
    const width = neck.grips.length
    const counts = this.#counts
    for (const { before, after, reach, points } of links) {
      const table = neck.reach(reach)
      const judged = this.#judge(from, to, before, after)
      if (!judged) continue
      for (let i = from.from[before]!; i < from.from[before + 1]!; i++) {
        const row = from.grips[i]! * width
        for (let count = 0; count < counts; count++) {
          const next = judged.next[count]!
          if (next < 0) continue
          const extra = points + judged.points + judged.countPoints[count]!
          let least = into[i * counts + count]!
          for (let j = to.from[after]!; j < to.from[after + 1]!; j++) {
            const cost = table[row + to.grips[j]!]! + toGo[j * counts + next]! + extra
            if (cost < least) least = cost
          }
          into[i * counts + count] = least
        }
      }
    }
  }

  /** What a note pays for the way from the note before it, the last and the first of a loop included. */
  stepTerms(before: SweptNote, note: SweptNote, add: AddPoints): void {
    if (before.barIndex !== note.barIndex && before.bar.laid.context.silenceAfter) return
    const from = before.bar.slots[before.slot]!
    const to = note.bar.slots[note.slot]!
    const one = choiceIndexAt(from, before.candidate)
    const other = choiceIndexAt(to, note.candidate)
    const inBar = before.barIndex === note.barIndex && note.slot === before.slot + 1
    const links = inBar ? before.bar.links[before.slot]! : linksAcross(before.bar, from, note.bar, to)
    const link = links.find((each) => each.before === one && each.after === other)
    if (!link) throw new RangeError(`no step between the notes of bars ${before.barIndex} and ${note.barIndex}`)
    const { grips } = this.#voicer.neck
    this.#voicer.neck.reachTerms(grips[gripOf(before)]!, grips[gripOf(note)]!, link.reach, add)
    if (link.rule) add(link.rule, link.points)
    const judged = this.#judge(from, to, one, other, (rule, points, count) => {
      if (count === undefined || count === before.count) add(rule, points)
    })
    if (!judged) throw new RangeError(`a must forbids the notes of bars ${before.barIndex} and ${note.barIndex}`)
  }

  /** What rules about neighbours say of two choices; `undefined` if a must forbids them. */
  #judge(
    from: VoicedSlot,
    to: VoicedSlot,
    before: number,
    after: number,
    note?: (rule: string, points: number, count?: number) => void,
  ): Judged | undefined {
    if (!from.sounding || !to.sounding) return this.#free
    const one: Sounding = { ...from.sounding, pitch: from.choices[before]!.pitch }
    const other: Sounding = { ...to.sounding, pitch: to.choices[after]!.pitch }
    let points = 0
    for (const rule of this.#pairRules) {
      if (rule.test.looksAt !== 'pair' || !binds(rule, other.slot.barIndex) || rule.test.allows(one, other)) continue
      if (rule.strength === 'must') return undefined
      points += rule.strength
      note?.(rule.id, rule.strength)
    }
    const next = new Array<number>(this.#counts).fill(0)
    const countPoints = new Array<number>(this.#counts).fill(0)
    let stride = 1
    for (const rule of this.#memoryRules) {
      const { test, strength } = rule
      if (test.looksAt !== 'memory') continue
      const bound = binds(rule, other.slot.barIndex)
      const steps = Array.from({ length: test.states }, (_, state) => test.step(state, one, other))
      for (let count = 0; count < this.#counts; count++) {
        if (next[count]! < 0) continue
        const { state, kept } = steps[Math.floor(count / stride) % test.states]!
        if (!kept && bound && strength === 'must') {
          next[count] = -1
          continue
        }
        next[count] = next[count]! + state * stride
        if (kept || !bound) continue
        countPoints[count] = countPoints[count]! + Number(strength)
        note?.(rule.id, Number(strength), count)
      }
      stride *= test.states
    }
    return { points, next, countPoints }
  }

  /** Goes forward through swept seams, always to the least grip among equals. */
  #trace(course: Course, seams: readonly Seams[], start: Start): Swept {
    const bars: LaidBar[] = new Array(this.#contexts.length)
    const notes: SweptNote[] = []
    const take = (passed: Seam['silent']): void => {
      for (const { barIndex, bar } of passed) bars[barIndex] = bar.laid
    }
    if (!start.head) take(seams[0]![0].silent)
    let at: { head: Head; candidate: number; count: number } | undefined = start.head && { ...start, head: start.head }
    while (at) {
      const { barIndex, bar, first, passed } = at.head
      take(passed)
      bars[barIndex] = bar.laid
      const seam = seams[barIndex + 1]![bar.laid.tiedOver ? 1 : 0]
      const exit = this.#exitCosts(course, bar, seam)
      const layers = this.#layers(bar, first, exit)
      let { candidate, count } = at
      notes.push({ barIndex, bar, slot: first, candidate, count })
      for (let slot = first; slot + 1 < bar.slots.length; slot++) {
        const here = bar.slots[slot]!
        const wanted = layers[slot]![candidate * this.#counts + count]! - here.costs[candidate]!
        const links = bar.links[slot]!
        const found = this.#follow(here, bar.slots[slot + 1]!, links, layers[slot + 1]!, candidate, count, wanted)
        if (!found) throw new RangeError(`the sweep of bar ${barIndex} does not agree with its reverse`)
        candidate = found.candidate
        count = found.count
        notes.push({ barIndex, bar, slot: slot + 1, candidate, count })
      }
      at = this.#followOver(bar, seam, candidate, count, exit[candidate * this.#counts + count]!)
      if (!at) take(seam.silent)
    }
    return { cost: start.cost, stance: course.stance, bars, notes }
  }

  /** The candidate with the least grip that costs what is wanted. */
  #follow(
    from: VoicedSlot,
    to: VoicedSlot,
    links: readonly Link[],
    toGo: Int32Array,
    candidate: number,
    count: number,
    wanted: number,
  ): { readonly candidate: number; readonly count: number } | undefined {
    const counts = this.#counts
    const width = this.#voicer.neck.grips.length
    let best: { candidate: number; count: number } | undefined
    for (const { before, after, reach, points } of links) {
      if (candidate < from.from[before]! || candidate >= from.from[before + 1]!) continue
      const judged = this.#judge(from, to, before, after)
      const next = judged?.next[count] ?? -1
      if (!judged || next < 0) continue
      const extra = points + judged.points + judged.countPoints[count]!
      const row = from.grips[candidate]! * width
      for (let j = to.from[after]!; j < to.from[after + 1]!; j++) {
        const cost = this.#voicer.neck.reach(reach)[row + to.grips[j]!]! + toGo[j * counts + next]! + extra
        if (cost !== wanted) continue
        if (!best || to.grips[j]! < to.grips[best.candidate]!) best = { candidate: j, count: next }
      }
    }
    return best
  }

  /** The same over the bar line; `undefined` where nothing more sounds. */
  #followOver(
    bar: VoicedBar,
    seam: Seam,
    candidate: number,
    count: number,
    wanted: number,
  ): { readonly head: Head; readonly candidate: number; readonly count: number } | undefined {
    const last = bar.slots.at(-1)!
    let best: { head: Head; candidate: number; count: number } | undefined
    let least = Number.POSITIVE_INFINITY
    for (const head of seam.heads) {
      const { grips } = slotOfHead(head)
      if (bar.laid.context.silenceAfter) {
        for (const [j, grip] of grips.entries()) {
          if (head.toGo[j * this.#counts] !== wanted || grip >= least) continue
          best = { head, candidate: j, count: 0 }
          least = grip
        }
        continue
      }
      const links = linksInto(bar, last, head)
      const found = this.#follow(last, slotOfHead(head), links, head.toGo, candidate, count, wanted)
      if (!found || grips[found.candidate]! >= least) continue
      best = { head, ...found }
      least = grips[found.candidate]!
    }
    return best
  }
}

/** A plan in a stance, closed to a first note where it loops. */
interface Course {
  readonly plan: Alternatives
  readonly stance: Stance
  /** `undefined`: open, or closed to whichever first note is nearest */
  readonly closing: Start | undefined
}

/** A first note of a swept form. */
interface Start {
  /** its head's place in the seam */
  readonly order: number
  /** `undefined` where nothing sounds */
  readonly head: Head | undefined
  readonly candidate: number
  readonly count: number
  readonly cost: number
}

interface Judged {
  readonly points: number
  /** for each count the next one; -1 where a must forbids it */
  readonly next: readonly number[]
  readonly countPoints: readonly number[]
}

/** A stance and what it costs. */
export interface PricedStance {
  readonly stance: Stance
  readonly points: number
}

/** What a stance costs: the zone's distance from where it wants to begin, and a home up the neck. */
export function stanceTerms(table: GrooveTable, lowest: Pitch, stance: Stance): readonly CostTerm[] {
  return [
    { rule: 'zone', points: Math.abs(stance.zone - lowest - table.zone) * table.zoneMove },
    { rule: 'high-home', points: homePoints(stance.home) },
  ].filter((term) => term.points > 0)
}

function homePoints(home: number): number {
  return home > 5 ? GROOVE_POINTS.highHome : 0
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

/** The first slot that sounds: the second where a push has taken the downbeat. */
function firstSlot(bar: VoicedBar, pushed: 0 | 1): number {
  return pushed === 1 && bar.slots[0]?.laid.onset.tick === 0 ? 1 : 0
}

function slotOfHead(head: Head): VoicedSlot {
  return head.bar.slots[head.first]!
}

/** Links to a head. Over empty bars an approach has lost its target. */
function linksInto(bar: VoicedBar, last: VoicedSlot, head: Head): readonly Link[] {
  const links = linksAcross(bar, last, head.bar, slotOfHead(head))
  return head.passed.length === 0 ? links : links.filter((link) => last.choices[link.before]!.target === undefined)
}

function gripOf({ bar, slot, candidate }: SweptNote): number {
  return bar.slots[slot]!.grips[candidate]!
}

function isSameStart(one: Start, other: Start): boolean {
  return one.order === other.order && one.candidate === other.candidate && one.count === other.count
}

function statesOf(rule: RuleInForce): number {
  return rule.test.looksAt === 'memory' ? rule.test.states : 1
}

function leastOf(costs: Int32Array): number {
  let least = IMPOSSIBLE
  for (const cost of costs) if (cost < least) least = cost
  return least
}

function leastOfSeam(seam: Seam): number {
  return Math.min(seam.rest, ...seam.heads.map((head) => leastOf(head.toGo)))
}

/** Adds what each candidate pays by itself. */
function addCosts(toGo: Int32Array, slot: VoicedSlot, counts: number): void {
  const { costs } = slot
  for (let i = 0, at = 0; i < costs.length; i++)
    for (let count = 0; count < counts; count++, at++) toGo[at] = Math.min(toGo[at]! + costs[i]!, IMPOSSIBLE)
}

function addToAll(costs: Int32Array, points: number): void {
  if (points === 0) return
  for (let i = 0; i < costs.length; i++) costs[i] = Math.min(costs[i]! + points, IMPOSSIBLE)
}
