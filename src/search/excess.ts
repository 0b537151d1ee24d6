import { type CostsToGo, leastCost } from './cost-to-go.ts'
import { NearGraph } from './near-graph.ts'
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
  /** The label that the path has at a layer; absent: any. */
  readonly through?: { readonly layer: number; readonly label: number }
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

/** Labels of all sweeps for one path before proving it is given up: about a twentieth of a second. */
const MOST_LABELS = 50_000

/** The same where loops are to differ: each first state is a search of its own, and {@link loopFrom} is the quicker way. */
const MOST_ROUND_LABELS = 30_000

/**
 * Work for all paths of one request that differ from others, in steps looked at, and for each layer more: under a second for 150 layers,
 * some three times what eight paths that differ in a quarter take. After it the next path is given up. It is counted and not timed, so it ends at the same place on every machine.
 */
const MOST_WORK = { all: 60_000_000, layer: 1_000_000 }
/** What finding a near step costs, and a label, in steps looked at. */
const WORK = { found: 20, label: 10 }
/** Steps of the largest near graph in which paths that differ are looked for. */
const MOST_STEPS = { all: 2_000_000, layer: 45_000 }

/** What is left to be done. */
export class Work {
  left: number

  constructor(layers: number) {
    this.left = MOST_WORK.all + MOST_WORK.layer * layers
  }
}

/** Labels that a state keeps where nothing has to be proven. */
const THRIFTY_LABELS = 6

/** Rounds of improving a bound, and of raising its prices until some path obeys. */
const ROUNDS = 16
const WARM_ROUNDS = 8
const RAISES = 12
/** Limits that are tried after proving was given up, the one where it was among them. */
const ROAMED = 6
/** First notes of a loop that are tried where nothing has to be proven. */
const THRIFTY_STARTS = 12

/**
 * Paths near the best one that obey demands on the whole path.
 *
 * Only states and steps within a limit are kept ({@link NearGraph}), and demands (be different from those, close the loop) are
 * resources of a shortest-path problem on what remains (resource-constrained shortest path, Handler & Zang 1980, cited from
 * memory). A Lagrangian bound, a price on each agreement with another path, tells early which partial paths cannot make it. The
 * limit rises until an answer within it exists; that answer is the exact optimum.
 */
export class ExcessGraph {
  readonly optimum: number
  readonly #trellis: Trellis
  readonly #toGo: CostsToGo
  readonly #nears = new Map<number, NearDemands>()
  /** a limit whose graph is too large */
  #tooWide = Number.POSITIVE_INFINITY
  /** how many paths were to be differed from when proving was given up, and within which limit */
  #givenUp: { readonly others: number; readonly limit: number } | undefined
  /** what the last path lost at least, and the prices that proved it: one more demand makes nothing cheaper */
  #last: { readonly others: readonly object[]; readonly loss: number; readonly prices: readonly number[] } | undefined

  readonly work: Work

  /** @param work  what another graph of the same request left of it */
  constructor(trellis: Trellis, toGo: CostsToGo, work = new Work(trellis.layers)) {
    this.#trellis = trellis
    this.#toGo = toGo
    this.work = work
    this.optimum = leastCost(trellis, toGo)
  }

