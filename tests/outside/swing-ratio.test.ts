import { describe, expect, it } from 'vitest'
import { JAZZ_WALTZ } from '../../src/feels/jazz-waltz.ts'
import { SHUFFLE } from '../../src/feels/shuffle.ts'
import { SWING_MEDIUM } from '../../src/feels/swing-medium.ts'
import { swingRatio, swungTick } from '../../src/rhythm/swing.ts'

// Friberg & Sundström 2002, Swing ratios and ensemble timing in jazz performance, Music Perception 19(3) 333-349: drummers'
// ratios go from up to 3.5:1 at slow tempos down to 1:1 at fast ones; the short note lasts about 100 ms at medium and fast tempos.
describe('swing against the tempo, as measured on drummers', () => {
  it.each([SWING_MEDIUM, JAZZ_WALTZ, SHUFFLE])(
    '$id has a ratio between 1 and 3.5 that never grows with the tempo',
    ({ swing }) => {
      let before = 3.5
      for (let bpm = 40; bpm <= 340; bpm += 5) {
        const ratio = swingRatio(swing, bpm)
        expect(ratio).toBeGreaterThanOrEqual(1)
        expect(ratio).toBeLessThanOrEqual(before)
        before = ratio
      }
    },
  )

  it('the short note of medium swing lasts about 100 ms from 200 to 300 bpm', () => {
    for (let bpm = 200; bpm <= 300; bpm += 10) {
      const ms = ((480 - swungTick(240, SWING_MEDIUM.swing, bpm)) * 60_000) / (480 * bpm)
      expect(Math.abs(ms - 100)).toBeLessThanOrEqual(15)
    }
  })
})
