import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'
import { isRoot } from '../tone.ts'

/** Every bar begins on its root, or on its bass where one is written. */
export const BAR_ON_ROOT: Rule<void> = {
  id: 'bar-on-root',
  phrasings: [plainly('begin|begins|start|starts each|every|the bar on the~ root')],
  defaultWeight: 10,
  test: () => ({ looksAt: 'note', allows: (note) => !note.opensBar || isRoot(note) }),
  keeps: [
    { value: undefined, changes: 'Dm7 | %', line: 'D2 F2 A2 F2 | D2 A2 F2 E2' },
    { value: undefined, changes: 'Dm7 G7 | C', line: 'D2 F2 B2 G2 | C3 G2 E2 C2' },
  ],
  breaks: [{ value: undefined, changes: 'Dm7 | %', line: 'D2 F2 A2 E2 | F2 A2 D2 E2' }],
}
