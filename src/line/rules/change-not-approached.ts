import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'
import { isChordTone } from '../tone.ts'

/** Nothing leads into a change: the last note before it is a tone of the chord that sounds. */
export const CHANGE_NOT_APPROACHED: Rule<void> = {
  id: 'change-not-approached',
  phrasings: [
    plainly('no approach|approaches into changes|change'),
    plainly('no approach|approaches to changes|change'),
  ],
  defaultWeight: 5,
  test: () => ({ looksAt: 'pair', allows: (from, to) => !to.arrives || isChordTone(from) }),
  keeps: [{ value: undefined, changes: 'Dm7 | G7', line: 'D2 F2 D2 A2 | G2 B2 D2 F2' }],
  breaks: [{ value: undefined, changes: 'Dm7 | G7', line: 'D2 F2 A2 Ab2 | G2 B2 D2 F2' }],
}
