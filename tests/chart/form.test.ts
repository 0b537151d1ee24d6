import { describe, expect, it } from 'vitest'
import { MOST_BARS, unfold } from '../../src/chart/form.ts'
import { parseChart } from '../../src/chart/parse.ts'
import { changes } from '../support/changes.ts'
import { formText } from '../support/chart-case.ts'
import { EXAMPLES } from '../support/command.ts'
import { readExample } from '../support/example.ts'

const held = (row: string) => changes(row).changes.map((change) => change.held)

describe('a change', () => {
  it('is held where the same chord sounded just before', () => {
    expect(held('C | C | F C | C F')).toEqual([false, true, false, false, true, false])
  })

  it('is held whatever the spelling of its symbol', () => {
    expect(held('Cmaj7 | CΔ | Dm7 | D-7 | Ebm7 | D#m7')).toEqual([false, true, false, true, false, true])
  })

  it('is not held where the bass under it moves', () => {
    expect(held('C | C/E | C/C')).toEqual([false, false, false])
  })

  it('is not held after N.C., but N.C. is', () => {
    expect(held('C | N.C. | N.C. | C')).toEqual([false, false, true, false])
  })

  it('is held over the bars of %, of a slash and of a repeat', () => {
    expect(held('|: C | % | / / / / :|')).toEqual([false, true, true, true, true, true])
  })

  it('begins and ends where its beats do', () => {
    const { changes: all, ticks } = changes('A7 / / D7 | % ', { time: '12/8' })
    expect(all.map(({ startTick, ticks: own }) => [startTick, own])).toEqual([
      [0, 2160],
      [2160, 720],
      [2880, 2160],
      [5040, 720],
    ])
    expect(ticks).toBe(5760)
  })

  it('is written where its letters are, or the % that repeats it', () => {
    const text = '| Dm7 G7 | % |'
    const { form } = unfold(parseChart(text).chart)
    expect(form.changes.map(({ span }) => text.slice(span.from, span.to))).toEqual(['Dm7', 'G7', '%', '%'])
  })

  it('is the same chord as long as it sounds, and leads to the next other one', () => {
    const [first, second, third] = changes('G7 | % | Cm').changes
    expect(second!.chord).toBe(first!.chord)
    expect(first!.chord!.scale.id).toBe(changes('G7 | Cm').changes[0]!.chord!.scale.id)
    expect(third!.chord!.symbol.text).toBe('Cm')
  })

  it('is one object with every other that is equal and leads to an equal one', () => {
    const all = changes('Dm7 | G7 | Dm7 | G7 | Cmaj7 | Dm7 | G13').changes.map(({ chord }) => chord)
    expect(all[2]).toBe(all[0])
    expect(all[3]).not.toBe(all[1])
    expect(all[5]).not.toBe(all[0])
  })

  it('hears the key', () => {
    const scale = (key?: string) => changes('Em7', key === undefined ? {} : { key }).changes[0]!.chord!.scale.id
    expect(scale('C')).toBe('phrygian')
    expect(scale('D')).toBe('dorian')
  })
})

describe('a played bar', () => {
  it('points back at the written one', () => {
    const { bars } = changes('|: C |1. F :|2. G ||')
    expect(bars.map((bar) => [bar.index, bar.number, bar.writtenIndex, bar.writtenNumber])).toEqual([
      [0, 1, 0, 1],
      [1, 2, 1, 2],
      [2, 3, 0, 1],
      [3, 4, 2, 3],
    ])
  })

  it('is bar 0 where it is a pick-up', () => {
    const { form } = unfold(parseChart('pickup: yes\n(1/4) G7 |: C | F :|').chart)
    expect(form.bars.map((bar) => [bar.number, bar.writtenNumber, bar.startTick, bar.ticks])).toEqual([
      [0, 0, 0, 480],
      [1, 1, 480, 1920],
      [2, 2, 2400, 1920],
      [3, 1, 4320, 1920],
      [4, 2, 6240, 1920],
    ])
  })
})

describe('a form', () => {
  it.each([
    ['change-at-every-stop', 13, 20],
    ['coats-on-the-radiator', 24, 32],
    ['second-coat-of-paint', 16, 32],
    ['third-lift-out-of-order', 12, 12],
    ['wet-cardboard', 12, 20],
  ])('of the example %s has its %i written bars in %i played ones', (name, written, played) => {
    const { chart } = parseChart(readExample(name))
    expect(chart.bars).toHaveLength(written)
    expect(unfold(chart).form.bars).toHaveLength(played)
  })

  it.each(EXAMPLES)('of the example %s has nothing said against it', (name) => {
    expect(unfold(parseChart(readExample(name)).chart).diagnostics).toEqual([])
  })

  it('of a repeat with endings is that of its bars written out', () => {
    expect(formText(changes('|: Dm7 G7 |1,2. Cmaj7 :|3. C6 || F'))).toBe(
      formText(changes('Dm7 G7 | Cmaj7 | Dm7 G7 | Cmaj7 | Dm7 G7 | C6 | F')),
    )
  })

  it('has no bars where the chart has none', () => {
    expect(unfold(parseChart('').chart)).toEqual({ form: { bars: [], changes: [], ticks: 0 }, diagnostics: [] })
  })

  it('is cut where it is longer than anybody plays', () => {
    const text = '|: C | C | C | C | C | C | C | C :|x64\n'.repeat(10)
    const { form, diagnostics } = unfold(parseChart(text).chart)
    expect(form.bars).toHaveLength(MOST_BARS)
    expect(diagnostics.map(({ severity, code }) => [severity, code])).toEqual([['error', 'chart/too-many-bars']])
  })

  it('is cut where its sections are named more often than anybody plays them', () => {
    const { form, diagnostics } = unfold(parseChart(`form: ${'A '.repeat(100_000)}\n[A] C |: F :|x64`).chart)
    expect(form.bars).toHaveLength(MOST_BARS)
    expect(diagnostics.map(({ code }) => code)).toEqual(['chart/too-many-bars'])
  })
})
