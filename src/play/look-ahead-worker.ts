import type { LookAheadRequest } from './look-ahead.ts'

// A timer in a worker: a hidden page's own timers come but once a second, a worker's keep their pace.

/** Milliseconds between two ticks. Source: the usual measure of look-ahead scheduling on the web. */
const TICK_MS = 25

let timer: ReturnType<typeof setInterval> | undefined

addEventListener('message', ({ data }: MessageEvent<LookAheadRequest>) => {
  clearInterval(timer)
  timer = data === 'start' ? setInterval(() => postMessage(undefined), TICK_MS) : undefined
})
