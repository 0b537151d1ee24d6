import { degreeAt } from '../../music/chord.ts'
import { pitchClassOf } from '../../music/pitch.ts'
import type { Rule } from '../rule.ts'

/** Every change is met on a tone of its chord, its bass included. */
export const CHANGE_ON_CHORD_TONE: Rule<void> = {
  id: 'change-on-chord-tone',
  sentence: () => 'arrive on a chord tone',
  defaultWeight: 10,
  test: () => ({
    looksAt: 'note',
    allows: ({ arrives, pitch, chord }) =>
      !arrives || pitchClassOf(pitch) === chord.bassPc || degreeAt(chord, pitchClassOf(pitch)).standing === 'tone',
  }),
  keeps: [{ value: undefined, changes: 'Dm7 | G7', line: 'D2 F2 A2 C3 | B2 G2 D2 F2' }],
  breaks: [{ value: undefined, changes: 'Dm7 | G7', line: 'D2 F2 A2 B2 | C3 B2 G2 F2' }],
}
