import { build } from './build.ts'
import type { Line } from './line.ts'
import type { BuildRequest } from './line-search.ts'
import type { RuleInForce } from './rule.ts'

/** What a rule costs a line. */
export interface RulePrice {
  /** with its bars and its strength: `Bars 5–8: no leap over a fourth (must)` */
  readonly sentence: string
  /** points by which the best line without the rule is cheaper, >= 0; breaches that the line pays are among them */
  readonly points: number
  /** at most so many points more or less, where a search was given up; 0: proven */
  readonly within: number
}

/**
 * What each rule in force costs the best line: the cost of the optimum with it, less that of the optimum without it and with all the
 * others.
 *
 * @param first  the best line under all rules of the request; a drawn one is not, and the best is looked for
 * @returns     in the order of the rules
 */
export function pricesOf(asked: BuildRequest, first: Line): readonly RulePrice[] {
  const request: BuildRequest = { ...asked, variations: 1, surprise: undefined }
  const rebuilt = asked.surprise ? build(request) : undefined
  const best = rebuilt?.ok ? rebuilt.lines[0]! : first
  return request.rules.map((rule) => {
    const rules = request.rules.filter((other) => other !== rule)
    const isLoop = rule.test.looksAt === 'loop'
    const result = build({ ...request, rules, loop: request.loop && !isLoop })
    const without = result.ok ? result.lines[0]! : undefined
    // The line itself is one of those without the rule: no better one found is no gain.
    const cost = Math.min(best.cost, without?.cost ?? best.cost)
    const within = best.provenWithin + (without?.provenWithin ?? 0)
    return { sentence: `${rule.sentence} (${strengthOf(rule)})`, points: best.cost - cost, within }
  })
}

function strengthOf({ strength }: RuleInForce): string {
  return strength === 'must' ? 'must' : `weight ${strength}`
}
