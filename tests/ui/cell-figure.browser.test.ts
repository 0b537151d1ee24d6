import { html, render } from 'lit'
import { describe, expect, it } from 'vitest'
import { type Cell, parseCell } from '../../src/rhythm/cell.ts'
import { CELLS } from '../../src/rhythm/cells.ts'
import { cellFigure, isWide, spokenCell } from '../../src/ui/cell-figure.ts'

function cell(notation: string): Cell {
  const reading = parseCell(notation)
  if (!reading.ok) throw new Error(reading.message)
  return reading.cell
}

function drawn(notation: string): HTMLElement {
  const place = document.createElement('div')
  render(html`${cellFigure(cell(notation))}`, place)
  return place
}

const texts = (place: HTMLElement, selector: string) =>
  [...place.querySelectorAll(selector)].map((one) => one.textContent?.trim()).join(' ')
const NAMES: Readonly<Record<string, string>> = {
  '\uE0A2': 'whole',
  '\uE0A3': 'half',
  '\uE0A4': 'black',
  '\uE0A9': 'cross',
  '\uE240': 'flag',
  '\uE242': 'flag16',
  '\uE4E3': 'whole-rest',
  '\uE4E4': 'half-rest',
  '\uE4E5': 'quarter-rest',
  '\uE4E6': 'eighth-rest',
  '\uE4E7': 'sixteenth-rest',
  '\uE1E7': 'dot',
  '\uE4A1': 'accent',
  '\uE4A3': 'short',
  '\uE4A5': 'long',
  '\uE883': '3',
}
const signs = (place: HTMLElement) =>
  texts(place, '.sign')
    .split(' ')
    .map((sign) => NAMES[sign] ?? sign)
    .join(' ')

describe('a cell is drawn', () => {
  it.each([
    ['1 2 3 4', 'black black black black', '1 2 3 4'],
    ['1', 'whole', '1'],
    ['1 3', 'half half', '1 3'],
    ['1 2& 3 4', 'black dot black flag black black', '1 and 3 4'],
    ['1 (2) 3 &x 4', 'black quarter-rest black cross black', '1 2 3 and 4'],
    ['2/4: 1 (&) 2', 'black flag eighth-rest black', '1 2'],
    ['1/4: 1 e & a', 'black black black black', '1 e and a'],
    ['1/4: 1 a', 'black dot black', '1 a'],
    ['1 2. 3> 4-', 'black black short black accent black long', '1 2 3 4'],
    ['2/4: 1 trip let 2', 'black black black black 3', '1 trip let 2'],
    ['(1)', 'whole-rest', '1'],
  ])('%s as %s, said %s', (notation, expected, said) => {
    const place = drawn(notation)
    expect(signs(place)).toBe(expected)
    expect(texts(place, '.count')).toBe(said)
  })

  it('with ands as signs, and without parts of a count, where it is crowded', () => {
    expect(texts(drawn('1 & 2 & 3 & 4 &'), '.count')).toBe('1 and 2 and 3 and 4 and')
    expect(texts(drawn('1 e & a 2 e & a 3 e & a 4 e & a'), '.count')).toBe('1 e and a 2 e and a 3 e and a 4 e and a')
  })

  it('as wide as it needs, and never over its own edge', () => {
    expect(isWide(cell('1 2 3 4'))).toBe(false)
    expect(isWide(cell('1 e & a 2 3 4'))).toBe(true)
    expect(isWide(cell('1 2 3 4 | 1 2 3 4'))).toBe(true)
    for (const one of CELLS) {
      const place = document.createElement('div')
      render(html`${cellFigure(one)}`, place)
      const width = isWide(one) ? 318 : 150
      for (const sign of place.querySelectorAll('text')) {
        expect(Number(sign.getAttribute('x')), one.id).toBeGreaterThan(4)
        expect(Number(sign.getAttribute('x')), one.id).toBeLessThan(width - 4)
      }
    }
  })

  it('and is hidden from those who hear it, for whom it is counted', () => {
    expect(drawn('1 2').querySelector('svg')?.getAttribute('aria-hidden')).toBe('true')
    expect(spokenCell(cell('1 2& (3) 4x'))).toBe('1 and rest ghost 4')
    expect(spokenCell(cell('~1 2 & 3 4'))).toBe('2 and 3 4')
  })
})
