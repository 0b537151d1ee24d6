import type { Pitch } from '../../music/pitch.ts'
import type { Rule } from '../rule.ts'
import { PITCH, pitchName } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'
import { downTo, upTo } from '../rule-value.ts'

/** Pitches that a line stays between, both included. */
export interface Register {
  readonly lowest: Pitch
  readonly highest: Pitch
}

/** Wider than any neck to either side. */
const WIDER = 36

/** The line stays between two pitches, both included. */
export const INSIDE_RANGE: Rule<Register> = {
  id: 'inside-range',
  phrasings: [
    phrasing(
      ['stay|stays between', PITCH, 'and', PITCH],
      (lowest, highest): Register => ({ lowest, highest }),
      ({ lowest, highest }) => [lowest, highest],
      (lowest, highest) =>
        lowest > highest
          ? { message: `lies below ${pitchName(lowest)}: expected the lower note first`, instead: [highest, lowest] }
          : undefined,
    ),
  ],
  defaultWeight: 6,
  test: ({ lowest, highest }) => ({ looksAt: 'note', allows: (note) => note.pitch >= lowest && note.pitch <= highest }),
  reach: ({ highest }) => ({ pitch: highest }),
  milder: ({ lowest, highest }) => [
    upTo(highest, highest + WIDER).map((higher) => ({ lowest, highest: higher })),
    downTo(lowest, Math.max(0, lowest - WIDER)).map((lower) => ({ lowest: lower, highest })),
  ],
  keeps: [{ value: { lowest: 33, highest: 45 }, changes: 'Am7', line: 'A1 C2 E2 A2' }],
  breaks: [
    { value: { lowest: 34, highest: 45 }, changes: 'Am7', line: 'A1 C2 E2 A2' },
    { value: { lowest: 33, highest: 44 }, changes: 'Am7', line: 'A1 C2 E2 A2' },
  ],
}
