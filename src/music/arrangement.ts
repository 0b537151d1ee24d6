import type { Key } from './key.ts'
import type { Metre } from './metre.ts'
import type { Pitch } from './pitch.ts'
import type { TempoMap } from './tempo-map.ts'
import type { Tick } from './tick.ts'

/** Everybody who plays, in the order of a score. */
export const PARTS = ['bass', 'chords', 'drums', 'click'] as const

/** Who plays. */
export type PartName = (typeof PARTS)[number]

/** A note as it is written: on the grid, with its marks. */
export interface WrittenNote {
  readonly startTick: Tick
  /** written length, ties added in; at the very end it may run past the last bar line, into the downbeat of the next time round */
  readonly ticks: Tick
  readonly pitch: Pitch
  /** MIDI velocity of the note without its accent, 1 to 127; `undefined`: the player's touch gives it by its place in the bar */
  readonly velocity: number | undefined
  /** share of the slot that sounds, 0 to 1; `undefined`: the player's touch gives it */
  readonly share: number | undefined
  readonly accent: boolean
  readonly length: 'short' | 'long' | undefined
  /** a dead note: rhythm without a pitch of its own; `pitch` is where the hand lies */
  readonly ghost: boolean
  /** tied over a beat or bar line: it is held to the end of its slot */
  readonly tied: boolean
  /** index of its string, 0 the lowest-sounding: one string sounds one note at a time; `undefined` where there are no strings */
  readonly string: number | undefined
}

/** What one player has before them. */
export interface WrittenPart {
  readonly name: PartName
  /** General MIDI program as sent, 0 to 127; `undefined` for drums and click */
  readonly program: number | undefined
  /** in order of time */
  readonly notes: readonly WrittenNote[]
}

/** A bar as the whole band counts it. */
export interface ArrangedBar {
  readonly startTick: Tick
  readonly ticks: Tick
  /** its metre; a pick-up has the metre it is a part of */
  readonly metre: Metre
}

/** A word or a chord symbol over the staff. */
export interface TextMark {
  readonly tick: Tick
  readonly text: string
}

/** Everything the band plays, as written notes on the grid of 480 to the quarter. */
export interface Arrangement {
  readonly title: string
  /** where the last bar ends */
  readonly ticks: Tick
  readonly tempo: TempoMap
  /** `undefined`: the chart has no key */
  readonly key: Key | undefined
  /** in order, without gaps, from tick 0 */
  readonly bars: readonly ArrangedBar[]
  /** names of sections where they begin */
  readonly sections: readonly TextMark[]
  /** chord symbols in ASCII where they change; `N.C.` where the chords rest */
  readonly chordNames: readonly TextMark[]
  readonly parts: readonly WrittenPart[]
}
