import type { Rule } from '../rule.ts'
import { phrasing } from '../rule-phrase.ts'

/** Bars that are played several times have the same line each time, as a part with its repeats has, or a new one. */
export const LINE_AT_REPEATS: Rule<{ readonly anew: boolean }> = {
  id: 'line-at-repeats',
  phrasings: [
    phrasing(
      ['a~ new line at|on each|every repeat'],
      () => ({ anew: true }),
      ({ anew }) => (anew ? [] : undefined),
    ),
    phrasing(
      ['the~ same line at|on each|every repeat'],
      () => ({ anew: false }),
      ({ anew }) => (anew ? undefined : []),
    ),
  ],
  defaultWeight: 10,
  test: ({ anew }) => ({ looksAt: 'repeats', anew }),
  keeps: [
    { value: { anew: false }, changes: '|: C | F :|', line: 'C2 E2 G2 E2 | F2 A2 C3 A2 | C2 E2 G2 E2 | F2 A2 C3 A2' },
    { value: { anew: true }, changes: '|: C | F :|', line: 'C2 E2 G2 E2 | F2 A2 C3 A2 | C2 D2 E2 G2 | A2 F2 C3 A2' },
  ],
  breaks: [
    { value: { anew: false }, changes: '|: C | F :|', line: 'C2 E2 G2 E2 | F2 A2 C3 A2 | C2 D2 E2 G2 | A2 F2 C3 A2' },
  ],
}
