import { BasicSoundBank, SoundBankLoader, SpessaLog, SpessaSynthProcessor } from 'spessasynth_core'
import type { PartName } from '../music/arrangement.ts'
import type { Pitch } from '../music/pitch.ts'
import { type BandCounts, type BandNote, type BandSound, type Frame, LATEST_MS } from './band-messages.ts'
import { gainOf } from './level.ts'
import { Limiter } from './limiter.ts'
import { BANK_PROGRAMS, bankKeyOf, bankProgramOf } from './stand-in.ts'

/** Frames that are rendered at a time: those of Web Audio. Envelopes move once a block. */
export const BLOCK_FRAMES = 128

/** The gate closes in this time. Source: our design choice: too short to be heard as a fade, too long to be heard as a click. */
const CLOSE_SECONDS = 0.03

/** How long the last reverberation is rendered behind the shut gate. Source: our measurement, 1.7 s to −100 dBFS. */
const TAIL_SECONDS = 2

/** A level goes two thirds of the way to where it was set in this time, in steps of so many frames. Source: our design choice. */
const LEVEL = { seconds: 0.015, frames: 16 }

/** Channels from 0. The click has a drum channel of its own, so that it has a level of its own. */
const CHANNELS: Readonly<Record<PartName, number>> = { bass: 0, chords: 1, drums: 9, click: 10 }
const PARTS: readonly PartName[] = ['bass', 'chords', 'drums', 'click']

/** How a part sounds at the moment. */
interface Voice {
  readonly part: PartName
  readonly channel: number
  /** of the bank */
  program: number
  /** `undefined`: silent */
  decibels: number | undefined
  /** where the level is on its way to where it was set */
  gain: number
}

interface SoundingNote {
  readonly channel: number
  readonly key: Pitch
  readonly endFrame: Frame
}

/**
 * - `shut`: silent until the next start
 * - `ready`: started, and silent until the first note, so that no reverberation of before comes back
 * - `open`: sounds
 * - `closing`: on the way to `shut`, or to `ready` if it was started again meanwhile
 */
type Gate = 'shut' | 'ready' | 'open' | 'closing'

/** A band, or why the bytes are no bank. */
export type LoadedBand =
  | { readonly ok: true; readonly band: BandSynth }
  | { readonly ok: false; readonly message: string }

/**
 * The built-in band: takes whole notes and renders them, each onset at its frame.
 *
 * The page's audio thread and a file writer run this same class, so what is heard and what is written agree to the sample.
 */
export class BandSynth {
  readonly sampleRate: number
  readonly #synth: SpessaSynthProcessor
  readonly #limiter: Limiter
  readonly #voices: ReadonlyMap<PartName, Voice>
  #frame: Frame = 0
  /** what has not begun, the last first */
  #waiting: BandNote[] = []
  #sounding: SoundingNote[] = []
  #gate: Gate = 'shut'
  /** 1 open, 0 shut */
  #opening = 0
  #startsAgain = false
  /** until when there is something to render behind a shut gate */
  #tailEnd: Frame = 0
  #late = 0
  #dropped = 0

  private constructor(sampleRate: number, synth: SpessaSynthProcessor) {
    this.sampleRate = sampleRate
    this.#synth = synth
    this.#limiter = new Limiter(sampleRate)
    const voices = PARTS.map((part): [PartName, Voice] => {
      const program = bankProgramOf(part, undefined)
      return [part, { part, channel: CHANNELS[part], program, decibels: 0, gain: gainOf(part, program, 0) }]
    })
    this.#voices = new Map(voices)
    synth.midiChannels[CHANNELS.click]!.setDrums(true)
    for (const voice of this.#voices.values()) {
      synth.programChange(voice.channel, voice.program)
      this.#setGain(voice, voice.gain)
    }
  }

  /**
   * A band with every sample decoded: left to the first note, one block would take 60 ms instead of 0.1.
   *
   * @param sampleRate  in hertz, 22,050 to 192,000
   * @param bytes       the bank's file; it is kept
   */
  static async load(sampleRate: number, bytes: ArrayBuffer): Promise<LoadedBand> {
    try {
      SpessaLog.setLogLevel(false, false, false)
      const synth = new SpessaSynthProcessor(sampleRate, { maxBufferSize: BLOCK_FRAMES, eventsEnabled: false })
      await synth.processorInitialized
      await BasicSoundBank.isSF3DecoderReady
      synth.soundBankManager.addSoundBank(readBank(bytes), 'band')
      return { ok: true, band: new BandSynth(sampleRate, synth) }
    } catch (error) {
      return { ok: false, message: error instanceof Error ? error.message : String(error) }
    }
  }

