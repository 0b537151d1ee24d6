import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'

/**
 * How far a hand shifts in a time, in tenths of a millimetre: 90 mm in 250 ms, two frets low on a neck of 34 inches; 205 mm, five frets, in
 * 500 ms; any way in a second. Working values, not measured: no study of shifts on a bass is known; professional violinists end theirs
 * within 27 to 68 ms of the time they mean.
 */
const REACH: readonly { readonly tenths: number; readonly seconds: number }[] = [
  { tenths: 0, seconds: 0 },
  { tenths: 900, seconds: 0.25 },
  { tenths: 2050, seconds: 0.5 },
  { tenths: Number.POSITIVE_INFINITY, seconds: 1 },
]

/** A hair less than the time is the time: the length of a beat is seldom a whole number of ticks in seconds. */
const HAIR = 1e-9

/** The hand shifts no faster than the time between two notes allows; while an open string rings it is free. */
export const SHIFT_IN_TIME: Rule<void> = {
  id: 'shift-in-time',
  phrasings: [plainly('shift|shifts no faster than the tempo allows')],
  defaultWeight: 6,
  test: () => ({
    looksAt: 'hand',
    allows: ({ tenths, fromOpen, seconds }) =>
      fromOpen || seconds + HAIR >= REACH.find((reach) => tenths <= reach.tenths)!.seconds,
  }),
  keeps: [
    { value: undefined, changes: 'Em7', line: 'G1 B1 D2 F2', hands: [1, 3, 3, 5], bpm: 240 },
    { value: undefined, changes: 'Em7', line: 'G1 B1 D2 F2', hands: [1, 6, 1, 6], bpm: 120 },
    { value: undefined, changes: 'Em7', line: 'G1 B1 D2 F2', hands: [1, 9, 9, 1], bpm: 60 },
    { value: undefined, changes: 'Em7', line: 'E1 B1 C2 F2', hands: [1, 9, 9, 9], bpm: 240 },
    // Three frets high on the neck are no further than two low down.
    { value: undefined, changes: 'Em7', line: 'G2 B2 D3 F3', hands: [9, 12, 12, 15], bpm: 240 },
  ],
  breaks: [
    { value: undefined, changes: 'Em7', line: 'G1 B1 D2 F2', hands: [1, 4, 4, 4], bpm: 240 },
    { value: undefined, changes: 'Em7', line: 'G1 B1 D2 F2', hands: [1, 7, 7, 7], bpm: 120 },
    { value: undefined, changes: 'Em7', line: 'G1 B1 D2 F2', hands: [1, 3, 3, 3], bpm: 241 },
  ],
}
