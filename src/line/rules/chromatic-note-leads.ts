import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'
import { isInScale } from '../tone.ts'

/** Outside its chord's scale there is only the note that leads into a change. */
export const CHROMATIC_NOTE_LEADS: Rule<void> = {
  id: 'chromatic-note-leads',
  phrasings: [plainly('chromatic notes only into changes|change')],
  defaultWeight: 6,
  test: () => ({ looksAt: 'note', allows: (note) => isInScale(note) || note.leads }),
  keeps: [{ value: undefined, changes: 'Dm7 | G7', line: 'D2 F2 A2 Ab2 | G2 A2 B2 D3' }],
  breaks: [{ value: undefined, changes: 'Dm7 | G7', line: 'D2 Eb2 E2 F2 | G2 A2 B2 D3' }],
}
