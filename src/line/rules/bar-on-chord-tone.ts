import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'
import { isChordTone } from '../tone.ts'

/** Every bar begins on a tone of its chord, its bass included. */
export const BAR_ON_CHORD_TONE: Rule<void> = {
  id: 'bar-on-chord-tone',
  phrasings: [plainly('begin|begins|start|starts each|every|the bar on a~ chord tone')],
  defaultWeight: 10,
  test: () => ({ looksAt: 'note', allows: (note) => !note.opensBar || isChordTone(note) }),
  keeps: [{ value: undefined, changes: 'Dm7 | %', line: 'D2 F2 A2 G2 | F2 A2 D2 E2' }],
  breaks: [{ value: undefined, changes: 'Dm7 | %', line: 'D2 F2 A2 F2 | E2 F2 A2 E2' }],
}
