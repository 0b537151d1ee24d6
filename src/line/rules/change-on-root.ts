import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'
import { isRoot } from '../tone.ts'

/** Every change is met on its root, or on its bass where one is written. */
export const CHANGE_ON_ROOT: Rule<void> = {
  id: 'change-on-root',
  phrasings: [plainly('arrive|arrives on the~ root')],
  defaultWeight: 10,
  test: () => ({ looksAt: 'note', allows: (note) => !note.arrives || isRoot(note) }),
  keeps: [
    { value: undefined, changes: 'Dm7 | G7', line: 'D2 F2 A2 Ab2 | G2 B2 D2 F2' },
    { value: undefined, changes: 'C/E | F', line: 'E2 G2 C2 E2 | F2 A2 C2 F2' },
  ],
  breaks: [
    { value: undefined, changes: 'Dm7 | G7', line: 'D2 F2 A2 C3 | B2 G2 D2 F2' },
    { value: undefined, changes: 'C/E | F', line: 'C2 G2 C2 E2 | F2 A2 C2 F2' },
  ],
}
