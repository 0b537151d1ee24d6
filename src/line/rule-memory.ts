import type { CostTerm } from './line.ts'
import { joinsWhere, type Memory, type MemoryStep } from './memory.ts'
import type { PitchRange } from './neck-step.ts'
import type { RuleInForce, Sounding } from './rule.ts'

/** True where a rule binds a played bar. */
export function binds(rule: RuleInForce, barIndex: number): boolean {
  return !rule.bars || (barIndex >= rule.bars.from && barIndex < rule.bars.to)
}

/**
 * The memory of a rule about runs: how many notes in a row are alike by now. A run that grows beyond the limit is impossible
 * under a must, and pays for each further note under a weight.
 */
export function runMemory(
  rule: RuleInForce,
  soundings: readonly Omit<Sounding, 'pitch'>[],
  range: PitchRange,
  loop: boolean,
): Memory {
  const { test, strength } = rule
  if (test.looksAt !== 'run') throw new RangeError(`rule ${rule.id} does not look at runs`)
  const { limit, alike } = test
  const breach: readonly CostTerm[] = strength === 'must' ? [] : [{ rule: rule.id, points: strength }]
  // Where the answer depends on pitches only, as it usually does, one table would do; a pair of slots may also differ.
  const joins = soundings.map((from, slot) => {
    const to = soundings[(slot + 1) % soundings.length]!
    const same = joinsWhere(range, (x, y) => alike({ ...from, pitch: x }, { ...to, pitch: y }))
    return { same, other: same.map((one) => 1 - one) }
  })
  return {
    // In a loop the run may have begun before the first note, so every length is tried; the closing step has to agree.
    begin: () => Array.from({ length: loop ? limit : 1 }, (_, i) => ({ to: i + 1 })),
    step(slot, state) {
      const next = soundings[(slot + 1) % soundings.length]!
      const { same, other } = joins[slot]!
      const steps: MemoryStep[] = [{ to: 1, joins: other }]
      if (state < limit) steps.push({ to: state + 1, joins: same })
      else if (strength !== 'must' || !binds(rule, next.slot.barIndex))
        steps.push({ to: limit, joins: same, arriving: binds(rule, next.slot.barIndex) ? breach : [] })
      return steps
    },
    end: () => [],
  }
}
