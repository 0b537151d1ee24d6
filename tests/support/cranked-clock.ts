import type { Clock } from '../../src/play/clock.ts'
import type { ClockSeconds } from '../../src/play/note-output.ts'

/** Time that goes on only where a test turns it. */
export class CrankedClock implements Clock {
  /** from `now` to what is heard */
  readonly latency: ClockSeconds
  running = false
  #seconds: ClockSeconds

  constructor(seconds: ClockSeconds = 0, latency: ClockSeconds = 0.04) {
    this.#seconds = seconds
    this.latency = latency
  }

  start(): Promise<void> {
    this.running = true
    return Promise.resolve()
  }

  stop(): void {
    this.running = false
  }

  now(): ClockSeconds {
    return this.#seconds
  }

  heard(): ClockSeconds {
    return this.#seconds - this.latency
  }

  toPerformanceMs(at: ClockSeconds): number {
    return (at + this.latency) * 1000
  }

  /** Turns it on, calling `tick` every 25 ms as the look-ahead does. */
  crank(seconds: ClockSeconds, tick: () => void, every: ClockSeconds = 0.025): void {
    const to = this.#seconds + seconds
    for (;;) {
      this.#seconds = Math.min(to, this.#seconds + every)
      tick()
      if (this.#seconds >= to) return
    }
  }
}
