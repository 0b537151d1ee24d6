import type { Span } from '../chart/span.ts'
import type { Key } from '../music/key.ts'
import type { Metre } from '../music/metre.ts'
import type { Tick } from '../music/tick.ts'

/** A printed accidental: double flat, flat, natural, sharp, double sharp. */
export type Accidental = 'bb' | 'b' | 'n' | '#' | '##'

/** The value of a printed note or rest. */
export interface NoteValue {
  /** the part of a whole note: 1 whole, 2 half, 4 quarter, 8 eighth, 16 sixteenth, 32 thirty-second */
  readonly part: 1 | 2 | 4 | 8 | 16 | 32
  readonly dots: 0 | 1 | 2
  /** one of a triplet: three in the time of two */
  readonly triplet: boolean
}

/** What a note does in the line, as the row under the tab shows it: a mark, and the way motion leads. */
export type FunctionMark =
  | 'root'
  | 'third'
  | 'fifth'
  | 'seventh'
  | 'tension'
  | 'motion-up'
  | 'motion-down'
  | 'motion-level'
  | 'ghost'

/** A degree as it is printed: its sign and its number. */
export interface PrintedDegree {
  readonly accidental: Accidental | undefined
  readonly number: number
}

/** A figure on the tab. */
export interface TabFigure {
  /** 0 the lowest-sounding string */
  readonly string: number
  /** `undefined`: a dead note, printed as a cross */
  readonly fret: number | undefined
  /** tied over a bar line from before: printed in brackets */
  readonly bracketed: boolean
}

/** A printed note: one head. A note of the line that is tied is printed as several. */
export interface PrintedNote {
  readonly kind: 'note'
  /** from the start of the form, in time as written */
  readonly startTick: Tick
  readonly ticks: Tick
  readonly value: NoteValue
  /** place on the bass-clef staff: steps above the middle line (D3 as written, an octave above what sounds) */
  readonly step: number
  /** printed before the head; `undefined`: the signature or the bar says it already */
  readonly accidental: Accidental | undefined
  readonly head: 'plain' | 'ghost'
  /** index into the line's notes */
  readonly noteIndex: number
  readonly tiedFromBefore: boolean
  readonly tiedOn: boolean
  readonly accent: boolean
  readonly length: 'short' | 'long' | undefined
  /** `undefined`: nothing is struck, so nothing is printed */
  readonly tab: TabFigure | undefined
  readonly degree: PrintedDegree | undefined
  readonly mark: FunctionMark | undefined
}

/** A printed rest. */
export interface PrintedRest {
  readonly kind: 'rest'
  readonly startTick: Tick
  readonly ticks: Tick
  readonly value: NoteValue
}

/** A chord symbol, cut into the runs it is printed in. */
export interface PrintedSymbol {
  readonly startTick: Tick
  /** the root's letter; `N.C.` for no chord */
  readonly root: string
  readonly accidental: Accidental | undefined
  /** an `m` on the base line after the root */
  readonly minor: boolean
  /** raised: `7`, `maj7`, `7b9`; flats and sharps as ♭ ♯, half-diminished as ø, diminished as °, major seventh as typed, `maj7` or Δ */
  readonly suffix: string
  readonly bass: { readonly letter: string; readonly accidental: Accidental | undefined } | undefined
  /** in words: `B flat seven` */
  readonly spoken: string
  /** where it is written in the text */
  readonly span: Span
}

/** A bar of the part, as played. */
export interface PartBar {
  /** index of the played bar */
  readonly index: number
  /** for people; a pick-up is bar 0 */
  readonly number: number
  readonly startTick: Tick
  readonly ticks: Tick
  readonly metre: Metre
  /** the metre differs from that of the bar before: it is printed. Of the first bar too. */
  readonly metreChanges: boolean
  /** the rehearsal letter that stands here */
  readonly section: string | undefined
  readonly symbols: readonly PrintedSymbol[]
  /** in order of time; notes and rests fill the bar */
  readonly signs: readonly (PrintedNote | PrintedRest)[]
  /** indices into `signs` that a beam joins, each at least two */
  readonly beams: readonly (readonly number[])[]
  /** indices into `signs`, three notes' worth each, over or under which a 3 stands */
  readonly triplets: readonly (readonly number[])[]
  readonly barLine: 'single' | 'double' | 'final'
}

/** The printed part of one line: everything there is to draw, before any width is known. */
export interface Part {
  readonly key: Key | undefined
  /** strings of the bass, 4 to 6 */
  readonly strings: number
  readonly bars: readonly PartBar[]
}
