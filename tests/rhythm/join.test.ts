import { describe, expect, it } from 'vitest'
import { metreOf } from '../../src/music/metre.ts'
import { type Cell, parseCell } from '../../src/rhythm/cell.ts'
import { startsIn, tempoOf, tile } from '../../src/rhythm/join.ts'

function cell(text: string): Cell {
  const reading = parseCell(text)
  if (!reading.ok) throw new Error(`${text}: ${reading.message}`)
  return reading.cell
}

/** Cells laid after each other from a tick; `-` leaves a 4/4 bar empty. */
function laid(texts: readonly string[], from = 0) {
  const cells: { cell: Cell; startTick: number }[] = []
  let at = from
  for (const text of texts) {
    if (text !== '-') cells.push({ cell: cell(text), startTick: at })
    at += text === '-' ? 1920 : cells.at(-1)!.cell.ticks
  }
  return cells
}

/** What is struck: start+length with `^` for a push and the marks. */
function struck(texts: readonly string[], options?: { loop?: boolean }): string {
  return tile(laid(texts), options)
    .map(({ startTick, ticks, pushed, ghost, accent, length }) => {
      const mark = length === 'short' ? '.' : length === 'long' ? '-' : ''
      return `${startTick}+${ticks}${pushed ? '^' : ''}${accent ? '>' : ''}${mark}${ghost ? 'x' : ''}`
    })
    .join(' ')
}

describe('cells joined', () => {
  it.each([
    [['1 3', '1 3'], '0+960 960+960 1920+960 2880+960', 'plain cells as written'],
    [
      ['1 2 3 4&~', '1 3'],
      '0+480 480+480 960+720 1680+1200^ 2880+960',
      'a push takes the next downbeat and its length',
    ],
    [['1 4&~', '~1 3'], '0+1680 1680+1200^ 2880+960', 'a push goes on into a held beginning'],
    [['1 4&~', '(1) 3'], '0+1680 1680+240^ 2880+960', 'a push ends at the bar line before a rest'],
    [['1', '~1 3'], '0+1920 1920+960 2880+960', 'a held beginning after a plain cell is struck'],
    [
      ['~1 2& 4~', '~1 2& 4~'],
      '0+720 720+720 1440+1200^ 2640+720 3360+480',
      'the first held beginning is struck; the last push belongs to nothing',
    ],
    [['1 4&~', '-', '1'], '0+1680 1680+240 3840+1920', 'a push before an empty bar pushes nothing'],
    [['1 4&~', '1~', '1 3'], '0+1680 1680+3120^ 4800+960', 'a pushed whole bar that is tied over goes on'],
    [['1 4&~', '1x 2'], '0+1680 1680+720^ 2400+1440', 'a ghost on the downbeat gives way to the push'],
    [['2/4: 1 2&~', '2/4: 1 2'], '0+720 720+720^ 1440+480', 'a push over the middle of the bar'],
    [['1> 2. 3- 4x', '1'], '0+480> 480+480. 960+480- 1440+480x 1920+1920', 'marks stay'],
  ])('%s: %s, %s', (texts, expected) => {
    expect(struck(texts)).toBe(expected)
  })

  it('lead a push over the end of a loop into its first downbeat', () => {
    expect(struck(['1 3', '1 4&~'], { loop: true })).toBe('960+960 1920+1680 3600+1200^')
    expect(struck(['(1) 3', '1 4&~'], { loop: true })).toBe('960+960 1920+1680 3600+240^')
    expect(struck(['~1 2& 4~'], { loop: true })).toBe('720+720 1440+1200^')
    expect(struck(['1 3'], { loop: true })).toBe('0+960 960+960')
  })

  it('know the cell that each onset was struck in', () => {
    const cells = laid(['1 4&~', '1 3'])
    expect(tile(cells).map(({ from }) => cells.indexOf(from))).toEqual([0, 0, 1])
  })

  it('refuse to overlap', () => {
    const twice = [...laid(['1']), ...laid(['1'], 960)]
    expect(() => tile(twice)).toThrow(RangeError)
  })
})

describe('a cell in a bar', () => {
  it.each([
    ['1/4: 1 &', '4/4', [0, 480, 960, 1440], 'a beat stands on any beat'],
    ['1/4: 1 &', '3/4', [0, 480, 960], 'a beat in three'],
    ['1/4: 1 &', '6/8', [], 'a quarter is no beat of six-eight'],
    ['3/8: 1 2 3', '12/8', [0, 720, 1440, 2160], 'a dotted beat in twelve-eight'],
    ['2/4: 1 2', '4/4', [0, 960], 'two beats on one and three'],
    ['2/4: 1 2', '2/4', [0], 'two beats fill two-four'],
    ['2/4: 1 2', '3/4', [], 'two beats do not stand in three'],
    ['1 2 3 4', '4/4', [0], 'a bar fills its bar'],
    ['1 2 3 4', '12/8', [], 'a bar of another metre does not stand'],
    ['1 | (1)', '4/4', [0], 'two bars begin on one'],
    ['1/4: 1 &', '5/4', [0, 480, 960, 1440, 1920], 'a beat never crosses the groups of five'],
  ])('%s in %s begins at %j: %s', (text, metre, starts) => {
    expect(startsIn(cell(text), metreOf(metre)!)).toEqual(starts)
  })

  it('does not cross from one beat group of five into the next', () => {
    const two = { ...cell('2/4: 1 2'), metres: ['5/4'], starts: 'any' as const, groups: undefined }
    expect(startsIn(two, metreOf('5/4')!)).toEqual([0, 480, 1440])
    expect(startsIn(two, metreOf('5/4', [2, 3])!)).toEqual([0, 960, 1440])
  })
})

describe('a cell against the tempo', () => {
  it.each([
    ['1/4: 1 e & a', { fastest: 150, comfortable: 132 }],
    ['1/4: 1 a', { fastest: 150, comfortable: 132 }],
    ['1/4: 1 trip let', { fastest: 200, comfortable: 168 }],
    ['1 & 2 3 4', { fastest: 300, comfortable: 240 }],
    ['1 2 3 4', undefined],
    ['(1)', undefined],
  ])('%s bears %j', (text, tempo) => {
    expect(tempoOf(cell(text))).toEqual(tempo)
  })
})
