import { formatMetre, METRES, type Metre } from '../../music/metre.ts'
import { parseCell } from '../../rhythm/cell.ts'
import type { WeightedCell } from '../../rhythm/plan.ts'
import type { Rule } from '../rule.ts'
import { plainly } from '../rule-phrase.ts'

/** Bars that are offered where a feel has none. Source: common practice, no source. */
const PUSHES: Readonly<Record<string, string>> = {
  '3/4': '3/4: 1 2 3&~',
  '4/4': '1 2 3 4&~',
  '6/8': '6/8: 1 4 6~',
  '12/8': '12/8: 1 4 7 12~',
}

function pushOf(metre: Metre): readonly WeightedCell[] {
  const notation = PUSHES[formatMetre(metre)]
  const reading = notation === undefined ? undefined : parseCell(notation)
  return reading?.ok ? [{ id: notation!, cell: reading.cell, weight: 1 }] : []
}

/** The bar ends in a note that is struck early and tied over into the next. */
export const BAR_PUSHED_OVER: Rule<void> = {
  id: 'bar-pushed-over',
  phrasings: [plainly('push|pushes into the next bar')],
  defaultWeight: 4,
  metres: METRES,
  test: () => ({ looksAt: 'cell', allows: ({ onsets }) => onsets.some((onset) => onset.tiedOver), offers: pushOf }),
  keeps: [{ value: undefined, changes: 'C | F', line: 'C2 G2 E2 | F2', cells: ['1 2& 4&~', '~1 4&~'] }],
  breaks: [{ value: undefined, changes: 'C | F', line: 'C2 G2 E2 | F2', cells: ['1 2& 4&~', '~1 4'] }],
}
