import { describe, expect, it } from 'vitest'
import { type PatternToken, parsePattern } from '../../src/line/pattern.ts'
import { contourOf, spokenPattern } from '../../src/ui/pattern-contour.ts'

function tokens(text: string): readonly PatternToken[] {
  const reading = parsePattern(text)
  if (!reading.ok) throw new Error(reading.message)
  return reading.tokens
}

describe('the contour of a pattern', () => {
  it.each([
    ['1 3 5 6', [0, 4, 7, 9]],
    ['8 b7 5 3', [12, 10, 7, 4]],
    ['1 v5 8', [0, -5, 12]],
    ['1 h- 3', [0, 3, 4]],
    ['1 w+ h+ 5', [0, 9, 8, 7]],
    // at the end it leads to the nearest root of the next chord
    ['1 3 5 h-', [0, 4, 7, 11]],
    ['1 2 3 h-', [0, 2, 4, -1]],
    ['1 d+', [0, 7]],
    ['8 5 >1', [12, 7, 12]],
  ])('%s is %j semitones over the root', (text, heights) => {
    expect(contourOf(tokens(text))).toEqual(heights)
  })
})

describe('a pattern in words', () => {
  it.each([
    ['1 b3 v5', '1, flat 3, low 5'],
    ['^n7 ##4 bb7', 'high natural 7, double sharp 4, double flat 7'],
    ['s+ d- >1', 'scale step from above, fifth or fourth from below, 1 of the next chord'],
  ])('%s is %s', (text, words) => {
    expect(spokenPattern(tokens(text))).toBe(words)
  })
})
