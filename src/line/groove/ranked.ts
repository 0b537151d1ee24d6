import { Heap } from '../../search/heap.ts'
import { IMPOSSIBLE } from '../../search/trellis.ts'
import type { Pairing } from './pairing.ts'

/** A pairing and what it costs at least wherever it is played. */
export interface Ranked {
  readonly pairing: Pairing
  readonly bound: number
}

/**
 * Pairings in the order of a bound, found as they are asked for: from an order by a bound that is never above it and quicker to know, so that
 * few need the closer one.
 */
export class RankedList {
  readonly #quicker: { at(rank: number): Ranked | undefined }
  #most: number
  readonly #closer: (pairing: Pairing, most: number) => number
  readonly #refined = new Heap<Ranked>(
    (a, b) => a.bound < b.bound || (a.bound === b.bound && a.pairing.row < b.pairing.row),
  )
  readonly #found: Ranked[] = []
  #next = 0

  /**
   * @param most    what costs more is left out
   * @param closer  the closer bound; IMPOSSIBLE will do where it is above `most`
   */
  constructor(
    quicker: { at(rank: number): Ranked | undefined },
    most: number,
    closer: (pairing: Pairing, most: number) => number,
  ) {
    this.#quicker = quicker
    this.#most = most
    this.#closer = closer
  }

  /** From here on, what costs more is left out too. */
  limitTo(most: number): void {
    this.#most = Math.min(this.#most, most)
  }

  /** The pairing with a rank, from 0; `undefined` after the last. */
  at(rank: number): Ranked | undefined {
    while (this.#found.length <= rank) {
      const waiting = this.#quicker.at(this.#next)
      if (waiting && waiting.bound <= Math.min(this.#most, this.#refined.first?.bound ?? IMPOSSIBLE)) {
        const bound = this.#closer(waiting.pairing, this.#most)
        if (bound < IMPOSSIBLE && bound <= this.#most) this.#refined.push({ pairing: waiting.pairing, bound })
        this.#next++
        continue
      }
      const first = this.#refined.pop()
      if (!first || first.bound > this.#most) return undefined
      this.#found.push(first)
    }
    return this.#found[rank]
  }
}
