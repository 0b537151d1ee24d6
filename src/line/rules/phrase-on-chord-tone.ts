import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'
import { isChordTone } from '../tone.ts'

/** Every phrase begins on a tone of its chord, its bass included. */
export const PHRASE_ON_CHORD_TONE: Rule<void> = {
  id: 'phrase-on-chord-tone',
  phrasings: [plainly('begin|begins|start|starts each|every|the phrase on a~ chord tone')],
  defaultWeight: 10,
  test: () => ({ looksAt: 'note', allows: (note) => !note.opensPhrase || isChordTone(note) }),
  keeps: [{ value: undefined, changes: 'Dm7 | %', line: 'A2 F2 D2 F2 | E2 F2 A2 E2' }],
  breaks: [{ value: undefined, changes: 'Dm7 | %', line: 'E2 F2 A2 F2 | D2 F2 A2 E2' }],
}
