import { expect, test } from 'vitest'
import type { BandNote } from '../../src/sound/band-messages.ts'
import { type BandNode, openBand } from '../../src/sound/band-node.ts'
import { BandSynth } from '../../src/sound/band-synth.ts'
import bankUrl from '../../src/sound/bank/band.sf3?url'

const SAMPLE_RATE = 48_000

/** Two bars: bass on the beats, chords and drums around them. */
const NOTES: readonly BandNote[] = Array.from({ length: 8 }, (_, beat) => {
  const startFrame = 1000 + beat * 21_818
  return [
    { part: 'bass', pitch: 29 + beat, velocity: 96, startFrame, endFrame: startFrame + 20_000 },
    { part: 'chords', pitch: 57 + beat, velocity: 70, startFrame: startFrame + 14_545, endFrame: startFrame + 21_000 },
    { part: 'drums', pitch: 51, velocity: 90, startFrame, endFrame: startFrame + 5000 },
    { part: 'click', pitch: 76, velocity: 80, startFrame, endFrame: startFrame + 2000 },
  ] satisfies readonly BandNote[]
}).flat()
const SOUNDS = [{ part: 'bass', program: 32 }] as const

async function opened(context: BaseAudioContext): Promise<BandNode> {
  const result = await openBand(context)
  if (!result.ok) throw new Error(result.message)
  result.band.connect(context.destination)
  return result.band
}

test('The audio thread renders the very samples that the band renders elsewhere', async () => {
  const frames = 4 * SAMPLE_RATE
  const context = new OfflineAudioContext(2, frames, SAMPLE_RATE)
  const node = await opened(context)
  node.start(SOUNDS)
  node.setLevel('drums', -3)
  node.play(NOTES)
  node.takeBackFrom(1000 + 6 * 21_818)
  await node.counts()
  const heard = await context.startRendering()

  const loaded = await BandSynth.load(SAMPLE_RATE, await (await fetch(bankUrl)).arrayBuffer())
  if (!loaded.ok) throw new Error(loaded.message)
  const { band } = loaded
  band.start(SOUNDS)
  band.setLevel('drums', -3)
  band.play(NOTES)
  band.takeBackFrom(1000 + 6 * 21_818)
  const channels = [new Float32Array(frames), new Float32Array(frames)] as const
  band.render(...channels)
  for (const [index, channel] of channels.entries()) {
    const other = heard.getChannelData(index)
    expect(channel.some((height) => Math.abs(height) > 0.05)).toBe(true)
    expect(channel.findIndex((height, frame) => height !== other[frame])).toBe(-1)
  }
})

test('On a running context the band counts what comes late, and is silent after a stop', async () => {
  const context = new AudioContext()
  try {
    const node = await opened(context)
    const meter = new AnalyserNode(context)
    node.connect(meter)
    await context.resume()
    node.start(SOUNDS)
    const now = Math.round(context.currentTime * context.sampleRate)
    // One from long ago, and enough of them ahead for the slowest machine.
    const beats = [-10, ...Array.from({ length: 100 }, (_, beat) => 0.2 + beat / 2)]
    node.play(
      beats.map((seconds): BandNote => {
        const startFrame = now + Math.round(seconds * context.sampleRate)
        return { part: 'bass', pitch: 40, velocity: 100, startFrame, endFrame: startFrame + 20_000 }
      }),
    )
    await until(async () => (await node.counts()).voices > 0)
    expect((await node.counts()).dropped).toBeGreaterThan(0)
    const peak = () => {
      const wave = new Float32Array(meter.fftSize)
      meter.getFloatTimeDomainData(wave)
      return Math.max(...wave)
    }
    await until(async () => peak() > 0.01)
    node.stop()
    await until(async () => (await node.counts()).voices === 0)
    await until(async () => peak() === 0)
  } finally {
    await context.close()
  }
})

async function until(holds: () => Promise<boolean>): Promise<void> {
  while (!(await holds())) await new Promise((resolve) => setTimeout(resolve))
}

test.each([
  ['cannot be fetched', 'http://localhost:1/band.sf3', 'bank-missing'],
  ['is not there', URL.createObjectURL(new Blob()).replace(/.$/, ''), 'bank-missing'],
  ['is a page instead', 'data:text/html,<title>Not found</title>', 'bank-damaged'],
  ['is empty', 'data:,', 'bank-damaged'],
])('Where the bank %s, that is the fault', async (_, url, fault) => {
  const context = new OfflineAudioContext(2, 128, SAMPLE_RATE)
  expect(await openBand(context, url)).toMatchObject({ ok: false, fault })
})
