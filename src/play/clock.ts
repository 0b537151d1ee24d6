import type { ClockSeconds } from './note-output.ts'

/** The time that everything is played by. It never jumps, and it stands where nothing plays. */
export interface Clock {
  /** Makes it run. Called on a player's press, so that a browser lets it. @throws OutputError */
  start(): Promise<void>
  /** Nothing needs it any more: it may rest after a while. */
  stop(): void
  /** where the clock stands: notes for later than this can still sound */
  now(): ClockSeconds
  /** what is heard at this moment: behind `now` by the output's latency */
  heard(): ClockSeconds
  /** the moment when it is heard in milliseconds of `performance.now()`: for MIDI ports */
  toPerformanceMs(at: ClockSeconds): number
}
