import type { Rule } from '../rule.ts'

/** The line lies between two frets, both included. An open string is fret 0. */
export const BETWEEN_FRETS: Rule<{ readonly from: number; readonly to: number }> = {
  id: 'between-frets',
  sentence: ({ from, to }) => `stay between frets ${from} and ${to}`,
  defaultWeight: 6,
  test: ({ from, to }) => ({ looksAt: 'note', allows: (note) => note.fret >= from && note.fret <= to }),
  keeps: [{ value: { from: 0, to: 3 }, changes: 'Em7', line: 'E1 G1 B1 D2' }],
  breaks: [
    { value: { from: 1, to: 3 }, changes: 'Em7', line: 'E1 G1 B1 D2' },
    { value: { from: 0, to: 2 }, changes: 'Em7', line: 'E1 G1 B1 D2' },
  ],
}
