import type { Pitch } from '../music/pitch.ts'

/** A note as a file has it, in the file's own ticks. */
export interface FileNote {
  readonly startTick: number
  /** >= 1 */
  readonly ticks: number
  readonly pitch: Pitch
  /** 1 to 127 */
  readonly velocity: number
}

/** What one channel plays in one track of a file. */
export interface FileTrack {
  /** as text, control characters and all; `undefined` where it has none */
  readonly name: string | undefined
  /** 1 to 16, as people count */
  readonly channel: number
  /** the first General MIDI program, 0 to 127 as sent; `undefined` where none is sent */
  readonly program: number | undefined
  /** in order of time; at least one */
  readonly notes: readonly FileNote[]
}

/** What a standard MIDI file holds, as far as a line is concerned. */
export interface MidiFile {
  /** ticks to the quarter */
  readonly division: number
  /** in the order of the file, those without notes left out */
  readonly tracks: readonly FileTrack[]
  /** microseconds to the quarter, in order of time */
  readonly tempos: readonly { readonly tick: number; readonly micros: number }[]
  readonly metres: readonly { readonly tick: number; readonly upper: number; readonly lower: number }[]
  /** tracks that end in the middle of an event or hold one that is none: what stands before it is read */
  readonly brokenTracks: number
}

export type MidiFileReading =
  | { readonly ok: true; readonly file: MidiFile }
  | { readonly ok: false; readonly message: string }

/**
 * Reads a standard MIDI file, format 0 or 1. Any bytes give a reading: of a broken track, what stands before the break. Work and memory
 * grow with the bytes and with nothing else.
 *
 * Source: Standard MIDI Files 1.0. A file in a RIFF envelope is taken out of it; chunks of other kinds are passed over.
 *
 * @returns the file, or a sentence's end that says why it is none: `it is no MIDI file`
 */
export function readMidi(bytes: Uint8Array): MidiFileReading {
  const refuse = (message: string): MidiFileReading => ({ ok: false, message })
  let at = nameAt(bytes, 0) === 'RIFF' && nameAt(bytes, 8) === 'RMID' ? 20 : 0
  if (nameAt(bytes, at) !== 'MThd') return refuse('it is no MIDI file')
  const length = wordAt(bytes, at + 4)
  if (length < 6 || at + 8 + length > bytes.length) return refuse('its header is cut short')
  const format = shortAt(bytes, at + 8)
  const division = shortAt(bytes, at + 12)
  if (format > 1) return refuse(`it is of format ${format}, which holds no one piece: expected 0 or 1`)
  if (division === 0 || division >= 0x8000) return refuse('it counts in seconds and not in quarters')
  at += 8 + length
  const tracks: FileTrack[] = []
  const tempos: { tick: number; micros: number }[] = []
  const metres: { tick: number; upper: number; lower: number }[] = []
  let brokenTracks = 0
  while (at + 8 <= bytes.length) {
    const end = at + 8 + wordAt(bytes, at + 4)
    if (nameAt(bytes, at) === 'MTrk') {
      const track = new TrackReader(bytes, at + 8, Math.min(end, bytes.length))
      const isWhole = track.read() && end <= bytes.length
      if (!isWhole) brokenTracks++
      tracks.push(...track.tracks())
      tempos.push(...track.tempos)
      metres.push(...track.metres)
    }
    at = end
  }
  tempos.sort((a, b) => a.tick - b.tick)
  metres.sort((a, b) => a.tick - b.tick)
  return { ok: true, file: { division, tracks, tempos, metres, brokenTracks } }
}

const wordAt = (bytes: Uint8Array, at: number): number => shortAt(bytes, at) * 0x10000 + shortAt(bytes, at + 2)
const shortAt = (bytes: Uint8Array, at: number): number => ((bytes[at] ?? 0) << 8) | (bytes[at + 1] ?? 0)

/** Four bytes as a name. */
function nameAt(bytes: Uint8Array, at: number): string {
  return String.fromCharCode(...bytes.subarray(at, at + 4))
}

/** Data bytes after a status, by its upper four bits. */
const DATA: Readonly<Record<number, number>> = { 8: 2, 9: 2, 10: 2, 11: 2, 12: 1, 13: 1, 14: 2 }

