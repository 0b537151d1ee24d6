import { Worker } from 'node:worker_threads'
import loadHighs from 'highs'
import { build } from 'vite'
import { afterAll, bench, describe } from 'vitest'
import { compose } from '../../src/compose.ts'
import { WALKING_WEIGHTS } from '../../src/feels/walking-weights.ts'
import { patternOf } from '../../src/line/patterns.ts'
import { formatRule } from '../../src/line/rule-sentence.ts'
import { KnownWalks } from '../../src/line/walk/known.ts'
import type { WalkRequest } from '../../src/line/walk/problem.ts'
import { statesOfWalk, walk } from '../../src/line/walk/walk.ts'
import { instrumentOf } from '../../src/music/instruments.ts'
import { changes as formOf } from '../support/changes.ts'
import { randomFrom } from '../support/random.ts'
import { randomStated } from '../support/random-rule.ts'
import { edited, LONG_CHART } from '../support/walk-charts.ts'
import { programOf } from '../support/walk-program.ts'
import { cellsOf, walkRequest } from '../support/walking.ts'

// What a walking line must reach on a quiet machine, warm: every figure is printed beside its bar. 32 bars without a repetition, and
// nothing left behind by the line before unless it says so.

const median = (numbers: readonly number[]) =>
  [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)] ?? Number.NaN

const report: string[] = []
afterAll(() => {
  process.stdout.write(`\n${report.join('\n')}\n`)
})

const shown = (name: string, figure: number, bar: string, unit = 'ms') =>
  report.push(`${name.padEnd(64)} ${figure.toFixed(figure < 10 ? 1 : 0).padStart(7)} ${unit.padEnd(6)} bar ${bar}`)

/** Milliseconds of something, the median of so many times after some to warm up. */
function timed(work: (round: number) => unknown, rounds = 15, warm = 4): number {
  const times: number[] = []
  for (let round = 0; round < warm + rounds; round++) {
    const begun = performance.now()
    work(round)
    if (round >= warm) times.push(performance.now() - begun)
  }
  return median(times)
}

const TWELVE = [
  ...['walking-below', 'walking-above', 'walking-scale-step', 'walking-dominant', 'walking-scale-below', 'triad-up'],
  ...[
    'digital-one-two-three-five',
    'seventh-arpeggio-up',
    'walking-enclosure',
    'walking-double-below',
    'sixth-arpeggio',
  ],
  'triad-octave',
].map((id) => patternOf(id)!)

const form = formOf(LONG_CHART)
const default32 = walkRequest(form)

/** One figure a bench: the bench itself is a single round, since the figure is a median of its own. */
function figure(name: string, bar: string, work: () => number | Promise<number>, unit = 'ms') {
  bench(
    name,
    async () => {
      shown(name, await work(), bar, unit)
    },
    { iterations: 1, time: 0, warmupIterations: 0, warmupTime: 0 },
  )
}

describe('a walking line of 32 bars, four strings to fret 12', () => {
  const first = (request: WalkRequest) => timed(() => walk(request))
  figure('the cells of medium swing', '40', () => first(default32))
  figure('free eighths', '60', () => first(walkRequest(form, { cells: cellsOf('1 & 2 & 3 & 4 &') })))
  figure('twelve patterns and an approach', '80', () => first(walkRequest(form, { patterns: TWELVE })))
  figure('five strings', '80', () => first(walkRequest(form, { instrument: instrumentOf('five-string')! })))
  figure('frets to 24', '150', () => {
    const neck = { ...default32.instrument, frets: 24 }
    return first(walkRequest(form, { instrument: neck, frets: { from: 0, to: 24 } }))
  })
  figure('an edit in one bar, with what the line before left behind', '5', () => {
    const known = new KnownWalks()
    const requests = Array.from({ length: 64 }, (_, round) => walkRequest(formOf(edited(round))))
    return timed((round) => walk(requests[round]!, known), 60, 4)
  })
  figure('eight variations at 25 %', '400', () =>
    timed(() => walk({ ...default32, variations: 8, difference: 0.25 }), 5, 1),
  )
  figure('the hundred best', '250', () => timed(() => walk({ ...default32, variations: 100, difference: 0 }), 5, 1))
  figure('played as a loop', '-', () => timed(() => walk({ ...default32, loop: true }), 7, 2))
})

