import type { Rule } from '../rule.ts'
import { FRET } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'
import { downTo, upTo } from '../rule-value.ts'

/** Frets that a hand stays between, both included. */
export interface FretRange {
  readonly from: number
  readonly to: number
}

/** The longest neck has so many. */
const MOST_FRETS = 24

/** The line lies between two frets, both included. An open string is fret 0. */
export const BETWEEN_FRETS: Rule<FretRange> = {
  id: 'between-frets',
  phrasings: [
    phrasing(
      ['stay|stays between the? frets|fret', FRET, 'and', FRET],
      (from, to): FretRange => ({ from, to }),
      ({ from, to }) => [from, to],
      (from, to) =>
        from > to
          ? { message: `lies below fret ${from}: expected the lower fret first`, instead: [to, from] }
          : undefined,
    ),
  ],
  defaultWeight: 6,
  test: ({ from, to }) => ({ looksAt: 'note', allows: (note) => note.fret >= from && note.fret <= to }),
  reach: ({ to }) => ({ fret: to }),
  milder: ({ from, to }) => [
    upTo(to, MOST_FRETS).map((higher) => ({ from, to: higher })),
    downTo(from, 0).map((lower) => ({ from: lower, to })),
  ],
  keeps: [{ value: { from: 0, to: 3 }, changes: 'Em7', line: 'E1 G1 B1 D2' }],
  breaks: [
    { value: { from: 1, to: 3 }, changes: 'Em7', line: 'E1 G1 B1 D2' },
    { value: { from: 0, to: 2 }, changes: 'Em7', line: 'E1 G1 B1 D2' },
  ],
}