  /**
   * The cheapest path under `demands`, ties by rank.
   *
   * @param limits  distances above the optimum to try in turn, rising
   */
  cheapest(demands: Demands, limits: readonly number[]): Found {
    if (this.optimum >= IMPOSSIBLE) return { kind: 'none' }
    const last = this.#last
    const goesOn =
      last !== undefined && !demands.through && last.others.every((other, k) => other === demands.others[k])
    const least = goesOn ? last.loss : 0
    let prices = goesOn ? last.prices : undefined
    for (const limit of limits) {
      if (limit < least) continue
      const near = this.#near(demands, limit)
      if (!near) return { kind: 'given-up' }
      const bound = near.bound(demands, prices)
      prices = bound.prices
      if (bound.least > limit) continue
      // What was given up for fewer demands would be given up for more.
      if (this.#givenUp && demands.others.length > this.#givenUp.others) {
        return this.#roam(demands, limits, this.#givenUp.limit, { ...bound, least: Math.max(bound.least, least) })
      }
      const found = this.#deepen(near, demands, { ...bound, least: Math.max(bound.least, least) }, limit)
      if (found.kind === 'given-up' && isRound(demands)) return found
      if (found.kind === 'given-up') {
        this.#givenUp = { others: demands.others.length, limit }
        return this.#roam(demands, limits, limit, { ...bound, least: Math.max(bound.least, least) })
      }
      if (found.kind === 'none') continue
      if (!demands.through && found.kind === 'path') {
        const loss = found.cost - found.provenWithin - this.optimum
        this.#last = { others: demands.others, loss, prices: bound.prices }
      }
      return found
    }
    return { kind: 'none' }
  }

  /** The graph up to a limit. */
  within(limit: number): NearDemands {
    const known = this.#nears.get(limit)
    if (known) return known
    const made = new NearDemands(this.#trellis, this.#toGo, this.optimum, limit, this.work)
    this.#nears.set(limit, made)
    return made
  }

  /** The same for some demands; `undefined` where that is more work than is left. A path that need not differ is always looked for. */
  #near({ others }: Demands, limit: number): NearDemands | undefined {
    if (others.length === 0) return this.within(limit)
    if (this.work.left <= 0 || limit >= this.#tooWide) return undefined
    const known = this.#nears.get(limit)
    if (known) return known
    const most = Math.min(MOST_STEPS.all + MOST_STEPS.layer * this.#trellis.layers, this.work.left / WORK.found)
    const made = new NearDemands(this.#trellis, this.#toGo, this.optimum, limit, this.work, most)
    this.work.left -= WORK.found * made.steps
    if (made.isCut) this.#tooWide = limit
    else this.#nears.set(limit, made)
    return made.isCut ? undefined : made
  }

  /** Further from the optimum there are more ways: where nothing is proven any more, some path that obeys is looked for there. */
  #roam(demands: Demands, limits: readonly number[], tried: number, { least, prices }: Bound): Found {
    for (const limit of limits.filter((further) => further >= tried).slice(0, ROAMED)) {
      const near = this.#near(demands, limit)
      if (!near) break
      const path = this.#thrifty(near, demands, near.bound(demands, prices), limit)
      if (!path) continue
      this.#givenUp = { others: demands.others.length, limit: tried }
      return this.#answer(path, Math.max(0, path.loss - Math.max(0, Math.ceil(least))))
    }
    return { kind: 'given-up' }
  }

  #answer(path: NearPath, provenWithin: number): Found {
    return { kind: 'path', path: path.states, cost: this.optimum + path.loss, provenWithin }
  }

  /** Sweeps with a limit that rises from the bound, so that each sweep has little room to spare. */
  #deepen(near: NearDemands, demands: Demands, bound: Bound, limit: number): Found {
    const budget = { labels: isRound(demands) ? MOST_ROUND_LABELS : MOST_LABELS }
    // No path loses less than this.
    let proven = Math.max(0, Math.ceil(bound.least))
    let room = demands.others.length === 0 ? limit : proven
    for (let step = 1; ; step++) {
      const swept = near.sweep(demands, bound, Math.min(room, limit), budget)
      if (swept === 'too-many') {
        if (isRound(demands)) return { kind: 'given-up' }
        const thrifty = this.#thrifty(near, demands, bound, limit)
        if (!thrifty) return { kind: 'given-up' }
        this.#givenUp = { others: demands.others.length, limit }
        return this.#answer(thrifty, Math.max(0, thrifty.loss - proven))
      }
      if (swept) return this.#answer(swept, 0)
      if (room >= limit) return { kind: 'none' }
      proven = room + 1
      room += step
    }
  }

