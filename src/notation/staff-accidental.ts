import { type Key, signatureOf } from '../music/key.ts'
import { LETTERS, type NoteName, parseNoteName } from '../music/note-name.ts'

/** A printed accidental: double flat, flat, natural, sharp, double sharp. */
export type Accidental = 'bb' | 'b' | 'n' | '#' | '##'

const SIGNS: readonly Accidental[] = ['bb', 'b', 'n', '#', '##']

/**
 * The sign of an alteration of -2 to 2 semitones, the natural at 0.
 *
 * @example
 * signOf(-1) // => 'b'
 * signOf(0) // => 'n'
 */
export function signOf(alter: number): Accidental {
  const sign = SIGNS[alter + 2]
  if (!sign) throw new RangeError(`an accidental alters by -2 to 2 semitones, not ${alter}`)
  return sign
}

/** The sign of an alteration, where a natural needs none. */
export function signIfAny(alter: number): Accidental | undefined {
  return alter === 0 ? undefined : signOf(alter)
}

/** A note's place on the staff. */
export interface StaffPlace {
  readonly name: NoteName
  /** of the letter as it is written: C4 is the first ledger line above the bass staff */
  readonly octave: number
  /** steps above the middle line of the bass clef, D3 */
  readonly step: number
}

/** Steps from C0 up to the middle line of the bass clef, D3. */
const MIDDLE_LINE = 3 * 7 + 1

/**
 * Where a note is written.
 *
 * @param name           as it sounds, with its octave: `F#1`
 * @param octaveWritten  octaves from the written note to the sounding one: -1 for a bass, 0 where it sounds as written
 * @throws RangeError    if the name is none
 *
 * @example
 * staffPlaceOf('E1', -1).step // => -6
 * staffPlaceOf('D3', 0).step // => 0
 */
export function staffPlaceOf(name: string, octaveWritten: -1 | 0): StaffPlace {
  const match = /^(\D+)(-?\d+)$/.exec(name)
  const letter = match && parseNoteName(match[1]!)
  if (!letter) throw new RangeError(`a note's name is a letter with an octave, as F#1, not '${name}'`)
  const octave = Number(match[2]) - octaveWritten
  return { name: letter, octave, step: 7 * octave + LETTERS.indexOf(letter.letter) - MIDDLE_LINE }
}

/** What the signature and the accidentals of one bar say so far, each octave by itself. */
export class BarAccidentals {
  readonly #signature: readonly NoteName[]
  readonly #bar = new Map<number, number>()

  constructor(key: Key | undefined) {
    this.#signature = key ? signatureOf(key) : []
  }

  /** The accidental that a struck note needs; it holds to the end of the bar. No courtesy accidentals. */
  strike({ name, step }: StaffPlace): Accidental | undefined {
    const held = this.#bar.get(step) ?? this.#signature.find(({ letter }) => letter === name.letter)?.alter ?? 0
    if (held === name.alter) return undefined
    this.#bar.set(step, name.alter)
    return signOf(name.alter)
  }
}
