import { fromNut } from '../music/fret-distance.ts'
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
  /** its lowest hand reaches it only by opening wide */
  readonly stretched: boolean
}

/** The places that a hand may use on an instrument, in order of string and fret. */
export interface Neck {
  readonly places: readonly Place[]
  readonly strings: number
  readonly lowestHand: number
  readonly highestHand: number
  /** by fret: how far from the nut, in tenths of a millimetre */
  readonly tenths: readonly number[]
  /** by fret: the same in steps, each about a fret low on the neck; what a shift is charged by */
  readonly steps: readonly number[]
}

/**
 * Four frets no further apart than this have a finger each, in tenths of a millimetre; where they are wider the fingers are 1 2 4 over
 * three. So one finger a fret begins at the fourth fret of 34 inches, at the second of 30, at the eighth of a double bass. Common practice,
 * no source; a double bass's hand is Simandl's, cited from memory.
 */
const EASY = 1100

/** A step, in tenths of a millimetre. */
const STEP = 400

/** How many frets a hand reaches from the fret under its first finger, and how many without opening wide. */
export function reachOf(instrument: Instrument, hand: number): { readonly frets: number; readonly easily: number } {
  const { scale, frets } = instrument
  const isEasy = hand + 3 > frets || fromNut(scale, hand + 3) - fromNut(scale, hand) <= EASY
  return { frets: isEasy || instrument.hand === 'one-finger-per-fret' ? 4 : 3, easily: isEasy ? 4 : 3 }
}

/**
 * The neck between two frets, both included. Open strings are there only from fret 0.
 *
 * @throws RangeError  if `to` is below `from` or beyond the last fret
 */
export function neckOf(instrument: Instrument, frets: { readonly from: number; readonly to: number }): Neck {
  const { from, to } = frets
  if (!(from >= 0 && to >= from && to <= instrument.frets))
    throw new RangeError(`frets ${from} to ${to} are not frets of a neck of ${instrument.frets}`)
  const lowestHand = Math.max(1, from)
  let highestHand = lowestHand
  while (highestHand + reachOf(instrument, highestHand).frets <= to) highestHand++
  const places: Place[] = []
  for (const [string, open] of instrument.open.entries()) {
    for (let fret = from; fret <= to; fret++) {
      const place = { string, fret, pitch: open + fret }
      if (fret === 0) {
        places.push({ ...place, lowestHand, highestHand, stretched: false })
        continue
      }
      let lowest = Math.min(highestHand, fret)
      while (lowest > lowestHand && lowest - 1 + reachOf(instrument, lowest - 1).frets > fret) lowest--
      const stretched = lowest + reachOf(instrument, lowest).easily <= fret
      places.push({ ...place, lowestHand: lowest, highestHand: Math.min(highestHand, fret), stretched })
    }
  }
  const tenths = Array.from({ length: instrument.frets + 1 }, (_, fret) => fromNut(instrument.scale, fret))
  const steps = tenths.map((distance) => Math.round(distance / STEP))
  return { places, strings: instrument.open.length, lowestHand, highestHand, tenths, steps }
}
