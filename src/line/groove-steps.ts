import type { Tick } from '../music/tick.ts'
import type { BarContext } from './groove-context.ts'
import type { AddPoints } from './groove-neck.ts'
import type { GrooveRules, Judged } from './groove-rules.ts'
import {
  choiceIndexAt,
  type Link,
  linksAcross,
  silentLinks,
  type VoicedBar,
  type VoicedSlot,
  type Voicer,
  type Way,
} from './groove-voice.ts'

/** A note of a line on its way: a candidate of a slot of a bar, with the joint state of all memories. */
export interface SweptNote {
  readonly barIndex: number
  readonly bar: VoicedBar
  readonly slot: number
  readonly candidate: number
  readonly state: number
}

/** A bar by its first slot that sounds. */
export interface Entry {
  readonly bar: VoicedBar
  readonly first: number
  /** how long the bars without a note are that stand before it */
  readonly passed: Tick
}

/** Judged where there is nothing to judge. */
const FREE: Judged = { points: 0, next: [0], statePoints: [0] }

/** The steps from note to note: which there are, and what they cost under the rules. */
export class Steps {
  readonly voicer: Voicer
  readonly rules: GrooveRules
  /** joint states of all memories */
  readonly states: number
  readonly #contexts: readonly BarContext[]
  /** the last note leads into the first, and is charged for it */
  readonly closes: boolean
  /** the same, or rules look at the two */
  readonly turns: boolean

  constructor(voicer: Voicer, rules: GrooveRules, contexts: readonly BarContext[], loop: boolean) {
    this.voicer = voicer
    this.rules = rules
    this.states = rules.states
    this.#contexts = contexts
    this.closes = loop && !contexts.at(-1)!.silenceAfter
    this.turns = this.closes || (loop && rules.judgeSteps)
  }

  /** How long the bars between two bars are, round the loop if it closes. */
  between(from: number, to: number, closing: boolean): Tick {
    const bars = closing
      ? [...this.#contexts.slice(from + 1), ...this.#contexts.slice(0, to)]
      : this.#contexts.slice(from + 1, to)
    return bars.reduce((sum, context) => sum + context.ticks, 0)
  }

  /** From a slot of a bar to the next. */
  inBar(bar: VoicedBar, slot: number): Way {
    const ticks = bar.slots[slot + 1]!.laid.onset.tick - bar.slots[slot]!.laid.onset.tick
    return { links: bar.links[slot]!, ticks, barIndex: bar.laid.context.index }
  }

  /**
   * From the last note of a bar into another. Over silence, and where a push over the end of a loop is its first downbeat, nothing is
   * charged but by rules. Over empty bars an approach has lost its target.
   */
  over(bar: VoicedBar, into: Entry, closing = false): Way {
    const isPlain = into.passed === 0 && !closing
    const known = isPlain ? bar.across[into.first > 0 ? 1 : 0].get(into.bar) : undefined
    if (known) return known
    const last = bar.slots.at(-1)!
    const to = into.bar.slots[into.first]!
    const isSilent = bar.laid.context.silenceAfter || (closing && bar.laid.tiedOver)
    const links = isSilent ? silentLinks(last, to) : linksAcross(bar, last, into.bar, to)
    const way = {
      links: into.passed === 0 || closing ? links : links.filter((link) => !last.choices[link.before]!.target),
      ticks: bar.laid.context.ticks - last.laid.onset.tick + into.passed + to.laid.onset.tick,
      barIndex: into.bar.laid.context.index,
    }
    if (isPlain) bar.across[into.first > 0 ? 1 : 0].set(into.bar, way)
    return way
  }

  /** The reverse step: the least of the step to each candidate and what follows it, in each state. */
  back(from: VoicedSlot, to: VoicedSlot, way: Way, toGo: Int32Array, into: Int32Array): void {
    if (!this.rules.judgeSteps) this.#plain(from, to, way, toGo, into, false)
    else if (this.states === 1) this.#plain(from, to, way, toGo, into, true)
    else this.#judged(from, to, way, toGo, into)
  }

  /** The same in any state: a bound from below. */
  backBound(from: VoicedSlot, to: VoicedSlot, way: Way, toGo: Int32Array, into: Int32Array): void {
    this.#plain(from, to, way, toGo, into, this.rules.judgeSteps)
  }

  #plain(from: VoicedSlot, to: VoicedSlot, way: Way, toGo: Int32Array, into: Int32Array, judge: boolean): void {
    const { neck } = this.voicer
    const width = neck.grips.length
    const toGrips = to.grips
    for (const link of way.links) {
      const { before, after } = link
      let { points } = link
      if (judge) {
        const judged = this.#judge(from, to, link)
        if (!judged || judged.next.every((state) => state < 0)) continue
        points += judged.points
        if (this.states === 1) points += judged.statePoints[0]!
      }
      const table = this.rules.reach(neck, link.reach, way.ticks, way.barIndex)
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

  #judged(from: VoicedSlot, to: VoicedSlot, way: Way, toGo: Int32Array, into: Int32Array): void {
    const { neck } = this.voicer
    const width = neck.grips.length
    const { states } = this
    for (const link of way.links) {
      const judged = this.#judge(from, to, link)
      if (!judged) continue
      const table = this.rules.reach(neck, link.reach, way.ticks, way.barIndex)
      for (let i = from.from[link.before]!; i < from.from[link.before + 1]!; i++) {
        const row = from.grips[i]! * width
        for (let state = 0; state < states; state++) {
          const next = judged.next[state]!
          if (next < 0) continue
          const extra = link.points + judged.points + judged.statePoints[state]!
          let least = into[i * states + state]!
          for (let j = to.from[link.after]!; j < to.from[link.after + 1]!; j++) {
            const cost = table[row + to.grips[j]!]! + toGo[j * states + next]! + extra
            if (cost < least) least = cost
          }
          into[i * states + state] = least
        }
      }
    }
  }

  #judge(from: VoicedSlot, to: VoicedSlot, { before, after }: Link): Judged | undefined {
    if (!this.rules.judgeSteps || !from.ruled || !to.ruled) return FREE
    return this.rules.judge(from.ruled, from.choices[before]!.pitch, to.ruled, to.choices[after]!.pitch)
  }

