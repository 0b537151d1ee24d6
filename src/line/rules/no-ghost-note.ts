import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'

/** No dead note is struck. */
export const NO_GHOST_NOTE: Rule<void> = {
  id: 'no-ghost-note',
  phrasings: [plainly('no ghost|dead notes|note'), plainly('no ghosts|ghost')],
  defaultWeight: 4,
  test: () => ({ looksAt: 'cell', allows: ({ onsets }) => onsets.every((onset) => !onset.ghost) }),
  keeps: [{ value: undefined, changes: 'C', line: 'C2 C2 G2', cells: ['1 2& 3'] }],
  breaks: [{ value: undefined, changes: 'C', line: 'C2 C2 G2', cells: ['1 2& 3 4x'] }],
}
