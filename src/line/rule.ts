import type { Metre } from '../music/metre.ts'
import type { NoteName } from '../music/note-name.ts'
import type { Pitch } from '../music/pitch.ts'
import type { Cell } from '../rhythm/cell.ts'
import type { WeightedCell } from '../rhythm/plan.ts'
import { type Phrasing, say } from './rule-phrase.ts'
import type { Standing } from './standing.ts'

/** A sounding note as a rule sees it: where it stands in the music. */
export interface Sounding extends Standing {
  readonly pitch: Pitch
}

/** The same with its place on the neck. Only a rule about one note sees it. */
export interface Candidate extends Sounding {
  /** index into the instrument's strings, 0 the lowest-sounding */
  readonly string: number
  readonly fret: number
  /** pitches of the instrument's open strings, the lowest-sounding first */
  readonly open: readonly Pitch[]
}

/** What the fretting hand does between two notes. */
export interface HandMove {
  /** how far it goes along the neck, in tenths of a millimetre, >= 0 */
  readonly tenths: number
  /** the note before is an open string, which rings while the hand moves */
  readonly fromOpen: boolean
  /** time from one onset to the next */
  readonly seconds: number
}

/** How often a degree pattern is begun. `atMost` is `undefined` where there is no limit. */
export interface PatternCount {
  readonly pattern: string
  readonly atLeast: number
  readonly atMost: number | undefined
}

/**
 * What a rule asks, in the terms of what it looks at. It is true where it is kept.
 *
 * Rules about one note may look at all of it. Rules about neighbours see their pitches and of their standing what `standingKey` tells
 * apart, never the tick; they bind where the second note stands.
 */
export type RuleTest =
  | { readonly looksAt: 'note'; allows(note: Candidate): boolean }
  | { readonly looksAt: 'pair'; allows(from: Sounding, to: Sounding): boolean }
  /**
   * A finite automaton over neighbours (Pesant 2004, the regular constraint): it begins in state 0 of `states` and reads one note after the
   * other. In a loop it may begin in any state, as long as it comes back to it.
   */
  | {
      readonly looksAt: 'memory'
      /** how many states, >= 1 */
      readonly states: number
      step(state: number, from: Sounding, to: Sounding): { readonly state: number; readonly kept: boolean }
    }
  | { readonly looksAt: 'hand'; allows(move: HandMove): boolean }
  /** in a walking line each beginning of the pattern counts, in a groove each bar whose head it makes */
  | ({ readonly looksAt: 'pattern' } & PatternCount)
  /** the pattern is in force throughout the bars */
  | { readonly looksAt: 'patterns-in-force'; readonly pattern: string }
  /** the cells that a bar may have, by their onsets; a walking line whose cells nobody chose is offered others beside its feel's */
  | { readonly looksAt: 'cell'; allows(cell: Cell): boolean; offers?(metre: Metre): readonly WeightedCell[] }
  /** the bar has this cell and, on its sounded onsets in order of time, these pitches */
  | {
      readonly looksAt: 'kept-bar'
      readonly cell: Cell
      readonly notation: string
      readonly pitches: readonly Pitch[]
      /** only there, where it is a bar that is played more than once; absent: each time */
      readonly apart?: boolean
    }
  /** the last note has to lead into the first */
  | { readonly looksAt: 'loop' }
  /** bars that are played several times have a new line each time, or the same one */
  | { readonly looksAt: 'repeats'; readonly anew: boolean }
  /**
   * The groove is made of so many bars (absent: as the feel has it), the same throughout, with fills where phrases end, or each bar
   * by itself.
   */
  | {
      readonly looksAt: 'motif'
      readonly period: 1 | 2 | 4 | undefined
      readonly strictness: 'strict' | 'with-fills' | 'free'
    }
  /** all of them: each is broken by itself */
  | { readonly looksAt: 'several'; readonly tests: readonly RuleTest[] }

/** A line in quarters, a bar for each bar of changes: `Dm7 | G7` and `D2 F2 A2 Ab2 | G2 B2 D2 F2`. */
export interface RuleExample<Value> {
  readonly value: Value
  readonly changes: string
  readonly line: string
  /** the cell of each bar in its notation, where they are not quarters */
  readonly cells?: readonly string[]
  /** the id of the pattern that each bar begins; `undefined` where it begins none */
  readonly patterns?: readonly (string | undefined)[]
  /** the fret under the first finger at each note, and quarters a minute */
  readonly hands?: readonly number[]
  readonly bpm?: number
}

/** The highest fret, or pitch, that a rule speaks of. */
export interface Reach {
  readonly fret?: number
  readonly pitch?: Pitch
}

