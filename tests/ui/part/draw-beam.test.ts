import { describe, expect, it } from 'vitest'
import { drawBeam } from '../../../src/ui/part/draw-beam.ts'
import { beamLine, stemDirection, stemTip } from '../../../src/ui/part/stems.ts'
import { printedRows } from './printed-rows.ts'

const X = [2, 4, 6, 8]

/** Beams of a row's first group: from and to, in staff spaces, the outer beam first. */
function beamsOf(row: string): readonly string[] {
  const bar = printedRows(row).bars[0]!
  const svg = drawBeam(bar, bar.beams[0]!, X)
  return [...svg.matchAll(/class="beam" d="M([\d.]+) [-\d.]+L([\d.]+)/g)].map(([, from, to]) => {
    return [from, to].map((edge) => (Number(edge) / 10).toFixed(1)).join('-')
  })
}

describe('beams', () => {
  it('join eighths by one and sixteenths by two', () => {
    expect(beamsOf('-2e -2e')).toEqual(['2.5-4.6'])
    expect(beamsOf('-2s -2s -2s -2s')).toEqual(['2.5-8.6', '2.5-8.6'])
    expect(beamsOf('-2e -2s -2s')).toEqual(['2.5-6.6', '4.5-6.6'])
  })

  it('lean a lone sixteenth on what it completes', () => {
    expect(beamsOf('-2e. -2s')).toEqual(['2.5-4.6', '3.4-4.6'])
    expect(beamsOf('-2s -2e.')).toEqual(['2.5-4.6', '2.5-3.7'])
    expect(beamsOf('-2s -2e -2s')).toEqual(['2.5-6.6', '2.5-3.7', '5.4-6.6'])
  })

  it('go up or down by the mean of their notes and rise by at most 0.6 staff spaces', () => {
    const notes = (row: string) => printedRows(row).bars[0]!.signs.filter((sign) => sign.kind === 'note')
    const steep = beamLine(notes('-6e 4e'), [2, 5])
    expect(steep.direction).toBe('up')
    expect(steep.from.y - steep.to.y).toBeCloseTo(0.6)
    expect(beamLine(notes('-2e 4e'), [2, 5]).direction).toBe('down')
  })

  it('leave every stem at least its length', () => {
    const { signs } = printedRows('-6s 2s -1s -4s').bars[0]!
    const { from, to } = beamLine(
      signs.filter((sign) => sign.kind === 'note'),
      X,
    )
    const heads = [5, 1, 2.5, 4]
    for (const [index, head] of heads.entries()) {
      const tip = from.y + ((to.y - from.y) * index) / 3
      expect(head - tip).toBeGreaterThanOrEqual(3.55 - 1e-9)
    }
  })
})

describe('stems', () => {
  it('turn by the middle line, and reach it from far away', () => {
    expect([-1, 0, 1].map(stemDirection)).toEqual(['up', 'down', 'down'])
    expect(stemTip(-2)).toBeCloseTo(3 - 3.35)
    expect(stemTip(-9)).toBe(2)
    expect(stemTip(10)).toBe(2)
  })
})
