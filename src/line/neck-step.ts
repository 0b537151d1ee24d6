import { IMPOSSIBLE, type Trellis } from '../search/trellis.ts'
import { MOVES, type Move, moveOf, NO_MOVE } from './move.ts'
import type { Neck, Place } from './neck.ts'
import type { HandCosts } from './walk-table.ts'

/**
 * One layer of the trellis over (track, string, fret, hand, last move). A track is a state of the rules and patterns that need
 * memory; the neck does not know what it stands for.
 */
export interface NeckLayer {
  /** cost of each place of the neck, IMPOSSIBLE where the note may not be played */
  readonly placeCost: Int32Array
  /** per track, the places it may be at, rising */
  readonly tracks: readonly Int32Array[]
  /** an off-beat note leaves the memory of the last move as it was */
  readonly remembersMove: boolean
  /** there is an eighth of time or less to get here: moving the hand costs more */
  readonly hurried: boolean
}

/** A way from a track of one layer to a track of the next. */
export interface NeckEdge {
  readonly to: number
  readonly cost: number
  /** places it may arrive at, rising; absent: all of the track's */
  readonly places?: Int32Array
  /** intervals in semitones that it may take; absent: any */
  readonly intervals?: readonly number[]
  /** pairs of pitches that it may join, as 1 in a table like `pair`; absent: any */
  readonly joins?: Uint8Array
}

/** What it takes to make a trellis on a neck. */
export interface NeckProblem {
  readonly neck: Neck
  readonly hand: HandCosts
  /** cost of a move after a move, `before * MOVES + move` */
  readonly after: Int32Array
  readonly layers: readonly NeckLayer[]
  /** `edges[t][track]`: the ways from a track of layer t to layer t + 1; in a loop the last layer leads to the first */
  readonly edges: readonly (readonly (readonly NeckEdge[])[])[]
  /** `pair[t][(x - base) * width + (y - base)]`: cost of pitch y of layer t + 1 after pitch x of layer t */
  readonly pair: readonly Int32Array[]
  /** costs of beginning and (without a loop) of ending in each track */
  readonly startCost: readonly number[]
  readonly endCost: readonly number[]
  readonly loop: boolean
}

/** A state, spelled out. */
export interface NeckState {
  readonly track: number
  readonly place: number
  readonly hand: number
  readonly move: Move
}

/** The lowest pitch and the number of pitches of a table over pairs of pitches. */
export interface PitchRange {
  readonly base: number
  readonly width: number
}

/** The pitches of a neck. */
export function pitchRange(neck: Neck): PitchRange {
  let lowest = 127
  let highest = 0
  for (const place of neck.places) {
    lowest = Math.min(lowest, place.pitch)
    highest = Math.max(highest, place.pitch)
  }
  return { base: lowest, width: highest - lowest + 1 }
}

/** What a hand pays for going from one place to another: fret under the first finger before and after. */
export function shiftCost(costs: HandCosts, from: number, to: number, fromFret: number, hurried: boolean): number {
  const frets = Math.abs(to - from)
  if (frets === 0) return 0
  return fromFret === 0 ? costs.perFret * frets : costs.move + (costs.perFret + (hurried ? costs.hurried : 0)) * frets
}

/** What it costs to skip the strings between two. */
export function crossingCost(costs: HandCosts, from: number, to: number): number {
  return Math.max(0, Math.abs(to - from) - 1) * costs.skippedString
}

/** What it costs to strike a pitch again on another string. */
export function againCost(
  costs: HandCosts,
  from: Pick<Place, 'pitch' | 'string'>,
  to: Pick<Place, 'pitch' | 'string'>,
): number {
  return from.pitch === to.pitch && from.string !== to.string ? costs.otherString : 0
}

/**
 * The trellis of a line on a neck, with a reverse step in three sweeps for each source place (a factored transition: note, then
 * hand, then memory of the move), so that a layer costs about (places x places x hands in reach) and not (states x states).
 *
 * The cost of a step is: pair + crossing + the same pitch on another string + place of the arrival + shift of the hand + what the move costs after the move
 * before + the edge. The hand moves first, and the note is played under the hand that it arrives at.
 */
