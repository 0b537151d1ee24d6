import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { OutputError } from '../../src/play/note-output.ts'
import type { Music } from '../../src/play/score.ts'
import { Transport } from '../../src/play/transport.ts'
import { CrankedClock } from '../support/cranked-clock.ts'
import { loopOf, performanceOf } from '../support/loop.ts'
import { type HeardNote, RecordingOutput } from '../support/recording-output.ts'

/** A stage: time stands at 0 and the first note sounds 0.1 s after the press. */
function stage({ horizon = 1.5, takesBack = true } = {}) {
  const clock = new CrankedClock()
  const output = new RecordingOutput(clock, horizon, takesBack)
  let ends = 0
  const transport = new Transport(clock, output, () => ends++)
  const crank = (seconds: number) => clock.crank(seconds, () => transport.advance())
  return { clock, output, transport, crank, ends: () => ends }
}

/** Notes as they were heard before a moment: `28@0.1 31@0.6`, seconds from the press. */
function heard(notes: readonly HeardNote[], from: number, to: number): string {
  const rounded = (seconds: number) => String(Math.round(seconds * 1e6) / 1e6)
  return notes
    .filter((note) => note.start >= from - 1e-9 && note.start < to - 1e-9)
    .map((note) => `${note.pitch}@${rounded(note.start)}`)
    .join(' ')
}

const FOUR = loopOf('28 31 33 35 | 40 43 45 47')

describe('Playing', () => {
  test('begins a tenth of a second after the press and goes round without a gap', async () => {
    const { output, transport, crank } = stage()
    await transport.play(FOUR)
    crank(9)
    expect(heard(output.notes, 0, 4.7)).toBe('28@0.1 31@0.6 33@1.1 35@1.6 40@2.1 43@2.6 45@3.1 47@3.6 28@4.1 31@4.6')
    expect(output.notes.every((note) => Math.abs(note.end - note.start - 0.5) < 1e-9)).toBe(true)
    expect(output.sounds).toEqual([{ from: 0, sounds: [{ part: 'bass', program: 33 }] }])
  })

  test('plays what is tied over the end but once', async () => {
    const { output, transport, crank } = stage()
    await transport.play({ first: performanceOf('28 31 33 35'), again: performanceOf('. 31 33 35') })
    crank(4)
    expect(heard(output.notes, 0, 4.1)).toBe('28@0.1 31@0.6 33@1.1 35@1.6 31@2.6 33@3.1 35@3.6')
  })

  test('without a loop ends with the last bar, says so when it has been heard, and rests its clock', async () => {
    const { clock, output, transport, crank, ends } = stage()
    transport.setLoop(false)
    await transport.play(FOUR)
    crank(4.12)
    expect(ends()).toBe(0)
    expect(transport.playing).toBe(true)
    crank(0.05)
    expect(ends()).toBe(1)
    expect(transport.playing).toBe(false)
    expect(clock.running).toBe(false)
    expect(output.notes.length).toBe(8)
    expect(output.stops).toBe(0)
  })

  test('tells the bar and the tick that are heard, not those that are sent', async () => {
    const { clock, transport, crank } = stage()
    expect(transport.place()).toBeUndefined()
    await transport.play(FOUR)
    expect(transport.place()).toEqual({ music: FOUR, tick: 0, barIndex: 0, pass: 0 })
    crank(0.1 + clock.latency + 2.25)
    expect(transport.place()).toMatchObject({ barIndex: 1, pass: 0 })
    expect(transport.place()?.tick).toBeCloseTo(2160, 6)
    crank(2)
    expect(transport.place()).toMatchObject({ barIndex: 0, pass: 1 })
    transport.stop()
    expect(transport.place()).toBeUndefined()
  })

  test('counts bars of a pick-up and of several metres by their own length', async () => {
    const { clock, transport, crank } = stage()
    const bars = { ...performanceOf('28 28 28 28'), ticks: 480 + 1920 + 1440 }
    const metres = [
      { tick: 0, upper: 1, lower: 4, beatTicks: 480 },
      { tick: 480, upper: 4, lower: 4, beatTicks: 480 },
      { tick: 2400, upper: 3, lower: 4, beatTicks: 480 },
    ]
    const music = { ...bars, metres }
    await transport.play({ first: music, again: music })
    const indexes: (number | undefined)[] = []
    crank(0.1 + clock.latency + 0.25)
    for (let beat = 0; beat < 9; beat++) {
      indexes.push(transport.place()?.barIndex)
      crank(0.5)
    }
    expect(indexes).toEqual([0, 1, 1, 1, 1, 2, 2, 2, 0])
  })

  test('stops at once: what waits is dropped, what sounds ends', async () => {
    const { clock, output, transport, crank } = stage()
    await transport.play(FOUR)
    crank(1.3)
    transport.stop()
    expect(heard(output.notes, 0, 99)).toBe('28@0.1 31@0.6 33@1.1')
    expect(Math.max(...output.notes.map((note) => note.end))).toBeCloseTo(1.3, 9)
    crank(5)
    expect(output.notes.length).toBe(3)
    expect(clock.running).toBe(false)
  })

  test('is stopped while an output still starts, and stays so', async () => {
    const { output, transport, crank } = stage()
    const started = transport.play(FOUR)
    transport.stop()
    await started
    crank(3)
    expect(transport.playing).toBe(false)
    expect(output.notes).toEqual([])
  })

  test('is not begun where the output cannot sound', async () => {
    const { output, transport } = stage()
    output.start = () => Promise.reject(new OutputError('sound/bank', 'no bank'))
    await expect(transport.play(FOUR)).rejects.toMatchObject({ code: 'sound/bank' })
    expect(transport.playing).toBe(false)
  })

  test('leaves out what is late after the machine has slept', async () => {
    const { clock, output, transport, crank } = stage()
    await transport.play(FOUR)
    crank(1)
    clock.crank(60, () => {}, 60)
    transport.advance()
    expect(output.notes.every((note) => note.ahead >= -0.05)).toBe(true)
    crank(2)
    expect(heard(output.notes, 61, 62.2)).toBe('33@61.1 35@61.6 40@62.1')
  })
})