  /** Visits each candidate and state that may follow one, with the cost of the step. */
  successors(
    from: VoicedSlot,
    to: VoicedSlot,
    way: Way,
    candidate: number,
    state: number,
    visit: (candidate: number, state: number, cost: number) => void,
  ): void {
    const { neck } = this.voicer
    const row = from.grips[candidate]! * neck.grips.length
    for (const link of way.links) {
      const { before, after } = link
      if (candidate < from.from[before]! || candidate >= from.from[before + 1]!) continue
      const judged = this.#judge(from, to, link)
      const next = judged?.next[state] ?? -1
      if (!judged || next < 0) continue
      const extra = link.points + judged.points + judged.statePoints[state]!
      const table = this.rules.reach(neck, link.reach, way.ticks, way.barIndex)
      for (let j = to.from[after]!; j < to.from[after + 1]!; j++) visit(j, next, table[row + to.grips[j]!]! + extra)
    }
  }

  /** What a note pays for the way from the note before it; `closing`: from the last one of the loop. */
  terms(before: SweptNote, note: SweptNote, add: AddPoints, closing = false): void {
    const from = before.bar.slots[before.slot]!
    const to = note.bar.slots[note.slot]!
    const inBar = !closing && before.barIndex === note.barIndex
    if (!closing && !inBar && before.bar.laid.context.silenceAfter && !this.rules.judgeSteps) return
    const passed = inBar ? 0 : this.between(before.barIndex, note.barIndex, closing)
    const into: Entry = { bar: note.bar, first: note.slot, passed }
    const way = inBar ? this.inBar(before.bar, before.slot) : this.over(before.bar, into, closing)
    const [one, other] = [choiceIndexAt(from, before.candidate), choiceIndexAt(to, note.candidate)]
    const link = way.links.find((each) => each.before === one && each.after === other)
    if (!link) throw new RangeError(`no step between the notes of bars ${before.barIndex} and ${note.barIndex}`)
    const { neck } = this.voicer
    const [grip, next] = [neck.grips[from.grips[before.candidate]!]!, neck.grips[to.grips[note.candidate]!]!]
    neck.reachTerms(grip, next, link.reach, add)
    if (link.rule) add(link.rule, link.points)
    if (!this.rules.judgeSteps || !from.ruled || !to.ruled) return
    this.rules.handTerms(grip, next, way.ticks, way.barIndex, add)
    this.rules.judgeAnew(from.ruled.standing, grip.pitch, to.ruled.standing, next.pitch, (rule, points, state) => {
      if (state === undefined || state === before.state) add(rule, points)
    })
  }
}
