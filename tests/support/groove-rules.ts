import { enforce, type RuleInForce } from '../../src/line/rule.ts'
import { AT_MOST_IN_A_ROW } from '../../src/line/rules/at-most-in-a-row.ts'

/** At most so many equal pitches in a row. */
export function atMostInARow(limit: number, strength: 'must' | number): RuleInForce {
  return enforce(AT_MOST_IN_A_ROW, limit, { strength })
}
