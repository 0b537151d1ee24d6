import type { GrooveRequest } from '../../src/line/groove/groove.ts'
import { linksAcross } from '../../src/line/groove/links.ts'
import { problemOf } from '../../src/line/groove/problem.ts'
import type { PricedStance } from '../../src/line/groove/stance.ts'
import type { Alternatives } from '../../src/line/groove/sweep.ts'
import type { Voicer } from '../../src/line/groove/voice.ts'
import type { VoicedBar } from '../../src/line/groove/voiced.ts'

/** What all plans of a request share, and the plans. */
export function partsOf(request: GrooveRequest) {
  const problem = problemOf(request, false)
  const { voicer, sweep, plans, pairings } = problem
  const all = plans.schemes.flatMap((scheme) => pairings.flatMap((a) => plans.plansOf(scheme, a, 1e9)))
  return { problem, voicer, sweep, plans, all, closes: sweep.steps.closes }
}

/** A note of a path: where it is and which of its slot's candidates it takes. */
export interface Step {
  readonly bar: VoicedBar
  readonly barIndex: number
  readonly slot: number
  readonly candidate: number
}

/**
 * The least over every way through a plan that costs less than `below`, each one tried: costs from the definitions of the terms, not
 * from tables. `undefined` if there is none.
 */
export function tryAll(
  request: GrooveRequest,
  plan: Alternatives,
  priced: PricedStance,
  below: number,
  accepts: (path: readonly Step[]) => boolean = () => true,
): number | undefined {
  const { voicer, sweep } = partsOf(request)
  let least = below
  const choiceOf = ({ bar, slot, candidate }: Step): number =>
    bar.slots[slot]!.from.findIndex((start, i) => i > 0 && candidate < start) - 1
  const stepCost = (from: Step, to: Step, counts: number[]): number | undefined => {
    const inBar = from.barIndex === to.barIndex && to.slot === from.slot + 1
    if (!inBar && from.bar.laid.context.silenceAfter) {
      counts.fill(1)
      return 0
    }
    const [one, other] = [from.bar.slots[from.slot]!, to.bar.slots[to.slot]!]
    const links = inBar ? from.bar.links[from.slot]! : linksAcross(from.bar, one, to.bar, other)
    const [x, y] = [choiceOf(from), choiceOf(to)]
    const link = links.find((each) => each.before <= x && x < each.beforeTo && each.after <= y && y < each.afterTo)
    if (!link) return undefined
    let cost = link.points
    const [grip, next] = [
      voicer.neck.grips[one.grips[from.candidate]!]!,
      voicer.neck.grips[other.grips[to.candidate]!]!,
    ]
    voicer.neck.reachTerms(grip, next, link.reach, (_, points) => {
      cost += points
    })
    for (const [i, rule] of request.rules.entries()) {
      if (rule.test.looksAt !== 'memory') continue
      counts[i] = grip.pitch === next.pitch ? counts[i]! + 1 : 1
      if (counts[i]! <= rule.test.states) continue
      if (rule.strength === 'must') return undefined
      counts[i] = rule.test.states
      cost += rule.strength
    }
    return cost
  }
  const go = (
    path: readonly Step[],
    barIndex: number,
    pushed: boolean,
    cost: number,
    counts: readonly number[],
  ): void => {
    if (cost >= least) return
    if (barIndex === plan.length) {
      const closing = path.length > 0 && sweep.steps.closes && path.at(-1)!.bar.laid.tiedOver === false
      const end = closing ? stepCost(path.at(-1)!, path[0]!, counts.slice()) : 0
      // A loop under a rule about runs: the run may have begun before the first note. Only loops that do not need that are tried here.
      if (end !== undefined && accepts(path)) least = Math.min(least, cost + end)
      return
    }
    for (const laid of plan[barIndex]!) {
      const bar = voicer.voice(laid, priced.stance)
      const first = pushed && laid.slots[0]?.onset.tick === 0 ? 1 : 0
      const along = (slot: number, path: readonly Step[], cost: number, counts: readonly number[]): void => {
        if (cost >= least) return
        if (slot === bar.slots.length) {
          go(path, barIndex + 1, laid.tiedOver, cost, counts)
          return
        }
        for (let candidate = 0; candidate < bar.slots[slot]!.grips.length; candidate++) {
          const step = { bar, barIndex, slot, candidate }
          const after = counts.slice()
          const before = path.at(-1)
          const reached = before ? stepCost(before, step, after) : 0
          if (reached === undefined) continue
          along(slot + 1, [...path, step], cost + reached + bar.slots[slot]!.costs[candidate]!, after)
        }
      }
      along(first, path, cost + laid.points, counts)
    }
  }
  go(
    [],
    0,
    false,
    priced.points,
    request.rules.map(() => 1),
  )
  return least < below ? least : undefined
}

/** How many ways there are through a plan, steps that may not be taken among them. */
export function waysOf(voicer: Voicer, plan: Alternatives, { stance }: PricedStance): number {
  const notes = (bar: VoicedBar) => bar.slots.reduce((product, slot) => product * slot.grips.length, 1)
  return plan.reduce(
    (product, bars) => product * bars.reduce((sum, laid) => sum + notes(voicer.voice(laid, stance)), 0),
    1,
  )
}
