import type { PatternCount, Rule } from '../rule.ts'
import { PATTERN, times } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'
import { downTo, upTo } from '../rule-value.ts'

/** More often than this nobody counts. */
const MOST = 32
const TIMES = times(MOST)

/** A pattern is begun at least, at most or exactly so many times; at most none is never. */
export const PATTERN_SO_MANY_TIMES: Rule<PatternCount> = {
  id: 'pattern-so-many-times',
  phrasings: [
    phrasing(
      ['pattern', PATTERN, 'never'],
      (pattern): PatternCount => ({ pattern, atLeast: 0, atMost: 0 }),
      ({ pattern, atLeast, atMost }) => (atLeast === 0 && atMost === 0 ? [pattern] : undefined),
    ),
    phrasing(
      ['pattern', PATTERN, 'at least', TIMES],
      (pattern, atLeast): PatternCount => ({ pattern, atLeast, atMost: undefined }),
      ({ pattern, atLeast, atMost }) => (atMost === undefined ? [pattern, atLeast] : undefined),
    ),
    phrasing(
      ['pattern', PATTERN, 'at most', TIMES],
      (pattern, atMost): PatternCount => ({ pattern, atLeast: 0, atMost }),
      ({ pattern, atLeast, atMost }) => (atLeast === 0 && atMost !== undefined ? [pattern, atMost] : undefined),
    ),
    phrasing(
      ['pattern', PATTERN, 'exactly|just', TIMES],
      (pattern, count): PatternCount => ({ pattern, atLeast: count, atMost: count }),
      ({ pattern, atLeast, atMost }) => (atLeast === atMost ? [pattern, atLeast] : undefined),
    ),
    phrasing(
      ['no pattern', PATTERN],
      (pattern): PatternCount => ({ pattern, atLeast: 0, atMost: 0 }),
      () => undefined,
    ),
  ],
  defaultWeight: 8,
  test: (count) => ({ looksAt: 'pattern', ...count }),
  milder: ({ pattern, atLeast, atMost }) => {
    if (atMost === undefined) return [downTo(atLeast, 1).map((fewer) => ({ pattern, atLeast: fewer, atMost }))]
    const more = upTo(atMost, MOST)
    if (atLeast === 0) return [more.map((most) => ({ pattern, atLeast, atMost: most }))]
    // Exactly so often: what is nearest is at least or at most so often.
    return [[{ pattern, atLeast, atMost: undefined }], [{ pattern, atLeast: 0, atMost }]]
  },
  keeps: [
    {
      value: { pattern: 'root-only', atLeast: 0, atMost: 2 },
      changes: 'C | F',
      line: 'C2 C2 C2 C2 | F2 A2 C3 A2',
      patterns: ['root-only', 'triad-and-back'],
    },
    {
      value: { pattern: 'root-only', atLeast: 1, atMost: 1 },
      changes: 'C | F',
      line: 'C2 C2 C2 C2 | F2 A2 C3 A2',
      patterns: ['root-only', 'triad-and-back'],
    },
    {
      value: { pattern: 'root-only', atLeast: 1, atMost: undefined },
      changes: 'C | F',
      line: 'C2 C2 C2 C2 | F2 A2 C3 A2',
      patterns: ['root-only', 'triad-and-back'],
    },
    {
      value: { pattern: 'root-only', atLeast: 0, atMost: 0 },
      changes: 'C | F',
      line: 'C2 E2 G2 E2 | F2 A2 C3 A2',
      patterns: ['triad-and-back', 'triad-and-back'],
    },
  ],
  breaks: [
    {
      value: { pattern: 'root-only', atLeast: 2, atMost: undefined },
      changes: 'C | F',
      line: 'C2 C2 C2 C2 | F2 A2 C3 A2',
      patterns: ['root-only', 'triad-and-back'],
    },
    {
      value: { pattern: 'triad-and-back', atLeast: 1, atMost: 1 },
      changes: 'C | F',
      line: 'C2 E2 G2 E2 | F2 A2 C3 A2',
      patterns: ['triad-and-back', 'triad-and-back'],
    },
    {
      value: { pattern: 'root-only', atLeast: 0, atMost: 0 },
      changes: 'C | F',
      line: 'C2 C2 C2 C2 | F2 A2 C3 A2',
      patterns: ['root-only', 'triad-and-back'],
    },
  ],
}
