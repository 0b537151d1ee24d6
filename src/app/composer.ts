import type {
  ComposeAnswer,
  ComposeRequest,
  FileAnswer,
  FileRequest,
  HearAnswer,
  HearRequest,
} from '../compose-messages.ts'
import type { Performance } from '../music/performance.ts'

/** Who hears the answers. */
export type Answered = (answer: ComposeAnswer) => void

/** What is asked for: a text, played round or once, and how many lines in the end. */
export type Wish = Pick<ComposeRequest, 'text' | 'loop' | 'lines'>

/** Further lines are looked for when nothing new was asked for so long, ms: while somebody types, only the first one counts. */
const QUIET_MS = 180

/**
 * The composing workers from outside: one finds the first line, so that it never waits; the other one, when all is quiet, the
 * further ones. Only answers to the newest wish come through.
 */
export class Composer {
  readonly #answered: Answered
  readonly #first: ComposingWorker
  readonly #further: ComposingWorker
  #wish: Wish = { text: '', loop: false, lines: 1 }
  #number = 0
  #firstCost: number | undefined
  #quiet: ReturnType<typeof setTimeout> | undefined

  constructor(answered: Answered) {
    this.#answered = answered
    this.#first = new ComposingWorker((answer) => this.#firstAnswered(answer))
    this.#further = new ComposingWorker((answer) => this.#furtherAnswered(answer))
  }

  /** Asks for lines over a text. What was asked before is given up. */
  ask(wish: Wish): void {
    clearTimeout(this.#quiet)
    this.#wish = wish
    this.#number++
    this.#firstCost = undefined
    this.#further.giveUp()
    this.#first.post({ kind: 'compose', number: this.#number, ...wish, lines: 1 })
  }

  /** The bytes of a MIDI file of a line that was found over a text; `undefined` where there is no such file. */
  async file(wish: Omit<FileRequest, 'kind' | 'number'>): Promise<Uint8Array | undefined> {
    const answer = await this.#first.request({ kind: 'file', ...wish })
    return answer?.kind === 'file' ? answer.bytes : undefined
  }

  /** How a word of the vocabulary sounds over the first chord of a text; `undefined` where it cannot be played. */
  async hear(text: string, word: HearRequest['word']): Promise<Performance | undefined> {
    const answer = await this.#first.request({ kind: 'hear', text, word })
    return answer?.kind === 'hear' ? answer.performance : undefined
  }

  #firstAnswered(answer: ComposeAnswer): void {
    if (answer.number !== this.#number) return
    if (answer.kind === 'line') this.#firstCost = answer.line.line.cost
    if (answer.kind === 'done' && answer.lines > 0 && this.#wish.lines > 1) {
      const request: ComposeRequest = { kind: 'compose', number: this.#number, ...this.#wish }
      this.#quiet = setTimeout(() => this.#further.post(request), QUIET_MS)
    } else this.#answered(answer)
  }

  #furtherAnswered(answer: ComposeAnswer): void {
    if (answer.number !== this.#number || answer.kind === 'page' || answer.kind === 'progress') return
    // Of lines that cost the same, the one that is on the page stays.
    if (answer.kind === 'line' && answer.index === 0 && answer.line.line.cost === this.#firstCost) return
    this.#answered(answer)
  }
}

type Aside = FileAnswer | HearAnswer

/** One worker, started when it is needed; another one takes its place where it breaks. */
class ComposingWorker {
  readonly #answered: Answered
  #worker: Worker | undefined
  #number = 0
  /** it composes */
  #busy = false
  readonly #waiting = new Map<number, (answer: Aside | undefined) => void>()
  #asked = 0

  constructor(answered: Answered) {
    this.#answered = answered
  }

  post(request: ComposeRequest): void {
    this.#number = request.number
    this.#busy = true
    this.#running.postMessage(request)
  }

  /** Nothing more is wanted of it. A long search hears nothing, so where one runs the worker itself is replaced. */
  giveUp(): void {
    if (this.#busy) this.#end()
  }

  /** Asks for something beside the composing; `undefined` where the worker broke over it. */
  request(request: Omit<FileRequest, 'number'> | Omit<HearRequest, 'number'>): Promise<Aside | undefined> {
    const number = ++this.#asked
    return new Promise((answer) => {
      this.#waiting.set(number, answer)
      this.#running.postMessage({ ...request, number })
    })
  }

  #end(): void {
    this.#worker?.terminate()
    this.#worker = undefined
    this.#busy = false
    for (const answer of this.#waiting.values()) answer(undefined)
    this.#waiting.clear()
  }

  get #running(): Worker {
    if (this.#worker) return this.#worker
    const worker = new Worker(new URL('../compose-worker.ts', import.meta.url), { type: 'module' })
    worker.onmessage = ({ data }: MessageEvent<ComposeAnswer>) => {
      if (data.kind === 'file' || data.kind === 'hear') {
        this.#waiting.get(data.number)?.(data)
        this.#waiting.delete(data.number)
        return
      }
      if (data.number === this.#number && (data.kind === 'done' || data.kind === 'clash' || data.kind === 'failed')) {
        this.#busy = false
      }
      this.#answered(data)
    }
    // It answers its own faults; this one could not even start, or ran out of memory.
    worker.onerror = (event) => {
      event.preventDefault()
      this.#end()
      this.#answered({ kind: 'failed', number: this.#number, message: event.message || 'the composing worker stopped' })
    }
    this.#worker = worker
    return worker
  }
}
