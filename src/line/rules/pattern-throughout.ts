import type { Rule } from '../rule.ts'
import { PATTERN } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'

/** One pattern is in force throughout. */
export const PATTERN_THROUGHOUT: Rule<string> = {
  id: 'pattern-throughout',
  phrasings: [
    phrasing(
      ['pattern', PATTERN, 'throughout'],
      (pattern) => pattern,
      (pattern) => [pattern],
    ),
    phrasing(
      ['only the? pattern', PATTERN],
      (pattern) => pattern,
      () => undefined,
    ),
  ],
  defaultWeight: 8,
  test: (pattern) => ({ looksAt: 'patterns-in-force', pattern }),
  keeps: [
    {
      value: 'root-only',
      changes: 'C | F',
      line: 'C2 C2 C2 C2 | F2 F2 F2 F2',
      patterns: ['root-only', 'root-only'],
    },
  ],
  breaks: [
    {
      value: 'root-only',
      changes: 'C | F',
      line: 'C2 C2 C2 C2 | F2 A2 C3 A2',
      patterns: ['root-only', 'triad-and-back'],
    },
    { value: 'root-only', changes: 'C', line: 'C2 C2 C2 C2', patterns: [undefined] },
  ],
}
