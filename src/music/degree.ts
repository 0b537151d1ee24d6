/**
 * A tone's place relative to the root of its chord: `1 b3 #5 bb7 9 #11 b13`.
 *
 * Without an accidental it is the major or perfect interval; 8 to 15 are 1 to 8 an octave higher.
 */
export interface Degree {
  /** 1 to 15 */
  readonly number: number
  /** semitones by which the accidental moves it, -2 (bb) to 2 (##) */
  readonly alter: number
}

/** Semitones of the unaltered degrees 1 to 7: the major scale. */
const NATURAL = [0, 2, 4, 5, 7, 9, 11]

const ACCIDENTALS = new Map([
  ['bb', -2],
  ['b', -1],
  ['', 0],
  ['#', 1],
  ['##', 2],
])

/**
 * Reads a degree as it is written, `b3` or `#11`; `undefined` if it is not one.
 *
 * @example
 * parseDegree('b13') // => { number: 13, alter: -1 }
 * parseDegree('16') // => undefined
 */
export function parseDegree(text: string): Degree | undefined {
  const match = /^(bb|b|##|#)?(\d{1,2})$/.exec(text)
  if (!match) return undefined
  const number = Number(match[2])
  if (number < 1 || number > 15) return undefined
  return { number, alter: ACCIDENTALS.get(match[1] ?? '') ?? 0 }
}

/**
 * Writes a degree in ASCII.
 *
 * @example
 * formatDegree({ number: 7, alter: -2 }) // => 'bb7'
 */
export function formatDegree(degree: Degree): string {
  const sign = degree.alter < 0 ? 'b' : '#'
  return sign.repeat(Math.abs(degree.alter)) + degree.number
}

/**
 * Semitones above the root, 0 or more but for a lowered 1 and `bb2`.
 *
 * @example
 * semitonesOf({ number: 9, alter: -1 }) // => 13
 */
export function semitonesOf(degree: Degree): number {
  const steps = degree.number - 1
  return NATURAL[steps % 7]! + 12 * Math.floor(steps / 7) + degree.alter
}
