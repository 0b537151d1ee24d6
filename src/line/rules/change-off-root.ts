import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'
import { isRoot } from '../tone.ts'

/** No change is met on its root (nor on its bass where one is written). */
export const CHANGE_OFF_ROOT: Rule<void> = {
  id: 'change-off-root',
  phrasings: [plainly('do not arrive|arrives on the~ root')],
  defaultWeight: 10,
  test: () => ({ looksAt: 'note', allows: (note) => !note.arrives || !isRoot(note) }),
  keeps: [{ value: undefined, changes: 'Dm7 | G7', line: 'F2 D2 A2 C3 | B2 G2 D2 F2' }],
  breaks: [{ value: undefined, changes: 'Dm7 | G7', line: 'F2 D2 A2 Ab2 | G2 B2 D2 F2' }],
}
