import type { Tick } from '../../music/tick.ts'
import type { LaidBar } from './bar.ts'
import type { BarContext } from './context.ts'
import { linksAcross, silentLinks } from './links.ts'
import type { AddPoints } from './neck.ts'
import type { GrooveRules, Judged } from './rules.ts'
import type { Voicer } from './voice.ts'
import { choiceIndexAt, type Gripped, type Link, type VoicedBar, type VoicedSlot, type Way } from './voiced.ts'

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
  readonly #due = new Map<LaidBar, LaidBar>()
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

  /** A bar whose first note is the first of a chord that began before it. */
  dueOf(laid: LaidBar): LaidBar {
    const known = this.#due.get(laid) ?? { ...laid, due: true }
    this.#due.set(laid, known)
    return known
  }

  /** From a slot of a bar to the next. */
  inBar(bar: Pick<VoicedBar, 'laid' | 'links'> & { readonly slots: readonly Gripped[] }, slot: number): Way {
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
      links:
        into.passed === 0 || closing ? links : links.filter((link) => last.choices[link.before]!.target === undefined),
      ticks: bar.laid.context.ticks - last.laid.onset.tick + into.passed + to.laid.onset.tick,
      barIndex: into.bar.laid.context.index,
    }
    if (isPlain) bar.across[into.first > 0 ? 1 : 0].set(into.bar, way)
    return way
  }

  /** The reverse step: the least of the step to each candidate and what follows it, in each state. */
  back(from: VoicedSlot, to: VoicedSlot, way: Way, toGo: Int32Array, into: Int32Array): void {
    if (this.states === 1) this.backBound(from, to, way, toGo, into)
    else this.#backInStates(from, to, way, toGo, into)
  }

  /** The same whatever is remembered: where rules have a memory, a bound from below. */
  backBound(from: Gripped, to: Gripped, way: Way, toGo: Int32Array, into: Int32Array): void {
    const width = this.voicer.neck.grips.length
    const toGrips = to.grips
    for (const link of way.links) {
      let { points } = link
      const alone = link.before + 1 === link.beforeTo && link.after + 1 === link.afterTo
      const judged = alone ? this.#judge(from, link.before, to, link.after) : FREE
      if (!judged) continue
      points += judged.points
      if (this.states === 1) points += judged.statePoints[0]!
      const table = alone ? this.#reach(link, way) : this.#joined(from, to, link, way)
      const end = from.from[link.beforeTo]!
      const start = to.from[link.after]!
      const stop = to.from[link.afterTo]!
      for (let i = from.from[link.before]!; i < end; i++) {
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

  #backInStates(from: VoicedSlot, to: VoicedSlot, way: Way, toGo: Int32Array, into: Int32Array): void {
    const { states } = this
    const width = this.voicer.neck.grips.length
    for (const link of way.links) {
      const table = this.#reach(link, way)
      for (let before = link.before; before < link.beforeTo; before++) {
        for (let after = link.after; after < link.afterTo; after++) {
          const judged = this.#judge(from, before, to, after)
          if (!judged) continue
          for (let i = from.from[before]!; i < from.from[before + 1]!; i++) {
            const row = from.grips[i]! * width
            for (let state = 0; state < states; state++) {
              const next = judged.next[state]!
              if (next < 0) continue
              const extra = link.points + judged.points + judged.statePoints[state]!
              let least = into[i * states + state]!
              for (let j = to.from[after]!; j < to.from[after + 1]!; j++) {
                const cost = table[row + to.grips[j]!]! + toGo[j * states + next]! + extra
                if (cost < least) least = cost
              }
              into[i * states + state] = least
            }
          }
        }
      }
    }
  }

  #reach({ reach }: Link, { ticks, barIndex }: Way): Int32Array {
    return this.rules.reach(this.voicer.neck, reach, ticks, barIndex)
  }

  #joined(from: Gripped, to: Gripped, link: Link, way: Way): Int32Array {
    if (!this.rules.judgeSteps || !from.ruled || !to.ruled) return this.#reach(link, way)
    return this.rules.joined(from.ruled, to.ruled, this.voicer.neck, link.reach, way.ticks, way.barIndex)
  }

  #judge(from: Gripped, before: number, to: Gripped, after: number): Judged | undefined {
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
    const row = from.grips[candidate]! * this.voicer.neck.grips.length
    const before = choiceIndexAt(from, candidate)
    for (const link of way.links) {
      if (before < link.before || before >= link.beforeTo) continue
      const table = this.#reach(link, way)
      for (let after = link.after; after < link.afterTo; after++) {
        const judged = this.#judge(from, before, to, after)
        const next = judged?.next[state] ?? -1
        if (!judged || next < 0) continue
        const extra = link.points + judged.points + judged.statePoints[state]!
        for (let j = to.from[after]!; j < to.from[after + 1]!; j++) visit(j, next, table[row + to.grips[j]!]! + extra)
      }
    }
  }

  /** What a note pays for the way from the note before it, but for rules; `closing`: from the last one of the loop. */
  terms(before: SweptNote, note: SweptNote, add: AddPoints, closing = false): void {
    const from = before.bar.slots[before.slot]!
    const to = note.bar.slots[note.slot]!
    const inBar = !closing && before.barIndex === note.barIndex
    const isCharged = closing
      ? this.closes && !before.bar.laid.tiedOver
      : inBar || !before.bar.laid.context.silenceAfter
    if (!isCharged) return
    const passed = inBar ? 0 : this.between(before.barIndex, note.barIndex, closing)
    const into: Entry = { bar: note.bar, first: note.slot, passed }
    const way = inBar ? this.inBar(before.bar, before.slot) : this.over(before.bar, into, closing)
    const [one, other] = [choiceIndexAt(from, before.candidate), choiceIndexAt(to, note.candidate)]
    const link = way.links.find(
      ({ before, beforeTo, after, afterTo }) => one >= before && one < beforeTo && other >= after && other < afterTo,
    )
    if (!link) throw new RangeError(`no step between the notes of bars ${before.barIndex} and ${note.barIndex}`)
    const { neck } = this.voicer
    const [grip, next] = [neck.grips[from.grips[before.candidate]!]!, neck.grips[to.grips[note.candidate]!]!]
    neck.reachTerms(grip, next, link.reach, add)
    if (link.rule) add(link.rule, link.points)
  }
}
