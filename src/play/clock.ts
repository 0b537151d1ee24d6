import type { ClockSeconds } from './note-output.ts'

/** The time that everything is played by. */
export interface Clock {
  /** where the clock stands: notes for later than this can still sound */
  now(): ClockSeconds
  /** what is heard at this moment: behind `now` by the output's latency */
  heard(): ClockSeconds
  /** the same moment in milliseconds of `performance.now()`, when it is heard: for MIDI ports */
  toPerformanceMs(at: ClockSeconds): number
}
