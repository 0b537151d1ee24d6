import type { Rule, Sounding } from '../rule.ts'
import { DEGREES, type TargetDegree } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'
import { isDegree } from '../tone.ts'

const HEARD = 0
const OWED = 1

/** Every chord sounds one of these degrees before it is left: that is told where the next chord arrives, and at the end. */
export const CHORD_SOUNDS_DEGREE: Rule<readonly TargetDegree[]> = {
  id: 'chord-sounds-degree',
  phrasings: [
    phrasing(
      ['hear|sound', DEGREES, 'in each|every chord'],
      (degrees) => degrees,
      (degrees) => [degrees],
    ),
  ],
  defaultWeight: 8,
  test: (degrees) => ({
    looksAt: 'memory',
    states: 2,
    step: (state, from, to) => {
      const after = (note: Sounding, before: number) => (isDegree(note, degrees) ? HEARD : note.arrives ? OWED : before)
      const before = from.first ? after(from, OWED) : state
      const now = after(to, before)
      const isLeft = to.arrives && before === OWED
      const isLeftAtEnd = to.last && !to.leads && now === OWED
      return { state: now, kept: !isLeft && !isLeftAtEnd }
    },
  }),
  keeps: [
    {
      value: [{ number: 3, alter: undefined }],
      changes: 'Dm7 | G7',
      line: 'D2 F2 A2 Ab2 | G2 A2 B2 D2',
    },
    {
      value: [
        { number: 3, alter: undefined },
        { number: 7, alter: undefined },
      ],
      changes: 'Dm7 G7 | Cmaj7',
      line: 'D2 C2 G2 B1 | C2 G2 B2 G2',
    },
  ],
  breaks: [
    {
      value: [{ number: 1, alter: undefined }],
      changes: 'F7 | Gm7',
      line: 'F2 C2 A1 F1 | Bb1 D2 E2 D2',
    },
    { value: [{ number: 3, alter: undefined }], changes: 'Dm7 | G7', line: 'D2 A2 D2 A2 | G2 A2 B2 D2' },
  ],
}
