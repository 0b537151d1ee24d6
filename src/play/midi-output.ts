import { CHANNEL_VOLUME, MIDI_TRACKS, USUAL_VOLUME } from '../files/general-midi.ts'
import type { PartName } from '../music/arrangement.ts'
import type { Clock } from './clock.ts'
import { type ClockSeconds, type NoteOutput, OutputError, type OutputNote, type PartSound } from './note-output.ts'

/** A place to plug a synthesiser in. */
export interface MidiPort {
  readonly id: string
  /** for people */
  readonly name: string
  readonly connected: boolean
  /** Sends a message at a time in milliseconds of `performance.now()`, 0 as soon as possible. It cannot be taken back. */
  send(bytes: readonly number[], atMs: number): void
  /** Drops what was sent for later, where the browser can. */
  clear(): void
}

/** How long ahead of its time a message is sent: as short as a page can keep, since it cannot be taken back. */
const HORIZON: ClockSeconds = 0.1

/** The same while the page is hidden, where timers may come but once a second. Source: our design choice. */
const HIDDEN_HORIZON: ClockSeconds = 1.5

/** Note-offs go out this much later than note-ons, so that the next note of their pitch is known by then. */
const OFF_LATER: ClockSeconds = 0.05

/** Messages of one time are sent in any order: what is to come before another comes this much before it. */
const BEFORE_MS = 1

const NOTE_OFF = 0x80
const NOTE_ON = 0x90
const CONTROL = 0xb0
const PROGRAM = 0xc0
/** Release velocity where nobody measured one. Source: MIDI 1.0. */
const RELEASE = 0x40
/** Controllers. Source: MIDI 1.0, channel mode messages. */
const ALL_SOUND_OFF = 120
const ALL_NOTES_OFF = 123

/** The wire's channel of a part, from 0. */
function wireOf(part: PartName): number {
  return MIDI_TRACKS[part].channel - 1
}

const WIRES = [...new Set((['bass', 'chords', 'drums', 'click'] as const).map(wireOf))]

/** Parts that share a channel: its volume is not theirs alone, so their velocities carry their level. */
function isShared(part: PartName): boolean {
  return part === 'drums' || part === 'click'
}

/**
 * A value of 0 to 127 that sounds so much louder: loudness goes by 40 · log10 of it.
 *
 * Source: General MIDI Level 2, channel volume and velocity.
 *
 * @example
 * louder(100, -12) // => 50
 * louder(100, 12) // => 127
 */
export function louder(value: number, decibels: number): number {
  return Math.max(1, Math.min(127, Math.round(value * 10 ** (decibels / 40))))
}

/** A note that has been struck, or will be within the horizon. */
interface SentNote {
  readonly part: PartName
  readonly onMs: number
  offMs: number
  end: ClockSeconds
}

/** Plays on a MIDI port: raw messages with absolute times, note-offs held back in a queue of its own until they are due. */
export class MidiOutput implements NoteOutput {
  readonly name: string
  readonly takesBack = false
  readonly #port: MidiPort
  readonly #clock: Clock
  readonly #isHidden: () => boolean
  readonly #levels = new Map<PartName, number | undefined>()
  readonly #programs = new Map<number, number>()
  /** by channel and pitch */
  readonly #sent = new Map<number, SentNote>()
  #started = false
  #lastMs = 0
  #panic: ReturnType<typeof setTimeout> | undefined

  /**
   * @param isHidden  whether the page is hidden, so that its timers may be slow
   */
  constructor(port: MidiPort, clock: Clock, isHidden: () => boolean = () => document.hidden) {
    this.name = port.name
    this.#port = port
    this.#clock = clock
    this.#isHidden = isHidden
  }

  get horizon(): ClockSeconds {
    return this.#isHidden() ? HIDDEN_HORIZON : HORIZON
  }

  /** Whether it has been started and not stopped. */
  get started(): boolean {
    return this.#started
  }

