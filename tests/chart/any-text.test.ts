import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Form, MOST_BARS, unfold } from '../../src/chart/form.ts'
import { parseChart } from '../../src/chart/parse.ts'
import { printChart } from '../../src/chart/print.ts'
import { barTicks } from '../../src/music/metre.ts'
import { withoutSpans } from '../support/chart-case.ts'
import { EXAMPLES } from '../support/command.ts'
import { readExample } from '../support/example.ts'

const SEED = 20_251
const RUNS = process.env['SOAK'] === '1' ? 10_000 : 1000

/** Signs of the chart language, more often right than wrong beside each other. */
const PIECES =
  '| | | | || |] |: :| :|x3 :|2x |1. |2. |1,3. |1-2. :|2. % / / N.C. NC [A] [B] [Coda] [ ] [] (3/4) (4/4) (2/4) (12/8) (1/4) (7/9) ( ) // / / // Fine D.C. D.S. al Coda C Dm7 G7 Cmaj7 F#ø Bb7#11 C/E <G7 C7(b9, #11) Hm7 IIm7 min7 C2 x , : \n \n \r\n'
    .split(' ')
    .concat([
      'key: F\n',
      'time: 3/4\n',
      'time: 7/8\n',
      'groups: 3+2+2\n',
      'pickup: yes\n',
      'form: A B A\n',
      'tempo: 120\n',
      'cells: a "1 2"\n',
      'rule: x\n',
      'mood: y\n',
      '\u{1D12B}',
      '♭',
      '\u0000',
    ])

const soup = fc
  .array(fc.tuple(fc.constantFrom(...PIECES), fc.constantFrom(' ', ' ', ' ', '', '\n')), { maxLength: 60 })
  .map((pieces) => pieces.flat().join(''))

/** A text with pieces cut out, doubled and put in. */
const mutated = fc
  .tuple(
    fc.constantFrom(...EXAMPLES.map(readExample)),
    fc.array(fc.tuple(fc.nat(2000), fc.nat(12), fc.oneof(fc.constantFrom(...PIECES), fc.string({ maxLength: 5 }))), {
      minLength: 1,
      maxLength: 12,
    }),
  )
  .map(([text, edits]) =>
    edits.reduce((now, [place, length, piece]) => {
      const at = place % (now.length + 1)
      return now.slice(0, at) + piece + now.slice(at + length)
    }, text),
  )

const anyText = fc.oneof(soup, mutated, fc.string({ unit: 'binary', maxLength: 200 }))

function checkFilled({ bars, changes, ticks }: Form): void {
  let tick = 0
  for (const [index, bar] of bars.entries()) {
    expect([bar.index, bar.startTick, bar.ticks]).toEqual([index, tick, barTicks(bar.metre)])
    expect(bar.changes.length).toBeGreaterThan(0)
    for (const change of bar.changes) {
      expect([change.startTick, change.barIndex]).toEqual([tick, index])
      expect(change.ticks).toBeGreaterThan(0)
      tick += change.ticks
    }
    expect(tick).toBe(bar.startTick + bar.ticks)
  }
  expect(ticks).toBe(tick)
  expect(changes).toEqual(bars.flatMap((bar) => bar.changes))
}

describe(`any text (seed ${SEED})`, () => {
  it('is a chart that is played bar by bar, with diagnostics inside the text', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const { chart, diagnostics } = parseChart(text)
        const unfolded = unfold(chart)
        checkFilled(unfolded.form)
        expect(unfolded.form.bars.length).toBeLessThanOrEqual(MOST_BARS)
        for (const { span, message, severity, fixes } of [...diagnostics, ...unfolded.diagnostics]) {
          expect(span.from).toBeGreaterThanOrEqual(0)
          expect(span.to).toBeGreaterThanOrEqual(span.from)
          expect(span.to).toBeLessThanOrEqual(text.length)
          expect(message).not.toBe('')
          expect(['error', 'warning', 'hint']).toContain(severity)
          expect(fixes).not.toContain(text.slice(span.from, span.to))
        }
        const spans = [
          ...chart.bars.flatMap((bar) => [bar.span, ...bar.chords.map((chord) => chord.span)]),
          ...unfolded.form.changes.map((change) => change.span),
        ]
        for (const span of spans) expect(span.from <= span.to && span.to <= text.length).toBe(true)
      }),
      { seed: SEED, numRuns: RUNS },
    )
  })

  it('is the same chart again when it is printed and read', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const { chart } = parseChart(text)
        const printed = printChart(chart)
        const again = parseChart(printed).chart
        expect(withoutSpans(again)).toEqual(withoutSpans(chart))
        expect(printChart(again)).toBe(printed)
      }),
      { seed: SEED, numRuns: RUNS },
    )
  })
})
