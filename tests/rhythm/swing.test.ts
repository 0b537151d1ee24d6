import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { SWING_MEDIUM } from '../../src/feels/swing-medium.ts'
import { STRAIGHT, type Swing, swingRatio, swungTick } from '../../src/rhythm/swing.ts'

function swing(level: Swing['level'], ratio: number): Swing {
  return { level, points: [{ bpm: 120, ratio }] }
}

describe('swing at the eighth', () => {
  // long, short, off-beat in per cent of the beat, off-beat tick
  it.each([
    [1, 1, 50, 240],
    [5, 4, 55.56, 267],
    [6, 5, 54.55, 262],
    [4, 3, 57.14, 274],
    [3, 2, 60, 288],
    [5, 3, 62.5, 300],
    [2, 1, 66.67, 320],
    [5, 2, 71.43, 343],
    [3, 1, 75, 360],
    [7, 2, 77.78, 373],
  ])('%d to %d puts the off-beat at %d %% of the beat, tick %d', (long, short, share, tick) => {
    const offBeat = swungTick(240, swing('eighth', long / short), 120)
    expect((offBeat / 480) * 100).toBeCloseTo(share, 1)
    expect(Math.round(offBeat)).toBe(tick)
  })

  it.each([
    [0, 0],
    [60, 80],
    [120, 160],
    [180, 240],
    [240, 320],
    [300, 360],
    [360, 400],
    [420, 440],
    [480, 480],
  ])('two to one maps tick %d to %d on straight lines', (written, played) => {
    expect(swungTick(written, swing('eighth', 2), 120)).toBeCloseTo(played, 9)
  })

  it('leaves triplet places where they are', () => {
    for (const tick of [80, 160, 320, 400, 640, 800]) expect(swungTick(tick, swing('eighth', 3), 120)).toBe(tick)
  })
})

describe('swing at the sixteenth', () => {
  it.each([
    [1.1, 126, 366],
    [1.2, 131, 371],
    [1.25, 133, 373],
    [1.3, 136, 376],
    [1.5, 144, 384],
    [2, 160, 400],
  ])('%d to one puts e at tick %d and a at tick %d', (ratio, e, a) => {
    expect(Math.round(swungTick(120, swing('sixteenth', ratio), 120))).toBe(e)
    expect(Math.round(swungTick(360, swing('sixteenth', ratio), 120))).toBe(a)
    expect(swungTick(240, swing('sixteenth', ratio), 120)).toBe(240)
  })
})

describe('swing by tempo', () => {
  // bpm, ratio, off-beat tick, length of the short note in ms
  it.each([
    [80, 2.11, 326, 241],
    [100, 2.11, 326, 193],
    [112, 2.11, 326, 172],
    [120, 2.104, 325, 161],
    [144, 2.048, 323, 137],
    [160, 1.952, 317, 127],
    [180, 1.875, 313, 116],
    [200, 1.736, 305, 110],
    [220, 1.572, 293, 106],
    [240, 1.432, 283, 103],
    [260, 1.312, 272, 100],
    [280, 1.264, 268, 95],
    [300, 1.23, 265, 90],
    [320, 1.23, 265, 84],
  ])('medium swing at %d bpm has ratio %d: off-beat at tick %d, short note %d ms', (bpm, ratio, tick, ms) => {
    const offBeat = swungTick(240, SWING_MEDIUM.swing, bpm)
    expect(Math.abs(swingRatio(SWING_MEDIUM.swing, bpm) - ratio)).toBeLessThanOrEqual(0.000501)
    expect(Math.round(offBeat)).toBe(tick)
    expect(Math.round(((480 - offBeat) * 60_000) / (480 * bpm))).toBe(ms)
  })

  it('needs a point where a ratio is asked for', () => {
    expect(() => swingRatio({ level: 'eighth', points: [] }, 120)).toThrow(RangeError)
  })
})

describe('places played', () => {
  it('are as written without swing, and where triplets are in the notation', () => {
    for (const level of ['none', 'written'] as const)
      for (const tick of [0, 120, 240, 360, 480, 1750]) expect(swungTick(tick, { level, points: [] }, 140)).toBe(tick)
    expect(swungTick(240, STRAIGHT, 60)).toBe(240)
  })

  it('come early on the third and fourth eighth of each half bar in samba', () => {
    const samba: Swing = { level: 'samba', points: [] }
    // 10 and 15 ms at 100 quarters a minute are 8 and 12 ticks.
    const places = [0, 240, 480, 720, 960, 1440, 1680].map((tick) => swungTick(tick, samba, 100))
    expect(places).toEqual([0, 240, 472, 708, 960, 1432, 1668])
  })

  it('keep their order, the beats stay, and nothing leaves its beat', () => {
    const swings = fc.constantFrom(
      swing('eighth', 3.5),
      swing('eighth', 1.3),
      swing('sixteenth', 1.5),
      SWING_MEDIUM.swing,
    )
    const grid = fc.nat({ max: 400 }).map((n) => n * 30)
    // Triplets stay while their neighbours move, so the order holds on either grid.
    const isTriplet = (tick: number) => tick % 40 === 0 && tick % 60 !== 0
    fc.assert(
      fc.property(swings, grid, grid, fc.integer({ min: 40, max: 320 }), (any, a, b, bpm) => {
        const [first, second] = [swungTick(a, any, bpm), swungTick(b, any, bpm)]
        if (isTriplet(a) === isTriplet(b)) expect(Math.sign(first - second)).toBe(Math.sign(a - b))
        expect(Math.floor(first / 480)).toBe(Math.floor(a / 480))
        if (a % 480 === 0) expect(first).toBe(a)
      }),
      { seed: 5, numRuns: process.env['SOAK'] ? 10_000 : 1_000 },
    )
  })
})
