import type { ChordFamily } from './chord-qualities.ts'
import { type ChordSymbol, normaliseChordText } from './chord-symbol.ts'
import { type Degree, semitonesOf } from './degree.ts'
import type { Key } from './key.ts'
import { formatNoteName, type NoteName, pitchClassOfName } from './note-name.ts'
import { type PitchClass, pitchClassOf } from './pitch.ts'
import type { Scale } from './scale.ts'
import { chooseScale } from './scale-choice.ts'
import { scaleOf } from './scales.ts'

/** A chord symbol at its place in a chart: with the scale that its key and its successor give it. */
export interface Chord {
  readonly symbol: ChordSymbol
  readonly rootPc: PitchClass
  /** What the line calls root on a downbeat: the slash bass where there is one, else the root. */
  readonly bassPc: PitchClass
  /** The chord's tones, rising from the root. */
  readonly tones: readonly Degree[]
  readonly scale: Scale
  /** What each pitch class is against the chord, C first. */
  readonly standings: readonly Standing[]
}

/** What a pitch class is against a chord. */
export interface Standing {
  readonly degree: Degree
  readonly standing: 'tone' | 'scale' | 'chromatic'
  /** a scale note that clashes when held: pass through, not on a strong beat */
  readonly avoid: boolean
}

/** Names of what is neither a tone nor in the scale, by semitones above the root. */
const CHROMATIC: readonly Degree[] = [
  { number: 1, alter: 0 },
  { number: 2, alter: -1 },
  { number: 2, alter: 0 },
  { number: 3, alter: -1 },
  { number: 3, alter: 0 },
  { number: 4, alter: 0 },
  { number: 5, alter: -1 },
  { number: 5, alter: 0 },
  { number: 6, alter: -1 },
  { number: 6, alter: 0 },
  { number: 7, alter: -1 },
  { number: 7, alter: 0 },
]

/** A chord at its place. */
export function chordAt(
  symbol: ChordSymbol,
  place: { readonly key?: Key | undefined; readonly next?: ChordSymbol | undefined } = {},
): Chord {
  const rootPc = pitchClassOfName(symbol.root)
  const scale = chooseScale(symbol, place)
  return {
    symbol,
    rootPc,
    bassPc: symbol.bass ? pitchClassOfName(symbol.bass) : rootPc,
    tones: symbol.degrees,
    scale,
    standings: standingsOf(symbol, rootPc, scale),
  }
}

function standingsOf(symbol: ChordSymbol, rootPc: PitchClass, scale: Scale): readonly Standing[] {
  const above = (degrees: readonly Degree[], semitones: number) =>
    degrees.find((degree) => pitchClassOf(semitonesOf(degree)) === semitones)
  const lowTones = symbol.degrees.filter((degree) => degree.number < 8)
  const dominant = symbol.quality.family === 'dominant'
  return Array.from({ length: 12 }, (_, pitchClass): Standing => {
    const semitones = pitchClassOf(pitchClass - rootPc)
    const tone = above(symbol.degrees, semitones)
    if (tone) return { degree: tone, standing: 'tone', avoid: false }
    const inScale = above(scale.degrees, semitones)
    if (!inScale) return { degree: CHROMATIC[semitones]!, standing: 'chromatic', avoid: false }
    // A half-step above a tone of the first octave clashes, but for b9, #9 and b13 over a dominant ("avoid note").
    const clashes = above(lowTones, pitchClassOf(semitones - 1)) !== undefined
    const altered = dominant && [1, 3, 8].includes(semitones)
    // What the chord leaves open the scale supplies: b7 over a sixth chord belongs to it.
    const supplied = above(symbol.quality.open, semitones) !== undefined
    return { degree: inScale, standing: 'scale', avoid: clashes && !altered && !supplied }
  })
}

/** What a pitch class is against a chord: its degree, and whether it is a tone, in the scale, or neither. */
export function degreeAt(chord: Chord, pitchClass: PitchClass): Standing {
  return chord.standings[pitchClass]!
}

/** What a chord is at heart. */
export function familyOf(chord: Chord): ChordFamily {
  return chord.symbol.quality.family
}

/**
 * Semitones above the root of a plain number, 1 to 15: the chord's own tone of that number (5 over m7b5 is b5, 9 over 7b9 is b9);
 * on a suspended chord 3 is the 4, or the 2; else the degree of its scale, or of a neighbouring scale where that one lacks it. The
 * octave is the number's: 8 to 15 are 12 higher than 1 to 8.
 *
 * @throws RangeError  if the number is not 1 to 15
 */
export function semitonesOfNumber(chord: Chord, number: number): number {
  if (!(Number.isInteger(number) && number >= 1 && number <= 15))
    throw new RangeError(`a degree is a number from 1 to 15, not ${number}`)
  const octave = 12 * Math.floor((number - 1) / 7)
  const step = (number - 1) % 7
  const ofStep = (degrees: readonly Degree[]) => degrees.find((degree) => (degree.number - 1) % 7 === step)
  const inOctave = (degree: Degree) => octave + semitonesOf({ number: step + 1, alter: degree.alter })
  const tone = ofStep(chord.tones)
  if (tone) return inOctave(tone)
  if (step === 2 && familyOf(chord) === 'suspended') {
    const stand =
      chord.tones.find((degree) => degree.number === 4 || degree.number === 11) ?? chord.tones.find(isSecond)
    if (stand) return octave + pitchClassOf(semitonesOf(stand))
  }
  const { quality } = chord.symbol
  for (const scale of [chord.scale, ...[quality.scale, ...quality.scalesAlso].map((id) => scaleOf(id)!)]) {
    const degree = ofStep(scale.degrees)
    if (degree) return inOctave(degree)
  }
  return octave + semitonesOf({ number: step + 1, alter: 0 })
}

const isSecond = (degree: Degree): boolean => degree.number === 2 || degree.number === 9

/**
 * The chord over another bass, as a slash writes it.
 *
 * @returns  the chord itself where that is its bass
 */
export function overBass(chord: Chord, bass: NoteName): Chord {
  const bassPc = pitchClassOfName(bass)
  if (chord.bassPc === bassPc) return chord
  const { symbol, rootPc } = chord
  const plain = symbol.bass ? normaliseChordText(symbol.text) : symbol.text
  const above = symbol.bass ? plain.slice(0, plain.lastIndexOf('/')) : plain
  if (bassPc === rootPc) return { ...chord, symbol: { ...symbol, text: above, bass: undefined }, bassPc }
  return { ...chord, symbol: { ...symbol, text: `${above}/${formatNoteName(bass)}`, bass }, bassPc }
}
