import { type CostsToGo, leastCost } from './cost-to-go.ts'
import { IMPOSSIBLE, type Trellis } from './trellis.ts'

/** What a path besides the best one has to obey. */
export interface Demands {
  /** Paths to differ from, one label per layer, each with the most layers at which the labels may be the same. */
  readonly others: readonly { readonly labels: readonly number[]; readonly most: number }[]
  /**
   * The path is a loop: visits the first states that can follow a last state, each with the cost of the step. The trellis must
   * then end each last state with the least of these.
   */
  readonly closing: ((last: number, visit: (first: number, cost: number) => void) => void) | undefined
}

/** The best path under demands. */
export type Found =
  | {
      readonly kind: 'path'
      readonly path: readonly number[]
      readonly cost: number
      /** 0: it is proven the best; else it costs at most this much more than the best */
      readonly provenWithin: number
    }
  /** there is none, at any cost up to the last limit tried */
  | { readonly kind: 'none' }
  /** none was found before the labels outgrew their cap */
  | { readonly kind: 'given-up' }

/** Labels of all sweeps for one path before proving it is given up: about a third of a second. */
const MOST_LABELS = 250_000

/** The same where loops are to differ: each first state is a search of its own, and {@link loopFrom} is the quicker way. */
const MOST_ROUND_LABELS = 60_000

/** Rounds of improving a bound, and of raising its prices until some path obeys. */
const ROUNDS = 16
const RAISES = 8
/** Limits that are tried after proving was given up. */
const ROAMED = 3
/** First notes of a loop that are tried where nothing has to be proven. */
const THRIFTY_STARTS = 12

/**
 * The graph of the paths near the best one.
 *
 * Each step gets the *loss* `cost + toGo[next] - toGo[state]`; the losses along a path add up to its distance above the
 * optimum. Only states and steps within a limit are kept, and demands on the whole path (be different from those, close the loop)
 * are resources of a shortest-path problem on what remains (resource-constrained shortest path, Handler & Zang 1980, cited from
 * memory). A Lagrangian bound, a price on each agreement with another path, tells early which partial paths cannot make it. The
 * limit rises until an answer within it exists; that answer is the exact optimum.
 */
export class ExcessGraph {
  readonly optimum: number
  readonly #trellis: Trellis
  readonly #toGo: CostsToGo
  #near: NearGraph | undefined
  /** how many paths were to be differed from when proving was given up, and within which limit */
  #givenUp: { readonly others: number; readonly limit: number } | undefined

  constructor(trellis: Trellis, toGo: CostsToGo) {
    this.#trellis = trellis
    this.#toGo = toGo
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
      const near = this.#within(limit)
      const bound = near.bound(demands)
      if (bound.least > limit) continue
      // What was given up for fewer demands would be given up for more.
      if (this.#givenUp && demands.others.length > this.#givenUp.others) {
        return this.#roam(demands, limits, this.#givenUp.limit, bound)
      }
      const found = this.#deepen(near, demands, bound, limit)
      if (found.kind === 'given-up' && isRound(demands)) return found
      if (found.kind === 'given-up') {
        this.#givenUp = { others: demands.others.length, limit }
        return this.#roam(demands, limits, limit, bound)
      }
      if (found.kind === 'path') return found
    }
    return { kind: 'none' }
  }

  /** Further from the optimum there are more ways: where nothing is proven any more, some path that obeys is looked for there. */
  #roam(demands: Demands, limits: readonly number[], tried: number, { least }: Bound): Found {
    for (const limit of limits.filter((further) => further > tried).slice(0, ROAMED)) {
      const near = this.#within(limit)
      const path = this.#thrifty(near, demands, near.bound(demands), limit)
      if (!path) continue
      this.#givenUp = { others: demands.others.length, limit: tried }
      return this.#answer(path, Math.max(0, path.loss - Math.max(0, Math.ceil(least))))
    }
    return { kind: 'given-up' }
  }

  #answer(path: NearPath, provenWithin: number): Found {
    return { kind: 'path', path: path.states, cost: this.optimum + path.loss, provenWithin }
  }

  /** The graph up to a limit; a larger one that is there already serves as well. */
  #within(limit: number): NearGraph {
    if (!this.#near || this.#near.limit < limit)
      this.#near = new NearGraph(this.#trellis, this.#toGo, this.optimum, limit)
    return this.#near
  }

  /** Sweeps with a limit that rises from the bound, so that each sweep has little room to spare. */
  #deepen(near: NearGraph, demands: Demands, bound: Bound, limit: number): Found {
    const budget = { labels: isRound(demands) ? MOST_ROUND_LABELS : MOST_LABELS }
    // No path loses less than this.
    let proven = Math.max(0, Math.ceil(bound.least))
    let room = demands.others.length === 0 ? limit : proven
    for (let step = 1; ; step++) {
      const swept = near.sweep(demands, bound, Math.min(room, limit), budget)
      if (swept === 'too-many') {
        if (isRound(demands)) return { kind: 'given-up' }
        const thrifty = this.#thrifty(near, demands, bound, limit)
        return thrifty ? this.#answer(thrifty, Math.max(0, thrifty.loss - proven)) : { kind: 'given-up' }
      }
      if (swept) return this.#answer(swept, 0)
      if (room >= limit) return { kind: 'none' }
      proven = room + 1
      room += step
    }
  }

  /** Some path that obeys, found with one label a state, at prices that rise until agreements are few enough. */
  #thrifty(near: NearGraph, demands: Demands, bound: Bound, limit: number): NearPath | undefined {
    let priced = bound
    for (let raise = 0; raise < RAISES; raise++) {
      const path = near.sweep(demands, priced, limit, 'thrifty')
      if (path && path !== 'too-many') return path
      priced = near.dearer(demands, priced)
    }
    return undefined
  }
}

