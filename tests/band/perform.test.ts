import { describe, expect, test } from 'vitest'
import { AS_LOOP, AS_PLAYED, type Manner, type Playing, perform } from '../../src/band/perform.ts'
import type { Touch } from '../../src/band/touch.ts'
import type { ArrangedBar, Arrangement, PartName, WrittenNote } from '../../src/music/arrangement.ts'
import { barTicks, type Metre, metreOf } from '../../src/music/metre.ts'
import { microsPerQuarterOf } from '../../src/music/tempo-map.ts'
import { parseCell } from '../../src/rhythm/cell.ts'
import type { Swing } from '../../src/rhythm/swing.ts'

const FOUR = metreOf('4/4')!

const TOUCH: Touch = {
  lengthOnBeat: 0.86,
  lengthOffBeat: 0.62,
  placementMs: 4,
  velocities: { first: 102, beat: 96, backBeat: 98, offBeat: 84, finer: 78 },
  ghostVelocity: 36,
  accentAdd: 10,
}

function swing(level: Swing['level'], ratio: number): Swing {
  return { level, points: [{ bpm: 120, ratio }] }
}

function note(startTick: number, ticks: number, more: Partial<WrittenNote> = {}): WrittenNote {
  const plain = { velocity: undefined, share: undefined, accent: false, length: undefined, ghost: false, tied: false }
  return { startTick, ticks, pitch: 28, string: 0, ...plain, ...more }
}

function bars(metre: Metre, count: number): readonly ArrangedBar[] {
  const ticks = barTicks(metre)
  return Array.from({ length: count }, (_, index) => ({ startTick: index * ticks, ticks, metre }))
}

interface Setting {
  readonly bpm?: number
  readonly name?: PartName
  readonly bars?: readonly ArrangedBar[]
}

function arrangement(notes: readonly WrittenNote[], setting: Setting = {}): Arrangement {
  const { bpm = 120, name = 'bass', bars: counted = bars(FOUR, 1) } = setting
  const last = counted.at(-1)!
  return {
    title: '',
    ticks: last.startTick + last.ticks,
    tempo: [{ tick: 0, microsPerQuarter: microsPerQuarterOf(bpm) }],
    key: undefined,
    bars: counted,
    sections: [],
    chordNames: [],
    parts: [{ name, program: undefined, notes }],
  }
}

/** A cell on one string, as written notes. */
function cellNotes(notation: string): readonly WrittenNote[] {
  const reading = parseCell(notation)
  if (!reading.ok) throw new Error(reading.message)
  return reading.cell.onsets.map(({ tick, ticks, accent, ghost, length, tiedOver }) =>
    note(tick, ticks, { accent, ghost, length, tied: tiedOver }),
  )
}

/** Onset and length of each played note: `4+275 324+99`. */
function played(written: Arrangement, manner: Manner, playing: Playing = AS_PLAYED): string {
  const [part] = perform(written, manner, playing).parts
  return part!.notes.map(({ startTick, endTick }) => `${startTick}+${endTick - startTick}`).join(' ')
}

function velocities(written: Arrangement): readonly number[] {
  return perform(written, { swing: swing('none', 1), touch: TOUCH }, AS_PLAYED).parts[0]!.notes.map(
    (each) => each.velocity,
  )
}

/** Cell, swing and ratio, tempo, share on and off the beat, placement in ms; onset and length in ticks of each note. */
const PERFORMED: readonly (readonly [string, Swing, number, number, number, number, string])[] = [
  [
    '1 & 2 & 3 & 4 &',
    swing('eighth', 2),
    126,
    0.86,
    0.62,
    4,
    '4+275 324+99 484+275 804+99 964+275 1284+99 1444+275 1764+99',
  ],
  ['1 2 3 4 &', swing('eighth', 2.05), 144, 0.94, 0.6, 0, '0+451 480+451 960+451 1440+303 1763+94'],
  ['1/4: 1 e & a', swing('sixteenth', 1.2), 100, 0.62, 0.5, 0, '0+81 131+55 240+65 371+55'],
  ['1 2& 3 4&', swing('none', 1), 132, 0.84, 0.7, 0, '0+605 720+168 960+605 1680+168'],
  [
    '1. &. 2. &. 3. &. 4. &.',
    swing('none', 1),
    120,
    0.92,
    0.9,
    0,
    '0+120 240+120 480+120 720+120 960+120 1200+120 1440+120 1680+120',
  ],
]

