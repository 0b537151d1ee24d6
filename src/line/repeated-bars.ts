import type { Form, FormBar } from '../chart/form.ts'
import type { Chord } from '../music/chord.ts'
import type { Slot } from '../rhythm/slot.ts'
import { type BarRange, binds, type RuleInForce } from './rule.ts'

/**
 * For each played bar, the first bar of its chorus that is the same written bar with the same chords, as an index; its own where there
 * is none before it, or where a rule sets it apart.
 */
export function repeatedBars(form: Form, rules: readonly RuleInForce[] = []): readonly number[] {
  const first = new Map<string, number>()
  const apart = rules.filter(({ test }) => test.looksAt === 'kept-bar' && test.apart)
  return form.bars.map((bar) => {
    if (apart.some((rule) => binds(rule, bar.index))) return bar.index
    const key = soundsAs(bar)
    const known = first.get(key) ?? bar.index
    first.set(key, known)
    return known
  })
}

function soundsAs({ chorus, writtenIndex, startTick, ticks, changes }: FormBar): string {
  const chords = changes.map((change) => {
    const { chord } = change
    return `${change.startTick - startTick}+${change.ticks}:${nameOf(chord)}`
  })
  return `${chorus} ${writtenIndex} ${ticks} ${chords.join(' ')}`
}

/**
 * For each sounded slot, the slot that it repeats, as an index: the one at the same place of the first of its bars, where there is one
 * that belongs to the same chord. A push into another chord repeats nothing.
 */
export function repeatedSlots(form: Form, slots: readonly Slot[], repeats: readonly number[]): readonly number[] {
  const at = new Map<string, number>()
  return slots.map((slot, index) => {
    const bar = form.bars[slot.barIndex]!
    const chord = form.changes[slot.changeIndex]!.chord
    const key = `${repeats[bar.index]} ${slot.startTick - bar.startTick} ${nameOf(chord)}`
    const known = at.get(key) ?? index
    at.set(key, known)
    return known
  })
}

/** A chord as it is written: its scale may differ from time to time with what follows. */
function nameOf(chord: Chord | undefined): string {
  return chord?.symbol.text ?? ''
}

/** By the first of each kind, the bars that are the same, itself among them. */
export function timesOf(repeats: readonly number[]): ReadonlyMap<number, readonly number[]> {
  const times = new Map<number, number[]>()
  for (const [bar, first] of repeats.entries()) times.set(first, [...(times.get(first) ?? []), bar])
  return times
}

/** A rule that binds a bar wherever it binds one of its playings. */
export function boundEachTime(rule: RuleInForce, repeats: readonly number[]): RuleInForce {
  if (!rule.bars) return rule
  const bound = new Set(repeats.filter((_, bar) => binds(rule, bar)))
  const bars = repeats.flatMap((first, bar): BarRange[] => (bound.has(first) ? [{ from: bar, to: bar + 1 }] : []))
  return { ...rule, bars }
}
