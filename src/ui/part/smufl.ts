import type { Accidental } from '../../notation/part.ts'

/** Signs of the music font by their code points. Source: Standard Music Font Layout 1.4, glyph tables. */
export const SMUFL = {
  bassClef: '\u{e062}',
  flag8Up: '\u{e240}',
  wholeHead: '\u{e0a2}',
  halfHead: '\u{e0a3}',
  blackHead: '\u{e0a4}',
  crossHead: '\u{e0a9}',
  halfDiminished: '\u{e871}',
  majorSeventh: '\u{e873}',
  accentAbove: '\u{e4a0}',
  accentBelow: '\u{e4a1}',
  staccatoAbove: '\u{e4a2}',
  staccatoBelow: '\u{e4a3}',
  tenutoAbove: '\u{e4a4}',
  tenutoBelow: '\u{e4a5}',
} as const

/** Accidentals before a head and in a signature. */
export const STAFF_ACCIDENTAL: Readonly<Record<Accidental, string>> = {
  bb: '\u{e264}',
  b: '\u{e260}',
  n: '\u{e261}',
  '#': '\u{e262}',
  '##': '\u{e263}',
}

/** Accidentals in chord symbols and degrees: drawn to stand beside letters of the same size. */
export const TEXT_ACCIDENTAL: Readonly<Record<Accidental, string>> = {
  bb: '\u{ed64}',
  b: '\u{ed60}',
  n: '\u{ed61}',
  '#': '\u{ed62}',
  '##': '\u{ed63}',
}

/**
 * A number in the figures of a metre.
 *
 * @example
 * metreFigures(12) // => '\ue081\ue082'
 */
export function metreFigures(number: number): string {
  return [...String(number)].map((figure) => String.fromCodePoint(0xe080 + Number(figure))).join('')
}
