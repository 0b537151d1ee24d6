import { describe, expect, test } from 'vitest'
import { barLinesOf, scoreMusic } from '../../src/play/score.ts'
import { loopOf, performanceOf } from '../support/loop.ts'

describe('Bar lines and beats', () => {
  test('of a pick-up and of several metres stand where each begins', () => {
    const metres = [
      { tick: 0, upper: 1, lower: 4, beatTicks: 480 },
      { tick: 480, upper: 7, lower: 8, beatTicks: 480 },
      { tick: 480 + 1680, upper: 6, lower: 8, beatTicks: 720 },
    ]
    const performance = { ...performanceOf('28'), metres, ticks: 480 + 1680 + 2880 }
    expect(barLinesOf(performance)).toEqual([0, 480, 2160, 3600])
    // The last beat of 7/8 is cut short by the bar line.
    expect(scoreMusic({ first: performance, again: performance }).beats).toEqual([
      ...[0, 480, 960, 1440, 1920],
      ...[2160, 2880, 3600, 4320],
    ])
  })
})

describe('Music', () => {
  test('of all parts is laid out in order of time', () => {
    const loop = performanceOf('28 31')
    const parts = [...loop.parts, { ...performanceOf('36 . 38 .').parts[0]!, name: 'drums' as const }]
    const score = scoreMusic({ first: { ...loop, parts }, again: loop }).first
    expect(score.notes.map((note) => `${note.part} ${note.pitch}`)).toEqual([
      'bass 28',
      'drums 36',
      'bass 31',
      'drums 38',
    ])
  })

  test('without a bar, or of another length when it comes again, is a mistake of the caller', () => {
    const empty = { ...performanceOf('28'), ticks: 0 }
    expect(() => scoreMusic({ first: empty, again: empty })).toThrow(RangeError)
    expect(() => scoreMusic({ first: performanceOf('28'), again: performanceOf('28 | 28') })).toThrow(RangeError)
    expect(() => scoreMusic({ ...loopOf('28'), first: { ...performanceOf('28'), tempo: [] } })).toThrow(RangeError)
  })
})
