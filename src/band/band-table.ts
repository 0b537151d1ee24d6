import type { Tick } from '../music/tick.ts'

/**
 * A row of drum strokes on a grid, as a drummer pencils it: a General MIDI percussion note, `=`, and one character a step.
 *
 * `.` is nothing, `1` to `9` a stroke from very soft to as loud as it gets. Blanks are for the eye, `|` parts the bars:
 * `38=.... 8... .... 8...` is the snare on two and four.
 */
export type DrumLane = string

/** A pattern that a drummer goes round, or a fill that takes the place of the last bar of a section. */
export interface DrumPattern {
  readonly id: string
  /** as written: `4/4` */
  readonly metre: string
  /** ticks of one step: 120 for sixteenths, 160 for eighth triplets (which never swing), 240 for eighths */
  readonly ticksPerStep: Tick
  /** all of the same length: whole bars of the metre */
  readonly lanes: readonly DrumLane[]
}

/** A fill of one bar, and what is struck on the first step after it: `49=8` crash, `36=8` kick. */
export interface DrumFill extends DrumPattern {
  readonly nextBar: readonly DrumLane[]
}

/**
 * Which tones the chord player takes.
 *
 * - `rootless`: forms A and B and their kin, third or seventh at the bottom; the root is the bass player's
 * - `close`: the chord's own tones in close position
 * - `guide-tones`: the root under third and seventh, as a rhythm guitar plays four in a bar
 * - `strummed`: the chord's own tones in close position, as many as there are strings, the lowest once more on top
 * - `octaves`: two tones that name the chord, the lower in octaves about the other, as a montuno is played
 * - `broken`: a close chord one tone at a time, up and down, from the bottom in each bar and for each chord
 * - `fifth-and-sixth`: two notes, root with the fifth and with the sixth in turn
 * - `root-and-fifth`: two notes, root and fifth
 */
export type CompingVoicing =
  | 'rootless'
  | 'close'
  | 'guide-tones'
  | 'strummed'
  | 'octaves'
  | 'broken'
  | 'fifth-and-sixth'
  | 'root-and-fifth'

/** A chord rhythm with who plays it and how. */
export interface CompingRow {
  readonly id: string
  /** rhythm cell of whole bars: `1 2&. (3)`, `3/4: 1 2&`; a last `~` takes the chord of the next bar */
  readonly cell: string
  /** General MIDI program as sent, 0 to 127 */
  readonly program: number
  /** share of the slot that sounds, 0 to 1 */
  readonly length: number
  readonly velocity: number
  /** fewest and most tones of a chord */
  readonly voices: { readonly least: number; readonly most: number }
  readonly voicing: CompingVoicing
  /** sounding pitches of lowest and highest tone, both ends included */
  readonly register: { readonly lowest: number; readonly highest: number }
}

/** What a feel gives its band: the first row of each list is played where nothing else is asked for. */
export interface BandTable {
  readonly grooves: readonly DrumPattern[]
  readonly fills: readonly DrumFill[]
  readonly comping: readonly CompingRow[]
  /** General MIDI program of the bass as sent, 32 to 39 */
  readonly bassProgram: number
}
