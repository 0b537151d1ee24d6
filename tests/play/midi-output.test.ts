import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import type { PartName } from '../../src/music/arrangement.ts'
import { MidiOutput } from '../../src/play/midi-output.ts'
import { Transport } from '../../src/play/transport.ts'
import { CrankedClock } from '../support/cranked-clock.ts'
import { loopOf } from '../support/loop.ts'
import { MidiWire } from '../support/midi-wire.ts'

beforeEach(() => void vi.useFakeTimers({ now: 0 }))
afterEach(() => void vi.useRealTimers())

const BAND = [
  { part: 'bass' as const, program: 32 },
  { part: 'chords' as const, program: 4 },
  { part: 'drums' as const, program: undefined },
]

/** A port that is started, with the messages of the start out of the way. */
async function plugged({ hidden = false } = {}) {
  const clock = new CrankedClock(0, 0)
  const wire = new MidiWire()
  let isHidden = hidden
  const output = new MidiOutput(wire, clock, () => isHidden)
  await output.start(BAND)
  wire.take()
  const hide = () => {
    isHidden = true
  }
  const crank = (seconds: number) => {
    clock.crank(seconds, () => output.advance())
    vi.advanceTimersByTime(seconds * 1000)
  }
  return { clock, wire, output, crank, hide }
}

function note(part: PartName, pitch: number, start: number, end: number, velocity = 100) {
  return { part, pitch, velocity, start, end }
}

