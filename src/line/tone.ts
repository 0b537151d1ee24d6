import { degreeAt, semitonesOfNumber } from '../music/chord.ts'
import { semitonesOf } from '../music/degree.ts'
import { type Pitch, pitchClassOf } from '../music/pitch.ts'
import type { Sounding } from './rule.ts'
import type { TargetDegree } from './rule-blank.ts'

type Tone = Pick<Sounding, 'pitch' | 'chord'>

/** The root of its chord, or the bass where one is written. */
export function isRoot({ pitch, chord }: Tone): boolean {
  return pitchClassOf(pitch) === chord.bassPc
}

/** A tone of its chord; the bass of a slash chord is one. */
export function isChordTone(note: Tone): boolean {
  return isRoot(note) || degreeAt(note.chord, pitchClassOf(note.pitch)).standing === 'tone'
}

/** A note of its chord's scale or of the chord; the bass of a slash chord is one. */
export function isInScale(note: Tone): boolean {
  return isRoot(note) || degreeAt(note.chord, pitchClassOf(note.pitch)).standing !== 'chromatic'
}

/** One of these degrees of its chord. */
export function isDegree(note: Tone, degrees: readonly TargetDegree[]): boolean {
  const { pitch, chord } = note
  const above = pitchClassOf(pitch - chord.rootPc)
  return degrees.some(({ number, alter }) => {
    if (number === 1) return isRoot(note)
    const semitones = alter === undefined ? semitonesOfNumber(chord, number) : semitonesOf({ number, alter })
    return above === pitchClassOf(semitones)
  })
}

/** What a first or last note is to be: one of these degrees of its chord, or this pitch. */
export type NoteTarget = { readonly degrees: readonly TargetDegree[] } | { readonly pitch: Pitch }

/** True if a note is what it is to be. */
export function isTarget(note: Tone, target: NoteTarget): boolean {
  return 'pitch' in target ? note.pitch === target.pitch : isDegree(note, target.degrees)
}
