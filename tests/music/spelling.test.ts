import { describe, expect, test } from 'vitest'
import { type Degree, parseDegree, semitonesOf } from '../../src/music/degree.ts'
import { type Key, parseKey } from '../../src/music/key.ts'
import { parseNoteName, pitchClassOfName } from '../../src/music/note-name.ts'
import { spellPitch } from '../../src/music/spelling.ts'
import { chordOf } from '../support/chord-form.ts'

const keyOf = (text: string | undefined): Key | undefined => (text === undefined ? undefined : parseKey(text))

const withoutOctave = (name: string): string => name.replace(/-?\d+$/, '')

/** Names of the tones of a chord, rising. */
function tonesOf(text: string): string {
  const chord = chordOf(text)
  return chord.tones
    .map((tone) => withoutOctave(spellPitch(36 + chord.rootPc + semitonesOf(tone), { chord })))
    .join(' ')
}

/** A note beside a target in the octave of the bass, and the second note of a double chromatic before it. */
function into(targetName: string, semitones: number, keyName?: string): string {
  const target = 36 + pitchClassOfName(parseNoteName(targetName)!)
  const place = {
    chord: chordOf('C'),
    key: keyOf(keyName),
    as: { kind: 'approach', target, targetName: `${targetName}2` },
  } as const
  return withoutOctave(spellPitch(target + semitones, place))
}

describe('tones of a chord take the letters of their degrees', () => {
  // symbol, tones
  test.each([
    ['Ebm7b5', 'Eb Gb Bbb Db'],
    ['F#dim7', 'F# A C Eb'],
    ['Ab7#9', 'Ab C Eb Gb B'],
    ['Eb7#9', 'Eb G Bb Db F#'],
    ['E7#9', 'E G# B D F##'],
    ['C7#9', 'C E G Bb D#'],
    ['Bdim7', 'B D F Ab'],
    ['Bbdim7', 'Bb Db Fb Abb'],
    ['Cdim7', 'C Eb Gb Bbb'],
    ['Abdim7', 'Ab Cb Ebb Gbb'],
    ['Dbm7', 'Db Fb Ab Cb'],
    ['Gbmaj7', 'Gb Bb Db F'],
    ['Cbmaj7', 'Cb Eb Gb Bb'],
    ['F#7', 'F# A# C# E'],
    ['C#maj7', 'C# E# G# B#'],
    ['G#m7b5', 'G# B D F#'],
    ['D#7', 'D# F## A# C#'],
    ['Baug', 'B D# F##'],
    ['Ebaug', 'Eb G B'],
    ['Bbmaj7#11', 'Bb D F A E'],
    ['Db7#11', 'Db F Ab Cb G'],
    ['G7b9', 'G B D F Ab'],
    ['G7alt', 'G B Db D# F Ab A#'],
    ['B7b13', 'B D# A G'],
    ['Fm(maj7)', 'F Ab C E'],
    ['Bbm6', 'Bb Db F G'],
    ['Bbbmaj7', 'Bbb Db Fb Ab'],
    ['F##dim7', 'F## A# C# E'],
  ])('%s is %s', (symbol, names) => {
    expect(tonesOf(symbol)).toBe(names)
  })
})