describe('Another tempo', () => {
  test('holds from the next beat on', async () => {
    const { output, transport, crank } = stage()
    await transport.play(FOUR)
    crank(0.7)
    transport.setTempo(60)
    crank(5)
    expect(heard(output.notes, 0, 4.2)).toBe('28@0.1 31@0.6 33@1.1 35@2.1 40@3.1 43@4.1')
  })

  test('waits for the beat after the next where that one is nearer than 50 ms', async () => {
    const { output, transport, crank } = stage()
    await transport.play(FOUR)
    crank(1.06)
    transport.setTempo(60)
    crank(5)
    expect(heard(output.notes, 0, 3)).toBe('28@0.1 31@0.6 33@1.1 35@1.6 40@2.6')
  })

  test('counts dotted quarters where the metre does', async () => {
    const { output, transport, crank } = stage()
    transport.setTempo(60)
    await transport.play(loopOf('28 31 33 35', { metre: '12/8', bpm: 90 }))
    crank(5)
    expect(heard(output.notes, 0, 4)).toBe('28@0.1 31@1.1 33@2.1 35@3.1')
  })

  test('goes back to the written one', async () => {
    const { output, transport, crank } = stage()
    transport.setTempo(240)
    await transport.play(FOUR)
    crank(0.4)
    transport.setTempo(undefined)
    crank(5)
    expect(heard(output.notes, 0, 2.2)).toBe('28@0.1 31@0.35 33@0.6 35@1.1 40@1.6 43@2.1')
  })

  test('keeps the tempo changes of the music in proportion', async () => {
    const { output, transport, crank } = stage()
    const slower = performanceOf('28 31 33 35')
    const music = { ...slower, tempo: [...slower.tempo, { tick: 960, microsPerQuarter: 1_000_000 }] }
    transport.setTempo(240)
    await transport.play({ first: music, again: music })
    crank(3)
    expect(heard(output.notes, 0, 2)).toBe('28@0.1 31@0.35 33@0.6 35@1.1 28@1.6 31@1.85')
  })

  test('of nothing or less is a mistake of the caller', () => {
    expect(() => stage().transport.setTempo(0)).toThrow(RangeError)
    expect(() => stage().transport.setTempo(Number.NaN)).toThrow(RangeError)
  })
})

