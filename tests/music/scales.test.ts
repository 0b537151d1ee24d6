import { describe, expect, test } from 'vitest'
import { formatDegree, semitonesOf } from '../../src/music/degree.ts'
import { formatNoteName, letterAbove } from '../../src/music/note-name.ts'
import { pitchClassOf } from '../../src/music/pitch.ts'
import { bitsOf, type Scale } from '../../src/music/scale.ts'
import { SCALES, scaleOf } from '../../src/music/scales.ts'

const semitonesIn = (scale: Scale): readonly number[] => scale.degrees.map(semitonesOf)

/** Semitones from each note to the next, the octave included. */
function stepsOf(scale: Scale): readonly number[] {
  const notes = [...semitonesIn(scale), 12]
  return notes.slice(1).map((note, at) => note - notes[at]!)
}

const onC = (scale: Scale): readonly string[] =>
  scale.degrees.map(({ number, alter }) => formatNoteName({ letter: letterAbove('C', number - 1), alter }))

describe('a scale', () => {
  // id, semitones from note to note, its notes on C
  test.each([
    ['major', '2 2 1 2 2 2 1', 'C D E F G A B'],
    ['dorian', '2 1 2 2 2 1 2', 'C D Eb F G A Bb'],
    ['phrygian', '1 2 2 2 1 2 2', 'C Db Eb F G Ab Bb'],
    ['lydian', '2 2 2 1 2 2 1', 'C D E F# G A B'],
    ['mixolydian', '2 2 1 2 2 1 2', 'C D E F G A Bb'],
    ['aeolian', '2 1 2 2 1 2 2', 'C D Eb F G Ab Bb'],
    ['locrian', '1 2 2 1 2 2 2', 'C Db Eb F Gb Ab Bb'],
    ['melodic-minor', '2 1 2 2 2 2 1', 'C D Eb F G A B'],
    ['dorian-flat-2', '1 2 2 2 2 1 2', 'C Db Eb F G A Bb'],
    ['lydian-augmented', '2 2 2 2 1 2 1', 'C D E F# G# A B'],
    ['lydian-dominant', '2 2 2 1 2 1 2', 'C D E F# G A Bb'],
    ['mixolydian-flat-6', '2 2 1 2 1 2 2', 'C D E F G Ab Bb'],
    ['locrian-natural-2', '2 1 2 1 2 2 2', 'C D Eb F Gb Ab Bb'],
    ['altered', '1 2 1 2 2 2 2', 'C Db D# E Gb G# Bb'],
    ['harmonic-minor', '2 1 2 2 1 3 1', 'C D Eb F G Ab B'],
    ['locrian-natural-6', '1 2 2 1 3 1 2', 'C Db Eb F Gb A Bb'],
    ['ionian-augmented', '2 2 1 3 1 2 1', 'C D E F G# A B'],
    ['dorian-sharp-4', '2 1 3 1 2 1 2', 'C D Eb F# G A Bb'],
    ['phrygian-dominant', '1 3 1 2 1 2 2', 'C Db E F G Ab Bb'],
    ['lydian-sharp-2', '3 1 2 1 2 2 1', 'C D# E F# G A B'],
    ['altered-diminished', '1 2 1 2 2 1 3', 'C Db Eb Fb Gb Ab Bbb'],
    ['whole-half', '2 1 2 1 2 1 2 1', 'C D Eb F Gb Ab Bbb B'],
    ['half-whole', '1 2 1 2 1 2 1 2', 'C Db D# E F# G A Bb'],
    ['whole-tone', '2 2 2 2 2 2', 'C D E F# G# Bb'],
    ['augmented-hexatonic', '3 1 3 1 3 1', 'C D# E G G# B'],
    ['chromatic', '1 1 1 1 1 1 1 1 1 1 1 1', 'C Db D Eb E F Gb G Ab A Bb B'],
    ['major-pentatonic', '2 2 3 2 3', 'C D E G A'],
    ['minor-pentatonic', '3 2 2 3 2', 'C Eb F G Bb'],
    ['blues', '3 2 1 1 3 2', 'C Eb F Gb G Bb'],
    ['major-blues', '2 1 1 3 2 3', 'C D Eb E G A'],
    ['minor-6-pentatonic', '3 2 2 2 3', 'C Eb F G A'],
    ['dominant-pentatonic', '2 2 3 3 2', 'C D E G Bb'],
    ['suspended-pentatonic', '2 3 2 3 2', 'C D F G Bb'],
    ['half-diminished-pentatonic', '3 2 1 4 2', 'C Eb F Gb Bb'],
    ['bebop-major', '2 2 1 2 1 1 2 1', 'C D E F G G# A B'],
    ['bebop-dominant', '2 2 1 2 2 1 1 1', 'C D E F G A Bb B'],
    ['bebop-dorian', '2 1 1 1 2 2 1 2', 'C D Eb E F G A Bb'],
    ['bebop-melodic-minor', '2 1 2 2 1 1 2 1', 'C D Eb F G G# A B'],
    ['bebop-half-diminished', '1 2 2 1 1 1 2 2', 'C Db Eb F Gb G Ab Bb'],
    ['harmonic-major', '2 2 1 2 1 3 1', 'C D E F G Ab B'],
    ['spanish-eight', '1 2 1 1 2 1 2 2', 'C Db Eb E F G Ab Bb'],
  ])('%s goes by %s: %s', (id, steps, notes) => {
    const scale = scaleOf(id)!
    expect(stepsOf(scale).join(' ')).toBe(steps)
    expect(onC(scale).join(' ')).toBe(notes)
  })

  test('rises from its root to the octave, under an id and a name of its own', () => {
    for (const scale of SCALES) {
      expect(semitonesIn(scale)[0]).toBe(0)
      for (const step of stepsOf(scale)) expect(step, scale.id).toBeGreaterThan(0)
      expect(stepsOf(scale).reduce((sum, step) => sum + step)).toBe(12)
      expect(scale.id).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/)
    }
    expect(SCALES).toHaveLength(41)
    expect(new Set(SCALES.map((scale) => scale.id)).size).toBe(41)
    expect(new Set(SCALES.map((scale) => scale.name)).size).toBe(41)
    expect(new Set(SCALES.map((scale) => bitsOf(scale.degrees))).size).toBe(41)
  })

  test('of an unknown id is undefined', () => {
    expect(scaleOf('ionian')).toBeUndefined()
  })
})

