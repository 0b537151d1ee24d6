import type { PartName } from '../../src/music/arrangement.ts'
import type { Clock } from '../../src/play/clock.ts'
import type { ClockSeconds, NoteOutput, OutputNote, PartSound } from '../../src/play/note-output.ts'

/** A note as it was heard in the end, and how long before its start it came. */
export interface HeardNote extends OutputNote {
  readonly ahead: ClockSeconds
}

/** An output that writes down what a listener would hear. */
export class RecordingOutput implements NoteOutput {
  readonly name = 'a list'
  readonly horizon: ClockSeconds
  readonly takesBack: boolean
  readonly sounds: { readonly from: ClockSeconds; readonly sounds: readonly PartSound[] }[] = []
  readonly levels = new Map<PartName, number | undefined>()
  starts = 0
  stops = 0
  readonly #clock: Clock
  #notes: HeardNote[] = []

  constructor(clock: Clock, horizon: ClockSeconds = 1.5, takesBack = true) {
    this.#clock = clock
    this.horizon = horizon
    this.takesBack = takesBack
  }

  /** everything given and not taken back, in order of time */
  get notes(): readonly HeardNote[] {
    return this.#notes.toSorted((a, b) => a.start - b.start)
  }

  start(sounds: readonly PartSound[]): Promise<void> {
    this.starts++
    this.sounds.push({ from: this.#clock.now(), sounds })
    return Promise.resolve()
  }

  play(notes: readonly OutputNote[]): void {
    for (const note of notes) this.#notes.push({ ...note, ahead: note.start - this.#clock.now() })
  }

  changeSounds(sounds: readonly PartSound[], from: ClockSeconds): void {
    this.sounds.push({ from, sounds })
  }

  takeBackFrom(from: ClockSeconds): void {
    if (!this.takesBack) throw new RangeError('Nothing can be taken back here')
    this.#notes = this.#notes.filter((note) => note.start < from)
    const kept = this.sounds.filter((change) => change.from < from)
    this.sounds.splice(0, this.sounds.length, ...kept)
  }

  advance(): void {}

  setLevel(part: PartName, decibels: number | undefined): void {
    this.levels.set(part, decibels)
  }

  /** Silence: what waits is dropped, what sounds ends. */
  stop(): void {
    this.stops++
    const now = this.#clock.now()
    this.#notes = this.#notes
      .filter((note) => note.start < now)
      .map((note) => ({ ...note, end: Math.min(note.end, now) }))
  }
}
