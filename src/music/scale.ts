import { type Degree, semitonesOf } from './degree.ts'
import { pitchClassOf } from './pitch.ts'

/** A scale by its degrees over the root, rising. */
export interface Scale {
  readonly id: string
  readonly name: string
  readonly degrees: readonly Degree[]
}

/** The pitch classes of degrees above their root, as bits: bit n for n semitones. */
export function bitsOf(degrees: readonly Degree[]): number {
  return degrees.reduce((bits, degree) => bits | (1 << pitchClassOf(semitonesOf(degree))), 0)
}
