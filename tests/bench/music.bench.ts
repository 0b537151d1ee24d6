import { afterAll, bench, describe } from 'vitest'
import { compose, read } from '../../src/compose.ts'
import { FEELS } from '../../src/feels/feels.ts'
import { grooveChart } from '../support/groove-charts.ts'
import { type Grooved, type GrooveRow, grooveFaults, grooveRow } from '../support/groove-figures.ts'
import { grooveRequest, groovesOf } from '../support/grooves.ts'
import { progression } from '../support/progressions.ts'
import { type Figure, type Walked, walkingFaults, walkingFigures } from '../support/walking-figures.ts'

// `npm run bench -- music`: how the lines behave beside real ones. Figures are a floor: a line can meet every row and be dull. They are
// counted over progressions that no weight was tuned on.

const SEEDS = Array.from({ length: 60 }, (_, index) => 1000 + index)

const report: string[] = []
afterAll(() => {
  process.stdout.write(`\n${report.join('\n')}\n`)
})

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

/** The share of all points that each term asked, the dearest first. */
function shares(walked: readonly Walked[]): readonly string[] {
  const points = new Map<string, number>()
  for (const { line } of walked)
    for (const { rule, points: asked } of [...line.terms, ...line.notes.flatMap(({ terms }) => terms)])
      points.set(rule, (points.get(rule) ?? 0) + asked)
  const all = [...points.values()].reduce((sum, asked) => sum + asked, 0)
  const rows = [...points].sort((a, b) => b[1] - a[1]).slice(0, 16)
  return rows.map(
    ([rule, asked]) => `  ${rule.padEnd(40)} ${((100 * asked) / all).toFixed(1).padStart(6)} % of the points`,
  )
}

const once = { iterations: 1, time: 0, warmupIterations: 0, warmupTime: 0 }

describe('walking', () => {
  bench(
    'medium swing over 60 progressions, the best line and three variations',
    () => {
      const best: Walked[] = []
      const others: Walked[] = []
      for (const seed of SEEDS) {
        const { form, lines } = compose(progression(seed), { feel: 'swing-medium', variations: 4 })
        for (const [index, line] of lines.entries()) (index === 0 ? best : others).push({ form, line })
      }
      show('Walking, the best lines: as real lines', walkingFigures(best))
      show('Walking, the best lines: as a reader marks them', walkingFaults(best))
      report.push('', ...shares(best))
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
    },
    once,
  )
})
