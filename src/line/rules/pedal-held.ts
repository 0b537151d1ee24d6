import type { Key } from '../../music/key.ts'
import { letterAbove, type NoteName, nameUnder, pitchClassOfName } from '../../music/note-name.ts'
import { pitchClassOf } from '../../music/pitch.ts'
import type { Rule, RuleTest } from '../rule.ts'
import { NOTE_NAME, oneOf } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'

/** What a pedal is on: a note, or a degree of the key; and whether it may change its octave. */
export interface Pedal {
  readonly on: NoteName | PedalDegree
  readonly octaves: boolean
}

export type PedalDegree = 'root' | 'fifth'

const DEGREE = oneOf<PedalDegree>('the root or the fifth', 'fifth', { root: 'the root', fifth: 'the fifth' })

/** The note of a pedal in a key. */
export function pedalNote(on: Pedal['on'], { tonic }: Pick<Key, 'tonic'>): NoteName {
  if (typeof on !== 'string') return on
  if (on === 'root') return tonic
  return nameUnder(letterAbove(tonic.letter, 4), pitchClassOf(pitchClassOfName(tonic) + 7), 2)!
}

/** By itself a sentence about the key is read in C. */
const IN_C = { tonic: { letter: 'C', alter: 0 } } as const

/**
 * The bass stays on one note whatever the chords above it, which stand over it as slash chords do; on one pitch, or in octaves.
 * Source: common practice, no source.
 */
export const PEDAL_HELD: Rule<Pedal> = {
  id: 'pedal-held',
  phrasings: [
    phrasing(
      ['pedal|pedals on', NOTE_NAME],
      (on): Pedal => ({ on, octaves: false }),
      ({ on, octaves }) => (typeof on === 'string' || octaves ? undefined : [on]),
    ),
    phrasing(
      ['pedal|pedals on', NOTE_NAME, 'in octaves'],
      (on): Pedal => ({ on, octaves: true }),
      ({ on, octaves }) => (typeof on === 'string' || !octaves ? undefined : [on]),
    ),
    phrasing(
      ['pedal|pedals on', DEGREE, 'of the key'],
      (on): Pedal => ({ on, octaves: false }),
      ({ on, octaves }) => (typeof on !== 'string' || octaves ? undefined : [on]),
    ),
    phrasing(
      ['pedal|pedals on', DEGREE, 'of the key in octaves'],
      (on): Pedal => ({ on, octaves: true }),
      ({ on, octaves }) => (typeof on !== 'string' || !octaves ? undefined : [on]),
    ),
  ],
  defaultWeight: 6,
  test: ({ on, octaves }) => {
    const pitchClass = pitchClassOfName(pedalNote(on, IN_C))
    const isOn = ({ pitch }: { readonly pitch: number }): boolean => pitchClassOf(pitch) === pitchClass
    const onIt: RuleTest = { looksAt: 'note', allows: isOn }
    const inPlace: RuleTest = {
      looksAt: 'pair',
      allows: (from, to) => !isOn(from) || !isOn(to) || from.pitch === to.pitch,
    }
    return { looksAt: 'several', tests: octaves ? [onIt] : [onIt, inPlace] }
  },
  bass: ({ on }) => pedalNote(on, IN_C),
  keeps: [
    {
      value: { on: { letter: 'G', alter: 0 }, octaves: false },
      changes: 'Dm7 | G7',
      line: 'G1 G1 G1 G1 | G1 G1 G1 G1',
    },
    { value: { on: { letter: 'G', alter: 0 }, octaves: true }, changes: 'Dm7', line: 'G1 G2 G1 G1' },
    { value: { on: 'fifth', octaves: false }, changes: 'Dm7 Db7 | C', line: 'G2 G2 G2 G2 | G2 G2 G2 G2' },
    { value: { on: 'root', octaves: true }, changes: 'Dm7', line: 'C2 C3 C2 C2' },
  ],
  breaks: [
    { value: { on: { letter: 'G', alter: 0 }, octaves: false }, changes: 'Dm7', line: 'G1 G1 D2 G1' },
    { value: { on: { letter: 'G', alter: 0 }, octaves: false }, changes: 'Dm7', line: 'G1 G2 G1 G1' },
    { value: { on: { letter: 'G', alter: 0 }, octaves: true }, changes: 'Dm7', line: 'G1 G2 A2 G2' },
    { value: { on: 'fifth', octaves: false }, changes: 'C', line: 'C2 G2 C2 G2' },
    { value: { on: 'root', octaves: true }, changes: 'Dm7', line: 'D2 D2 C2 C2' },
  ],
}
