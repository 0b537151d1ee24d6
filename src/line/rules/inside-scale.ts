import { degreeAt } from '../../music/chord.ts'
import { pitchClassOf } from '../../music/pitch.ts'
import type { Rule } from '../rule.ts'

/** No note leaves its chord's scale. The bass of a slash chord may. */
export const INSIDE_SCALE: Rule<void> = {
  id: 'inside-scale',
  sentence: () => 'stay in the scale',
  defaultWeight: 6,
  test: () => ({
    looksAt: 'note',
    allows: ({ chord, pitch }) =>
      pitchClassOf(pitch) === chord.bassPc || degreeAt(chord, pitchClassOf(pitch)).standing !== 'chromatic',
  }),
  keeps: [{ value: undefined, changes: 'Dm7', line: 'D2 E2 F2 G2' }],
  breaks: [{ value: undefined, changes: 'Dm7', line: 'D2 E2 F2 Gb2' }],
}