describe('onsets and lengths', () => {
  // Worked by two programs written apart: swing both ends, take the share, place.
  test.each(PERFORMED)(
    '%s swings, is cut and placed',
    (cell, swinging, bpm, lengthOnBeat, lengthOffBeat, placementMs, row) => {
      const touch = { ...TOUCH, lengthOnBeat, lengthOffBeat, placementMs }
      expect(played(arrangement(cellNotes(cell), { bpm }), { swing: swinging, touch })).toBe(row)
    },
  )

  test('a long note leaves ten milliseconds before the next on its string', () => {
    // 10 ms at 120 are 9.6 ticks.
    expect(
      played(arrangement([note(0, 480, { length: 'long' }), note(480, 480)]), {
        swing: swing('none', 1),
        touch: { ...TOUCH, placementMs: 0 },
      }),
    ).toBe('0+470 480+413')
  })

  test('a long note rings up to the next on another string', () => {
    const notes = [note(0, 480, { length: 'long' }), note(480, 480, { string: 1, pitch: 33 })]
    expect(played(arrangement(notes), { swing: swing('none', 1), touch: { ...TOUCH, placementMs: 0 } })).toBe(
      '0+480 480+413',
    )
  })

  test('equal pitches keep apart on different strings too', () => {
    const notes = [note(0, 480, { length: 'long' }), note(480, 480, { string: 1 })]
    expect(played(arrangement(notes), { swing: swing('none', 1), touch: { ...TOUCH, placementMs: 0 } })).toBe(
      '0+470 480+413',
    )
  })

  test('a tied note keeps its end', () => {
    const over = arrangement([note(0, 1680), note(1680, 720, { tied: true })], { bars: bars(FOUR, 2) })
    expect(played(over, { swing: swing('none', 1), touch: { ...TOUCH, placementMs: 0 } })).toBe('0+1445 1680+720')
  })

  test('a dead note lasts 60 milliseconds, or two fifths of its slot where that is shorter', () => {
    const manner = { swing: swing('none', 1), touch: { ...TOUCH, placementMs: 0 } }
    expect(played(arrangement(cellNotes('1x 2')), manner)).toBe('0+57 480+1238')
    expect(played(arrangement(cellNotes('1x e 2')), manner)).toBe('0+48 120+223 480+1238')
  })

  test('triplets are never swung', () => {
    const manner = { swing: swing('eighth', 2), touch: { ...TOUCH, placementMs: 0 } }
    expect(played(arrangement(cellNotes('1 trip let 2 &')), manner)).toBe('0+138 160+99 320+99 480+275 800+694')
  })

  test('nothing swings in compound metres', () => {
    const twelve = { bars: bars(metreOf('12/8')!, 1) }
    const manner = { swing: swing('eighth', 2), touch: { ...TOUCH, placementMs: 0 } }
    expect(played(arrangement([note(0, 240), note(240, 240), note(480, 240)], twelve), manner)).toBe(
      '0+206 240+149 480+149',
    )
  })

  test('the off-beat swings inside its own bar after a bar of seven eighths', () => {
    const mixed = [
      { startTick: 0, ticks: 1680, metre: metreOf('7/8')! },
      { startTick: 1680, ticks: 1920, metre: FOUR },
    ]
    const manner = { swing: swing('eighth', 2), touch: { ...TOUCH, placementMs: 0 } }
    expect(played(arrangement([note(1680, 240), note(1920, 240)], { bars: mixed }), manner)).toBe('1680+275 2000+99')
  })

  test('on the grid nothing swings and nothing is placed', () => {
    const manner = { swing: swing('eighth', 2), touch: TOUCH }
    expect(played(arrangement(cellNotes('1 & 2')), manner, { ...AS_PLAYED, straight: true })).toBe(
      '0+206 240+149 480+1238',
    )
  })

  test('only the bass is placed', () => {
    const manner = { swing: swing('none', 1), touch: { ...TOUCH, placementMs: 10 } }
    expect(played(arrangement([note(480, 480, { share: 1 })], { name: 'chords' }), manner)).toBe('480+480')
    expect(played(arrangement([note(480, 480, { share: 1 })]), manner)).toBe('490+480')
  })

  test('a note that is early at the very start begins with it', () => {
    const early = { swing: swing('none', 1), touch: { ...TOUCH, placementMs: -15 } }
    expect(played(arrangement(cellNotes('1 2')), early)).toBe('0+413 466+1238')
  })

  test('nothing sounds after the last bar line', () => {
    const late = { swing: swing('none', 1), touch: { ...TOUCH, placementMs: 15 } }
    expect(played(arrangement([note(1680, 720, { tied: true })]), late)).toBe('1694+226')
  })
})

