import { pitchClassOf } from '../../music/pitch.ts'
import type { Rule } from '../rule.ts'

/** No change is met on its root (nor on its bass where one is written). */
export const CHANGE_OFF_ROOT: Rule<void> = {
  id: 'change-off-root',
  sentence: () => 'do not arrive on the root',
  defaultWeight: 10,
  test: () => ({ looksAt: 'note', allows: (note) => !note.arrives || pitchClassOf(note.pitch) !== note.chord.bassPc }),
  keeps: [{ value: undefined, changes: 'Dm7 | G7', line: 'F2 D2 A2 C3 | B2 G2 D2 F2' }],
  breaks: [{ value: undefined, changes: 'Dm7 | G7', line: 'F2 D2 A2 Ab2 | G2 B2 D2 F2' }],
}
