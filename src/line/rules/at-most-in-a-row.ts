import type { Rule } from '../rule.ts'
import { times } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'
import { upTo } from '../rule-value.ts'

/** More often than this nobody counts. */
const MOST = 12

/** No pitch is struck more than so many times in a row. */
export const AT_MOST_IN_A_ROW: Rule<number> = {
  id: 'at-most-in-a-row',
  phrasings: [
    phrasing(
      ['no pitch|note more than', times(MOST), 'in a row'],
      (most) => most,
      (most) => [most],
    ),
    phrasing(
      ['no pitch|note twice in a row'],
      () => 1,
      () => undefined,
    ),
  ],
  defaultWeight: 6,
  // The state counts: 0 where the pitch stands alone, one more for each time it was struck again.
  test: (most) => ({
    looksAt: 'memory',
    states: most,
    step: (state, from, to) => {
      if (from.pitch !== to.pitch) return { state: 0, kept: true }
      return { state: Math.min(state + 1, most - 1), kept: state + 1 < most }
    },
  }),
  milder: (most) => [upTo(most, MOST)],
  keeps: [
    { value: 2, changes: 'Dm7', line: 'D2 D2 F2 F2' },
    { value: 1, changes: 'Dm7', line: 'D2 F2 D2 F2' },
  ],
  breaks: [
    { value: 2, changes: 'Dm7', line: 'D2 D2 D2 F2' },
    { value: 1, changes: 'Dm7', line: 'D2 F2 F2 D2' },
  ],
}
