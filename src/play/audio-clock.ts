import type { Clock } from './clock.ts'
import { type ClockSeconds, OutputError } from './note-output.ts'

/** A browser that holds sound back never answers a resume; a device answers much sooner than this. Source: our design choice. */
const HELD_BACK_MS = 2000

/** A clock that was interrupted and does not move this long after it runs again is dead. Source: reports from iOS. */
const FROZEN_MS = 300

/** How long it runs on after a stop: the last notes ring, and a player mostly starts again. Source: our design choice. */
const REST_AFTER_MS = 10_000

/** The band renders on one thread: twice the rate is twice the work, and nobody hears it. */
const HIGHEST_RATE = 48_000

/** Share of a new measurement of the offset; measured alone they wander by 0.3 ms. */
const SMOOTHING = 0.1

/** The offset has jumped rather than wandered: the device has changed, or the machine has slept. */
const JUMP_MS = 20

/** Measured anew at most this often. */
const MEASURE_MS = 10

function wait(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms))
}

/** A context, suspended until a press; `undefined` where no audio device lets one be made. */
function createContext(): AudioContext | undefined {
  try {
    const context = new AudioContext()
    if (context.sampleRate <= HIGHEST_RATE) return context
    void context.close()
    return new AudioContext({ sampleRate: HIGHEST_RATE })
  } catch {
    return undefined
  }
}

/** Lets sound through the silent switch of a phone. Not yet in TypeScript's list of the browser's names. */
function claimPlayback(): void {
  const { audioSession } = navigator as Navigator & { audioSession?: { type: string } }
  if (audioSession) audioSession.type = 'playback'
}

/**
 * The clock of an audio context: all else is measured by it, since sound cannot wait. Without an audio device it goes by the page's
 * own clock, so that MIDI ports can be played on all the same.
 */
export class AudioClock implements Clock {
  readonly #lost: (error: OutputError) => void
  #context: AudioContext | undefined
  #created = false
  /** from a press to a stop */
  #wanted = false
  /** it has run since the press: if it stops by itself, that is news */
  #runs = false
  #interrupted = false
  #rest: ReturnType<typeof setTimeout> | undefined
  /** milliseconds of the page's clock minus the context's, when it is heard */
  #offsetMs: number | undefined
  #measuredAt = Number.NEGATIVE_INFINITY
  /** heard so far: where the audio thread has lost time, what is heard stands rather than goes back */
  #heard: ClockSeconds = 0

  /**
   * @param lost  called when the context stops by itself while it is wanted: a call came in, or the device is gone. What plays is to
   *   be stopped, and started again on a press
   */
  constructor(lost: (error: OutputError) => void = () => {}) {
    this.#lost = lost
  }

  /** The context that it goes by, another one after a phone has broken it; `undefined`: no audio device. */
  get context(): AudioContext | undefined {
    if (!this.#created || this.#context?.state === 'closed') this.#renew()
    return this.#context
  }

  async start(): Promise<void> {
    clearTimeout(this.#rest)
    claimPlayback()
    this.#wanted = true
    // A device may have been plugged in since.
    this.#created = this.#context !== undefined
    try {
      await this.#run()
      if (this.#interrupted && !(await this.#moves())) {
        void this.#context?.close()
        await this.#run()
      }
    } catch (error) {
      this.#wanted = false
      throw error
    }
    this.#interrupted = false
    this.#runs = this.#wanted
  }

  stop(): void {
    this.#wanted = false
    this.#runs = false
    clearTimeout(this.#rest)
    this.#rest = setTimeout(() => void this.#context?.suspend(), REST_AFTER_MS)
  }

  now(): ClockSeconds {
    return this.context?.currentTime ?? performance.now() / 1000
  }

  heard(): ClockSeconds {
    this.#heard = Math.max(this.#heard, Math.min(this.now(), (performance.now() - this.#offset()) / 1000))
    return this.#heard
  }

  toPerformanceMs(at: ClockSeconds): number {
    return at * 1000 + this.#offset()
  }

  #renew(): void {
    const context = createContext()
    this.#created = true
    this.#context = context
    this.#offsetMs = undefined
    this.#heard = 0
    if (!context) return
    const stopped = (error: OutputError) => {
      if (context !== this.#context || !this.#runs) return
      this.#runs = false
      this.#interrupted = true
      this.#lost(error)
    }
    context.addEventListener('statechange', () => {
      if (context.state === 'running') return
      stopped(new OutputError('sound/held-back', `The audio context is ${context.state}`))
    })
    context.addEventListener('error', () => stopped(new OutputError('sound/no-device', 'The audio device failed')))
    // A browser that lets it run at once need not.
    if (!this.#wanted) void context.suspend()
  }

  /** Resumes the context. Until the browser allows it the promise stays open, so it is not waited for alone. @throws OutputError */
  async #run(): Promise<void> {
    const { context } = this
    if (!context) return
    await Promise.race([context.resume().catch(() => {}), wait(HELD_BACK_MS)])
    if (context.state !== 'running') {
      throw new OutputError('sound/held-back', `The audio context is ${context.state} after a press`)
    }
  }

  async #moves(): Promise<boolean> {
    const before = this.now()
    await wait(FROZEN_MS)
    return this.now() !== before
  }

  /** What is to be added to the context's milliseconds, smoothed. */
  #offset(): number {
    const now = performance.now()
    if (this.#offsetMs !== undefined && now - this.#measuredAt < MEASURE_MS) return this.#offsetMs
    const measured = this.#measure(now)
    const wandered = measured - (this.#offsetMs ?? Number.NEGATIVE_INFINITY)
    this.#offsetMs = Math.abs(wandered) > JUMP_MS ? measured : this.#offsetMs! + wandered * SMOOTHING
    this.#measuredAt = now
    return this.#offsetMs
  }

  #measure(now: number): number {
    const { context } = this
    if (!context) return 0
    const { contextTime, performanceTime } = context.getOutputTimestamp?.() ?? {}
    // Before the first sound both are 0; then what stands next to be rendered is taken for what is heard.
    if (!contextTime || !performanceTime) return now - context.currentTime * 1000
    return performanceTime - contextTime * 1000
  }
}
