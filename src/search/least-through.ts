import type { NearGraph } from './near-graph.ts'

/**
 * Per layer of a near graph, what the best path with each label there loses: exact for every label that is listed; one that is
 * not loses more than the graph's limit.
 *
 * @param extra  in a loop, what closing from a last to a first state loses beyond what its end has paid
 */
export function leastThrough(
  near: NearGraph,
  extra?: (last: number, first: number) => number,
): readonly ReadonlyMap<number, number>[] {
  const least = near.labels.map(() => new Map<number, number>())
  const take = (layer: number, state: number, loss: number): void => {
    if (loss > near.limit) return
    const label = near.labels[layer]![state]!
    const known = least[layer]!.get(label)
    if (known === undefined || loss < known) least[layer]!.set(label, loss)
  }
  if (!extra) {
    for (const [layer, losses] of near.through.entries())
      for (let state = 0; state < losses.length; state++) take(layer, state, losses[state]!)
    return least
  }
  // Each beginning is a problem of its own: once forwards, once backwards.
  const last = near.layers - 1
  for (let begin = 0; begin < near.start.length; begin++) {
    const toCome = lossToClose(near, begin, extra)
    if (near.start[begin]! + toCome[0]![begin]! > near.limit) continue
    let sofar = new Float64Array(near.start.length).fill(Number.POSITIVE_INFINITY)
    sofar[begin] = near.start[begin]!
    for (let layer = 0; layer <= last; layer++) {
      for (let state = 0; state < sofar.length; state++) take(layer, state, sofar[state]! + toCome[layer]![state]!)
      if (layer === last) break
      const next = new Float64Array(near.states[layer + 1]!.length).fill(Number.POSITIVE_INFINITY)
      const first = near.first[layer]!
      for (let state = 0; state < sofar.length; state++) {
        if (sofar[state]! > near.limit) continue
        for (let i = first[state]!; i < first[state + 1]!; i++) {
          const to = near.next[layer]![i]!
          next[to] = Math.min(next[to]!, sofar[state]! + near.loss[layer]![i]!)
        }
      }
      sofar = next
    }
  }
  return least
}

/**
 * The path with given labels that loses least, as near states; `undefined` if the graph has none.
 *
 * @param extra  as above
 */
export function leastWith(
  near: NearGraph,
  labels: readonly number[],
  extra?: (last: number, first: number) => number,
): { readonly states: readonly number[]; readonly loss: number } | undefined {
  const at = labels.map((label, layer) =>
    Array.from(near.labels[layer]!.keys()).filter((state) => near.labels[layer]![state] === label),
  )
  let best: { states: readonly number[]; loss: number } | undefined
  for (const begins of extra ? at[0]!.map((state) => [state]) : [at[0]!]) {
    const came: Int32Array[] = []
    let sofar = new Float64Array(near.start.length).fill(Number.POSITIVE_INFINITY)
    for (const state of begins) sofar[state] = near.start[state]!
    for (let layer = 0; layer + 1 < near.layers; layer++) {
      const next = new Float64Array(near.states[layer + 1]!.length).fill(Number.POSITIVE_INFINITY)
      const from = new Int32Array(next.length).fill(-1)
      for (const state of at[layer]!) {
        for (let i = near.first[layer]![state]!; i < near.first[layer]![state + 1]!; i++) {
          const to = near.next[layer]![i]!
          const loss = sofar[state]! + near.loss[layer]![i]!
          if (near.labels[layer + 1]![to] !== labels[layer + 1] || loss >= next[to]!) continue
          next[to] = loss
          from[to] = state
        }
      }
      came.push(from)
      sofar = next
    }
    for (const state of at.at(-1)!) {
      const loss = sofar[state]! + (extra ? extra(state, begins[0]!) : 0)
      if (!(loss < (best?.loss ?? Number.POSITIVE_INFINITY))) continue
      const states = [state]
      for (let layer = near.layers - 2; layer >= 0; layer--) states.push(came[layer]![states.at(-1)!]!)
      best = { states: states.reverse(), loss }
    }
  }
  return best
}

/** Per layer and state, what the best way back to a first state loses, closing included. */
export function lossToClose(
  near: NearGraph,
  begin: number,
  extra: (last: number, first: number) => number,
): readonly Float64Array[] {
  const last = near.layers - 1
  const toCome: Float64Array[] = near.states.map((states) => new Float64Array(states.length))
  for (let state = 0; state < toCome[last]!.length; state++) toCome[last]![state] = extra(state, begin)
  for (let layer = last - 1; layer >= 0; layer--) {
    const first = near.first[layer]!
    const next = near.next[layer]!
    const loss = near.loss[layer]!
    const after = toCome[layer + 1]!
    for (let state = 0; state < toCome[layer]!.length; state++) {
      let best = Number.POSITIVE_INFINITY
      for (let i = first[state]!; i < first[state + 1]!; i++) {
        const value = loss[i]! + after[next[i]!]!
        if (value < best) best = value
      }
      toCome[layer]![state] = best
    }
  }
  return toCome
}
