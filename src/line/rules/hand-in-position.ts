import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'

/** The hand stays where it is: notes lie under it or on open strings. Source: common practice, no source. */
export const HAND_IN_POSITION: Rule<void> = {
  id: 'hand-in-position',
  phrasings: [plainly('stay|stays in position')],
  defaultWeight: 4,
  test: () => ({ looksAt: 'hand', allows: ({ tenths }) => tenths === 0 }),
  keeps: [
    { value: undefined, changes: 'Em7', line: 'G1 B1 D2 F2', hands: [2, 2, 2, 2] },
    { value: undefined, changes: 'Em7', line: 'E1 G1 B1 D2', hands: [2, 2, 2, 2] },
  ],
  breaks: [
    { value: undefined, changes: 'Em7', line: 'G1 B1 D2 F2', hands: [2, 2, 3, 3] },
    // Nor does it move behind an open string.
    { value: undefined, changes: 'Em7', line: 'E1 G1 B1 D2', hands: [1, 2, 2, 2] },
  ],
}
