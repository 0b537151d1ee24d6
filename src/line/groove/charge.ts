import type { Form } from '../../chart/form.ts'
import type { Pitch } from '../../music/pitch.ts'
import type { Slot } from '../../rhythm/slot.ts'
import type { CostTerm } from '../line.ts'
import { binds, type Candidate, type RuleInForce, type RuleTest } from '../rule.ts'
import { standingsOf } from '../standing.ts'
import type { GrooveNeck } from './neck.ts'

/** A note on the neck, as rules about single notes, neighbours and the hand look at it. */
interface Fretted {
  readonly slot: Slot
  readonly pitch: Pitch
  readonly string: number
  readonly fret: number
  readonly hand: number
}

/**
 * What rules about notes, neighbours and the hand charge a whole line, by note. `undefined` if a must is broken.
 *
 * The search has charged the same bar by bar; here it is read from the line itself, so that a memory too large to be followed is charged
 * too.
 */
export function chargesOf(
  rules: readonly RuleInForce[],
  form: Form,
  notes: readonly Fretted[],
  options: {
    readonly loop: boolean
    readonly neck: Pick<GrooveNeck, 'open' | 'tenths'>
    readonly secondsPerTick: number
  },
): readonly (readonly CostTerm[])[] | undefined {
  const { loop, secondsPerTick } = options
  const { open, tenths } = options.neck
  const charges: CostTerm[][] = notes.map(() => [])
  if (rules.length === 0 || notes.length === 0) return charges
  const standings = standingsOf(
    form,
    notes.map((note) => note.slot),
    loop,
  )
  const places = notes.map(
    ({ pitch, string, fret }, index): Candidate => ({ ...standings[index]!, pitch, string, fret, open }),
  )
  // From each note to the next; in a loop from the last to the first.
  const steps = notes.slice(loop ? 0 : 1).map((_, step) => {
    const to = loop ? step : step + 1
    return { from: (to + notes.length - 1) % notes.length, to }
  })
  if (loop) steps.push(steps.shift()!)
  for (const rule of rules) {
    const { test, strength } = rule
    const broken: number[] = []
    const isBound = (at: number): boolean => binds(rule, notes[at]!.slot.barIndex)
    if (test.looksAt === 'note')
      for (const [at, place] of places.entries()) if (isBound(at) && !test.allows(place)) broken.push(at)
    for (const { from, to } of steps) {
      if (!isBound(to)) continue
      if (test.looksAt === 'pair' && !test.allows(places[from]!, places[to]!)) broken.push(to)
      if (test.looksAt !== 'hand') continue
      const [one, other] = [notes[from]!, notes[to]!]
      const ticks = other.slot.startTick - one.slot.startTick + (to > from ? 0 : form.ticks)
      const way = Math.abs(tenths[other.hand]! - tenths[one.hand]!)
      if (!test.allows({ tenths: way, fromOpen: one.fret === 0, seconds: ticks * secondsPerTick })) broken.push(to)
    }
    if (test.looksAt === 'memory') {
      const least = leastBroken(test, places, steps, loop, isBound)
      if (!least) return undefined
      broken.push(...least)
    }
    for (const at of broken) {
      if (strength === 'must') return undefined
      charges[at]!.push({ rule: rule.id, points: strength })
    }
  }
  return charges
}

/** Notes at which an automaton is not kept. In a loop it begins in the state that it comes back to; `undefined` if there is none. */
function leastBroken(
  test: Extract<RuleTest, { readonly looksAt: 'memory' }>,
  places: readonly Candidate[],
  steps: readonly { readonly from: number; readonly to: number }[],
  loop: boolean,
  bound: (note: number) => boolean,
): readonly number[] | undefined {
  let least: readonly number[] | undefined
  for (let start = 0; start < (loop ? test.states : 1); start++) {
    let state = start
    const broken: number[] = []
    for (const { from, to } of steps) {
      const step = test.step(state, places[from]!, places[to]!)
      state = step.state
      if (!step.kept && bound(to)) broken.push(to)
    }
    if ((!loop || state === start) && (!least || broken.length < least.length)) least = broken
  }
  return least
}
