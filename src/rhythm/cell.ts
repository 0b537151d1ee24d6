import type { Tick } from '../music/tick.ts'

/** A struck note of a cell, or a sound that comes in from the cell before. */
export interface CellOnset {
  /** from the start of the cell */
  readonly tick: Tick
  /** until the next onset or rest, ties inside the cell added in */
  readonly ticks: Tick
  /** `x`: a dead note, rhythm without a pitch */
  readonly ghost: boolean
  readonly accent: boolean
  readonly length: 'short' | 'long' | undefined
  /** `~` after the last note: tied over the end of the cell */
  readonly tiedOver: boolean
  /** `~1` at the start: nothing is struck, the sound comes from before */
  readonly continues: boolean
}

/** A rhythm figure of a bar or less (or of a few whole bars), written as a teacher counts it: `1 2& 3 4&`. */
export interface Cell {
  readonly upper: number
  readonly lower: number
  readonly bars: number
  /** length of the whole cell, rests included */
  readonly ticks: Tick
  /** in order of time */
  readonly onsets: readonly CellOnset[]
}

/** A cell with a name, as the vocabulary holds it. */
export interface NamedCell extends Cell {
  readonly id: string
  readonly name: string
  readonly group: string
  readonly notation: string
  /** metres it may stand in, as written */
  readonly metres: readonly string[]
  /** counts it may start on */
  readonly starts: readonly number[] | 'any'
  /** order of teaching, 1 to 5 */
  readonly level: number
  readonly feels: readonly string[]
  readonly touch: string
}
