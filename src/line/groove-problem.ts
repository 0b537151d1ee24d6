import { type BarContext, contextsOf } from './groove-context.ts'
import { barMapOf } from './groove-deal.ts'
import { GrooveNeck } from './groove-neck.ts'
import { type Pairing, pairingsOf } from './groove-pairing.ts'
import { GroovePlans } from './groove-plan.ts'
import type { GrooveRequest } from './groove-request.ts'
import { GrooveRules } from './groove-rules.ts'
import type { Motif } from './groove-scheme.ts'
import { Steps } from './groove-steps.ts'
import { Sweep } from './groove-sweep.ts'
import { Voicer } from './groove-voice.ts'
import type { RuleInForce } from './rule.ts'

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

/** What all plans share; with every note free, or only where a must leaves no other. */
export function problemOf(request: GrooveRequest, allFree: boolean): Problem {
  const { form, table, register } = request
  const map = barMapOf(request.metre)
  const loop = request.loop || request.rules.some((rule) => rule.test.looksAt === 'loop')
  const motif = motifOf(request.rules)
  const bound = request.rules.filter(({ test }) => !['loop', 'motif', 'repeats'].includes(test.looksAt))
  const rules = new GrooveRules(form, bound, {
    loop,
    secondsPerTick: 60 / (480 * (request.tempoBpm ?? 100)),
    forget: allFree,
  })
  const contexts = contextsOf(form, map, (bar) => rules.keyOfBar(bar))
  const pairings = pairingsOf(table, map, request.cells, request.patterns)
  const neck = new GrooveNeck(request.instrument, request.frets, table, register)
  const voicer = new Voicer(table, neck, rules, allFree)
  const plans = new GroovePlans(form, table, map, contexts, pairings, rules, motif)
  const sweep = new Sweep(new Steps(voicer, rules, contexts, loop), table, register.lowest)
  const firstBar = contexts.find((context) => context.parts.length > 0)?.index ?? 0
  return { pairings, plans, voicer, sweep, rules, loop, allFree, contexts, firstBar }
}

/** How the groove is to be kept: with fills where phrases end, unless a rule says otherwise. */
function motifOf(rules: readonly RuleInForce[]): Motif {
  for (const { test } of rules) if (test.looksAt === 'motif') return test
  return { period: undefined, strictness: 'with-fills' }
}