/** A rule: a statement about a line that is true when it is kept. One file each in `rules/`. */
export interface Rule<Value> {
  /** kebab-case, a statement: `inside-range` */
  readonly id: string
  /** the sentences a player writes: all are read, and the first that can say a value is printed */
  readonly phrasings: readonly Phrasing<Value>[]
  /** points for each breach where it is a weight */
  readonly defaultWeight: number
  test(value: Value): RuleTest
  /** it binds whole bars of these metres only, as written; absent: any bar, and a pick-up */
  readonly metres?: readonly string[]
  /** the highest fret or pitch that a value speaks of */
  reach?(value: Value): Reach
  /** the bass that it puts, as a must, under the chords of its bars, as a slash does */
  bass?(value: Value): NoteName | undefined
  /** Where it has a number or a range: values that ask less and less, a row for each direction. */
  milder?(value: Value): readonly (readonly Value[])[]
  /** Lines that keep it and lines that break it: its documentation and its test. */
  readonly keeps: readonly RuleExample<Value>[]
  readonly breaks: readonly RuleExample<Value>[]
}

/** Played bars, half-open, by index. */
export interface BarRange {
  readonly from: number
  readonly to: number
}

/** A rule in force, with its value, for some bars or for all. */
export interface RuleInForce {
  readonly id: string
  /** as a player reads it, with its bars and without its strength: `Bars 5–8: no leap over a fourth` */
  readonly sentence: string
  /** a must removes notes and steps; a weight is the price of each breach, in whole points > 0 */
  readonly strength: 'must' | number
  /** played bars; absent: all */
  readonly bars?: readonly BarRange[]
  readonly test: RuleTest
  readonly reach?: Reach
  /** as a must it stands under every chord of its bars */
  readonly bass?: NoteName
  /** points for each breach if it is made a weight */
  readonly usualWeight?: number
  /** the same rule asking less and less, a row for each direction; absent where it has no number and no range */
  milder?(): readonly (readonly RuleInForce[])[]
}

/**
 * Puts a rule in force with a value.
 *
 * @param options.bars   absent: all
 * @param options.where  how its sentence begins, which says its bars: `Bars 5–8: `
 * @throws RangeError  if a weight is not a whole number > 0
 */
export function enforce<Value>(
  rule: Rule<Value>,
  value: Value,
  options: {
    readonly strength?: 'must' | number
    readonly bars?: readonly BarRange[]
    readonly where?: string
  } = {},
): RuleInForce {
  const { strength = 'must', bars, where = '' } = options
  if (strength !== 'must' && !(Number.isInteger(strength) && strength > 0))
    throw new RangeError(`a weight is a whole number of points > 0, not ${strength}`)
  const bass = rule.bass?.(value)
  const inForce: RuleInForce = {
    id: rule.id,
    sentence: where + say(rule.phrasings, value),
    strength,
    ...(bars ? { bars } : {}),
    test: rule.test(value),
    ...(rule.reach ? { reach: rule.reach(value) } : {}),
    ...(bass ? { bass } : {}),
    usualWeight: rule.defaultWeight,
  }
  if (!rule.milder) return inForce
  const rows = () => rule.milder!(value).map((row) => row.map((milder) => enforce(rule, milder, options)))
  return { ...inForce, milder: rows }
}

const PARTS = new WeakMap<RuleInForce, readonly RuleInForce[]>()

/** Rules that look at one thing each, in the place of those that look at several; the same objects each time. */
export function takenApart(rules: readonly RuleInForce[]): readonly RuleInForce[] {
  if (!rules.some(({ test }) => test.looksAt === 'several')) return rules
  return rules.flatMap((rule) => {
    const { test } = rule
    if (test.looksAt !== 'several') return [rule]
    const parts = PARTS.get(rule) ?? takenApart(test.tests.map((one) => ({ ...rule, test: one })))
    PARTS.set(rule, parts)
    return parts
  })
}

/** The line leads back or it does not, repeats or does not: such a rule has no bars of its own and no weight. */
export function isAboutWholeLine({ looksAt }: RuleTest): boolean {
  return looksAt === 'loop' || looksAt === 'repeats' || looksAt === 'motif'
}

/** It is kept or it is not: what is set apart is a bar as it stands. */
export function hasNoWeight(test: RuleTest): boolean {
  return isAboutWholeLine(test) || (test.looksAt === 'kept-bar' && test.apart === true)
}

/** True where a rule binds a played bar. */
export function binds(rule: Pick<RuleInForce, 'bars'>, barIndex: number): boolean {
  return !rule.bars || rule.bars.some(({ from, to }) => barIndex >= from && barIndex < to)
}
