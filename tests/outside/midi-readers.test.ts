import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Midi } from '@tonejs/midi'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { MIDI_TRACKS } from '../../src/files/general-midi.ts'
import { type MidiReader, writeMidi } from '../../src/files/midi-writer.ts'
import type { Performance } from '../../src/music/performance.ts'
import { performances } from '../support/performances.ts'

// Our files as three programs read them that other people wrote: midicsv (John Walker), mido (Ole Martin Bjørndalen) and
// @tonejs/midi (Yotam Mann). What is expected is worded after Standard MIDI Files 1.0, from the performance, not from our bytes.

const SEED = 480
const COUNT = process.env['SOAK'] ? 200 : 20

/** Where a tick's events stand: meta, program, controller, note-off, note-on; the end of the track is the last of all. */
const RANKS: Readonly<Record<string, number>> = { program: 1, control: 2, off: 3, on: 4, end: 5 }

interface Case {
  readonly performance: Performance
  readonly reader: MidiReader
  readonly bytes: Uint8Array
  readonly path: string
}

/** Events of a track as rows: `480 on 1 28 100`. */
type Track = readonly string[]

let folder: string
let cases: readonly Case[]

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'midi-readers-'))
  cases = fc.sample(performances, { seed: SEED, numRuns: COUNT }).map((performance, index) => {
    const reader: MidiReader = index % 2 === 0 ? 'player' : 'sequencer'
    const bytes = writeMidi(performance, reader)
    const path = join(folder, `${index}.mid`)
    writeFileSync(path, bytes)
    return { performance, reader, bytes, path }
  })
})

afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** A text as a reader of one byte a character sees it. */
function latin1(text: string): string {
  return JSON.stringify(text)
}

/** What is in the file, by SMF 1.0: the conductor's track, then one for each part. */
function expectedTracks({ performance, reader }: Case): readonly Track[] {
  const conductor = [
    `0 name ${latin1(performance.title)}`,
    ...performance.tempo.map(({ tick, microsPerQuarter }) => `${tick} tempo ${microsPerQuarter}`),
    ...performance.metres.map(
      ({ tick, upper, lower, beatTicks }) => `${tick} metre ${upper} ${lower} ${beatTicks / 20} 8`,
    ),
    ...(performance.key ? [`0 key ${performance.key.sharps} ${performance.key.mode}`] : []),
    ...performance.sections.map(({ tick, text }) => `${tick} marker ${latin1(text)}`),
    ...performance.chordNames.map(({ tick, text }) => `${tick} text ${latin1(text)}`),
    `${performance.ticks} end`,
  ]
  const parts = performance.parts.map(({ name, program, notes }) => {
    const { trackName, channel } = MIDI_TRACKS[name]
    return [
      `0 name ${latin1(trackName)}`,
      ...(reader === 'player' && program !== undefined ? [`0 program ${channel} ${program}`] : []),
      ...(reader === 'player' ? [`0 control ${channel} 7 100`] : []),
      ...notes.flatMap(({ startTick, endTick, pitch, velocity }) => [
        `${startTick} on ${channel} ${pitch} ${velocity}`,
        `${endTick} off ${channel} ${pitch} 64`,
      ]),
      `${performance.ticks} end`,
    ]
  })
  return [conductor, ...parts]
}

/** Same events, in the order of ticks, and at one tick in the order of ranks. */
function expectSameEvents(read: readonly Track[], expected: readonly Track[]): void {
  expect(read.map((track) => [...track].sort())).toEqual(expected.map((track) => [...track].sort()))
  for (const track of read) {
    const places = track.map((row) => {
      const [tick, kind] = row.split(' ') as [string, string]
      return Number(tick) * 10 + (RANKS[kind] ?? 0)
    })
    expect(places).toEqual([...places].sort((a, b) => a - b))
  }
}

