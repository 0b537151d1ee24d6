import type { Rule } from '../rule.ts'
import { DEGREES, type TargetDegree } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'
import { isDegree } from '../tone.ts'

/** Every change is met on one of these degrees of its chord. The root alone is `change-on-root`. */
export const CHANGE_ON_DEGREE: Rule<readonly TargetDegree[]> = {
  id: 'change-on-degree',
  phrasings: [
    phrasing(
      ['arrive|arrives on', DEGREES],
      (degrees) => degrees,
      (degrees) => [degrees],
    ),
  ],
  defaultWeight: 10,
  test: (degrees) => ({ looksAt: 'note', allows: (note) => !note.arrives || isDegree(note, degrees) }),
  keeps: [
    { value: [{ number: 3, alter: undefined }], changes: 'Dm7 | G7', line: 'F2 D2 A2 C3 | B2 G2 D2 F2' },
    {
      value: [
        { number: 3, alter: undefined },
        { number: 7, alter: -1 },
      ],
      changes: 'Dm7 | G7',
      line: 'C2 D2 A2 C3 | B2 G2 D2 F2',
    },
    {
      value: [
        { number: 1, alter: undefined },
        { number: 5, alter: undefined },
      ],
      changes: 'C/E | F',
      line: 'E2 G2 C2 E2 | C2 F2 C2 F2',
    },
  ],
  breaks: [
    { value: [{ number: 3, alter: undefined }], changes: 'Dm7 | G7', line: 'F2 D2 A2 Ab2 | G2 B2 D2 F2' },
    { value: [{ number: 3, alter: -1 }], changes: 'Cmaj7 | F', line: 'E2 G2 C2 E2 | A2 F2 C2 F2' },
  ],
}
