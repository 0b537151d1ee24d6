import type { PartName } from '../music/arrangement.ts'
import type { Pitch } from '../music/pitch.ts'

// Feels name the General MIDI sound that is musically right, and files carry it. What the bank lacks is played by its nearest.
// Source of the numbers: General MIDI System Level 1. Source of what stands in for what: our choice by kind of instrument.

/** Program that the bank lacks -> the one that plays in its stead. */
export const STAND_IN_PROGRAMS: ReadonlyMap<number, number> = new Map([
  // grand piano, second electric piano -> electric piano
  [0, 4],
  [5, 4],
  // steel guitar -> nylon guitar
  [25, 24],
  // overdriven and distorted guitar -> clean guitar
  [29, 27],
  [30, 27],
  // accordion, strings, brass: sounds that are held -> organ
  [21, 16],
  [48, 16],
  [61, 16],
])

/** Percussion key that the bank lacks -> the one that is struck in its stead. */
export const STAND_IN_KEYS: ReadonlyMap<Pitch, Pitch> = new Map([
  // timbales -> bongos
  [65, 60],
  [66, 61],
  // short guiro -> maracas
  [73, 70],
  // long guiro's kin, cabasa and maracas, are there; long guiro -> cabasa
  [74, 69],
])

/** Programs that the bank has, by who plays them. Drums and click: kits. */
export const BANK_PROGRAMS: Readonly<Record<PartName, readonly number[]>> = {
  bass: [32, 33, 34, 35, 36, 37, 38, 39],
  chords: [4, 16, 24, 26, 27],
  drums: [0, 32, 40],
  click: [0, 32, 40],
}

/** Who plays where nothing is named, or something that neither the bank nor its stand-ins have: finger bass, electric piano, standard kit. */
const USUAL_PROGRAMS: Readonly<Record<PartName, number>> = { bass: 33, chords: 4, drums: 0, click: 0 }

/**
 * The program of the bank that plays a General MIDI program.
 *
 * @param program  0 to 127; `undefined`: whatever is usual
 *
 * @example
 * bankProgramOf('chords', 25) // => 24
 */
export function bankProgramOf(part: PartName, program: number | undefined): number {
  const asked = program ?? USUAL_PROGRAMS[part]
  const stands = STAND_IN_PROGRAMS.get(asked) ?? asked
  return [asked, stands, USUAL_PROGRAMS[part]].find((one) => BANK_PROGRAMS[part].includes(one))!
}

/**
 * The key of the bank that plays a pitch.
 *
 * @example
 * bankKeyOf('drums', 65) // => 60
 */
export function bankKeyOf(part: PartName, pitch: Pitch): Pitch {
  return part === 'drums' || part === 'click' ? (STAND_IN_KEYS.get(pitch) ?? pitch) : pitch
}
