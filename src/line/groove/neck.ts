import type { Instrument } from '../../music/instrument.ts'
import { type Pitch, type PitchClass, pitchClassOf } from '../../music/pitch.ts'
import { type Neck, neckOf } from '../neck.ts'
import type { GrooveTable } from './table.ts'

/** Takes note of a term: its rule and its points. */
export type AddPoints = (rule: string, points: number) => void

/** A string and a fret. */
export interface Spot {
  /** index into the instrument's strings, 0 the lowest-sounding */
  readonly string: number
  readonly fret: number
}

/** A hand holding a note: place and hand position. */
export interface Grip extends Spot {
  /** fret under the first finger */
  readonly hand: number
  readonly pitch: Pitch
}

/**
 * Points that are the same in every feel. Starting values set by hand, common practice, no source.
 */
export const GROOVE_POINTS = {
  /** a root away from its home place, and a root that changes its octave while its chord is held */
  place: 4,
  /** another tone of a figure out of the shape round its root */
  shape: 3,
  /** the same pitch struck on another string */
  samePitchElsewhere: 4,
  /** an octave that is not two strings up and two frets on */
  octaveShape: 2,
  aboveNinthFret: 1,
  enteredAboveFifthPosition: 1,
  /** for each semitone outside the register */
  belowRegister: 1,
  aboveRegister: 2,
  /** a figure played an octave above the place of its root */
  figureMoved: 4,
  /** an approach reached by more than a fifth */
  approachLeap: 5,
  /** a half step that changes the string, neither of its notes open */
  brokenRun: 2,
  /** the same pitch for two tokens of a fill */
  fillRepeats: 6,
  /** a leap of more than an octave inside a bar */
  leapInBar: 20,
  /** the target struck before its chord arrives */
  givenAway: 2,
  /** an approach by step that takes a token's place just after its target was struck */
  targetHeard: 4,
  /** a fill strikes it in one of its last two notes */
  fillGivesAway: 4,
  /** a written approach into a bar that begins elsewhere */
  targetMissed: 12,
  /** a home above the fifth position */
  highHome: 6,
} as const

/** How a note is reached from the one before; `silent`: not from it at all. The numbers are bits. */
export const REACH = { inBar: 1, arrival: 2, approach: 4, freshInFill: 8, silent: 16 } as const

/** Weights of the step from the last note into an arrival by its size in semitones: steps 0, fifth and fourth 1, third 2, same 3. */
const LEAD_SIZES = [3, 0, 0, 2, 2, 1, 4, 1, 4, 4, 4, 4, 3]

/** Grips of a neck, numbered in order of pitch, string, fret and hand, and what it costs to go from one to another. */
export class GrooveNeck {
  readonly grips: readonly Grip[]
  /** grips of each pitch, as numbers; absent pitches cannot be played */
  readonly ofPitch: ReadonlyMap<Pitch, Int16Array>
  readonly lowest: Pitch
  /** pitches of the open strings, the lowest-sounding first */
  readonly open: readonly Pitch[]
  /** by fret: how far from the nut, in tenths of a millimetre */
  readonly tenths: readonly number[]
  readonly #neck: Neck
  readonly #table: GrooveTable
  readonly #register: { readonly lowest: Pitch; readonly highest: Pitch }
  readonly #reaches: (Int32Array | undefined)[] = []
  readonly #nearests = new Map<number, Spot | undefined>()
  readonly #entryPoints = new Map<number, Int32Array>()
  #gripPoints: Int32Array | undefined

  constructor(
    instrument: Instrument,
    frets: { readonly from: number; readonly to: number },
    table: GrooveTable,
    register: { readonly lowest: Pitch; readonly highest: Pitch },
  ) {
    this.#neck = neckOf(instrument, frets)
    this.open = instrument.open
    this.tenths = this.#neck.tenths
    this.#table = table
    this.#register = register
    const grips: Grip[] = []
    for (const { string, fret, pitch, lowestHand, highestHand } of this.#neck.places)
      for (let hand = lowestHand; hand <= highestHand; hand++) grips.push({ string, fret, hand, pitch })
    grips.sort((a, b) => a.pitch - b.pitch || a.string - b.string || a.fret - b.fret || a.hand - b.hand)
    this.grips = grips
    const ofPitch = new Map<Pitch, number[]>()
    for (const [number, grip] of grips.entries()) {
      const same = ofPitch.get(grip.pitch)
      if (same) same.push(number)
      else ofPitch.set(grip.pitch, [number])
    }
    this.ofPitch = new Map([...ofPitch].map(([pitch, numbers]) => [pitch, Int16Array.from(numbers)]))
    this.lowest = grips[0]!.pitch
  }

  /** Pitches of the neck that lie in the register; all of them if none does. */
  pitches(): readonly Pitch[] {
    const { lowest, highest } = this.#register
    const all = [...this.ofPitch.keys()]
    const inside = all.filter((pitch) => pitch >= lowest && pitch <= highest)
    return inside.length > 0 ? inside : all
  }

  /** Hand positions that may be home: 1, 3, 5, 7 as far as the neck has them; else its lowest. */
  homes(): readonly number[] {
    const { lowestHand, highestHand } = this.#neck
    const homes = [1, 3, 5, 7].filter((hand) => hand >= lowestHand && hand <= highestHand)
    return homes.length > 0 ? homes : [lowestHand]
  }

  /**
   * The place where a hand that is at home at `home` looks for a pitch: the nearest to its four frets, the lower fret among equals;
   * an open string is near only to the first position. `undefined` if the pitch is not on the neck.
   *
   * One place for each root is what brings an equal figure back to equal frets.
   */
  homePlace(pitch: Pitch, home: number): Spot | undefined {
    return this.#nearest(home * 128 + pitch, pitch, (fret) =>
      fret === 0 && home === 1 ? 0 : Math.max(home - fret, fret - home - 3, 0),
    )
  }

