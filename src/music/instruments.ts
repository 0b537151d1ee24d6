import type { Instrument } from './instrument.ts'
import type { Pitch } from './pitch.ts'

/** E1 A1 D2 G2, the standard. */
const STANDARD: readonly Pitch[] = [28, 33, 38, 43]
/** B0 E1 A1 D2 G2 */
const LOW_B: readonly Pitch[] = [23, ...STANDARD]

/** Lengths of strings in tenths of a millimetre: 34 and 30 inches, and 1060 mm on a double bass. Common practice, no source. */
const LONG = 8636
const SHORT = 7620
const DOUBLE_BASS = 10600

type Row = readonly [id: string, name: string, open: readonly Pitch[], frets: number]

/**
 * Fretted and fretless basses: id, name, open strings low to high as MIDI notes, frets. Tunings: common practice, no source;
 * pitches by equal temperament, A4 = 69 = 440 Hz (ISO 16).
 */
const GUITARS: readonly Row[] = [
  ['four-string', 'four-string bass', STANDARD, 20],
  ['four-string-21', 'four-string bass, 21 frets', STANDARD, 21],
  ['four-string-24', 'four-string bass, 24 frets', STANDARD, 24],
  ['four-string-fretless', 'four-string fretless bass', STANDARD, 20],
  ['four-string-short-scale', 'four-string short-scale bass', STANDARD, 19],
  ['four-string-drop-d', 'four-string bass, drop D', [26, 33, 38, 43], 20],
  ['four-string-bead', 'four-string bass, B E A D', [23, 28, 33, 38], 20],
  ['four-string-half-step-down', 'four-string bass, half a step down', [27, 32, 37, 42], 20],
  ['four-string-whole-step-down', 'four-string bass, a whole step down', [26, 31, 36, 41], 20],
  ['five-string', 'five-string bass, low B', LOW_B, 20],
  ['five-string-24', 'five-string bass, low B, 24 frets', LOW_B, 24],
  ['five-string-high-c', 'five-string bass, high C', [...STANDARD, 48], 24],
  ['five-string-fretless', 'five-string fretless bass', LOW_B, 24],
  ['six-string', 'six-string bass', [...LOW_B, 48], 24],
  ['tenor', 'four-string bass, tenor tuning', [33, 38, 43, 48], 24],
  ['piccolo', 'four-string bass, piccolo tuning', [40, 45, 50, 55], 24],
]

/** Double basses, with half steps to two octaves over the open string. The hand plays 1 2 4. */
const DOUBLE_BASSES: readonly Row[] = [
  ['double-bass', 'double bass, orchestra tuning', STANDARD, 24],
  ['double-bass-low-c', 'double bass with low C extension', [24, 33, 38, 43], 24],
  ['double-bass-five-string', 'double bass, five strings, low B', LOW_B, 24],
  ['double-bass-solo', 'double bass, solo tuning', [30, 35, 40, 45], 24],
]

/** All instruments, the standard four-string first. A bass sounds an octave below what is written, a piccolo-tuned one as written. */
export const INSTRUMENTS: readonly Instrument[] = [
  ...GUITARS.map((row) =>
    instrumentIn(row, row[0] === 'four-string-short-scale' ? SHORT : LONG, 'one-finger-per-fret'),
  ),
  ...DOUBLE_BASSES.map((row) => instrumentIn(row, DOUBLE_BASS, 'three-finger')),
]

function instrumentIn([id, name, open, frets]: Row, scale: number, hand: Instrument['hand']): Instrument {
  return { id, name, open, frets, scale, hand, octaveWritten: id === 'piccolo' ? 0 : -1 }
}

/** The instrument with an id; `undefined` if there is none. */
export function instrumentOf(id: string): Instrument | undefined {
  return INSTRUMENTS.find((instrument) => instrument.id === id)
}
