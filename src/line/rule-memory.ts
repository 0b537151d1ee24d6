import type { CostTerm } from './line.ts'
import type { Memory, MemoryStep } from './memory.ts'
import type { PitchRange } from './neck-problem.ts'
import { binds, type RuleInForce, type Sounding } from './rule.ts'
import { type Standing, standingKey } from './standing.ts'

/** Where a step of an automaton leads, and over which pairs of pitches. */
interface Way {
  readonly to: number
  readonly kept: boolean
  readonly joins: Uint8Array
}

/** Steps of automata that were worked out before, for one range of pitches. */
export class KnownWays {
  readonly ways = new Map<string, readonly Way[]>()
  /** Equal masks are one and the same, so that what they have in common with others is worked out once. */
  readonly masks = new Map<string, Uint8Array>()
}

/**
 * The memory of a rule that is an automaton. A step that breaks it is impossible under a must where it binds, and pays under a
 * weight.
 */
export function automatonOf(
  rule: RuleInForce,
  standings: readonly Standing[],
  range: PitchRange,
  loop: boolean,
  known = new KnownWays(),
): Memory {
  const { test, strength } = rule
  if (test.looksAt !== 'memory') throw new RangeError(`rule ${rule.id} has no memory`)
  const breach: readonly CostTerm[] = strength === 'must' ? [] : [{ rule: rule.id, points: strength }]
  const keys = new Map<number, string>()
  const keyOf = (slot: number) => {
    const made =
      keys.get(slot) ?? `${standingKey(standings[slot]!)} ${standingKey(standings[(slot + 1) % standings.length]!)}`
    keys.set(slot, made)
    return made
  }
  // Once nothing is bound any more, nothing has to be remembered.
  const lastBound = loop ? Number.POSITIVE_INFINITY : standings.findLastIndex(({ slot }) => binds(rule, slot.barIndex))
  const waysFrom = (slot: number, state: number): readonly Way[] => {
    const from = standings[slot]!
    const to = standings[(slot + 1) % standings.length]!
    const key = `${rule.sentence} ${state} ${keyOf(slot)}`
    const made =
      known.ways.get(key) ??
      waysOf((x, y) => test.step(state, x, y), soundings(from, range), soundings(to, range), known.masks)
    known.ways.set(key, made)
    return made
  }
  return {
    // The sentence says what the rule asks, all of it.
    name: `${rule.sentence} (${strength})`,
    key: (slot) => {
      const { barIndex } = standings[(slot + 1) % standings.length]!.slot
      return `${keyOf(slot)} ${binds(rule, barIndex)} ${slot + 1 < lastBound}`
    },
    begin: (slot) => Array.from({ length: loop || slot > 0 ? test.states : 1 }, (_, state) => ({ to: state })),
    step(slot, state) {
      if (slot >= lastBound) return [{ to: 0 }]
      const bound = binds(rule, standings[(slot + 1) % standings.length]!.slot.barIndex)
      const steps: MemoryStep[] = []
      for (const { to: next, kept, joins } of waysFrom(slot, state)) {
        const to = slot + 1 < lastBound ? next : 0
        if (kept || !bound) steps.push({ to, joins })
        else if (strength !== 'must') steps.push({ to, joins, arriving: breach })
      }
      return steps
    },
    end: () => [],
  }
}

/** A standing with each pitch of a range: made once, since pairs of them are many. */
export function soundings<Where extends Standing>(
  where: Where,
  { base, width }: PitchRange,
): readonly (Where & { readonly pitch: number })[] {
  return Array.from({ length: width }, (_, i) => ({ ...where, pitch: base + i }))
}

/** The steps over all pairs of pitches, gathered by where they lead. */
function waysOf(
  step: (x: Sounding, y: Sounding) => { readonly state: number; readonly kept: boolean },
  from: readonly Sounding[],
  to: readonly Sounding[],
  masks: Map<string, Uint8Array>,
): readonly Way[] {
  const outcomes: Way[] = []
  const known: number[] = []
  let at = 0
  for (const x of from) {
    for (const y of to) {
      const { state, kept } = step(x, y)
      const outcome = 2 * state + Number(kept)
      const found = known.indexOf(outcome)
      const index = found < 0 ? known.push(outcome) - 1 : found
      if (found < 0) outcomes.push({ to: state, kept, joins: new Uint8Array(from.length * to.length) })
      outcomes[index]!.joins[at++] = 1
    }
  }
  return outcomes.map(({ to, kept, joins }) => {
    const name = String.fromCharCode(...joins)
    const mask = masks.get(name) ?? joins
    masks.set(name, mask)
    return { to, kept, joins: mask }
  })
}
