/** A MIDI note number, sounding: 28 is E1, the low string of a four-string bass, 60 is C4. */
export type Pitch = number

/** A pitch without its octave: 0 is C, 11 is B. */
export type PitchClass = number

/**
 * The pitch class of a pitch or of any whole number of semitones above C.
 *
 * @example
 * pitchClassOf(28) // => 4
 * pitchClassOf(-1) // => 11
 */
export function pitchClassOf(semitones: number): PitchClass {
  return ((semitones % 12) + 12) % 12
}
