import { readRule } from './rule-sentence.ts'
import { CONTOUR_FOLLOWED, type Contour } from './rules/contour-followed.ts'
import type { AskedRule } from './rules-in-force.ts'

/**
 * What a walking line over several choruses does unless a rule speaks of choruses: it climbs, and it begins plainly and ends busily.
 * They are sentences as a player writes them. Source: common practice, no source; the weights are the smallest there are.
 */
const ARC = [
  'rise over the choruses (weight 1)',
  'Chorus 1: at most a note a beat (weight 1)',
  'Last chorus: more notes than beats (weight 1)',
]

/** Rules with the arc over choruses behind them, unless one of them speaks of choruses, be it off. */
export function withArc(asked: readonly AskedRule[]): readonly AskedRule[] {
  if (asked.some(({ value }) => speaksOfChoruses(value))) return asked
  return [...asked, ...ARC.map((value) => ({ value, span: undefined }))]
}

function speaksOfChoruses(sentence: string): boolean {
  const reading = readRule(sentence)
  if (!reading.ok) return false
  const { rule, value, where } = reading.stated
  return where?.choruses !== undefined || (rule.id === CONTOUR_FOLLOWED.id && (value as Contour).over === 'choruses')
}
