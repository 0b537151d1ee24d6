import { beforeAll, expect, test } from 'vitest'
import type { BandSynth } from '../../src/sound/band-synth.ts'
import { loadBand, notesOf, rendered, SAMPLE_RATE, soundsOf, twelveBars } from '../support/band.ts'
import { loudness, truePeak } from '../support/loudness.ts'

let band: BandSynth
beforeAll(async () => {
  band = await loadBand()
})

/** Our twelve bars as the whole band plays them, with other velocities or levels where they are given. */
function played(velocity?: number, decibels = 0): readonly [Float32Array, Float32Array] {
  const performance = twelveBars()
  band.stop()
  rendered(band, 3 * SAMPLE_RATE)
  for (const { name } of performance.parts) band.setLevel(name, decibels)
  band.start(soundsOf(performance))
  const notes = notesOf(performance, band.frame + 4800)
  band.play(velocity === undefined ? notes : notes.map((note) => ({ ...note, velocity })))
  return rendered(band, Math.max(...notes.map(({ endFrame }) => endFrame)) - band.frame + 1.5 * SAMPLE_RATE)
}

// ITU-R BS.1770-4, Annex 1: a sine of 997 Hz and full scale on one channel reads −3.01.
test('Our measure of loudness reads what the standard says of its sine', () => {
  const sine = Float32Array.from({ length: 5 * SAMPLE_RATE }, (_, frame) =>
    Math.sin((2 * Math.PI * 997 * frame) / SAMPLE_RATE),
  )
  expect(loudness(sine, new Float32Array(sine.length))).toBeCloseTo(-3.01, 2)
})

// ITU-R BS.1770-4, Annex 2: a sine of a quarter of the rate at 45°, whose samples stand 3 dB under its peak.
test('Our measure of the true peak finds the peak between the samples', () => {
  const sine = Float32Array.from({ length: 480 }, (_, frame) => Math.sin((Math.PI / 2) * frame + Math.PI / 4))
  expect(Math.max(...sine)).toBeCloseTo(Math.SQRT1_2, 5)
  expect(Math.abs(truePeak(sine.subarray(100)))).toBeLessThan(0.3)
})

// EBU R 128: programme level −23 LUFS, here within 1 LU; true peak under −1 dBFS.
test('The band plays twelve bars at −23 LUFS', () => {
  const sound = played()
  expect(loudness(...sound)).toBeGreaterThan(-24)
  expect(loudness(...sound)).toBeLessThan(-22)
  expect(truePeak(...sound)).toBeLessThan(-1)
})

test('With every velocity at 127 and every level 12 dB up no true peak is over −1 dBFS', () => {
  expect(truePeak(...played(127))).toBeLessThan(-1)
  expect(truePeak(...played(127, 12))).toBeLessThan(-1)
})