describe('a note on its way takes the letter beside its target', () => {
  // side, target, key, name
  test.each([
    ['below', 'G', '', 'F#'],
    ['below', 'C', '', 'B'],
    ['below', 'F', '', 'E'],
    ['below', 'Bb', '', 'A'],
    ['below', 'Eb', '', 'D'],
    ['below', 'Ab', '', 'G'],
    ['below', 'D', '', 'C#'],
    ['below', 'E', '', 'D#'],
    ['below', 'A', '', 'G#'],
    ['below', 'B', '', 'A#'],
    ['below', 'F#', '', 'F'],
    ['below', 'C#', '', 'C'],
    ['below', 'G#', '', 'G'],
    ['below', 'Gb', '', 'F'],
    ['below', 'Db', '', 'C'],
    ['above', 'G', '', 'Ab'],
    ['above', 'C', '', 'Db'],
    ['above', 'D', '', 'Eb'],
    ['above', 'F', '', 'Gb'],
    ['above', 'A', '', 'Bb'],
    ['above', 'E', '', 'F'],
    ['above', 'B', '', 'C'],
    ['above', 'F#', '', 'G'],
    ['above', 'C#', '', 'D'],
    ['above', 'Bb', '', 'B'],
    ['above', 'Eb', '', 'E'],
    ['above', 'Ab', '', 'A'],
    ['above', 'Db', '', 'D'],
    ['above', 'Gb', '', 'G'],
    ['below', 'F#', ' in F# major', 'E#'],
    ['below', 'C#', ' in C# major', 'B#'],
    ['above', 'Bb', ' in Gb major', 'Cb'],
    ['above', 'Eb', ' in Cb major', 'Fb'],
  ])('%s into %s%s comes from %s', (side, target, key, expected) => {
    expect(into(target, side === 'below' ? -1 : 1, key.replace(' in ', '') || undefined)).toBe(expected)
  })
})

describe('both notes of a double chromatic take their letters from the arrival', () => {
  test.each([
    ['below', 'C', 'Bb B'],
    ['below', 'F', 'Eb E'],
    ['below', 'G', 'F F#'],
    ['below', 'E', 'D D#'],
    ['below', 'Bb', 'Ab A'],
    ['below', 'F#', 'E F'],
    ['above', 'C', 'D Db'],
    ['above', 'G', 'A Ab'],
    ['above', 'B', 'C# C'],
    ['above', 'E', 'F# F'],
    ['above', 'Bb', 'C B'],
    ['above', 'Eb', 'F E'],
  ])('%s into %s by %s', (side, target, expected) => {
    const sign = side === 'below' ? -1 : 1
    expect(`${into(target, 2 * sign)} ${into(target, sign)}`).toBe(expected)
  })
})

describe('the ways into a target are spelt', () => {
  // way, semitones from the target, names into C, G, F, Bb, Eb, E, F#
  test.each([
    ['half-step below', [-1], 'B | F# | E | A | D | D# | F'],
    ['half-step above', [1], 'Db | Ab | Gb | B | E | F | G'],
    ['whole step below', [-2], 'Bb | F | Eb | Ab | Db | D | E'],
    ['whole step above', [2], 'D | A | G | C | F | F# | G#'],
    ['fifth above (dominant)', [7], 'G | D | C | F | Bb | B | C#'],
    ['fourth below (dominant, lower octave)', [-5], 'G | D | C | F | Bb | B | C#'],
    ['double chromatic from below', [-2, -1], 'Bb B | F F# | Eb E | Ab A | Db D | D D# | E F'],
    ['double chromatic from above', [2, 1], 'D Db | A Ab | G Gb | C B | F E | F# F | G# G'],
    ['chromatic enclosure', [1, -1], 'Db B | Ab F# | Gb E | B A | E D | F D# | G F'],
    ['fifth above, then half-step below', [7, -1], 'G B | D F# | C E | F A | Bb D | B D# | C# F'],
  ])('%s', (_, semitones, names) => {
    const targets = ['C', 'G', 'F', 'Bb', 'Eb', 'E', 'F#']
    expect(targets.map((target) => semitones.map((at) => into(target, at)).join(' ')).join(' | ')).toBe(names)
  })
})

test('the fifth above a target and the fourth below it are perfect', () => {
  expect(into('F#', 7)).toBe('C#')
  expect(into('Bb', 7)).toBe('F')
  expect(into('Ab', -5)).toBe('Eb')
  expect(into('B', -5)).toBe('F#')
})

test('the octave is that of the letter: Cb4 lies a half-step below C4, B#3 is C4', () => {
  expect(spellPitch(28, { chord: chordOf('E7') })).toBe('E1')
  expect(spellPitch(60, { chord: chordOf('Cmaj7') })).toBe('C4')
  expect(spellPitch(59, { chord: chordOf('Abm') })).toBe('Cb4')
  expect(spellPitch(60, { chord: chordOf('C#maj7') })).toBe('B#3')
  expect(spellPitch(21, { chord: chordOf('Am') })).toBe('A0')
  expect(spellPitch(11, { chord: chordOf('G') })).toBe('B-1')
})

