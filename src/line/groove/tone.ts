import { type Chord, degreeAt, familyOf } from '../../music/chord.ts'
import { pitchClassOf } from '../../music/pitch.ts'
import { type DegreeToken, type Pattern, semitonesOfToken } from '../pattern.ts'
import { patternOf } from '../patterns.ts'
import type { RoleKind } from './table.ts'

/** A degree of a pattern over a chord. */
export interface Tone {
  /** above the anchor, which is the bass of the chord in some octave */
  readonly semitones: number
  readonly kind: RoleKind
  /** the written accidental gave way to the chord */
  readonly adapted: boolean
}

/** The root, as a token. */
export const ROOT: DegreeToken = { kind: 'degree', next: false, octave: 0, accidental: undefined, number: 1 }

/** The root of the next chord, as a token. */
export const NEXT_ROOT: DegreeToken = { ...ROOT, next: true }

/**
 * A token over its chord. Colour above the fifth follows the chord: 6 over major and wherever the chord has one, b7 over minor; a raised 6 and 7 that lead
 * into a minor chord are lowered. A pattern over a family it was not written for, without a relative for it, gives up its
 * accidentals: each number is then the chord's own degree. A slash bass takes the place of the root, and of nothing else.
 *
 * @param foreign  the pattern was not written for this family of chord
 */
export function toneOf(token: DegreeToken, chord: Chord, foreign: boolean): Tone {
  const number = ((token.number - 1) % 7) + 1
  const octave = token.octave + Math.floor((token.number - 1) / 7)
  const adapted = adapt(token, number, chord, foreign)
  const semitones = semitonesOfToken(adapted ?? token, chord)
  const changed = adapted !== undefined && semitones !== semitonesOfToken(token, chord)
  const above = semitones - 12 * octave
  const kind = kindOf(number, token.accidental, octave, above, chord)
  const charged = changed && (token.accidental !== undefined || (foreign && number === 7))
  const isRoot = number === 1 && token.accidental === undefined
  // Over a slash bass the figure keeps its shape on the root nearby, and only the root itself gives way to the bass.
  const rootOverBass = pitchClassOf(chord.rootPc - chord.bassPc)
  const shift = isRoot ? 0 : rootOverBass >= 5 ? rootOverBass - 12 : rootOverBass
  const over = semitones + shift
  // Another tone that is the bass itself changes places with the root, which lies nearest to it.
  if (!isRoot && !token.next && rootOverBass !== 0 && pitchClassOf(over) === 0)
    return { semitones: over + (rootOverBass > 6 ? rootOverBass - 12 : rootOverBass), kind: '8', adapted: false }
  return { semitones: over, kind, adapted: charged }
}

/** The token in the chord's colour; `undefined` where it stays as written. */
function adapt(token: DegreeToken, number: number, chord: Chord, foreign: boolean): DegreeToken | undefined {
  const family = familyOf(chord)
  const as = (accidental: DegreeToken['accidental'], to = number): DegreeToken => ({
    ...token,
    accidental,
    number: token.number - number + to,
  })
  if (number === 7 && !token.next && hasSixthForSeventh(chord)) return as('n', 6)
  if (family === 'major' && number === 7 && (token.accidental === 'b' || (foreign && !token.accidental)))
    return as('n', 6)
  if (family === 'minor' && number === 6 && !token.accidental && !hasSixthForSeventh(chord)) return as('b', 7)
  const isLow = family === 'minor' || family === 'half-diminished'
  if (token.next && isLow && token.accidental === 'n' && (number === 6 || number === 7)) return as('b')
  if (foreign && token.accidental !== undefined) return as(undefined)
  return undefined
}

/** Whether a chord has a sixth where others have a seventh: C6, Fm6. */
function hasSixthForSeventh({ tones }: Chord): boolean {
  return tones.some(({ number }) => number === 6) && tones.every(({ number }) => number !== 7)
}

function kindOf(
  number: number,
  accidental: DegreeToken['accidental'],
  octave: number,
  above: number,
  chord: Chord,
): RoleKind {
  if (number === 1 && !accidental) return octave === 0 ? '1' : '8'
  return kindOfPitchClass(chord, chord.rootPc + above)
}

/** What a pitch class other than the root's is to a chord, as roles price it. */
export function kindOfPitchClass(chord: Chord, semitones: number): RoleKind {
  const pitchClass = pitchClassOf(semitones)
  const { degree, standing } = degreeAt(chord, pitchClass)
  const above = pitchClassOf(pitchClass - chord.rootPc)
  if (standing === 'chromatic') return above === 10 ? '7' : 'x'
  const number = ((degree.number - 1) % 7) + 1
  if (number === 1) return '8'
  if (number === 7 || above === 10) return '7'
  if (number === 6) return '6'
  if (standing === 'tone' && number === 5) return '5'
  // A suspended chord's fourth or second stands in its third's place.
  if (standing === 'tone' && (number === 3 || familyOf(chord) === 'suspended')) return '3'
  return '4'
}

/** The pattern that is played for `pattern` over a chord: itself or its relative, and whether even that is foreign to it. */
export function relativeOf(
  pattern: Pattern,
  chord: Chord,
  relatives: readonly { readonly pattern: string; readonly instead: string; readonly families: readonly string[] }[],
): { readonly pattern: Pattern; readonly foreign: boolean } {
  const family = familyOf(chord)
  if (suits(pattern, family)) return { pattern, foreign: false }
  const row = relatives.find((one) => one.pattern === pattern.id && one.families.includes(family))
  const instead = row && patternOf(row.instead)
  return instead ? { pattern: instead, foreign: !suits(instead, family) } : { pattern, foreign: true }
}

function suits(pattern: Pattern, family: string): boolean {
  return pattern.families === 'any' || pattern.families.some((one) => one === family)
}
