import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Part } from '../../../src/notation/part.ts'
import { heightsOf, inkOf } from '../../../src/ui/part/heights.ts'
import { type PartView, pageOf, viewOf } from '../../../src/ui/part/sizes.ts'
import { clefSpace, layPart, pageSizes, phrasesOf } from '../../../src/ui/part/systems.ts'
import { besley } from './besley-widths.ts'
import { printedRows, type RowsOptions } from './printed-rows.ts'
import { randomPart } from './random-part.ts'

const RUNS = process.env['SOAK'] ? 300 : 30
const QUARTERS = 'F7: -7q -5q 0q -5q'
const EIGHTHS = 'F7: -7e -5e 0e -5e -7e -5e 0e -5e'
const SIXTEENTHS = `F7: ${'-7s -5s 0s -5s '.repeat(4)}`
const rows = (row: string, count: number, options?: RowsOptions) =>
  printedRows(Array.from({ length: count }, () => row).join(' | '), options)
const laid = (part: Part, view: PartView, widthPx: number, size = 100) =>
  layPart(part, pageSizes(pageOf(view, widthPx, size, part.bars.length), besley))
/** Bars of each system: `4 4 2`. */
const gait = (...arguments_: Parameters<typeof laid>) =>
  laid(...arguments_)
    .map(({ bars }) => bars.length)
    .join(' ')

describe('phrases', () => {
  it('are four bars long, and begin anew at a rehearsal letter', () => {
    const { bars } = rows(QUARTERS, 11, { sections: { 0: 'A', 6: 'B' } })
    expect(phrasesOf(bars, 4).map(({ length }) => length)).toEqual([4, 2, 4, 1])
  })

  it('take a pick-up without counting it', () => {
    const { bars } = rows(QUARTERS, 9, { pickup: true, sections: { 1: 'A' } })
    expect(phrasesOf(bars, 4).map(({ length }) => length)).toEqual([5, 4])
  })
})

describe('systems', () => {
  it('hold four bars of quarters on a desk, four on a tablet, two on a phone', () => {
    const part = rows(QUARTERS, 12, { key: 'F' })
    expect(gait(part, 'desktop', 944)).toBe('4 4 4')
    expect(gait(part, 'tablet', 740)).toBe('4 4 4')
    expect(gait(part, 'phone', 358)).toBe('2 2 2 2 2 2')
  })

  it('break a full phrase in halves, never in three and one', () => {
    const part = printedRows([SIXTEENTHS, SIXTEENTHS, QUARTERS, SIXTEENTHS].join(' | '))
    expect(gait(part, 'desktop', 944)).toBe('2 2')
    expect(gait(part, 'phone', 358)).toBe('1 1 1 1')
  })

  it('break all phrases of a section alike, and leave the other sections alone', () => {
    const bars = [...Array(4).fill(QUARTERS), ...Array(4).fill(SIXTEENTHS), ...Array(4).fill(QUARTERS)]
    const part = printedRows(bars.join(' | '), { sections: { 0: 'A', 8: 'B' } })
    expect(gait(part, 'desktop', 944)).toBe('2 2 2 2 4')
  })

  it('number of bars is 4, 2 or 1 but for the end of a phrase, whatever the music', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.constantFrom(360, 390, 820, 1440), (seed, width) => {
        const lengths = laid(randomPart(seed), viewOf(width), width).map(({ bars }) => bars.length)
        expect([...new Set(lengths)]).toHaveLength(1)
        expect([1, 2, 4]).toContain(lengths[0])
      }),
      { seed: 41, numRuns: RUNS },
    )
  })

  it('share their width equally where every bar has its air, so that bar lines align', () => {
    const [first, second] = laid(rows(QUARTERS, 8), 'desktop', 944)
    const widths = first!.bars.map(({ width }) => width)
    for (const width of widths) expect(width).toBeCloseTo(widths[0]!)
    expect(second!.bars.map(({ x }) => x)).toEqual(first!.bars.map(({ x }) => x))
  })

  it('let a full bar widen and the others give way', () => {
    const [system] = laid(printedRows([QUARTERS, QUARTERS, SIXTEENTHS, QUARTERS].join(' | ')), 'desktop', 944)
    const widths = system!.bars.map(({ width }) => width)
    expect(widths[2]).toBeGreaterThan(widths[0]!)
    expect(widths[0]).toBeCloseTo(widths[1]!)
    expect(system!.width).toBeCloseTo(944 / 7.4, 1)
  })

  it('end early where the phrase has fewer bars, at the bar width of the page', () => {
    const [first, second] = laid(rows(QUARTERS, 6), 'desktop', 944)
    expect(second!.bars[0]!.width).toBeCloseTo(first!.bars[0]!.width)
    expect(second!.width).toBeLessThan(first!.width - 20)
  })

  it('reach the same right edge with a pick-up, which is narrower than a bar', () => {
    const [first, second] = laid(
      printedRows(`0q | ${Array(8).fill(QUARTERS).join(' | ')}`, { pickup: true }),
      'desktop',
      944,
    )
    expect(first!.bars).toHaveLength(5)
    expect(first!.bars[0]!.width).toBeLessThan(first!.bars[1]!.width)
    expect(first!.width).toBeCloseTo(second!.width, 2)
  })

  it('never run out of their page nor into themselves, at any size', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.constantFrom(390, 820, 1440),
        fc.integer({ min: 60, max: 150 }),
        (seed, width, size) => {
          const page = pageOf(viewOf(width), width, size, 8)
          for (const system of layPart(randomPart(seed), pageSizes(page, besley))) {
            // Under 0.72 of the size nothing gives way any more: a player who asks for more on a phone is told so.
            if (system.scale > 0.72) expect(system.width * system.scale).toBeLessThanOrEqual(page.width + 0.02)
            for (const { bar, width: barWidth, layout } of system.bars) {
              expect(layout.width).toBeLessThanOrEqual(barWidth + 0.01)
              for (let sign = 1; sign < bar.signs.length; sign++) {
                expect(layout.x[sign]! - layout.x[sign - 1]!).toBeGreaterThan(1)
              }
            }
          }
        },
      ),
      { seed: 42, numRuns: RUNS },
    )
  })

  it('go down the ladder for four long names in one bar of a phone', () => {
    const [system] = laid(
      printedRows('Bbmaj7#11/D Ebm6/9 Em7 A13: -6#q -1nq -5nq 0nq | F7: 0w | F7: 0w', { key: 'Gb' }),
      'phone',
      358,
    )
    expect(system!.bars).toHaveLength(1)
    expect(system!.sizes.suffixScale).toBeLessThan(1)
    expect(system!.scale).toBe(1)
  })

  it('are four empty bars where there is no music, two on a phone', () => {
    const nothing: Part = { key: undefined, strings: 4, bars: [] }
    expect(gait(nothing, 'desktop', 944)).toBe('4')
    expect(gait(nothing, 'phone', 358)).toBe('2')
  })

  it('stand larger and shorter where there are only one or two bars', () => {
    const page = pageOf('desktop', 944, 100, 1)
    expect(page.sp).toBeCloseTo(7.4 * 1.4)
    expect(page.width * page.sp).toBeCloseTo(944 * 0.72)
  })
})