describe('Other music', () => {
  const OTHER = loopOf('52 53 54 55 | 56 57 58 59')

  test('takes over at the next bar line, not before, in the same bar', async () => {
    const { output, transport, crank } = stage()
    await transport.play(FOUR)
    crank(0.7)
    transport.setMusic(OTHER)
    expect(transport.place()?.music).toBe(FOUR)
    crank(6)
    expect(heard(output.notes, 0, 4.2)).toBe('28@0.1 31@0.6 33@1.1 35@1.6 56@2.1 57@2.6 58@3.1 59@3.6 52@4.1')
    expect(transport.place()?.music).toBe(OTHER)
  })

  test('waits for the bar line after the next where that one is nearer than 50 ms', async () => {
    const { output, transport, crank } = stage()
    await transport.play(FOUR)
    crank(2.06)
    transport.setMusic(OTHER)
    crank(6)
    expect(heard(output.notes, 2, 5)).toBe('40@2.1 43@2.6 45@3.1 47@3.6 52@4.1 53@4.6')
  })

  test('begins at its beginning where it has no such bar', async () => {
    const { output, transport, crank } = stage()
    await transport.play(FOUR)
    crank(0.7)
    transport.setMusic(loopOf('52 53 54 55'))
    crank(6)
    expect(heard(output.notes, 1.5, 4.7)).toBe('35@1.6 52@2.1 53@2.6 54@3.1 55@3.6 52@4.1 53@4.6')
    expect(transport.place()?.pass).toBe(3)
  })

  test('of more bars is played to its own end', async () => {
    const { output, transport, crank } = stage()
    await transport.play(loopOf('28 31 33 35'))
    crank(0.7)
    transport.setMusic(loopOf('52 53 54 55 | 56 57 58 59 | 60 61 62 63'))
    crank(8)
    expect(heard(output.notes, 1.5, 8.2)).toBe(
      '35@1.6 52@2.1 53@2.6 54@3.1 55@3.6 56@4.1 57@4.6 58@5.1 59@5.6 60@6.1 61@6.6 62@7.1 63@7.6 52@8.1',
    )
  })

  test('of another metre and tempo begins where a bar ends that is heard', async () => {
    const { output, transport, crank } = stage()
    await transport.play(FOUR)
    crank(0.7)
    transport.setMusic(loopOf('52 53 54 | 56 57 58', { metre: '3/4', bpm: 60 }))
    crank(9)
    expect(heard(output.notes, 1.5, 6.2)).toBe('35@1.6 56@2.1 57@3.1 58@4.1 52@5.1 53@6.1')
  })

  test('given twice before a bar line: the newest is heard', async () => {
    const { output, transport, crank } = stage()
    await transport.play(FOUR)
    crank(0.7)
    transport.setMusic(OTHER)
    crank(0.3)
    transport.setTempo(240)
    transport.setMusic(loopOf('60 60 60 60 | 61 61 61 61'))
    crank(3)
    expect(heard(output.notes, 0, 2)).toBe('28@0.1 31@0.6 33@1.1 35@1.35 61@1.6 61@1.85')
  })

  test('at the seam strikes its downbeat though it is tied to', async () => {
    const { output, transport, crank } = stage()
    await transport.play(loopOf('28 31 33 35'))
    crank(0.7)
    transport.setMusic({ first: performanceOf('52 53 54 55'), again: performanceOf('. 53 54 55') })
    crank(5)
    expect(heard(output.notes, 1.5, 5)).toBe('35@1.6 52@2.1 53@2.6 54@3.1 55@3.6 53@4.6')
  })

  test('lets a note that has begun keep its end', async () => {
    const { output, transport, crank } = stage()
    await transport.play(loopOf('28 31 33 35 | - 43 45 47'))
    crank(0.7)
    transport.setMusic(OTHER)
    crank(3)
    const held = output.notes.find((note) => note.pitch === 35)
    expect(held?.end).toBeCloseTo(2.6, 9)
  })

  test('brings its own instruments at its bar line', async () => {
    const { output, transport, crank } = stage()
    await transport.play(FOUR)
    crank(0.7)
    transport.setMusic(loopOf('52 53 54 55 | 56 57 58 59', { program: 32 }))
    crank(0.1)
    expect(output.sounds.at(-1)).toEqual({ from: expect.closeTo(2.1, 9), sounds: [{ part: 'bass', program: 32 }] })
    transport.setMusic(FOUR)
    crank(4)
    expect(output.sounds.length).toBe(1)
  })

  test('on a port is heard after the last note that it has got', async () => {
    const { output, transport, crank } = stage({ horizon: 0.1, takesBack: false })
    await transport.play(FOUR)
    crank(2.02)
    transport.setMusic(OTHER)
    crank(3)
    expect(heard(output.notes, 2, 4.2)).toBe('40@2.1 43@2.6 45@3.1 47@3.6 52@4.1')
  })
})

