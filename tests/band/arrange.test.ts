import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { arrange } from '../../src/band/arrange.ts'
import { AS_LOOP, AS_PLAYED, perform } from '../../src/band/perform.ts'
import type { Form } from '../../src/chart/form.ts'
import type { Feel } from '../../src/feels/feel.ts'
import { FEELS } from '../../src/feels/feels.ts'
import { SOUL_EIGHTHS } from '../../src/feels/soul-eighths.ts'
import { SWING_MEDIUM } from '../../src/feels/swing-medium.ts'
import { writeMidi } from '../../src/files/midi-writer.ts'
import type { Line, LineNote } from '../../src/line/line.ts'
import type { Arrangement, PartName } from '../../src/music/arrangement.ts'
import { beatsOf, metreOf } from '../../src/music/metre.ts'
import { chordForm } from '../support/chord-form.ts'
import { drumRows } from '../support/drum-rows.ts'

const ALL: readonly PartName[] = ['click', 'drums', 'chords', 'bass']

function lineNote(startTick: number, ticks: number, more: Partial<LineNote['slot']> = {}): LineNote {
  const plain = { barIndex: 0, changeIndex: 0, strength: 'beat', cell: '', accent: false, length: undefined } as const
  return {
    slot: { startTick, ticks, pushed: false, ghost: false, ...plain, ...more },
    pitch: 33,
    string: 1,
    fret: 0,
    hand: 1,
    name: 'A1',
    degree: '1',
    function: 'root',
    pattern: undefined,
    terms: [],
  }
}

function lineOf(notes: readonly LineNote[]): Line {
  return { notes, terms: [], cost: 0, provenWithin: 0 }
}

/** A note on every beat. */
function walk(form: Form): Line {
  return lineOf(
    form.bars.flatMap((bar) => {
      let at = bar.startTick
      return beatsOf(bar.metre).flatMap((ticks) => {
        at += ticks
        return at <= bar.startTick + bar.ticks ? [lineNote(at - ticks, ticks)] : []
      })
    }),
  )
}

interface Asked {
  readonly feel?: Feel
  readonly line?: Line
  readonly loop?: boolean
  readonly parts?: readonly PartName[]
}

function arranged(
  form: Form,
  { feel = SOUL_EIGHTHS, line = walk(form), loop = false, parts = ALL }: Asked = {},
): Arrangement {
  return arrange({
    title: 'A chart',
    form,
    line,
    metre: metreOf(feel.metre)!,
    tempoBpm: feel.tempo.usual,
    key: undefined,
    band: feel.band,
    bandOfMetre: (metre) => (metre === feel.metre ? feel : FEELS.find((each) => each.metre === metre))?.band,
    parts,
    loop,
  })
}

describe('an arrangement', () => {
  const form = chordForm('[A] Dm7 G7 | C△ | N.C. | [B] Bb7♯11 | C6/9/E')

  test('has the parts that are asked for, bass first', () => {
    expect(arranged(form).parts.map(({ name }) => name)).toEqual(['bass', 'chords', 'drums', 'click'])
    expect(arranged(form, { parts: ['drums', 'bass'] }).parts.map(({ name }) => name)).toEqual(['bass', 'drums'])
    expect(arranged(form, { parts: [] }).parts).toEqual([])
  })

  test('gives bass and chords the programs of the feel', () => {
    const programs = (feel: Feel) => arranged(form, { feel }).parts.map(({ program }) => program)
    expect(programs(SWING_MEDIUM)).toEqual([32, 0, undefined, undefined])
    expect(programs(SOUL_EIGHTHS)).toEqual([33, 27, undefined, undefined])
  })

  test('names sections and chords in ASCII where they begin', () => {
    const { sections, chordNames } = arranged(form)
    expect(sections).toEqual([
      { tick: 0, text: 'A' },
      { tick: 5760, text: 'B' },
    ])
    expect(chordNames.map(({ tick, text }) => `${tick} ${text}`)).toEqual([
      '0 Dm7',
      '960 G7',
      '1920 Cmaj7',
      '3840 N.C.',
      '5760 Bb7#11',
      '7680 C6/9/E',
    ])
  })

  test('names a chord once as long as it is held', () => {
    expect(arranged(chordForm('C | % | F')).chordNames.map(({ tick }) => tick)).toEqual([0, 3840])
  })

  test('holds the line as the bass part, marks and all', () => {
    const line = lineOf([
      lineNote(0, 480, { accent: true }),
      lineNote(480, 240, { ghost: true }),
      lineNote(1680, 720, { pushed: true, length: 'long' }),
    ])
    const [bass] = arranged(chordForm('C | F'), { line }).parts
    expect(bass!.notes).toMatchObject([
      { startTick: 0, ticks: 480, pitch: 33, string: 1, accent: true, ghost: false, tied: false },
      { startTick: 480, ticks: 240, ghost: true },
      { startTick: 1680, ticks: 720, tied: true, length: 'long' },
    ])
  })

  test('has the kick mark what bass and chords push together, and only that', () => {
    const push = SWING_MEDIUM.band.comping.find(({ id }) => id === 'swing-comp-push')!
    const feel = { ...SWING_MEDIUM, band: { ...SWING_MEDIUM.band, comping: [push] } }
    const pushing = lineOf([lineNote(0, 1680), lineNote(1680, 2160, { pushed: true })])
    const kick = (line: Line) => {
      const drums = arranged(chordForm('Dm7 | G7'), { feel, line }).parts.find(({ name }) => name === 'drums')!
      return drumRows(drums.notes, 1440, 1920).at(-1)
    }
    expect(kick(pushing)).toBe('kick 2.7.')
    expect(kick(walk(chordForm('Dm7 | G7')))).toBe('kick 2...')
  })

  test('counts its tempo in the beat of the chart', () => {
    expect(arranged(form).tempo).toEqual([{ tick: 0, microsPerQuarter: Math.round(6e7 / SOUL_EIGHTHS.tempo.usual) }])
  })

  test('refuses a form without bars', () => {
    expect(() => arranged({ bars: [], changes: [], ticks: 0 })).toThrow(RangeError)
  })
})