/** A quoted field of midicsv: quotes doubled, other bytes as octal. */
function unquoted(field: string): string {
  const inner = field.slice(1, -1).replaceAll('""', '"')
  return inner.replaceAll(/\\(\\|[0-7]{3})/g, (_, code: string) =>
    code === '\\' ? '\\' : String.fromCharCode(Number.parseInt(code, 8)),
  )
}

function readByMidicsv(path: string): readonly Track[] {
  const tracks: string[][] = []
  for (const row of execFileSync('midicsv', [path], { encoding: 'latin1', maxBuffer: 1 << 26 }).split('\n')) {
    const match = /^(\d+), (\d+), (\w+)(?:, (.*))?$/.exec(row)
    if (!match) continue
    const [, number, tick, kind, rest = ''] = match
    tracks[Number(number) - 1] ??= []
    const track = tracks[Number(number) - 1]!
    const numbers = rest.split(', ').map(Number)
    const voice = () => `${numbers[0]! + 1} ${numbers.slice(1).join(' ')}`
    if (kind === 'Title_t') track.push(`${tick} name ${latin1(unquoted(rest))}`)
    else if (kind === 'Marker_t') track.push(`${tick} marker ${latin1(unquoted(rest))}`)
    else if (kind === 'Text_t') track.push(`${tick} text ${latin1(unquoted(rest))}`)
    else if (kind === 'Tempo') track.push(`${tick} tempo ${rest}`)
    else if (kind === 'Time_signature')
      track.push(`${tick} metre ${numbers[0]} ${2 ** numbers[1]!} ${numbers[2]} ${numbers[3]}`)
    else if (kind === 'Key_signature')
      track.push(`${tick} key ${numbers[0]} ${rest.includes('minor') ? 'minor' : 'major'}`)
    else if (kind === 'Program_c') track.push(`${tick} program ${voice()}`)
    else if (kind === 'Control_c') track.push(`${tick} control ${voice()}`)
    else if (kind === 'Note_on_c') track.push(`${tick} on ${voice()}`)
    else if (kind === 'Note_off_c') track.push(`${tick} off ${voice()}`)
    else if (kind === 'End_track') track.push(`${tick} end`)
    else if (kind !== 'Header' && kind !== 'Start_track') track.push(`${tick} ${kind} ${rest}`)
  }
  return tracks
}

/** Prints the tracks of each file as rows like ours, in JSON. Key signatures come from mido as names of keys. */
const MIDO = `
import json, sys, mido
SHARPS = {name: sharps for sharps, names in zip(range(-7, 8), [
  'Cb Abm', 'Gb Ebm', 'Db Bbm', 'Ab Fm', 'Eb Cm', 'Bb Gm', 'F Dm', 'C Am', 'G Em', 'D Bm', 'A F#m', 'E C#m', 'B G#m', 'F# D#m', 'C# A#m'
]) for name in names.split()}
def row(e):
  if e.type == 'track_name': return 'name ' + json.dumps(e.name)
  if e.type in ('marker', 'text'): return e.type + ' ' + json.dumps(e.text)
  if e.type == 'set_tempo': return 'tempo %d' % e.tempo
  if e.type == 'time_signature': return 'metre %d %d %d %d' % (e.numerator, e.denominator, e.clocks_per_click, e.notated_32nd_notes_per_beat)
  if e.type == 'key_signature': return 'key %d %s' % (SHARPS[e.key], 'minor' if e.key.endswith('m') else 'major')
  if e.type == 'program_change': return 'program %d %d' % (e.channel + 1, e.program)
  if e.type == 'control_change': return 'control %d %d %d' % (e.channel + 1, e.control, e.value)
  if e.type == 'note_on': return 'on %d %d %d' % (e.channel + 1, e.note, e.velocity)
  if e.type == 'note_off': return 'off %d %d %d' % (e.channel + 1, e.note, e.velocity)
  if e.type == 'end_of_track': return 'end'
  return str(e)
files = []
for path in sys.argv[1:]:
  midi = mido.MidiFile(path)
  tracks = []
  for track in midi.tracks:
    tick, rows = 0, []
    for e in track:
      tick += e.time
      rows.append('%d %s' % (tick, row(e)))
    tracks.append(rows)
  files.append({'format': midi.type, 'ticksPerQuarter': midi.ticks_per_beat, 'tracks': tracks})
print(json.dumps(files))
`

