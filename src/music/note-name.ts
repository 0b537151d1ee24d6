import { type PitchClass, pitchClassOf } from './pitch.ts'

/** A note's name without its octave: a letter and how far accidentals move it, -3 to 3 semitones. */
export interface NoteName {
  readonly letter: Letter
  readonly alter: number
}

export type Letter = 'A' | 'B' | 'C' | 'D' | 'E' | 'F' | 'G'

/** The letters in the order of an octave, which begins at C. */
export const LETTERS: readonly Letter[] = ['C', 'D', 'E', 'F', 'G', 'A', 'B']

/** Pitch classes of the letters without accidentals. */
const NATURAL: Readonly<Record<Letter, PitchClass>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 }

/**
 * Reads a note name with up to two accidentals, `x` for a double sharp; `undefined` if it is none.
 *
 * @example
 * parseNoteName('Bb') // => { letter: 'B', alter: -1 }
 * parseNoteName('Fx') // => { letter: 'F', alter: 2 }
 * parseNoteName('H') // => undefined
 */
export function parseNoteName(text: string): NoteName | undefined {
  const match = /^([A-G])(##|x|bb|#|b)?$/.exec(text)
  if (!match) return undefined
  const sign = match[2] ?? ''
  const alter = sign === 'x' ? 2 : sign.startsWith('b') ? -sign.length : sign.length
  return { letter: match[1] as Letter, alter }
}

/**
 * Writes a note name in ASCII.
 *
 * @example
 * formatNoteName({ letter: 'F', alter: 2 }) // => 'F##'
 */
export function formatNoteName(name: NoteName): string {
  return name.letter + (name.alter < 0 ? 'b' : '#').repeat(Math.abs(name.alter))
}

/** The pitch class that a name sounds. */
export function pitchClassOfName(name: NoteName): PitchClass {
  return pitchClassOf(NATURAL[name.letter] + name.alter)
}

/**
 * The name of a pitch class under a given letter; `undefined` if it would need more than `most` accidentals.
 *
 * @example
 * nameUnder('D', 1, 2) // => { letter: 'D', alter: -1 }
 */
export function nameUnder(letter: Letter, pitchClass: PitchClass, most: number): NoteName | undefined {
  const up = pitchClassOf(pitchClass - NATURAL[letter])
  const alter = up > 6 ? up - 12 : up
  return Math.abs(alter) <= most ? { letter, alter } : undefined
}

/** The letter so many letters above another; below where `steps` is negative. */
export function letterAbove(letter: Letter, steps: number): Letter {
  return LETTERS[(((LETTERS.indexOf(letter) + steps) % 7) + 7) % 7]!
}
