import type { Pitch } from '../music/pitch.ts'
import type { Slot } from '../rhythm/slot.ts'

/** What a note does in the line. Off the chord and left by step it is motion; 6 9 11 13 of the chord or its tensions, else, tension. */
export type NoteFunction =
  | 'root'
  | 'third'
  | 'fifth'
  | 'seventh'
  | 'tension'
  | 'passing'
  | 'neighbour'
  | 'approach'
  | 'enclosure'
  | 'anticipation'
  | 'ghost'

/** Whole points >= 0 that something cost, under the name of the rule that asked them. */
export interface CostTerm {
  readonly rule: string
  readonly points: number
  /** index of the played bar, on a term of the line */
  readonly barIndex?: number
}

/** A note as the search chose it, before it is explained. */
export interface SearchedNote {
  readonly slot: Slot
  readonly pitch: Pitch
  /** index into the instrument's strings, 0 the lowest-sounding */
  readonly string: number
  readonly fret: number
  /** fret under the first finger */
  readonly hand: number
  /** id of the pattern in force */
  readonly pattern: string | undefined
  /** the number that the pattern gives it, 1 to 15: a ninth is no second there */
  readonly number?: number | undefined
  readonly terms: readonly CostTerm[]
}

/** A line as the search chose it. */
export interface SearchedLine {
  /** in order of time, without the ghosts */
  readonly notes: readonly SearchedNote[]
  /** dead notes, which the search does not see */
  readonly ghosts: readonly Slot[]
  readonly terms: readonly CostTerm[]
  readonly cost: number
  readonly provenWithin: number
}

/** A chosen note, with the terms that chose it. */
export interface LineNote extends SearchedNote {
  /** as spelled on the staff, with its octave: `F#1` */
  readonly name: string
  /** against its chord, in ASCII: `b3`; of a note that is aimed at the next chord, against the chord that sounds */
  readonly degree: string
  readonly function: NoteFunction
}

/** A bass line over a form. `cost` is the sum of its own terms and of all its notes' terms, exactly. */
export interface Line {
  /** in order of time, ghosts among them */
  readonly notes: readonly LineNote[]
  /** the plan's own terms: scheme, density, cells */
  readonly terms: readonly CostTerm[]
  readonly cost: number
  /** at most this many points above the best line there is; 0: proven best */
  readonly provenWithin: number
}
