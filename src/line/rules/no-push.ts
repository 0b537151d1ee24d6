import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'

/** No note is struck early and tied over into the next bar or beat. */
export const NO_PUSH: Rule<void> = {
  id: 'no-push',
  phrasings: [plainly('no pushes|push'), plainly('no pushed notes|note')],
  defaultWeight: 4,
  test: () => ({ looksAt: 'cell', allows: ({ onsets }) => onsets.every((onset) => !onset.tiedOver) }),
  keeps: [{ value: undefined, changes: 'C | F', line: 'C2 G2 E2 | F2', cells: ['1 2& 4', '1'] }],
  breaks: [{ value: undefined, changes: 'C | F', line: 'C2 G2 E2', cells: ['1 2& 4&~', '~1'] }],
}
