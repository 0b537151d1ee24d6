import type { PartName, TextMark } from './arrangement.ts'
import type { Key } from './key.ts'
import type { Pitch } from './pitch.ts'
import type { TempoMap } from './tempo-map.ts'
import type { Tick } from './tick.ts'

/** A note as it is played: swung, placed, cut to its length. */
export interface PlayedNote {
  readonly startTick: Tick
  /** at least one tick later, at most the end of the performance */
  readonly endTick: Tick
  readonly pitch: Pitch
  /** 1 to 127 */
  readonly velocity: number
}

/** What one player plays. Equal pitches of a part never overlap. */
export interface PlayedPart {
  readonly name: PartName
  /** General MIDI program as sent, 0 to 127; `undefined` for drums and click */
  readonly program: number | undefined
  /** in order of time */
  readonly notes: readonly PlayedNote[]
}

/** A metre from a bar line on. */
export interface MetreChange {
  readonly tick: Tick
  readonly upper: number
  /** a power of two */
  readonly lower: number
  /** ticks of the beat that a metronome would strike */
  readonly beatTicks: Tick
}

/** The arrangement as it sounds: the one thing that a file, a port and a built-in sound are fed with. */
export interface Performance {
  readonly title: string
  /** where the last bar ends, and every part with it */
  readonly ticks: Tick
  readonly tempo: TempoMap
  readonly metres: readonly MetreChange[]
  readonly key: Key | undefined
  readonly sections: readonly TextMark[]
  readonly chordNames: readonly TextMark[]
  readonly parts: readonly PlayedPart[]
}
