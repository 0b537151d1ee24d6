import { type Chord, degreeAt, semitonesOfNumber } from '../../music/chord.ts'
import { type Degree, formatDegree, semitonesOf } from '../../music/degree.ts'
import { type Pitch, pitchClassOf } from '../../music/pitch.ts'
import { spellPitch } from '../../music/spelling.ts'
import { type DegreeToken, formatToken, type TokenAccidental } from '../pattern.ts'

// What was heard in words: the chord that an arpeggio spells over another one, and degrees that no pattern knows as a pattern.

/** A chord whose arpeggio is played over another. */
export interface Superimposed {
  /** as it is written: `Fmaj7` */
  readonly chord: string
  /** on which degree of the chord that sounds: `b3` */
  readonly degree: string
  /** `Fmaj7 on the flat third` */
  readonly name: string
}

/** Arpeggios that are named, semitones over their root, seventh chords first. Suffixes as we print them. */
const ARPEGGIOS: readonly (readonly [suffix: string, semitones: readonly number[]])[] = [
  ['maj7', [0, 4, 7, 11]],
  ['7', [0, 4, 7, 10]],
  ['m7', [0, 3, 7, 10]],
  ['m7b5', [0, 3, 6, 10]],
  ['dim7', [0, 3, 6, 9]],
  ['m(maj7)', [0, 3, 7, 11]],
  ['maj7#5', [0, 4, 8, 11]],
  ['', [0, 4, 7]],
  ['m', [0, 3, 7]],
  ['dim', [0, 3, 6]],
  ['aug', [0, 4, 8]],
]

const ORDINALS = ['root', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh']
const HIGH_ORDINALS: Readonly<Record<number, string>> = { 9: 'ninth', 11: 'eleventh', 13: 'thirteenth' }

/**
 * A degree in words, with its accidental: over a minor chord the third is the flat third.
 *
 * @example
 * degreeInWords({ number: 3, alter: -1 }) // => 'the flat third'
 * degreeInWords({ number: 11, alter: 1 }) // => 'the sharp eleventh'
 */
export function degreeInWords({ number, alter }: Degree): string {
  const sign = ['double flat ', 'flat ', '', 'sharp ', 'double sharp '][alter + 2] ?? ''
  return `the ${sign}${HIGH_ORDINALS[number] ?? ORDINALS[(number - 1) % 7]}`
}

/**
 * The chord that notes spell over the one that sounds: at least three different tones, all of a seventh chord or a triad in thirds, its
 * own root the lowest of them. `undefined` where they spell none, or where that root is the root or the bass of the chord that sounds.
 *
 * @param pitches  those of one stretch under one chord, approaches into the next left out
 */
export function superimposedOn(chord: Chord, pitches: readonly Pitch[]): Superimposed | undefined {
  if (pitches.length < 3) return undefined
  const lowest = Math.min(...pitches)
  const rootPc = pitchClassOf(lowest)
  if (rootPc === chord.rootPc || rootPc === chord.bassPc) return undefined
  const heard = [...new Set(pitches.map((pitch) => pitchClassOf(pitch - lowest)))].sort((a, b) => a - b)
  const found = ARPEGGIOS.find(([, semitones]) => semitones.join() === heard.join())
  if (!found) return undefined
  const { degree } = degreeAt(chord, rootPc)
  const symbol = spellPitch(lowest, { chord }).replace(/-?\d+$/, '') + found[0]
  return { chord: symbol, degree: formatDegree(degree), name: `${symbol} on ${degreeInWords(degree)}` }
}

/** Accidentals of tokens by semitones from the major or perfect degree. */
const ACCIDENTALS: readonly TokenAccidental[] = ['bb', 'b', 'n', '#', '##']

/** Numbers and accidentals of twelve semitones where the chord has no degree of its own there. */
const BY_SEMITONES: readonly (readonly [number, number])[] = [
  [1, 0],
  [2, -1],
  [2, 0],
  [3, -1],
  [3, 0],
  [4, 0],
  [5, -1],
  [5, 0],
  [6, -1],
  [6, 0],
  [7, -1],
  [7, 0],
]

/**
 * Pitches under one chord as the tokens of a pattern, the chord's own degrees plain: read over the chord they sound these pitches
 * again, from the same root. That root is the one nearest under the first root or, without one, under the lowest pitch.
 */
export function tokensOver(chord: Chord, pitches: readonly Pitch[]): string {
  const root = pitches.find((pitch) => pitchClassOf(pitch) === chord.rootPc)
  const under = root ?? Math.min(...pitches)
  const anchor = under - pitchClassOf(under - chord.rootPc)
  return pitches.map((pitch) => formatToken(tokenAt(chord, pitch - anchor))).join(' ')
}

/** The token of a note so many semitones over the root. */
function tokenAt(chord: Chord, semitones: number): DegreeToken {
  const token = (number: number, octave: number, accidental: TokenAccidental | undefined): DegreeToken => ({
    kind: 'degree',
    next: false,
    octave,
    accidental,
    number,
  })
  // 1 to 15 without a mark where they reach, as a teacher would write them.
  for (const octave of octavesFrom(semitones)) {
    for (let number = 1; number <= 15; number++)
      if (semitonesOfNumber(chord, number) + 12 * octave === semitones && (number <= 7 || octave >= 0))
        return token(number, octave, undefined)
  }
  const [number, alter] = BY_SEMITONES[pitchClassOf(semitones)]!
  const octave = (semitones - semitonesOf({ number, alter })) / 12
  const accidental = ACCIDENTALS[alter + 2]!
  // The octave over the anchor has numbers of its own.
  return octave === 1 ? token(number + 7, 0, accidental) : token(number, octave, accidental)
}

/** No mark first, then the octave that a note is in. */
function octavesFrom(semitones: number): readonly number[] {
  const own = Math.floor(semitones / 12)
  return own < 0 ? [own, own + 1] : [0, own - 1, own]
}