  /** Some path that obeys, found with few labels a state, at prices that rise until agreements are few enough. */
  #thrifty(near: NearDemands, demands: Demands, bound: Bound, limit: number): NearPath | undefined {
    const least = Math.max(0, Math.ceil(bound.least))
    for (let room = least + 2; ; room = Math.min(limit, least + 2 * (room - least))) {
      const path = near.sweep(demands, bound, Math.min(room, limit), 'thrifty')
      if (path && path !== 'too-many') return path
      if (room >= limit || this.work.left <= 0) break
    }
    let priced = bound
    for (let raise = 0; raise < RAISES && this.work.left > 0; raise++) {
      priced = near.dearer(demands, priced)
      const path = near.sweep(demands, priced, limit, 'thrifty')
      if (path && path !== 'too-many') return path
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
    ...(trellis.stepKey ? { stepKey: (layer: number) => trellis.stepKey!(layer) } : {}),
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

/** The near graph as demands see it. */
export class NearDemands extends NearGraph {
  readonly #trellis: Trellis
  readonly #work: Work
  /** in a loop: per last state, what closing to each first state costs above the least closing that the bound has paid */
  #closings: readonly Int32Array[] | undefined

  constructor(trellis: Trellis, toGo: CostsToGo, optimum: number, limit: number, work: Work, most?: number) {
    super(trellis, toGo, optimum, limit, most)
    this.#trellis = trellis
    this.#work = work
  }

  /** What closing from a last to a first state, as near states, loses beyond what the end of the last has paid. */
  closingLoss(closing: NonNullable<Demands['closing']>): (last: number, first: number) => number {
    this.#closings ??= this.#closingsOf(closing)
    const closings = this.#closings
    return (last, first) => closings[last]![first]!
  }

  /**
   * A lower bound by Lagrangian relaxation: agreements are allowed at a price, and the prices are moved so that the bound rises
   * (subgradient steps). With no others to differ from it is 0.
   *
   * @param known  prices to begin from, of fewer others perhaps
   */
  bound(demands: Demands, known: readonly number[] | undefined): Bound {
    const { others } = demands
    let prices = others.map((_, k) => known?.[k] ?? 0)
    let best = this.#relaxed(demands, prices)
    let round = best
    const rounds = known && known.length > 0 ? WARM_ROUNDS : ROUNDS
    for (let i = 0; i < rounds && others.length > 0 && this.#work.left > 0; i++) {
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
    const { others, through } = demands
    this.#work.left -= this.steps
    const last = this.layers - 1
    const priceOf = (layer: number, label: number): number => {
      if (through?.layer === layer && through.label !== label) return Number.POSITIVE_INFINITY
      let price = 0
      for (let k = 0; k < others.length; k++) if (others[k]!.labels[layer] === label) price += prices[k]!
      return price
    }
    const toGo: Float64Array[] = new Array(last + 1)
    toGo[last] = Float64Array.from(this.labels[last]!, (label) => priceOf(last, label))
    for (let layer = last - 1; layer >= 0; layer--) {
      const after = toGo[layer + 1]!
      const first = this.first[layer]!
      const next = this.next[layer]!
      const loss = this.loss[layer]!
      const labels = this.labels[layer]!
      const here = new Float64Array(labels.length)
      for (let state = 0; state < here.length; state++) {
        let least = Number.POSITIVE_INFINITY
        for (let i = first[state]!; i < first[state + 1]!; i++) {
          const value = loss[i]! + after[next[i]!]!
          if (value < least) least = value
        }
        here[state] = least + priceOf(layer, labels[state]!)
      }
      toGo[layer] = here
    }
    // The path behind the bound.
    let state = 0
    const start = (s: number) => this.start[s]! + toGo[0]![s]!
    for (let s = 1; s < this.start.length; s++) if (start(s) < start(state)) state = s
    const least = this.start.length > 0 ? start(state) : Number.POSITIVE_INFINITY
    const agreed = others.map(() => 0)
    const count = (layer: number): void => {
      const label = this.labels[layer]![state]!
      for (let k = 0; k < others.length; k++) if (others[k]!.labels[layer] === label) agreed[k]!++
    }
    if (least < Number.POSITIVE_INFINITY) {
      count(0)
      for (let layer = 0; layer < last; layer++) {
        const first = this.first[layer]!
        const after = toGo[layer + 1]!
        const loss = this.loss[layer]!
        const next = this.next[layer]!
        let best = first[state]!
        for (let i = best + 1; i < first[state + 1]!; i++)
          if (loss[i]! + after[next[i]!]! < loss[best]! + after[next[best]!]!) best = i
        state = next[best]!
        count(layer + 1)
      }
    }
    const allowed = others.reduce((sum, other, k) => sum + prices[k]! * other.most, 0)
    return { least: least - allowed, prices, toGo, agreed }
  }

  /** The cheapest path that obeys the demands and loses no more than `room`; `undefined` if there is none. */
  sweep(
    demands: Demands,
    bound: Bound,
    room: number,
    budget: { labels: number } | 'thrifty',
  ): NearPath | undefined | 'too-many' {
    if (!demands.closing) return this.#sweepFrom(demands, bound, undefined, room, budget)
    // A loop: each first state is a problem of its own; the better its bound, the earlier it is tried.
    let best: NearPath | undefined
    let left = room
    this.#closings ??= this.#closingsOf(demands.closing)
    const closings = this.#closings
    const starts = Array.from(this.start, (loss, state) => {
      let least = IMPOSSIBLE
      for (const costs of closings) least = Math.min(least, costs[state]!)
      return { state, least: loss + least }
    })
    starts.sort((a, b) => a.least - b.least || a.state - b.state)
    for (const { state, least } of budget === 'thrifty' ? starts.slice(0, THRIFTY_STARTS) : starts) {
      if (least > left) break
      const found =
        demands.others.length === 0
          ? this.#roundFrom(state, left, demands.through)
          : this.#sweepFrom(demands, bound, state, left, budget)
      if (found === 'too-many') return found
      if (found && (!best || found.loss < best.loss)) {
        best = found
        left = found.loss - 1
      }
    }
    return best
  }

  /** The cheapest loop from a first state, with nothing to differ from: one value a state will do. */
  #roundFrom(begin: number, room: number, through: Demands['through']): NearPath | undefined {
    const last = this.layers - 1
    const came: Int32Array[] = []
    const isOff = (layer: number, state: number) =>
      through?.layer === layer && this.labels[layer]![state] !== through.label
    let sofar = new Int32Array(this.start.length).fill(IMPOSSIBLE)
    if (!isOff(0, begin)) sofar[begin] = this.start[begin]!
    for (let layer = 0; layer < last; layer++) {
      const first = this.first[layer]!
      const next = this.next[layer]!
      const losses = this.loss[layer]!
      const then = new Int32Array(this.states[layer + 1]!.length).fill(IMPOSSIBLE)
      const from = new Int32Array(then.length).fill(-1)
      for (let state = 0; state < sofar.length; state++) {
        const here = sofar[state]!
        if (here > room) continue
        for (let i = first[state]!; i < first[state + 1]!; i++) {
          const to = next[i]!
          if (here + losses[i]! >= then[to]! || isOff(layer + 1, to)) continue
          then[to] = here + losses[i]!
          from[to] = state
        }
      }
      came.push(from)
      sofar = then
    }
    let best = -1
    let least = room + 1
    for (let state = 0; state < sofar.length; state++) {
      const total = sofar[state]! + this.#closings![state]![begin]!
      if (total >= least) continue
      best = state
      least = total
    }
    if (best < 0) return undefined
    const states = [best]
    for (let layer = last - 1; layer >= 0; layer--) states.push(came[layer]![states.at(-1)!]!)
    return { states: states.reverse().map((state, layer) => this.states[layer]![state]!), loss: least }
  }

  /**
   * One forward sweep of labels, layer by layer. A label is a partial path: where it is, what it lost so far, how often it agreed
   * with each of the others.
   *
   * Agreements count as no fewer than leave exactly what is allowed: whoever differs often enough by now is no better for having
   * differed more.
   *
   * @param only  the state of the first layer to begin in, and to come back to; `undefined`: any
   */
  #sweepFrom(
    demands: Demands,
    bound: Bound,
    only: number | undefined,
    room: number,
    budget: { labels: number } | 'thrifty',
  ): NearPath | undefined | 'too-many' {
    const { others, through } = demands
    const { prices } = bound
    const thrifty = budget === 'thrifty'
    const last = this.layers - 1
    const kinds = others.length
    const needs = others.map((other) => this.layers - other.most)
    const allowed = others.reduce((sum, other, k) => sum + prices[k]! * other.most, 0)
    const labels = new Labels(kinds)
    const agreed = new Uint16Array(kinds)
    let heads = new Int32Array(this.states[0]!.length).fill(-1)

    /** adds a label one step on, unless it agrees too often, cannot make it any more, or is beaten */
    const add = (into: Int32Array, layer: number, state: number, loss: number, before: number): void => {
      if (loss > room) return
      this.#work.left -= WORK.label
      const label = this.labels[layer]![state]!
      if (through?.layer === layer && through.label !== label) return
      let spent = 0
      let priced = loss
      for (let k = 0; k < kinds; k++) {
        const other = others[k]!
        const sofar = before < 0 ? 0 : labels.agreed[before * kinds + k]!
        let now = sofar + (other.labels[layer] === label ? 1 : 0)
        if (now > other.most) return
        const enough = layer + 1 - needs[k]!
        if (now < enough) now = enough
        agreed[k] = now
        spent += prices[k]! * sofar
        priced += prices[k]! * now
      }
      if (loss + spent + bound.toGo[layer]![state]! - allowed > room + 1e-6) return
      if (thrifty) {
        labels.enterFew(into, state, loss, before, agreed, priced)
        return
      }
      if (labels.enter(into, state, loss, before, agreed, priced)) (budget as { labels: number }).labels--
    }

    for (let state = 0; state < heads.length; state++)
      if (only === undefined || only === state) add(heads, 0, state, this.start[state]!, -1)
    for (let layer = 0; layer < last; layer++) {
      const first = this.first[layer]!
      const next = this.next[layer]!
      const loss = this.loss[layer]!
      const behind = new Int32Array(this.states[layer + 1]!.length).fill(-1)
      if (kinds > 0 && this.#work.left <= 0) return thrifty ? undefined : 'too-many'
      for (let state = 0; state < heads.length; state++) {
        for (let way = heads[state]!; way >= 0; way = labels.next[way]!)
          for (let i = first[state]!; i < first[state + 1]!; i++)
            add(behind, layer + 1, next[i]!, labels.loss[way]! + loss[i]!, way)
        if (budget !== 'thrifty' && budget.labels < 0) return 'too-many'
      }
      heads = behind
    }
    let best = -1
    let least = room + 1
    for (let state = 0; state < heads.length; state++) {
      for (let way = heads[state]!; way >= 0; way = labels.next[way]!) {
        const total = labels.loss[way]! + (only === undefined ? 0 : this.#closings![state]![only]!)
        if (total < least) {
          best = way
          least = total
        }
      }
    }
    if (best < 0) return undefined
    const states: number[] = []
    for (let way = best; way >= 0; way = labels.before[way]!) states.push(labels.state[way]!)
    return { states: states.reverse().map((state, layer) => this.states[layer]![state]!), loss: least }
  }

  #closingsOf(closing: NonNullable<Demands['closing']>): readonly Int32Array[] {
    const index = new Map<number, number>()
    for (const [i, state] of this.states[0]!.entries()) index.set(state, i)
    return Array.from(this.states.at(-1)!, (last) => {
      const costs = new Int32Array(this.start.length).fill(IMPOSSIBLE)
      const paid = this.#trellis.end[last]!
      closing(last, (first, cost) => {
        const i = index.get(first)
        if (i !== undefined) costs[i] = Math.min(costs[i]!, cost - paid)
      })
      return costs
    })
  }
}

/** Labels in columns. Those of one state hang together by `next`. */
class Labels {
  state = new Int32Array(4096)
  loss = new Int32Array(4096)
  before = new Int32Array(4096)
  next = new Int32Array(4096)
  priced = new Float64Array(4096)
  agreed: Uint16Array
  readonly #kinds: number
  #count = 0

  constructor(kinds: number) {
    this.#kinds = kinds
    this.agreed = new Uint16Array(4096 * kinds)
  }

  add(state: number, loss: number, before: number, agreed: Uint16Array, priced: number, next: number): number {
    const label = this.#count++
    if (label === this.state.length) this.#grow()
    this.state[label] = state
    this.loss[label] = loss
    this.before[label] = before
    this.next[label] = next
    this.priced[label] = priced
    this.agreed.set(agreed, label * this.#kinds)
    return label
  }

  /** Adds a label unless another of its state loses no more and agreed no more; drops those that it beats in the same sense. */
  enter(heads: Int32Array, state: number, loss: number, before: number, agreed: Uint16Array, priced: number): boolean {
    let link = -1
    for (let other = heads[state]!; other >= 0; other = this.next[other]!) {
      if (this.loss[other]! <= loss && this.#agreesNoMore(other, agreed)) return false
      if (this.loss[other]! >= loss && this.#agreesNoLess(other, agreed)) {
        if (link < 0) heads[state] = this.next[other]!
        else this.next[link] = this.next[other]!
      } else link = other
    }
    const label = this.add(state, loss, before, agreed, priced, -1)
    if (link < 0) heads[state] = label
    else this.next[link] = label
    return true
  }

  /** The same among the few that are cheapest with agreements at their prices. */
  enterFew(heads: Int32Array, state: number, loss: number, before: number, agreed: Uint16Array, priced: number): void {
    let dearest = -1
    let count = 0
    for (let other = heads[state]!; other >= 0; other = this.next[other]!) {
      if (this.loss[other]! <= loss && this.#agreesNoMore(other, agreed)) return
      if (dearest < 0 || this.priced[other]! > this.priced[dearest]!) dearest = other
      count++
    }
    if (count < THRIFTY_LABELS) {
      heads[state] = this.add(state, loss, before, agreed, priced, heads[state]!)
      return
    }
    // What is in the front has no followers yet, so it may be written over.
    if (this.priced[dearest]! <= priced) return
    this.loss[dearest] = loss
    this.before[dearest] = before
    this.priced[dearest] = priced
    this.agreed.set(agreed, dearest * this.#kinds)
  }

  #agreesNoMore(other: number, agreed: Uint16Array): boolean {
    const at = other * this.#kinds
    for (let k = 0; k < this.#kinds; k++) if (this.agreed[at + k]! > agreed[k]!) return false
    return true
  }

  #agreesNoLess(other: number, agreed: Uint16Array): boolean {
    const at = other * this.#kinds
    for (let k = 0; k < this.#kinds; k++) if (this.agreed[at + k]! < agreed[k]!) return false
    return true
  }

  #grow(): void {
    const size = 2 * this.state.length
    const longer = <Column extends Int32Array | Float64Array | Uint16Array>(column: Column, made: Column): Column => {
      made.set(column as never)
      return made
    }
    this.state = longer(this.state, new Int32Array(size))
    this.loss = longer(this.loss, new Int32Array(size))
    this.before = longer(this.before, new Int32Array(size))
    this.next = longer(this.next, new Int32Array(size))
    this.priced = longer(this.priced, new Float64Array(size))
    this.agreed = longer(this.agreed, new Uint16Array(size * this.#kinds))
  }
}
