import type { Pitch } from './pitch.ts'

/** A bass: what decides where its notes lie under the hand. */
export interface Instrument {
  readonly id: string
  readonly name: string
  /** sounding pitches of the open strings, low to high */
  readonly open: readonly Pitch[]
  /** highest fret, the same on every string; on a double bass half steps above the open string */
  readonly frets: number
  /** length of the open strings, in tenths of a millimetre */
  readonly scale: number
  /** a finger for each of four frets, stretched where they are wide, or 1 2 4 as on a double bass */
  readonly hand: 'one-finger-per-fret' | 'three-finger'
  /** octaves from the written note to the sounding one: -1, or 0 where it sounds as written */
  readonly octaveWritten: -1 | 0
}

/**
 * The lowest note, its lowest open string.
 *
 * @example
 * lowestPitch({ id: 'a', name: 'a', open: [28, 33], frets: 20, scale: 8636, hand: 'three-finger', octaveWritten: -1 }) // => 28
 */
export function lowestPitch(instrument: Instrument): Pitch {
  return Math.min(...instrument.open)
}

/** The highest note, the last fret of its highest string. */
export function highestPitch(instrument: Instrument): Pitch {
  return Math.max(...instrument.open) + instrument.frets
}
