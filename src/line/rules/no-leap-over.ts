import type { Rule } from '../rule.ts'
import { INTERVAL, WIDEST } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'
import { upTo } from '../rule-value.ts'

/** No two neighbours lie further apart than so many semitones. */
export const NO_LEAP_OVER: Rule<number> = {
  id: 'no-leap-over',
  phrasings: [
    phrasing(
      ['no leap|leaps|jump over|above|beyond', INTERVAL],
      (semitones) => semitones,
      (semitones) => [semitones],
    ),
    phrasing(
      ['no leap|leaps|jump larger|wider|bigger|greater|more than', INTERVAL],
      (semitones) => semitones,
      () => undefined,
    ),
  ],
  defaultWeight: 8,
  test: (semitones) => ({ looksAt: 'pair', allows: (from, to) => Math.abs(to.pitch - from.pitch) <= semitones }),
  milder: (semitones) => [upTo(semitones, WIDEST)],
  keeps: [{ value: 5, changes: 'Cmaj7', line: 'C2 E2 G2 C3' }],
  breaks: [{ value: 4, changes: 'Cmaj7', line: 'C2 E2 G2 C3' }],
}
