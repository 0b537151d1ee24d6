import { type Chord, degreeAt } from './chord.ts'
import { type Degree, semitonesOf } from './degree.ts'
import { type Key, signatureOf } from './key.ts'
import {
  formatNoteName,
  LETTERS,
  letterAbove,
  type NoteName,
  nameUnder,
  parseNoteName,
  pitchClassOfName,
} from './note-name.ts'
import { type Pitch, type PitchClass, pitchClassOf } from './pitch.ts'

/** Where a pitch stands, for its name. */
export interface SpellingPlace {
  readonly chord: Chord
  readonly key?: Key | undefined
  /** what it is, if that is not what it is to the chord */
  readonly as?: SpelledAs | undefined
}

/**
 * A note on its way to another, or a written degree of the chord. In a double chromatic both notes have the arrival as target: Bb
 * and B into C, C# and C into B.
 */
export type SpelledAs =
  | { readonly kind: 'approach'; readonly target: Pitch; readonly targetName: string }
  | { readonly kind: 'degree'; readonly degree: Degree }

/**
 * The name of a pitch with its octave, `F#1`: C4 is 60, and a name keeps the octave of its letter (Cb4 is 59, B#3 is 60).
 *
 * Tones of the chord and notes of its scale take the letter of their degree, a slash bass the name that was typed. A note on its way
 * takes the letter beside its target on the side it comes from: sharps rise, flats fall. A written degree takes the letter of its
 * number. What then would be E#, B#, Cb, Fb or doubly altered is the plain key instead, unless the signature of the key holds it.
 * Where a tone of the chord would be triply altered the whole chord is spelt on the enharmonic root.
 *
 * Source: sharps rising and flats falling, as handbooks spell the chromatic scale; the rest is common practice, no source.
 *
 * @throws RangeError  if the target's name is no note name or does not sound the target
 */
export function spellPitch(pitch: Pitch, { chord, key, as }: SpellingPlace): string {
  const pitchClass = pitchClassOf(pitch)
  const name =
    as?.kind === 'approach'
      ? towards(pitch, as.target, as.targetName, key)
      : inChord(pitchClass, chord, key, as?.degree)
  return formatNoteName(name) + octaveOf(pitch, name)
}

/** The octave number of a pitch under a name. */
function octaveOf(pitch: Pitch, name: NoteName): number {
  return Math.floor((pitch - name.alter) / 12) - 1
}

function inChord(pitchClass: PitchClass, chord: Chord, key: Key | undefined, written: Degree | undefined): NoteName {
  const { bass } = chord.symbol
  if (bass && pitchClassOfName(bass) === pitchClass) return bass
  const { degree, standing } = degreeAt(chord, pitchClass)
  const root = rootOf(chord)
  if (standing !== 'chromatic' && (!written || stepOf(written) === stepOf(degree)))
    return nameUnder(letterAbove(root.letter, stepOf(degree)), pitchClass, 2) ?? plainName(pitchClass, degree.alter)
  const free = written ?? degree
  return simplified(letterAbove(root.letter, stepOf(free)), pitchClass, free.alter, key)
}

/** Letters above the root. */
const stepOf = (degree: Degree): number => (degree.number - 1) % 7

/** The root as typed, or its plainer twin if a tone would need three accidentals. */
function rootOf({ symbol, rootPc, tones }: Chord): NoteName {
  const { root } = symbol
  const bears = tones.every((tone) => {
    const pitchClass = pitchClassOf(rootPc + semitonesOf(tone))
    return nameUnder(letterAbove(root.letter, stepOf(tone)), pitchClass, 2) !== undefined
  })
  return bears ? root : plainName(rootPc, root.alter)
}

/** Letters between a target and a note so many semitones from it: seconds, thirds, and the perfect fifth and fourth. */
const LETTERS_OF_INTERVAL = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6]

function towards(pitch: Pitch, target: Pitch, targetName: string, key: Key | undefined): NoteName {
  const aim = parseNoteName(targetName.replace(/-?\d+$/, ''))
  if (!aim || pitchClassOfName(aim) !== pitchClassOf(target))
    throw new RangeError(`the name of pitch ${target} cannot be '${targetName}'`)
  const distance = Math.abs(pitch - target)
  const letters = LETTERS_OF_INTERVAL[distance % 12]!
  const side = Math.sign(pitch - target)
  return simplified(letterAbove(aim.letter, side * letters), pitchClassOf(pitch), -side, key)
}

/** The name under a letter; the plain key if that would be a white key with an accidental, or two accidentals, outside the signature. */
function simplified(
  letter: NoteName['letter'],
  pitchClass: PitchClass,
  leaning: number,
  key: Key | undefined,
): NoteName {
  const name = nameUnder(letter, pitchClass, 2)
  if (!name) return plainName(pitchClass, leaning)
  const plain = plainName(pitchClass, name.alter)
  if (name.alter === 0 || (plain.alter !== 0 && Math.abs(name.alter) < 2)) return name
  const signed = key && signatureOf(key).some((held) => held.letter === letter && held.alter === name.alter)
  return signed ? name : plain
}

/** The name with the fewest accidentals; of two, the sharp where `leaning` is above 0, else the flat. */
function plainName(pitchClass: PitchClass, leaning: number): NoteName {
  const names = LETTERS.map((letter) => nameUnder(letter, pitchClass, 1)).filter((name) => name !== undefined)
  return names.find((name) => name.alter === 0) ?? names.find((name) => name.alter > 0 === leaning > 0)!
}
