import type { Output, WebMidi as WebMidiAccess } from 'webmidi'
import type { Clock } from './clock.ts'
import { MidiOutput, type MidiPort } from './midi-output.ts'
import { OutputError } from './note-output.ts'

/** What asks the browser for its ports; a test brings its own. */
export type RequestMidiAccess = (options?: MIDIOptions) => Promise<unknown>

/** What the ports tell of themselves. */
export interface MidiPortsListener {
  /** ports have come or gone */
  changed(ports: readonly MidiPort[]): void
  /** a port is gone that was played on */
  lost(error: OutputError): void
}

function portOf(access: typeof WebMidiAccess, { id, name }: Output): MidiPort {
  const plugged = () => access.outputs.find((output) => output.id === id)
  return {
    id,
    name,
    get connected() {
      return plugged() !== undefined
    },
    send: (bytes, atMs) => {
      try {
        plugged()?.send([...bytes], { time: atMs })
      } catch {
        // Unplugged in this moment: that it is lost comes as an event.
      }
    },
    clear: () => void plugged()?.clear(),
  }
}

/** Not every browser has it, whatever TypeScript's list says. */
function browserRequest(): RequestMidiAccess | null {
  return 'requestMIDIAccess' in navigator ? (options) => navigator.requestMIDIAccess(options) : null
}

/** Why the browser gives no ports. Source: Web MIDI API, requestMIDIAccess: two errors of permission, all others of the system. */
function refusalOf(cause: unknown): OutputError {
  const name = cause instanceof Error ? cause.name : ''
  return name === 'NotAllowedError' || name === 'SecurityError'
    ? new OutputError('midi/not-allowed', 'The browser was not allowed to use MIDI', { cause })
    : new OutputError('midi/failed', 'The system gave no access to MIDI', { cause })
}

/** The MIDI ports of this machine. Nothing is asked of the browser until they are opened. */
export class MidiPorts {
  readonly #clock: Clock
  readonly #listener: MidiPortsListener
  readonly #request: RequestMidiAccess | null
  readonly #outputs = new Map<string, MidiOutput>()
  #access: typeof WebMidiAccess | undefined

  /**
   * @param request  asks for access, the browser's own if absent; `null`: it has none
   */
  constructor(clock: Clock, listener: MidiPortsListener, request: RequestMidiAccess | null = browserRequest()) {
    this.#clock = clock
    this.#listener = listener
    this.#request = request
  }

  /** The ports that are plugged in; none before they are opened. */
  get ports(): readonly MidiPort[] {
    const access = this.#access
    return access?.outputs.map((output) => portOf(access, output)) ?? []
  }

  /**
   * Asks for the ports, which may ask the player. Called on a press.
   *
   * @returns at least one port
   * @throws OutputError  `midi/not-in-this-browser`, `midi/not-allowed`, `midi/failed`; `midi/no-port` where none is plugged in yet:
   *   `changed` tells when one is
   */
  async open(): Promise<readonly MidiPort[]> {
    if (!this.#access) this.#access = await this.#ask()
    const { ports } = this
    if (ports.length === 0) throw new OutputError('midi/no-port', 'No MIDI port is plugged in')
    return ports
  }

  /**
   * Plays on a port; the same output each time for a port.
   *
   * @throws OutputError  `midi/no-port` where it is not plugged in
   */
  outputOf(id: string): MidiOutput {
    const port = this.ports.find((port) => port.id === id)
    if (!port) throw new OutputError('midi/no-port', `There is no MIDI port ${id}`)
    const output = this.#outputs.get(id) ?? new MidiOutput(port, this.#clock)
    this.#outputs.set(id, output)
    return output
  }

  /** Silence on every port that was ever played on. */
  silence(): void {
    for (const output of this.#outputs.values()) output.silence()
  }

  async #ask(): Promise<typeof WebMidiAccess> {
    if (!this.#request) throw new OutputError('midi/not-in-this-browser', 'The browser has no Web MIDI')
    // Loaded at the press: most players never come here.
    const { WebMidi } = await import('webmidi')
    try {
      await WebMidi.enable({ requestMIDIAccessFunction: this.#request, validation: false })
    } catch (error) {
      throw refusalOf(error)
    }
    WebMidi.addListener('connected', () => this.#listener.changed(this.ports))
    WebMidi.addListener('disconnected', ({ port }) => {
      this.#lose(port.id)
      this.#listener.changed(this.ports)
    })
    return WebMidi
  }

  #lose(id: string): void {
    const output = this.#outputs.get(id)
    if (!output?.started) return
    output.drop()
    this.#listener.lost(new OutputError('midi/port-lost', `${output.name} is gone`))
  }
}
