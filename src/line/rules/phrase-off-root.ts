import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'
import { isRoot } from '../tone.ts'

/** No phrase begins on its root (nor on its bass where one is written). */
export const PHRASE_OFF_ROOT: Rule<void> = {
  id: 'phrase-off-root',
  phrasings: [plainly('do not begin|start a|any phrase on the~ root')],
  defaultWeight: 10,
  test: () => ({ looksAt: 'note', allows: (note) => !note.opensPhrase || !isRoot(note) }),
  keeps: [{ value: undefined, changes: 'Dm7 | G7', line: 'F2 D2 A2 Ab2 | G2 B2 D2 F2' }],
  breaks: [{ value: undefined, changes: 'Dm7 | G7', line: 'D2 F2 A2 C3 | B2 G2 D2 F2' }],
}