describe('A MIDI port', () => {
  test('is told volumes and programs, bass on channel 1, chords on 2, drums on 10', async () => {
    const clock = new CrankedClock(0, 0)
    const wire = new MidiWire()
    await new MidiOutput(wire, clock, () => false).start(BAND)
    expect(wire.take()).toEqual(['now b0 07 64', 'now b1 07 64', 'now b9 07 64', 'now c0 20', 'now c1 04'])
  })

  test('gets note-ons at once with their time, note-offs when they are due', async () => {
    const { wire, output, crank } = await plugged()
    output.play([note('bass', 28, 0.1, 0.5), note('drums', 36, 0.05, 0.3), note('click', 76, 0.1, 0.2)])
    expect(wire.take()).toEqual(['@50 99 24 64', '@100 90 1c 64', '@100 99 4c 64'])
    crank(0.125)
    expect(wire.take()).toEqual([])
    crank(0.05)
    expect(wire.take()).toEqual(['@200 89 4c 40'])
    crank(0.1)
    expect(wire.take()).toEqual(['@300 89 24 40'])
    crank(0.3)
    expect(wire.take()).toEqual(['@500 80 1c 40'])
  })

  test('gets a note-off 1 ms before the next note of its pitch', async () => {
    const { wire, output } = await plugged()
    output.play([note('bass', 28, 0.05, 0.09), note('bass', 28, 0.09, 0.2)])
    expect(wire.take()).toEqual(['@50 90 1c 64', '@89 80 1c 40', '@90 90 1c 64'])
  })

  test('strikes a key once that two parts strike together', async () => {
    const { wire, output, crank } = await plugged()
    output.play([note('drums', 37, 0.05, 0.1), note('click', 37, 0.05, 0.2)])
    crank(0.3)
    expect(wire.take()).toEqual(['@50 99 25 64', '@200 89 25 40'])
  })

  test('is fed further ahead while the page is hidden', async () => {
    const { output, hide } = await plugged()
    expect(output.horizon).toBe(0.1)
    hide()
    expect(output.horizon).toBe(1.5)
  })

  test('changes programs 1 ms before the first note that needs them, and only those', async () => {
    const { wire, output } = await plugged()
    output.changeSounds([{ part: 'bass', program: 33 }, ...BAND.slice(1)], 0.08)
    expect(wire.take()).toEqual(['@79 c0 21'])
  })

  test('takes levels as channel volume, those of drums and click as velocity', async () => {
    const { wire, output } = await plugged()
    output.setLevel('bass', -12)
    output.setLevel('drums', -12)
    output.play([note('bass', 28, 0.05, 0.1), note('drums', 36, 0.05, 0.1), note('click', 76, 0.05, 0.1)])
    expect(wire.take()).toEqual(['now b0 07 32', 'now b9 07 64', '@50 90 1c 64', '@50 99 24 32', '@50 99 4c 64'])
  })

  test('gets nothing of a silent part, and what sounds of it ends', async () => {
    const { clock, wire, output, crank } = await plugged()
    output.play([note('bass', 28, 0.05, 2), note('chords', 60, 0.05, 2)])
    crank(0.5)
    output.play([note('bass', 31, clock.now() + 0.09, 2)])
    wire.take()
    output.setLevel('bass', undefined)
    expect(wire.take()).toEqual(['now 80 1c 40', '@591 80 1f 40'])
    output.play([note('bass', 33, 0.6, 1), note('chords', 64, 0.6, 1)])
    expect(wire.take()).toEqual(['@600 91 40 64'])
  })

  test('is silenced by note-offs, all notes off and all sound off, and again when what was sent is through', async () => {
    const { wire, output, crank } = await plugged()
    output.play([note('bass', 28, 0.05, 2)])
    crank(0.5)
    output.play([note('chords', 60, 0.59, 2)])
    wire.take()
    output.stop()
    const silence = ['b0 7b 00', 'b0 78 00', 'b1 7b 00', 'b1 78 00', 'b9 7b 00', 'b9 78 00'].map((row) => `now ${row}`)
    expect(wire.take()).toEqual(['now 80 1c 40', '@591 81 3c 40', ...silence])
    vi.advanceTimersByTime(91)
    expect(wire.take()).toEqual([])
    vi.advanceTimersByTime(2)
    expect(wire.take()).toEqual(silence)
    output.play([note('bass', 28, 0.7, 2)])
    expect(wire.take()).toEqual([])
  })

  test('started again at once is not silenced once more', async () => {
    const { wire, output, crank } = await plugged()
    output.play([note('bass', 28, 0.05, 2)])
    crank(0.02)
    output.stop()
    await output.start(BAND)
    wire.take()
    vi.advanceTimersByTime(1000)
    expect(wire.take()).toEqual([])
  })

  test('that is gone cannot be started', async () => {
    const { wire, output } = await plugged()
    wire.connected = false
    await expect(output.start(BAND)).rejects.toMatchObject({ code: 'midi/port-lost' })
  })

  test('ends every note that it strikes, at changes of tempo and music and after a stop', async () => {
    const { clock, wire, output } = await plugged()
    const transport = new Transport(clock, output)
    const crank = (seconds: number) => {
      clock.crank(seconds, () => transport.advance())
      vi.advanceTimersByTime(seconds * 1000)
    }
    await transport.play(loopOf('28 28 33 33 | 28 - - 28'))
    for (let change = 0; change < 40; change++) {
      crank(0.37)
      if (change % 2 === 0) transport.setTempo(80 + 4 * change)
      if (change % 5 === 0) transport.setMusic(loopOf(change % 10 === 0 ? '28 33 28 33' : '28 - 33 - | 33 28 - -'))
    }
    transport.stop()
    vi.advanceTimersByTime(2000)
    const sounding = new Set<number>()
    let struck = 0
    const notes = wire.messages.filter(({ bytes }) => bytes[0] === 0x90 || bytes[0] === 0x80)
    const last = Math.max(...notes.map(({ atMs }) => atMs))
    // What is sent as soon as possible comes last here.
    const inTime = notes.map((row) => ({ ...row, atMs: row.atMs || last + 1 })).sort((a, b) => a.atMs - b.atMs)
    for (const { bytes } of inTime) {
      const [kind, pitch] = bytes as [number, number]
      if (kind === 0x80) sounding.delete(pitch)
      else {
        expect(sounding.has(pitch)).toBe(false)
        sounding.add(pitch)
        struck++
      }
    }
    expect(sounding.size).toBe(0)
    expect(struck).toBeGreaterThan(20)
  })
})
