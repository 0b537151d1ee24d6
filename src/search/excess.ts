import { leastCost } from './cost-to-go.ts'
import { IMPOSSIBLE, type Trellis } from './trellis.ts'

/** What a path besides the best one has to obey. */
export interface Demands {
  /** Paths to differ from, one label per layer, each with the most layers at which the labels may be the same. */
  readonly others: readonly { readonly labels: readonly number[]; readonly most: number }[]
  /**
   * The path is a loop: what the step from a last state back to a first state costs, IMPOSSIBLE where there is none. The
   * trellis must then end each last state with the least of these over all first states.
   */
  readonly closing: ((last: number, first: number) => number) | undefined
}

/** The best path under demands. */
export type Found =
  | { readonly kind: 'path'; readonly path: readonly number[]; readonly cost: number }
  /** there is none, at any cost up to the last limit tried */
  | { readonly kind: 'none' }
  /** the labels outgrew their cap before an answer was proven */
  | { readonly kind: 'too-many' }

/** A partial path: where it is, what it lost so far, how often it agreed with each of the others. */
interface Label {
  readonly state: number
  readonly loss: number
  readonly agreed: readonly number[]
  readonly before: Label | undefined
}

const MOST_LABELS = 400_000

/**
 * The graph of the paths near the best one.
 *
 * Each step gets the *loss* `cost + toGo[next] - toGo[state]`; the losses along a path add up to its distance above the
 * optimum. Only states and steps within a limit are ever looked at, and demands on the whole path (be different from those, close
 * the loop) are resources of a shortest-path problem on what remains (resource-constrained shortest path, Handler & Zang 1980,
 * cited from memory). The limit rises until an answer within it exists; that answer is the exact optimum.
 */
export class ExcessGraph {
  readonly optimum: number
  readonly #trellis: Trellis
  readonly #toGo: readonly Int32Array[]
  readonly #steps: Map<number, { readonly next: Int32Array; readonly loss: Int32Array }>[]
  #limit = -1

  constructor(trellis: Trellis, toGo: readonly Int32Array[]) {
    this.#trellis = trellis
    this.#toGo = toGo
    this.#steps = toGo.map(() => new Map())
    this.optimum = leastCost(trellis, toGo)
  }

  /**
   * The cheapest path under `demands`, ties by rank.
   *
   * @param limits  distances above the optimum to try in turn, rising
   */
  cheapest(demands: Demands, limits: readonly number[]): Found {
    if (this.optimum >= IMPOSSIBLE) return { kind: 'none' }
    for (const limit of limits) {
      const found = this.#within(demands, limit)
      if (found.kind !== 'none') return found
    }
    return { kind: 'none' }
  }

