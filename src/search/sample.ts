import type { NearGraph } from './near-graph.ts'

/** 2^32: chance is a share of it. */
const WHOLE = 4294967296

/** Tries for a loop that closes before drawing is given up. */
const MOST_TRIES = 4000

/**
 * The factor that `points` of which halve the likelihood: r with r^points = 1/2.
 *
 * By Newton's method with + − × ÷ only, whose results are the same on every machine; powers and logarithms may differ in the last bit
 * between engines (ECMA-262 leaves them approximate).
 *
 * @param halfPoints  twice the points that halve the likelihood, a whole number >= 1
 */
export function halvingFactor(halfPoints: number): number {
  // r^halfPoints = 1/4.
  let root = 0.75
  for (let round = 0; round < 64; round++) {
    let power = 1
    for (let i = 1; i < halfPoints; i++) power *= root
    root = ((halfPoints - 1) * root + 0.25 / power) / halfPoints
  }
  return root
}

/**
 * Draws paths of a near graph, each as likely as `factor` to the power of what it loses: exact sampling by a backward filter and a
 * forward draw (Rabiner 1989 for the filter; cited from memory). Every note drawn lies on some path within the graph's limit.
 *
 * Weights are kept in range by powers of two, which lose no bit; sums run in a fixed order. So equal chance draws equal paths on every
 * machine.
 */
export class Sampler {
  readonly #near: NearGraph
  readonly #powers: Float64Array
  /** per layer and state, the weight of all that may follow */
  readonly #weights: readonly Float64Array[]

  constructor(near: NearGraph, factor: number) {
    this.#near = near
    const powers = new Float64Array(near.limit + 1)
    powers[0] = 1
    for (let loss = 1; loss <= near.limit; loss++) powers[loss] = powers[loss - 1]! * factor
    this.#powers = powers
    const weights: Float64Array[] = new Array(near.layers)
    weights[near.layers - 1] = new Float64Array(near.states.at(-1)!.length).fill(1)
    for (let layer = near.layers - 2; layer >= 0; layer--) {
      const after = weights[layer + 1]!
      const first = near.first[layer]!
      const next = near.next[layer]!
      const loss = near.loss[layer]!
      const here = new Float64Array(near.states[layer]!.length)
      let most = 0
      for (let state = 0; state < here.length; state++) {
        let sum = 0
        for (let i = first[state]!; i < first[state + 1]!; i++) sum += powers[loss[i]!]! * after[next[i]!]!
        here[state] = sum
        if (sum > most) most = sum
      }
      let scale = 1
      while (most * scale > 1) scale /= 2
      for (let state = 0; state < here.length; state++) here[state]! *= scale
      weights[layer] = here
    }
    this.#weights = weights
  }

  /**
   * A path, as states of the near graph.
   *
   * @param random  numbers from 0 up to but not with 2^32
   * @param extra   in a loop, what closing from a last to a first state loses beyond what its end has paid
   * @returns       `undefined` if no loop was drawn that closes
   */
  draw(random: () => number, extra?: (last: number, first: number) => number): readonly number[] | undefined {
    for (let tries = 0; tries < MOST_TRIES; tries++) {
      const path = this.#open(random)
      if (!extra) return path
      // A loop is kept as likely as its closing is cheap, which makes loops come as often as their whole losses ask.
      const lost = extra(path.at(-1)!, path[0]!)
      if (lost <= this.#near.limit && random() < this.#powers[lost]! * WHOLE) return path
    }
    return undefined
  }

  #open(random: () => number): readonly number[] {
    const near = this.#near
    const start = this.#weights[0]!
    const powers = this.#powers
    let state = pick(random, start.length, (i) => powers[near.start[i]!]! * start[i]!)
    const path = [state]
    for (let layer = 0; layer + 1 < near.layers; layer++) {
      const after = this.#weights[layer + 1]!
      const from = near.first[layer]![state]!
      const next = near.next[layer]!
      const loss = near.loss[layer]!
      const chosen = pick(random, near.first[layer]![state + 1]! - from, (i) => {
        return powers[loss[from + i]!]! * after[next[from + i]!]!
      })
      state = next[from + chosen]!
      path.push(state)
    }
    return path
  }
}

/** One of `count` by weight. */
function pick(random: () => number, count: number, weightOf: (index: number) => number): number {
  let total = 0
  for (let i = 0; i < count; i++) total += weightOf(i)
  const mark = (random() / WHOLE) * total
  let sum = 0
  for (let i = 0; i < count; i++) {
    sum += weightOf(i)
    if (mark < sum) return i
  }
  return count - 1
}