/** Loops that are to differ from others. */
function isRound({ others, closing }: Demands): boolean {
  return closing !== undefined && others.length > 0
}

/** The loops that begin in one state of the first layer, as plain paths: what closes them is paid at their end. */
export function loopFrom(trellis: Trellis, closing: NonNullable<Demands['closing']>, first: number): Trellis {
  const start = new Int32Array(trellis.start.length).fill(IMPOSSIBLE)
  start[first] = trellis.start[first]!
  const end = new Int32Array(trellis.end.length).fill(IMPOSSIBLE)
  for (let last = 0; last < end.length; last++) {
    if (trellis.end[last]! >= IMPOSSIBLE) continue
    closing(last, (state, cost) => {
      if (state === first) end[last] = Math.min(end[last]!, cost)
    })
  }
  return {
    layers: trellis.layers,
    start,
    end,
    size: (layer) => trellis.size(layer),
    stepBack: (layer, next, into) => trellis.stepBack(layer, next, into),
    successors: (layer, state, visit, after, most) => trellis.successors(layer, state, visit, after, most),
    rank: (layer, state) => trellis.rank(layer, state),
    label: (layer, state) => trellis.label(layer, state),
  }
}

/** What a path under demands costs at least, from each state on. */
interface Bound {
  /** above the optimum, of any path */
  readonly least: number
  /** price of an agreement with each of the others */
  readonly prices: readonly number[]
  /** per layer and state of the near graph: losses to come, agreements to come at their prices included */
  readonly toGo: readonly Float64Array[]
}

interface NearPath {
  readonly states: readonly number[]
  readonly loss: number
}

/** A partial path: where it is, what it lost so far, how often it agreed with each of the others. */
interface Label {
  readonly state: number
  readonly loss: number
  readonly agreed: readonly number[]
  readonly before: Label | undefined
}

/** States and steps on some path within a limit, numbered anew in the order of their ranks. */
class NearGraph {
  readonly limit: number
  readonly #trellis: Trellis
  /** per layer, the trellis' states */
  readonly #states: Int32Array[] = []
  readonly #labels: Int32Array[] = []
  /** per layer but the last: the steps of state i are `first[i]` to `first[i + 1]`, with where they go and what they lose */
  readonly #first: Int32Array[] = []
  readonly #next: Int32Array[] = []
  readonly #loss: Int32Array[] = []
  /** what beginning in each state of layer 0 loses */
  readonly #start: Int32Array
  /** in a loop: per last state, what closing to each first state costs above the least closing that the bound has paid */
  #closings: readonly Int32Array[] | undefined

  constructor(trellis: Trellis, { at, base }: CostsToGo, optimum: number, limit: number) {
    this.limit = limit
    this.#trellis = trellis
    // Forward: the least loss to reach each state; what is beyond the limit is not followed. The arrays serve all layers, and only
    // what was touched is made good: most states are never near.
    let most = 0
    for (let layer = 0; layer < trellis.layers; layer++) most = Math.max(most, trellis.size(layer))
    let reached = new Int32Array(most).fill(IMPOSSIBLE)
    let behind = new Int32Array(most).fill(IMPOSSIBLE)
    const index = new Int32Array(most)
    let found: number[] = []
    for (let state = 0; state < trellis.start.length; state++) {
      const loss = trellis.start[state]! + at[0]![state]! + base[0]! - optimum
      if (loss > limit) continue
      reached[state] = loss
      found.push(state)
    }
    let states = this.#number(0, found)
    this.#start = Int32Array.from(states, (state) => reached[state]!)
    const steps = new Steps()
    for (let layer = 0; layer + 1 < trellis.layers; layer++) {
      const here = at[layer]!
      const after = at[layer + 1]!
      const more = base[layer]! - base[layer + 1]!
      const first = new Int32Array(states.length + 1)
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
      for (let i = 0; i < states.length; i++) {
        sofar = reached[states[i]!]!
        paid = here[states[i]!]! + more
        trellis.successors(layer, states[i]!, follow, after, limit - sofar + paid)
        first[i + 1] = steps.count
      }
      for (const state of states) reached[state] = IMPOSSIBLE
      states = this.#number(layer + 1, found)
      for (let i = 0; i < states.length; i++) index[states[i]!] = i
      steps.renumber(index)
      for (let i = 0; i + 1 < first.length; i++) steps.sort(first[i]!, first[i + 1]!)
      this.#first.push(first)
      this.#next.push(steps.next.slice(0, steps.count))
      this.#loss.push(steps.loss.slice(0, steps.count))
      const emptied = reached
      reached = behind
      behind = emptied
    }
  }

