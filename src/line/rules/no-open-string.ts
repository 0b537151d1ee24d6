import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'

/** Every note is fretted. */
export const NO_OPEN_STRING: Rule<void> = {
  id: 'no-open-string',
  phrasings: [plainly('no open strings|string')],
  defaultWeight: 4,
  test: () => ({ looksAt: 'note', allows: (note) => note.fret > 0 }),
  keeps: [{ value: undefined, changes: 'Em7', line: 'G1 B1 E2 F2' }],
  breaks: [{ value: undefined, changes: 'Em7', line: 'E1 G1 B1 E2' }],
}