  /** The first frame that is not rendered yet. */
  get frame(): Frame {
    return this.#frame
  }

  /** What was late so far, and how many voices sound. */
  get counts(): BandCounts {
    return { late: this.#late, dropped: this.#dropped, voices: this.#synth.voiceCount }
  }

  /** Names the instruments and opens the gate. Parts that are not named keep their sound. */
  start(sounds: readonly BandSound[]): void {
    for (const { part, program } of sounds) {
      const voice = this.#voices.get(part)!
      const plays = bankProgramOf(part, program)
      if (plays === voice.program) continue
      voice.program = plays
      this.#synth.programChange(voice.channel, plays)
    }
    if (this.#gate === 'closing') this.#startsAgain = true
    if (this.#gate !== 'shut') return
    this.#gate = 'ready'
    for (const voice of this.#voices.values()) this.#setGain(voice, gainOf(voice.part, voice.program, voice.decibels))
  }

  /**
   * Takes notes in any order; none while the gate is shut.
   *
   * @throws RangeError  if a note ends before it starts or its velocity is none
   */
  play(notes: readonly BandNote[]): void {
    for (const { startFrame, endFrame, velocity } of notes) {
      if (!(startFrame < endFrame))
        throw new RangeError(`A note from frame ${startFrame} ends later than at ${endFrame}`)
      if (!(velocity >= 1 && velocity <= 127)) throw new RangeError(`A velocity is 1 to 127, not ${velocity}`)
    }
    if (this.#gate === 'shut' || (this.#gate === 'closing' && !this.#startsAgain)) return
    // Stable: of notes of one frame the first that came is the last of the list, and so the first to begin.
    this.#waiting = [...notes.toReversed(), ...this.#waiting].sort((a, b) => b.startFrame - a.startFrame)
  }

  /** Takes back every note that starts there or later and has not begun. What sounds keeps its end. */
  takeBackFrom(from: Frame): void {
    this.#waiting = this.#waiting.filter((note) => note.startFrame < from)
  }

  /** How loud a part is: in decibels against its usual level, `undefined` for silent. It holds over stop and start. */
  setLevel(part: PartName, decibels: number | undefined): void {
    this.#voices.get(part)!.decibels = decibels
  }

  /** Silence within 30 ms, and nothing more until the next start. */
  stop(): void {
    this.#waiting = []
    this.#startsAgain = false
    if (this.#gate === 'open') this.#gate = 'closing'
    else if (this.#gate === 'ready') this.#gate = 'shut'
  }

  /**
   * Renders the next frames into two channels of equal length; notes sound `LOOK_AHEAD_FRAMES` after their start.
   *
   * @param from  the frame that the first sample is of; where it left off if absent
   */
  render(left: Float32Array, right: Float32Array, from: Frame = this.#frame): void {
    this.#frame = from
    for (let at = 0; at < left.length; at += BLOCK_FRAMES) {
      const to = Math.min(left.length, at + BLOCK_FRAMES)
      this.#renderBlock(left.subarray(at, to), right.subarray(at, to))
    }
  }

  #renderBlock(left: Float32Array, right: Float32Array): void {
    // The engine adds to what is there.
    left.fill(0)
    right.fill(0)
    if (this.#gate === 'shut' && this.#frame >= this.#tailEnd) this.#frame += left.length
    else {
      for (let at = 0; at < left.length; ) {
        const moving = this.#moveLevels()
        this.#beginAndEnd()
        const most = moving ? LEVEL.frames : BLOCK_FRAMES
        const frames = Math.min(most, left.length - at, this.#nextFrame() - this.#frame)
        this.#synth.process(left, right, at, frames)
        at += frames
        this.#frame += frames
      }
      this.#passGate(left, right)
    }
    this.#limiter.run(left, right)
  }

  /** Ends and begins what is due. Ends come first, so that a key can be struck again in the same frame. */
  #beginAndEnd(): void {
    const now = this.#frame
    this.#endWhere((note) => note.endFrame <= now)
    if (this.#gate !== 'ready' && this.#gate !== 'open') return
    for (let note = this.#waiting.at(-1); note && note.startFrame <= now; note = this.#waiting.at(-1)) {
      this.#waiting.pop()
      this.#begin(note)
    }
  }

  #begin({ part, pitch, velocity, startFrame, endFrame }: BandNote): void {
    const lateFrames = this.#frame - startFrame
    if (lateFrames * 1000 > LATEST_MS * this.sampleRate) {
      this.#dropped++
      return
    }
    if (lateFrames > 0) this.#late++
    this.#gate = 'open'
    this.#opening = 1
    const channel = CHANNELS[part]
    const key = bankKeyOf(part, pitch)
    this.#endWhere((note) => note.channel === channel && note.key === key)
    this.#synth.noteOn(channel, key, velocity)
    this.#sounding.push({ channel, key, endFrame })
  }

  #endWhere(ends: (note: SoundingNote) => boolean): void {
    if (!this.#sounding.some(ends)) return
    for (const note of this.#sounding) if (ends(note)) this.#synth.noteOff(note.channel, note.key)
    this.#sounding = this.#sounding.filter((note) => !ends(note))
  }

  /** When something is due next, at the earliest the next frame. */
  #nextFrame(): Frame {
    let next = this.#waiting.at(-1)?.startFrame ?? Number.POSITIVE_INFINITY
    for (const note of this.#sounding) next = Math.min(next, note.endFrame)
    return Math.max(this.#frame + 1, next)
  }

  #passGate(left: Float32Array, right: Float32Array): void {
    if (this.#gate === 'open') return
    const step = 1 / (CLOSE_SECONDS * this.sampleRate)
    for (let index = 0; index < left.length; index++) {
      if (this.#opening > 0) this.#opening = Math.max(0, this.#opening - step)
      left[index] = left[index]! * this.#opening
      right[index] = right[index]! * this.#opening
    }
    if (this.#gate !== 'closing' || this.#opening > 0) return
    this.#synth.stopAllChannels(true)
    this.#sounding = []
    this.#tailEnd = this.#frame + Math.round(TAIL_SECONDS * this.sampleRate)
    this.#gate = this.#startsAgain ? 'ready' : 'shut'
    this.#startsAgain = false
  }

  /** Moves the levels a step, and says whether one is still on its way. */
  #moveLevels(): boolean {
    let moving = false
    for (const voice of this.#voices.values()) {
      const wanted = gainOf(voice.part, voice.program, voice.decibels)
      if (voice.gain === wanted) continue
      const left = (voice.gain - wanted) * Math.exp(-LEVEL.frames / (LEVEL.seconds * this.sampleRate))
      this.#setGain(voice, Math.abs(left) < 0.001 ? wanted : wanted + left)
      moving ||= voice.gain !== wanted
    }
    return moving
  }

  #setGain(voice: Voice, gain: number): void {
    voice.gain = gain
    const channel = this.#synth.midiChannels[voice.channel]!
    channel.setSystemParameter('gain', gain)
    // A muted channel begins no voice, which costs nothing.
    channel.setSystemParameter('isMuted', gain === 0)
  }
}

/** The bank of a file, decoded. @throws Error  where it is none, is cut off, or lacks a sound */
function readBank(bytes: ArrayBuffer): BasicSoundBank {
  // RIFF: four letters, the size of the rest, the form. It tells a file that was cut off.
  const view = new DataView(bytes)
  const letters = (at: number) => String.fromCharCode(...new Uint8Array(bytes, at, 4))
  if (bytes.byteLength < 12 || letters(0) !== 'RIFF' || letters(8) !== 'sfbk') throw new Error('no sound bank')
  if (view.getUint32(4, true) + 8 !== bytes.byteLength) throw new Error('the sound bank is cut off')

  const bank = SoundBankLoader.fromArrayBuffer(bytes)
  for (const part of PARTS) {
    const isKit = part === 'drums' || part === 'click'
    for (const program of BANK_PROGRAMS[part]) {
      const has = bank.presets.some((preset) => preset.program === program && preset.isGMGSDrum === isKit)
      if (!has) throw new Error(`the sound bank has no ${isKit ? 'kit' : 'program'} ${program}`)
    }
  }
  // A sample that cannot be decoded comes back as silence.
  for (const sample of bank.samples) {
    if (!sample.getAudioData().some((height) => height !== 0))
      throw new Error(`sample ${sample.name} cannot be decoded`)
  }
  return bank
}
