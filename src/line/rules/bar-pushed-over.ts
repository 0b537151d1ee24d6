import { METRES } from '../../music/metre.ts'
import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'

/** The bar ends in a note that is struck early and tied over into the next. */
export const BAR_PUSHED_OVER: Rule<void> = {
  id: 'bar-pushed-over',
  phrasings: [plainly('push|pushes into the next bar')],
  defaultWeight: 4,
  metres: METRES,
  test: () => ({ looksAt: 'cell', allows: ({ onsets }) => onsets.some((onset) => onset.tiedOver) }),
  keeps: [{ value: undefined, changes: 'C | F', line: 'C2 G2 E2 | F2', cells: ['1 2& 4&~', '~1 4&~'] }],
  breaks: [{ value: undefined, changes: 'C | F', line: 'C2 G2 E2 | F2', cells: ['1 2& 4&~', '~1 4'] }],
}
