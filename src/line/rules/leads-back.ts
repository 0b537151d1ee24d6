import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'

/** The last note leads into the first, as every note into the next. */
export const LEADS_BACK: Rule<void> = {
  id: 'leads-back',
  phrasings: [plainly('lead|leads back to the~ beginning|start')],
  defaultWeight: 10,
  test: () => ({ looksAt: 'loop' }),
  keeps: [],
  breaks: [],
}
