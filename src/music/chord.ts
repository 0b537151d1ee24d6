import type { ChordSymbol } from './chord-symbol.ts'
import type { Degree } from './degree.ts'
import type { PitchClass } from './pitch.ts'
import type { Scale } from './scale.ts'

/** A chord symbol at its place in a chart: with the scale that its key and its successor give it. */
export interface Chord {
  readonly symbol: ChordSymbol
  readonly rootPc: PitchClass
  /** What the line calls root on a downbeat: the slash bass where there is one, else the root. */
  readonly bassPc: PitchClass
  /** The chord's tones, rising from the root. */
  readonly tones: readonly Degree[]
  readonly scale: Scale
}