  #within(demands: Demands, limit: number): Found {
    this.#reach(limit)
    const starts = this.#starts(limit)
    if (!demands.closing) return this.#sweep(demands, starts, limit)
    // A loop: each first state is a problem of its own; the better its bound, the earlier it is tried.
    let best: Found = { kind: 'none' }
    let bound = limit
    for (const start of starts) {
      if (best.kind === 'path' && start.loss >= best.cost - this.optimum) break
      const found = this.#sweep(demands, [start], bound)
      if (found.kind === 'too-many') return found
      if (found.kind === 'path' && (best.kind !== 'path' || found.cost < best.cost)) {
        best = found
        bound = found.cost - this.optimum - 1
      }
    }
    return best
  }

  /** Forgets the steps kept for a smaller limit. */
  #reach(limit: number): void {
    if (limit <= this.#limit) return
    this.#limit = limit
    for (const steps of this.#steps) steps.clear()
  }

  #starts(limit: number): Label[] {
    const { start } = this.#trellis
    const starts: Label[] = []
    for (let state = 0; state < start.length; state++) {
      const loss = start[state]! + this.#toGo[0]![state]! - this.optimum
      if (loss <= limit) starts.push({ state, loss, agreed: [], before: undefined })
    }
    return starts.sort((a, b) => a.loss - b.loss || this.#trellis.rank(0, a.state) - this.#trellis.rank(0, b.state))
  }

  /** The steps from a state that lose no more than the limit, the smaller rank first. */
  #stepsFrom(layer: number, state: number): { readonly next: Int32Array; readonly loss: Int32Array } {
    const known = this.#steps[layer]!.get(state)
    if (known) return known
    const here = this.#toGo[layer]![state]!
    const after = this.#toGo[layer + 1]!
    const steps: { next: number; loss: number }[] = []
    this.#trellis.successors(layer, state, (next, cost) => {
      const loss = cost + after[next]! - here
      if (loss <= this.#limit) steps.push({ next, loss })
    })
    steps.sort((a, b) => this.#trellis.rank(layer + 1, a.next) - this.#trellis.rank(layer + 1, b.next))
    const kept = {
      next: Int32Array.from(steps, (step) => step.next),
      loss: Int32Array.from(steps, (step) => step.loss),
    }
    this.#steps[layer]!.set(state, kept)
    return kept
  }

  /** One forward sweep of labels, layer by layer. */
  #sweep(demands: Demands, starts: readonly Label[], limit: number): Found {
    const trellis = this.#trellis
    const last = trellis.layers - 1
    const agree = (agreed: readonly number[], layer: number, state: number): number[] | undefined => {
      const label = demands.others.length > 0 ? trellis.label(layer, state) : 0
      const sums: number[] = []
      for (const [i, other] of demands.others.entries()) {
        const sum = (agreed[i] ?? 0) + (other.labels[layer] === label ? 1 : 0)
        if (sum > other.most) return undefined
        sums.push(sum)
      }
      return sums
    }
    let labels = 0
    let front = new Map<number, Label[]>()
    for (const start of starts) {
      if (start.loss > limit) continue
      const agreed = agree([], 0, start.state)
      if (agreed) enter(front, { ...start, agreed })
    }
    for (let layer = 0; layer < last; layer++) {
      const behind = new Map<number, Label[]>()
      for (const [state, ways] of front) {
        const { next, loss } = this.#stepsFrom(layer, state)
        for (const way of ways) {
          for (let i = 0; i < next.length; i++) {
            const total = way.loss + loss[i]!
            if (total > limit) continue
            const agreed = agree(way.agreed, layer + 1, next[i]!)
            if (agreed && enter(behind, { state: next[i]!, loss: total, agreed, before: way })) labels++
          }
        }
        if (labels > MOST_LABELS) return { kind: 'too-many' }
      }
      front = behind
    }
    let best: Label | undefined
    let least = limit + 1
    for (const ways of front.values()) {
      for (const way of ways) {
        const loss = way.loss + (demands.closing ? this.#closingLoss(demands.closing, way) : 0)
        if (loss > limit) continue
        if (
          loss < least ||
          (best && loss === least && trellis.rank(last, way.state) < trellis.rank(last, best.state))
        ) {
          best = way
          least = loss
        }
      }
    }
    if (!best) return { kind: 'none' }
    const path: number[] = []
    for (let way: Label | undefined = best; way; way = way.before) path.push(way.state)
    return { kind: 'path', path: path.reverse(), cost: this.optimum + least }
  }

  /** What closing the loop costs above the least closing that the bound has already paid. */
  #closingLoss(closing: (last: number, first: number) => number, way: Label): number {
    let first = way
    while (first.before) first = first.before
    return closing(way.state, first.state) - this.#trellis.end[way.state]!
  }
}

/** Adds a way unless another of its state loses no more and agreed no more; drops those that it beats in the same sense. */
function enter(front: Map<number, Label[]>, way: Label): boolean {
  const ways = front.get(way.state)
  if (!ways) {
    front.set(way.state, [way])
    return true
  }
  for (const other of ways) if (beats(other, way)) return false
  let kept = 0
  for (const other of ways) if (!beats(way, other)) ways[kept++] = other
  ways.length = kept
  ways.push(way)
  return true
}

function beats(a: Label, b: Label): boolean {
  if (a.loss > b.loss) return false
  for (let i = 0; i < a.agreed.length; i++) if (a.agreed[i]! > b.agreed[i]!) return false
  return true
}
