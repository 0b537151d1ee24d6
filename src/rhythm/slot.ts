import type { Tick } from '../music/tick.ts'

/** How strong the place of an onset is: the first beat, the middle of the bar, another beat, off the beat, finer. */
export type Strength = 'one' | 'middle' | 'beat' | 'off' | 'fine'

/** An onset to be filled by a note. */
export interface Slot {
  readonly startTick: Tick
  /** sounding length as written, ties added in */
  readonly ticks: Tick
  readonly barIndex: number
  /** index into the form's changes: the chord it belongs to. A note pushed over a beat or bar line belongs to the chord it anticipates. */
  readonly changeIndex: number
  readonly strength: Strength
  /** id of the cell, or its notation where it has no id */
  readonly cell: string
  readonly accent: boolean
  readonly length: 'short' | 'long' | undefined
  /** struck early and tied over the bar line or into its chord */
  readonly pushed: boolean
  /** a dead note: it takes no pitch, and the search does not see it */
  readonly ghost: boolean
}
