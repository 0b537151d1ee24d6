import { describe, expect, test } from 'vitest'
import {
  barTicks,
  beatsOf,
  countTicks,
  formatMetre,
  isCompound,
  METRES,
  metreOf,
  middlesOf,
  tempoBeatTicks,
} from '../../src/music/metre.ts'

describe('a metre has bar, beats and middles in ticks, 480 to the quarter', () => {
  // metre, bar, beats, where its strong halves or groups begin
  test.each([
    ['2/4', 960, [480, 480], []],
    ['3/4', 1440, [480, 480, 480], []],
    ['4/4', 1920, [480, 480, 480, 480], [960]],
    ['5/4', 2400, [480, 480, 480, 480, 480], [1440]],
    ['6/8', 1440, [720, 720], [720]],
    ['7/8', 1680, [480, 480, 720], [480, 960]],
    ['9/8', 2160, [720, 720, 720], []],
    ['12/8', 2880, [720, 720, 720, 720], [1440]],
  ])('%s: a bar of %i', (text, bar, beats, middles) => {
    const metre = metreOf(text)!
    expect(barTicks(metre)).toBe(bar)
    expect(beatsOf(metre)).toEqual(beats)
    expect(middlesOf(metre)).toEqual(middles)
    expect(formatMetre(metre)).toBe(text)
    expect(metre.groups.reduce((sum, group) => sum + group)).toBe(metre.upper)
    expect(beats.reduce((sum, beat) => sum + beat)).toBe(bar)
  })
})

test('groups may be given and add up to the upper figure', () => {
  expect(beatsOf(metreOf('7/8', [3, 2, 2])!)).toEqual([720, 480, 480])
  expect(middlesOf(metreOf('5/4', [2, 3])!)).toEqual([960])
  expect(metreOf('7/8', [3, 3])).toBeUndefined()
})

test('a tempo counts dotted quarters in 6/8, 9/8 and 12/8, quarters elsewhere', () => {
  expect(METRES.filter((text) => isCompound(metreOf(text)!))).toEqual(['6/8', '9/8', '12/8'])
  for (const text of METRES) {
    const metre = metreOf(text)!
    expect(tempoBeatTicks(metre)).toBe(isCompound(metre) ? 720 : 480)
    expect(countTicks(metre)).toBe(text.endsWith('/8') ? 240 : 480)
  }
})

test('other metres are not offered', () => {
  for (const text of ['11/8', '4/2', '0/4', '4', '', '4/4 ']) expect(metreOf(text)).toBeUndefined()
})
