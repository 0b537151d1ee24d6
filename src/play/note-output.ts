import type { PartName } from '../music/arrangement.ts'
import type { Pitch } from '../music/pitch.ts'

/** Seconds on the one clock that everything is played by: the audio context's. */
export type ClockSeconds = number

/** A whole note for an output: when it starts and when it ends. Onsets lie on the clock exactly, nothing is summed. */
export interface OutputNote {
  readonly part: PartName
  readonly pitch: Pitch
  /** 1 to 127 */
  readonly velocity: number
  readonly start: ClockSeconds
  /** later than `start` */
  readonly end: ClockSeconds
}

/** How a part is to sound. */
export interface PartSound {
  readonly part: PartName
  /** General MIDI program as sent, 0 to 127; `undefined` for drums and click */
  readonly program: number | undefined
}

/** Where notes go: the built-in sound, a MIDI port, or a list in a test. */
export interface NoteOutput {
  /** for people: `built-in sound`, or the port's name */
  readonly name: string
  /** how long before they sound it wants its notes, in seconds: longer than any pause between two calls of `advance` */
  readonly horizon: ClockSeconds
  /** whether it gives notes back that have not begun; if not, nothing that it was given can be changed any more */
  readonly takesBack: boolean
  /** Makes it ready to sound and names the instruments. Called on a player's press, so that a browser lets it sound. @throws OutputError */
  start(sounds: readonly PartSound[]): Promise<void>
  /** Takes notes in any order. */
  play(notes: readonly OutputNote[]): void
  /** Names other instruments for the notes that start at `from` or later. */
  changeSounds(sounds: readonly PartSound[], from: ClockSeconds): void
  /** Takes back every note and change of sounds from `from` on. What sounds keeps its end. Only called where it `takesBack`. */
  takeBackFrom(from: ClockSeconds): void
  /** Time has gone on: does what has become due. Called some forty times a second while it plays. */
  advance(): void
  /** How loud a part is: in decibels against its usual level, `undefined` for silent. It holds from now on. */
  setLevel(part: PartName, decibels: number | undefined): void
  /** Silence at once: what sounds ends, what waits is dropped. It can be started again. */
  stop(): void
}

/** Why nothing sounds, or not where it was to. The session makes a sentence of it. */
export type OutputErrorCode =
  /** the browser holds sound back until a press */
  | 'sound/held-back'
  /** no audio device, or the context cannot be made */
  | 'sound/no-device'
  /** the bank could not be fetched, or is damaged */
  | 'sound/bank'
  | 'midi/not-in-this-browser'
  | 'midi/not-allowed'
  | 'midi/failed'
  | 'midi/no-port'
  | 'midi/port-lost'

/** What an effect rejects with. */
export class OutputError extends Error {
  readonly code: OutputErrorCode
  constructor(code: OutputErrorCode, message: string, options?: ErrorOptions) {
    super(message, options)
    this.name = 'OutputError'
    this.code = code
  }
}
