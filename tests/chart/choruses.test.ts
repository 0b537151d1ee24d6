import { describe, expect, it } from 'vitest'
import { choruses } from '../../src/chart/choruses.ts'
import { unfold } from '../../src/chart/form.ts'
import { parseChart } from '../../src/chart/parse.ts'
import { changes } from '../support/changes.ts'
import { formText } from '../support/chart-case.ts'

describe('choruses', () => {
  it('play a form over and over', () => {
    expect(formText(choruses(changes('[A] Dm7 G7 | (3/4) C | (4/4) F'), 2))).toBe(
      '[A] Dm7 G7 | (3/4) C | (4/4) F | [A] Dm7 G7 | (3/4) C | (4/4) F',
    )
  })

  it('are the form where it is played once', () => {
    const form = changes('Dm7 G7 | C')
    expect(choruses(form, 1)).toEqual(form)
  })

  it('play a pick-up once', () => {
    const { form } = unfold(parseChart('pickup: yes\n(1/4) G7 | C | F').chart)
    const twice = choruses(form, 2)
    expect(formText(twice)).toBe('(1/4) < G7 > | (4/4) C | F | C | F')
    expect(twice.bars.map(({ index, number }) => [index, number])).toEqual([
      [0, 0],
      [1, 1],
      [2, 2],
      [3, 3],
      [4, 4],
    ])
  })

  it('follow each other without a gap', () => {
    const { bars, changes: all, ticks } = choruses(changes('Dm7 G7 | (3/4) C'), 3)
    let tick = 0
    for (const bar of bars) {
      expect(bar.startTick).toBe(tick)
      for (const change of bar.changes) {
        expect([change.startTick, change.barIndex]).toEqual([tick, bar.index])
        tick += change.ticks
      }
    }
    expect(ticks).toBe(tick)
    expect(all).toEqual(bars.flatMap((bar) => bar.changes))
  })

  it('hold a chord that goes on over the seam', () => {
    const heldIn = (row: string) => choruses(changes(row), 2).changes.map(({ held }) => held)
    expect(heldIn('C | F | C')).toEqual([false, false, false, true, false, false])
    expect(heldIn('C | F')).toEqual([false, false, false, false])
    expect(heldIn('C | %')).toEqual([false, true, true, true])
    expect(heldIn('C | F | CM')).toEqual([false, false, false, true, false, false])
  })

  it('are 1, 2, 3 …', () => {
    for (const times of [0, -1, 1.5, Number.NaN]) expect(() => choruses(changes('C'), times)).toThrow(RangeError)
  })
})
