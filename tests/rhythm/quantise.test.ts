import { describe, expect, it } from 'vitest'
import { read } from '../../src/compose.ts'
import { quantise } from '../../src/rhythm/quantise.ts'
import { STRAIGHT, type Swing, swungTick } from '../../src/rhythm/swing.ts'

const SWUNG: Swing = { level: 'eighth', points: [{ bpm: 120, ratio: 2 }] }
const FORM = read('| C | C | C | C |').form

/** Strokes that are played at these ticks, each held to the next. */
function strokesAt(...starts: readonly number[]) {
  return starts.map((start, i) => ({ start, end: (starts[i + 1] ?? 1920) - 10 }))
}

const placesOf = (starts: readonly number[], usual: Swing = STRAIGHT) =>
  quantise(strokesAt(...starts), FORM, usual, 120).strokes.map(({ startTick }) => startTick)

describe('Strokes', () => {
  it('go to the nearest place of the grid that explains their beat', () => {
    expect(placesOf([3, 476, 965, 1204, 1440])).toEqual([0, 480, 960, 1200, 1440])
    expect(placesOf([0, 158, 322, 480, 603, 717, 838])).toEqual([0, 160, 320, 480, 600, 720, 840])
  })

  it('are straight eighths that swing, as the feel does or as triplets', () => {
    const eighths = [0, 240, 480, 720, 960, 1200, 1440, 1680]
    const played = eighths.map((tick) => swungTick(tick, SWUNG, 120))
    expect(played.slice(0, 4)).toEqual([0, 320, 480, 800])
    expect(placesOf(played, SWUNG)).toEqual(eighths)
    expect(placesOf(played)).toEqual(eighths)
  })

  it('stay triplets where triplets are written', () => {
    expect(placesOf([0, 320, 480, 800], { level: 'written', points: [] })).toEqual([0, 320, 480, 800])
    // Two of three say it anyway.
    expect(placesOf([0, 160, 320, 480, 800, 960], SWUNG)).toEqual([0, 160, 320, 480, 720, 960])
  })

  it('are all late together, which is no moving', () => {
    const late = [0, 480, 960, 1440].map((tick) => tick + 14)
    expect(quantise(strokesAt(...late), FORM, STRAIGHT, 120)).toMatchObject({ late: 14, moved: 0, farthest: 0 })
  })

  it('say how many were moved, and how far', () => {
    expect(quantise(strokesAt(0, 480, 990, 1440), FORM, STRAIGHT, 120)).toMatchObject({
      late: 0,
      moved: 1,
      farthest: 30,
    })
  })

  it('last to the next, unless they end well before it', () => {
    const strokes = [
      { start: 0, end: 420 },
      { start: 480, end: 700 },
      { start: 1440, end: 1900 },
    ]
    expect(quantise(strokes, FORM, STRAIGHT, 120).strokes).toEqual([
      { startTick: 0, ticks: 480 },
      { startTick: 480, ticks: 240 },
      { startTick: 1440, ticks: 480 },
    ])
  })
})
