import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'

/** A pitch that an open string has is played open. */
export const OPEN_STRING_WHERE_POSSIBLE: Rule<void> = {
  id: 'open-string-where-possible',
  phrasings: [plainly('open strings|string where|wherever possible')],
  defaultWeight: 4,
  test: () => ({ looksAt: 'note', allows: ({ fret, open, pitch }) => fret === 0 || !open.includes(pitch) }),
  keeps: [{ value: undefined, changes: 'Em7', line: 'E1 A1 G1 B1' }],
  breaks: [{ value: undefined, changes: 'Em7', line: 'E1 A1@0/5 G1 B1' }],
}
