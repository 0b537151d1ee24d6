/**
 * The part of a string that sounds at each fret, 2^(−fret/12) in hundred-millionths: each fret divides what is left by the twelfth root of two
 * (common physics of strings). Typed in, so that it is the same on every machine.
 */
const SOUNDING: readonly number[] = [
  100_000_000, 94_387_431, 89_089_872, 84_089_642, 79_370_053, 74_915_354, 70_710_678, 66_741_993, 62_996_052,
  59_460_356, 56_123_102, 52_973_155, 50_000_000, 47_193_716, 44_544_936, 42_044_821, 39_685_026, 37_457_677,
  35_355_339, 33_370_996, 31_498_026, 29_730_178, 28_061_551, 26_486_577, 25_000_000,
]

/**
 * How far a fret is from the nut, in whole tenths of a millimetre.
 *
 * @param scale  length of the open string, in tenths of a millimetre
 * @throws RangeError  if there is no such fret between 0 and 24
 * @example
 * fromNut(8636, 5) // => 2166
 */
export function fromNut(scale: number, fret: number): number {
  const sounding = SOUNDING[fret]
  if (sounding === undefined) throw new RangeError(`fret ${fret}, expected 0 to ${SOUNDING.length - 1}`)
  return Math.round((scale * (SOUNDING[0]! - sounding)) / SOUNDING[0]!)
}
