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
  /** what rules about the hand add to a move that leads here */
  readonly handRules: HandRuleCosts | undefined
}

/**
 * By the hand before and the hand after, both counted from the neck's lowest, at `before * hands + after`: points, or IMPOSSIBLE. Apart
 * for a hand that leaves an open string.
 */
export interface HandRuleCosts {
  readonly fretted: Int32Array
  readonly open: Int32Array
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
  /** numbers of the tables above: two trellises that share them share their reverse steps */
  readonly identities: Identities
}

/** Numbers objects, so that a key can name them. */
export class Identities {
  readonly #numbers = new WeakMap<object, number>()
  #count = 0

  of(object: object | undefined): number {
    if (!object) return 0
    let number = this.#numbers.get(object)
    if (number === undefined) {
      number = ++this.#count
      this.#numbers.set(object, number)
    }
    return number
  }
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

/** What a hand pays for going from one place to another, the fret under its first finger before and after. */
export function shiftCost(
  costs: HandCosts,
  neck: Pick<Neck, 'steps'>,
  from: number,
  to: number,
  fromFret: number,
  hurried: boolean,
): number {
  if (from === to) return 0
  const steps = Math.abs(neck.steps[to]! - neck.steps[from]!)
  return fromFret === 0 ? costs.perStep * steps : costs.move + (costs.perStep + (hurried ? costs.hurried : 0)) * steps
}

/** What a note pays that its hand reaches only by opening wide. */
export function stretchCost(costs: HandCosts, place: Pick<Place, 'stretched' | 'lowestHand'>, hand: number): number {
  return place.stretched && hand === place.lowestHand ? costs.stretch : 0
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