/** Bars of chords in mixed metres, with sections, N.C. and held bars. */
const bar = fc.record({
  section: fc.constantFrom('', '', '', '[A] ', '[B] '),
  metre: fc.constantFrom(
    '',
    '',
    '',
    '',
    '(4/4) ',
    '(3/4) ',
    '(2/4) ',
    '(5/4) ',
    '(6/8) ',
    '(7/8) ',
    '(9/8) ',
    '(12/8) ',
  ),
  chords: fc.constantFrom(
    'C',
    'Dm7 G7',
    'N.C.',
    'Bbmaj7',
    'E7alt',
    'F#m7b5',
    'Abdim7 G',
    'F/G',
    'C5',
    'Gsus4',
    'A7 _',
    'Caug',
  ),
})

const forms = fc
  .tuple(fc.boolean(), fc.array(bar, { minLength: 1, maxLength: 14 }))
  .map(
    ([pickup, bars]) =>
      (pickup ? '(1/4) C | ' : '') + bars.map(({ section, metre, chords }) => section + metre + chords).join(' | '),
  )

describe('every arrangement as it is played', () => {
  test.each(FEELS)('keeps what a MIDI file asks for in $name', (feel) => {
    fc.assert(
      fc.property(forms, fc.boolean(), fc.boolean(), fc.boolean(), (symbols, loop, straight, asLoop) => {
        const form = chordForm(symbols, { metre: feel.metre })
        const written = arranged(form, { feel, loop })
        const performance = perform(written, feel, { ...(asLoop ? AS_LOOP : AS_PLAYED), straight })
        expect(performance.ticks).toBe(form.ticks)
        for (const part of performance.parts) {
          const sounding = new Map<number, number>()
          for (const { startTick, endTick, pitch, velocity } of part.notes) {
            expect(startTick).toBeGreaterThanOrEqual(sounding.get(pitch) ?? 0)
            expect(endTick).toBeGreaterThan(startTick)
            expect(endTick).toBeLessThanOrEqual(performance.ticks)
            expect(velocity).toBeGreaterThanOrEqual(1)
            expect(velocity).toBeLessThanOrEqual(127)
            sounding.set(pitch, endTick)
          }
        }
        expect(writeMidi(performance, asLoop ? 'sequencer' : 'player').length).toBeGreaterThan(0)
      }),
      { seed: 10, numRuns: process.env['SOAK'] ? 1000 : 100 },
    )
  })

  test.each(FEELS)('rests the chords in N.C. and lets the drums go on in $name', (feel) => {
    const form = chordForm('C | N.C. | F', { metre: feel.metre })
    const { startTick: from, ticks } = form.bars[1]!
    // A push into the bar after is not the bar's own.
    const to = from + ticks - 240
    const struck = arranged(form, { feel }).parts.map(({ name, notes }) => {
      const inBar = notes.filter(({ startTick }) => startTick >= from && startTick < to)
      return `${name}: ${inBar.length > 0}`
    })
    expect(struck.slice(1)).toEqual(['chords: false', 'drums: true', 'click: true'])
  })
})
