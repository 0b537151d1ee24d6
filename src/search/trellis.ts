/**
 * A layered graph seen only through functions: layers of numbered states, a cost for beginning in a state, for each step
 * from a layer to the next, and for ending. Whoever knows what a state means keeps that to himself.
 *
 * All costs are whole numbers >= 0; a cost of {@link IMPOSSIBLE} or more means that there is no such state or step.
 */
export interface Trellis {
  /** number of layers, >= 1 */
  readonly layers: number
  /** number of states of a layer */
  size(layer: number): number
  /** cost of beginning in each state of layer 0 */
  readonly start: Int32Array
  /** cost of ending in each state of the last layer, on top of the steps */
  readonly end: Int32Array
  /**
   * The reverse step. `next[s']` is what it costs to get from state s' of `layer + 1` to the end; fills `into[s]` with
   * the least of step(s, s') + next[s'], or IMPOSSIBLE.
   */
  stepBack(layer: number, next: Int32Array, into: Int32Array): void
  /** Equal for reverse steps that are one and the same function, in this trellis or in another; absent where nobody knows. */
  stepKey?(layer: number): string
  /**
   * Visits the states of `layer + 1` that can follow `state`, each with the cost of the step. Given what each of them costs to the end,
   * those with which that comes to more than `most` may be left out.
   */
  successors(
    layer: number,
    state: number,
    visit: (next: number, cost: number) => void,
    toGo?: Int32Array,
    most?: number,
  ): void
  /** The order between states of equal cost: the smaller rank wins. Distinct for states that are told apart. */
  rank(layer: number, state: number): number
  /** What two paths are compared by: states with equal labels count as the same choice. */
  label(layer: number, state: number): number
}

/** No way through. Small enough that the sum of a few still fits 32 bits. */
export const IMPOSSIBLE = 1 << 28