  async start(sounds: readonly PartSound[]): Promise<void> {
    clearTimeout(this.#panic)
    if (!this.#port.connected) throw new OutputError('midi/port-lost', `${this.name} is not connected`)
    this.#started = true
    this.#programs.clear()
    for (const { part } of sounds) this.#sendVolume(part)
    this.#sendPrograms(sounds, 0)
  }

  play(notes: readonly OutputNote[]): void {
    for (const note of notes.toSorted((a, b) => a.start - b.start)) this.#strike(note)
  }

  changeSounds(sounds: readonly PartSound[], from: ClockSeconds): void {
    this.#sendPrograms(sounds, this.#clock.toPerformanceMs(from) - BEFORE_MS)
  }

  /** Nothing: what has been sent has left the machine. */
  takeBackFrom(_from: ClockSeconds): void {}

  advance(): void {
    const due = this.#clock.now() + this.horizon - OFF_LATER
    for (const [key, note] of this.#sent) if (note.end < due) this.#end(key, note.offMs)
  }

  setLevel(part: PartName, decibels: number | undefined): void {
    this.#levels.set(part, decibels)
    if (!this.#started) return
    if (decibels === undefined) this.#endNow((note) => note.part === part)
    else this.#sendVolume(part)
  }

  /** Silence by every means: note-offs, all notes off, all sound off, and the last two again when all that was sent is through. */
  stop(): void {
    if (this.#started) this.silence()
  }

  /** The same where nothing is played: another machine's note may hang. */
  silence(): void {
    this.#started = false
    this.#port.clear()
    this.#endNow(() => true)
    this.#sendSilence()
    clearTimeout(this.#panic)
    this.#panic = setTimeout(() => this.#sendSilence(), Math.max(0, this.#lastMs - performance.now()) + BEFORE_MS)
  }

  /** The port is gone: nothing is sent until it is started again. */
  drop(): void {
    this.#started = false
    this.#sent.clear()
    clearTimeout(this.#panic)
  }

  #strike({ part, pitch, velocity, start, end }: OutputNote): void {
    const decibels = this.#levels.has(part) ? this.#levels.get(part) : 0
    if (!this.#started || decibels === undefined) return
    const wire = wireOf(part)
    const key = wire * 128 + pitch
    const onMs = this.#clock.toPerformanceMs(start)
    const offMs = Math.max(this.#clock.toPerformanceMs(end), onMs + BEFORE_MS)
    const before = this.#sent.get(key)
    if (before && onMs - before.onMs <= BEFORE_MS) {
      // Two parts strike one key together: it is struck once and held as long as both.
      before.offMs = Math.max(before.offMs, offMs)
      before.end = Math.max(before.end, end)
      return
    }
    if (before) this.#end(key, Math.min(before.offMs, onMs - BEFORE_MS))
    this.#send([NOTE_ON | wire, pitch, isShared(part) ? louder(velocity, decibels) : velocity], onMs)
    this.#sent.set(key, { part, onMs, offMs, end })
  }

  #end(key: number, offMs: number): void {
    this.#sent.delete(key)
    this.#send([NOTE_OFF | (key >> 7), key & 127, RELEASE], offMs)
  }

  /** Ends notes at once, and right after they begin those that have been sent ahead. */
  #endNow(which: (note: SentNote) => boolean): void {
    const now = performance.now()
    for (const [key, note] of this.#sent) {
      if (which(note)) this.#end(key, note.onMs > now ? note.onMs + BEFORE_MS : 0)
    }
  }

  #sendSilence(): void {
    for (const wire of WIRES) {
      this.#send([CONTROL | wire, ALL_NOTES_OFF, 0], 0)
      this.#send([CONTROL | wire, ALL_SOUND_OFF, 0], 0)
    }
  }

  #sendVolume(part: PartName): void {
    const decibels = isShared(part) ? 0 : (this.#levels.get(part) ?? 0)
    this.#send([CONTROL | wireOf(part), CHANNEL_VOLUME, louder(USUAL_VOLUME, decibels)], 0)
  }

  #sendPrograms(sounds: readonly PartSound[], atMs: number): void {
    for (const { part, program } of sounds) {
      const wire = wireOf(part)
      if (program === undefined || this.#programs.get(wire) === program) continue
      this.#programs.set(wire, program)
      this.#send([PROGRAM | wire, program], atMs)
    }
  }

  #send(bytes: readonly number[], atMs: number): void {
    this.#lastMs = Math.max(this.#lastMs, atMs)
    if (this.#port.connected) this.#port.send(bytes, atMs)
  }
}