describe('The loop', () => {
  test('let go in the middle plays to the end and stops', async () => {
    const { output, transport, crank, ends } = stage()
    await transport.play(FOUR)
    crank(3.8)
    expect(output.notes.length).toBeGreaterThan(8)
    transport.setLoop(false)
    crank(3)
    expect(output.notes.length).toBe(8)
    expect(ends()).toBe(1)
  })

  test('let go less than 50 ms before its end goes round once more', async () => {
    const { output, transport, crank, ends } = stage()
    await transport.play(FOUR)
    crank(4.07)
    transport.setLoop(false)
    crank(3)
    expect(ends()).toBe(0)
    crank(2)
    expect(output.notes.length).toBe(16)
    expect(ends()).toBe(1)
  })

  test('taken up again before the end goes on without a gap', async () => {
    const { output, transport, crank } = stage()
    transport.setLoop(false)
    await transport.play(FOUR)
    crank(3.9)
    transport.setLoop(true)
    crank(2)
    expect(heard(output.notes, 3.5, 4.7)).toBe('47@3.6 28@4.1 31@4.6')
  })

  test('taken up too late ends all the same', async () => {
    const { output, transport, crank, ends } = stage()
    transport.setLoop(false)
    await transport.play(FOUR)
    crank(4.07)
    transport.setLoop(true)
    crank(2)
    expect(output.notes.length).toBe(8)
    expect(ends()).toBe(1)
  })
})

describe('Another output', () => {
  test('takes over while it plays, with levels and instruments; the old one is silent', async () => {
    const { clock, output, transport, crank } = stage()
    transport.setLevel('bass', -6)
    await transport.play(FOUR)
    crank(0.7)
    const port = new RecordingOutput(clock, 0.1, false)
    await transport.setOutput(port)
    crank(2)
    expect(heard(output.notes, 0, 9)).toBe('28@0.1 31@0.6')
    expect(heard(port.notes, 0, 2.2)).toBe('33@1.1 35@1.6 40@2.1')
    expect(port.levels.get('bass')).toBe(-6)
    expect(port.sounds[0]?.sounds).toEqual([{ part: 'bass', program: 33 }])
  })

  test('that cannot sound leaves the old one playing', async () => {
    const { clock, output, transport, crank } = stage()
    await transport.play(FOUR)
    const port = new RecordingOutput(clock)
    port.start = () => Promise.reject(new OutputError('midi/port-lost', 'gone'))
    await expect(transport.setOutput(port)).rejects.toMatchObject({ code: 'midi/port-lost' })
    crank(2)
    expect(heard(output.notes, 0, 2)).toBe('28@0.1 31@0.6 33@1.1 35@1.6')
  })
})