describe('the space of the clef', () => {
  it('grows with the signature and with a metre of two figures', () => {
    expect(clefSpace(-1, false)).toBeCloseTo(8.78)
    expect(clefSpace(5, false) - clefSpace(4, false)).toBeCloseTo(0.98)
    expect(clefSpace(0, true) - clefSpace(0, false)).toBeCloseTo(1.15)
  })

  it('is the same in every system, so first notes align', () => {
    const systems = laid(rows(QUARTERS, 12, { key: 'Eb' }), 'desktop', 944)
    expect(new Set(systems.map(({ clefSpace: space }) => space))).toHaveLength(1)
  })
})

describe('the height of a system', () => {
  const heights = (row: string, strings = 4) => heightsOf(laid(printedRows(row), 'desktop', 944)[0]!, strings)

  it('is that of its own ink: a high beam lifts the chords, a low head moves the tab down', () => {
    const middle = heights(`${QUARTERS} | 0w | 0w`)
    const high = heights('F7: 9e 10e 9q 9q 9q | 0w | 0w')
    const low = heights('F7: -9q -9q -9q -9q | 0w | 0w')
    expect(high.staff).toBeGreaterThan(middle.staff)
    expect(high.chordBase).toBe(middle.chordBase)
    expect(low.tab - low.staff).toBeGreaterThan(middle.tab - middle.staff)
  })

  it('keeps every chord clear of the staff by 0.4 staff spaces', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (seed) => {
        for (const system of laid(randomPart(seed), 'desktop', 944)) {
          const { staff, chordBase } = heightsOf(system, 6)
          expect(staff - inkOf(system).above - chordBase).toBeGreaterThan(0.4)
        }
      }),
      { seed: 43, numRuns: RUNS },
    )
  })

  it('grows by a string for each string more', () => {
    expect(heights(QUARTERS, 6).height - heights(QUARTERS, 4).height).toBeCloseTo(2 * 1.52)
  })
})

describe('eight eighths to the bar', () => {
  it('stay four bars to a system on a desk, and break in halves on a tablet', () => {
    expect(gait(rows(EIGHTHS, 8), 'desktop', 944)).toBe('4 4')
    expect(gait(rows(EIGHTHS, 8), 'tablet', 740)).toBe('2 2 2 2')
  })
})
