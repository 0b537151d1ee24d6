import { describe, expect, test } from 'vitest'
import { barPlaces } from '../../src/band/bar-place.ts'
import { clickNotes } from '../../src/band/click.ts'
import { drumNotes, readLane, velocityOfLevel } from '../../src/band/drums.ts'
import type { FormBar } from '../../src/chart/form.ts'
import { BOSSA_NOVA } from '../../src/feels/bossa-nova.ts'
import { FEELS } from '../../src/feels/feels.ts'
import { JAZZ_WALTZ } from '../../src/feels/jazz-waltz.ts'
import { SOUL_EIGHTHS } from '../../src/feels/soul-eighths.ts'
import { SWING_MEDIUM } from '../../src/feels/swing-medium.ts'
import type { WrittenNote } from '../../src/music/arrangement.ts'
import { barTicks, metreOf } from '../../src/music/metre.ts'
import { drumRows } from '../support/drum-rows.ts'

/**
 * Bars from a row of metres: `[A] 4/4 x4 3/4`. A pick-up is `1/4`; a section begins at its bracket; `:` jumps back to the first bar.
 */
function barsOf(row: string): readonly FormBar[] {
  const bars: FormBar[] = []
  let section: string | undefined
  let written = 0
  const push = (text: string) => {
    const pickup = text === '1/4'
    const metre = metreOf(pickup ? '4/4' : text)!
    const last = bars.at(-1)
    bars.push({
      index: bars.length,
      number: pickup ? 0 : (last?.number ?? 0) + 1,
      writtenIndex: written,
      writtenNumber: written + 1,
      chorus: 0,
      startTick: last ? last.startTick + last.ticks : 0,
      ticks: pickup ? 480 : barTicks(metre),
      metre,
      section,
      changes: [],
    })
    written++
    section = undefined
  }
  let metre = '4/4'
  for (const token of row.split(' ')) {
    if (token.startsWith('[')) section = token.slice(1, -1)
    else if (token === ':') written = 0
    else if (token.startsWith('x')) for (let more = 1; more < Number(token.slice(1)); more++) push(metre)
    else {
      metre = token
      push(metre)
    }
  }
  return bars
}

interface Asked {
  readonly feel?: typeof SWING_MEDIUM
  readonly pushes?: readonly number[]
  readonly loop?: boolean
}

function drums(row: string, { feel = SOUL_EIGHTHS, pushes = [], loop = false }: Asked = {}): readonly WrittenNote[] {
  const bars = barsOf(row)
  const places = barPlaces(bars, (metre) => [feel, JAZZ_WALTZ].find((each) => each.metre === metre)?.band)
  return drumNotes(bars, places, pushes, loop)
}

/** Bars, from 0, that are filled. */
function filledBars(row: string): string {
  const places = barPlaces(barsOf(row), () => undefined)
  return places.flatMap(({ endsSection }, index) => (endsSection ? [index] : [])).join(' ')
}

describe('a row of drums', () => {
  test('reads a stroke a step', () => {
    expect(readLane('38=.... 8..2|.2.. 8...', 120).map(({ tick, pitch, level }) => [tick, pitch, level])).toEqual([
      [480, 38, 8],
      [840, 38, 2],
      [1080, 38, 2],
      [1440, 38, 8],
    ])
  })

  test.each(['38', '38=', 'x=8...', '38=0...', '38=8_..'])('%s is refused', (lane) => {
    expect(() => readLane(lane, 120)).toThrow(RangeError)
  })

  test('has nine levels from very soft to 127', () => {
    expect([1, 2, 3, 4, 5, 6, 7, 8, 9].map(velocityOfLevel)).toEqual([14, 28, 42, 56, 71, 85, 99, 113, 127])
  })

  test.each(FEELS)('fills whole bars of the metre in each pattern of $name', ({ band }) => {
    for (const pattern of [...band.grooves, ...band.fills]) {
      const bar = barTicks(metreOf(pattern.metre)!)
      for (const lane of pattern.lanes) {
        const steps = lane.replace(/^\d+=/, '').replaceAll(/[ |]/g, '').length
        expect((steps * pattern.ticksPerStep) % bar).toBe(0)
        expect(readLane(lane, pattern.ticksPerStep).length).toBeGreaterThan(0)
      }
      expect(new Set(pattern.lanes.map((lane) => lane.length)).size).toBe(1)
    }
    expect(band.fills.every((fill) => fill.nextBar.length > 0)).toBe(true)
  })

  test.each(FEELS)('never strikes closed and open hat together in $name', ({ band }) => {
    for (const pattern of [...band.grooves, ...band.fills]) {
      const strokes = pattern.lanes.flatMap((lane) => readLane(lane, pattern.ticksPerStep))
      const closed = strokes.filter(({ pitch }) => pitch === 42).map(({ tick }) => tick)
      expect(strokes.filter(({ pitch, tick }) => pitch === 46 && closed.includes(tick))).toEqual([])
    }
  })
})

