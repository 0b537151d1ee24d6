import type { Rule } from '../rule.ts'

/** No pitch is struck more than so many times in a row. */
export const AT_MOST_IN_A_ROW: Rule<number> = {
  id: 'at-most-in-a-row',
  sentence: (most) => `no pitch more than ${most} times in a row`,
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
  keeps: [
    { value: 2, changes: 'Dm7', line: 'D2 D2 F2 F2' },
    { value: 1, changes: 'Dm7', line: 'D2 F2 D2 F2' },
  ],
  breaks: [
    { value: 2, changes: 'Dm7', line: 'D2 D2 D2 F2' },
    { value: 1, changes: 'Dm7', line: 'D2 F2 F2 D2' },
  ],
}
