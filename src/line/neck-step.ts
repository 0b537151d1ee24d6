import { IMPOSSIBLE, type Trellis } from '../search/trellis.ts'
import { MOVES, type Move, moveOf, NO_MOVE } from './move.ts'
import type { Place } from './neck.ts'
import { type Group, groupsOf } from './neck-groups.ts'
import {
  type NeckEdge,
  type NeckLayer,
  type NeckProblem,
  type PitchRange,
  pitchRange,
  shiftCost,
  stretchCost,
} from './neck-problem.ts'

/** A state, spelled out. */
export interface NeckState {
  readonly track: number
  readonly place: number
  readonly hand: number
  readonly move: Move
}

/** Where the states of a layer are numbered. */
interface Shape {
  readonly offsets: Int32Array
  readonly size: number
  /** in order: [offset, track, place] each; made when it is asked for */
  blocks: Int32Array | undefined
}

const REPEAT = moveOf(0)

/** What the hand pays for its moves to a layer, rules included, counted from the neck's lowest hand. */
interface Shifts {
  /** at `before * hands + after` */
  readonly costs: Int32Array
  /** the least that a move so far or further costs, in the same order */
  readonly near: Int32Array
  /** from each hand to the next but for the move itself: moves are a way along the neck, where no rule has a say */
  readonly rises: Int32Array
  readonly move: number
  /** per span of hands before, `lowest * hands + highest`: the dearest move from any of them to each hand */
  readonly spans: Map<number, Int32Array>
}

/** After no move at all, nothing is charged. */
const NOTHING_AFTER = new Int32Array(MOVES)

interface Arrivals {
  readonly to: number
  readonly all: Int32Array
  readonly places: Int32Array
  /** in the same order */
  readonly least: Int32Array
  /** the same for each move, at `index * MOVES + move` */
  readonly byMove: Int32Array
}

/**
 * The trellis of a line on a neck, with a reverse step in three sweeps for each source place (a factored transition: note, then
 * hand, then memory of the move), so that a layer costs about (places x places x hands in reach) and not (states x states).
 *
 * The cost of a step is: pair + the way across the strings + place of the arrival + shift of the hand + what the move costs after the move
 * before + the edge + the stretch of the note that is left. The hand moves first, and the note is played under the hand that it arrives at.
 */
export class NeckTrellis implements Trellis {
  readonly layers: number
  readonly start: Int32Array
  readonly end: Int32Array
  readonly #problem: NeckProblem
  readonly #range: PitchRange
  readonly #hands: number
  readonly #across: Int32Array
  /** the neck's places, column by column; `shifts` counts the lowest hand from the neck's lowest */
  readonly #columns: Readonly<Record<'pitches' | 'frets' | 'hands' | 'shifts', Int32Array>>
  /** the move of an interval, at interval + 127 */
  readonly #moveOf: Uint8Array
  /** per layer: where the block of a (track, place) begins, at `track * places + place`, -1 where there is none. A block is `move * handsInReach + (hand - lowestHand)`. */
  readonly #offsets: readonly Int32Array[]
  readonly #sizes: readonly number[]
  readonly #shapes: readonly Shape[]
  /** the first layer after the first that remembers its move */
  readonly #moveless: number
  readonly #groups = new Map<NeckProblem['edges'][number], Map<NeckLayer['tracks'], readonly Group[]>>()
  readonly #mostAfter: Int32Array
  readonly #leastAfter: Int32Array
  // Scratch of the reverse step, per (move, hand), and per move
  readonly #y: Int32Array
  readonly #z: Int32Array
  readonly #most = new Int32Array(MOVES)
  readonly #bests = new Int32Array(MOVES)
  readonly #lows: Int32Array
  readonly #lowMoves: Int32Array
  readonly #shifts = new Map<string, Shifts>()
  /** what each place pays under its lowest hand */
  readonly #stretches: Int32Array

