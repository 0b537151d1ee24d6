import type { Chart } from '../chart/chart.ts'
import type { TextEdit } from '../chart/header-edit.ts'
import { readRule, type Stated } from './rule-sentence.ts'
import { formatWhere } from './rule-where.ts'

/**
 * The edit that puts a loosening in place of the rule that it loosens: the newest row of a chart that asks the same for the same bars,
 * whatever its numbers and its strength. `undefined` if no row does: the rule stands elsewhere.
 */
export function looseningEdit({ rules }: Pick<Chart, 'rules'>, loosening: string): TextEdit | undefined {
  const milder = readRule(loosening)
  if (!milder.ok) return undefined
  const row = rules.findLast(({ value }) => {
    const reading = readRule(value)
    return reading.ok && isAbout(reading.stated, milder.stated)
  })
  return row && { ...row.span, insert: loosening }
}

function isAbout(one: Stated, other: Stated): boolean {
  const isSame = formatWhere(one.where) === formatWhere(other.where)
  return one.rule.id === other.rule.id && isSame && one.strength === 'must'
}