interface MidoFile {
  readonly format: number
  readonly ticksPerQuarter: number
  readonly tracks: readonly Track[]
}

/** Debian's own Python, which has Debian's python3-mido. */
function readByMido(paths: readonly string[]): readonly MidoFile[] {
  const output = execFileSync('/usr/bin/python3', ['-c', MIDO, ...paths], { encoding: 'utf8', maxBuffer: 1 << 28 })
  return JSON.parse(output) as readonly MidoFile[]
}

/** Major keys from seven flats to seven sharps; @tonejs/midi names a minor key by the major key of its signature. */
const SIGNATURES = 'Cb Gb Db Ab Eb Bb F C G D A E B F# C#'.split(' ')

describe('our MIDI files', () => {
  test('hold the same events to midicsv', () => {
    for (const each of cases) expectSameEvents(readByMidicsv(each.path), expectedTracks(each))
  })

  test('hold the same events to mido', () => {
    const files = readByMido(cases.map(({ path }) => path))
    for (const [index, file] of files.entries()) {
      expect([file.format, file.ticksPerQuarter]).toEqual([1, 480])
      expectSameEvents(file.tracks, expectedTracks(cases[index]!))
    }
  })

  test('hold the same notes, tempos, metres, keys and texts to @tonejs/midi', () => {
    for (const { performance, reader, bytes } of cases) {
      const midi = new Midi(bytes)
      expect(midi.header.ppq).toBe(480)
      expect(
        midi.header.tempos.map(({ ticks, bpm }) => ({ tick: ticks, microsPerQuarter: Math.round(6e7 / bpm) })),
      ).toEqual(performance.tempo)
      expect(midi.header.timeSignatures.map(({ ticks, timeSignature }) => [ticks, ...timeSignature])).toEqual(
        performance.metres.map(({ tick, upper, lower }) => [tick, upper, lower]),
      )
      expect(midi.header.keySignatures.map(({ key, scale }) => [key, scale])).toEqual(
        performance.key ? [[SIGNATURES[performance.key.sharps + 7], performance.key.mode]] : [],
      )
      const texts = midi.header.meta.map(({ ticks, type, text }) => `${ticks} ${type} ${text}`)
      const marks = [
        ...performance.sections.map(({ tick, text }) => `${tick} marker ${text}`),
        ...performance.chordNames.map(({ tick, text }) => `${tick} text ${text}`),
      ]
      expect(texts.sort()).toEqual(marks.sort())
      for (const part of performance.parts) {
        const track = midi.tracks.find(({ name }) => name === MIDI_TRACKS[part.name].trackName)
        expect(track).toBeDefined()
        const read = track!.notes.map((note) => [
          note.ticks,
          note.ticks + note.durationTicks,
          note.midi,
          Math.round(note.velocity * 127),
        ])
        const played = part.notes.map((note) => [note.startTick, note.endTick, note.pitch, note.velocity])
        expect(read.sort()).toEqual(played.sort())
        if (reader === 'player' && part.program !== undefined) expect(track!.instrument.number).toBe(part.program)
        expect(track!.endOfTrackTicks).toBe(performance.ticks)
      }
    }
  })

  test('hold text beyond ASCII as UTF-8', () => {
    const [{ performance }] = cases as [Case]
    const path = join(folder, 'text.mid')
    writeFileSync(
      path,
      writeMidi({ ...performance, title: 'Straße ♭', chordNames: [{ tick: 0, text: 'B♭7' }] }, 'player'),
    )
    const [conductor] = readByMidicsv(path)
    const utf8 = (text: string) => latin1(Buffer.from(text, 'utf8').toString('latin1'))
    expect(conductor).toContain(`0 name ${utf8('Straße ♭')}`)
    expect(conductor).toContain(`0 text ${utf8('B♭7')}`)
  })
})
