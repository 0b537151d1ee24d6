import { afterAll, bench, describe } from 'vitest'
import { compose, read } from '../../src/compose.ts'
import { FEELS } from '../../src/feels/feels.ts'
import type { Settings } from '../../src/settings.ts'
import { grooveChart } from '../support/groove-charts.ts'
import { type Grooved, type GrooveRow, grooveFaults, grooveRow } from '../support/groove-figures.ts'
import { FOUR_STRINGS, grooveRequest, groovesOf } from '../support/grooves.ts'
import { handFigures } from '../support/hand-figures.ts'
import { progression } from '../support/progressions.ts'
import { type Figure, type Walked, walkingFaults, walkingFigures } from '../support/walking-figures.ts'

// `npm run bench -- music`: how the lines behave beside real ones. Figures are a floor: a line can meet every row and be dull. They are
// counted over progressions that no weight was tuned on.

const SEEDS = Array.from({ length: 60 }, (_, index) => 1000 + index)

const reports = new Map<string, string[]>()
let report: string[] = []
afterAll(() => {
  for (const rows of reports.values()) process.stdout.write(`${rows.join('\n')}\n`)
})

/** Begins a report. The runner calls a bench more than once: the last report stands. */
function begin(name: string): void {
  report = []
  reports.set(name, report)
}

function show(title: string, figures: readonly Figure[]): void {
  report.push('', title)
  for (const { name, value, range, count } of figures) {
    const isIn = range && value >= range[0] && value <= range[1]
    const verdict = range ? `${range[0]}-${range[1]}`.padStart(10) + (isIn ? '  in' : '  OUT') : ''
    report.push(`  ${name.padEnd(54)} ${value.toFixed(2).padStart(8)}  of ${String(count).padStart(6)} ${verdict}`)
  }
  const ranged = figures.filter(({ range }) => range)
  const inside = ranged.filter(({ value, range }) => value >= range![0] && value <= range![1])
  report.push(`  ${inside.length} of ${ranged.length} in range`)
}

/** The hand of lines for the four-string bass, dead notes left out. */
const handOf = (lines: readonly Walked[]): readonly Figure[] =>
  handFigures(
    lines.map(({ form, line }) => ({
      form,
      instrument: FOUR_STRINGS,
      notes: line.notes.filter(({ slot }) => !slot.ghost),
    })),
  )

/** What each term of the notes asked, the dearest first: its share of all points, and of the notes. */
function shares(walked: readonly Walked[]): readonly string[] {
  const points = new Map<string, number>()
  const paying = new Map<string, number>()
  const notes = walked.flatMap(({ line }) => line.notes)
  for (const { terms } of notes) {
    for (const { rule, points: asked } of terms) points.set(rule, (points.get(rule) ?? 0) + asked)
    for (const rule of new Set(terms.map((term) => term.rule))) paying.set(rule, (paying.get(rule) ?? 0) + 1)
  }
  const all = [...points.values()].reduce((sum, asked) => sum + asked, 0)
  const percent = (part: number, of: number) => ((100 * part) / of).toFixed(1).padStart(6)
  return [...points]
    .sort((a, b) => b[1] - a[1])
    .map(
      ([rule, asked]) =>
        `  ${rule.padEnd(40)} ${percent(asked, all)} % of the points ${percent(paying.get(rule)!, notes.length)} % of the notes`,
    )
}

