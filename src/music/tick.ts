/** Written time in whole ticks, {@link TICKS_PER_QUARTER} to the quarter note, counted from the start of bar 1 (or of the pick-up). */
export type Tick = number

/** The grid of everything written. Holds triplets, sixteenths and quintuplets exactly. */
export const TICKS_PER_QUARTER = 480

/** Ticks of a whole note: a count of metre `n/d` lasts `TICKS_PER_WHOLE / d`. */
export const TICKS_PER_WHOLE = 4 * TICKS_PER_QUARTER