export class NeckTrellis implements Trellis {
  readonly layers: number
  readonly start: Int32Array
  readonly end: Int32Array
  readonly #problem: NeckProblem
  readonly #range: PitchRange
  readonly #hands: number
  readonly #crossing: Int32Array
  /** the neck's places, column by column; `shifts` counts the lowest hand from the neck's lowest */
  readonly #columns: Readonly<Record<'pitches' | 'strings' | 'frets' | 'hands' | 'shifts', Int32Array>>
  /** the move of an interval, at interval + 127 */
  readonly #moveOf: Uint8Array
  /** per layer: where the block of a (track, place) begins, at `track * places + place`, -1 where there is none. A block is `move * handsInReach + (hand - lowestHand)`. */
  readonly #offsets: readonly Int32Array[]
  readonly #sizes: readonly number[]
  /** per layer, blocks in order: [offset, track, place] each */
  readonly #blocks: (Int32Array | undefined)[]
  /** the first layer after the first that remembers its move */
  readonly #moveless: number
  // Scratch of the reverse step, per (move, hand)
  readonly #y: Int32Array
  readonly #z: Int32Array

  constructor(problem: NeckProblem) {
    this.#problem = problem
    const { neck, layers } = problem
    this.layers = layers.length
    this.#range = pitchRange(neck)
    this.#hands = neck.highestHand - neck.lowestHand + 1
    const column = (of: (place: Place) => number) => Int32Array.from(neck.places, of)
    this.#columns = {
      pitches: column((place) => place.pitch),
      strings: column((place) => place.string),
      frets: column((place) => place.fret),
      hands: column((place) => place.highestHand - place.lowestHand + 1),
      shifts: column((place) => place.lowestHand - neck.lowestHand),
    }
    this.#crossing = new Int32Array(neck.strings * neck.strings)
    for (let a = 0; a < neck.strings; a++)
      for (let b = 0; b < neck.strings; b++) this.#crossing[a * neck.strings + b] = crossingCost(problem.hand, a, b)
    this.#moveOf = Uint8Array.from({ length: 255 }, (_, i) => moveOf(i - 127))
    const offsets: Int32Array[] = []
    const sizes: number[] = []
    for (const layer of layers) {
      const at = new Int32Array(layer.tracks.length * neck.places.length).fill(-1)
      let size = 0
      for (const [track, places] of layer.tracks.entries()) {
        for (const place of places) {
          at[track * neck.places.length + place] = size
          size += MOVES * this.#handsOf(place)
        }
      }
      offsets.push(at)
      sizes.push(size)
    }
    this.#offsets = offsets
    this.#sizes = sizes
    this.#blocks = layers.map(() => undefined)
    const remembers = layers.findIndex((layer, index) => index > 0 && layer.remembersMove)
    this.#moveless = remembers < 0 ? layers.length : remembers
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

