import { describe, expect, it } from 'vitest'
import { barMapOf, deal, placeOf, roleOf } from '../../../src/line/groove/deal.ts'
import type { Deal } from '../../../src/line/groove/table.ts'
import { metreOf } from '../../../src/music/metre.ts'
import { parseCell } from '../../../src/rhythm/cell.ts'

/** A pattern dealt to a cell, token by token: `1 3 5 6`. */
function dealt(pattern: string, cell: string, way: Deal, position = 0, lead = 0): string {
  const reading = parseCell(cell)
  if (!reading.ok) throw new Error(reading.message)
  const { upper, lower, onsets } = reading.cell
  const tokens = pattern.split(' ')
  const ticks = onsets.map((onset) => onset.tick)
  const map = barMapOf(metreOf(`${upper}/${lower}`)!)
  const given = deal(map, ticks, tokens.length, way, position, lead)
  return given.tokens.map((token) => tokens[token]).join(' ')
}

describe('a deal', () => {
  it.each([
    ['each', '1 5 8', '1 2 3 4', '1 5 8 1'],
    ['each', '1 5 8', '1 & 2 & 3 & 4 &', '1 5 8 1 5 8 1 5'],
    ['beat', '1 3 5 6', '1 & 2 & 3 & 4 &', '1 1 3 3 5 5 6 6'],
    ['beat', '1 3 5 6', '1 2& 3 4&', '1 1 3 3'],
    ['half', '1 5', '1 2 3 4', '1 1 5 5'],
    ['half', '1 5', '6/8: 1 3 4 6', '1 1 5 5'],
    ['tail', '1 5 8', '1 & 2 & 3 & 4 &', '1 1 1 1 1 1 5 8'],
    ['tail', '8 6 5 3', '1 2 3 4', '8 6 5 3'],
    ['low-high', '1 8', '1 & 2 & 3 & 4 &', '1 8 1 8 1 8 1 8'],
  ] as const)('%s gives %s over %s as %s', (way, pattern, cell, tokens) => {
    expect(dealt(pattern, cell, way)).toBe(tokens)
  })

  it.each([
    ['run', '1 3 5 6 b7 6 5 3', '1 2 3 4', 4, 'b7 6 5 3'],
    ['beatrun', '1 3 5 6 b7 6 5 3', '1 & 2 & 3 & 4 &', 4, 'b7 b7 6 6 5 5 3 3'],
    ['each', '1 3 5 6', '1 2 3', 0, '1 3 5'],
  ] as const)('that is a %s goes on through a held chord', (way, pattern, cell, position, tokens) => {
    expect(dealt(pattern, cell, way, position)).toBe(tokens)
  })

  it('that holds its turn back for the end leaves the last onsets to a lead', () => {
    expect(dealt('1 5 8', '1 & 2 & 3 & 4 &', 'tail', 0, 2)).toBe('1 1 1 1 5 8 1 1')
  })
})

describe('the places of a bar', () => {
  const places = (metre: string, ...ticks: readonly number[]) => {
    const map = barMapOf(metreOf(metre)!)
    return ticks.map((tick) => placeOf(map, tick)).join(' ')
  }

  it.each([
    ['4/4', [0, 240, 480, 600, 640, 960, 1440], 'one off back fine off mid back'],
    ['12/8', [0, 240, 720, 1440, 2160], 'one off back mid back'],
    ['7/8', [0, 240, 480, 960], 'one off mid mid'],
    ['5/4', [0, 480, 1440, 1920], 'one back mid back'],
    ['3/4', [0, 480, 960], 'one back back'],
  ] as const)('of %s are one, middle, beats and what lies between', (metre, ticks, names) => {
    expect(places(metre, ...ticks)).toBe(names)
  })

  it('give the last beat a role of its own, and an arrival the role of the first', () => {
    const map = barMapOf(metreOf('4/4')!)
    expect([1440, 1680].map((tick) => roleOf(map, tick, false))).toEqual(['last', 'last'])
    expect(roleOf(map, 1440, true)).toBe('one')
    expect(roleOf(map, 960, false)).toBe('mid')
  })
})
