import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bassTrackOf } from '../../src/files/bass-track.ts'
import { type FileTrack, type MidiFile, readMidi } from '../../src/files/midi-reader.ts'
import { writeMidi } from '../../src/files/midi-writer.ts'
import { performances } from '../support/performances.ts'

/** A MIDI file of chunks; a track's bytes without its head, end of track and all. */
function midi(format: number, division: number, ...tracks: readonly (readonly number[])[]): Uint8Array {
  const word = (value: number, count: number): number[] =>
    Array.from({ length: count }, (_, i) => (value >>> (8 * (count - 1 - i))) & 255)
  const chunk = (name: string, data: readonly number[]): number[] => [
    ...[...name].map((letter) => letter.charCodeAt(0)),
    ...word(data.length, 4),
    ...data,
  ]
  const head = [...word(format, 2), ...word(tracks.length, 2), ...word(division, 2)]
  return Uint8Array.from([...chunk('MThd', head), ...tracks.flatMap((track) => chunk('MTrk', track))])
}

const END = [0, 0xff, 0x2f, 0]
/** A quarter at 96 to the quarter, E1. */
const QUARTER = [0, 0x90, 28, 100, 96, 0x80, 28, 64]

function fileOf(bytes: Uint8Array): MidiFile {
  const reading = readMidi(bytes)
  if (!reading.ok) throw new Error(reading.message)
  return reading.file
}

describe('The MIDI reader', () => {
  it('reads back what our writer wrote', () => {
    fc.assert(
      fc.property(performances, (performance) => {
        const file = fileOf(writeMidi(performance, 'player'))
        expect(file.division).toBe(480)
        expect(file.brokenTracks).toBe(0)
        expect(file.tempos).toEqual(
          performance.tempo.map(({ tick, microsPerQuarter }) => ({ tick, micros: microsPerQuarter })),
        )
        expect(file.metres).toEqual(performance.metres.map(({ tick, upper, lower }) => ({ tick, upper, lower })))
        const written = performance.parts.filter(({ notes }) => notes.length > 0)
        const sorted = (notes: FileTrack['notes']) =>
          notes.map(({ startTick, pitch, ticks, velocity }) => `${startTick} ${pitch} ${ticks} ${velocity}`).sort()
        expect(file.tracks.map(({ program, notes }) => [program, sorted(notes)])).toEqual(
          written.map(({ program, notes }) => [
            program,
            sorted(
              notes.map(({ startTick, endTick, pitch, velocity }) => ({
                startTick,
                ticks: endTick - startTick,
                pitch,
                velocity,
              })),
            ),
          ]),
        )
      }),
      { numRuns: process.env['SOAK'] ? 1000 : 50 },
    )
  })

  it('knows running status, a note-on without velocity, channels in one track, and chunks that it does not know', () => {
    const running = [0, 0x90, 28, 100, 96, 28, 0, 0, 0x91, 60, 90, 48, 60, 0, ...END]
    const bytes = midi(0, 96, running)
    const { tracks } = fileOf(bytes)
    expect(tracks.map(({ channel, notes }) => [channel, notes])).toEqual([
      [1, [{ startTick: 0, ticks: 96, pitch: 28, velocity: 100 }]],
      [2, [{ startTick: 96, ticks: 48, pitch: 60, velocity: 90 }]],
    ])
    const strange = [0x58, 0x46, 0x49, 0x48, 0, 0, 0, 2, 1, 2]
    const withStrange = Uint8Array.from([...bytes.subarray(0, 14), ...strange, ...bytes.subarray(14)])
    expect(fileOf(withStrange)).toEqual(fileOf(bytes))
    const envelope = [...'RIFF'].map((letter) => letter.charCodeAt(0))
    const inside = Uint8Array.from([
      ...envelope,
      0,
      0,
      0,
      0,
      ...[...'RMIDdata'].map((l) => l.charCodeAt(0)),
      0,
      0,
      0,
      0,
      ...bytes,
    ])
    expect(fileOf(inside)).toEqual(fileOf(bytes))
  })

  it('ends the older of two notes of one pitch first, and what is never ended at the end of its track', () => {
    const twice = [0, 0x90, 28, 100, 48, 0x90, 28, 90, 48, 0x80, 28, 64, 96, ...END.slice(1)]
    expect(fileOf(midi(1, 96, twice)).tracks[0]!.notes).toEqual([
      { startTick: 0, ticks: 96, pitch: 28, velocity: 100 },
      { startTick: 48, ticks: 144, pitch: 28, velocity: 90 },
    ])
  })

  it.each([
    ['nothing', new Uint8Array(0), 'it is no MIDI file'],
    ['a text', new TextEncoder().encode('<html>'), 'it is no MIDI file'],
    ['half a header', midi(1, 96).subarray(0, 10), 'its header is cut short'],
    ['format 2', midi(2, 96, [...QUARTER, ...END]), 'it is of format 2, which holds no one piece: expected 0 or 1'],
    ['seconds', midi(1, 0xe728, [...QUARTER, ...END]), 'it counts in seconds and not in quarters'],
    ['no division', midi(1, 0, [...QUARTER, ...END]), 'it counts in seconds and not in quarters'],
  ])('says in a sentence why %s cannot be read', (_, bytes, message) => {
    expect(readMidi(bytes)).toEqual({ ok: false, message })
  })

  it('keeps what stands before a break', () => {
    const notes = [{ startTick: 0, ticks: 96, pitch: 28, velocity: 100 }]
    for (const rest of [
      [0, 0x90],
      [0, 0x90, 200, 100, ...END],
      [0, 0xf4],
      [0x81, 0x81, 0x81, 0x81, 0x81],
      [0, 0xff, 1, 90, 1],
      [],
    ]) {
      const { tracks, brokenTracks } = fileOf(midi(1, 96, [...QUARTER, ...rest]))
      expect([tracks[0]!.notes, brokenTracks], `${rest}`).toEqual([notes, 1])
    }
    expect(fileOf(midi(1, 96, [...QUARTER, ...END, 0, 0x90, 40, 100])).tracks[0]!.notes).toEqual(notes)
  })

  it('never throws, whatever the bytes', () => {
    const some = midi(1, 96, [...QUARTER, 0, 0xff, 0x51, 3, 7, 161, 32, 0, 0xc0, 33, ...END], [...QUARTER, ...END])
    const changed = fc
      .array(fc.tuple(fc.nat(some.length - 1), fc.nat(255)), { maxLength: 8 })
      .map((edits) => edits.reduce((bytes, [at, byte]) => bytes.with(at, byte), some))
    const random = fc.uint8Array({ maxLength: 200 }).map((tail) => Uint8Array.from([...some.subarray(0, 22), ...tail]))
    fc.assert(
      fc.property(fc.oneof(changed, random, fc.uint8Array({ maxLength: 60 })), (bytes) => {
        const reading = readMidi(bytes)
        expect(reading.ok || reading.message !== '').toBe(true)
        for (const track of reading.ok ? reading.file.tracks : [])
          for (const note of track.notes) {
            expect(note.ticks).toBeGreaterThan(0)
            expect(note.pitch).toBeLessThan(128)
            expect(note.velocity).toBeGreaterThan(0)
          }
      }),
      { numRuns: process.env['SOAK'] ? 50_000 : 1000 },
    )
  })
})

