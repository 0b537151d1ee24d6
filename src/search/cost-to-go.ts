import { IMPOSSIBLE, type Trellis } from './trellis.ts'

/** What the best way from each state to the end costs: `at[layer][state] + base[layer]`, IMPOSSIBLE or more where there is none. */
export interface CostsToGo {
  readonly at: readonly Int32Array[]
  readonly base: readonly number[]
}

/** A layer, its least cost being 0, and the layers that reverse steps made of it. */
interface KnownLayer {
  readonly costs: Int32Array
  readonly before: Map<string, { readonly layer: KnownLayer; readonly more: number }>
  /** the last search that needed it */
  used: number
}

/**
 * Layers that were worked out before, so that a search does again only what differs: the bars that an edit touches and the few before
 * them, until a layer equals a known one up to a constant; and a part of a form that is repeated is worked out once.
 */
export class KnownLayers {
  readonly #mostBytes: number
  #bytes = 0
  #search = 0
  readonly #layers = new Map<number, KnownLayer[]>()

  /** @param mostBytes  what may be kept beside the layers of the last search */
  constructor(mostBytes = 48 * 1024 * 1024) {
    this.#mostBytes = mostBytes
  }

  /** Begins a search: what earlier ones left behind makes room if it has grown too large. */
  begin(): void {
    this.#search++
    if (this.#bytes <= this.#mostBytes) return
    for (const [hash, layers] of this.#layers) {
      const kept = layers.filter((layer) => layer.used === this.#search - 1)
      for (const layer of kept)
        for (const [key, { layer: before }] of layer.before)
          if (before.used !== this.#search - 1) layer.before.delete(key)
      for (const layer of layers) if (!kept.includes(layer)) this.#bytes -= layer.costs.byteLength
      if (kept.length > 0) this.#layers.set(hash, kept)
      else this.#layers.delete(hash)
    }
  }

  /** The known layer of these costs, which are brought to a least cost of 0, and what they all lose by that. */
  known(costs: Int32Array): { readonly layer: KnownLayer; readonly more: number } {
    let least = IMPOSSIBLE
    for (let i = 0; i < costs.length; i++) if (costs[i]! < least) least = costs[i]!
    const more = least < IMPOSSIBLE ? least : 0
    let hash = costs.length
    for (let i = 0; i < costs.length; i++) {
      const cost = costs[i]! < IMPOSSIBLE ? costs[i]! - more : IMPOSSIBLE
      costs[i] = cost
      hash = (Math.imul(hash, 31) + cost) | 0
    }
    const alike = this.#layers.get(hash) ?? []
    const same = alike.find((layer) => isEqual(layer.costs, costs))
    const layer = same ?? { costs, before: new Map(), used: this.#search }
    layer.used = this.#search
    if (!same) {
      alike.push(layer)
      this.#layers.set(hash, alike)
      this.#bytes += costs.byteLength
    }
    return { layer, more }
  }

  /** The layer before a known one. */
  before(layer: KnownLayer, key: string): { readonly layer: KnownLayer; readonly more: number } | undefined {
    const found = layer.before.get(key)
    if (found) found.layer.used = this.#search
    return found
  }
}

function isEqual(a: Int32Array, b: Int32Array): boolean {
  if (a.length !== b.length) return false
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false
  return true
}

/**
 * For every layer, what the best way from each state to the end costs.
 *
 * The backward pass of dynamic programming (Bellman 1957). Everything else is read from it: the best path, the paths near the
 * best, and the layer where no way is left.
 *
 * @param known  layers of earlier searches; those of this one are added
 */
export function costsToGo(trellis: Trellis, known?: KnownLayers): CostsToGo {
  const steps = costing(trellis, known)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

/** Layers between two breaths: a few milliseconds. */
const LAYERS_A_BREATH = 16

/** The same a few layers at a time, so that the caller may take breath or give it up. */
export function* costing(trellis: Trellis, known?: KnownLayers): Generator<undefined, CostsToGo> {
  const last = trellis.layers - 1
  const at: Int32Array[] = new Array(trellis.layers)
  const base: number[] = new Array(trellis.layers)
  if (!known || !trellis.stepKey) {
    at[last] = trellis.end
    base.fill(0)
    for (let layer = last - 1; layer >= 0; layer--) {
      const into = new Int32Array(trellis.size(layer))
      trellis.stepBack(layer, at[layer + 1]!, into)
      at[layer] = into
      if (layer % LAYERS_A_BREATH === 0) yield undefined
    }
    return { at, base }
  }
  known.begin()
  let { layer: here, more } = known.known(trellis.end.slice())
  at[last] = here.costs
  base[last] = more
  for (let layer = last - 1; layer >= 0; layer--) {
    const key = trellis.stepKey(layer)
    let found = known.before(here, key)
    if (!found) {
      const into = new Int32Array(trellis.size(layer))
      trellis.stepBack(layer, here.costs, into)
      found = known.known(into)
      here.before.set(key, found)
      if (layer % LAYERS_A_BREATH === 0) yield undefined
    }
    here = found.layer
    at[layer] = here.costs
    base[layer] = base[layer + 1]! + found.more
  }
  return { at, base }
}

/** The cost of the best path; IMPOSSIBLE if there is none. */
export function leastCost(trellis: Trellis, { at, base }: CostsToGo): number {
  const first = at[0]!
  let least = IMPOSSIBLE
  for (let state = 0; state < first.length; state++) {
    const cost = trellis.start[state]! + first[state]!
    if (cost < least) least = cost
  }
  return least < IMPOSSIBLE ? least + base[0]! : IMPOSSIBLE
}

/**
 * The best path, one state per layer; `undefined` if there is none. Among equals the one whose states have the smallest ranks,
 * earlier layers first.
 */
export function bestPath(trellis: Trellis, toGo: CostsToGo): readonly number[] | undefined {
  const { at, base } = toGo
  const least = leastCost(trellis, toGo)
  if (least >= IMPOSSIBLE) return undefined
  let state = -1
  for (let s = 0; s < trellis.start.length; s++) {
    if (trellis.start[s]! + at[0]![s]! + base[0]! !== least) continue
    if (state < 0 || trellis.rank(0, s) < trellis.rank(0, state)) state = s
  }
  const path = [state]
  for (let layer = 0; layer + 1 < trellis.layers; layer++) {
    const after = at[layer + 1]!
    const wanted = at[layer]![state]! + base[layer]! - base[layer + 1]!
    let best = -1
    const follow = (next: number, cost: number): void => {
      if (cost + after[next]! !== wanted) return
      if (best < 0 || trellis.rank(layer + 1, next) < trellis.rank(layer + 1, best)) best = next
    }
    trellis.successors(layer, state, follow, after, wanted)
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
export function deadLayer(trellis: Trellis, toGo: CostsToGo): number | undefined {
  if (leastCost(trellis, toGo) < IMPOSSIBLE) return undefined
  for (let layer = trellis.layers - 1; layer > 0; layer--) {
    if (toGo.at[layer]!.every((cost) => cost >= IMPOSSIBLE)) return layer
  }
  return 0
}
