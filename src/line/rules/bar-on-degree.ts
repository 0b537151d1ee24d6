import type { Rule } from '../rule.ts'
import { DEGREES, type TargetDegree } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'
import { isDegree } from '../tone.ts'

/** Every bar begins on one of these degrees of its chord. The root alone is `bar-on-root`. */
export const BAR_ON_DEGREE: Rule<readonly TargetDegree[]> = {
  id: 'bar-on-degree',
  phrasings: [
    phrasing(
      ['begin|begins|start|starts each|every|the bar on', DEGREES],
      (degrees) => degrees,
      (degrees) => [degrees],
    ),
  ],
  defaultWeight: 10,
  test: (degrees) => ({ looksAt: 'note', allows: (note) => !note.opensBar || isDegree(note, degrees) }),
  keeps: [{ value: [{ number: 3, alter: undefined }], changes: 'Dm7 | %', line: 'F2 D2 A2 C3 | F2 D2 A2 E2' }],
  breaks: [{ value: [{ number: 3, alter: undefined }], changes: 'Dm7 | %', line: 'F2 D2 A2 C3 | A2 D2 F2 E2' }],
}
