import { TICKS_PER_WHOLE, type Tick } from '../music/tick.ts'

/** The value of a printed note or rest. */
export interface NoteValue {
  /** the part of a whole note: 1 whole, 2 half, 4 quarter, 8 eighth, 16 sixteenth, 32 thirty-second */
  readonly part: 1 | 2 | 4 | 8 | 16 | 32
  readonly dots: 0 | 1 | 2
  /** one of a triplet: three in the time of two */
  readonly triplet: boolean
}

const PARTS = [1, 2, 4, 8, 16, 32] as const

/**
 * The value that lasts exactly so long, with one dot at most; `undefined` if there is none.
 *
 * @param triplet  three in the time of two
 *
 * @example
 * noteValueOf(720) // => { part: 4, dots: 1, triplet: false }
 * noteValueOf(160, true) // => { part: 8, dots: 0, triplet: true }
 * noteValueOf(600) // => undefined
 */
export function noteValueOf(ticks: Tick, triplet = false): NoteValue | undefined {
  const plain = triplet ? (ticks * 3) / 2 : ticks
  for (const part of PARTS) {
    if (plain * part === TICKS_PER_WHOLE) return { part, dots: 0, triplet }
    if (2 * plain * part === 3 * TICKS_PER_WHOLE) return { part, dots: 1, triplet }
  }
  return undefined
}

/**
 * How long a value lasts.
 *
 * @example
 * ticksOf({ part: 4, dots: 1, triplet: false }) // => 720
 */
export function ticksOf({ part, dots, triplet }: NoteValue): Tick {
  const plain = (TICKS_PER_WHOLE / part) * (2 - 0.5 ** dots)
  return triplet ? (plain * 2) / 3 : plain
}

/** The value without a dot that comes nearest, for lengths that no value has, as a fifth of a beat. */
export function nearestValue(ticks: Tick): NoteValue {
  const away = (part: number) => Math.abs(Math.log((ticks * part) / TICKS_PER_WHOLE))
  const part = PARTS.reduce((best, other) => (away(other) < away(best) ? other : best))
  return { part, dots: 0, triplet: false }
}
