import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'

/** The bass drops out: nothing is struck, and nothing is tied over into the bar. */
export const BAR_RESTED: Rule<void> = {
  id: 'bar-rested',
  phrasings: [plainly('rest|rests'), plainly('drop|drops out'), plainly('no bass')],
  defaultWeight: 20,
  test: () => ({
    looksAt: 'kept-bar',
    cell: { upper: 4, lower: 4, bars: 1, ticks: 1920, onsets: [] },
    notation: '(1)',
    pitches: [],
    apart: true,
  }),
  keeps: [{ value: undefined, changes: 'C', line: '', cells: ['(1)'] }],
  breaks: [
    { value: undefined, changes: 'C', line: 'C2', cells: ['1'] },
    { value: undefined, changes: 'C', line: 'C2', cells: ['(1) (2) (3) 4'] },
  ],
}
