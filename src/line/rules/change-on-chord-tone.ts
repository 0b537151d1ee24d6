import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'
import { isChordTone } from '../tone.ts'

/** Every change is met on a tone of its chord, its bass included. */
export const CHANGE_ON_CHORD_TONE: Rule<void> = {
  id: 'change-on-chord-tone',
  phrasings: [plainly('arrive|arrives on a~ chord tone')],
  defaultWeight: 10,
  test: () => ({ looksAt: 'note', allows: (note) => !note.arrives || isChordTone(note) }),
  keeps: [{ value: undefined, changes: 'Dm7 | G7', line: 'D2 F2 A2 C3 | B2 G2 D2 F2' }],
  breaks: [{ value: undefined, changes: 'Dm7 | G7', line: 'D2 F2 A2 B2 | C3 B2 G2 F2' }],
}
