import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'
import { isInScale } from '../tone.ts'

/** No note leaves its chord's scale. The bass of a slash chord may. */
export const INSIDE_SCALE: Rule<void> = {
  id: 'inside-scale',
  phrasings: [plainly('stay|stays in|inside|within the scale')],
  defaultWeight: 6,
  test: () => ({ looksAt: 'note', allows: isInScale }),
  keeps: [{ value: undefined, changes: 'Dm7', line: 'D2 E2 F2 G2' }],
  breaks: [{ value: undefined, changes: 'Dm7', line: 'D2 E2 F2 Gb2' }],
}
