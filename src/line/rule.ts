import type { Chord } from '../music/chord.ts'
import type { Pitch } from '../music/pitch.ts'
import type { Slot } from '../rhythm/slot.ts'

/** A sounding note as a rule sees it: where it stands in the music. */
export interface Sounding {
  readonly slot: Slot
  readonly chord: Chord
  /** the first slot of a chord that was not sounding before */
  readonly arrives: boolean
  readonly pitch: Pitch
}

/** The same with its place on the neck. Only a rule about one note sees it. */
export interface Candidate extends Sounding {
  /** index into the instrument's strings, 0 the lowest-sounding */
  readonly string: number
  readonly fret: number
}

/** A line in quarters, a bar for each bar of changes: `Dm7 | G7` and `D2 F2 A2 Ab2 | G2 B2 D3 F3`. */
export interface RuleExample<Value> {
  readonly value: Value
  readonly changes: string
  readonly line: string
}

/**
 * A rule: a statement about a line that is true when it is kept. One file each in `rules/`.
 *
 * A rule looks at one note, at two neighbours, or at a run of notes; it never looks further.
 */
export type Rule<Value> = {
  /** kebab-case, a statement: `inside-range` */
  readonly id: string
  /** the sentence a player reads */
  sentence(value: Value): string
  /** points for each breach where it is a weight */
  readonly defaultWeight: number
  /** Lines that keep it and lines that break it: its documentation and its test. */
  readonly keeps: readonly RuleExample<Value>[]
  readonly breaks: readonly RuleExample<Value>[]
} & (
  | { readonly looksAt: 'note'; allows(note: Candidate, value: Value): boolean }
  | { readonly looksAt: 'pair'; allows(from: Sounding, to: Sounding, value: Value): boolean }
  /** at most `limit(value)` notes in a row of which each neighbouring pair is `alike` */
  | { readonly looksAt: 'run'; limit(value: Value): number; alike(from: Sounding, to: Sounding): boolean }
)

/** A rule in force, with its value, for some bars or for all. */
export interface RuleInForce {
  readonly id: string
  readonly sentence: string
  /** a must removes notes and steps; a weight is the price of each breach, in whole points > 0 */
  readonly strength: 'must' | number
  /** played bars, half-open; absent: all */
  readonly bars?: { readonly from: number; readonly to: number }
  readonly test:
    | { readonly looksAt: 'note'; allows(note: Candidate): boolean }
    | { readonly looksAt: 'pair'; allows(from: Sounding, to: Sounding): boolean }
    | { readonly looksAt: 'run'; readonly limit: number; alike(from: Sounding, to: Sounding): boolean }
}

/**
 * Puts a rule in force with a value.
 *
 * @throws RangeError  if a weight is not a whole number > 0
 */
export function enforce<Value>(
  rule: Rule<Value>,
  value: Value,
  options: { readonly strength?: 'must' | number; readonly bars?: { readonly from: number; readonly to: number } } = {},
): RuleInForce {
  const strength = options.strength ?? 'must'
  if (strength !== 'must' && !(Number.isInteger(strength) && strength > 0))
    throw new RangeError(`a weight is a whole number of points > 0, not ${strength}`)
  const test: RuleInForce['test'] =
    rule.looksAt === 'note'
      ? { looksAt: 'note', allows: (note) => rule.allows(note, value) }
      : rule.looksAt === 'pair'
        ? { looksAt: 'pair', allows: (from, to) => rule.allows(from, to, value) }
        : { looksAt: 'run', limit: rule.limit(value), alike: rule.alike }
  return {
    id: rule.id,
    sentence: rule.sentence(value),
    strength,
    ...(options.bars ? { bars: options.bars } : {}),
    test,
  }
}
