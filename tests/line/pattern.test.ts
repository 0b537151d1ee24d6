import { describe, expect, it } from 'vitest'
import { formatToken, parsePattern, semitonesOfToken } from '../../src/line/pattern.ts'
import { patternOf } from '../../src/line/patterns.ts'
import { type Chord, chordAt } from '../../src/music/chord.ts'
import { parseChordSymbol } from '../../src/music/chord-symbol.ts'

function chord(text: string): Chord {
  const reading = parseChordSymbol(text)
  if (reading.kind !== 'chord') throw new Error(`${text} is no chord`)
  return chordAt(reading.symbol, {})
}

/** Semitones above the anchor of each degree of a pattern over a chord. */
function semitones(text: string, over: string): string {
  const reading = parsePattern(text)
  if (!reading.ok) throw new Error(reading.message)
  const here = chord(over)
  return reading.tokens
    .map((token) => (token.kind === 'degree' ? semitonesOfToken(token, here) : formatToken(token)))
    .join(' ')
}

describe('a pattern in its notation', () => {
  it.each([
    ['1 3 5 6', '1 3 5 6'],
    ['  v5   v6 1 ', 'v5 v6 1'],
    ['>v5 >vb7 >1', '>v5 >vb7 >1'],
    ['^3 vv1 ##4 bb7 n3 15', '^3 vv1 ##4 bb7 n3 15'],
    ['h- h+ w- w+ s- s+ d- d+', 'h- h+ w- w+ s- s+ d- d+'],
  ])('%s reads as %s', (text, expected) => {
    const reading = parsePattern(text)
    expect(reading.ok && reading.tokens.map(formatToken).join(' ')).toBe(expected)
  })

  it.each([
    ['', 'empty', ''],
    ['   ', 'empty', '   '],
    ['1 q 5', 'unknown-token', 'q'],
    ['1 h 5', 'unknown-token', 'h'],
    ['1 5>', 'unknown-token', '5>'],
    ['1 b', 'unknown-token', 'b'],
    ['1 bv7', 'unknown-token', 'bv7'],
    ['>h-', 'unknown-token', '>h-'],
    ['1 bbb7', 'unknown-token', 'bbb7'],
    ['1 v^3', 'both-octave-marks', 'v^3'],
    ['1 0', 'number-out-of-range', '0'],
    ['1 3 16', 'number-out-of-range', '16'],
  ])('"%s" is refused: %s at "%s"', (text, code, under) => {
    const reading = parsePattern(text)
    expect(reading).toMatchObject({ ok: false, code })
    if (!reading.ok) expect(text.slice(reading.span.from, reading.span.to)).toBe(under)
  })
})

describe('a degree over a chord', () => {
  it.each([
    ['1 3 5 6 b7 6 5 3', 'C7', '0 4 7 9 10 9 7 4', 'a plain number is the tone of the chord, or of its scale'],
    ['5', 'Cm7b5', '6', 'the fifth of a half-diminished chord is its own'],
    ['9', 'C7b9', '13', 'and so is the ninth'],
    ['6', 'Cm7', '9', 'the sixth over a minor seventh is dorian'],
    ['3', 'C7sus4', '5', 'over a suspended chord the fourth stands for the third'],
    ['3', 'Csus2', '2', 'or the second'],
    ['b7 n7 #4 bb7', 'Cmaj7', '10 11 6 9', 'an accidental fixes the interval'],
    ['n3', 'Cm7', '4', 'n fixes the major one'],
    ['n5', 'Cm7b5', '7', 'n fixes the perfect one'],
    ['v5 vb7 8 ^1 10', 'Cm7', '-5 -2 12 12 15', 'octaves are exact'],
    ['vn7', 'C7', '-1', 'an octave mark and an accidental'],
  ])('%s over %s is %s: %s', (text, over, expected) => {
    expect(semitones(text, over)).toBe(expected)
  })

  it.each([
    ['boogie', 'C7', 'C7', 'C E G A Bb A G E'],
    ['major-seventh-on-flat-three', 'Dm7', 'G7', 'F A C E'],
    ['fifth-sixth-root', 'G', 'C', 'D E G'],
    ['walking-below', 'Dm7', 'G7', 'D F A Gb'],
    ['walking-double-above', 'G7', 'C', 'G B D Db'],
    ['tumbao-anticipated', 'Dm7', 'G7', 'A G'],
  ])('%s on %s into %s is %s', (id, over, into, notes) => {
    const names = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B']
    const [here, next] = [chord(over), chord(into)]
    const played = patternOf(id)!.tokens.map((token) => {
      // Approaches here stand at the end and aim at the next root, by half or whole step.
      if (token.kind === 'approach')
        return next.rootPc + (token.by === 'whole' ? 2 : 1) * (token.from === 'above' ? 1 : -1)
      const its = token.next ? next : here
      return its.rootPc + semitonesOfToken(token, its)
    })
    expect(played.map((pitch) => names[(pitch + 24) % 12]).join(' ')).toBe(notes)
  })
})
