import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { PartBar } from '../../../src/notation/part.ts'
import { placeRuns } from '../../../src/ui/part/chord-runs.ts'
import { type PartView, pageOf } from '../../../src/ui/part/sizes.ts'
import { layBar, leastWidth, springOf, stretchTo } from '../../../src/ui/part/spacing.ts'
import { pageSizes } from '../../../src/ui/part/systems.ts'
import { besley } from './besley-widths.ts'
import { printedRows } from './printed-rows.ts'
import { randomPart } from './random-part.ts'

const RUNS = process.env['SOAK'] ? 750 : 75
const usualWidth = { desktop: 944, tablet: 740, phone: 358 } as const
const sizesOf = (view: PartView) => pageSizes(pageOf(view, usualWidth[view], 100, 8), besley)
const rowsOf = (view: PartView) => sizesOf(view).ladder[0]
const barOf = (row: string): PartBar => printedRows(row).bars[0]!
/** The same bar with another after it: no final bar line. */
const innerBar = (row: string): PartBar => printedRows(`${row} | 0w`).bars[0]!

describe('springs', () => {
  it('give a whole 7.6, a half 5.2, a quarter 3.6, an eighth 2.5 and a sixteenth 1.7 staff spaces', () => {
    const lengths = [1920, 960, 480, 240, 120].map((ticks) => springOf(ticks).toFixed(1))
    expect(lengths.join(' ')).toBe('7.6 5.2 3.6 2.5 1.7')
  })
})

describe('chord symbols', () => {
  const widthOf = (symbol: string) => placeRuns(barOf(`${symbol}: 0w`).symbols[0]!, besley).width

  it.each([
    ['F7', 1.2],
    ['Cm7', 2.13],
    ['C/E', 2.14],
    ['Bbmaj7', 2.9],
    ['F#m7b5', 3.01],
    ['Bbmaj7#11/D', 5.37],
    ['N.C.', 1.81],
    ['B°7', 1.5],
  ])('set %s %f em wide', (symbol, width) => {
    expect(Math.abs(widthOf(symbol) - width)).toBeLessThan(0.12)
  })

  it('narrow the suffix alone', () => {
    const symbol = barOf('Bbmaj7#11/D: 0w').symbols[0]!
    const narrowed = placeRuns(symbol, besley, 0.86).runs
    const wide = placeRuns(symbol, besley).runs
    expect(narrowed.filter(({ narrow }) => narrow < 1).map(({ text }) => text)[0]).toBe('maj7')
    expect(narrowed.at(-1)!.x).toBeLessThan(wide.at(-1)!.x)
    expect(narrowed[1]!.x).toBe(wide[1]!.x)
  })
})

describe('the least width of a bar', () => {
  // Steps are chosen so that figures have one numeral and degrees no accidental, as in the bars these widths were measured on.
  const four = '-7q -5q 7q -2q'
  it.each([
    ['a whole note', 'F7: 0w', 5.4, 5.2, 5.6],
    ['four quarters', four, 9.7, 9.5, 9.6],
    ['four quarters with accidentals', '-7#q 7bq -7#q 7nq', 11.9, 11.8, 11.8],
    ['eight eighths', '-7e -5e 7e -5e -7e -5e 7e -5e', 18.6, 18.1, 18.3],
    ['Cm7 F7', `Cm7 F7: ${four}`, 13.9, 13.2, 14.2],
    ['F#m7b5 B7b9 Em7 A13', `F#m7b5 B7b9 Em7 A13: ${four}`, 34.2, 32.1, 35.8],
    ['Bbmaj7#11/D Ebm6/9', `Bbmaj7#11/D Ebm6/9: ${four}`, 29.3, 27.5, 30.7],
  ])('of %s is about what was measured', (_, row, desktop, tablet, phone) => {
    const bar = innerBar(row)
    for (const [view, width] of [
      ['desktop', desktop],
      ['tablet', tablet],
      ['phone', phone],
    ] as const) {
      expect(Math.abs(leastWidth(bar, rowsOf(view), true) / width - 1)).toBeLessThan(0.05)
    }
  })
})

describe('a bar laid out', () => {
  const seeds = fc.integer({ min: 1, max: 1_000_000 })

  it('never moves to the left as its springs stretch', () => {
    fc.assert(
      fc.property(seeds, fc.double({ min: 0, max: 3, noNaN: true }), (seed, lambda) => {
        for (const bar of randomPart(seed).bars) {
          const sizes = rowsOf('desktop')
          const near = layBar(bar, sizes, lambda, false)
          const far = layBar(bar, sizes, lambda + 0.1, false)
          expect(far.width).toBeGreaterThanOrEqual(near.width - 1e-9)
          for (const [sign, x] of near.x.entries()) expect(far.x[sign]!).toBeGreaterThanOrEqual(x - 1e-9)
        }
      }),
      { seed: 31, numRuns: RUNS },
    )
  })

  it('is as wide as wanted to a hundredth of a staff space', () => {
    fc.assert(
      fc.property(seeds, fc.double({ min: 0, max: 40, noNaN: true }), (seed, more) => {
        const sizes = rowsOf('phone')
        for (const bar of randomPart(seed).bars) {
          const wanted = leastWidth(bar, sizes, true) + more
          const lambda = stretchTo(wanted, (tried) => layBar(bar, sizes, tried, true).width)
          expect(Math.abs(layBar(bar, sizes, lambda, true).width - wanted)).toBeLessThan(0.01)
        }
      }),
      { seed: 32, numRuns: RUNS },
    )
  })

  it('keeps its chord symbols apart and inside, in order', () => {
    fc.assert(
      fc.property(seeds, fc.double({ min: 0, max: 3, noNaN: true }), (seed, lambda) => {
        const sizes = rowsOf('tablet')
        for (const bar of randomPart(seed).bars) {
          const { symbolX, width } = layBar(bar, sizes, lambda, true)
          let free = 0
          for (const [index, symbol] of bar.symbols.entries()) {
            expect(symbolX[index]!).toBeGreaterThanOrEqual(free - 1e-6)
            free = symbolX[index]! + (placeRuns(symbol, besley).width + 0.6) * sizes.chord
          }
          expect(free - 0.6 * sizes.chord).toBeLessThanOrEqual(width)
        }
      }),
      { seed: 33, numRuns: RUNS },
    )
  })

  it('sets a symbol over the note it comes with', () => {
    const bar = barOf('Cm7 F7: 0q 2q -4q -2q')
    const { x, symbolX } = layBar(bar, rowsOf('desktop'), 1, true)
    expect(symbolX[1]).toBeCloseTo(x[2]! - 0.62)
  })

  it('sets a symbol that comes while a note sounds between that note and the next', () => {
    const bar = barOf('C7 F7@1: 0h -4h')
    const { x, symbolX } = layBar(bar, rowsOf('desktop'), 1.5, true)
    expect(symbolX[1]).toBeGreaterThan(x[0]!)
    expect(symbolX[1]).toBeLessThan(x[1]!)
  })

  it('sets the rest of a silent bar in its middle', () => {
    const { x, width } = layBar(innerBar('rw'), rowsOf('desktop'), 2, true)
    expect(x[0]).toBeCloseTo(width / 2)
  })

  it('has room for a metre that changes inside a system, and none for one in the space of the clef', () => {
    const bar = barOf('0q 0q 0q 0q')
    const inside = layBar(bar, rowsOf('desktop'), 0, false)
    const before = layBar(bar, rowsOf('desktop'), 0, true)
    expect(inside.width - before.width).toBeCloseTo(3)
    expect(inside.x[0]! - before.x[0]!).toBeCloseTo(3)
  })
})
