import { describe, expect, test } from 'vitest'
import { metreOf } from '../../src/music/metre.ts'
import { microsPerQuarterOf, quartersPerMinute, secondsAt, ticksOfMs } from '../../src/music/tempo-map.ts'

describe('tempo', () => {
  // round(60,000,000 / bpm), as SMF 1.0 words the Set Tempo event.
  test.each([
    [40, 1500000],
    [66, 909091],
    [72, 833333],
    [90, 666667],
    [92, 652174],
    [108, 555556],
    [120, 500000],
    [126, 476190],
    [132, 454545],
    [138, 434783],
    [144, 416667],
    [160, 375000],
    [174, 344828],
    [190, 315789],
    [208, 288462],
    [240, 250000],
    [320, 187500],
  ])('%i quarters a minute are %i microseconds a quarter', (bpm, micros) => {
    expect(microsPerQuarterOf(bpm)).toBe(micros)
  })

  test('counts dotted quarters in compound metres: 60 are 90 quarters a minute', () => {
    expect(microsPerQuarterOf(quartersPerMinute(60, metreOf('12/8')!))).toBe(666667)
    expect(microsPerQuarterOf(quartersPerMinute(60, metreOf('7/8')!))).toBe(1000000)
  })

  test('is as slow as 24 bits of microseconds allow, and no slower', () => {
    expect(microsPerQuarterOf(3.57628)).toBeLessThanOrEqual(0xffffff)
    for (const bpm of [3.5, 0, -60, Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => microsPerQuarterOf(bpm)).toThrow(RangeError)
  })
})

describe('time', () => {
  test('runs through changes of tempo', () => {
    const map = [
      { tick: 0, microsPerQuarter: 500000 },
      { tick: 960, microsPerQuarter: 1000000 },
    ]
    expect([0, 480, 960, 1440].map((tick) => secondsAt(map, tick))).toEqual([0, 0.5, 1, 2])
  })

  test('needs a tempo at the start', () => {
    expect(() => secondsAt([], 0)).toThrow(RangeError)
    expect(() => secondsAt([{ tick: 1, microsPerQuarter: 500000 }], 0)).toThrow(RangeError)
  })

  test.each([
    [5, 120, 4.8],
    [10, 120, 9.6],
    [10, 100, 8],
    [16, 88, 11.3],
    [19, 120, 18.2],
    [30, 150, 36],
  ])('%i milliseconds at %i are %d ticks', (ms, bpm, ticks) => {
    expect(ticksOfMs(ms, microsPerQuarterOf(bpm))).toBeCloseTo(ticks, 1)
  })
})
