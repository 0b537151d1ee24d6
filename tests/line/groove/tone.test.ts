import { describe, expect, it } from 'vitest'
import { GROOVE_DEFAULTS } from '../../../src/feels/groove-defaults.ts'
import { relativeOf, toneOf } from '../../../src/line/groove/tone.ts'
import { parsePattern } from '../../../src/line/pattern.ts'
import { patternOf } from '../../../src/line/patterns.ts'
import { chordOf } from '../../support/chord-form.ts'

/** Semitones and kinds of a row of tokens over a chord: `0:1 4:3 7:5`. */
function tones(row: string, symbol: string, foreign = false): string {
  const reading = parsePattern(row)
  if (!reading.ok) throw new Error(reading.message)
  const chord = chordOf(symbol)
  return reading.tokens
    .map((token) => {
      if (token.kind !== 'degree') return 'approach'
      const { semitones, kind, adapted } = toneOf(token, chord, foreign)
      return `${semitones}:${kind}${adapted ? '!' : ''}`
    })
    .join(' ')
}

describe('a token over its chord', () => {
  it.each([
    ['1 3 5 6', 'C7', '0:1 4:3 7:5 9:6'],
    ['1 3 5 6', 'Cm7', '0:1 3:3 7:5 10:7'],
    ['1 5 6 5', 'Dm7', '0:1 7:5 10:7 7:5'],
    ['8 b7 5 4', 'Cmaj7', '12:8 9:6! 7:5 5:4'],
    ['v5 vb7', 'Am7', '-5:5 -2:7'],
    ['v5 vb7', 'A', '-5:5 -3:6!'],
    ['1 3 5', 'Bm7b5', '0:1 3:3 6:5'],
    ['1 3 5', 'Csus4', '0:1 5:3 7:5'],
    ['#4', 'C7', '6:x'],
  ])('%s over %s is %s', (row, chord, expected) => {
    expect(tones(row, chord)).toBe(expected)
  })

  it('of a lead takes the colour of the chord it leads into', () => {
    expect(tones('>v5 >vn6 >vn7', 'C')).toBe('-5:5 -3:6 -1:7')
    expect(tones('>v5 >vn6 >vn7', 'Em')).toBe('-5:5 -4:6! -2:7!')
    expect(tones('>v5 >v6', 'Am7')).toBe('-5:5 -2:7')
  })

  it('has a slash bass for its root, and the root where it would have the bass once more', () => {
    expect(tones('1 3 5', 'F7/C')).toBe('0:1 -3:3 5:8')
    expect(tones('1 3 8', 'C/E')).toBe('0:1 -4:8 12:8')
    expect(tones('1 5 5 1', 'Dm7/C')).toBe('0:1 9:5 9:5 0:1')
    // What leads on goes by step.
    expect(tones('>3 >2 >1', 'C/E')).toBe('0:3 -2:4 0:1')
  })

  it('is the sixth where the chord has a sixth for its seventh', () => {
    expect(tones('1 5 b7 5', 'Fm6')).toBe('0:1 7:5 9:6! 7:5')
    expect(tones('1 3 5 6', 'Fm6')).toBe('0:1 3:3 7:5 9:6')
    expect(tones('1 3 5 7', 'C6')).toBe('0:1 4:3 7:5 9:6')
    expect(tones('1 3 5 6', 'Fm7')).toBe('0:1 3:3 7:5 10:7')
  })

  it('of a pattern for other chords gives up its accidental', () => {
    expect(tones('1 b3 4 5', 'C', true)).toBe('0:1 4:3! 5:4 7:5')
  })
})

describe('the pattern for a chord', () => {
  it.each([
    ['boogie', 'C7', 'boogie', false],
    ['boogie', 'Cm7', 'minor-boogie', false],
    ['boogie', 'Cmaj7', 'boogie-octave', false],
    ['boogie', 'Cdim7', 'boogie', true],
    ['rocking-sixth', 'Csus4', 'root-fifth-octave-fifth', false],
    ['soul-sixth-fall', 'Am7', 'seventh-arpeggio-down', false],
    ['root-fifth-octave', 'C5', 'root-fifth-octave', false],
  ] as const)('%s over %s is %s', (id, symbol, instead, foreign) => {
    const found = relativeOf(patternOf(id)!, chordOf(symbol), GROOVE_DEFAULTS.relatives)
    expect([found.pattern.id, found.foreign]).toEqual([instead, foreign])
  })
})