/** One track chunk, channel by channel. */
class TrackReader {
  readonly tempos: { tick: number; micros: number }[] = []
  readonly metres: { tick: number; upper: number; lower: number }[] = []
  readonly #bytes: Uint8Array
  readonly #end: number
  #at: number
  #tick = 0
  #name: string | undefined
  readonly #programs = new Map<number, number>()
  readonly #notes = new Map<number, FileNote[]>()
  /** notes that still sound, by channel and pitch, the oldest first */
  readonly #open = new Map<number, { startTick: number; velocity: number }[]>()

  constructor(bytes: Uint8Array, at: number, end: number) {
    this.#bytes = bytes
    this.#at = at
    this.#end = end
  }

  /** Reads all events; `false` where it breaks off. */
  read(): boolean {
    let status = 0
    while (this.#at < this.#end) {
      const delta = this.#quantity()
      if (delta === undefined) return false
      this.#tick += delta
      const first = this.#bytes[this.#at]!
      if (this.#at >= this.#end) return false
      if (first >= 0x80) {
        status = first
        this.#at++
      }
      if (status === 0xff) {
        const kind = this.#bytes[this.#at++]!
        const data = this.#data()
        if (!data) return false
        if (kind === 0x2f) return true
        this.#meta(kind, data)
        status = 0
      } else if (status === 0xf0 || status === 0xf7) {
        if (!this.#data()) return false
        status = 0
      } else {
        const count = DATA[status >> 4]
        if (count === undefined || this.#at + count > this.#end) return false
        const data = this.#bytes.subarray(this.#at, this.#at + count)
        if (data.some((byte) => byte >= 0x80)) return false
        this.#at += count
        this.#channel(status >> 4, status & 15, data[0]!, data[1] ?? 0)
      }
    }
    // It has no end of track.
    return false
  }

  tracks(): readonly FileTrack[] {
    for (const [key, open] of this.#open)
      for (const note of open) this.#close(key >> 7, key & 127, note, Math.max(this.#tick, note.startTick + 1))
    return [...this.#notes]
      .sort(([a], [b]) => a - b)
      .map(([channel, notes]) => ({
        name: this.#name,
        channel: channel + 1,
        program: this.#programs.get(channel),
        notes: notes.sort((a, b) => a.startTick - b.startTick || a.pitch - b.pitch),
      }))
  }

  /** A variable-length quantity of at most four bytes. */
  #quantity(): number | undefined {
    let value = 0
    for (let i = 0; i < 4; i++) {
      if (this.#at >= this.#end) return undefined
      const byte = this.#bytes[this.#at++]!
      value = value * 128 + (byte & 127)
      if (byte < 128) return value
    }
    return undefined
  }

  /** The bytes of a meta or system event. */
  #data(): Uint8Array | undefined {
    const length = this.#quantity()
    if (length === undefined || this.#at + length > this.#end) return undefined
    this.#at += length
    return this.#bytes.subarray(this.#at - length, this.#at)
  }

  #meta(kind: number, data: Uint8Array): void {
    if (kind === 0x03 && this.#name === undefined && data.length > 0)
      this.#name = String.fromCharCode(...data.subarray(0, LONGEST_NAME))
    if (kind === 0x51 && data.length === 3) {
      const micros = data[0]! * 0x10000 + shortAt(data, 1)
      if (micros > 0) this.tempos.push({ tick: this.#tick, micros })
    }
    if (kind === 0x58 && data.length >= 2 && data[0]! > 0 && data[1]! <= 6)
      this.metres.push({ tick: this.#tick, upper: data[0]!, lower: 1 << data[1]! })
  }

  #channel(kind: number, channel: number, first: number, second: number): void {
    if (kind === 12 && !this.#programs.has(channel)) this.#programs.set(channel, first)
    if (kind !== 8 && kind !== 9) return
    const key = channel * 128 + first
    if (kind === 9 && second > 0) {
      const open = this.#open.get(key) ?? []
      this.#open.set(key, open)
      open.push({ startTick: this.#tick, velocity: second })
      return
    }
    const note = this.#open.get(key)?.shift()
    if (note) this.#close(channel, first, note, this.#tick)
  }

  #close(channel: number, pitch: number, note: { startTick: number; velocity: number }, end: number): void {
    const notes = this.#notes.get(channel) ?? []
    this.#notes.set(channel, notes)
    notes.push({ ...note, pitch, ticks: Math.max(1, end - note.startTick) })
  }
}

/** So much of a track's name is kept. */
const LONGEST_NAME = 80
