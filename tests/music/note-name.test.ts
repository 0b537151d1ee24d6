import { describe, expect, test } from 'vitest'
import {
  formatNoteName,
  LETTERS,
  letterAbove,
  nameUnder,
  parseNoteName,
  pitchClassOfName,
} from '../../src/music/note-name.ts'

describe('a note name sounds', () => {
  test.each([
    ['C', 0],
    ['C#', 1],
    ['Db', 1],
    ['E#', 5],
    ['Fb', 4],
    ['Cb', 11],
    ['B#', 0],
    ['F##', 7],
    ['Fx', 7],
    ['Bbb', 9],
    ['Ebb', 2],
    ['B##', 1],
    ['Cbb', 10],
  ])('%s: %i', (text, pitchClass) => {
    expect(pitchClassOfName(parseNoteName(text)!)).toBe(pitchClass)
  })
})

test('names are written as they are read, double sharps with two signs', () => {
  for (const letter of LETTERS)
    for (const sign of ['', '#', '##', 'b', 'bb'])
      expect(formatNoteName(parseNoteName(letter + sign)!)).toBe(letter + sign)
  expect(formatNoteName(parseNoteName('Gx')!)).toBe('G##')
})

test('other texts are no names', () => {
  for (const text of ['', 'H', 'c', 'C###', 'Cbbb', 'C#b', 'Do', ' C', 'C4'])
    expect(parseNoteName(text)).toBeUndefined()
})

test('a pitch class has a name under every letter that is near enough', () => {
  const underAll = (pitchClass: number, most: number) =>
    LETTERS.flatMap((letter) => nameUnder(letter, pitchClass, most) ?? []).map(formatNoteName)
  expect(underAll(0, 2)).toEqual(['C', 'Dbb', 'B#'])
  expect(underAll(8, 2)).toEqual(['G#', 'Ab'])
  expect(underAll(6, 1)).toEqual(['F#', 'Gb'])
  expect(underAll(6, 2)).toEqual(['E##', 'F#', 'Gb'])
  for (let pitchClass = 0; pitchClass < 12; pitchClass++)
    for (const letter of LETTERS) {
      const name = nameUnder(letter, pitchClass, 6)!
      expect(pitchClassOfName(name)).toBe(pitchClass)
    }
})

test('letters go round', () => {
  expect(letterAbove('B', 1)).toBe('C')
  expect(letterAbove('C', -1)).toBe('B')
  expect(letterAbove('F', 7)).toBe('F')
  expect(letterAbove('D', -9)).toBe('B')
})
