import type { Neck, Place } from './neck.ts'
import type { HandCosts } from './walk/table.ts'

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
  /** what it costs to go across the strings, of `acrossCosts` */
  readonly across: Int32Array
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

/** Strings up from root to fifth, from fifth to root, from root to octave, as the hand has them on a neck in fourths. */
const STRINGS_UP = new Map([
  [5, 1],
  [7, 1],
  [12, 2],
])

/** What it costs to go across the strings from one place to another, wherever the hand is. */
export function acrossTerms(
  costs: HandCosts,
  from: Pick<Place, 'pitch' | 'string' | 'fret'>,
  to: Pick<Place, 'pitch' | 'string' | 'fret'>,
  add: (rule: string, points: number) => void,
): void {
  const interval = to.pitch - from.pitch
  const strings = to.string - from.string
  const size = Math.abs(interval)
  const up = STRINGS_UP.get(size)
  const inShape = strings * Math.sign(interval) === up
  if (up !== undefined && !inShape) add('fifth-and-octave-in-shape', costs.outOfShape)
  if (!inShape) add('no-string-skipped', Math.max(0, Math.abs(strings) - 1) * costs.skippedString)
  if (strings === 0) return
  if (size === 0) add('struck-again-in-its-place', costs.otherString)
  if (size === 1 && from.fret > 0 && to.fret > 0) add('half-step-on-one-string', costs.halfStepAcross)
}

/** The sum of `acrossTerms`. */
export function acrossCost(costs: HandCosts, from: Parameters<typeof acrossTerms>[1], to: typeof from): number {
  let sum = 0
  acrossTerms(costs, from, to, (_, points) => {
    sum += points
  })
  return sum
}

/** `acrossCost` from place to place of a neck, at `from * places + to`. */
export function acrossCosts(costs: HandCosts, { places }: Neck): Int32Array {
  const count = places.length
  return Int32Array.from({ length: count * count }, (_, at) =>
    acrossCost(costs, places[Math.floor(at / count)]!, places[at % count]!),
  )
}
