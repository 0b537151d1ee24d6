import type { Page } from 'playwright'

// The world that a page finds: a MIDI port, an ear. Each is put there before the page runs, at the edge that the browser
// offers; nothing of the page itself is replaced.

/** A message that left for the port: three bytes or fewer, and the time it is for, ms of `performance.now()`. */
export interface SentMessage {
  readonly bytes: readonly number[]
  readonly at: number
  /** when it was handed over */
  readonly handedOver: number
}

interface World {
  sent: SentMessage[]
  /** Pulls the plug of the port out, or puts it in again. */
  plug(connected: boolean): void
  ear: AnalyserNode
}

/** One MIDI port, *Loft Module*, that writes down what it is sent. Web MIDI API, W3C editor's draft of 2024-10-11. */
export function withPort(): void {
  const world = window as unknown as World
  world.sent = []
  const port = Object.assign(new EventTarget(), {
    id: 'loft',
    name: 'Loft Module',
    manufacturer: '',
    version: '1',
    type: 'output',
    state: 'connected',
    connection: 'closed',
    onstatechange: null,
    open: () => {
      if (port.connection !== 'open') queueMicrotask(tell)
      port.connection = 'open'
      return Promise.resolve(port)
    },
    close: () => Promise.resolve(port),
    send: (bytes: Iterable<number>, at = 0) => {
      if (port.state !== 'connected') throw new DOMException('Port is disconnected.', 'InvalidStateError')
      world.sent.push({ bytes: [...bytes], at: at || performance.now(), handedOver: performance.now() })
    },
  })
  const outputs = new Map([[port.id, port]])
  const access = Object.assign(new EventTarget(), {
    inputs: new Map(),
    outputs,
    sysexEnabled: false,
    onstatechange: null as ((event: Event) => void) | null,
  })
  function tell(): void {
    access.onstatechange?.(Object.assign(new Event('statechange'), { port }))
  }
  world.plug = (connected) => {
    port.state = connected ? 'connected' : 'disconnected'
    port.connection = connected ? 'closed' : 'pending'
    if (connected) outputs.set(port.id, port)
    else outputs.delete(port.id)
    tell()
  }
  Object.defineProperty(navigator, 'requestMIDIAccess', { value: async () => access, configurable: true })
}

/** A browser that asked, and was told no. */
export function portsRefused(): void {
  const refused = async () => {
    throw new DOMException('Permission was not granted.', 'NotAllowedError')
  }
  Object.defineProperty(navigator, 'requestMIDIAccess', { value: refused, configurable: true })
}

/** A browser without Web MIDI. */
export function noWebMidi(): void {
  delete (Navigator.prototype as { requestMIDIAccess?: unknown }).requestMIDIAccess
}

/** No port is plugged in. */
export function noPort(): void {
  const access = Object.assign(new EventTarget(), {
    inputs: new Map(),
    outputs: new Map(),
    sysexEnabled: false,
    onstatechange: null,
  })
  Object.defineProperty(navigator, 'requestMIDIAccess', { value: async () => access, configurable: true })
}

/** No audio device: a context cannot be made. */
export function noAudioDevice(): void {
  const none = function AudioContext() {
    throw new DOMException('No audio device.', 'NotSupportedError')
  }
  Object.defineProperty(window, 'AudioContext', { value: none, configurable: true })
}

/** The browser holds sound back: what is made stays suspended, and asking for more is not answered. */
export function soundHeldBack(): void {
  const held = new Set<BaseAudioContext>()
  Object.defineProperty(AudioContext.prototype, 'state', { get: () => 'suspended', configurable: true })
  AudioContext.prototype.resume = function resume() {
    held.add(this)
    return new Promise(() => undefined)
  }
}

/** An ear: whatever goes to the loudspeakers is heard there too. */
export function listening(): void {
  const world = window as unknown as World
  const connect = AudioNode.prototype.connect as (to: AudioNode, out?: number, into?: number) => AudioNode
  const ears = new WeakMap<BaseAudioContext, AnalyserNode>()
  AudioNode.prototype.connect = function connectAndListen(this: AudioNode, to: AudioNode, out?: number, into?: number) {
    if (to instanceof AudioDestinationNode && this.context instanceof AudioContext) {
      const ear = ears.get(this.context) ?? new AnalyserNode(this.context, { fftSize: 32_768 })
      ears.set(this.context, ear)
      world.ear = ear
      connect.call(this, ear, out ?? 0)
    }
    return connect.call(this, to, out ?? 0, into ?? 0)
  } as AudioNode['connect']
}

/** The level of what was heard in the last part of a second, in decibels of full scale; `-Infinity` for silence. */
export function heardLevel(page: Page, seconds = 0.1): Promise<number> {
  return page.evaluate((length) => {
    const { ear } = window as unknown as World
    if (!ear) return Number.NEGATIVE_INFINITY
    const all = new Float32Array(ear.fftSize)
    ear.getFloatTimeDomainData(all)
    const last = all.subarray(-Math.round(length * ear.context.sampleRate))
    return 10 * Math.log10(last.reduce((sum, sample) => sum + sample * sample, 0) / last.length)
  }, seconds)
}

/** What the port was sent until now. */
export function sent(page: Page): Promise<readonly SentMessage[]> {
  return page.evaluate(() => (window as unknown as World).sent)
}

/** Pulls the plug of the port out, or puts it in again. */
export function plug(page: Page, connected: boolean): Promise<void> {
  return page.evaluate((now) => (window as unknown as World).plug(now), connected)
}

/** Notes that the port was told to begin and not to end, as `channel pitch`: each begun once more than ended. */
export async function leftSounding(page: Page): Promise<readonly string[]> {
  const begun = new Map<string, number>()
  for (const { bytes } of await sent(page)) {
    const [status, pitch, velocity] = bytes as [number, number, number]
    const kind = status >> 4
    if (kind !== 8 && kind !== 9) continue
    const key = `${(status & 15) + 1} ${pitch}`
    begun.set(key, (begun.get(key) ?? 0) + (kind === 9 && velocity > 0 ? 1 : -1))
  }
  return [...begun].filter(([, count]) => count > 0).map(([key]) => key)
}
