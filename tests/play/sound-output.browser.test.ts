import { afterEach, describe, expect, test, vi } from 'vitest'
import { AudioClock } from '../../src/play/audio-clock.ts'
import { LookAhead } from '../../src/play/look-ahead.ts'
import type { OutputError } from '../../src/play/note-output.ts'
import { SoundOutput } from '../../src/play/sound-output.ts'
import { Transport } from '../../src/play/transport.ts'
import { loopOf } from '../support/loop.ts'

const contexts: AudioContext[] = []
afterEach(async () => {
  for (const context of contexts.splice(0)) if (context.state !== 'closed') await context.close()
})

/** Everything that sounds, as a page has it. */
async function instrument() {
  const losses: OutputError[] = []
  const clock = new AudioClock((error) => losses.push(error))
  const output = new SoundOutput(clock, (error) => losses.push(error))
  await output.prepare()
  contexts.push(clock.context!)
  const transport = new Transport(clock, output)
  const lookAhead = new LookAhead(() => transport.advance())
  return { clock, output, transport, lookAhead, losses }
}

function seconds(count: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, count * 1000))
}

/** Keeps the page busy, so that nothing else runs on it. */
function block(ms: number): void {
  const until = performance.now() + ms
  while (performance.now() < until);
}

const SIXTEENTHS = '28 29 30 31 32 33 34 35 36 37 38 39 40 41 42 43'

describe('The built-in sound', () => {
  test('gets no note late while the page is blocked for 300 ms each second, and is silent after a stop', async () => {
    const { output, transport, lookAhead, losses } = await instrument()
    await transport.play(loopOf(SIXTEENTHS, { bpm: 150, share: 0.8 }))
    lookAhead.start()
    let most = 0
    for (let second = 0; second < 5; second++) {
      await seconds(0.7)
      most = Math.max(most, (await output.counts())?.voices ?? 0)
      if (second === 2) transport.setTempo(200)
      block(300)
    }
    expect(most).toBeGreaterThan(0)
    expect(transport.place()?.pass).toBeGreaterThan(1)
    expect(await output.counts()).toMatchObject({ late: 0, dropped: 0 })
    transport.stop()
    lookAhead.stop()
    await vi.waitFor(async () => expect(await output.counts()).toEqual({ late: 0, dropped: 0, voices: 0 }))
    expect(losses).toEqual([])
  })

  test('says that it was interrupted, and plays again on a press', async () => {
    const { clock, output, transport, losses } = await instrument()
    await transport.play(loopOf('28 31 33 35'))
    await seconds(0.2)
    await clock.context!.suspend()
    await vi.waitFor(() => expect(losses.map((error) => error.code)).toEqual(['sound/held-back']))
    transport.stop()
    await transport.play(loopOf('28 31 33 35'))
    expect(clock.context!.state).toBe('running')
    await vi.waitFor(async () => expect((await output.counts())?.voices).toBeGreaterThan(0))
    transport.stop()
    expect(losses.length).toBe(1)
  })

  test('cannot be prepared without its bank, and the clock runs all the same', async () => {
    const clock = new AudioClock()
    contexts.push(clock.context!)
    const output = new SoundOutput(clock, undefined, '/no-such-bank.bin')
    await expect(output.prepare()).rejects.toMatchObject({ name: 'OutputError', code: 'sound/bank' })
    await expect(output.start([])).rejects.toMatchObject({ code: 'sound/bank' })
    await clock.start()
    const before = clock.now()
    await vi.waitFor(() => expect(clock.now()).toBeGreaterThan(before))
    clock.stop()
  })
})

describe('The audio clock', () => {
  test('stands before a press, and then is heard behind where it stands and never goes back', async () => {
    const clock = new AudioClock()
    contexts.push(clock.context!)
    expect(clock.now()).toBe(0)
    expect(clock.toPerformanceMs(1)).toBeCloseTo(performance.now() + 1000, -2)
    await clock.start()
    await vi.waitFor(() => expect(clock.heard()).toBeGreaterThan(0))
    let last = clock.heard()
    for (let look = 0; look < 30; look++) {
      await seconds(0.02)
      const heard = clock.heard()
      expect(heard).toBeGreaterThanOrEqual(last)
      expect(heard).toBeLessThanOrEqual(clock.now())
      last = heard
    }
    expect(clock.toPerformanceMs(last) - clock.toPerformanceMs(last - 1)).toBeCloseTo(1000, 6)
    clock.stop()
  })
})
