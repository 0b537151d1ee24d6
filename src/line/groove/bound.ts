import { IMPOSSIBLE } from '../../search/trellis.ts'
import type { LaidBar } from './bar.ts'
import type { Steps } from './steps.ts'
import type { PitchedBar } from './voice.ts'
import type { Stance, VoicedBar } from './voiced.ts'

/** What a bar may be. */
interface Choice {
  readonly bars: readonly LaidBar[]
}

/** Nothing to pay after a step. */
const ZEROS = new Int32Array(4096)

/** Bounds from below on what bars cost on the neck: each by itself, free to begin anywhere, and with the step into the bar after. */
export class Bounds {
  readonly #steps: Steps
  readonly #homes: readonly number[]
  readonly #scratches = [new Int32Array(1024), new Int32Array(1024), new Int32Array(1024)]
  /** by what a bar may be: least costs inside it by stance, without and with a push before it */
  readonly #ofChoices = new Map<readonly LaidBar[], number[]>()
  /** by bar and where its roots lie: least costs inside it by home, from its first note and from its second */
  readonly #ofBars = new Map<LaidBar, Map<number, readonly number[]>>()

  constructor(steps: Steps) {
    this.#steps = steps
    this.#homes = steps.voicer.neck.homes()
  }

  /**
   * The least that a bar costs inside in a stance, free to begin anywhere.
   *
   * @param mayPush  a push before it may take its downbeat away
   */
  inner({ bars }: Choice, stance: Stance, mayPush: boolean): number {
    let known = this.#ofChoices.get(bars)
    if (!known) {
      known = []
      this.#ofChoices.set(bars, known)
    }
    const at = 2 * (stance.zone * this.#homes.length + this.#homes.indexOf(stance.home)) + Number(mayPush)
    const least =
      known[at] ?? bars.reduce((sum, laid) => Math.min(sum, this.innerOf(laid, stance, mayPush)), IMPOSSIBLE)
    known[at] = least
    return least
  }

  /** The same for one way to lay a bar. */
  innerOf(laid: LaidBar, stance: Stance, mayPush: boolean): number {
    const inner = this.#inner(laid, stance, mayPush)
    const due = this.#mayBeDue(laid) ? this.#inner(this.#steps.dueOf(laid), stance, false) : IMPOSSIBLE
    return laid.points + Math.min(inner, due)
  }

  /** The same with the step into the bar after; `undefined`: there is none. */
  seam({ bars }: Choice, next: Choice | undefined, stance: Stance, mayPush: boolean): number {
    if (bars.some((laid) => this.#mayBeDue(laid)) || next?.bars.some((laid) => this.#mayBeDue(laid)))
      return this.inner({ bars }, stance, mayPush)
    if (!next) return this.inner({ bars }, stance, mayPush)
    const after = next.bars.map((laid) => this.#steps.voicer.voice(laid, stance))
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

  #inner(laid: LaidBar, { zone, home }: Stance, mayPush: boolean): number {
    const { voicer } = this.#steps
    let known = this.#ofBars.get(laid)
    if (!known) {
      known = new Map()
      this.#ofBars.set(laid, known)
    }
    const key = voicer.anchorKey(laid, zone)
    let costs = known.get(key)
    if (!costs) {
      // Most bars are looked at no further, so nothing but the sums is kept of them.
      const pitched = voicer.pitch(laid, zone)
      costs = this.#homes.flatMap((at) => this.#within(pitched, at))
      known.set(key, costs)
    }
    const at = 2 * this.#homes.indexOf(home)
    return mayPush ? Math.min(costs[at]!, costs[at + 1]!) : costs[at]!
  }

  /** The least inside a bar from its first note, and from the second where a push has taken its downbeat. */
  #within(bar: PitchedBar, home: number): readonly [number, number] {
    const steps = this.#steps
    const { slots } = bar
    const pushed = firstSlot(bar, 1)
    let [unpushed, afterPush] = [0, 0]
    let toGo = this.#scratch(0, 0)
    for (let slot = slots.length - 1; slot >= 0; slot--) {
      const here = slots[slot]!
      const { length } = here.grips
      const own = this.#scratch(2, length)
      steps.voicer.homeCosts(bar, here, home, own)
      const costs = this.#scratch(slot & 1, length)
      const next = slots[slot + 1]
      costs.fill(next ? IMPOSSIBLE : 0, 0, length)
      if (next) steps.backBound(here, next, steps.inBar(bar, slot), toGo, costs)
      addCosts(costs, own, length)
      toGo = costs
      if (slot === pushed) afterPush = leastOf(toGo, length)
      if (slot === 0) unpushed = leastOf(toGo, length)
    }
    return [unpushed, afterPush]
  }

  /** The least from anywhere at the start of a bar into any of the bars after it. */
  #window(bar: VoicedBar, pushed: 0 | 1, after: readonly VoicedBar[]): number {
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

  #windowInto(bar: VoicedBar, first: number, next: VoicedBar): number {
    if (first >= bar.slots.length) return 0
    const steps = this.#steps
    const last = bar.slots.at(-1)!
    let toGo = this.#scratch(bar.slots.length & 1, last.grips.length)
    const begin = firstSlot(next, bar.laid.tiedOver ? 1 : 0)
    const isLed = begin < next.slots.length && !bar.laid.context.silenceAfter
    toGo.fill(isLed ? IMPOSSIBLE : 0, 0, last.grips.length)
    if (isLed) {
      const way = steps.over(bar, { bar: next, first: begin, passed: 0 })
      steps.backBound(last, next.slots[begin]!, way, ZEROS, toGo)
    }
    addCosts(toGo, last.costs, last.grips.length)
    for (let slot = bar.slots.length - 2; slot >= first; slot--) {
      const here = bar.slots[slot]!
      const { length } = here.grips
      const costs = this.#scratch((slot + 1) & 1, length).fill(IMPOSSIBLE, 0, length)
      steps.backBound(here, bar.slots[slot + 1]!, steps.inBar(bar, slot), toGo, costs)
      addCosts(costs, here.costs, length)
      toGo = costs
    }
    return leastOf(toGo, bar.slots[first]!.grips.length)
  }

  /** A stretch of memory at least so long that is used again, so that nothing is made for each slot. */
  #scratch(which: number, length: number): Int32Array {
    if (this.#scratches[which]!.length < length) this.#scratches[which] = new Int32Array(2 * length)
    return this.#scratches[which]!
  }
}

/** The first slot that sounds: the second where a push has taken the downbeat. */
export function firstSlot(bar: PitchedBar | VoicedBar, pushed: 0 | 1): number {
  return pushed === 1 && bar.slots[0]?.laid.onset.tick === 0 ? 1 : 0
}

/** The least of the first so many costs; IMPOSSIBLE of none. */
export function leastOf(costs: Int32Array, length = costs.length): number {
  let least = IMPOSSIBLE
  for (let i = 0; i < length; i++) if (costs[i]! < least) least = costs[i]!
  return least
}

function addCosts(toGo: Int32Array, costs: Int32Array, length: number): void {
  for (let i = 0; i < length; i++) toGo[i] = Math.min(toGo[i]! + costs[i]!, IMPOSSIBLE)
}
