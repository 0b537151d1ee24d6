import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'
import { isChordTone } from '../tone.ts'

/** The first beat and the middle of the bar have chord tones (the bass of a slash chord is one). */
export const CHORD_TONE_ON_STRONG_BEAT: Rule<void> = {
  id: 'chord-tone-on-strong-beat',
  phrasings: [plainly('chord tones|tone on the? strong beats|beat')],
  defaultWeight: 6,
  test: () => ({
    looksAt: 'note',
    allows: (note) => (note.slot.strength !== 'one' && note.slot.strength !== 'middle') || isChordTone(note),
  }),
  keeps: [{ value: undefined, changes: 'Dm7', line: 'D2 E2 F2 G2' }],
  breaks: [{ value: undefined, changes: 'Dm7', line: 'D2 F2 G2 A2' }],
}
