import { pitchClassOf } from '../../music/pitch.ts'
import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'

/**
 * A change is not met on a note that the two notes before it have sounded, in any octave. An arrival before it may have, and so may
 * anything over a root that stays.
 */
export const ARRIVAL_NOT_GIVEN_AWAY: Rule<void> = {
  id: 'arrival-not-given-away',
  phrasings: [
    plainly('no change|changes given away by the two notes before it|them'),
    plainly('no change|changes given away'),
  ],
  defaultWeight: 5,
  // The state: the pitch class of the note before the one that leads, from 1; 0 where that is an arrival or there is none.
  test: () => ({
    looksAt: 'memory',
    states: 13,
    step: (state, from, to) => {
      const target = pitchClassOf(to.pitch)
      const before = from.arrives ? 0 : pitchClassOf(from.pitch) + 1
      const isGiven = before === target + 1 || state === target + 1
      return { state: before, kept: !to.arrives || from.chord.bassPc === to.chord.bassPc || !isGiven }
    },
  }),
  keeps: [
    { value: undefined, changes: 'A7 | Dm7', line: 'A2 G2 E2 C#2 | D2 F2 A2 D2' },
    { value: undefined, changes: 'Dm7 | D7', line: 'D2 A2 C2 D2 | D2 F#2 A2 C3' },
  ],
  breaks: [
    { value: undefined, changes: 'A7 | Dm7', line: 'A2 E2 D2 C#2 | D2 F2 A2 D2' },
    { value: undefined, changes: 'A7 | Dm7', line: 'A2 E2 C#2 D2 | D2 F2 A2 D2' },
  ],
}
