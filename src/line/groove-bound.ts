import { IMPOSSIBLE } from '../search/trellis.ts'
import type { LaidBar } from './groove-bar.ts'
import type { Steps } from './groove-steps.ts'
import type { Stance, VoicedBar } from './groove-voiced.ts'

/** What a bar may be. */
interface Choice {
  readonly bars: readonly LaidBar[]
}

/** Nothing to pay after a step. */
const ZEROS = new Int32Array(4096)

/** Bounds from below on what bars cost on the neck: each by itself, free to begin anywhere, and with the step into the bar after. */
export class Bounds {
  readonly #steps: Steps
  readonly #scratches = [new Int32Array(1024), new Int32Array(1024)]
  #turn = 0

  constructor(steps: Steps) {
    this.#steps = steps
  }

  /**
   * The least that a bar costs inside in a stance, free to begin anywhere.
   *
   * @param mayPush  a push before it may take its downbeat away
   */
  inner({ bars }: Choice, stance: Stance, mayPush: boolean): number {
    let least = IMPOSSIBLE
    for (const laid of bars) {
      const bar = this.#steps.voicer.voice(laid, stance)
      let inner = mayPush ? Math.min(this.#inner(bar, 0), this.#inner(bar, 1)) : this.#inner(bar, 0)
      if (this.#mayBeDue(laid))
        inner = Math.min(inner, this.#inner(this.#steps.voicer.voice(this.#steps.dueOf(laid), stance), 0))
      least = Math.min(least, laid.points + inner)
    }
    return least
  }

  /** The same with the step into the bar after; `undefined`: there is none. */
  seam({ bars }: Choice, next: Choice | undefined, stance: Stance, mayPush: boolean): number {
    if (bars.some((laid) => this.#mayBeDue(laid)) || next?.bars.some((laid) => this.#mayBeDue(laid)))
      return this.inner({ bars }, stance, mayPush)
    const after = next?.bars.map((laid) => this.#steps.voicer.voice(laid, stance)) ?? []
    let least = IMPOSSIBLE
    for (const laid of bars) {
      const bar = this.#steps.voicer.voice(laid, stance)
      least = Math.min(least, laid.points + this.#window(bar, 0, after))
      if (mayPush) least = Math.min(least, laid.points + this.#window(bar, 1, after))
    }
    return least
  }

  /** Rules may see its first note as the first of a chord that began in a bar before. */
  #mayBeDue({ context }: LaidBar): boolean {
    return !this.#steps.rules.isEmpty && context.parts[0]?.arrives === false
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
    const steps = this.#steps
    const last = bar.slots.at(-1)!
    let toGo = this.#scratch(last.grips.length)
    const begin = next ? firstSlot(next, bar.laid.tiedOver ? 1 : 0) : 0
    if (next && begin < next.slots.length && !bar.laid.context.silenceAfter) {
      toGo.fill(IMPOSSIBLE)
      const way = steps.over(bar, { bar: next, first: begin, passed: 0 })
      steps.backBound(last, next.slots[begin]!, way, ZEROS, toGo)
    } else toGo.fill(0)
    addCosts(toGo, last.costs)
    for (let slot = bar.slots.length - 2; slot >= first; slot--) {
      const here = bar.slots[slot]!
      const costs = this.#scratch(here.grips.length).fill(IMPOSSIBLE)
      steps.backBound(here, bar.slots[slot + 1]!, steps.inBar(bar, slot), toGo, costs)
      addCosts(costs, here.costs)
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
}

/** The first slot that sounds: the second where a push has taken the downbeat. */
export function firstSlot(bar: VoicedBar, pushed: 0 | 1): number {
  return pushed === 1 && bar.slots[0]?.laid.onset.tick === 0 ? 1 : 0
}

/** The least of some costs; IMPOSSIBLE of none. */
export function leastOf(costs: Int32Array): number {
  let least = IMPOSSIBLE
  for (const cost of costs) if (cost < least) least = cost
  return least
}

function addCosts(toGo: Int32Array, costs: Int32Array): void {
  for (let i = 0; i < costs.length; i++) toGo[i] = Math.min(toGo[i]! + costs[i]!, IMPOSSIBLE)
}