  #blocksOf(layer: number): Int32Array {
    const known = this.#blocks[layer]
    if (known) return known
    const places = this.#problem.neck.places.length
    const rows: number[] = []
    for (const [index, offset] of this.#offsets[layer]!.entries())
      if (offset >= 0) rows.push(offset, Math.floor(index / places), index % places)
    const blocks = Int32Array.from(rows)
    this.#blocks[layer] = blocks
    return blocks
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
        end.fill(endCost[track]!, offset, offset + MOVES * this.#handsOf(place))
      }
    }
    return end
  }

  /** The reverse step from layer `to` to layer `from`, one source place at a time. */
  #relax(from: number, to: number, placeCost: Int32Array, next: Int32Array, into: Int32Array): void {
    const { neck, layers, edges, pair, after, hand } = this.#problem
    const { base, width } = this.#range
    const { pitches, strings, hands: reaches, shifts, frets } = this.#columns
    const source = layers[from]!
    const target = layers[to]!
    const offsets = this.#offsets[to]!
    const pairs = pair[from]!
    const { remembersMove } = target
    // Imported constants, at hand: this is the innermost loop of all.
    const never = IMPOSSIBLE
    const count = MOVES
    const none = NO_MOVE
    const crossings = this.#crossing
    const moveOfInterval = this.#moveOf
    const y = this.#y
    const z = this.#z
    const hands = this.#hands
    // Once a move was remembered there is always one before.
    const firstMove = from < this.#moveless ? none : 1
    into.fill(never)
    for (const [track, sources] of source.tracks.entries()) {
      const ways = edges[from]![track]!
      for (const p of sources) {
        if (source.placeCost[p]! >= never) continue
        const pitch = pitches[p]!
        const row = (pitch - base) * width - base
        const crossing = strings[p]! * neck.strings
        // Play: the cheapest way on, by the hand that plays it and the move that it is. Bit n of `moves`: move n is there.
        y.fill(never)
        let moves = 0
        for (const edge of ways) {
          const arrivals = edge.places ?? target.tracks[edge.to]!
          const trackOffset = edge.to * pitches.length
          const conditional = edge.intervals !== undefined || edge.joins !== undefined
          for (let i = 0; i < arrivals.length; i++) {
            const q = arrivals[i]!
            const there = pitches[q]!
            const step = pairs[row + there]!
            const own = placeCost[q]!
            if (step >= never || own >= never) continue
            if (conditional && !this.#admits(edge, pitch, there)) continue
            const offset = offsets[trackOffset + q]!
            const again = there === pitch && q !== p ? hand.otherString : 0
            const cost = step + own + edge.cost + crossings[crossing + strings[q]!]! + again
            const reach = reaches[q]!
            const first = remembersMove ? moveOfInterval[there - pitch + 127]! : 0
            const last = remembersMove ? first : count - 1
            for (let move = first; move <= last; move++) {
              const at = offset + move * reach
              const yAt = move * hands + shifts[q]!
              let found = false
              for (let h = 0; h < reach; h++) {
                const value = next[at + h]! + cost
                if (value < y[yAt + h]!) {
                  y[yAt + h] = value
                  found = true
                }
              }
              if (found) moves |= 1 << move
            }
          }
        }
        if (moves === 0) continue
        // Shift: the hand moves before the note; a cost linear in frets needs two sweeps only.
        const perFret = hand.perFret + (frets[p] !== 0 && target.hurried ? hand.hurried : 0)
        const perMove = frets[p] === 0 ? 0 : hand.move
        for (let move = 0; move < count; move++) {
          if ((moves & (1 << move)) === 0) continue
          const at = move * hands
          let near = never
          for (let h = 0; h < hands; h++) {
            near += perFret
            const stay = y[at + h]!
            z[at + h] = Math.min(stay, near + perMove)
            if (stay < near) near = stay
          }
          near = never
          for (let h = hands - 1; h >= 0; h--) {
            near += perFret
            if (near + perMove < z[at + h]!) z[at + h] = near + perMove
            const stay = y[at + h]!
            if (stay < near) near = stay
          }
        }
        // Fold: what the move costs after the move before.
        const offset = this.#offsets[from]![track * pitches.length + p]!
        const reach = reaches[p]!
        for (let move = 0; move < count; move++) {
          if ((moves & (1 << move)) === 0) continue
          const zAt = move * hands + shifts[p]!
          const first = remembersMove ? firstMove : move
          const last = remembersMove ? count - 1 : move
          for (let before = first; before <= last; before++) {
            const cost = remembersMove ? after[before * count + move]! : 0
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
          this.#crossing[here.string * neck.strings + there.string]! +
          againCost(hand, here, there) +
          (target.remembersMove ? after[before * MOVES + move]! : 0)
        if (cost > most) continue
        const offset = this.#offsets[to]![edge.to * neck.places.length + q]!
        const reach = there.highestHand - there.lowestHand + 1
        for (let h = 0; h < reach; h++) {
          const next = offset + move * reach + h
          // Before the shift is known: most are too dear without it.
          if (toGo && cost + toGo[next]! > most) continue
          const shift = shiftCost(hand, handBefore, there.lowestHand + h, here.fret, target.hurried)
          visit(next, cost + shift)
        }
      }
    }
  }
}
