import { describe, expect, test } from 'vitest'
import { metreOf } from '../../src/music/metre.ts'
import { partOf } from '../../src/notation/part.ts'
import { spokenBar, spokenPlace } from '../../src/notation/spoken.ts'
import { changes } from '../support/changes.ts'
import { FOUR_STRINGS } from '../support/grooves.ts'
import { writtenLine } from '../support/written-line.ts'

/** The bars of a line in words, each with its notes. */
function spoken(chords: string, row: string): readonly string[] {
  const form = changes(chords)
  const line = writtenLine(form, row)
  const { bars, strings } = partOf({ form, line, key: undefined, instrument: FOUR_STRINGS })
  return bars.flatMap((bar) => {
    const { text, notes } = spokenBar(bar, { line, strings })
    return [text, ...notes.map((note) => note.text)]
  })
}

describe('a bar is said with what changes in it, and each note that is struck', () => {
  test('place, name, string and fret, and what the note does', () => {
    expect(spoken('[A] Bdim7 | C Bb7', 'B1/h. Db2/q> | C2/h Bb1/e x/e Ab1/q')).toEqual([
      'bar 1, section A, in 4 4: B diminished seven',
      'bar 1, beat 1: B, third string fret 2, root',
      'bar 1, beat 4: D flat, third string fret 4, approach from above, accented',
      'bar 2: C, B flat seven on beat 3',
      'bar 2, beat 1: C, third string fret 3, root',
      'bar 2, beat 3: B flat, third string fret 1, root',
      'bar 2, beat 3 and: dead note, third string',
      'bar 2, beat 4: A flat, fourth string fret 4, flat seventh',
    ])
  })

  test('a note from the bar before is held over, and silence is rest', () => {
    expect(spoken('C | F7 | N.C.', 'C2/h. A1/q+h< | r/h | r/w')).toEqual([
      'bar 1, in 4 4: C',
      'bar 1, beat 1: C, third string fret 3, root',
      'bar 1, beat 4: A, third string open, third of the chord to come',
      'bar 2: F seven; A held over',
      'bar 3: no chord; rest',
    ])
  })

  test('a slash bass is the bass, whatever degree it is', () => {
    expect(spoken('C/E', "E1/w'")).toEqual([
      'bar 1, in 4 4: C over E',
      'bar 1, beat 1: E, fourth string open, bass, third of the chord, short',
    ])
  })
})

test.each([
  ['4/4', 0, 'beat 1'],
  ['4/4', 600, 'beat 2 e'],
  ['4/4', 1680, 'beat 4 and'],
  ['4/4', 1600, 'beat 4 trip'],
  ['4/4', 96, 'after beat 1'],
  ['12/8', 720, 'beat 2'],
  ['12/8', 960, 'beat 2, eighth 2'],
  ['6/8', 360, 'beat 1, eighth 2 and'],
  ['7/8', 960, 'eighth 5'],
  ['5/4', 1440, 'beat 4'],
])('in %s tick %i is said as %s', (metre, tick, words) => {
  expect(spokenPlace(metreOf(metre)!, tick)).toBe(words)
})
