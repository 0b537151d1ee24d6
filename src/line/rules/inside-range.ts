import type { Pitch } from '../../music/pitch.ts'
import type { Rule } from '../rule.ts'

/** The line stays between two pitches, both included. */
export const INSIDE_RANGE: Rule<{ readonly lowest: Pitch; readonly highest: Pitch }> = {
  id: 'inside-range',
  sentence: ({ lowest, highest }) => `stay between the pitches ${lowest} and ${highest}`,
  defaultWeight: 6,
  test: ({ lowest, highest }) => ({ looksAt: 'note', allows: (note) => note.pitch >= lowest && note.pitch <= highest }),
  keeps: [{ value: { lowest: 33, highest: 45 }, changes: 'Am7', line: 'A1 C2 E2 A2' }],
  breaks: [
    { value: { lowest: 34, highest: 45 }, changes: 'Am7', line: 'A1 C2 E2 A2' },
    { value: { lowest: 33, highest: 44 }, changes: 'Am7', line: 'A1 C2 E2 A2' },
  ],
}
