import type { BandAnswer, BandRequest } from './band-messages.ts'
import { BandSynth } from './band-synth.ts'

/** The band on the audio thread. Silent until its bank has come. */
class BandProcessor extends AudioWorkletProcessor {
  #band: BandSynth | undefined
  /** it has no bank and gets none: the audio thread may forget it */
  #useless = false

  constructor() {
    super()
    this.port.onmessage = ({ data }: MessageEvent<BandRequest>) => this.#hear(data)
  }

  #hear(request: BandRequest): void {
    const band = this.#band
    if (request.kind === 'bank') void this.#load(request.bytes)
    else if (request.kind === 'start') band?.start(request.sounds)
    else if (request.kind === 'play') band?.play(request.notes)
    else if (request.kind === 'take-back') band?.takeBackFrom(request.from)
    else if (request.kind === 'level') band?.setLevel(request.part, request.decibels)
    else if (request.kind === 'stop') band?.stop()
    else if (band) this.#answer({ kind: 'counts', counts: band.counts })
  }

  async #load(bytes: ArrayBuffer): Promise<void> {
    const loaded = await BandSynth.load(sampleRate, bytes)
    if (loaded.ok) this.#band = loaded.band
    else this.#useless = true
    this.#answer(loaded.ok ? { kind: 'ready' } : { kind: 'damaged', message: loaded.message })
  }

  #answer(answer: BandAnswer): void {
    this.port.postMessage(answer)
  }

  process(_inputs: Float32Array[][], [output]: Float32Array[][]): boolean {
    const [left, right] = output!
    this.#band?.render(left!, right!, currentFrame)
    return !this.#useless
  }
}

registerProcessor('band', BandProcessor)
