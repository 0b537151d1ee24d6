import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'
import { isRoot } from '../tone.ts'

/** No bar begins on its root (nor on its bass where one is written). */
export const BAR_OFF_ROOT: Rule<void> = {
  id: 'bar-off-root',
  phrasings: [plainly('do not begin|start a|any bar on the~ root')],
  defaultWeight: 10,
  test: () => ({ looksAt: 'note', allows: (note) => !note.opensBar || !isRoot(note) }),
  keeps: [{ value: undefined, changes: 'Dm7 | %', line: 'F2 D2 A2 C3 | A2 D2 F2 E2' }],
  breaks: [{ value: undefined, changes: 'Dm7 | %', line: 'F2 D2 A2 C3 | D2 F2 A2 E2' }],
}
