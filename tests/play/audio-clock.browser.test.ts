import { afterEach, describe, expect, test, vi } from 'vitest'
import { AudioClock } from '../../src/play/audio-clock.ts'
import { SoundOutput } from '../../src/play/sound-output.ts'

afterEach(() => {
  vi.useRealTimers()
  vi.unstubAllGlobals()
})

/** A context of a browser that holds sound back, or of a phone that was called: it does as it is told by a test. */
class StubbornContext extends EventTarget {
  static readonly made: StubbornContext[] = []
  readonly sampleRate = 48_000
  readonly allowed: boolean
  state = 'suspended'
  currentTime = 0

  constructor(allowed: boolean) {
    super()
    this.allowed = allowed
    StubbornContext.made.push(this)
  }

  resume(): Promise<void> {
    if (!this.allowed) return new Promise(() => {})
    this.state = 'running'
    return Promise.resolve()
  }

  suspend(): Promise<void> {
    return Promise.resolve()
  }

  close(): Promise<void> {
    this.state = 'closed'
    return Promise.resolve()
  }

  getOutputTimestamp(): AudioTimestamp {
    return { contextTime: 0, performanceTime: 0 }
  }

  /** Something that is none of ours stops it. */
  interrupt(): void {
    this.state = 'interrupted'
    this.dispatchEvent(new Event('statechange'))
  }
}

function stubContext(create: () => StubbornContext): void {
  StubbornContext.made.length = 0
  vi.stubGlobal(
    'AudioContext',
    class {
      constructor() {
        // biome-ignore lint/correctness/noConstructorReturn: what is made is of our class
        return create()
      }
    },
  )
}

describe('Without an audio device', () => {
  test('time goes on by the page’s clock, and only the built-in sound is missing', async () => {
    stubContext(() => {
      throw new DOMException('no device', 'NotSupportedError')
    })
    const clock = new AudioClock()
    expect(clock.context).toBeUndefined()
    await clock.start()
    expect(clock.now()).toBeGreaterThan(0)
    expect(clock.toPerformanceMs(2.5)).toBe(2500)
    expect(clock.heard()).toBeLessThanOrEqual(clock.now())
    await expect(new SoundOutput(clock).prepare()).rejects.toMatchObject({ code: 'sound/no-device' })
    clock.stop()
  })
})

describe('A browser that holds sound back', () => {
  test('is waited for two seconds, not for ever', async () => {
    vi.useFakeTimers()
    stubContext(() => new StubbornContext(false))
    const started = expect(new AudioClock().start()).rejects.toMatchObject({ code: 'sound/held-back' })
    await vi.advanceTimersByTimeAsync(2000)
    await started
  })
})

describe('A context that was interrupted', () => {
  test('is told of once, and replaced where it runs again but its time stands', async () => {
    vi.useFakeTimers()
    stubContext(() => new StubbornContext(true))
    const codes: string[] = []
    const clock = new AudioClock((error) => codes.push(error.code))
    await clock.start()
    StubbornContext.made[0]!.interrupt()
    StubbornContext.made[0]!.interrupt()
    expect(codes).toEqual(['sound/held-back'])
    clock.stop()
    const started = clock.start()
    await vi.advanceTimersByTimeAsync(300)
    await started
    expect(StubbornContext.made.map((context) => context.state)).toEqual(['closed', 'running'])
  })

  test('is no news where the player has stopped', async () => {
    vi.useFakeTimers()
    stubContext(() => new StubbornContext(true))
    const codes: string[] = []
    const clock = new AudioClock((error) => codes.push(error.code))
    await clock.start()
    clock.stop()
    StubbornContext.made[0]!.interrupt()
    expect(codes).toEqual([])
  })
})