/** The same progression with the third of each major seventh chord in the bass. */
function overThirds(chart: string): string {
  const thirds: Record<string, string> = { C: 'E', Db: 'F', D: 'F#', Eb: 'G', E: 'G#', F: 'A', 'F#': 'A#', G: 'B' }
  const more: Record<string, string> = { Ab: 'C', A: 'C#', Bb: 'D', B: 'D#' }
  return chart.replace(/([A-G][#b]?)maj7/g, (symbol, root: string) => `${symbol}/${{ ...thirds, ...more }[root]}`)
}

/** Where slash chords are met, how often on their bass. A slash chord's bass counts as its root: 52 % in real lines is the floor. */
function slashFigure(walked: readonly Walked[]): Figure {
  let met = 0
  let count = 0
  for (const { form, line } of walked)
    for (const change of form.changes) {
      if (!change.chord?.symbol.bass || change.held) continue
      const note = line.notes.find(({ slot }) => !slot.ghost && slot.startTick === change.startTick)
      if (!note) continue
      count++
      if (note.pitch % 12 === change.chord.bassPc) met++
    }
  return { name: 'written bass on a change to a slash chord', value: (100 * met) / count, range: [52, 100], count }
}

/** How trio bassists strike their bars, by tempo: the share of bars with four onsets and fewer off-beats as it rises. */
function strikingFigures(tempo: number, walked: readonly Walked[]): readonly Figure[] {
  const bars = walked.flatMap(({ form, line }) =>
    form.bars.map((bar) => line.notes.filter(({ slot }) => !slot.ghost && slot.barIndex === bar.index)),
  )
  const offBeats = bars.map((notes) => notes.filter(({ slot }) => slot.startTick % 480 !== 0))
  const onFour = offBeats.flat().filter(({ slot }) => slot.startTick % 1920 > 1440).length
  const all = offBeats.flat().length
  const share = (name: string, part: number, of: number): Figure => ({
    name: `${name} at ${tempo}`,
    value: (100 * part) / Math.max(1, of),
    count: of,
  })
  return [
    { name: `off-beat notes a bar at ${tempo}`, value: all / bars.length, range: [0.3, 1.3], count: bars.length },
    share('bars of four onsets', bars.filter((notes) => notes.length === 4).length, bars.length),
    share('off-beats that fall after beat 4', onFour, all),
  ]
}

const once = { iterations: 1, time: 0, warmupIterations: 0, warmupTime: 0 }

describe('walking', () => {
  bench(
    'medium swing over 60 progressions, the best line and three variations',
    () => {
      begin('walking')
      const best: Walked[] = []
      const others: Walked[] = []
      for (const seed of SEEDS) {
        const { form, lines } = compose(progression(seed), { feel: 'swing-medium', variations: 4 })
        for (const [index, line] of lines.entries()) (index === 0 ? best : others).push({ form, line })
      }
      show('Walking, the best lines: as real lines', walkingFigures(best))
      show('Walking, the best lines: as a reader marks them', walkingFaults(best))
      show('Walking, the best lines: as the hand finds them', handOf(best))
      report.push('', ...shares(best))
      const over = (charts: readonly string[], settings: Settings): readonly Walked[] =>
        charts.map((chart) => {
          const { form, lines } = compose(chart, { feel: 'swing-medium', ...settings })
          return { form, line: lines[0]! }
        })
      const charts = SEEDS.slice(0, 20).map(progression)
      show('Walking, slash chords and tempo', [
        slashFigure(over(charts.map(overThirds), {})),
        ...[110, 145, 180, 220].flatMap((tempo) => strikingFigures(tempo, over(charts, { tempoBpm: tempo }))),
      ])
      show('Walking, three variations each: as real lines', walkingFigures(others))
      show('Walking, three variations each: as a reader marks them', walkingFaults(others))
    },
    once,
  )
})

const HEAD =
  'feel               notes dead asA | same step third 4-5 octave wide | 1 8 5 3 6 7 approach | step in, leads (most) a phrase, moves, compass, kinds of bars'

function rowText(row: GrooveRow): string {
  const { feel, notesABar, deadABar, asFirst, intervals, degrees, stepIn, leads, moves, compass, different } = row
  const shares = (of: readonly number[]) => of.map((share) => String(share).padStart(2)).join(' ')
  return [
    `${feel.padEnd(18)} ${notesABar.toFixed(1).padStart(5)} ${deadABar.toFixed(1).padStart(4)} ${asFirst.toFixed(0).padStart(3)}`,
    shares(intervals),
    shares(degrees),
    `${stepIn.toFixed(0).padStart(3)} ${leads[0].toFixed(1)} (${leads[1]}) ${moves.toFixed(1)} ${compass.join('-')} ${different.join(' of ')}`,
  ].join(' | ')
}

describe('grooves', () => {
  bench(
    'the best lines of each feel over six charts',
    () => {
      begin('grooves')
      const all: Grooved[] = []
      report.push('', 'Grooves, the best lines: per cent but for notes and moves a bar', `  ${HEAD}`)
      for (const { id, line } of FEELS) {
        if (line.kind !== 'groove') continue
        const own = [0, 1, 2, 3, 4, 5].map((seed): Grooved => {
          const { form } = read(grooveChart(id, seed))
          const made = groovesOf(grooveRequest(id, form, { loop: true }))[0]!
          return { feel: id, form, table: line.table, line: made }
        })
        report.push(`  ${rowText(grooveRow(own))}`)
        for (const { name, value, range, count } of grooveFaults(own))
          if (range && (value < range[0] || value > range[1]))
            report.push(`    OUT: ${name} ${value.toFixed(1)} of ${count}`)
        all.push(...own)
      }
      show('Grooves, the best lines: as a reader marks them', grooveFaults(all))
      const built = all.map(({ form, line }) => ({ form, instrument: FOUR_STRINGS, notes: line.notes }))
      show('Grooves, the best lines: as the hand finds them', handFigures(built))
    },
    once,
  )
})
