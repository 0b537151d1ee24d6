import type { Instrument } from '../../src/music/instrument.ts'

/** The hand, by a second way: from the formula of the frets, where the code has a table. */

/** How far a fret is from the nut, in whole tenths of a millimetre. */
export function nutTo(instrument: Pick<Instrument, 'scale'>, fret: number): number {
  return Math.round(instrument.scale * (1 - 2 ** (-fret / 12)))
}

/** How far the hand goes, in whole tenths of a millimetre. */
export function wayOf(instrument: Pick<Instrument, 'scale'>, from: number, to: number): number {
  return Math.abs(nutTo(instrument, to) - nutTo(instrument, from))
}

/** The same in steps of 40 mm, counted from the nut. */
export function stepsOf(instrument: Pick<Instrument, 'scale'>, from: number, to: number): number {
  const step = (fret: number) => Math.round(nutTo(instrument, fret) / 400)
  return Math.abs(step(to) - step(from))
}

/** Under the little finger where four frets are wider than 110 mm. */
export function isStretched(instrument: Pick<Instrument, 'scale'>, fret: number, hand: number): boolean {
  return fret > 0 && fret - hand === 3 && wayOf(instrument, hand, fret) > 1100
}

/** Whether a hand reaches a fret: four frets, or three where a hand of 1 2 4 cannot have four without opening wide. */
export function isReached(instrument: Pick<Instrument, 'scale' | 'hand'>, fret: number, hand: number): boolean {
  if (fret === 0) return true
  if (fret < hand || fret > hand + 3) return false
  return instrument.hand === 'one-finger-per-fret' || !isStretched(instrument, fret, hand)
}
