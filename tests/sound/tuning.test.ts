import { beforeAll, expect, test } from 'vitest'
import type { BandSynth } from '../../src/sound/band-synth.ts'
import { loadBand, rendered, SAMPLE_RATE } from '../support/band.ts'

/** Frequencies by equal temperament. Source: ISO 16, A4 = 440 Hz. */
const hertzOf = (key: number) => 440 * 2 ** ((key - 69) / 12)

/** How likely a sound is to itself this much later, 1 for the same. */
function likeness(sound: Float32Array, lag: number): number {
  let [product, here, there] = [0, 0, 0]
  for (let frame = 0; frame + lag < sound.length; frame++) {
    const [a, b] = [sound[frame]!, sound[frame + lag]!]
    product += a * b
    here += a * a
    there += b * b
  }
  return product / Math.sqrt(here * there)
}

/**
 * By how many cents a sound is sharp, by its autocorrelation around as many periods as last 0.1 s: over that long the fundamental
 * outweighs the upper partials, which a stiff string has sharp by themselves.
 */
function centsSharp(sound: Float32Array, hertz: number): number {
  const period = SAMPLE_RATE / hertz
  const periods = Math.round((0.1 * SAMPLE_RATE) / period)
  const expected = periods * period
  const reach = Math.min(0.01 * expected, 0.45 * period)
  const lags = Array.from({ length: Math.ceil(2 * reach) }, (_, index) => Math.round(expected - reach) + index)
  const likes = lags.map((lag) => likeness(sound, lag))
  const best = likes.indexOf(Math.max(...likes))
  // The top of the parabola through the best and its neighbours.
  const [before, top, after] = [likes[best - 1]!, likes[best]!, likes[best + 1]!]
  const found = lags[best]! + (before - after) / (2 * (before - 2 * top + after))
  return 1200 * Math.log2(expected / found)
}

let band: BandSynth
beforeAll(async () => {
  band = await loadBand()
})

test.each([
  [32, 'acoustic'],
  [33, 'finger'],
  [34, 'pick'],
  [35, 'fretless'],
  [36, 'slap'],
  [37, 'slap, the second'],
])('Every key of bass %i (%s) from B0 to G4 is within 8 cents of its pitch', (program) => {
  for (let key = 23; key <= 67; key++) {
    band.stop()
    rendered(band, 0.04 * SAMPLE_RATE)
    band.start([{ part: 'bass', program }])
    const startFrame = band.frame
    band.play([{ part: 'bass', pitch: key, velocity: 100, startFrame, endFrame: startFrame + SAMPLE_RATE }])
    const [left] = rendered(band, 0.5 * SAMPLE_RATE)
    const sound = left.subarray(0.25 * SAMPLE_RATE, 0.5 * SAMPLE_RATE)
    expect(Math.abs(centsSharp(sound, hertzOf(key))), `key ${key}`).toBeLessThan(8)
  }
})
