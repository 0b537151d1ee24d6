import { boundEachTime } from '../repeated-bars.ts'
import type { RuleInForce } from '../rule.ts'
import { Bounds } from './bound.ts'
import { type BarContext, contextsOf, numbersOfBars } from './context.ts'
import { KnownGrooves } from './known.ts'
import type { Pairing } from './pairing.ts'
import { type GroovePlan, GroovePlans } from './plan.ts'
import type { GrooveRequest } from './request.ts'
import { GrooveRules } from './rules.ts'
import type { Motif } from './scheme.ts'
import type { PricedStance } from './stance.ts'
import { Steps } from './steps.ts'
import { Sweep, type Swept } from './sweep.ts'
import { Voicer } from './voice.ts'

/** What all plans share. */
export interface Problem {
  readonly pairings: readonly Pairing[]
  readonly plans: GroovePlans
  readonly voicer: Voicer
  readonly sweep: Sweep
  readonly rules: GrooveRules
  readonly loop: boolean
  readonly allFree: boolean
  readonly contexts: readonly BarContext[]
  /** the first bar that has a chord */
  readonly firstBar: number
}

/** A plan with the best line of one stance. */
export interface Solved {
  readonly plan: GroovePlan
  readonly swept: Swept
}

/**
 * What all plans share; with every note free, or only where a must leaves no other.
 *
 * @param known  what earlier grooves left behind; it changes no answer
 */
export function problemOf(request: GrooveRequest, allFree: boolean, known = new KnownGrooves()): Problem {
  const { form, table, register } = request
  const ground = known.groundOf(request)
  const { map, pairings, neck, numbers } = ground
  const loop = request.loop || request.rules.some((rule) => rule.test.looksAt === 'loop')
  const motif = motifOf(request.rules)
  const aboutBars = request.rules.filter(({ test }) => !['loop', 'motif', 'repeats'].includes(test.looksAt))
  const { repeats } = request
  const bound = repeats ? aboutBars.map((rule) => boundEachTime(rule, repeats)) : aboutBars
  const rules = new GrooveRules(form, bound, {
    loop,
    secondsPerTick: 60 / (480 * (request.tempoBpm ?? 100)),
    forget: allFree,
  })
  const unnumbered = repeats ? numbersOfBars() : { ...numbers, kinds: new Map<string, number>() }
  const contexts = contextsOf(form, map, (bar) => rules.keyOfBar(bar), rules.isEmpty && !repeats ? numbers : unnumbered)
  const isPlain = rules.isEmpty && !repeats && !allFree
  const voicer = (isPlain ? ground.onNeck?.voicer : undefined) ?? new Voicer(table, neck, rules, allFree)
  const plans = new GroovePlans(form, ground.bars, contexts, rules, motif, repeats)
  const steps = new Steps(voicer, rules, contexts, loop)
  const bounds = (isPlain ? ground.onNeck?.bounds : undefined) ?? new Bounds(steps)
  if (isPlain) ground.onNeck ??= { voicer, bounds }
  const sweep = new Sweep(steps, bounds, table, register.lowest)
  const firstBar = contexts.find((context) => context.parts.length > 0)?.index ?? 0
  return { pairings, plans, voicer, sweep, rules, loop, allFree, contexts, firstBar }
}

/** How the groove is to be kept: with fills where phrases end, unless a rule says otherwise. */
function motifOf(rules: readonly RuleInForce[]): Motif {
  for (const { test } of rules) if (test.looksAt === 'motif') return test
  return { period: undefined, strictness: 'with-fills' }
}

/** How many stances, the cheapest ones, a plan is first looked at in. */
export const DIVE_STANCES = 4

/** A plan in each of the cheapest stances, with what its bars cost there each by itself, the least first. */
export function onNeck(
  { sweep }: Problem,
  plan: GroovePlan,
): { readonly plan: GroovePlan; readonly stance: PricedStance; readonly bound: number }[] {
  const stances = sweep.stances.slice(0, DIVE_STANCES).map((stance) => {
    const bounds = plan.classes.map((choice) => sweep.bounds.inner(choice, stance.stance, plan.pushes))
    const sum = bounds.reduce((total, bound, index) => total + bound * plan.scheme.classes[index]!.count, 0)
    return { plan, stance, bound: plan.points + stance.points + sum }
  })
  return stances.sort((x, y) => x.bound - y.bound)
}