test('notes of the scale take the letters of its degrees', () => {
  const namesOver = (symbol: string, key?: string): string => {
    const at = chordOf(symbol, keyOf(key))
    return at.scale.degrees
      .map((degree) => withoutOctave(spellPitch(36 + at.rootPc + semitonesOf(degree), { chord: at })))
      .join(' ')
  }
  expect(namesOver('Dm7')).toBe('D E F G A B C')
  expect(namesOver('Ebm7')).toBe('Eb F Gb Ab Bb C Db')
  expect(namesOver('Gb7', 'Cb')).toBe('Gb Ab Bb Cb Db Eb Fb')
  expect(namesOver('F#maj7', 'F#')).toBe('F# G# A# B C# D# E#')
  expect(namesOver('E7', 'Am')).toBe('E F G# A B C D')
})

test('a slash bass keeps the name that was typed', () => {
  expect(spellPitch(46, { chord: chordOf('C7/Bb') })).toBe('Bb2')
  expect(spellPitch(46, { chord: chordOf('C7/A#') })).toBe('A#2')
  expect(spellPitch(40, { chord: chordOf('Gb/Fb') })).toBe('Fb2')
})

test('a chord with a triple accidental is spelt on the plainer root, all of it', () => {
  expect(tonesOf('Fbdim7')).toBe('E G Bb Db')
  expect(tonesOf('Cbdim7')).toBe('B D F Ab')
  expect(tonesOf('B#aug')).toBe('C E G#')
  expect(tonesOf('E#7#9')).toBe('F A C Eb G#')
  expect(tonesOf('Bbbdim7')).toBe('A C Eb Gb')
  expect(tonesOf('F##7#9')).toBe('G B D F A#')
})

test('a written degree takes the letter of its number, and the plain key rather than E#, B#, Cb, Fb or a double accidental', () => {
  const written = (symbol: string, degree: string, key?: string): string => {
    const at = chordOf(symbol, keyOf(key))
    const as = { kind: 'degree', degree: parseDegree(degree) as Degree } as const
    const pitch = 36 + at.rootPc + semitonesOf(as.degree)
    return withoutOctave(spellPitch(pitch, { chord: at, key: keyOf(key), as }))
  }
  expect(written('Cm7', '#4')).toBe('F#')
  expect(written('Cm7', 'b5')).toBe('Gb')
  expect(written('B7', '#4')).toBe('F')
  expect(written('B7', '#4', 'F#')).toBe('E#')
  expect(written('Fm7', 'b5')).toBe('B')
  expect(written('Fm7', 'b5', 'Gb')).toBe('Cb')
  expect(written('Db', 'b3')).toBe('E')
  expect(written('Gb', 'b7')).toBe('E')
  expect(written('Gb7', 'b7')).toBe('Fb')
  expect(written('Ebm7b5', 'b5')).toBe('Bbb')
})

test('blue notes of a scale are its b3, b5 and b7', () => {
  const blues = chordOf('Fm7', keyOf('C'))
  expect(spellPitch(44, { chord: blues })).toBe('Ab2')
  expect(spellPitch(51, { chord: blues })).toBe('Eb3')
})

test('what is neither in chord nor scale is named as plainly as its degree allows', () => {
  expect(spellPitch(37, { chord: chordOf('Cmaj7') })).toBe('Db2')
  expect(spellPitch(40, { chord: chordOf('Bbm7') })).toBe('E2')
  expect(spellPitch(40, { chord: chordOf('Ebmaj7') })).toBe('E2')
})

test('a target whose name does not sound it is refused', () => {
  const place = { chord: chordOf('C'), as: { kind: 'approach', target: 36, targetName: 'D2' } } as const
  expect(() => spellPitch(35, place)).toThrow(RangeError)
})
