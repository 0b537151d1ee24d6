import { describe, expect, test } from 'vitest'
import { formatKey, parseKey, signatureOf } from '../../src/music/key.ts'
import { formatNoteName } from '../../src/music/note-name.ts'

describe('a key has so many sharps (flats are negative)', () => {
  test.each([
    ['C', 0],
    ['G', 1],
    ['F', -1],
    ['Bb', -2],
    ['F#', 6],
    ['Cb', -7],
    ['C#', 7],
    ['Am', 0],
    ['Dm', -1],
    ['F#m', 3],
    ['Bbm', -5],
    ['Abm', -7],
    ['A#m', 7],
  ])('%s: %i', (text, sharps) => {
    expect(parseKey(text)!.sharps).toBe(sharps)
    expect(formatKey(parseKey(text)!)).toBe(text)
  })
})

test('a key is written in letters or in words', () => {
  for (const text of ['Dm', 'D-', 'D min', 'D minor', 'Dminor', ' D m ']) expect(formatKey(parseKey(text)!)).toBe('Dm')
  for (const text of ['Bb', 'B♭', 'Bb major', 'BbM', 'Bb maj']) expect(formatKey(parseKey(text)!)).toBe('Bb')
  expect(formatKey(parseKey('F♯ minor')!)).toBe('F#m')
})

test('a key beyond seven accidentals, or no key, is undefined', () => {
  for (const text of ['G#', 'D# major', 'Fb', 'Dbm', 'Gbm', 'H', 'c', '', 'C7', 'C dorian', 'C#b'])
    expect(parseKey(text), text).toBeUndefined()
})

test('a signature names all seven notes', () => {
  const names = (text: string) => signatureOf(parseKey(text)!).map(formatNoteName).join(' ')
  expect(names('C')).toBe('C D E F G A B')
  expect(names('F')).toBe('C D E F G A Bb')
  expect(names('A')).toBe('C# D E F# G# A B')
  expect(names('Fm')).toBe('C Db Eb F G Ab Bb')
  expect(names('C#')).toBe('C# D# E# F# G# A# B#')
  expect(names('Cb')).toBe('Cb Db Eb Fb Gb Ab Bb')
})
