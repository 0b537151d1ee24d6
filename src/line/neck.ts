import type { Instrument } from '../music/instrument.ts'
import type { Pitch } from '../music/pitch.ts'

/** A place on the neck: string and fret. */
export interface Place {
  /** index into the instrument's strings, 0 the lowest-sounding */
  readonly string: number
  readonly fret: number
  readonly pitch: Pitch
  /** The hands that reach it, as frets under the first finger, both ends included. An open string goes with any hand. */
  readonly lowestHand: number
  readonly highestHand: number
}

/** The places that a hand may use on an instrument, in order of string and fret. */
export interface Neck {
  readonly places: readonly Place[]
  readonly strings: number
  readonly lowestHand: number
  readonly highestHand: number
}

/**
 * The neck between two frets, both included. Open strings are there only from fret 0.
 *
 * A hand reaches four frets, one finger a fret; three on a long string where the fingers 1 2 4 are used (Simandl's double-bass
 * hand, cited from memory).
 *
 * @throws RangeError  if `to` is below `from` or beyond the last fret
 */
export function neckOf(instrument: Instrument, frets: { readonly from: number; readonly to: number }): Neck {
  const { from, to } = frets
  if (!(from >= 0 && to >= from && to <= instrument.frets))
    throw new RangeError(`frets ${from} to ${to} are not frets of a neck of ${instrument.frets}`)
  const reach = instrument.hand === 'three-finger' ? 3 : 4
  const lowestHand = Math.max(1, from)
  const highestHand = Math.max(lowestHand, to - reach + 1)
  const places: Place[] = []
  for (const [string, open] of instrument.open.entries()) {
    for (let fret = from; fret <= to; fret++) {
      places.push({
        string,
        fret,
        pitch: open + fret,
        lowestHand: fret === 0 ? lowestHand : Math.max(lowestHand, fret - reach + 1),
        highestHand: fret === 0 ? highestHand : Math.min(highestHand, fret),
      })
    }
  }
  return { places, strings: instrument.open.length, lowestHand, highestHand }
}
