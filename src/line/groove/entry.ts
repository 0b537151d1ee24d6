import type { PeriodNode } from './period.ts'
import type { GroovePlan, LaidScheme } from './plan.ts'
import { comesBefore, type Swept } from './sweep.ts'

/**
 * A plan on its way through the queue: the further it is looked into, the closer its bound.
 *
 * `pairing`: a scheme and a bar, its answers not yet found · `stance`: a scheme in a stance, the bars of its period not yet ranked ·
 * `period`: some bars of a period · `free`: each bar by itself, in one stance, not solved · `laid`: what bars and roles cost is known, and the stances before
 * `stance` are in the queue · `bounded`: in one stance, so many classes of bars and seams are known on the neck by themselves ·
 * `solved`: in one stance, exactly.
 */
export type Entry = { readonly bound: number; readonly scheme: number; readonly a: number; readonly b: number } & (
  | { readonly stage: 'pairing'; readonly make: () => readonly GroovePlan[] }
  | { readonly stage: 'stance'; readonly of: LaidScheme; readonly stance: number }
  | { readonly stage: 'period'; readonly node: PeriodNode }
  | { readonly stage: 'free'; readonly plan: GroovePlan; readonly beyond: readonly number[]; readonly stance: number }
  | { readonly stage: 'laid'; readonly plan: GroovePlan; readonly stance: number }
  | { readonly stage: 'bounded'; readonly plan: GroovePlan; readonly stance: number; readonly looked: number }
  | { readonly stage: 'solved'; readonly plan: GroovePlan; readonly swept: Swept }
)

/** Whether an entry is looked into before another. */
export function comesFirst(a: Entry, b: Entry): boolean {
  const difference =
    a.bound - b.bound ||
    // What may still turn out to cost as much is looked at before what does.
    Number(a.stage === 'solved') - Number(b.stage === 'solved') ||
    a.scheme - b.scheme ||
    a.a - b.a ||
    a.b - b.b
  if (difference !== 0) return difference < 0
  return a.stage === 'solved' && b.stage === 'solved' && comesBefore(a.swept, b.swept)
}
