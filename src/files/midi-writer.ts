import type { TextMark } from '../music/arrangement.ts'
import type { Key } from '../music/key.ts'
import type { MetreChange, Performance, PlayedNote, PlayedPart } from '../music/performance.ts'
import { SLOWEST_MICROS, type TempoChange } from '../music/tempo-map.ts'
import { TICKS_PER_QUARTER, type Tick } from '../music/tick.ts'
import { ByteWriter } from './byte-writer.ts'
import { CHANNEL_VOLUME, MIDI_TRACKS, USUAL_VOLUME } from './general-midi.ts'

/** Who the file is for: a player brings the sounds with it; a sequencer has its own and gets notes only. */
export type MidiReader = 'player' | 'sequencer'

/** Meta events, by the byte after FF. Source: SMF 1.0, "Meta-Events". */
const META = { text: 0x01, name: 0x03, marker: 0x06, endOfTrack: 0x2f, tempo: 0x51, metre: 0x58, key: 0x59 }

const NOTE_OFF = 0x80
const NOTE_ON = 0x90
const CONTROL = 0xb0
const PROGRAM = 0xc0

/** Release velocity where nobody measured one. Source: MIDI 1.0: 64 for a keyboard that senses none. */
const RELEASE = 0x40

/** MIDI clocks of a quarter note. Source: SMF 1.0, Time Signature: cc. */
const CLOCKS_PER_QUARTER = 24

/** The bytes of a text in UTF-8. Written out, since this room knows neither browser nor Node. */
function utf8(text: string): readonly number[] {
  const bytes: number[] = []
  for (const character of text) {
    const code = character.codePointAt(0)!
    // Half of a surrogate pair has no encoding; the replacement character stands for it, as the Encoding Standard has it.
    const point = code >= 0xd800 && code <= 0xdfff ? 0xfffd : code
    if (point < 0x80) bytes.push(point)
    else if (point < 0x800) bytes.push(0xc0 | (point >> 6), 0x80 | (point & 0x3f))
    else if (point < 0x10000) bytes.push(0xe0 | (point >> 12), 0x80 | ((point >> 6) & 0x3f), 0x80 | (point & 0x3f))
    else {
      bytes.push(0xf0 | (point >> 18), 0x80 | ((point >> 12) & 0x3f))
      bytes.push(0x80 | ((point >> 6) & 0x3f), 0x80 | (point & 0x3f))
    }
  }
  return bytes
}

function check(value: number, from: number, to: number, what: string): void {
  if (!(Number.isInteger(value) && value >= from && value <= to)) {
    throw new RangeError(`${what} is ${value}; a whole number from ${from} to ${to} is allowed`)
  }
}

/** A track in the making: deltas are counted from absolute ticks, so nothing drifts. */
class TrackWriter {
  readonly out = new ByteWriter()
  #tick: Tick = 0