describe('A page that stalls', () => {
  test('for 300 ms each second brings no note late', async () => {
    const { clock, output, transport, crank } = stage()
    await transport.play(loopOf('28 29 30 31 32 33 34 35 36 37 38 39 40 41 42 43', { bpm: 240 }))
    for (let second = 0; second < 60; second++) {
      crank(0.7)
      if (second % 7 === 3) transport.setTempo(100 + second)
      clock.crank(0.3, () => {}, 0.3)
    }
    expect(output.notes.length).toBeGreaterThan(400)
    expect(Math.min(...output.notes.map((note) => note.ahead))).toBeGreaterThan(0)
  })
})

/** A fraction, exactly. */
interface Fraction {
  readonly over: bigint
  readonly under: bigint
}

function plus(a: Fraction, b: Fraction): Fraction {
  const over = a.over * b.under + b.over * a.under
  const under = a.under * b.under
  let [x, y] = [over, under]
  while (y > 0n) [x, y] = [y, x % y]
  return { over: over / x, under: under / x }
}

/** By how many frames a note misses an exact moment. */
function missedFrames(frame: number, exact: Fraction, rate: number): number {
  const over = BigInt(frame) * exact.under - exact.over * BigInt(rate)
  return Math.abs(Number((over * 1_000_000_000n) / exact.under)) / 1e9
}

describe('Onsets', () => {
  const bars = process.env['SOAK'] ? 2000 : 200

  test(`lie on their frame at 40 to 300 beats a minute, over ${bars} bars with a new tempo in each`, async () => {
    const { output, transport, crank } = stage()
    const sixteenths = Array.from({ length: 16 }, (_, index) => 28 + index).join(' ')
    const tempos = Array.from({ length: bars }, (_, bar) => 40 + ((bar * 97) % 261))
    transport.setTempo(tempos[0])
    await transport.play(loopOf(`${sixteenths} | ${sixteenths}`))
    // Each tempo is set in the last beat of the bar before it.
    let now = 0
    let bar = 0.1
    for (const [index, bpm] of tempos.entries()) {
      const next = bar + 240 / bpm
      const set = next - 0.1
      crank(set - now)
      now = set
      transport.setTempo(tempos[index + 1])
      bar = next
    }
    transport.stop()
    const { notes } = output
    let exact: Fraction = { over: 1n, under: 10n }
    let worst = 0
    for (const [index, bpm] of tempos.slice(0, -1).entries()) {
      for (let step = 0; step < 16; step++) {
        const note = notes[index * 16 + step]
        for (const rate of [44_100, 48_000]) {
          worst = Math.max(worst, missedFrames(Math.round(note!.start * rate), exact, rate))
        }
        exact = plus(exact, { over: 15n, under: BigInt(bpm) })
      }
    }
    expect(worst).toBeLessThanOrEqual(0.5 + 1e-6)
  })

  test('of a written tempo lie on their frame after an hour of going round', async () => {
    const { output, transport, crank, clock } = stage()
    await transport.play(loopOf('28 31 33', { metre: '3/4', bpm: 126 }))
    clock.crank(3600, () => {}, 3600)
    crank(2)
    for (const note of output.notes.filter((note) => note.start > 3599)) {
      const beat = Math.round((note.start - 0.1) / 0.47619)
      const exact = plus({ over: 1n, under: 10n }, { over: BigInt(beat) * 476_190n, under: 1_000_000n })
      expect(missedFrames(Math.round(note.start * 48_000), exact, 48_000)).toBeLessThanOrEqual(0.5 + 1e-6)
    }
  })
})