  /**
   * Where a figure whose root lies at a place has another of its tones: under the same hand, from a fret behind the root to three
   * before it, or nearest to that. Root, fifth and octave and the boxes of major and minor all lie so. `undefined` if the pitch is
   * not on the neck.
   */
  figurePlace(root: Spot, pitch: Pitch): Spot | undefined {
    const { fret: from } = root
    return this.#nearest((64 + from) * 128 + pitch, pitch, (fret) => Math.max(from - 1 - fret, fret - from - 3, 0))
  }

  /** The place of a pitch with the least distance, the lower fret among equals; remembered under a key. */
  #nearest(key: number, pitch: Pitch, distance: (fret: number) => number): Spot | undefined {
    if (this.#nearests.has(key)) return this.#nearests.get(key)
    let best: Spot | undefined
    for (const { string, fret, pitch: sounding } of this.#neck.places) {
      if (sounding !== pitch) continue
      const closer = best ? distance(fret) - distance(best.fret) || fret - best.fret : -1
      if (closer < 0) best = { string, fret }
    }
    this.#nearests.set(key, best)
    return best
  }

  /** The sums of `gripTerms` by grip. */
  gripPoints(): Int32Array {
    this.#gripPoints ??= this.#sums((grip, add) => this.gripTerms(grip, add))
    return this.#gripPoints
  }

  /** The sums of `entryTerms` by grip. */
  entryPoints(home: number): Int32Array {
    const known = this.#entryPoints.get(home) ?? this.#sums((grip, add) => this.entryTerms(grip, home, add))
    this.#entryPoints.set(home, known)
    return known
  }

  #sums(terms: (grip: Grip, add: AddPoints) => void): Int32Array {
    return Int32Array.from(this.grips, (grip) => {
      let sum = 0
      terms(grip, (_, points) => {
        sum += points
      })
      return sum
    })
  }

  /** What a note pays for where it lies. */
  gripTerms(grip: Grip, add: AddPoints): void {
    const { pitch, fret } = grip
    const { lowest, highest } = this.#register
    if (pitch < lowest) add('register', GROOVE_POINTS.belowRegister * (lowest - pitch))
    if (pitch > highest) add('register', GROOVE_POINTS.aboveRegister * (pitch - highest))
    if (fret === 0) add('open-string', this.#table.open)
    if (fret > 9) add('high-fret', GROOVE_POINTS.aboveNinthFret * (fret - 9))
  }

  /** What a chord's first note in a bar pays for the way from home. */
  entryTerms(grip: Grip, home: number, add: AddPoints): void {
    if (grip.fret === 0) return
    if (grip.hand > 5) add('entry-position', GROOVE_POINTS.enteredAboveFifthPosition)
    const away = Math.abs(grip.hand - home) - 1
    if (away > 0) add('home', this.#table.home * away)
  }

  /** What a note pays for the way from the note before. */
  reachTerms(from: Grip, to: Grip, reach: number, add: AddPoints): void {
    if (reach & REACH.silent) return
    const table = this.#table
    const size = Math.abs(to.pitch - from.pitch)
    add('interval', size <= 12 ? table.intervals[size]! : table.intervals[12]! + table.wide * (size - 9))
    if (size === 0 && from.string !== to.string) add('same-pitch-elsewhere', GROOVE_POINTS.samePitchElsewhere)
    if (to.hand !== from.hand) {
      const { steps } = this.#neck
      const way = Math.abs(steps[to.hand]! - steps[from.hand]!)
      add('shift', (from.fret === 0 ? 0 : table.shift) + table.shiftStep * way)
    }
    const strings = Math.abs(to.string - from.string)
    if (size === 12 && strings !== 2) add('octave-shape', GROOVE_POINTS.octaveShape)
    if (size !== 12 && strings > 1) add('skipped-string', table.skip * (strings - 1))
    if (reach & REACH.inBar && size > 12) add('leap-in-bar', GROOVE_POINTS.leapInBar)
    if (size === 1 && strings > 0 && from.fret > 0 && to.fret > 0) add('run-on-one-string', GROOVE_POINTS.brokenRun)
    if (reach & REACH.approach && size > 7) add('approach-leap', GROOVE_POINTS.approachLeap)
    if (reach & REACH.freshInFill && size === 0) add('fill-repeats', GROOVE_POINTS.fillRepeats)
    if (reach & REACH.arrival) {
      add('lead', table.lead * (LEAD_SIZES[size] ?? 4))
      const step = size % 12
      const isStep = step === 1 || step === 2 || step === 10 || step === 11
      if (isStep && size > 2) add('lead-drop', table.leadDrop)
      if (step === 0) add('given-away', GROOVE_POINTS.givenAway)
    }
  }

  /** The sums of `reachTerms` as a square table, row by grip before. */
  reach(bits: number): Int32Array {
    const known = this.#reaches[bits]
    if (known) return known
    const { grips } = this
    const costs = new Int32Array(grips.length * grips.length)
    let sum = 0
    const add: AddPoints = (_, points) => {
      sum += points
    }
    for (const [i, from] of grips.entries()) {
      for (const [j, to] of grips.entries()) {
        sum = 0
        this.reachTerms(from, to, bits, add)
        costs[i * grips.length + j] = sum
      }
    }
    this.#reaches[bits] = costs
    return costs
  }
}

/** The one place of each root in a zone of twelve semitones. */
export function anchorOf(zone: Pitch, pitchClass: PitchClass): Pitch {
  return zone + pitchClassOf(pitchClass - zone)
}
