import type { Rule } from '../rule.ts'
import { DEGREES, type TargetDegree } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'
import { isDegree } from '../tone.ts'

/** Every phrase begins on one of these degrees of its chord. The root alone is `phrase-on-root`. */
export const PHRASE_ON_DEGREE: Rule<readonly TargetDegree[]> = {
  id: 'phrase-on-degree',
  phrasings: [
    phrasing(
      ['begin|begins|start|starts each|every|the phrase on', DEGREES],
      (degrees) => degrees,
      (degrees) => [degrees],
    ),
  ],
  defaultWeight: 10,
  test: (degrees) => ({ looksAt: 'note', allows: (note) => !note.opensPhrase || isDegree(note, degrees) }),
  keeps: [{ value: [{ number: 3, alter: undefined }], changes: 'Dm7 | G7', line: 'F2 D2 A2 Ab2 | G2 B2 D2 F2' }],
  breaks: [{ value: [{ number: 3, alter: undefined }], changes: 'Dm7 | G7', line: 'D2 F2 A2 C3 | B2 G2 D2 F2' }],
}
