import { describe, expect, test } from 'vitest'
import { writeMidi } from '../../src/files/midi-writer.ts'
import type { Performance, PlayedNote, PlayedPart } from '../../src/music/performance.ts'

function hex(bytes: Uint8Array): string {
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join(' ')
}

function note(startTick: number, endTick: number, pitch = 28, velocity = 100): PlayedNote {
  return { startTick, endTick, pitch, velocity }
}

/** A bar of 6/8 in E flat: the low E twice, a chord symbol in the middle. */
const BLUES: Performance = {
  title: 'Blues',
  ticks: 1440,
  tempo: [{ tick: 0, microsPerQuarter: 500000 }],
  metres: [{ tick: 0, upper: 6, lower: 8, beatTicks: 720 }],
  key: { tonic: { letter: 'E', alter: -1 }, mode: 'major', sharps: -3 },
  sections: [{ tick: 0, text: 'A' }],
  chordNames: [{ tick: 720, text: 'B♭7' }],
  parts: [{ name: 'bass', program: 33, notes: [note(0, 720), note(720, 1440, 28, 96)] }],
}

function withNotes(notes: readonly PlayedNote[], part: Partial<PlayedPart> = {}): Performance {
  return { ...BLUES, parts: [{ name: 'bass', program: 33, ...part, notes }] }
}

/** The bytes of an event somewhere in the file. */
function holds(performance: Performance, bytes: string): boolean {
  return hex(writeMidi(performance, 'player')).includes(bytes)
}

