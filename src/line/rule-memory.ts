import type { CostTerm } from './line.ts'
import { joinsWhere, type Memory, type MemoryStep } from './memory.ts'
import type { PitchRange } from './neck-step.ts'
import { binds, type RuleInForce } from './rule.ts'
import { type Standing, standingKey } from './standing.ts'

/** Where a step of an automaton leads, and over which pairs of pitches. */
interface Way {
  readonly to: number
  readonly kept: boolean
  readonly joins: Uint8Array
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
): Memory {
  const { test, strength } = rule
  if (test.looksAt !== 'memory') throw new RangeError(`rule ${rule.id} has no memory`)
  const breach: readonly CostTerm[] = strength === 'must' ? [] : [{ rule: rule.id, points: strength }]
  const keyOf = (slot: number) => {
    const to = standings[(slot + 1) % standings.length]!
    return `${standingKey(standings[slot]!)} ${standingKey(to)}`
  }
  const known = new Map<string, readonly Way[]>()
  const masks = new Map<string, Uint8Array>()
  // Once nothing is bound any more, nothing has to be remembered.
  const lastBound = loop ? Number.POSITIVE_INFINITY : standings.findLastIndex(({ slot }) => binds(rule, slot.barIndex))
  const waysFrom = (slot: number, state: number): readonly Way[] => {
    const from = standings[slot]!
    const to = standings[(slot + 1) % standings.length]!
    const key = `${state} ${keyOf(slot)}`
    const step = (x: number, y: number) => test.step(state, { ...from, pitch: x }, { ...to, pitch: y })
    const made = known.get(key) ?? waysOf(range, step, masks)
    known.set(key, made)
    return made
  }
  return {
    // The sentence says what the rule asks, all of it.
    name: `${rule.sentence} (${strength})`,
    key: (slot) => {
      const { barIndex } = standings[(slot + 1) % standings.length]!.slot
      return `${keyOf(slot)} ${binds(rule, barIndex)} ${slot + 1 < lastBound}`
    },
    begin: () => Array.from({ length: loop ? test.states : 1 }, (_, state) => ({ to: state })),
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

/** The steps over all pairs of pitches, gathered by where they lead. */
function waysOf(
  range: PitchRange,
  step: (x: number, y: number) => { readonly state: number; readonly kept: boolean },
  masks: Map<string, Uint8Array>,
): readonly Way[] {
  const { base, width } = range
  const outcomes = new Map<number, { readonly to: number; readonly kept: boolean }>()
  const outcomeOf = new Int32Array(width * width)
  for (let x = 0; x < width; x++) {
    for (let y = 0; y < width; y++) {
      const { state, kept } = step(base + x, base + y)
      const outcome = 2 * state + Number(kept)
      outcomes.set(outcome, { to: state, kept })
      outcomeOf[x * width + y] = outcome
    }
  }
  return [...outcomes].map(([outcome, { to, kept }]) => {
    const joins = joinsWhere(range, (x, y) => outcomeOf[(x - base) * width + (y - base)] === outcome)
    // Equal masks are one and the same, so that what they have in common with others is worked out once.
    const name = joins.join('')
    const mask = masks.get(name) ?? joins
    masks.set(name, mask)
    return { to, kept, joins: mask }
  })
}
