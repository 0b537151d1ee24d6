import { describe, expect, test } from 'vitest'
import { chordAt, degreeAt, familyOf, semitonesOfNumber } from '../../src/music/chord.ts'
import { CHORD_QUALITIES } from '../../src/music/chord-qualities.ts'
import { formatDegree, semitonesOf } from '../../src/music/degree.ts'
import { parseKey } from '../../src/music/key.ts'
import { pitchClassOf } from '../../src/music/pitch.ts'
import { chordOf, symbolOf } from '../support/chord-form.ts'

describe('a plain number is the tone of the chord, else the degree of its scale', () => {
  // chord, number, semitones above the root
  test.each([
    ['C7', 1, 0],
    ['C7', 3, 4],
    ['C7', 7, 10],
    ['Cmaj7', 7, 11],
    ['Cm7', 3, 3],
    ['Cm7b5', 5, 6],
    ['Cdim7', 7, 9],
    ['Caug', 5, 8],
    ['C7b9', 9, 13],
    ['C7b9', 2, 1],
    ['Cm7', 6, 9],
    ['Cm', 6, 8],
    ['Cmaj7', 4, 5],
    ['Cmaj7#11', 4, 6],
    ['Cmaj7#11', 11, 18],
    ['C6', 13, 21],
    ['C13', 6, 9],
    ['C7sus4', 3, 5],
    ['C7sus4', 10, 17],
    ['Csus2', 3, 2],
    ['C11', 3, 5],
    ['C5', 3, 3],
    ['C', 8, 12],
    ['C', 15, 24],
    ['Cm7', 10, 15],
    ['C7b13', 5, 7],
    ['Cadd9', 2, 2],
  ])('%s: %i is %i semitones up', (chord, number, semitones) => {
    expect(semitonesOfNumber(chordOf(chord), number)).toBe(semitones)
  })

  test('in the octave of the number, over every quality', () => {
    for (const { suffix } of CHORD_QUALITIES) {
      const chord = chordOf(`C${suffix}`)
      for (let number = 1; number <= 7; number++) {
        const low = semitonesOfNumber(chord, number)
        expect(low).toBeGreaterThanOrEqual(0)
        expect(low).toBeLessThan(12)
        expect(semitonesOfNumber(chord, number + 7)).toBe(low + 12)
      }
      expect(semitonesOfNumber(chord, 15)).toBe(24)
    }
  })

  test('of the key where the chord has none', () => {
    const dm7 = chordAt(symbolOf('Em7'), { key: parseKey('C') })
    expect(semitonesOfNumber(dm7, 2)).toBe(1)
    expect(semitonesOfNumber(dm7, 6)).toBe(8)
  })

  test('from 1 to 15', () => {
    for (const number of [0, 16, 2.5, Number.NaN])
      expect(() => semitonesOfNumber(chordOf('C'), number)).toThrow(RangeError)
  })
})

describe('against a chord a note is a tone, in the scale or neither', () => {
  // chord, note by pitch class, degree, standing, to be avoided
  test.each([
    ['C7', 0, '1', 'tone', false],
    ['C7', 10, 'b7', 'tone', false],
    ['C7', 2, '2', 'scale', false],
    ['C7', 5, '4', 'scale', true],
    ['C7', 6, 'b5', 'chromatic', false],
    ['C7', 1, 'b2', 'chromatic', false],
    ['Cmaj7', 5, '4', 'scale', true],
    ['Cmaj7#11', 6, '#11', 'tone', false],
    ['Dm7', 11, '6', 'scale', false],
    ['Dm7', 3, 'b2', 'chromatic', false],
    ['Em7b5', 10, 'b5', 'tone', false],
    ['Em7b5', 5, 'b2', 'scale', true],
    ['G7b9', 8, 'b9', 'tone', false],
    ['G7b9', 10, '#2', 'scale', false],
    ['F#dim7', 3, 'bb7', 'tone', false],
    ['Bb6', 7, '6', 'tone', false],
  ] as const)('%s, note %i: %s, %s', (text, pitchClass, degree, standing, avoid) => {
    const found = degreeAt(chordOf(text), pitchClass)
    expect({ ...found, degree: formatDegree(found.degree) }).toEqual({ degree, standing, avoid })
  })

  test('every degree sounds its note, over every quality', () => {
    for (const { suffix } of CHORD_QUALITIES) {
      const chord = chordOf(`Eb${suffix}`)
      for (let pitchClass = 0; pitchClass < 12; pitchClass++) {
        const { degree } = degreeAt(chord, pitchClass)
        expect(pitchClassOf(chord.rootPc + semitonesOf(degree)), suffix).toBe(pitchClass)
      }
    }
  })

  test('notes to avoid are those of the table where the scale is the default one', () => {
    for (const { suffix, avoid, degrees } of CHORD_QUALITIES) {
      const chord = chordOf(`C${suffix}`)
      const own = avoid.map((degree) => pitchClassOf(semitonesOf(degree))).sort((a, b) => a - b)
      const fifth = degrees.some((degree) => degree.number === 5 && degree.alter === 0)
      const found = Array.from({ length: 12 }, (_, at) => at).filter((at) => degreeAt(chord, at).avoid)
      expect(
        found.filter((at) => fifth || at !== 7),
        suffix,
      ).toEqual(own)
    }
  })
})

test('over a slash the bass is the note that was typed, the tones stay those of the root', () => {
  const chord = chordOf('C/E')
  expect([chord.rootPc, chord.bassPc]).toEqual([0, 4])
  expect(chord.tones.map(formatDegree)).toEqual(['1', '3', '5'])
  expect(chordOf('F/G').bassPc).toBe(7)
  expect(chordOf('Gb/Cb').bassPc).toBe(11)
  expect(chordOf('Bb7').bassPc).toBe(10)
})

describe('a chord belongs to a family', () => {
  test.each([
    ['C6', 'major'],
    ['Cm6', 'minor'],
    ['C13', 'dominant'],
    ['Cm7b5', 'half-diminished'],
    ['Cdim7', 'diminished'],
    ['Caug', 'augmented'],
    ['C9sus4', 'suspended'],
    ['C11', 'suspended'],
    ['C5', 'power'],
    ['Cm(maj7)', 'minor-major'],
    ['C7#5', 'dominant'],
  ])('%s: %s', (text, family) => {
    expect(familyOf(chordOf(text))).toBe(family)
  })
})
