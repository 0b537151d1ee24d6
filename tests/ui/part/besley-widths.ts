import type { Measure } from '../../../src/ui/part/measure.ts'
import { SMUFL, TEXT_ACCIDENTAL } from '../../../src/ui/part/smufl.ts'

// Advance widths in em, as Chromium's canvas gives them for Besley at 600 and for the signs: a measure without a browser.
const LETTERS: Readonly<Record<string, number>> = {
  A: 0.887, B: 0.778, C: 0.822, D: 0.851, E: 0.782, F: 0.749, G: 0.892, N: 0.899, m: 0.972, a: 0.598, j: 0.324,
  s: 0.525, u: 0.692, d: 0.669, i: 0.362, 0: 0.617, 1: 0.547, 2: 0.612, 3: 0.556, 4: 0.574, 5: 0.555, 6: 0.584,
  7: 0.547, 8: 0.564, 9: 0.584, '/': 0.52, '×': 0.514, '°': 0.319, '(': 0.463, ')': 0.463, '+': 0.53, '.': 0.26,
} // biome-ignore format: a table

const SIGNS: Readonly<Record<string, number>> = {
  [TEXT_ACCIDENTAL.b]: 0.284,
  [TEXT_ACCIDENTAL.n]: 0.184,
  [TEXT_ACCIDENTAL['#']]: 0.31,
  [TEXT_ACCIDENTAL['##']]: 0.444,
  [TEXT_ACCIDENTAL.bb]: 0.524,
  [SMUFL.halfDiminished]: 0.474,
  [SMUFL.majorSeventh]: 0.559,
}

/** Measures by the table, letter by letter. */
export const besley: Measure = (text, face) => {
  let width = 0
  for (const letter of text) {
    const known = (face === 'signs' ? SIGNS : LETTERS)[letter]
    if (known === undefined) throw new RangeError(`no width for ${letter}`)
    width += known
  }
  return width
}
