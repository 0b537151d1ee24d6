import { describe, expect, test } from 'vitest'
import { metreOf } from '../../src/music/metre.ts'
import { gridOf } from '../../src/notation/metre-grid.ts'
import { ticksOf } from '../../src/notation/note-value.ts'
import { rhythmOf, type Sound, writeBar } from '../../src/notation/written-rhythm.ts'
import { type Cell, parseCell } from '../../src/rhythm/cell.ts'
import { CELLS } from '../../src/rhythm/cells.ts'
import { rhythmText } from '../support/rhythm-text.ts'

function cell(notation: string): Cell {
  const reading = parseCell(notation)
  if (!reading.ok) throw new Error(`${notation}: ${reading.message}`)
  return reading.cell
}

type Row = readonly [notation: string, written: string]

// Common practice, no source: how a part is written for somebody who reads it at sight.
const RULES: readonly (readonly [rule: string, rows: readonly Row[]])[] = [
  [
    'values on the beat are whole',
    [
      ['1', 'w'],
      ['1 3', 'h h'],
      ['1 2', 'q h.'],
      ['1 4', 'h. q'],
      ['1 2 4', 'q h q'],
      ['3/4: 1', 'h.'],
      ['3/4: 1 2', 'q h'],
    ],
  ],
  [
    'dotted quarters stand on a beat, not over the middle of four-four',
    [
      ['1 2& 3 4&', 'q. e q. e'],
      ['1 2 3& 4', 'q q~ [e e] q'],
      ['3/4: 1 2 3&', 'q q. e'],
      ['3/4: 1 2&', 'q. q.'],
      ['5/4: 1 2& 4 5', 'q. q. q q'],
    ],
  ],
  [
    'the middle of four-four shows, whatever is off the beat',
    [
      ['1 2& 4', 'q. e~ q q'],
      ['1 2 & 3& 4', 'q [e e~] [e e] q'],
      ['(1) &', 're q.~ h'],
      ['1 3&', 'h~ e q.'],
      ['1 4&', 'h~ q. e'],
      ['1 & 4', 'e q.~ q q'],
    ],
  ],
  [
    'off the beat a value goes round one beat at most',
    [
      ['1 & 2& 3', 'e q e h'],
      ['1 & 3', 'e q. h'],
      ['3/4: 1 & 3', 'e q. q'],
      ['3/4: 1 & 3&', '[e e~] q. e'],
      ['3/4: 1 &', '[e e~] h'],
    ],
  ],
  [
    'sixteenths show the beat, and inside it its half where it is not plain',
    [
      ['1/4: 1 e & a', '[s s s s]'],
      ['1/4: 1 e a', '[s e s]'],
      ['1/4: 1 a', '[e. s]'],
      ['1/4: 1 e', '[s e.]'],
      ['2/4: 1 a 2&', '[e. s~] [e e]'],
      ['2/4: 1 2e', 'q~ [s e.]'],
      ['2/4: 1 & 2e', '[e e~] [s e.]'],
      ['1 a 2& 3e 4', '[e. s~] [e e~] [s e.] q'],
    ],
  ],
  [
    'a rest shows every beat, and is no longer than what it begins',
    [
      ['(1)', 'rw'],
      ['(1) 3', 'rh h'],
      ['1 (2) 4', 'q rq rq q'],
      ['1 (2)', 'q rq rh'],
      ['3/4: 1 (2)', 'q rq rq'],
      ['3/4: (1) 3', 'rq rq q'],
      ['1 (&) 3', 'e re rq h'],
      ['1/4: (1) a', 're rs s'],
      ['1/4: (1) e (&) a', 'rs s rs s'],
      ['1/4: 1 (e)', 's rs re'],
    ],
  ],
  [
    'compound metres are written by dotted beats',
    [
      ['12/8: 1', 'w.'],
      ['12/8: 1 7', 'h. h.'],
      ['12/8: 1 4 10', 'q. h. q.'],
      ['12/8: 1 5 7', 'q.~ e q h.'],
      ['12/8: 1 6 7 12', 'q.~ q e q.~ q e'],
      ['6/8: 1 3 5', 'q e~ e q'],
      ['6/8: 1 2 4', 'e q q.'],
      ['6/8: 1 2& 4', '[e. e.] q.'],
      ['9/8: 1', 'h.~ q.'],
      ['6/8: (1) 4', 'rq. q.'],
      ['6/8: (1) 3 4', 'rq e q.'],
      ['6/8: 1 (2) 4', 'e re re q.'],
      ['12/8: 1 (7)', 'h. rh.'],
      ['12/8: 1 (4)', 'q. rq. rh.'],
    ],
  ],
  [
    'five-four and seven-eight are written by their groups',
    [
      ['5/4: 1', 'h.~ h'],
      ['5/4: 1 3', 'h q~ h'],
      ['5/4: (1) 4', 'rq rq rq h'],
      ['7/8: 1', 'h~ q.'],
      ['7/8: 1 5', 'h q.'],
      ['7/8: 1 3 5', 'q q q.'],
      ['7/8: 1 4 6', 'q~ [e e~] e q'],
      ['7/8: (1) 5', 'rq rq q.'],
      ['7/8: 1 (5)', 'h rq.'],
    ],
  ],
  [
    'beams join the notes of a beat and break at a rest',
    [
      ['1 & 2 & 3 & 4 &', '[e e] [e e] [e e] [e e]'],
      ['1/4: 1 & a', '[e s s]'],
      ['12/8: 1 2 3 4 5 6 7 8 9 10 11 12', '[e e e] [e e e] [e e e] [e e e]'],
      ['7/8: 1 2 3 4 5 6 7', '[e e] [e e] [e e e]'],
      ['5/4: 1 & 2 & 3 & 4 & 5 &', '[e e] [e e] [e e] [e e] [e e]'],
      ['1/4: 1 e (&) a', '[s s] rs s'],
      ['6/8: 1 (2) 3 4 5 6', 'e re e [e e e]'],
      ['1 2& 3& 4', 'q. e~ [e e] q'],
    ],
  ],
  [
    'a triplet is as long as what it divides',
    [
      ['1/4: 1 trip let', '{[e e e]}'],
      ['1/4: 1 let', '{q e}'],
      ['1/4: (1) trip let', '{re [e e]}'],
      ['1/4: 1 trip (let)', '{[e e] re}'],
      ['1 let (2) let 3 4', '{q e} {rq e} q q'],
      ['2/4: 1 let 2trip', '{q q q}'],
      ['1 2trip 3let', '{h h h}'],
      ['3/4: 1 let 2trip 3', '{q q q} q'],
      ['2/4: 1 let 2let', '{q e~} {q e}'],
      ['2/4: 1 trip let 2e', '{[e e e~]} [s e.]'],
      ['1/4: 1 & :2/3 :5/6', '[e {s s s]}'],
      ['1/4: 1 :1/6 :1/3 & :2/3 :5/6', '{[s s s} {s s s]}'],
      ['1/4: 1 :1/3 & :2/3', '{[e s s e]}'],
      ['6/8: 1 trip let 2 4', '{[s s s]} q q.'],
    ],
  ],
  [
    'a dead note does not ring: what a tie would hold is silence',
    [
      ['1 2 &x 3 4', 'q [e xe] q q'],
      ['1 2x 3', 'q xq h'],
      ['1 2&x 4', 'q. xe rq q'],
      ['(1) &x', 're xq. rh'],
    ],
  ],
  [
    'ties lead over bar lines and the ends of a cell',
    [
      ['1 4&~', 'h~ q. e~'],
      ['~1 2', 'q h.'],
      ['1 4 | ~1 3', 'h. q~ h h'],
    ],
  ],
]

