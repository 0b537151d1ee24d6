import { describe, expect, it } from 'vitest'
import { planWalk, slotsOf, type WeightedCell } from '../../src/rhythm/plan.ts'
import { changes as formOf } from '../support/changes.ts'
import { cellsOf, SWING_CELLS } from '../support/walking.ts'

const EIGHT = Array(8).fill('Dm7').join(' | ').replace('Dm7', '[A] Dm7')

const idsOf = (changes: string, cells: readonly WeightedCell[] = SWING_CELLS, bpm = 144) =>
  planWalk(formOf(changes), () => cells, { bpm, usualBpm: 144 }, false).cells.map((cell) => cell.id)

const counts = (ids: readonly string[]) => {
  const found: Record<string, number> = {}
  for (const id of ids) found[id] = (found[id] ?? 0) + 1
  return found
}

describe('the cells of a walking line', () => {
  it('get their share of each phrase of eight by largest remainder: 5 2 3 1 3 2 1 1 4 of 22', () => {
    expect(counts(idsOf(EIGHT))).toEqual({
      'four-quarters': 2,
      'half-and-two': 2,
      'walk-skip-four': 1,
      'walk-skip-three': 1,
      'walk-skip-one': 1,
      'walk-ghost-two': 1,
    })
  })

  it('are owed in the next phrase what one has left them short of: in 176 bars all have had their weights eight times', () => {
    expect(counts(idsOf(Array(22).fill(EIGHT).join(' | ')))).toEqual({
      'four-quarters': 40,
      'half-and-two': 32,
      'walk-skip-four': 16,
      'walk-skip-three': 24,
      'walk-skip-two': 8,
      'walk-skip-one': 24,
      'walk-ghost-two': 16,
      'walk-triplet-four': 8,
      'push-walk': 8,
    })
  })

  it('skip in bars that stand apart where there are plain ones between', () => {
    const two = cellsOf('1 2 3 4', '1 2 3 4 &', '1 & 2 3 4').map((cell, i) => ({ ...cell, weight: [2, 1, 1][i]! }))
    const plain = idsOf(EIGHT, two).map((id) => id === two[0]!.id)
    expect(plain).toEqual([true, false, true, false, true, false, true, false])
  })

  it('never have the same skip twice running, and stand plain before busy', () => {
    const ids = idsOf(EIGHT)
    for (const [i, id] of ids.entries())
      if (i > 0 && !['four-quarters', 'half-and-two'].includes(id)) expect(id).not.toBe(ids[i - 1])
    expect(ids[0]).toBe('four-quarters')
  })

  it('have fewer skips as the tempo rises', () => {
    const skips = (bpm: number) => idsOf(EIGHT, SWING_CELLS, bpm).filter((id) => id !== 'four-quarters').length
    expect(skips(144)).toBeGreaterThan(skips(280))
  })

  it('begin a phrase anew at each section', () => {
    const two = SWING_CELLS.slice(0, 2).map((cell) => ({ ...cell, weight: 1 }))
    const ids = idsOf('[A] C | C | C | C | C | C | [B] F | F', two)
    expect(counts(ids.slice(0, 6))).toEqual({ 'four-quarters': 3, 'walk-skip-four': 3 })
    expect(counts(ids.slice(6))).toEqual({ 'four-quarters': 1, 'walk-skip-four': 1 })
  })

  it('are one note a beat in a metre that the vocabulary does not know', () => {
    const form = formOf('C | (7/8) F | (12/8) G7')
    const plan = planWalk(form, () => SWING_CELLS, { bpm: 144, usualBpm: 144 }, false)
    const slots = slotsOf(form, plan.cells, false)
    const ofBar = (bar: number) =>
      slots.filter((slot) => slot.barIndex === bar).map((slot) => slot.startTick - form.bars[bar]!.startTick)
    expect(ofBar(1)).toEqual([0, 480, 960])
    expect(ofBar(2)).toEqual([0, 720, 1440, 2160])
  })

  it('fill a bar with copies of a shorter cell', () => {
    const form = formOf('C | F')
    const plan = planWalk(form, () => cellsOf('2/4: 1 2&'), { bpm: 144, usualBpm: 144 }, false)
    expect(slotsOf(form, plan.cells, false).map((slot) => slot.startTick)).toEqual([
      0, 720, 960, 1680, 1920, 2640, 2880, 3600,
    ])
  })

  it('leave bars without a chord empty', () => {
    expect(idsOf('C | N.C. | F')).toHaveLength(2)
  })
})

describe('the slots of cells', () => {
  const slots = (changes: string, notation: string, loop = false) => {
    const form = formOf(changes)
    const [cell] = cellsOf(notation)
    return slotsOf(
      form,
      form.bars.map((bar) => ({ ...cell!, startTick: bar.startTick })),
      loop,
    )
  }

  it('belong to the chord that they anticipate when they are pushed over the bar line', () => {
    const [, , , push, next] = slots('Dm7 | G7', '1 2 3 4&~')
    expect([push!.startTick, push!.ticks, push!.changeIndex, push!.pushed]).toEqual([1680, 720, 1, true])
    expect(next!.startTick).toBe(1920 + 480)
  })

  it('end where the chords cease', () => {
    expect(slots('Dm7 N.C.', '1').map((slot) => [slot.startTick, slot.ticks])).toEqual([[0, 960]])
  })

  it('say how strong their places are', () => {
    expect(slots('C', '1 2 3 4 &').map((slot) => slot.strength)).toEqual(['one', 'beat', 'middle', 'beat', 'off'])
    expect(slots('C', '1 e & a 2').map((slot) => slot.strength)).toEqual(['one', 'fine', 'off', 'fine', 'beat'])
  })

  it('take the downbeat from the start of a loop when the end is pushed over it', () => {
    expect(slots('Dm7 | G7', '1 2 3 4&~', true).map((slot) => slot.startTick)[0]).toBe(480)
    expect(slots('Dm7 | G7', '1 2 3 4&~', true).at(-1)!.changeIndex).toBe(0)
  })
})

describe('the cells of a motif', () => {
  const motifOf = (changes: string, bars: 1 | 2 | 4, fills = false) =>
    planWalk(formOf(changes), () => SWING_CELLS, { bpm: 144, usualBpm: 144 }, false, undefined, undefined, {
      bars,
      fills,
    }).cells.map((cell) => cell.id)

  it('come again and again, each with its share of the motif', () => {
    expect(new Set(motifOf(EIGHT, 1))).toEqual(new Set(['four-quarters']))
    const two = motifOf(EIGHT, 2)
    expect(two.slice(0, 2).toSorted()).toEqual(['four-quarters', 'half-and-two'])
    expect(two).toEqual([...two.slice(0, 2), ...two.slice(0, 2), ...two.slice(0, 2), ...two.slice(0, 2)])
    const four = motifOf(EIGHT, 4)
    expect(four.slice(4)).toEqual(four.slice(0, 4))
    expect(new Set(four).size).toBeGreaterThan(2)
  })

  it('begin anew at each section', () => {
    const ids = motifOf('[A] C | C | C | [B] F | F | F', 2)
    expect(ids.slice(3)).toEqual(ids.slice(0, 3))
  })

  it('give way to a fill in the last bar of each four, if they may', () => {
    const ids = motifOf(EIGHT, 1, true)
    expect(ids.filter((id) => id === 'four-quarters')).toHaveLength(6)
    expect(ids[3]).not.toBe('four-quarters')
    expect(ids[7]).toBe(ids[3])
  })
})