  constructor(problem: NeckProblem) {
    this.#problem = problem
    const { neck, layers } = problem
    this.layers = layers.length
    this.#range = pitchRange(neck)
    this.#hands = neck.highestHand - neck.lowestHand + 1
    const column = (of: (place: Place) => number) => Int32Array.from(neck.places, of)
    this.#columns = {
      pitches: column((place) => place.pitch),
      frets: column((place) => place.fret),
      hands: column((place) => place.highestHand - place.lowestHand + 1),
      shifts: column((place) => place.lowestHand - neck.lowestHand),
    }
    this.#across = problem.across
    this.#moveOf = Uint8Array.from({ length: 255 }, (_, i) => moveOf(i - 127))
    // Layers of equal tracks have equal shapes.
    const shapes = new Map<NeckLayer['tracks'], Shape>()
    this.#shapes = layers.map(({ tracks }) => {
      const known = shapes.get(tracks) ?? this.#shapeOf(tracks)
      shapes.set(tracks, known)
      return known
    })
    const offsets = this.#shapes.map((shape) => shape.offsets)
    const sizes = this.#shapes.map((shape) => shape.size)
    this.#offsets = offsets
    this.#sizes = sizes
    const remembers = layers.findIndex((layer, index) => index > 0 && layer.remembersMove)
    this.#moveless = remembers < 0 ? layers.length : remembers
    const afterAny = (move: number) =>
      Array.from({ length: MOVES - 1 }, (_, before) => problem.after[(before + 1) * MOVES + move]!)
    this.#mostAfter = Int32Array.from({ length: MOVES }, (_, move) => Math.max(...afterAny(move)))
    this.#leastAfter = Int32Array.from({ length: MOVES }, (_, move) => Math.min(...afterAny(move)))
    this.#lows = new Int32Array(neck.places.length)
    this.#lowMoves = new Int32Array(neck.places.length * MOVES)
    this.#stretches = column((place) => stretchCost(problem.hand, place, place.lowestHand))
    this.#y = new Int32Array(MOVES * this.#hands)
    this.#z = new Int32Array(MOVES * this.#hands)
    this.start = this.#starts()
    this.end = this.#ends()
  }

  size(layer: number): number {
    return this.#sizes[layer]!
  }

  stepBack(layer: number, next: Int32Array, into: Int32Array): void {
    const target = this.#problem.layers[layer + 1]!
    this.#relax(layer, layer + 1, target.placeCost, next, into)
  }

  stepKey(layer: number): string {
    const { layers, edges, pair, after, neck, identities } = this.#problem
    const source = layers[layer]!
    const target = layers[layer + 1]!
    const flags = Number(target.remembersMove) + 2 * Number(target.hurried) + 4 * Number(layer < this.#moveless)
    const tables = [neck, after, source.tracks, source.placeCost, edges[layer], pair[layer]]
    const more = [target.tracks, target.placeCost, target.handRules]
    return `${flags} ${[...tables, ...more].map((table) => identities.of(table)).join()}`
  }

  successors(
    layer: number,
    state: number,
    visit: (next: number, cost: number) => void,
    toGo?: Int32Array,
    most = IMPOSSIBLE,
  ): void {
    this.#follow(layer, layer + 1, this.#problem.layers[layer + 1]!.placeCost, state, visit, toGo, most)
  }

  /** Visits the first states that can follow a last one, with the cost of the step but without the first one's own. */
  readonly closing = (last: number, visit: (first: number, cost: number) => void): void => {
    this.#follow(this.layers - 1, 0, this.#free, last, visit, undefined, IMPOSSIBLE)
  }

  /**
   * The first layer that no note can be reached in, or the last where a loop cannot be closed; `undefined` if there is a way. It
   * looks at no costs: only at which place may follow which.
   */
  deadEnd(): number | undefined {
    const { layers, loop } = this.#problem
    if (layers.some((layer) => layer.handRules)) return undefined
    const starts = this.start
    const count = this.#columns.pitches.length
    const first = new Uint8Array(layers[0]!.tracks.length * count)
    for (const [index, offset] of this.#offsets[0]!.entries()) {
      if (offset < 0) continue
      const begins = loop ? 1 : NO_MOVE
      if (starts[offset + begins * this.#handsOf(index % count)]! < IMPOSSIBLE) first[index] = 1
    }
    const { dead, last } = this.#reach(first)
    if (dead !== undefined || !loop) {
      if (dead === undefined && !this.#mayEnd(last!)) return layers.length - 1
      return dead
    }
    // Round again: first together, then each beginning by itself.
    const again = this.#step(layers.length - 1, 0, last!)
    for (let state = 0; state < first.length; state++) {
      if (!first[state] || !again[state]) continue
      const alone = new Uint8Array(first.length)
      alone[state] = 1
      const round = this.#reach(alone)
      if (round.dead === undefined && this.#step(layers.length - 1, 0, round.last!)[state]) return undefined
    }
    return layers.length - 1
  }

  #mayEnd(last: Uint8Array): boolean {
    const { endCost } = this.#problem
    const count = this.#columns.pitches.length
    return last.some((here, index) => here === 1 && endCost[Math.floor(index / count)]! < IMPOSSIBLE)
  }

  #reach(first: Uint8Array): { readonly dead: number | undefined; readonly last: Uint8Array | undefined } {
    let here = first
    if (!here.includes(1)) return { dead: 0, last: undefined }
    for (let layer = 0; layer + 1 < this.layers; layer++) {
      here = this.#step(layer, layer + 1, here)
      if (!here.includes(1)) return { dead: layer + 1, last: undefined }
    }
    return { dead: undefined, last: here }
  }

  /** Which places of which tracks can follow those that are marked, at `track * places + place`. */
  #step(from: number, to: number, here: Uint8Array): Uint8Array {
    const { layers, edges, pair } = this.#problem
    const { base, width } = this.#range
    const { pitches } = this.#columns
    const target = layers[to]!
    const there = new Uint8Array(target.tracks.length * pitches.length)
    // What follows a note looks at its pitch: the second place of a pitch adds nothing.
    const seenIn = new Int32Array(width).fill(-1)
    for (let index = 0; index < here.length; index++) {
      if (!here[index]) continue
      const x = pitches[index % pitches.length]! - base
      const track = Math.floor(index / pitches.length)
      if (seenIn[x] === track) continue
      seenIn[x] = track
      for (const edge of edges[from]![track]!) {
        if (edge.cost >= IMPOSSIBLE) continue
        for (const q of edge.places ?? target.tracks[edge.to]!) {
          const at = edge.to * pitches.length + q
          if (there[at] || target.placeCost[q]! >= IMPOSSIBLE) continue
          const y = pitches[q]! - base
          if (pair[from]![x * width + y]! < IMPOSSIBLE && this.#admits(edge, x + base, y + base)) there[at] = 1
        }
      }
    }
    return there
  }

  /** The lower pitch, then the higher string (the lower fret), the lower hand. */
  rank(layer: number, state: number): number {
    const { track, place, hand, move } = this.stateOf(layer, state)
    const { neck } = this.#problem
    const { pitch, string } = neck.places[place]!
    return (((pitch * 8 + neck.strings - 1 - string) * 32 + hand) * 1024 + track) * MOVES + move
  }

  /** Lines are told apart by their pitches: another fingering is no other line. */
  label(layer: number, state: number): number {
    return this.#problem.neck.places[this.stateOf(layer, state).place]!.pitch
  }

  /** Spells a state out. */
  stateOf(layer: number, state: number): NeckState {
    const blocks = this.#blocksOf(layer)
    let low = 0
    let high = blocks.length / 3 - 1
    while (low < high) {
      const middle = (low + high + 1) >> 1
      if (blocks[middle * 3]! <= state) low = middle
      else high = middle - 1
    }
    const place = blocks[low * 3 + 2]!
    const within = state - blocks[low * 3]!
    const hands = this.#handsOf(place)
    return {
      track: blocks[low * 3 + 1]!,
      place,
      hand: this.#problem.neck.places[place]!.lowestHand + (within % hands),
      move: Math.floor(within / hands),
    }
  }

  /** The cheapest way from a state to a state of the next layer (the first after the last), as an edge; `undefined` if there is none. */
  edgeBetween(layer: number, from: number, to: number): NeckEdge | undefined {
    const { edges, neck, layers } = this.#problem
    const a = this.stateOf(layer, from)
    const target = (layer + 1) % layers.length
    const b = this.stateOf(target, to)
    const x = neck.places[a.place]!.pitch
    const y = neck.places[b.place]!.pitch
    let best: NeckEdge | undefined
    for (const edge of edges[layer]![a.track]!) {
      if (edge.to !== b.track || !this.#admits(edge, x, y)) continue
      if (edge.places && !edge.places.includes(b.place)) continue
      if (!best || edge.cost < best.cost) best = edge
    }
    return best
  }

  readonly #free = new Int32Array(1024)

  #handsOf(place: number): number {
    const { lowestHand, highestHand } = this.#problem.neck.places[place]!
    return highestHand - lowestHand + 1
  }

  #shapeOf(tracks: NeckLayer['tracks']): Shape {
    const { length } = this.#problem.neck.places
    const offsets = new Int32Array(tracks.length * length).fill(-1)
    let size = 0
    for (const [track, places] of tracks.entries()) {
      for (const place of places) {
        offsets[track * length + place] = size
        size += MOVES * this.#handsOf(place)
      }
    }
    return { offsets, size, blocks: undefined }
  }

  #blocksOf(layer: number): Int32Array {
    const shape = this.#shapes[layer]!
    if (shape.blocks) return shape.blocks
    const { length } = this.#problem.neck.places
    const rows = new Int32Array(3 * shape.offsets.length)
    let count = 0
    for (let index = 0; index < shape.offsets.length; index++) {
      if (shape.offsets[index]! < 0) continue
      rows[count++] = shape.offsets[index]!
      rows[count++] = Math.floor(index / length)
      rows[count++] = index % length
    }
    shape.blocks = rows.subarray(0, count)
    return shape.blocks
  }

  #admits(edge: NeckEdge, x: number, y: number): boolean {
    const { base, width } = this.#range
    if (edge.intervals && !edge.intervals.includes(y - x)) return false
    return !edge.joins || edge.joins[(x - base) * width + (y - base)] === 1
  }

  /** In a loop the first note's last move is the one that closes the loop, so every move is tried. */
  #starts(): Int32Array {
    const { layers, startCost, loop, neck } = this.#problem
    const start = new Int32Array(this.#sizes[0]!).fill(IMPOSSIBLE)
    for (const [track, places] of layers[0]!.tracks.entries()) {
      for (const place of places) {
        const cost = layers[0]!.placeCost[place]! + startCost[track]!
        if (cost >= IMPOSSIBLE) continue
        const offset = this.#offsets[0]![track * neck.places.length + place]!
        const hands = this.#handsOf(place)
        const [from, to] = loop ? [1, MOVES] : [NO_MOVE, NO_MOVE + 1]
        for (let i = from * hands; i < to * hands; i++) start[offset + i] = cost
      }
    }
    return start
  }

  #ends(): Int32Array {
    const last = this.layers - 1
    const end = new Int32Array(this.#sizes[last]!)
    const { layers, endCost, loop, neck } = this.#problem
    if (loop) {
      this.#relax(last, 0, this.#free, new Int32Array(this.#sizes[0]!), end)
      return end
    }
    for (const [track, places] of layers[last]!.tracks.entries()) {
      for (const place of places) {
        const offset = this.#offsets[last]![track * neck.places.length + place]!
        const hands = this.#handsOf(place)
        end.fill(endCost[track]!, offset, offset + MOVES * hands)
        for (let move = 0; move < MOVES; move++) end[offset + move * hands]! += this.#stretches[place]!
      }
    }
    return end
  }

  /** What the hand pays to get to a layer. */
  #shiftsTo({ handRules, hurried }: NeckLayer, fromOpen: boolean): Shifts {
    const { hand, neck, identities } = this.#problem
    const key = `${identities.of(handRules)} ${hurried} ${fromOpen}`
    const known = this.#shifts.get(key)
    if (known) return known
    const count = this.#hands
    const lowest = neck.lowestHand
    const costOf = (from: number, to: number) =>
      shiftCost(hand, neck, lowest + from, lowest + to, fromOpen ? 0 : 1, hurried)
    const rules = handRules && (fromOpen ? handRules.open : handRules.fretted)
    const costs = Int32Array.from({ length: count * count }, (_, at) =>
      Math.min(IMPOSSIBLE, costOf(Math.floor(at / count), at % count) + (rules?.[at] ?? 0)),
    )
    const near = costs.slice()
    const atMost = (at: number, other: number) => {
      near[at] = Math.min(near[at]!, near[other]!)
    }
    for (let apart = count - 1; apart > 0; apart--) {
      for (let low = 0; low + apart < count; low++) {
        const high = low + apart
        if (low > 0) {
          atMost(low * count + high, (low - 1) * count + high)
          atMost(high * count + low, high * count + low - 1)
        }
        if (high + 1 < count) {
          atMost(low * count + high, low * count + high + 1)
          atMost(high * count + low, (high + 1) * count + low)
        }
      }
    }
    const move = fromOpen ? 0 : hand.move
    const rises = Int32Array.from({ length: count }, (_, h) => (h > 0 ? costOf(h - 1, h) - move : 0))
    const made = { costs, near, rises, move, spans: new Map<number, Int32Array>() }
    this.#shifts.set(key, made)
    return made
  }

  #spanOf({ costs, spans }: Shifts, low: number, high: number): Int32Array {
    const count = this.#hands
    const known = spans.get(low * count + high)
    if (known) return known
    const span = new Int32Array(count)
    for (let before = low; before <= high; before++)
      for (let h = 0; h < count; h++) span[h] = Math.max(span[h]!, costs[before * count + h]!)
    spans.set(low * count + high, span)
    return span
  }

  /** Tracks of a layer that go on in the same ways, up to a constant; a track may be in several groups, each with some of its ways. */
  #groupsOf(layer: number): readonly Group[] {
    const { identities, layers } = this.#problem
    const edges = this.#problem.edges[layer]!
    const { tracks } = layers[layer]!
    const ofTracks = this.#groups.get(edges) ?? new Map<NeckLayer['tracks'], readonly Group[]>()
    this.#groups.set(edges, ofTracks)
    const known = ofTracks.get(tracks)
    if (known) return known
    const made = groupsOf(edges, tracks, identities)
    ofTracks.set(tracks, made)
    return made
  }

  /** The places an edge arrives at, the one that costs least to the end first, with those costs. */
  #arrivals(
    known: Map<number, Arrivals[]>,
    edge: NeckEdge,
    to: number,
    placeCost: Int32Array,
    next: Int32Array,
  ): Arrivals {
    const { layers } = this.#problem
    const all = edge.places ?? layers[to]!.tracks[edge.to]!
    const ofTrack = known.get(edge.to) ?? []
    known.set(edge.to, ofTrack)
    for (const one of ofTrack) if (one.all === all) return one
    const offsets = this.#offsets[to]!
    const { hands, pitches } = this.#columns
    // The least of each place, and of each of its moves.
    const places: number[] = []
    const lows = this.#lows
    const moves = this.#lowMoves
    for (const q of all) {
      const own = placeCost[q]!
      if (own >= IMPOSSIBLE) continue
      const reach = hands[q]!
      let at = offsets[edge.to * pitches.length + q]!
      if (at < 0) continue
      let low = IMPOSSIBLE
      for (let move = 0; move < MOVES; move++) {
        let least = IMPOSSIBLE
        for (let h = 0; h < reach; h++, at++) if (next[at]! < least) least = next[at]!
        moves[q * MOVES + move] = least + own
        if (least < low) low = least
      }
      if (low >= IMPOSSIBLE) continue
      lows[q] = low + own
      let rank = places.length
      for (; rank > 0 && lows[places[rank - 1]!]! > lows[q]!; rank--) places[rank] = places[rank - 1]!
      places[rank] = q
    }
    const least = new Int32Array(places.length)
    const byMove = new Int32Array(places.length * MOVES)
    for (let i = 0; i < places.length; i++) {
      const q = places[i]!
      least[i] = lows[q]!
      for (let move = 0; move < MOVES; move++) byMove[i * MOVES + move] = moves[q * MOVES + move]!
    }
    const made = { to: edge.to, all, places: Int32Array.from(places), least, byMove }
    ofTrack.push(made)
    return made
  }

  /**
   * The reverse step from layer `to` to layer `from`, one source place at a time.
   *
   * Arrivals are tried in the order of what they cost to the end, and no further once the next one cannot be the best for any hand and
   * any move before: the dearest that one already tried can be is then less than the least that it can be.
   */
  #relax(from: number, to: number, placeCost: Int32Array, next: Int32Array, into: Int32Array): void {
    const { layers, pair, after } = this.#problem
    const { base, width } = this.#range
    const { pitches, hands: reaches, shifts, frets } = this.#columns
    const source = layers[from]!
    const target = layers[to]!
    const offsets = this.#offsets[to]!
    const sourceOffsets = this.#offsets[from]!
    const pairs = pair[from]!
    const { remembersMove } = target
    // An off-beat note that remembers nothing is still no third of its pitch.
    const thrice = remembersMove ? 0 : after[REPEAT * MOVES + REPEAT]!
    // Imported constants, at hand: this is the innermost loop of all.
    const never = IMPOSSIBLE
    const count = MOVES
    const across = this.#across
    const moveOfInterval = this.#moveOf
    const y = this.#y
    const z = this.#z
    const hands = this.#hands
    const shiftsFretted = this.#shiftsTo(target, false)
    const shiftsOpen = this.#shiftsTo(target, true)
    const ruled = target.handRules !== undefined
    // Once a move was remembered there is always one before.
    const firstMove = from < this.#moveless ? NO_MOVE : 1
    // Per move: what it costs after the move before, at most and at least.
    const mostAfter = this.#mostAfter
    const leastAfter = firstMove === NO_MOVE ? NOTHING_AFTER : this.#leastAfter
    const bests = this.#bests
    const rowLeast = new Int32Array(width)
    for (let x = 0; x < width; x++) {
      let least = never
      for (let i = x * width; i < (x + 1) * width; i++) if (pairs[i]! < least) least = pairs[i]!
      rowLeast[x] = least
    }
    const arrivals = new Map<number, Arrivals[]>()
    const most = this.#most
    into.fill(never)
    for (const { ways, members, places } of this.#groupsOf(from)) {
      const orders = ways.map((edge) => this.#arrivals(arrivals, edge, to, placeCost, next))
      for (const p of places) {
        if (source.placeCost[p]! >= never) continue
        const pitch = pitches[p]!
        const row = (pitch - base) * width - base
        const rowBound = rowLeast[pitch - base]!
        const acrossRow = p * pitches.length
        const shift = frets[p] === 0 ? shiftsOpen : shiftsFretted
        const { costs: shiftCosts, near: nearest, rises, move: perMove } = shift
        const lowHand = shifts[p]!
        const highHand = lowHand + reaches[p]! - 1
        const spans = this.#spanOf(shift, lowHand, highHand)
        // Play: the cheapest way on, by the hand that plays it and the move that it is. Bit n of `moves`: move n is there.
        y.fill(never)
        most.fill(never)
        bests.fill(never)
        let moves = 0
        let enough = never
        for (let way = 0; way < ways.length; way++) {
          const edge = ways[way]!
          const { places: order, least: lows, byMove } = orders[way]!
          const trackOffset = edge.to * pitches.length
          const conditional = edge.intervals !== undefined || edge.joins !== undefined
          const bound = rowBound + edge.cost
          for (let i = 0; i < order.length; i++) {
            if (lows[i]! + bound >= enough) break
            const q = order[i]!
            const there = pitches[q]!
            const step = pairs[row + there]!
            const first = remembersMove ? moveOfInterval[there - pitch + 127]! : firstMove
            if (step >= never) continue
            if (conditional && !this.#admits(edge, pitch, there)) continue
            const more = step + edge.cost + across[acrossRow + q]!
            const bounds = i * count
            // The hand has to come so far at least.
            const lowest = shifts[q]!
            const reach = reaches[q]!
            const gap =
              lowest > highHand
                ? nearest[highHand * hands + lowest]!
                : lowHand >= lowest + reach
                  ? nearest[lowHand * hands + lowest + reach - 1]!
                  : 0
            const least = more + gap
            if (
              remembersMove
                ? byMove[bounds + first]! + least + leastAfter[first]! >= enough
                : lows[i]! + least >= enough
            )
              continue
            const offset = offsets[trackOffset + q]!
            const cost = more + placeCost[q]!
            const last = remembersMove ? first : count - 1
            let closer = false
            for (let move = first; move <= last; move++) {
              if (byMove[bounds + move]! + least >= most[move]!) continue
              const at = offset + move * reach
              const yAt = move * hands + lowest
              const paid = move === REPEAT && there === pitch ? cost + thrice : cost
              let best = never
              let bestHand = 0
              for (let h = 0; h < reach; h++) {
                const value = next[at + h]! + paid
                if (value < y[yAt + h]!) y[yAt + h] = value
                if (value < best) {
                  best = value
                  bestHand = lowest + h
                }
              }
              if (best >= never) continue
              moves |= 1 << move
              if (best < bests[move]!) bests[move] = best
              const dearest = best + spans[bestHand]!
              if (dearest < most[move]!) {
                most[move] = dearest
                closer = true
              }
            }
            if (!closer) continue
            // Where the move is remembered any one of them will do; else each move before goes its own way.
            if (remembersMove) {
              enough = Math.min(enough, most[first]! + mostAfter[first]!)
            } else {
              enough = 0
              for (let move = firstMove; move < count; move++) if (most[move]! > enough) enough = most[move]!
            }
          }
        }
        if (remembersMove) {
          // Not where it is equal: that may be the move that was enough.
          for (let move = 0; move < count; move++) if (bests[move]! + leastAfter[move]! > enough) moves &= ~(1 << move)
        }
        if (moves === 0) continue
        // Shift: the hand moves before the note; a cost that is a way along the neck needs two sweeps only.
        const stretch = this.#stretches[p]!
        for (let move = 0; move < count; move++) {
          if ((moves & (1 << move)) === 0) continue
          const at = move * hands
          if (ruled) {
            for (let h = lowHand; h <= highHand; h++) {
              let least = never
              for (let other = 0; other < hands; other++) {
                const value = y[at + other]! + shiftCosts[h * hands + other]!
                if (value < least) least = value
              }
              z[at + h] = least
            }
            z[at + lowHand]! += stretch
            continue
          }
          let near = never
          for (let h = 0; h < hands; h++) {
            near += rises[h]!
            const stay = y[at + h]!
            z[at + h] = Math.min(stay, near + perMove)
            if (stay < near) near = stay
          }
          near = never
          for (let h = hands - 1; h >= 0; h--) {
            if (near + perMove < z[at + h]!) z[at + h] = near + perMove
            const stay = y[at + h]!
            if (stay < near) near = stay
            near += rises[h]!
          }
          z[at + lowHand]! += stretch
        }
        // Fold: what the move costs after the move before.
        const reach = reaches[p]!
        for (const { track, more } of members) {
          const offset = sourceOffsets[track * pitches.length + p]!
          if (offset < 0) continue
          for (let move = 0; move < count; move++) {
            if ((moves & (1 << move)) === 0) continue
            const zAt = move * hands + lowHand
            const first = remembersMove ? firstMove : move
            const last = remembersMove ? count - 1 : move
            for (let before = first; before <= last; before++) {
              const cost = (remembersMove ? after[before * count + move]! : 0) + more
              const at = offset + before * reach
              for (let h = 0; h < reach; h++) {
                const value = z[zAt + h]! + cost
                if (value < into[at + h]!) into[at + h] = value
              }
            }
          }
        }
      }
    }
  }

  /** The same step forwards, from one state. */
  #follow(
    from: number,
    to: number,
    placeCost: Int32Array,
    state: number,
    visit: (next: number, cost: number) => void,
    toGo: Int32Array | undefined,
    most: number,
  ): void {
    const { neck, layers, edges, pair, after, hand } = this.#problem
    const { base, width } = this.#range
    const target = layers[to]!
    const { track, place, hand: handBefore, move: before } = this.stateOf(from, state)
    const here = neck.places[place]!
    const { costs: shifts } = this.#shiftsTo(target, here.fret === 0)
    const row = (handBefore - neck.lowestHand) * this.#hands - neck.lowestHand
    const stretch = stretchCost(hand, here, handBefore)
    for (const edge of edges[from]![track]!) {
      for (const q of edge.places ?? target.tracks[edge.to]!) {
        const there = neck.places[q]!
        const step = pair[from]![(here.pitch - base) * width + there.pitch - base]!
        if (step >= IMPOSSIBLE || placeCost[q]! >= IMPOSSIBLE || !this.#admits(edge, here.pitch, there.pitch)) continue
        const move = target.remembersMove ? this.#moveOf[there.pitch - here.pitch + 127]! : before
        const cost =
          step +
          placeCost[q]! +
          edge.cost +
          stretch +
          this.#across[place * neck.places.length + q]! +
          (target.remembersMove || (before === REPEAT && there.pitch === here.pitch)
            ? after[before * MOVES + move]!
            : 0)
        if (cost > most) continue
        const offset = this.#offsets[to]![edge.to * neck.places.length + q]!
        // In a loop the first note's track may be narrower than the way to it.
        if (offset < 0) continue
        const reach = there.highestHand - there.lowestHand + 1
        for (let h = 0; h < reach; h++) {
          const next = offset + move * reach + h
          // Before the shift is known: most are too dear without it.
          if (toGo && cost + toGo[next]! > most) continue
          const shift = shifts[row + there.lowestHand + h]!
          if (shift < IMPOSSIBLE) visit(next, cost + shift)
        }
      }
    }
  }
}