  #number(layer: number, states: readonly number[]): Int32Array {
    const ranks = states.map((state) => this.#trellis.rank(layer, state))
    const order = states.map((_, i) => i).sort((a, b) => ranks[a]! - ranks[b]!)
    const sorted = Int32Array.from(order, (i) => states[i]!)
    this.#states.push(sorted)
    this.#labels.push(sorted.map((state) => this.#trellis.label(layer, state)))
    return sorted
  }

  /**
   * A lower bound by Lagrangian relaxation: agreements are allowed at a price, and the prices are moved so that the bound rises
   * (subgradient steps). With no others to differ from it is 0.
   */
  bound(demands: Demands): Bound {
    const { others } = demands
    let prices = others.map(() => 0)
    let best = this.#relaxed(demands, prices)
    let round = best
    for (let i = 0; i < ROUNDS && others.length > 0; i++) {
      const over = others.map((other, k) => round.agreed[k]! - other.most)
      const length = over.reduce((sum, x) => sum + x * x, 0)
      if (length === 0 || over.every((x, k) => x <= 0 && prices[k] === 0)) break
      const step = Math.max(0.5, this.limit + 1 - round.least) / length
      prices = prices.map((price, k) => Math.max(0, price + step * over[k]!))
      round = this.#relaxed(demands, prices)
      if (round.least > best.least) best = round
    }
    return { least: best.least - 1e-6, prices: best.prices, toGo: best.toGo }
  }

