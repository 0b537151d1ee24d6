/** From the page to the worker. It answers with ticks. */
export type LookAheadRequest = 'start' | 'stop'

/** Calls some forty times a second, in a hidden page too, as long as the page itself does not stall. */
export class LookAhead {
  readonly #worker: Worker
  #running = false

  constructor(tick: () => void) {
    this.#worker = new Worker(new URL('./look-ahead-worker.ts', import.meta.url), { type: 'module' })
    this.#worker.onmessage = () => {
      if (this.#running) tick()
    }
  }

  start(): void {
    this.#running = true
    this.#send('start')
  }

  /** No tick comes any more, not even one that is on its way. */
  stop(): void {
    this.#running = false
    this.#send('stop')
  }

  #send(request: LookAheadRequest): void {
    this.#worker.postMessage(request)
  }
}
