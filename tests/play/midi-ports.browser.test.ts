import { afterEach, describe, expect, test } from 'vitest'
import { WebMidi } from 'webmidi'
import { MidiPorts, type RequestMidiAccess } from '../../src/play/midi-ports.ts'
import type { OutputError } from '../../src/play/note-output.ts'
import { CrankedClock } from '../support/cranked-clock.ts'
import { messageText } from '../support/midi-wire.ts'

afterEach(async () => void (await WebMidi.disable()))

/** A port as the browser gives it: opened by whoever asks, and pending while it is gone. */
class BrowserPort extends EventTarget {
  readonly type = 'output'
  readonly manufacturer = ''
  readonly version = ''
  connection = 'closed'
  changed: () => void = () => {}
  state = 'connected'
  readonly id: string
  readonly name: string
  readonly rows: string[] = []

  constructor(name: string) {
    super()
    this.id = `id of ${name}`
    this.name = name
  }

  open(): Promise<this> {
    if (this.connection !== 'open') queueMicrotask(this.changed)
    this.connection = 'open'
    return Promise.resolve(this)
  }

  close(): Promise<this> {
    return Promise.resolve(this)
  }

  send(bytes: readonly number[], atMs: number): void {
    this.rows.push(messageText(bytes, atMs))
  }
}

/** A machine with ports to plug in and out. */
class Machine {
  readonly inputs = new Map<string, never>()
  readonly outputs = new Map<string, BrowserPort>()
  onstatechange: ((event: { port: BrowserPort }) => void) | undefined

  plugIn(port: BrowserPort): void {
    port.state = 'connected'
    port.connection = 'closed'
    port.changed = () => this.onstatechange?.({ port })
    this.outputs.set(port.id, port)
    this.onstatechange?.({ port })
  }

  plugOut(port: BrowserPort): void {
    port.state = 'disconnected'
    port.connection = 'pending'
    this.outputs.delete(port.id)
    this.onstatechange?.({ port })
  }
}

function portsOf(request: RequestMidiAccess | null) {
  const changes: string[] = []
  const losses: OutputError[] = []
  const ports = new MidiPorts(
    new CrankedClock(0, 0),
    {
      changed: (ports) => changes.push(ports.map((port) => port.name).join(', ')),
      lost: (error) => losses.push(error),
    },
    request,
  )
  return { ports, changes, losses }
}

/** As long as the library takes to tell of a port. */
async function told(): Promise<void> {
  for (let turn = 0; turn < 20; turn++) await Promise.resolve()
}

const BASS = [{ part: 'bass' as const, program: 33 }]

describe('Ports', () => {
  test('are named when they are asked for, and played on by raw messages in time', async () => {
    const machine = new Machine()
    const port = new BrowserPort('Little synth')
    machine.plugIn(port)
    const { ports } = portsOf(async () => machine)
    expect(ports.ports).toEqual([])
    expect((await ports.open()).map(({ id, name }) => ({ id, name }))).toEqual([
      { id: 'id of Little synth', name: 'Little synth' },
    ])
    const output = ports.outputOf('id of Little synth')
    expect(output.name).toBe('Little synth')
    expect(ports.outputOf('id of Little synth')).toBe(output)
    await output.start(BASS)
    output.play([{ part: 'bass', pitch: 28, velocity: 100, start: 0.0625, end: 0.075 }])
    output.advance()
    output.advance()
    expect(port.rows).toEqual(['now b0 07 64', 'now c0 21', '@62.5 90 1c 64'])
    output.stop()
    expect(port.rows).toContain('now b0 7b 00')
  })

  test('come and go; one that is played on is missed, and can be played on when it is back', async () => {
    const machine = new Machine()
    const [one, two] = [new BrowserPort('One'), new BrowserPort('Two')]
    machine.plugIn(one)
    const { ports, changes, losses } = portsOf(async () => machine)
    await ports.open()
    machine.plugIn(two)
    await told()
    expect(changes.at(-1)).toBe('One, Two')
    const output = ports.outputOf(one.id)
    await output.start(BASS)
    machine.plugOut(two)
    await told()
    expect(losses).toEqual([])
    machine.plugOut(one)
    await told()
    expect(losses.map((error) => error.code)).toEqual(['midi/port-lost'])
    expect(changes.at(-1)).toBe('')
    const sent = one.rows.length
    output.play([{ part: 'bass', pitch: 28, velocity: 100, start: 0.1, end: 0.2 }])
    output.stop()
    expect(one.rows.length).toBe(sent)
    await expect(output.start(BASS)).rejects.toMatchObject({ code: 'midi/port-lost' })
    machine.plugIn(one)
    await told()
    await ports.outputOf(one.id).start(BASS)
    expect(one.rows.length).toBeGreaterThan(sent)
  })
})

describe('Why there are no ports:', () => {
  test('the browser has no Web MIDI', async () => {
    await expect(portsOf(null).ports.open()).rejects.toMatchObject({ code: 'midi/not-in-this-browser' })
  })

  test.each([
    ['NotAllowedError', 'midi/not-allowed'],
    ['SecurityError', 'midi/not-allowed'],
    ['InvalidStateError', 'midi/failed'],
    ['AbortError', 'midi/failed'],
  ])('%s is %s', async (name, code) => {
    const { ports } = portsOf(() => Promise.reject(new DOMException('no', name)))
    await expect(ports.open()).rejects.toMatchObject({ code })
  })

  test('none is plugged in; when one is, it is told of', async () => {
    const machine = new Machine()
    const { ports, changes } = portsOf(async () => machine)
    await expect(ports.open()).rejects.toMatchObject({ code: 'midi/no-port' })
    expect(() => ports.outputOf('none')).toThrow('no MIDI port none')
    machine.plugIn(new BrowserPort('Late'))
    await told()
    expect(changes.at(-1)).toBe('Late')
    expect((await ports.open()).length).toBe(1)
  })
})