describe.each(RULES)('%s:', (_, rows) => {
  test.each(rows)('%s is written %s', (notation, written) => {
    expect(rhythmText(rhythmOf(cell(notation)))).toBe(written)
  })
})

test('what is struck is counted, in words', () => {
  const counts = (notation: string) => rhythmOf(cell(notation)).signs.map(({ count }) => count ?? '-')
  expect(counts('1 2& 3 4 e & a')).toEqual(['1', 'and', '3', '4', 'e', 'and', 'a'])
  expect(counts('1/4: 1 trip let')).toEqual(['1', 'trip', 'let'])
  expect(counts('12/8: 1 6 7 12')).toEqual(['1', '-', '6', '7', '-', '12'])
  expect(counts('~1 (2) 3')).toEqual(['-', '-', '3'])
})

test('accents and lengths stand on the stroke only, and a tie from before has no stroke', () => {
  const signs = rhythmOf(cell('1 2&>- 4')).signs
  expect(signs.map(({ accent, length }) => [accent, length])).toEqual([
    [false, undefined],
    [true, 'long'],
    [false, undefined],
    [false, undefined],
  ])
  const [first] = rhythmOf(cell('~1 2 3 4')).signs
  expect(first).toMatchObject({ kind: 'note', tiedFromBefore: true, count: undefined })
})

test('every cell of the vocabulary is filled by its signs, and struck where it says', () => {
  for (const named of CELLS) {
    const { signs } = rhythmOf(named)
    let at = 0
    for (const sign of signs) {
      expect(sign.startTick, named.id).toBe(at)
      expect(ticksOf(sign.value), named.id).toBe(sign.ticks)
      at += sign.ticks
    }
    expect(at, named.id).toBe(named.ticks)
    const struck = signs.filter(({ count }) => count !== undefined).map(({ startTick }) => startTick)
    expect(struck, named.id).toEqual(named.onsets.filter(({ continues }) => !continues).map(({ tick }) => tick))
  }
})

test('a chart may group seven eighths and five quarters otherwise', () => {
  const written = (metre: string, groups: readonly number[], ends: readonly number[]) => {
    const grid = gridOf(metreOf(metre, groups)!)
    const sounds = ends.map((to, index): Sound => ({ from: ends[index - 1] ?? 0, to, kind: 'note', index }))
    const { values, beams, triplets } = writeBar(grid, sounds)
    const signs = values.map(({ value, index, to }) => ({ kind: 'note' as const, value, tiedOn: to < ends[index]! }))
    return rhythmText({ signs, beams, triplets })
  }
  expect(written('7/8', [3, 2, 2], [240, 480, 720, 960, 1200, 1440, 1680])).toBe('[e e e] [e e] [e e]')
  expect(written('7/8', [3, 2, 2], [720, 1680])).toBe('q. h')
  expect(written('5/4', [2, 3], [960, 2400])).toBe('h h.')
  expect(written('5/4', [2, 3], [1440, 2400])).toBe('h~ q h')
})