describe('a loop', () => {
  const over = arrangement([note(0, 480), note(480, 480), note(1680, 720, { tied: true })])
  const manner = { swing: swing('none', 1), touch: TOUCH }

  test('cuts a push at its end and does not strike the downbeat that it holds', () => {
    expect(played(over, manner, AS_LOOP)).toBe('480+413 1680+240')
  })

  test('strikes the downbeat for one who listens from the start', () => {
    expect(played(over, manner)).toBe('4+413 484+413 1684+236')
  })

  test('strikes the downbeat where nothing is held over the end', () => {
    expect(played(arrangement(cellNotes('1 2 4&')), manner, AS_LOOP)).toBe('0+413 480+1032 1680+149')
  })
})

describe('velocities', () => {
  test('follow the place in a bar of four', () => {
    expect(velocities(arrangement(cellNotes('1 & 2 3 e 4')))).toEqual([102, 84, 98, 96, 78, 98])
  })

  test.each([
    ['12/8', [0, 240, 720, 1440, 2160], [102, 84, 98, 96, 98]],
    ['6/8', [0, 240, 720, 840], [102, 84, 98, 78]],
    ['3/4', [0, 240, 480, 960], [102, 84, 96, 96]],
    ['7/8', [0, 480, 960, 1200], [102, 96, 96, 84]],
  ] as const)('follow the beats of %s', (metre, ticks, expected) => {
    const placed = ticks.map((tick) => note(tick, 120))
    expect(velocities(arrangement(placed, { bars: bars(metreOf(metre)!, 1) }))).toEqual(expected)
  })

  test('an accent adds, up to 127', () => {
    expect(velocities(arrangement(cellNotes('1> 2>')))).toEqual([112, 108])
    expect(velocities(arrangement([note(0, 480, { velocity: 120, accent: true })]))).toEqual([127])
  })

  test('a dead note is never louder than 34', () => {
    expect(velocities(arrangement(cellNotes('1x 2>x 3')))).toEqual([34, 34, 96])
  })

  test('a pick-up counts as the end of its bar', () => {
    const pickup = [
      { startTick: 0, ticks: 480, metre: FOUR },
      { startTick: 480, ticks: 1920, metre: FOUR },
    ]
    expect(velocities(arrangement([note(0, 240), note(240, 240), note(480, 480)], { bars: pickup }))).toEqual([
      98, 84, 102,
    ])
  })
})

describe('metres of a performance', () => {
  test('stand where they change, a pick-up in one of its own length', () => {
    const counted = [
      { startTick: 0, ticks: 480, metre: FOUR },
      { startTick: 480, ticks: 1920, metre: FOUR },
      { startTick: 2400, ticks: 1920, metre: FOUR },
      { startTick: 4320, ticks: 1440, metre: metreOf('6/8')! },
    ]
    expect(
      perform(arrangement([], { bars: counted }), { swing: swing('none', 1), touch: TOUCH }, AS_PLAYED).metres,
    ).toEqual([
      { tick: 0, upper: 1, lower: 4, beatTicks: 480 },
      { tick: 480, upper: 4, lower: 4, beatTicks: 480 },
      { tick: 4320, upper: 6, lower: 8, beatTicks: 720 },
    ])
  })
})
