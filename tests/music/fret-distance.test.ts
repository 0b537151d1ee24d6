import { describe, expect, it } from 'vitest'
import { fromNut } from '../../src/music/fret-distance.ts'
import { INSTRUMENTS } from '../../src/music/instruments.ts'
import { nutTo } from '../support/hand.ts'

/** Millimetres from the nut, by string length in tenths of a millimetre; from a table of its own, made from the rule of the twelfth root. */
const MILLIMETRES: readonly (readonly [scale: number, fret: number, mm: number])[] = [
  [8636, 1, 48.5],
  [8636, 2, 94.2],
  [8636, 3, 137.4],
  [8636, 5, 216.6],
  [8636, 7, 287.2],
  [8636, 12, 431.8],
  [8890, 1, 49.9],
  [8890, 5, 223.0],
  [7620, 1, 42.8],
  [7620, 3, 121.2],
  [7620, 9, 308.9],
  [10600, 1, 59.5],
  [10600, 4, 218.7],
  [10600, 12, 530.0],
]

describe('the distance of a fret from the nut', () => {
  it.each(MILLIMETRES)('on a string of %d tenths of a millimetre, fret %d: %d mm', (scale, fret, mm) => {
    expect(Math.abs(fromNut(scale, fret) - 10 * mm)).toBeLessThanOrEqual(0.5)
  })

  it('is that of the formula on every bass', () => {
    for (const bass of INSTRUMENTS)
      for (let fret = 0; fret <= bass.frets; fret++) expect(fromNut(bass.scale, fret)).toBe(nutTo(bass, fret))
  })

  it('is refused beyond two octaves', () => {
    expect(() => fromNut(8636, 25)).toThrow(RangeError)
  })
})
