import { IMPOSSIBLE } from '../../search/trellis.ts'
import type { LaidBar } from './bar.ts'
import type { Pairing } from './pairing.ts'
import type { GroovePlan } from './plan.ts'
import type { Problem } from './problem.ts'

/** How many of the cheapest pairings the answers to a bar are looked for among. */
const ANSWERS = 4

/**
 * A plan of each rhythm, those that look cheapest first. With every note free, whether rules can hold lies in the rhythm alone, and in
 * the patterns where rules ask for patterns.
 */
export function* rhythmsOf({ plans, pairings }: Problem, asksForPatterns: boolean): Generator<GroovePlan> {
  const rhythms = new Set<string>()
  const likely = plans.schemes.flatMap((scheme) =>
    pairings.map((a) => ({ scheme, a, bound: plans.quickBound(scheme, a) })),
  )
  likely.sort((x, y) => x.bound - y.bound)
  for (const { scheme, a } of likely) {
    for (const plan of plans.plansOf(scheme, a, IMPOSSIBLE, ANSWERS)) {
      const heads = plan.motif.map((pairing) => headOf(pairing, asksForPatterns))
      const rhythm = `${scheme.row} ${heads.join()}`
      if (rhythms.has(rhythm)) continue
      rhythms.add(rhythm)
      yield plan
    }
  }
}

/** For each bar, all that may be played in it under any plan: each rhythm once, or with each pattern where rules ask for patterns. */
export function waysOf(
  { plans, pairings, contexts }: Problem,
  asksForPatterns: boolean,
): readonly (readonly LaidBar[])[] {
  const ways = contexts.map(() => new Map<string, LaidBar>())
  const heads = new Map(pairings.map((pairing) => [headOf(pairing, asksForPatterns), pairing]))
  for (const scheme of plans.schemes) {
    for (const part of new Set(scheme.places.map((place) => place.part))) {
      const classes = scheme.classes.filter(({ bar }) => scheme.places[bar]!.part === part)
      for (const [head, pairing] of heads) {
        for (const [order, [{ bars }]] of plans.choicesOf(scheme, part, pairing).entries()) {
          const kind = scheme.classes.indexOf(classes[order]!)
          for (const [index, context] of contexts.entries()) {
            if (scheme.classOf[index] !== kind) continue
            for (const laid of bars) ways[index]!.set(`${head} ${laid.figure}`, { ...laid, context })
          }
        }
      }
    }
  }
  return ways.map((bars) => [...bars.values()])
}

/** What of a bar's head decides whether rules can hold. */
function headOf({ cell, pattern }: Pairing, asksForPatterns: boolean): string {
  return asksForPatterns ? `${cell} ${pattern.id}` : cell
}