/** A track of quarters. */
function track(pitches: readonly number[], more: Partial<FileTrack> = {}): FileTrack {
  const notes = pitches.map((pitch, i) => ({ startTick: 480 * i, ticks: 470, pitch, velocity: 90 }))
  return { name: undefined, channel: 1, program: undefined, notes, ...more }
}

const LOW = [28, 31, 33, 36]
const HIGH = [60, 64, 67, 72]
/** Chords: three notes at a time. */
const CHORDS: FileTrack['notes'] = [36, 40, 43].flatMap((pitch) =>
  [0, 480].map((startTick) => ({ startTick, ticks: 480, pitch, velocity: 90 })),
)

describe('The bass of a file', () => {
  it.each([
    ['has a bass program', [track(LOW), track(HIGH, { program: 35 }), track(LOW)], 2],
    ['is called so', [track(LOW, { name: 'Bass Drum' }), track(LOW, { name: 'Upright Bass' })], 2],
    [
      'is low and has one voice',
      [track(HIGH), track([], { notes: [...CHORDS].sort((a, b) => a.startTick - b.startTick) }), track(LOW)],
      3,
    ],
    ['is all there is beside percussion', [track(LOW, { channel: 10 }), track(HIGH)], 2],
    [
      'is the one with the program and the name',
      [track(LOW, { program: 33 }), track(LOW, { program: 33, name: 'bass' })],
      2,
    ],
  ] as const)('%s', (_, tracks, number) => {
    expect(bassTrackOf(tracks, undefined)).toMatchObject({ ok: true, number })
  })

  it('is asked for in one sentence where several may be it, or none', () => {
    expect(bassTrackOf([track(LOW, { name: 'Left' }), track([31, 33])], undefined)).toEqual({
      ok: false,
      message: 'Which track is the bass: 1 "Left" (4 notes, E1 to C2) or 2 (2 notes, G1 to A1)? Say it with --track 1.',
    })
    expect(bassTrackOf([track(HIGH), track(HIGH)], 2)).toMatchObject({ ok: true, number: 2 })
    expect(bassTrackOf([track(LOW)], 7)).toEqual({
      ok: false,
      message: 'There is no track 7: the file has one track with notes, 1 (4 notes, E1 to C2).',
    })
    expect(bassTrackOf([track(LOW, { channel: 10 })], undefined)).toEqual({
      ok: false,
      message: 'The file holds nothing but percussion, so there is no bass line in it.',
    })
    const asked = bassTrackOf(
      Array.from({ length: 200 }, () => track(LOW)),
      undefined,
    )
    expect(asked.ok ? '' : asked.message).toMatch(/, 6 \(4 notes, E1 to C2\) or 194 more\? Say it with --track 1\.$/)
  })
})
