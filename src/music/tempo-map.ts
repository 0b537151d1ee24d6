import { type Metre, tempoBeatTicks } from './metre.ts'
import { TICKS_PER_QUARTER, type Tick } from './tick.ts'

/** A tempo and where it begins, as a MIDI file holds it. */
export interface TempoChange {
  readonly tick: Tick
  /** microseconds of a quarter note, a whole number from 1 to {@link SLOWEST_MICROS} */
  readonly microsPerQuarter: number
}

/** Tempos in order of time; the first is at tick 0. */
export type TempoMap = readonly TempoChange[]

/** The slowest tempo that a MIDI file can hold: 24 bits of microseconds, 3.576 quarters a minute. Source: SMF 1.0, Set Tempo. */
export const SLOWEST_MICROS = 0xffffff

const MICROS_PER_MINUTE = 60_000_000

/**
 * Quarters a minute of a tempo in beats a minute: the beat is the dotted quarter in compound metres, the quarter elsewhere.
 *
 * @example
 * quartersPerMinute(60, { upper: 12, lower: 8, groups: [3, 3, 3, 3] }) // => 90
 */
export function quartersPerMinute(tempoBpm: number, metre: Metre): number {
  return (tempoBpm * tempoBeatTicks(metre)) / TICKS_PER_QUARTER
}

/**
 * Microseconds of a quarter note, rounded to the nearest: a file holds no fraction of one.
 *
 * @param quarterBpm  quarters a minute, at least 3.576
 * @throws RangeError  where no file can hold it
 *
 * @example
 * microsPerQuarterOf(126) // => 476190
 */
export function microsPerQuarterOf(quarterBpm: number): number {
  const micros = Math.round(MICROS_PER_MINUTE / quarterBpm)
  if (!(micros >= 1 && micros <= SLOWEST_MICROS)) {
    throw new RangeError(`${quarterBpm} quarters a minute do not fit into a MIDI file: 3.576 to 60,000,000 do`)
  }
  return micros
}

/**
 * Seconds from the start to a tick.
 *
 * @throws RangeError  if the map has no tempo at tick 0
 *
 * @example
 * secondsAt([{ tick: 0, microsPerQuarter: 500000 }], 960) // => 1
 */
export function secondsAt(map: TempoMap, tick: Tick): number {
  if (map[0]?.tick !== 0) throw new RangeError('A tempo map begins with a tempo at tick 0')
  let micros = 0
  for (const [index, change] of map.entries()) {
    if (change.tick >= tick) break
    const until = Math.min(tick, map[index + 1]?.tick ?? tick)
    micros += (until - change.tick) * change.microsPerQuarter
  }
  return micros / TICKS_PER_QUARTER / 1e6
}

/**
 * How many ticks a stretch of time lasts at a tempo, fractions included.
 *
 * @example
 * ticksOfMs(10, 500000) // => 9.6
 */
export function ticksOfMs(ms: number, microsPerQuarter: number): number {
  return (ms * 1000 * TICKS_PER_QUARTER) / microsPerQuarter
}
