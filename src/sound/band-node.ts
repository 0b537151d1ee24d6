import type { PartName } from '../music/arrangement.ts'
import processorUrl from './band.worklet.ts?worker&url'
import type { BandAnswer, BandCounts, BandNote, BandRequest, BandSound, Frame } from './band-messages.ts'
import bankUrl from './bank/band.sf3?url'
import { LOOK_AHEAD_FRAMES } from './limiter.ts'

/** The name that the audio thread knows the band by. */
const PROCESSOR = 'band'

/** The band as the page has it: an audio node that plays whole notes at frames of its context. */
export interface BandNode {
  /** frames from a note's start to its sound: those that the limiter looks ahead */
  readonly latencyFrames: Frame
  /** comes when the audio thread has failed and nothing will sound any more, with a sentence for us; never where all is well */
  readonly failed: Promise<string>
  /** Lets it sound there: mostly the context's destination. */
  connect(to: AudioNode): void
  disconnect(): void
  /** Names the instruments and opens the gate. Parts that are not named keep their sound: at first finger bass, electric piano, standard kit. */
  start(sounds: readonly BandSound[]): void
  /** Takes notes in any order. */
  play(notes: readonly BandNote[]): void
  /** Takes back every note that starts there or later and has not begun. What sounds keeps its end. */
  takeBackFrom(frame: Frame): void
  /** How loud a part is: in decibels against its usual level, `undefined` for silent. It holds from now on, over stop and start. */
  setLevel(part: PartName, decibels: number | undefined): void
  /** Silence within 30 ms: what waits is dropped. Nothing sounds until the next start. */
  stop(): void
  /** What came late. It answers only while the context runs or can run. */
  counts(): Promise<BandCounts>
}

/** Why there is no band. */
export type BandFault =
  /** the bank could not be fetched */
  | 'bank-missing'
  /** the bank was fetched and is none */
  | 'bank-damaged'
  /** the audio thread does not take our program */
  | 'processor-failed'

/** A band that is ready to play, or why there is none, with a sentence for us. */
export type OpenedBand =
  | { readonly ok: true; readonly band: BandNode }
  | { readonly ok: false; readonly fault: BandFault; readonly message: string }

/** A fault on the way, carried to {@link openBand}, which makes a value of it. */
class Fault extends Error {
  readonly fault: BandFault
  constructor(fault: BandFault, cause: unknown) {
    super(cause instanceof Error ? cause.message : String(cause), { cause })
    this.fault = fault
  }
}

/** The bank's bytes. @throws Fault */
async function fetchBank(url: string): Promise<ArrayBuffer> {
  try {
    const response = await fetch(url)
    if (!response.ok) throw new Error(`${response.status} ${response.statusText}`)
    return await response.arrayBuffer()
  } catch (error) {
    throw new Fault('bank-missing', error)
  }
}

/** Brings our program to the audio thread. @throws Fault */
async function addProgram(context: BaseAudioContext): Promise<void> {
  try {
    await context.audioWorklet.addModule(processorUrl)
  } catch (error) {
    throw new Fault('processor-failed', error)
  }
}

/** A node of our program. @throws Fault */
function createNode(context: BaseAudioContext): AudioWorkletNode {
  try {
    return new AudioWorkletNode(context, PROCESSOR, { numberOfInputs: 0, outputChannelCount: [2] })
  } catch (error) {
    throw new Fault('processor-failed', error)
  }
}

/**
 * A band that is ready to play in a context, every sample decoded: nothing is left to do when the first note comes.
 *
 * The context may be suspended; the samples are decoded all the same. It is to stay so until the band is ready: decoding takes
 * the audio thread some 0.4 s.
 *
 * @param bank  where the bank is; the one of the page if absent
 */
export async function openBand(context: BaseAudioContext, bank: string = bankUrl): Promise<OpenedBand> {
  try {
    const [bytes] = await Promise.all([fetchBank(bank), addProgram(context)])
    const node = createNode(context)
    const failed = new Promise<string>((resolve) => {
      node.onprocessorerror = () => resolve('the audio thread failed')
    })
    const post = (request: BandRequest, handOver: Transferable[] = []) => node.port.postMessage(request, handOver)
    const waiting: ((counts: BandCounts) => void)[] = []
    const loaded = new Promise<void>((resolve, reject) => {
      node.port.onmessage = ({ data }: MessageEvent<BandAnswer>) => {
        if (data.kind === 'ready') resolve()
        else if (data.kind === 'damaged') reject(new Fault('bank-damaged', data.message))
        else waiting.shift()?.(data.counts)
      }
    })
    post({ kind: 'bank', bytes }, [bytes])
    const broken = failed.then((message) => {
      throw new Fault('processor-failed', message)
    })
    await Promise.race([loaded, broken])
    return { ok: true, band: bandOf(node, failed, post, waiting) }
  } catch (error) {
    if (error instanceof Fault) return { ok: false, fault: error.fault, message: error.message }
    throw error
  }
}

function bandOf(
  node: AudioWorkletNode,
  failed: Promise<string>,
  post: (request: BandRequest) => void,
  waiting: ((counts: BandCounts) => void)[],
): BandNode {
  return {
    latencyFrames: LOOK_AHEAD_FRAMES,
    failed,
    connect: (to) => void node.connect(to),
    disconnect: () => node.disconnect(),
    start: (sounds) => post({ kind: 'start', sounds }),
    play: (notes) => post({ kind: 'play', notes }),
    takeBackFrom: (from) => post({ kind: 'take-back', from }),
    setLevel: (part, decibels) => post({ kind: 'level', part, decibels }),
    stop: () => post({ kind: 'stop' }),
    counts: () =>
      new Promise((resolve) => {
        waiting.push(resolve)
        post({ kind: 'count' })
      }),
  }
}
