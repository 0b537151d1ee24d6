import type { CostsToGo } from './cost-to-go.ts'
import { IMPOSSIBLE, type Trellis } from './trellis.ts'

/**
 * The states and steps on some path within a limit of the best one, numbered anew in the order of their ranks.
 *
 * Each step gets the *loss* `cost + toGo[next] - toGo[state]`; the losses along a path add up to its distance above the optimum.
 */
export class NearGraph {
  readonly limit: number
  readonly layers: number
  /** per layer, the trellis' states */
  readonly states: readonly Int32Array[]
  /** per layer and state, its label */
  readonly labels: readonly Int32Array[]
  /** per layer but the last: the steps of state i are `first[i]` to `first[i + 1]`, with where they go and what they lose */
  readonly first: readonly Int32Array[]
  readonly next: readonly Int32Array[]
  readonly loss: readonly Int32Array[]
  /** what beginning in each state of layer 0 loses */
  readonly start: Int32Array
  /** how many steps there are */
  readonly steps: number
  /** there were more than it may have, and it ends where they were: nothing but `steps` is of use then */
  readonly isCut: boolean
  /** per layer and state: what the best path through it loses in all */
  readonly through: readonly Int32Array[]

  /** @param most  steps that it may have, a layer's more perhaps */
  constructor(
    trellis: Trellis,
    { at, base }: CostsToGo,
    optimum: number,
    limit: number,
    most = Number.POSITIVE_INFINITY,
  ) {
    this.limit = limit
    this.layers = trellis.layers
    const states: Int32Array[] = []
    const labels: Int32Array[] = []
    const through: Int32Array[] = []
    const firsts: Int32Array[] = []
    const nexts: Int32Array[] = []
    const losses: Int32Array[] = []
    const number = (layer: number, found: readonly number[], reached: Int32Array): Int32Array => {
      const ranks = found.map((state) => trellis.rank(layer, state))
      const order = found.map((_, i) => i).sort((a, b) => ranks[a]! - ranks[b]!)
      const sorted = Int32Array.from(order, (i) => found[i]!)
      states.push(sorted)
      labels.push(sorted.map((state) => trellis.label(layer, state)))
      through.push(sorted.map((state) => reached[state]!))
      return sorted
    }
    // Forward: the least loss to reach each state; what is beyond the limit is not followed. The arrays serve all layers, and only
    // what was touched is made good: most states are never near.
    let widest = 0
    for (let layer = 0; layer < trellis.layers; layer++) widest = Math.max(widest, trellis.size(layer))
    let reached = new Int32Array(widest).fill(IMPOSSIBLE)
    let behind = new Int32Array(widest).fill(IMPOSSIBLE)
    const index = new Int32Array(widest)
    let found: number[] = []
    for (let state = 0; state < trellis.start.length; state++) {
      const loss = trellis.start[state]! + at[0]![state]! + base[0]! - optimum
      if (loss > limit) continue
      reached[state] = loss
      found.push(state)
    }
    let here = number(0, found, reached)
    this.start = Int32Array.from(here, (state) => reached[state]!)
    const steps = new Steps()
    let all = 0
    for (let layer = 0; layer + 1 < trellis.layers && all <= most; layer++) {
      const costs = at[layer]!
      const after = at[layer + 1]!
      const more = base[layer]! - base[layer + 1]!
      const first = new Int32Array(here.length + 1)
      found = []
      steps.count = 0
      // One closure for all states of the layer: they are many, and short.
      let sofar = 0
      let paid = 0
      const follow = (state: number, cost: number) => {
        const lost = cost + after[state]! - paid
        if (sofar + lost > limit) return
        steps.add(state, lost)
        if (behind[state]! === IMPOSSIBLE) found.push(state)
        if (behind[state]! > sofar + lost) behind[state] = sofar + lost
      }
      for (let i = 0; i < here.length; i++) {
        sofar = reached[here[i]!]!
        paid = costs[here[i]!]! + more
        trellis.successors(layer, here[i]!, follow, after, limit - sofar + paid)
        first[i + 1] = steps.count
      }
      all += steps.count
      for (const state of here) reached[state] = IMPOSSIBLE
      here = number(layer + 1, found, behind)
      for (let i = 0; i < here.length; i++) index[here[i]!] = i
      steps.renumber(index)
      for (let i = 0; i + 1 < first.length; i++) steps.sort(first[i]!, first[i + 1]!)
      firsts.push(first)
      nexts.push(steps.next.slice(0, steps.count))
      losses.push(steps.loss.slice(0, steps.count))
      const emptied = reached
      reached = behind
      behind = emptied
    }
    this.steps = all
    this.isCut = all > most
    this.states = states
    this.labels = labels
    this.through = through
    this.first = firsts
    this.next = nexts
    this.loss = losses
  }
}

/** The steps of a layer while they are gathered: where each goes and what it loses. */
class Steps {
  next = new Int32Array(1024)
  loss = new Int32Array(1024)
  count = 0

  add(next: number, loss: number): void {
    if (this.count === this.next.length) {
      const [nexts, losses] = [this.next, this.loss]
      this.next = new Int32Array(2 * this.count)
      this.loss = new Int32Array(2 * this.count)
      this.next.set(nexts)
      this.loss.set(losses)
    }
    this.next[this.count] = next
    this.loss[this.count++] = loss
  }

  renumber(index: Int32Array): void {
    for (let i = 0; i < this.count; i++) this.next[i] = index[this.next[i]!]!
  }

  /** Sorts those from one state by where they go; they are few, and mostly in order. */
  sort(from: number, to: number): void {
    const { next, loss } = this
    for (let i = from + 1; i < to; i++) {
      const state = next[i]!
      const lost = loss[i]!
      let at = i
      for (; at > from && next[at - 1]! > state; at--) {
        next[at] = next[at - 1]!
        loss[at] = loss[at - 1]!
      }
      next[at] = state
      loss[at] = lost
    }
  }
}
