import { describe, expect, it } from 'vitest'
import { unfold } from '../../src/chart/form.ts'
import { parseChart } from '../../src/chart/parse.ts'
import { printChart } from '../../src/chart/print.ts'
import { withoutSpans } from '../support/chart-case.ts'
import { EXAMPLES } from '../support/command.ts'
import { readExample } from '../support/example.ts'

const printed = (text: string) => printChart(parseChart(text).chart)

describe('a printed chart', () => {
  it('has its headers in one order, then its bars, four in a row', () => {
    const text = `feel: shuffle\nkey: F\nrule: Bar 1: root on 1\nmood: dark
      cells: "1 2&" four-quarters
      [A] |: F7 | Bb7 | F7 | Cm7 / / F7 | % |1. C7 :|x2 |2. N.C. |]
      [B] | (3/4) Gm7 | / C7 / :|`
    expect(printed(text)).toBe(`key: F
feel: shuffle
cells: "1 2&" four-quarters
rule: Bar 1: root on 1
mood: dark

[A]
|: F7 | Bb7 | F7 | Cm7 / / F7 |
| % |1. C7 :|x2 |2. N.C. |]

[B]
| (3/4) Gm7 | / C7 / :|
`)
  })

  it.each(EXAMPLES)('is the example %s again when it is read', (name) => {
    const { chart } = parseChart(readExample(name))
    const again = parseChart(printChart(chart))
    expect(again.diagnostics).toEqual([])
    expect(withoutSpans(again.chart)).toEqual(withoutSpans(chart))
    expect(withoutSpans(unfold(again.chart).form)).toEqual(withoutSpans(unfold(chart).form))
  })

  it.each([
    'pickup: yes\n| (1/4) G7 | C | F |',
    'time: 7/8\ngroups: 3+2+2\n| C / G7 | (4/4) % |',
    '|: C |1,3. F :|2. G || (2/4) A |: D :|]',
    '| / C / / | Hm7 G7 | | N.C. / C / |',
    'time: 5/4\n| Dm7 G7 | Dm7 / G7 / / |',
    '| C7(b9, #11) | B♭Δ⁷ | <G7 | C / E F# |',
    '',
  ])('is the same chart again: %j', (text) => {
    const { chart } = parseChart(text)
    expect(withoutSpans(parseChart(printChart(chart)).chart)).toEqual(withoutSpans(chart))
  })
})