/** Music with a note on every beat, so that a hole or a double shows in the distances. */
const SONGS: readonly Music[] = [
  FOUR,
  loopOf('52 53 54 55'),
  loopOf('60 61 62 63 | 64 65 66 67 | 68 69 70 71', { program: 32 }),
  loopOf('72 73 74 | 75 76 77', { metre: '3/4' }),
  {
    first: performanceOf('80 81 82 83 | 84 85 86 87', { share: 0.9 }),
    again: performanceOf('80 81 82 83 | 84 85 86 87'),
  },
]

const TEMPOS = [40, 97, 120, 173, 300]

const action = fc.oneof(
  { weight: 4, arbitrary: fc.record({ kind: fc.constant('wait' as const), ms: fc.integer({ min: 1, max: 3000 }) }) },
  { weight: 4, arbitrary: fc.record({ kind: fc.constant('music' as const), song: fc.nat(SONGS.length - 1) }) },
  { weight: 3, arbitrary: fc.record({ kind: fc.constant('tempo' as const), bpm: fc.constantFrom(...TEMPOS) }) },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('loop' as const), on: fc.boolean() }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('stop' as const) }) },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('play' as const), song: fc.nat(SONGS.length - 1) }) },
)

describe('Two hundred transport actions', () => {
  const outputs = [
    { title: 'an output that takes back', horizon: 1.5, takesBack: true },
    { title: 'a port', horizon: 0.1, takesBack: false },
  ]
  test.each(outputs)('leave on $title neither hole nor double nor voice, and silence after a stop', async (kind) => {
    await fc.assert(
      fc.asyncProperty(fc.array(action, { minLength: 200, maxLength: 200 }), async (actions) => {
        const { clock, output, transport, crank } = stage(kind)
        transport.setTempo(120)
        /** from a press to silence */
        const stretches: { from: number; to: number }[] = []
        const closed = () => {
          const last = stretches.at(-1)
          if (last && last.to === Number.POSITIVE_INFINITY) last.to = clock.now()
        }
        for (const act of actions) {
          if (act.kind === 'wait') crank(act.ms / 1000)
          else if (act.kind === 'music') transport.setMusic(SONGS[act.song]!)
          else if (act.kind === 'tempo') transport.setTempo(act.bpm)
          else if (act.kind === 'loop') transport.setLoop(act.on)
          else if (act.kind === 'stop') {
            transport.stop()
            closed()
          } else {
            closed()
            await transport.play(SONGS[act.song]!)
            stretches.push({ from: clock.now(), to: Number.POSITIVE_INFINITY })
          }
        }
        transport.stop()
        closed()

        const ends = stretches.map((stretch) => stretch.to)
        for (const note of output.notes) {
          expect(note.end).toBeGreaterThan(note.start)
          expect(note.ahead).toBeGreaterThan(0)
          const stretch = stretches.findLast((stretch) => stretch.from <= note.start)!
          expect(note.start).toBeLessThan(stretch.to)
          expect(note.end).toBeLessThanOrEqual(stretch.to + 1e-9)
        }
        expect(Math.max(0, ...output.notes.map((note) => note.end))).toBeLessThanOrEqual(Math.max(0, ...ends) + 1e-9)
        for (const { from, to } of stretches) {
          const starts = output.notes.filter((note) => note.start >= from && note.start < to).map((note) => note.start)
          if (starts.length > 0) expect(starts[0]).toBeCloseTo(from + 0.1, 9)
          for (const [index, start] of starts.slice(1).entries()) {
            const beat = start - starts[index]!
            expect(Math.min(...TEMPOS.map((bpm) => Math.abs(beat - 60 / bpm)))).toBeLessThan(1e-9)
          }
        }
      }),
      { seed: 20, numRuns: process.env['SOAK'] ? 200 : 20 },
    )
  })
})
