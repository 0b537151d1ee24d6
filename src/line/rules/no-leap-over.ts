import type { Rule } from '../rule.ts'

/** No two neighbours lie further apart than so many semitones. */
export const NO_LEAP_OVER: Rule<number> = {
  id: 'no-leap-over',
  sentence: (semitones) => `no leap larger than ${semitones} semitones`,
  defaultWeight: 8,
  test: (semitones) => ({ looksAt: 'pair', allows: (from, to) => Math.abs(to.pitch - from.pitch) <= semitones }),
  keeps: [{ value: 5, changes: 'Cmaj7', line: 'C2 E2 G2 C3' }],
  breaks: [{ value: 4, changes: 'Cmaj7', line: 'C2 E2 G2 C3' }],
}