  at(tick: Tick): void {
    this.out.quantity(tick - this.#tick)
    this.#tick = tick
  }

  meta(tick: Tick, kind: number, data: readonly number[]): void {
    this.at(tick)
    this.out.byte(0xff)
    this.out.byte(kind)
    this.out.quantity(data.length)
    this.out.bytes(data)
  }
}

function bytesOfTempo(change: TempoChange): readonly number[] {
  check(change.microsPerQuarter, 1, SLOWEST_MICROS, 'A tempo in microseconds')
  const micros = change.microsPerQuarter
  return [micros >> 16, (micros >> 8) & 0xff, micros & 0xff]
}

/** `nn dd cc bb`: upper figure, power of two of the lower, clocks of a metronome beat, thirty-seconds of a quarter. */
function bytesOfMetre(change: MetreChange): readonly number[] {
  check(change.upper, 1, 255, 'The upper figure of a metre')
  const power = Math.log2(change.lower)
  check(power, 0, 6, 'The power of two of the lower figure of a metre')
  const clocks = (change.beatTicks * CLOCKS_PER_QUARTER) / TICKS_PER_QUARTER
  check(clocks, 1, 255, 'The beat of a metre in MIDI clocks')
  return [change.upper, power, clocks, 8]
}

/** `sf mi`: sharps or flats as a signed byte, 0 major or 1 minor. */
function bytesOfKey(key: Key): readonly number[] {
  check(key.sharps, -7, 7, 'The signature of a key in sharps')
  return [key.sharps & 0xff, key.mode === 'minor' ? 1 : 0]
}

/** Track 0: everything that belongs to nobody. Events of one tick stand in the order of the list. */
function conductorTrack(performance: Performance): Uint8Array {
  const track = new TrackWriter()
  const events: { tick: Tick; kind: number; data: readonly number[] }[] = []
  const marks = (list: readonly TextMark[], kind: number) => {
    for (const mark of list) events.push({ tick: mark.tick, kind, data: utf8(mark.text) })
  }
  events.push({ tick: 0, kind: META.name, data: utf8(performance.title) })
  for (const change of performance.tempo)
    events.push({ tick: change.tick, kind: META.tempo, data: bytesOfTempo(change) })
  for (const change of performance.metres)
    events.push({ tick: change.tick, kind: META.metre, data: bytesOfMetre(change) })
  if (performance.key) events.push({ tick: 0, kind: META.key, data: bytesOfKey(performance.key) })
  marks(performance.sections, META.marker)
  marks(performance.chordNames, META.text)
  for (const event of events) check(event.tick, 0, performance.ticks, 'The tick of an event')
  events.sort((a, b) => a.tick - b.tick)
  for (const event of events) track.meta(event.tick, event.kind, event.data)
  track.meta(performance.ticks, META.endOfTrack, [])
  return track.out.done()
}

function checkNotes(part: PlayedPart, end: Tick): void {
  const busyUntil = new Map<number, Tick>()
  let previous = 0
  for (const note of part.notes) {
    check(note.pitch, 0, 127, `A pitch of the ${part.name}`)
    check(note.velocity, 1, 127, `A velocity of the ${part.name}`)
    check(note.startTick, previous, end - 1, `The start of a note of the ${part.name}, in order of time`)
    check(note.endTick, note.startTick + 1, end, `The end of a note of the ${part.name}`)
    if ((busyUntil.get(note.pitch) ?? 0) > note.startTick) {
      throw new RangeError(
        `Pitch ${note.pitch} of the ${part.name} is struck at tick ${note.startTick} while it still sounds`,
      )
    }
    busyUntil.set(note.pitch, note.endTick)
    previous = note.startTick
  }
}

/**
 * Note-ons and note-offs in order of time, offs before ons at one tick, as numbers: `2 × note index`, plus 1 for a note-on.
 */
function noteEvents(notes: readonly PlayedNote[]): Float64Array {
  // One sortable number an event: tick, then off before on, then the order of the notes.
  const count = notes.length
  const keys = new Float64Array(2 * count)
  for (const [index, note] of notes.entries()) {
    keys[2 * index] = note.endTick * 2 * count + index
    keys[2 * index + 1] = (note.startTick * 2 + 1) * count + index
  }
  keys.sort()
  for (const [at, key] of keys.entries()) {
    const index = key % count
    keys[at] = 2 * index + (Math.floor(key / count) % 2)
  }
  return keys
}

function partTrack(part: PlayedPart, end: Tick, reader: MidiReader): Uint8Array {
  const { trackName, channel } = MIDI_TRACKS[part.name]
  const wire = channel - 1
  checkNotes(part, end)
  const track = new TrackWriter()
  const out = track.out
  track.meta(0, META.name, utf8(trackName))
  if (reader === 'player') {
    if (part.program !== undefined) {
      check(part.program, 0, 127, `The program of the ${part.name}`)
      track.at(0)
      out.bytes([PROGRAM | wire, part.program])
    }
    track.at(0)
    out.bytes([CONTROL | wire, CHANNEL_VOLUME, USUAL_VOLUME])
  }
  for (const event of noteEvents(part.notes)) {
    const note = part.notes[event >> 1]!
    const on = event % 2 === 1
    track.at(on ? note.startTick : note.endTick)
    out.byte((on ? NOTE_ON : NOTE_OFF) | wire)
    out.byte(note.pitch)
    out.byte(on ? note.velocity : RELEASE)
  }
  track.meta(end, META.endOfTrack, [])
  return out.done()
}

/**
 * A performance as a standard MIDI file: format 1, 480 ticks to the quarter, one track for what belongs to all and one for each
 * part, all ending on the same bar line. At one tick meta events come first, then program, controller, note-offs, note-ons.
 *
 * For a `player` each part brings its General MIDI program and its volume; for a `sequencer` there are neither.
 *
 * Source: Standard MIDI Files 1.0. No running status: every event stands for itself. Text is UTF-8.
 *
 * @throws RangeError  where a value does not fit into the file, or a pitch is struck while it sounds in its part
 */
export function writeMidi(performance: Performance, reader: MidiReader): Uint8Array {
  check(performance.ticks, 1, 0x0fffffff, 'The length of a performance in ticks')
  if (performance.tempo[0]?.tick !== 0) throw new RangeError('A tempo map begins with a tempo at tick 0')
  if (performance.metres[0]?.tick !== 0) throw new RangeError('The first metre stands at tick 0')
  const tracks = [
    conductorTrack(performance),
    ...performance.parts.map((part) => partTrack(part, performance.ticks, reader)),
  ]
  const file = new ByteWriter()
  file.bytes(utf8('MThd'))
  file.bigEndian(6, 4)
  file.bigEndian(1, 2)
  file.bigEndian(tracks.length, 2)
  file.bigEndian(TICKS_PER_QUARTER, 2)
  for (const track of tracks) {
    file.bytes(utf8('MTrk'))
    file.bigEndian(track.length, 4)
    file.bytes(track)
  }
  return file.done()
}
