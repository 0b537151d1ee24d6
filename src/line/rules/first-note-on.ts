import type { Rule } from '../rule.ts'
import { DEGREES, PITCH } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'
import { isTarget, type NoteTarget } from '../tone.ts'

/** The line begins on one of these degrees of its chord, or on this pitch. */
export const FIRST_NOTE_ON: Rule<NoteTarget> = {
  id: 'first-note-on',
  phrasings: [
    phrasing(
      ['first note on', DEGREES],
      (degrees): NoteTarget => ({ degrees }),
      (target) => ('degrees' in target ? [target.degrees] : undefined),
    ),
    phrasing(
      ['first note on', PITCH],
      (pitch): NoteTarget => ({ pitch }),
      (target) => ('pitch' in target ? [target.pitch] : undefined),
    ),
    phrasing(
      ['begin|begins|start|starts on', DEGREES],
      (degrees): NoteTarget => ({ degrees }),
      () => undefined,
    ),
    phrasing(
      ['begin|begins|start|starts on', PITCH],
      (pitch): NoteTarget => ({ pitch }),
      () => undefined,
    ),
  ],
  defaultWeight: 10,
  test: (target) => ({ looksAt: 'note', allows: (note) => !note.first || isTarget(note, target) }),
  reach: (target) => ('pitch' in target ? { pitch: target.pitch } : {}),
  keeps: [
    { value: { degrees: [{ number: 3, alter: undefined }] }, changes: 'Dm7 | G7', line: 'F2 D2 A2 Ab2 | G2 B2 D2 F2' },
    { value: { pitch: 38 }, changes: 'Dm7', line: 'D2 F2 A2 C3' },
  ],
  breaks: [
    { value: { degrees: [{ number: 3, alter: undefined }] }, changes: 'Dm7 | G7', line: 'D2 F2 A2 C3 | B2 G2 D2 F2' },
    { value: { pitch: 38 }, changes: 'Dm7', line: 'D3 A2 F2 D2' },
  ],
}
