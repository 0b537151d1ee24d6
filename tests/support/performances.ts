import fc from 'fast-check'
import type { PartName } from '../../src/music/arrangement.ts'
import type { Key } from '../../src/music/key.ts'
import type { Performance, PlayedNote } from '../../src/music/performance.ts'

/** Ticks of gaps and lengths: shorter and longer than what one byte of a delta holds. */
const ticks = fc.oneof(fc.integer({ min: 0, max: 300 }), fc.constantFrom(0, 127, 128, 16383, 16384))

const rawNote = fc.record({
  gap: ticks,
  length: fc.oneof(fc.integer({ min: 1, max: 600 }), fc.constantFrom(1, 127, 128, 16384)),
  pitch: fc.integer({ min: 0, max: 127 }),
  velocity: fc.integer({ min: 1, max: 127 }),
})

/** Notes in order of time; a pitch is struck again at the earliest where it ends. */
const notes = fc.array(rawNote, { maxLength: 40 }).map((raw) => {
  const free = new Map<number, number>()
  let tick = 0
  return raw.map(({ gap, length, pitch, velocity }): PlayedNote => {
    tick = Math.max(tick + gap, free.get(pitch) ?? 0)
    free.set(pitch, tick + length)
    return { startTick: tick, endTick: tick + length, pitch, velocity }
  })
})

/** Printable ASCII: what every reader takes for the same. */
const text = fc.string({
  unit: fc.integer({ min: 32, max: 126 }).map((code) => String.fromCharCode(code)),
  maxLength: 200,
})

const NATURAL: Key['tonic'] = { letter: 'C', alter: 0 }

/** Performances of every shape that a file can hold. */
export const performances: fc.Arbitrary<Performance> = fc
  .record({
    title: text,
    tempi: fc.array(fc.record({ gap: ticks, micros: fc.integer({ min: 1, max: 0xffffff }) }), {
      minLength: 1,
      maxLength: 4,
    }),
    metres: fc.array(
      fc.record({
        gap: ticks,
        upper: fc.integer({ min: 1, max: 16 }),
        lower: fc.constantFrom(2, 4, 8),
        beatTicks: fc.constantFrom(480, 720),
      }),
      { minLength: 1, maxLength: 4 },
    ),
    key: fc.option(
      fc.record({ sharps: fc.integer({ min: -7, max: 7 }), mode: fc.constantFrom('major' as const, 'minor' as const) }),
      {
        nil: undefined,
      },
    ),
    sections: fc.array(fc.record({ gap: ticks, text }), { maxLength: 5 }),
    chordNames: fc.array(fc.record({ gap: ticks, text }), { maxLength: 20 }),
    parts: fc.record({ bass: notes, chords: notes, drums: notes, click: notes }),
    program: fc.integer({ min: 0, max: 127 }),
    silence: fc.integer({ min: 1, max: 4000 }),
  })
  .map(({ title, tempi, metres, key, sections, chordNames, parts, program, silence }) => {
    const placed = <Row extends { gap: number }>(rows: readonly Row[], first: number) => {
      let tick = 0
      return rows.map((row, index) => {
        tick += index === 0 ? first : row.gap + 1
        return { ...row, tick }
      })
    }
    const tempo = placed(tempi, 0).map(({ tick, micros }) => ({ tick, microsPerQuarter: micros }))
    const changes = placed(metres, 0).map(({ tick, upper, lower, beatTicks }) => ({ tick, upper, lower, beatTicks }))
    const markers = placed(sections, 0).map((mark) => ({ tick: mark.tick, text: mark.text }))
    const names = placed(chordNames, 0).map((mark) => ({ tick: mark.tick, text: mark.text }))
    const ends = Object.values(parts).flatMap((part) => part.map((note) => note.endTick))
    const marks = [...tempo, ...changes, ...markers, ...names].map(({ tick }) => tick)
    const order: readonly PartName[] = ['bass', 'chords', 'drums', 'click']
    return {
      title,
      ticks: Math.max(0, ...ends, ...marks) + silence,
      tempo,
      metres: changes,
      key: key && { ...key, tonic: NATURAL },
      sections: markers,
      chordNames: names,
      parts: order.map((name) => ({
        name,
        program: name === 'bass' || name === 'chords' ? program : undefined,
        notes: parts[name],
      })),
    }
  })