describe('a mode is its parent begun on another step', () => {
  // id, step, parent
  test.each([
    ['dorian', 2, 'major'],
    ['phrygian', 3, 'major'],
    ['lydian', 4, 'major'],
    ['mixolydian', 5, 'major'],
    ['aeolian', 6, 'major'],
    ['locrian', 7, 'major'],
    ['dorian-flat-2', 2, 'melodic-minor'],
    ['lydian-augmented', 3, 'melodic-minor'],
    ['lydian-dominant', 4, 'melodic-minor'],
    ['mixolydian-flat-6', 5, 'melodic-minor'],
    ['locrian-natural-2', 6, 'melodic-minor'],
    ['altered', 7, 'melodic-minor'],
    ['locrian-natural-6', 2, 'harmonic-minor'],
    ['ionian-augmented', 3, 'harmonic-minor'],
    ['dorian-sharp-4', 4, 'harmonic-minor'],
    ['phrygian-dominant', 5, 'harmonic-minor'],
    ['lydian-sharp-2', 6, 'harmonic-minor'],
    ['altered-diminished', 7, 'harmonic-minor'],
    ['suspended-pentatonic', 2, 'major-pentatonic'],
  ])('%s is mode %i of %s', (id, step, parent) => {
    const notes = semitonesIn(scaleOf(parent)!)
    const turned = notes.map((note) => pitchClassOf(note - notes[step - 1]!)).sort((a, b) => a - b)
    expect(semitonesIn(scaleOf(id)!)).toEqual(turned)
  })
})

describe('an eight-note scale run in eighths from its root has these notes on the beats', () => {
  test.each([
    ['whole-half', '1 b3 b5 bb7'],
    ['half-whole', '1 #2 #4 6'],
    ['bebop-major', '1 3 5 6'],
    ['bebop-dominant', '1 3 5 b7'],
    ['bebop-dorian', '1 b3 4 6'],
    ['bebop-melodic-minor', '1 b3 5 6'],
    ['bebop-half-diminished', '1 b3 b5 b6'],
    ['spanish-eight', '1 b3 4 b6'],
  ])('%s: %s', (id, notes) => {
    const onBeats = scaleOf(id)!.degrees.filter((_, at) => at % 2 === 0)
    expect(onBeats.map(formatDegree).join(' ')).toBe(notes)
  })
})
