import { readFileSync } from 'node:fs'
import { compose, performanceOf } from '../../src/compose.ts'
import type { Performance } from '../../src/music/performance.ts'
import { secondsAt } from '../../src/music/tempo-map.ts'
import type { BandNote, BandSound } from '../../src/sound/band-messages.ts'
import { BandSynth } from '../../src/sound/band-synth.ts'

export const SAMPLE_RATE = 48_000

/** A fresh copy of the bank's bytes. */
export function bankBytes(): ArrayBuffer {
  return new Uint8Array(readFileSync(new URL('../../src/sound/bank/band.sf3', import.meta.url))).buffer
}

/** A band with our bank, stopped. */
export async function loadBand(sampleRate: number = SAMPLE_RATE): Promise<BandSynth> {
  const loaded = await BandSynth.load(sampleRate, bankBytes())
  if (!loaded.ok) throw new Error(loaded.message)
  return loaded.band
}

/** The next frames of a band, a whole number of blocks. */
export function rendered(band: BandSynth, frames: number): readonly [Float32Array, Float32Array] {
  const length = Math.ceil(frames / 128) * 128
  const [left, right] = [new Float32Array(length), new Float32Array(length)]
  band.render(left, right)
  return [left, right]
}

/** Our own twelve bars, swung, as the band plays them. */
export function twelveBars(): Performance {
  const composition = compose(`
feel: swing-medium
tempo: 132

| F7 | Bb7 | F7 | F7 |
| Bb7 | Bb7 | F7 | D7 |
| Gm7 | C7 | F7 | C7 |
`)
  return performanceOf(composition, composition.lines[0]!)
}

/** The sounds of a performance. */
export function soundsOf(performance: Performance): readonly BandSound[] {
  return performance.parts.map(({ name, program }) => ({ part: name, program }))
}

/** The notes of a performance from a frame on. */
export function notesOf(performance: Performance, from: number, sampleRate: number = SAMPLE_RATE): readonly BandNote[] {
  const frameAt = (tick: number) => from + Math.round(secondsAt(performance.tempo, tick) * sampleRate)
  return performance.parts.flatMap(({ name, notes }) =>
    notes.map(({ startTick, endTick, pitch, velocity }) => ({
      part: name,
      pitch,
      velocity,
      startFrame: frameAt(startTick),
      endFrame: frameAt(endTick),
    })),
  )
}
