import type { Chord } from '../music/chord.ts'
import type { Metre } from '../music/metre.ts'
import type { Tick } from '../music/tick.ts'
import type { Span } from './span.ts'

/** A chord with its place and length inside one played bar. A chord that lasts over a bar line is a change in each bar. */
export interface Change {
  /** `undefined` for N.C. */
  readonly chord: Chord | undefined
  readonly startTick: Tick
  readonly ticks: Tick
  readonly barIndex: number
  /** The same chord sounded just before, so nothing changes here. False at the first change of the form. */
  readonly held: boolean
  /** Where it is written in the text. */
  readonly span: Span
}

/** A bar as it is played. */
export interface FormBar {
  /** from 0, a pick-up included */
  readonly index: number
  /** from 1 for people; a pick-up is bar 0 */
  readonly number: number
  /** the written bar it comes from: an index into the chart's written bars */
  readonly writtenIndex: number
  /** the written bar's number for people */
  readonly writtenNumber: number
  readonly startTick: Tick
  readonly ticks: Tick
  readonly metre: Metre
  /** the name of the section that begins here */
  readonly section: string | undefined
  /** in order of time; they fill the bar */
  readonly changes: readonly Change[]
}

/** The bars in the order they are played. */
export interface Form {
  readonly bars: readonly FormBar[]
  /** all changes of all bars, in order of time */
  readonly changes: readonly Change[]
  readonly ticks: Tick
}