describe('a clash', () => {
  figure('of twenty rules on 32 bars: median of 30 sets that clash', '150', () => {
    const chart = `| ${LONG_CHART} |`
    const times: number[] = []
    for (let seed = 1; times.length < 30; seed++) {
      const random = randomFrom(seed)
      const rules = Array.from({ length: 20 }, () => formatRule({ ...randomStated(random, 32), strength: 'must' }))
      const begun = performance.now()
      const { clash } = compose(chart, { feel: 'swing-medium', rules })
      if (clash) times.push(performance.now() - begun)
    }
    return median(times)
  })
})

describe('the longer the form', () => {
  const long = (bars: number) =>
    walkRequest(
      formOf(
        Array(bars / 32)
          .fill(LONG_CHART)
          .join(' | '),
      ),
    )
  for (const bars of [32, 128, 512, 2048]) {
    figure(
      `states a slot, ${bars} bars`,
      'equal in 5 %',
      () => {
        const { slots, states } = statesOfWalk(long(bars))
        return states / slots
      },
      'states',
    )
    figure(`time a bar, ${bars} bars`, '-', () => timed(() => walk(long(bars)), 3, 1) / bars)
  }
})

describe('a fresh worker', () => {
  figure('from its beginning to its first line of 32 bars', '150', async () => {
    const bundle = await build({
      configFile: false,
      logLevel: 'silent',
      ssr: { noExternal: true },
      build: {
        ssr: 'src/compose.ts',
        target: 'node20',
        write: false,
        rolldownOptions: { output: { entryFileNames: 'compose.js', codeSplitting: false } },
      },
    })
    const [{ output }] = [bundle].flat() as unknown as readonly [{ output: readonly { code?: string }[] }]
    const code = output.map((chunk) => chunk.code ?? '').join('\n')
    const source = `${code}\n;import('node:worker_threads').then(({ parentPort }) => { const { lines } = compose(${JSON.stringify(`| ${LONG_CHART} |`)}, { feel: 'swing-medium' }); parentPort.postMessage(lines.length) })`
    const url = new URL(`data:text/javascript;base64,${Buffer.from(source).toString('base64')}`)
    const once = () =>
      new Promise<number>((done, failed) => {
        const begun = performance.now()
        const worker = new Worker(url)
        worker.once('message', () => {
          done(performance.now() - begun)
          void worker.terminate()
        })
        worker.once('error', failed)
      })
    const times: number[] = []
    for (let round = 0; round < 5; round++) times.push(await once())
    return median(times)
  })
})

describe('beside a general solver', () => {
  figure(
    'times faster than HiGHS, on the longest form that it solves in 10 s',
    '1000',
    async () => {
      const highs = await loadHighs()
      let ratio = 0
      for (const bars of [1, 2, 3, 4, 6, 8, 12, 16]) {
        const chart = LONG_CHART.split(' | ').slice(0, bars).join(' | ')
        const request = walkRequest(formOf(chart), {
          cells: cellsOf('1 2 3 4'),
          frets: { from: 0, to: 4 },
          table: WALKING_WEIGHTS,
        })
        const program = programOf(request)
        const begun = performance.now()
        const { Status } = highs.solve(program, { time_limit: 10 })
        const theirs = performance.now() - begun
        if (Status !== 'Optimal') break
        const ours = timed(() => walk(request), 9, 3)
        ratio = theirs / ours
        report.push(
          `  ${bars} bars, ${statesOfWalk(request).slots} notes, frets 0 to 4: HiGHS ${theirs.toFixed(0)} ms, ours ${ours.toFixed(2)} ms`,
        )
      }
      return ratio
    },
    'times',
  )
})