  /** The same bound at higher prices. */
  dearer(demands: Demands, bound: Bound): Bound {
    return this.#relaxed(
      demands,
      bound.prices.map((price) => 1.25 * price + 0.125),
    )
  }

  /** The best path where each agreement costs its price, beyond what is allowed. */
  #relaxed(demands: Demands, prices: readonly number[]) {
    const { others } = demands
    const last = this.#states.length - 1
    const priceOf = (layer: number, label: number): number => {
      let price = 0
      for (let k = 0; k < others.length; k++) if (others[k]!.labels[layer] === label) price += prices[k]!
      return price
    }
    const toGo: Float64Array[] = new Array(last + 1)
    toGo[last] = Float64Array.from(this.#labels[last]!, (label) => priceOf(last, label))
    for (let layer = last - 1; layer >= 0; layer--) {
      const after = toGo[layer + 1]!
      const first = this.#first[layer]!
      const next = this.#next[layer]!
      const loss = this.#loss[layer]!
      const here = new Float64Array(this.#states[layer]!.length)
      for (let state = 0; state < here.length; state++) {
        let least = Number.POSITIVE_INFINITY
        for (let i = first[state]!; i < first[state + 1]!; i++) {
          const value = loss[i]! + after[next[i]!]!
          if (value < least) least = value
        }
        here[state] = least + priceOf(layer, this.#labels[layer]![state]!)
      }
      toGo[layer] = here
    }
    // The path behind the bound.
    let state = 0
    const start = (s: number) => this.#start[s]! + toGo[0]![s]!
    for (let s = 1; s < this.#start.length; s++) if (start(s) < start(state)) state = s
    const states = [state]
    for (let layer = 0; layer < last; layer++) {
      const first = this.#first[layer]!
      let best = first[state]!
      const value = (i: number) => this.#loss[layer]![i]! + toGo[layer + 1]![this.#next[layer]![i]!]!
      for (let i = best + 1; i < first[state + 1]!; i++) if (value(i) < value(best)) best = i
      state = this.#next[layer]![best]!
      states.push(state)
    }
    const agreed = others.map(
      (other) => states.filter((s, layer) => this.#labels[layer]![s] === other.labels[layer]).length,
    )
    const allowed = others.reduce((sum, other, k) => sum + prices[k]! * other.most, 0)
    return {
      least: start(states[0]!) - allowed,
      prices,
      toGo,
      agreed,
    }
  }

  /** The cheapest path that obeys the demands and loses no more than `room`; `undefined` if there is none. */
  sweep(
    demands: Demands,
    bound: Bound,
    room: number,
    budget: { labels: number } | 'thrifty',
  ): NearPath | undefined | 'too-many' {
    const starts = Array.from(this.#start, (loss, state): Label => ({ state, loss, agreed: [], before: undefined }))
    if (!demands.closing) return this.#sweepFrom(demands, bound, starts, room, budget)
    // A loop: each first state is a problem of its own; the better its bound, the earlier it is tried.
    let best: NearPath | undefined
    let left = room
    this.#closings ??= this.#closingsOf(demands.closing)
    const closings = this.#closings
    const least = starts.map(({ state, loss }) => loss + Math.min(...closings.map((costs) => costs[state]!)))
    starts.sort((a, b) => least[a.state]! - least[b.state]! || a.state - b.state)
    for (const start of budget === 'thrifty' ? starts.slice(0, THRIFTY_STARTS) : starts) {
      if (least[start.state]! > left) break
      const found = this.#sweepFrom(demands, bound, [start], left, budget)
      if (found === 'too-many') return found
      if (found && (!best || found.loss < best.loss)) {
        best = found
        left = found.loss - 1
      }
    }
    return best
  }

  /** One forward sweep of labels, layer by layer. */
  #sweepFrom(
    demands: Demands,
    bound: Bound,
    starts: readonly Label[],
    room: number,
    budget: { labels: number } | 'thrifty',
  ): NearPath | undefined | 'too-many' {
    const { others, closing } = demands
    const thrifty = budget === 'thrifty'
    const last = this.#states.length - 1
    const priced = (way: Label) => way.agreed.reduce((sum, count, k) => sum + count * bound.prices[k]!, way.loss)
    const add = (front: Map<number, Label[]>, way: Label): void => {
      if (budget === 'thrifty') {
        const other = front.get(way.state)?.[0]
        if (!other || priced(way) < priced(other)) front.set(way.state, [way])
      } else if (enter(front, way)) budget.labels--
    }
    const allowed = others.reduce((sum, other, k) => sum + bound.prices[k]! * other.most, 0)
    /** the label one step on, unless it agrees too often or cannot make it any more */
    const on = (layer: number, state: number, loss: number, before: Label | undefined): Label | undefined => {
      if (loss > room) return undefined
      const label = this.#labels[layer]![state]!
      let spent = 0
      const agreed: number[] = new Array(others.length)
      for (let k = 0; k < others.length; k++) {
        const other = others[k]!
        const sofar = before ? before.agreed[k]! : 0
        const now = sofar + (other.labels[layer] === label ? 1 : 0)
        if (now > other.most) return undefined
        agreed[k] = now
        spent += bound.prices[k]! * sofar
      }
      if (!thrifty && loss + spent + bound.toGo[layer]![state]! - allowed > room + 1e-6) return undefined
      return { state, loss, agreed, before }
    }
    let front = new Map<number, Label[]>()
    for (const start of starts) {
      const label = on(0, start.state, start.loss, undefined)
      if (label) add(front, label)
    }
    for (let layer = 0; layer < last; layer++) {
      const first = this.#first[layer]!
      const next = this.#next[layer]!
      const loss = this.#loss[layer]!
      const behind = new Map<number, Label[]>()
      for (const [state, ways] of front) {
        for (const way of ways) {
          for (let i = first[state]!; i < first[state + 1]!; i++) {
            const label = on(layer + 1, next[i]!, way.loss + loss[i]!, way)
            if (label) add(behind, label)
          }
        }
        if (budget !== 'thrifty' && budget.labels < 0) return 'too-many'
      }
      front = behind
    }
    let best: Label | undefined
    let least = room + 1
    for (const ways of front.values()) {
      for (const way of ways) {
        const total = way.loss + (closing ? this.#closings![way.state]![starts[0]!.state]! : 0)
        if (total < least || (best && total === least && way.state < best.state)) {
          best = way
          least = total
        }
      }
    }
    if (!best) return undefined
    const states: number[] = []
    for (let way: Label | undefined = best; way; way = way.before) states.push(way.state)
    return { states: states.reverse().map((state, layer) => this.#states[layer]![state]!), loss: least }
  }

  #closingsOf(closing: NonNullable<Demands['closing']>): readonly Int32Array[] {
    const index = new Map<number, number>()
    for (const [i, state] of this.#states[0]!.entries()) index.set(state, i)
    return Array.from(this.#states.at(-1)!, (last) => {
      const costs = new Int32Array(this.#start.length).fill(IMPOSSIBLE)
      const paid = this.#trellis.end[last]!
      closing(last, (first, cost) => {
        const i = index.get(first)
        if (i !== undefined) costs[i] = Math.min(costs[i]!, cost - paid)
      })
      return costs
    })
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
