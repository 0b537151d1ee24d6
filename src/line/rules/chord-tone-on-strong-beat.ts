import { degreeAt } from '../../music/chord.ts'
import { pitchClassOf } from '../../music/pitch.ts'
import type { Rule } from '../rule.ts'

/** The first beat and the middle of the bar have chord tones (the bass of a slash chord is one). */
export const CHORD_TONE_ON_STRONG_BEAT: Rule<void> = {
  id: 'chord-tone-on-strong-beat',
  sentence: () => 'chord tones on strong beats',
  defaultWeight: 6,
  test: () => ({
    looksAt: 'note',
    allows: ({ slot, chord, pitch }) =>
      (slot.strength !== 'one' && slot.strength !== 'middle') ||
      pitchClassOf(pitch) === chord.bassPc ||
      degreeAt(chord, pitchClassOf(pitch)).standing === 'tone',
  }),
  keeps: [{ value: undefined, changes: 'Dm7', line: 'D2 E2 F2 G2' }],
  breaks: [{ value: undefined, changes: 'Dm7', line: 'D2 F2 G2 A2' }],
}
