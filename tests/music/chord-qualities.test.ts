import { describe, expect, test } from 'vitest'
import { CHORD_QUALITIES, type ChordQuality } from '../../src/music/chord-qualities.ts'
import { type Degree, formatDegree, semitonesOf } from '../../src/music/degree.ts'
import { pitchClassOf } from '../../src/music/pitch.ts'
import { bitsOf } from '../../src/music/scale.ts'
import { scaleOf } from '../../src/music/scales.ts'

/** The plain fifth: where the chord has another in its place it is neither tension nor note to avoid. */
const FIFTH = 7

const words = (degrees: readonly Degree[]): readonly string[] => degrees.map(formatDegree)
const qualityOf = (id: string): ChordQuality => CHORD_QUALITIES.find((quality) => quality.id === id)!
const pitchClassesOf = (degrees: readonly Degree[]): readonly number[] =>
  degrees.map((degree) => pitchClassOf(semitonesOf(degree)))

test('there are 84 qualities, no two of one id, suffix, name or set of tones', () => {
  expect(CHORD_QUALITIES).toHaveLength(84)
  for (const of of [
    (quality: ChordQuality) => quality.id,
    (quality: ChordQuality) => quality.suffix,
    (quality: ChordQuality) => quality.name,
    (quality: ChordQuality) => words(quality.degrees).join(' '),
  ])
    expect(new Set(CHORD_QUALITIES.map(of)).size).toBe(84)
})

describe.each(CHORD_QUALITIES)('$id', (quality) => {
  const { degrees, tensions, tensionsOutside, avoid, guideTones, bassRank, open } = quality
  const scale = scaleOf(quality.scale)!

  test('has tones that rise from the root and sound apart', () => {
    expect(words(degrees)[0]).toBe('1')
    const semitones = degrees.map(semitonesOf)
    expect(semitones).toEqual([...semitones].sort((a, b) => a - b))
    expect(new Set(pitchClassesOf(degrees)).size).toBe(degrees.length)
  })

  test('takes guide tones and rank from its tones', () => {
    expect(words(degrees)).toEqual(expect.arrayContaining([...words(guideTones)]))
    expect([...words(bassRank)].sort()).toEqual([...words(degrees)].sort())
    expect(words(bassRank)[0]).toBe('1')
  })

  test('has a default scale that holds it, and other scales that exist', () => {
    expect(bitsOf(scale.degrees) & bitsOf(degrees)).toBe(bitsOf(degrees))
    for (const id of quality.scalesAlso) {
      expect(scaleOf(id), id).toBeDefined()
      expect(id).not.toBe(quality.scale)
    }
  })

  test('parts the rest of its scale into tensions, notes to avoid and what it leaves open, but for a fifth it replaces', () => {
    const among = (these: readonly Degree[], those: readonly Degree[]) =>
      pitchClassesOf(these).filter((pitchClass) => pitchClassesOf(those).includes(pitchClass))
    expect(among(tensions, degrees)).toEqual([])
    expect(among(tensionsOutside, degrees)).toEqual([])
    expect(among(avoid, degrees)).toEqual([])
    expect(among(tensions, avoid)).toEqual([])
    expect(among(tensionsOutside, scale.degrees)).toEqual([])
    const kept = [...tensions, ...avoid, ...open, ...degrees]
    expect(among(tensions, scale.degrees)).toHaveLength(tensions.length)
    expect(among(avoid, scale.degrees)).toHaveLength(avoid.length)
    const left = pitchClassesOf(scale.degrees).filter((pitchClass) => !pitchClassesOf(kept).includes(pitchClass))
    expect(left.filter((pitchClass) => pitchClass !== FIFTH)).toEqual([])
  })
})

describe('a bass line prefers', () => {
  // id, tones, best first
  test.each([
    ['major', '1 5 3'],
    ['dominant-7', '1 5 3 b7'],
    ['half-diminished', '1 b5 b3 b7'],
    ['diminished-7', '1 b5 b3 bb7'],
    ['augmented', '1 #5 3'],
    ['dominant-7-sharp-5', '1 3 b7 #5'],
    ['altered', '1 3 b7 #5 b5 b9 #9'],
    ['sus4', '1 5 4'],
  ])('over %s: %s', (id, rank) => {
    expect(words(qualityOf(id).bassRank).join(' ')).toBe(rank)
  })
})

describe('the tones that tell a chord are', () => {
  test.each([
    ['minor-7', 'b3 b7'],
    ['major-6', '3 6'],
    ['diminished-7', 'b3 bb7'],
    ['dominant-7-sus4', '4 b7'],
    ['augmented', '3 #5'],
    ['power', ''],
  ])('of %s: %s', (id, guides) => {
    expect(words(qualityOf(id).guideTones).join(' ')).toBe(guides)
  })
})

describe('a note to avoid lies a half-step above a chord tone', () => {
  test.each([
    ['major-7', '4'],
    ['dominant-7', '4'],
    ['minor-7', ''],
    ['half-diminished', 'b2'],
    ['major-7-sharp-11', ''],
  ])('%s: %s', (id, expected) => {
    const own = qualityOf(id).avoid.map((degree) => formatDegree({ ...degree, number: ((degree.number - 1) % 7) + 1 }))
    expect(own.join(' ')).toBe(expected)
  })

  test('and only b9, #9 and b13 over a dominant do not clash', () => {
    for (const { id, family, avoid, degrees, scale, open } of CHORD_QUALITIES) {
      const low = pitchClassesOf(degrees.filter((degree) => degree.number < 8))
      const tones = pitchClassesOf(degrees)
      const clashes = pitchClassesOf(scaleOf(scale)!.degrees).filter(
        (at) =>
          !tones.includes(at) &&
          at !== FIFTH &&
          !pitchClassesOf(open).includes(at) &&
          low.includes(pitchClassOf(at - 1)) &&
          !(family === 'dominant' && [1, 3, 8].includes(at)),
      )
      expect([...pitchClassesOf(avoid)].sort(), id).toEqual([...clashes].sort())
    }
  })
})