describe('a standard MIDI file', () => {
  test('is these 117 bytes, group by group', () => {
    // Every group by the wording of SMF 1.0; read as meant by three independent readers.
    const groups = [
      '4d 54 68 64 00 00 00 06', // MThd, six bytes
      '00 01 00 02 01 e0', //       format 1, two tracks, 480 to the quarter
      '4d 54 72 6b 00 00 00 32', // MTrk, 50 bytes: the conductor
      '00 ff 03 05 42 6c 75 65 73', // title: Blues
      '00 ff 51 03 07 a1 20', //    500,000 microseconds a quarter
      '00 ff 58 04 06 03 24 08', // 6/8, 36 clocks to the dotted beat, 8 thirty-seconds a quarter
      '00 ff 59 02 fd 00', //       three flats, major
      '00 ff 06 01 41', //          marker: A
      '85 50 ff 01 05 42 e2 99 ad 37', // 720 ticks later, text: B♭7 in UTF-8
      '85 50 ff 2f 00', //          720 ticks later the bar line: end of track
      '4d 54 72 6b 00 00 00 25', // MTrk, 37 bytes: the bass
      '00 ff 03 04 42 61 73 73', // its name: Bass
      '00 c0 21', //                channel 1: program 33 as sent
      '00 b0 07 64', //             channel 1: volume 100
      '00 90 1c 64', //             E1 on
      '85 50 80 1c 40', //          720 ticks later E1 off,
      '00 90 1c 60', //             then on again
      '85 50 80 1c 40', //          720 ticks later off
      '00 ff 2f 00', //             the same bar line
    ]
    expect(hex(writeMidi(BLUES, 'player'))).toBe(groups.join(' '))
  })

  test('brings no program and no controller for a sequencer', () => {
    const bytes = hex(writeMidi(BLUES, 'sequencer'))
    expect(bytes).toContain('00 ff 03 04 42 61 73 73 00 90 1c 64')
    expect(bytes).not.toContain('00 c0 21')
    expect(bytes).not.toContain('b0 07')
  })

  test.each([
    ['A minor', { tonic: { letter: 'A', alter: 0 }, mode: 'minor', sharps: 0 }, 'ff 59 02 00 01'],
    ['C flat major', { tonic: { letter: 'C', alter: -1 }, mode: 'major', sharps: -7 }, 'ff 59 02 f9 00'],
    ['A sharp minor', { tonic: { letter: 'A', alter: 1 }, mode: 'minor', sharps: 7 }, 'ff 59 02 07 01'],
  ] as const)('holds the signature and the mode of %s', (_name, key, bytes) => {
    expect(holds({ ...BLUES, key }, bytes)).toBe(true)
  })

  test('has no signature where the chart has no key', () => {
    expect(holds({ ...BLUES, key: undefined }, 'ff 59')).toBe(false)
  })

  test.each([
    ['4/4', 4, 4, 480, 'ff 58 04 04 02 18 08'],
    ['7/8', 7, 8, 480, 'ff 58 04 07 03 18 08'],
    ['12/8', 12, 8, 720, 'ff 58 04 0c 03 24 08'],
  ] as const)('holds the metre %s with its beat in MIDI clocks', (_name, upper, lower, beatTicks, bytes) => {
    expect(holds({ ...BLUES, metres: [{ tick: 0, upper, lower, beatTicks }] }, bytes)).toBe(true)
  })

  test('holds tempo and metre changes where they come, in order of time', () => {
    const changing = {
      ...BLUES,
      tempo: [
        { tick: 0, microsPerQuarter: 500000 },
        { tick: 480, microsPerQuarter: 0xffffff },
      ],
      metres: [...BLUES.metres, { tick: 480, upper: 3, lower: 4, beatTicks: 480 }],
    }
    expect(holds(changing, '83 60 ff 51 03 ff ff ff 00 ff 58 04 03 02 18 08 81 70 ff 01')).toBe(true)
  })

  test('writes text in UTF-8 up to four bytes a character', () => {
    expect(holds({ ...BLUES, title: 'ō♭𝄢' }, 'ff 03 09 c5 8d e2 99 ad f0 9d 84 a2')).toBe(true)
  })

  test('strikes drums and click on channel 10, each in its own track', () => {
    const band: Performance = {
      ...BLUES,
      parts: [
        { name: 'drums', program: undefined, notes: [note(0, 120, 36)] },
        { name: 'click', program: undefined, notes: [note(0, 120, 76)] },
      ],
    }
    expect(holds(band, 'ff 03 05 44 72 75 6d 73 00 b9 07 64 00 99 24 64')).toBe(true)
    expect(holds(band, 'ff 03 05 43 6c 69 63 6b 00 b9 07 64 00 99 4c 64')).toBe(true)
  })

  test('holds an empty part as a track that ends with the others', () => {
    expect(holds(withNotes([]), '00 b0 07 64 8b 20 ff 2f 00')).toBe(true)
  })

  test.each([
    ['a negative tick', withNotes([note(-1, 10)])],
    ['half a tick', withNotes([note(0.5, 10)])],
    ['no length', withNotes([note(10, 10)])],
    ['a note past the last bar line', withNotes([note(0, 1441)])],
    ['notes out of order', withNotes([note(480, 960), note(0, 480)])],
    ['velocity 0, which is a note-off', withNotes([note(0, 10, 28, 0)])],
    ['velocity 128', withNotes([note(0, 10, 28, 128)])],
    ['pitch 128', withNotes([note(0, 10, 128)])],
    ['pitch NaN', withNotes([note(0, 10, Number.NaN)])],
    ['program 128', withNotes([], { program: 128 })],
    ['a pitch struck while it sounds', withNotes([note(0, 720), note(719, 1440)])],
    ['an empty performance', { ...withNotes([]), ticks: 0 }],
    ['no tempo at the start', { ...BLUES, tempo: [{ tick: 1, microsPerQuarter: 500000 }] }],
    ['a tempo over 24 bits', { ...BLUES, tempo: [{ tick: 0, microsPerQuarter: 0x1000000 }] }],
    ['no metre at the start', { ...BLUES, metres: [] }],
    ['a lower figure of 5', { ...BLUES, metres: [{ tick: 0, upper: 4, lower: 5, beatTicks: 480 }] }],
    ['eight sharps', { ...BLUES, key: { tonic: { letter: 'G', alter: 1 }, mode: 'major', sharps: 8 } }],
    ['a marker past the end', { ...BLUES, sections: [{ tick: 1441, text: 'B' }] }],
  ] as const)('refuses %s', (_what, performance) => {
    expect(() => writeMidi(performance, 'player')).toThrow(RangeError)
  })
})
