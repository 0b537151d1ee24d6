import type { PrintedSymbol } from '../../notation/part.ts'
import type { Face, Measure } from './measure.ts'
import { SMUFL, TEXT_ACCIDENTAL } from './smufl.ts'

/** A piece of a chord symbol in one face and size. Lengths in em of the symbol's size. */
export interface ChordRun {
  readonly text: string
  readonly face: Face
  readonly size: number
  /** above the base line */
  readonly rise: number
  /** before the run, after the run before it */
  readonly lead: number
  /** of the suffix: set narrower where room is short */
  readonly suffix: boolean
}

/** A run with its place: its left edge from the symbol's, in em; `narrow` is how much it is narrowed in x. */
export interface PlacedRun extends ChordRun {
  readonly x: number
  readonly narrow: number
}

const NO_CHORD_SIZE = 0.82
const MINOR_SIZE = 0.86
const DIMINISHED_SIZE = 0.78
const SUFFIX_SIZE = 0.74
const SUFFIX_RISE = 0.3

/** Signs of a suffix that the text face lacks. */
const SUFFIX_SIGN: Readonly<Record<string, string>> = {
  '♭': TEXT_ACCIDENTAL.b,
  '♮': TEXT_ACCIDENTAL.n,
  '♯': TEXT_ACCIDENTAL['#'],
  ø: SMUFL.halfDiminished,
  Δ: SMUFL.majorSeventh,
}

/** The runs of a chord symbol, left to right: root, accidental, m, what is raised, bass. */
export function chordRuns(symbol: PrintedSymbol): readonly ChordRun[] {
  const runs: ChordRun[] = []
  const add = (text: string, face: Face, size: number, rise: number, lead: number, suffix = false) => {
    runs.push({ text, face, size, rise, lead, suffix })
  }
  if (symbol.root === 'N.C.') {
    add('N.C.', 'part', NO_CHORD_SIZE, 0, 0)
    return runs
  }
  add(symbol.root, 'part', 1, 0, 0)
  if (symbol.accidental) add(TEXT_ACCIDENTAL[symbol.accidental], 'signs', 1, 0, -0.02)
  if (symbol.minor) add('m', 'part', MINOR_SIZE, 0, 0.02)
  const pieces = symbol.suffix.split(/([♭♮♯øΔ°])/).filter((piece) => piece !== '')
  pieces.forEach((piece, index) => {
    const sign = SUFFIX_SIGN[piece]
    if (piece === '°') add(piece, 'part', DIMINISHED_SIZE, 0.1, symbol.accidental ? 0.09 : 0.02, true)
    else if (sign) add(sign, 'signs', SUFFIX_SIZE, SUFFIX_RISE, 0.04, true)
    else add(piece, 'part', SUFFIX_SIZE, SUFFIX_RISE, index === 0 ? 0.05 : 0, true)
  })
  if (symbol.bass) {
    add(`/${symbol.bass.letter}`, 'part', 1, 0, 0.02)
    if (symbol.bass.accidental) add(TEXT_ACCIDENTAL[symbol.bass.accidental], 'signs', 1, 0, -0.02)
  }
  return runs
}

/** The runs of a symbol at their places, and its width in em. `narrow` scales the suffix in x: 1, or less where room is short. */
export function placeRuns(
  symbol: PrintedSymbol,
  measure: Measure,
  narrow = 1,
): { runs: readonly PlacedRun[]; width: number } {
  let x = 0
  const runs = chordRuns(symbol).map((run) => {
    const scale = run.suffix ? narrow : 1
    x += run.lead
    const placed = { ...run, x, narrow: scale }
    x += measure(run.text, run.face) * run.size * scale
    return placed
  })
  return { runs, width: x }
}
