import { IMPOSSIBLE, type Trellis } from './trellis.ts'

/**
 * For every layer, what the best way from each state to the end costs; IMPOSSIBLE where there is none.
 *
 * The backward pass of dynamic programming (Bellman 1957). Everything else is read from it: the best path, the paths near the
 * best, and the layer where no way is left.
 *
 */
export function costsToGo(trellis: Trellis): readonly Int32Array[] {
  const last = trellis.layers - 1
  const toGo: Int32Array[] = new Array(trellis.layers)
  toGo[last] = trellis.end
  for (let layer = last - 1; layer >= 0; layer--) {
    const into = new Int32Array(trellis.size(layer))
    trellis.stepBack(layer, toGo[layer + 1]!, into)
    toGo[layer] = into
  }
  return toGo
}

/** The cost of the best path; IMPOSSIBLE if there is none. */
export function leastCost(trellis: Trellis, toGo: readonly Int32Array[]): number {
  const first = toGo[0]!
  let least = IMPOSSIBLE
  for (let state = 0; state < first.length; state++) {
    const cost = trellis.start[state]! + first[state]!
    if (cost < least) least = cost
  }
  return least
}

/**
 * The best path, one state per layer; `undefined` if there is none. Among equals the one whose states have the smallest ranks,
 * earlier layers first.
 */
export function bestPath(trellis: Trellis, toGo: readonly Int32Array[]): readonly number[] | undefined {
  const least = leastCost(trellis, toGo)
  if (least >= IMPOSSIBLE) return undefined
  let state = -1
  for (let s = 0; s < trellis.start.length; s++) {
    if (trellis.start[s]! + toGo[0]![s]! !== least) continue
    if (state < 0 || trellis.rank(0, s) < trellis.rank(0, state)) state = s
  }
  const path = [state]
  for (let layer = 0; layer + 1 < trellis.layers; layer++) {
    const wanted = toGo[layer]![state]!
    let best = -1
    trellis.successors(layer, state, (next, cost) => {
      if (cost + toGo[layer + 1]![next]! !== wanted) return
      if (best < 0 || trellis.rank(layer + 1, next) < trellis.rank(layer + 1, best)) best = next
    })
    if (best < 0) throw new RangeError(`the steps of layer ${layer} do not agree with its reverse step`)
    path.push(best)
    state = best
  }
  return path
}

/**
 * The last layer from which no way leads to the end, or the first layer if only its beginnings fail; `undefined` if there is a
 * path. What follows it can be played, so the cause lies at it or at the step behind it.
 */
export function deadLayer(trellis: Trellis, toGo: readonly Int32Array[]): number | undefined {
  if (leastCost(trellis, toGo) < IMPOSSIBLE) return undefined
  for (let layer = trellis.layers - 1; layer > 0; layer--) {
    if (toGo[layer]!.every((cost) => cost >= IMPOSSIBLE)) return layer
  }
  return 0
}
