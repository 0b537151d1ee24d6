import type { PartName } from '../music/arrangement.ts'
import type { BandCounts } from '../sound/band-messages.ts'
import { type BandFault, type BandNode, openBand } from '../sound/band-node.ts'
import type { AudioClock } from './audio-clock.ts'
import {
  type ClockSeconds,
  type NoteOutput,
  OutputError,
  type OutputErrorCode,
  type OutputNote,
  type PartSound,
} from './note-output.ts'

/** Longer than any stall of a page, and than a second of a hidden page's timers: what waits can be taken back. */
const HORIZON: ClockSeconds = 1.5

/** Instruments are changed this long before the first note that needs them; what sounds keeps its own. */
const CHANGE_BEFORE: ClockSeconds = 0.05

const CODES: Readonly<Record<BandFault, OutputErrorCode>> = {
  'bank-missing': 'sound/bank',
  'bank-damaged': 'sound/bank',
  'processor-failed': 'sound/no-device',
}

/** A band in its context. */
interface Prepared {
  readonly context: AudioContext
  readonly band: BandNode
}

/** Instruments from a moment on. */
interface SoundChange {
  readonly from: ClockSeconds
  readonly sounds: readonly PartSound[]
}

/** Plays on the built-in sound. */
export class SoundOutput implements NoteOutput {
  readonly name = 'built-in sound'
  readonly horizon = HORIZON
  readonly takesBack = true
  readonly #clock: AudioClock
  readonly #lost: (error: OutputError) => void
  readonly #bank: string | undefined
  readonly #levels = new Map<PartName, number | undefined>()
  #preparing: Promise<Prepared> | undefined
  #prepared: Prepared | undefined
  #changes: readonly SoundChange[] = []

  /**
   * @param lost  called when the audio thread has failed: nothing sounds any more
   * @param bank  where the bank is; the page's own if absent
   */
  constructor(clock: AudioClock, lost: (error: OutputError) => void = () => {}, bank?: string) {
    this.#clock = clock
    this.#lost = lost
    this.#bank = bank
  }

  /**
   * Fetches the bank and decodes it, so that the first press sounds at once. To be called when the page has nothing else to do; a
   * start calls it where it has not been.
   *
   * @throws OutputError  `sound/no-device`, `sound/bank`; the next call tries again
   */
  async prepare(): Promise<void> {
    await this.#prepare()
  }

  async start(sounds: readonly PartSound[]): Promise<void> {
    const { band } = await this.#prepare()
    for (const [part, decibels] of this.#levels) band.setLevel(part, decibels)
    this.#changes = []
    band.start(sounds)
  }

  play(notes: readonly OutputNote[]): void {
    this.#prepared?.band.play(
      notes.map(({ part, pitch, velocity, start, end }) => {
        const startFrame = this.#frame(start)
        return { part, pitch, velocity, startFrame, endFrame: Math.max(startFrame + 1, this.#frame(end)) }
      }),
    )
  }

  changeSounds(sounds: readonly PartSound[], from: ClockSeconds): void {
    this.#changes = [...this.#changes, { from, sounds }]
  }

  takeBackFrom(from: ClockSeconds): void {
    this.#changes = this.#changes.filter((change) => change.from < from)
    this.#prepared?.band.takeBackFrom(this.#frame(from))
  }

  advance(): void {
    const due = this.#clock.now() + CHANGE_BEFORE
    for (const { from, sounds } of this.#changes) if (from <= due) this.#prepared?.band.start(sounds)
    this.#changes = this.#changes.filter((change) => change.from > due)
  }

  setLevel(part: PartName, decibels: number | undefined): void {
    this.#levels.set(part, decibels)
    this.#prepared?.band.setLevel(part, decibels)
  }

  stop(): void {
    this.#changes = []
    this.#prepared?.band.stop()
  }

  /** What came late; `undefined` before it has been prepared. It answers while the clock runs. */
  counts(): Promise<BandCounts | undefined> {
    return this.#prepared?.band.counts() ?? Promise.resolve(undefined)
  }

  /** The frame in which the band begins a note that is to sound then: earlier by what its limiter looks ahead. */
  #frame(at: ClockSeconds): number {
    const { context, band } = this.#prepared!
    return Math.round(at * context.sampleRate) - band.latencyFrames
  }

  #prepare(): Promise<Prepared> {
    const { context } = this.#clock
    if (this.#prepared && this.#prepared.context !== context) this.#forget()
    this.#preparing ??= this.#open(context).catch((error: unknown) => {
      this.#forget()
      throw error
    })
    return this.#preparing
  }

  #forget(): void {
    this.#preparing = undefined
    this.#prepared = undefined
  }

  async #open(context: AudioContext | undefined): Promise<Prepared> {
    if (!context) throw new OutputError('sound/no-device', 'No audio context can be made')
    const opened = await openBand(context, this.#bank)
    if (!opened.ok) throw new OutputError(CODES[opened.fault], opened.message)
    const { band } = opened
    band.connect(context.destination)
    const prepared = { context, band }
    this.#prepared = prepared
    void band.failed.then((message) => {
      if (this.#prepared !== prepared) return
      band.disconnect()
      this.#forget()
      this.#lost(new OutputError('sound/no-device', message))
    })
    return prepared
  }
}
