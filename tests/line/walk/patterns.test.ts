import { describe, expect, it } from 'vitest'
import { compose } from '../../../src/compose.ts'
import { patternOf } from '../../../src/line/patterns.ts'
import { KnownWalks } from '../../../src/line/walk/known.ts'
import { walkProblem, withPatterns } from '../../../src/line/walk/problem.ts'
import { changes } from '../../support/changes.ts'
import { cellsOf, walkRequest } from '../../support/walking.ts'

/** The bars of the best line as note names without octaves, under one pattern. */
function bars(chart: string, pattern: string, cell: string): readonly string[] {
  const { lines, form } = compose(chart, {
    patterns: [pattern],
    cells: [cell],
    rules: [`pattern ${pattern} throughout (must)`],
  })
  const [line] = lines
  if (!line) throw new Error(`${pattern} over ${chart}: no line`)
  return form.bars.map(({ index }) =>
    line.notes
      .filter(({ slot }) => slot.barIndex === index)
      .map(({ name }) => name.replace(/-?\d/, ''))
      .join(' '),
  )
}

/** Semitones of each note of the first bar above the first of them. */
function shape(chart: string, pattern: string, cell: string): readonly number[] {
  const { lines } = compose(chart, {
    patterns: [pattern],
    cells: [cell],
    rules: [`pattern ${pattern} throughout (must)`],
  })
  const notes = lines[0]!.notes.filter(({ slot }) => slot.barIndex === 0)
  return notes.map(({ pitch }) => pitch - notes[0]!.pitch)
}

const EIGHTHS = '1 & 2 & 3 & 4 &'

// The notes that a player's handbook gives for each of these: common practice, no source.
describe('A pattern that is chosen', () => {
  it('is played as a teacher would write it out', () => {
    expect(bars('| C7 |', 'boogie', EIGHTHS)).toEqual(['C E G A Bb A G E'])
    expect(shape('| C7 |', 'boogie', EIGHTHS)).toEqual([0, 4, 7, 9, 10, 9, 7, 4])
    expect(bars('| Dm7 |', 'major-seventh-on-flat-three', '1 2 3 4')).toEqual(['F A C E'])
    expect(shape('| Dm7 |', 'major-seventh-on-flat-three', '1 2 3 4')).toEqual([0, 4, 7, 11])
    expect(bars('| G |', 'fifth-sixth-root', '1 2 3')).toEqual(['D E G'])
    expect(shape('| G |', 'fifth-sixth-root', '1 2 3')).toEqual([0, 2, 5])
  })

  it('leads into the next chord: by a half-step below, by two half-steps from above, by the root before its time', () => {
    expect(bars('| Dm7 | G7 |', 'walking-below', '1 2 3 4')[0]).toBe('D F A F#')
    expect(bars('| G7 | C |', 'walking-double-above', '1 2 3 4')[0]).toBe('G B D Db')
    expect(bars('| Dm7 | G7 |', 'tumbao-anticipated', '1 3')[0]).toBe('A G')
  })

  it('encloses its own root even where a change comes before it, and pays for what never arrives', () => {
    const { lines } = compose('| Bbm7 A7 | Dm7 G7 |', { patterns: ['root-enclosed'], cells: ['four-quarters'] })
    const { notes } = lines[0]!
    expect(notes.map(({ name }) => name.replace(/\d/, '')).join(' ')).toBe('C A Bb G# E C# A F#')
    const cut = notes.map(({ terms }) => terms.some(({ rule }) => rule === 'pattern-holds'))
    expect(cut).toEqual([false, false, true, false, true, false, true, false])
    // Where another word fits, it is played.
    const beside = compose('| Bbm7 A7 | Dm7 G7 |', {
      patterns: ['root-enclosed', 'triad-up'],
      cells: ['four-quarters'],
    })
    expect(new Set(beside.lines[0]!.notes.map(({ pattern }) => pattern))).toEqual(new Set(['triad-up']))
  })

  it('is dealt to beats: a skip strikes its note again, and eighths throughout are notes of their own', () => {
    expect(bars('| Dm7 | % |', 'major-seventh-on-flat-three', '1 2 3 4 &')[0]).toBe('F A C E E')
    expect(bars('| Dm7 | G7 |', 'walking-below', '1 & 2 3 4')[0]).toBe('D D F A F#')
    expect(bars('| Dm7 | G7 |', 'triad-up', '1 & 2 & 3 & 4 &')[0]).toMatch(/^D F A D F A/)
  })

  it('is looked for only where something can follow: an approach under the next root, and nothing under the top of the neck', () => {
    const patterns = [patternOf('walking-below')!]
    const known = new KnownWalks()
    const request = walkRequest(changes('Dm7 | G7'), { patterns, cells: cellsOf('1 2 3 4') })
    const { tracks, neck } = walkProblem(withPatterns(request, known), known)!
    const at = (slot: number) => [...new Set([...tracks.places[slot]![0]!].map((place) => neck.places[place]!.pitch))]
    // D F A F#, on the neck from E1 to G3.
    expect(at(0).sort()).toEqual([38, 50])
    expect(at(1).sort()).toEqual([29, 41, 53].filter((pitch) => neck.places.some((place) => place.pitch === pitch + 4)))
    expect(at(3).sort()).toEqual([30, 42, 54])
  })
})
