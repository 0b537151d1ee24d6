import { describe, expect, it } from 'vitest'
import { metreOf } from '../../src/music/metre.ts'
import { parseCell } from '../../src/rhythm/cell.ts'
import { regrouped, regrouping } from '../../src/rhythm/regroup.ts'

/** Counts and lengths in units of the lower figure, as `1+2 3+2`; `undefined` where the cell cannot be told so. */
function inGroups(notation: string, metre: string, groups: readonly number[]): string | undefined {
  const reading = parseCell(`${metre}: ${notation}`)
  if (!reading.ok) throw new Error(reading.message)
  const unit = 1920 / Number(metre.split('/')[1])
  return regrouped(reading.cell, metreOf(metre)!, groups)
    ?.onsets.map(({ tick, ticks }) => `${tick / unit + 1}+${ticks / unit}`)
    .join(' ')
}

describe('a cell in other beat groups', () => {
  it('has each group with its own rhythm, where that group now stands', () => {
    expect(inGroups('1 3 5', '7/8', [3, 2, 2])).toBe('1+3 4+2 6+2')
    expect(inGroups('1 3 5 7', '7/8', [3, 2, 2])).toBe('1+2 3+1 4+2 6+2')
    expect(inGroups('1 3 5 7', '7/8', [2, 3, 2])).toBe('1+2 3+2 5+1 6+2')
    expect(inGroups('1 2& 4 5', '5/4', [2, 3])).toBe('1+1 2+1 3+1.5 4.5+1.5')
  })

  it('keeps its rests, and lets what rang to the end of its group ring to the next onset', () => {
    expect(inGroups('(1) 2. (3) 4 (5) 6', '7/8', [3, 2, 2])).toBe('2+2 5+1 7+1')
    expect(inGroups('1 4 6 7', '7/8', [3, 2, 2])).toBe('2+1 3+1 4+3 7+1')
  })

  it('is the same where the groups are as they are written', () => {
    expect(inGroups('1 3 5 7', '7/8', [2, 2, 3])).toBe('1+2 3+2 5+2 7+1')
  })

  it('cannot be told in groups of other sizes, nor tied over the bar line', () => {
    expect(inGroups('1 3 5', '7/8', [4, 3])).toBeUndefined()
    expect(inGroups('1 3 5 7~', '7/8', [3, 2, 2])).toBeUndefined()
  })
})

describe('places in other beat groups', () => {
  it('go where their group goes', () => {
    const placed = regrouping(metreOf('7/8')!, [3, 2, 2])!
    expect([0, 240, 480, 720, 960, 1200, 1440].map(placed)).toEqual([720, 960, 1200, 1440, 0, 240, 480])
    expect(regrouping(metreOf('7/8')!, [5, 2])).toBeUndefined()
  })
})
