import { Heap } from './heap.ts'
import { lossToClose } from './least-through.ts'
import type { NearGraph } from './near-graph.ts'

/** The labels of a path up to a layer, and all states that they may stand in. */
interface Prefix {
  readonly layer: number
  readonly label: number
  /** near states, rising, and what the best path to each loses; in a loop each first state by itself */
  readonly states: readonly number[]
  readonly firsts: readonly number[]
  readonly losses: readonly number[]
  /** of each state, the index of the state before it */
  readonly came: readonly number[]
  readonly before: Prefix | undefined
  /** the least of the losses: what the cheapest way to go on from here loses */
  readonly bound: number
  /** in order of making */
  readonly number: number
}

/**
 * The best paths of a near graph with different labels, cheapest first: each as near states with what it loses. Paths with equal labels
 * are one, in its cheapest states.
 *
 * Best first over prefixes of labels, each with all the states that it may stand in (determinising on the fly, as in n-best strings:
 * Mohri & Riley 2002, cited from memory). Every state goes on at no loss, so a prefix's own loss is an exact bound; in a loop it is
 * that and the way back to where it began. Among equal bounds the longer prefix comes first.
 *
 * @param extra  in a loop, what closing from a last to a first state loses beyond what its end has paid
 */
export function* bestPaths(
  near: NearGraph,
  extra?: (last: number, first: number) => number,
): Generator<{ readonly states: readonly number[]; readonly loss: number }> {
  const queue = new Heap<Prefix>(
    (a, b) => (a.bound - b.bound || b.layer - a.layer || a.label - b.label || a.number - b.number) < 0,
  )
  let made = 0
  const waysBack = new Map<number, readonly Float64Array[]>()
  /** what the best way on from a state loses */
  const toCome = (layer: number, state: number, begin: number): number => {
    if (!extra) return 0
    const known = waysBack.get(begin) ?? lossToClose(near, begin, extra)
    waysBack.set(begin, known)
    return known[layer]![state]!
  }
  const enter = (
    layer: number,
    before: Prefix | undefined,
    ways: readonly { readonly state: number; readonly first: number; readonly loss: number; readonly came: number }[],
  ): void => {
    const byLabel = new Map<number, Map<number, (typeof ways)[number]>>()
    const width = near.states[layer]!.length
    for (const way of ways) {
      if (way.loss + toCome(layer, way.state, way.first) > near.limit) continue
      const label = near.labels[layer]![way.state]!
      const group = byLabel.get(label) ?? new Map()
      byLabel.set(label, group)
      const key = extra ? way.first * width + way.state : way.state
      const rival = group.get(key)
      if (!rival || way.loss < rival.loss) group.set(key, way)
    }
    for (const [label, group] of byLabel) {
      const all = [...group.values()].sort((a, b) => a.state - b.state || a.first - b.first)
      queue.push({
        layer,
        label,
        states: all.map(({ state }) => state),
        firsts: all.map(({ first }) => first),
        losses: all.map(({ loss }) => loss),
        came: all.map(({ came }) => came),
        before,
        bound: all.reduce(
          (least, { state, first, loss }) => Math.min(least, loss + toCome(layer, state, first)),
          Number.POSITIVE_INFINITY,
        ),
        number: made++,
      })
    }
  }
  enter(
    0,
    undefined,
    Array.from(near.start, (loss, state) => ({ state, first: state, loss, came: -1 })),
  )
  const last = near.layers - 1
  for (let prefix = queue.pop(); prefix; prefix = queue.pop()) {
    const { layer, states, firsts, losses, came, before, bound } = prefix
    if (layer > last) {
      yield { states: traced(prefix), loss: bound }
      continue
    }
    if (layer === last) {
      // Closed, it takes its turn once more: closing may lose something.
      const closed = losses.map((loss, i) => loss + (extra ? extra(states[i]!, firsts[i]!) : 0))
      const least = closed.reduce((min, loss) => Math.min(min, loss), Number.POSITIVE_INFINITY)
      if (least > near.limit) continue
      const at = closed.indexOf(least)
      const only = { states: [states[at]!], firsts: [firsts[at]!], losses: [least], came: [came[at]!] }
      queue.push({ ...only, layer: layer + 1, label: prefix.label, before, bound: least, number: made++ })
      continue
    }
    const ways: { state: number; first: number; loss: number; came: number }[] = []
    for (let i = 0; i < states.length; i++) {
      const state = states[i]!
      for (let step = near.first[layer]![state]!; step < near.first[layer]![state + 1]!; step++) {
        const loss = losses[i]! + near.loss[layer]![step]!
        if (loss <= near.limit) ways.push({ state: near.next[layer]![step]!, first: firsts[i]!, loss, came: i })
      }
    }
    enter(layer + 1, prefix, ways)
  }
}

function traced(whole: Prefix): readonly number[] {
  const states = [whole.states[0]!]
  let at = whole.came[0]!
  for (let prefix = whole.before; prefix; prefix = prefix.before) {
    states.push(prefix.states[at]!)
    at = prefix.came[at]!
  }
  return states.reverse()
}
