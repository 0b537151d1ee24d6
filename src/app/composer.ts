import type { ComposeAnswer, ComposeRequest, FileRequest } from '../compose-messages.ts'

/** Who hears the answers. */
export type Answered = (answer: ComposeAnswer) => void

/** The composing worker from outside: numbers the requests, and lets only answers to the newest one through. */
export class Composer {
  readonly #answered: Answered
  #worker: Worker
  #newest: ComposeRequest | undefined
  #number = 0
  readonly #files = new Map<number, (bytes: Uint8Array | undefined) => void>()

  constructor(answered: Answered) {
    this.#answered = answered
    this.#worker = this.#start()
  }

  /** Asks for lines over a text. What was asked before is given up. */
  ask(wish: Pick<ComposeRequest, 'text' | 'loop' | 'lines'>): void {
    this.#newest = { kind: 'compose', number: ++this.#number, ...wish }
    this.#worker.postMessage(this.#newest)
  }

  /** The bytes of a MIDI file of one of the newest lines; `undefined` if there is no such line any more. */
  file(index: number, reader: FileRequest['for']): Promise<Uint8Array | undefined> {
    const number = ++this.#number
    const request: FileRequest = { kind: 'file', number, index, for: reader }
    return new Promise((answer) => {
      this.#files.set(number, answer)
      this.#worker.postMessage(request)
    })
  }

  #start(): Worker {
    const worker = new Worker(new URL('../compose-worker.ts', import.meta.url), { type: 'module' })
    worker.onmessage = ({ data }: MessageEvent<ComposeAnswer>) => {
      if (data.kind === 'file') {
        this.#files.get(data.number)?.(data.bytes)
        this.#files.delete(data.number)
      } else if (data.number === this.#newest?.number) this.#answered(data)
    }
    // It answers its own faults; this one could not even start, or ran out of memory.
    worker.onerror = (event) => {
      event.preventDefault()
      worker.terminate()
      for (const answer of this.#files.values()) answer(undefined)
      this.#files.clear()
      this.#worker = this.#start()
      if (!this.#newest) return
      const message = event.message || 'the composing worker stopped'
      this.#answered({ kind: 'failed', number: this.#newest.number, message })
    }
    return worker
  }
}
