import { describe, expect, test } from 'vitest'
import { CHORD_QUALITIES } from '../../src/music/chord-qualities.ts'
import { parseKey } from '../../src/music/key.ts'
import { bitsOf } from '../../src/music/scale.ts'
import { chooseScale } from '../../src/music/scale-choice.ts'
import { symbolOf } from '../support/chord-form.ts'

/** The scale of the first chord of `Dm7`, or of `D7 Gm7` where another follows. */
function scaleAt(chords: string, key?: string): string {
  const [symbol, next] = chords.split(' ').map(symbolOf)
  return chooseScale(symbol!, { key: key === undefined ? undefined : parseKey(key), next }).id
}

describe('a chord of the key has the mode of its step', () => {
  // key, chord, scale
  test.each([
    ['C', 'Cmaj7', 'major'],
    ['C', 'Dm7', 'dorian'],
    ['C', 'Em7', 'phrygian'],
    ['C', 'Fmaj7', 'lydian'],
    ['C', 'G7', 'mixolydian'],
    ['C', 'Am7', 'aeolian'],
    ['C', 'Bm7b5', 'locrian'],
    ['Eb', 'Gm7', 'phrygian'],
    ['Am', 'Am7', 'aeolian'],
    ['Am', 'Bm7b5', 'locrian'],
    ['Am', 'Cmaj7', 'major'],
    ['Am', 'Dm7', 'dorian'],
    ['Am', 'Em7', 'phrygian'],
    ['Am', 'Fmaj7', 'lydian'],
    ['Am', 'G7', 'mixolydian'],
    ['Am', 'Am(maj7)', 'harmonic-minor'],
    ['Am', 'Cmaj7#5', 'ionian-augmented'],
    ['Am', 'E7', 'phrygian-dominant'],
    ['Am', 'G#dim7', 'altered-diminished'],
    ['Am', 'D7', 'lydian-dominant'],
    ['Am', 'F#m7b5', 'locrian-natural-2'],
    ['Gm', 'D7b9', 'phrygian-dominant'],
  ])('in %s, %s: %s', (key, chord, scale) => {
    expect(scaleAt(chord, key)).toBe(scale)
  })
})

describe('a dominant outside the key looks where it goes', () => {
  // key, chord and the next one, scale
  test.each([
    ['C', 'A7 Dm7', 'phrygian-dominant'],
    ['C', 'E7 Am7', 'phrygian-dominant'],
    ['C', 'B7 Em7', 'phrygian-dominant'],
    ['C', 'D7 G7', 'mixolydian'],
    ['C', 'C7 Fmaj7', 'mixolydian'],
    ['C', 'C7 F7', 'mixolydian'],
    ['C', 'F7 C7', 'mixolydian'],
    ['C', 'F7 E7', 'lydian-dominant'],
    ['C', 'Db7 Cmaj7', 'lydian-dominant'],
    ['C', 'Bb7 Cmaj7', 'lydian-dominant'],
    ['C', 'Ab7 G7', 'lydian-dominant'],
    ['C', 'D7 Dm7', 'mixolydian'],
    ['C', 'A13 Dm7', 'mixolydian'],
    [undefined, 'G7 Cm7', 'phrygian-dominant'],
    [undefined, 'G7 Cmaj7', 'mixolydian'],
    [undefined, 'G7 Gb7', 'lydian-dominant'],
    [undefined, 'G7', 'mixolydian'],
  ])('in %s, %s: %s', (key, chords, scale) => {
    expect(scaleAt(chords, key)).toBe(scale)
  })
})

describe('any other chord has the default of its quality', () => {
  test.each([
    [undefined, 'Cmaj7', 'major'],
    [undefined, 'Cm7', 'dorian'],
    [undefined, 'Cm', 'aeolian'],
    [undefined, 'Cdim7', 'whole-half'],
    [undefined, 'Cm7b5', 'locrian'],
    ['C', 'C#dim7', 'whole-half'],
    ['C', 'Fm7', 'dorian'],
    ['C', 'Ebmaj7', 'major'],
    ['C', 'G7alt', 'altered'],
    ['Cm', 'G7alt', 'altered'],
    ['C', 'Gaug', 'whole-tone'],
  ])('in %s, %s: %s', (key, chord, scale) => {
    expect(scaleAt(chord, key)).toBe(scale)
  })
})

test('whatever the key and the next chord, the scale holds the tones of the chord', () => {
  const keys = [undefined, 'C', 'Eb', 'F#', 'Am', 'Gm', 'C#m']
  for (const { suffix } of CHORD_QUALITIES)
    for (const key of keys)
      for (const next of ['C', 'Fm7', 'B7', 'G'])
        for (const root of ['C', 'F#', 'Bb']) {
          const symbol = symbolOf(root + suffix)
          const place = { key: key === undefined ? undefined : parseKey(key), next: symbolOf(next) }
          const tones = bitsOf(symbol.degrees)
          expect(bitsOf(chooseScale(symbol, place).degrees) & tones, `${symbol.text} in ${key}`).toBe(tones)
        }
})