describe('drums over a form', () => {
  test('go round the first groove', () => {
    expect(drumRows(drums('4/4 x2'), 1920, 3840)).toEqual([
      'hat 6.4. 6.4. 6.4. 6.4.',
      'tambourine .... 6... .... 6...',
      'snare 7... 7... 7... 7...',
      'kick 8... ..7. 8... ..7.',
    ])
  })

  test('alternate the bars of a groove of two, from each section on', () => {
    const notes = drums('[A] 4/4 x3 [B] 4/4 x3', { feel: BOSSA_NOVA })
    const rims = [0, 1, 2, 3, 4].map((bar) =>
      drumRows(notes, bar * 1920, (bar + 1) * 1920).find((row) => row.startsWith('rim')),
    )
    expect(rims).toEqual([
      'rim 6... ..6. .... 6...',
      'rim .... 6... ..6. ....',
      'rim 6... ..6. .... 6...',
      'rim 6... ..6. .... 6...',
      'rim .... 6... ..6. ....',
    ])
  })

  test('fill the last bar of a section and mark the bar after', () => {
    const notes = drums('[A] 4/4 x4 [B] 4/4 x2')
    expect(drumRows(notes, 3 * 1920, 4 * 1920)).toEqual([
      'hat 6.4. 6.4. 6.4. ....',
      'snare .... 8... .... 8.88',
      'kick 8... ..7. ..7. ....',
    ])
    expect(drumRows(notes, 4 * 1920, 4 * 1920 + 480)).toEqual(['crash 8...', 'hat 6.4.', 'snare 7...', 'kick 8...'])
  })

  test('never play the same fill twice running', () => {
    const notes = drums('[A] 4/4 x4 [B] 4/4 x4 [C] 4/4 x4')
    const lasts = [3, 7, 11].map((bar) => drumRows(notes, bar * 1920 + 960, (bar + 1) * 1920).join())
    expect(lasts[0]).not.toBe(lasts[1])
    expect(lasts[1]).not.toBe(lasts[2])
  })

  test.each([
    ['at the end of each section of four bars and more', '[A] 4/4 x8 [B] 4/4 x4', '7 11'],
    ['not in sections of two bars, but in every second of them', '[A] 4/4 x2 [B] 4/4 x2 [C] 4/4 x2 [D] 4/4 x2', '3 7'],
    ['at the end of a repeat without a name', '4/4 x4 : 4/4 x4', '3 7'],
    ['not in a chart of two bars', '4/4 x2', ''],
    ['not counting a pick-up', '1/4 4/4 x3', ''],
  ])('fill %s', (_where, row, bars) => {
    expect(filledBars(row)).toBe(bars)
  })

  test('carry the stroke after a last fill to the first bar only in a loop', () => {
    expect(drumRows(drums('4/4 x4', { loop: true }), 0, 480)[0]).toBe('crash 8...')
    expect(drumRows(drums('4/4 x4'), 0, 480)[0]).toBe('hat 6.4.')
  })

  test('rest in a pick-up', () => {
    const notes = drums('1/4 4/4 x2')
    expect(notes[0]?.startTick).toBe(480)
  })

  test('mark a push of the band with the kick', () => {
    expect(drumRows(drums('4/4 x2', { pushes: [1680] }), 1440, 1920).at(-1)).toBe('kick ..7.')
    expect(drumRows(drums('4/4 x2', { pushes: [1560] }), 1440, 1920).at(-1)).toBe('kick .77.')
  })

  test('play half a bar of four in a bar of 2/4', () => {
    expect(drumRows(drums('4/4 2/4 4/4'), 1920, 2880)).toEqual([
      'hat 6.4. 6.4.',
      'tambourine .... 6...',
      'snare 7... 7...',
      'kick 8... ..7.',
    ])
  })

  test('play the jazz waltz in bars of three', () => {
    expect(drumRows(drums('4/4 3/4 4/4', { feel: SWING_MEDIUM }), 1920, 3360)).toEqual([
      'ride 7... 8.5. 7...',
      'foot .... 6... ....',
      'kick 5... .... ....',
    ])
  })

  test('keep hats on the beats and kick on one where no feel has the metre', () => {
    expect(drumRows(drums('4/4 7/8 4/4'), 1920, 3600, 240)).toEqual(['hat 5. 5. 5. .', 'kick 7. .. .. .'])
    expect(drumRows(drums('4/4 12/8 4/4'), 1920, 4800, 240)).toEqual([
      'hat 5. .5 .. 5. .5 ..',
      'kick 7. .. .. .. .. ..',
    ])
  })
})

describe('the click', () => {
  test.each([
    ['4/4', ['one 1. .. .. ..', 'click .. 1. 1. 1.']],
    ['3/4', ['one 1. .. ..', 'click .. 1. 1.']],
    ['6/8', ['one 1. .. ..', 'click .. .1 ..']],
    ['7/8', ['one 1. .. .. .', 'click .. 1. 1. .']],
  ] as const)('strikes every beat of %s, the first louder', (row, rows) => {
    const bars = barsOf(row)
    const notes = clickNotes(bars)
    expect(notes.map(({ velocity }) => velocity)).toEqual([112, ...notes.slice(1).map(() => 80)])
    expect(drumRows(notes, 0, bars[0]!.ticks, 240).map((each) => each.replaceAll(/\d/g, '1'))).toEqual(rows)
  })

  test('counts a pick-up as the last beats of its bar', () => {
    expect(clickNotes(barsOf('1/4 4/4')).map(({ startTick, pitch }) => [startTick, pitch])).toEqual([
      [0, 77],
      [480, 76],
      [960, 77],
      [1440, 77],
      [1920, 77],
    ])
  })
})
