import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'
import { isRoot } from '../tone.ts'

/** Every phrase begins on its root, or on its bass where one is written. */
export const PHRASE_ON_ROOT: Rule<void> = {
  id: 'phrase-on-root',
  phrasings: [plainly('begin|begins|start|starts each|every|the phrase on the~ root')],
  defaultWeight: 10,
  test: () => ({ looksAt: 'note', allows: (note) => !note.opensPhrase || isRoot(note) }),
  keeps: [{ value: undefined, changes: 'Dm7 | G7', line: 'D2 F2 A2 C3 | B2 G2 D2 F2' }],
  breaks: [
    { value: undefined, changes: 'Dm7 | G7', line: 'F2 D2 A2 Ab2 | G2 B2 D2 F2' },
    {
      value: undefined,
      changes: 'C | % | % | % | F',
      line: 'C2 E2 G2 E2 | C2 E2 G2 E2 | C2 E2 G2 E2 | C2 E2 G2 E2 | A2 F2 C2 F2',
    },
  ],
}
