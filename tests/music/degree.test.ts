import { describe, expect, test } from 'vitest'
import { formatDegree, parseDegree, semitonesOf } from '../../src/music/degree.ts'

describe('a degree lies so many semitones above the root', () => {
  test.each([
    ['1', 0],
    ['b2', 1],
    ['#2', 3],
    ['b3', 3],
    ['3', 4],
    ['4', 5],
    ['#4', 6],
    ['b5', 6],
    ['5', 7],
    ['#5', 8],
    ['b6', 8],
    ['6', 9],
    ['bb7', 9],
    ['b7', 10],
    ['7', 11],
    ['8', 12],
    ['b9', 13],
    ['9', 14],
    ['#9', 15],
    ['10', 16],
    ['11', 17],
    ['#11', 18],
    ['12', 19],
    ['b13', 20],
    ['13', 21],
    ['b14', 22],
    ['15', 24],
    ['b1', -1],
  ])('%s: %i', (text, semitones) => {
    expect(semitonesOf(parseDegree(text)!)).toBe(semitones)
  })
})

test('degrees are written as they are read', () => {
  for (let number = 1; number <= 15; number++)
    for (const sign of ['', 'b', 'bb', '#', '##']) expect(formatDegree(parseDegree(sign + number)!)).toBe(sign + number)
})

test('other texts are no degrees', () => {
  for (const text of ['', '0', '16', 'b', 'bbb7', '#b3', '3b', 'x4', '1.5', '-1', ' 3'])
    expect(parseDegree(text)).toBeUndefined()
})
