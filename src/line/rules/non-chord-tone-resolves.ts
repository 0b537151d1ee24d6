import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'
import { isChordTone } from '../tone.ts'

/** A note off its chord is left by a step; one that is struck again still has its step before it. */
export const NON_CHORD_TONE_RESOLVES: Rule<void> = {
  id: 'non-chord-tone-resolves',
  phrasings: [plainly('non-chord tones|tone resolve|resolves by a? step')],
  defaultWeight: 6,
  test: () => ({
    looksAt: 'pair',
    allows: (from, to) => isChordTone(from) || Math.abs(to.pitch - from.pitch) <= 2,
  }),
  keeps: [
    { value: undefined, changes: 'Dm7', line: 'D2 E2 F2 A2' },
    { value: undefined, changes: 'Dm7', line: 'D2 E2 E2 F2' },
  ],
  breaks: [
    { value: undefined, changes: 'Dm7', line: 'D2 E2 A2 F2' },
    { value: undefined, changes: 'Dm7', line: 'D2 E2 E2 A2' },
  ],
}
