import { readdirSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Form } from '../../src/chart/form.ts'
import { compose } from '../../src/compose.ts'
import { FEELS } from '../../src/feels/feels.ts'
import { explain } from '../../src/line/explain.ts'
import type { Line } from '../../src/line/line.ts'
import type { Instrument } from '../../src/music/instrument.ts'
import { INSTRUMENTS } from '../../src/music/instruments.ts'
import { type Key, parseKey } from '../../src/music/key.ts'
import { barTicks, METRES, metreOf } from '../../src/music/metre.ts'
import { partOf } from '../../src/notation/part.ts'
import { CELLS } from '../../src/rhythm/cells.ts'
import { startsIn } from '../../src/rhythm/join.ts'
import { type PlacedCell, slotsOf } from '../../src/rhythm/plan.ts'
import { changes } from '../support/changes.ts'
import { readExample } from '../support/example.ts'
import { faultsOf, readPart, soundsOfLine } from '../support/part-reader.ts'

/** A part read back from its signs is the line, note for note, and every bar can be read at sight. */
function expectReadable(form: Form, line: Line, key: Key | undefined, instrument: Instrument): void {
  const part = partOf({ form, line, key, instrument })
  expect(part.bars.flatMap((bar) => faultsOf(bar).map((fault) => `bar ${bar.number}: ${fault}`))).toEqual([])
  const ends = soundsOfLine(line, form)
  const played = line.notes.map(({ slot, pitch }, index) =>
    slot.ghost ? [slot.startTick, 'dead'] : [slot.startTick, ends[index]![1], pitch, pitch],
  )
  const read = readPart(part, instrument).map(({ startTick, endTick, pitch, tabPitch }) =>
    pitch === undefined && tabPitch === undefined ? [startTick, 'dead'] : [startTick, endTick, pitch, tabPitch],
  )
  expect(read).toEqual(played)
}

describe('what is printed is what is played', () => {
  const examples = readdirSync('examples')
    .filter((file) => file.endsWith('.changes.txt'))
    .map((file, index) => [file.replace('.changes.txt', ''), index] as const)
  test.each(examples)('of %s', (name, index) => {
    const text = readExample(name)
    // In its own feel and in another one, in turn; of a large run in every feel, with and without a loop.
    const feels = process.env['SOAK'] ? FEELS.map(({ id }) => id) : [undefined, FEELS[index % FEELS.length]!.id]
    for (const feel of feels) {
      for (const loop of process.env['SOAK'] ? [false, true] : [feel === undefined]) {
        const { form, lines, chart, instrument } = compose(text, feel === undefined ? { loop } : { feel, loop })
        for (const line of lines) expectReadable(form, line, chart.key, instrument)
      }
    }
  })

  const KEYS = ['C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'Cb', 'Dm', 'G#m', 'Abm']
  const CHORDS = [
    'C7',
    'F#m7b5',
    'Bbmaj7',
    'Ebm6',
    'Bdim7',
    'G7alt',
    'Abm7/Gb',
    'E7',
    'C#m9',
    'Dbmaj7',
    'N.C.',
    'Fm(maj7)',
  ]

  test('of random cells, one after another, in every metre, key and tuning', () => {
    const pick = fc.infiniteStream(fc.nat())
    fc.assert(
      fc.property(
        fc.constantFrom(...METRES),
        fc.constantFrom(...KEYS),
        fc.constantFrom(...INSTRUMENTS),
        fc.boolean(),
        pick,
        (time, keyName, instrument, loop, stream) => {
          const next = (limit: number) => stream.next().value! % limit
          const metre = metreOf(time)!
          const key = parseKey(keyName)!
          const bars = 2 + next(4)
          const chords = ['C7', ...Array.from({ length: bars - 1 }, () => CHORDS[next(CHORDS.length)]!)]
          const form = changes(chords.join(' | '), { time, key: keyName })
          const cells: PlacedCell[] = []
          for (let at = 0; at < form.ticks; ) {
            const inBar = at % barTicks(metre)
            const fitting = CELLS.filter(
              (cell) => at + cell.ticks <= form.ticks && startsIn(cell, metre).includes(inBar),
            )
            const cell = fitting[next(fitting.length + 1)]
            if (cell) cells.push({ id: cell.id, cell, startTick: at })
            at += cell?.ticks ?? 240
          }
          const slots = slotsOf(form, cells, loop)
          const sounded = slots
            .filter(({ ghost }) => !ghost)
            .map((slot) => {
              const string = next(instrument.open.length)
              const fret = next(instrument.frets + 1)
              const pitch = instrument.open[string]! + fret
              return { slot, pitch, string, fret, hand: 1, pattern: undefined, terms: [] }
            })
          const ghosts = slots.filter(({ ghost }) => ghost)
          const searched = { notes: sounded, ghosts, terms: [], cost: 0, provenWithin: 0 }
          expectReadable(form, explain(searched, { form, instrument, key, loop }), key, instrument)
        },
      ),
      { seed: 11, numRuns: process.env['SOAK'] ? 1000 : 100 },
    )
  })
})

describe('this reader sees', () => {
  const form = changes('C | F')
  const instrument = INSTRUMENTS[0]!
  const line = compose('C | F').lines[0]!
  const part = partOf({ form, line, key: undefined, instrument })

  test('a bar that is not filled', () => {
    const [bar] = part.bars
    expect(faultsOf({ ...bar!, signs: bar!.signs.slice(1), beams: [] })).not.toEqual([])
  })

  test('a missing accidental and a wrong figure', () => {
    const sharp = line.notes.map((note) => ({ ...note, name: 'F#1', pitch: 30, fret: 2, string: 0 }))
    const printed = partOf({ form, line: { ...line, notes: sharp }, key: undefined, instrument })
    const bars = printed.bars.map((bar) => ({
      ...bar,
      signs: bar.signs.map((sign) => (sign.kind === 'note' ? { ...sign, accidental: undefined } : sign)),
    }))
    expect(readPart(printed, instrument)[0]).toMatchObject({ pitch: 30, tabPitch: 30 })
    expect(readPart({ ...printed, bars }, instrument)[0]).toMatchObject({ pitch: 29, tabPitch: 30 })
  })

  test('a tie that leads nowhere', () => {
    const bars = part.bars.map((bar) => ({
      ...bar,
      signs: bar.signs.map((sign) => (sign.kind === 'note' ? { ...sign, tiedOn: true } : sign)),
    }))
    expect(() => readPart({ ...part, bars }, instrument)).toThrow('a tie has one end only')
  })
})
