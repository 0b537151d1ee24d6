import { bench, describe } from 'vitest'
import { writeMidi } from '../../src/files/midi-writer.ts'
import type { Performance, PlayedNote } from '../../src/music/performance.ts'

const NOTES: readonly PlayedNote[] = Array.from({ length: 100_000 }, (_, index) => ({
  startTick: 240 * index,
  endTick: 240 * index + 200,
  pitch: 28 + (index % 24),
  velocity: 60 + (index % 60),
}))

const LONG: Performance = {
  title: 'One hundred thousand notes',
  ticks: 240 * 100_000,
  tempo: [{ tick: 0, microsPerQuarter: 500000 }],
  metres: [{ tick: 0, upper: 4, lower: 4, beatTicks: 480 }],
  key: undefined,
  sections: [],
  chordNames: [],
  parts: [{ name: 'bass', program: 33, notes: NOTES }],
}

describe('writing MIDI (at most 150 ms is asked for)', () => {
  bench('100,000 notes', () => {
    writeMidi(LONG, 'player')
  })
})
