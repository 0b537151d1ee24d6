import { bench, describe } from 'vitest'
import { FEELS } from '../../src/feels/feels.ts'
import { GrooveMortality } from '../../src/line/groove/dies.ts'
import { type GrooveRequest, startGrooves } from '../../src/line/groove/groove.ts'
import { KnownGrooves } from '../../src/line/groove/known.ts'
import { PATTERNS } from '../../src/line/patterns.ts'
import type { RuleInForce } from '../../src/line/rule.ts'
import { CELLS } from '../../src/rhythm/cells.ts'
import { changes } from '../support/changes.ts'
import { randomRule } from '../support/groove-random-rules.ts'
import { ruleOf } from '../support/groove-rules.ts'
import { grooveRequest } from '../support/grooves.ts'
import { randomFrom } from '../support/random.ts'

// Must reach: 32 bars of any groove feel, the first good line in 100 ms and its proof within a second after, warm. The cost of a bar stays the same from 32
// to 512 bars.
const CHARTS = {
  shuffle:
    'C7 | F7 | C7 | % | F7 | % | C7 | A7 | Dm7 | G7 | C7 A7 | Dm7 G7 | C7 | F7 | C7 | % | F7 | % | C7 | A7 | Dm7 | G7 | C7 A7 | Dm7 G7 | F7 | % | C7 | % | D7 | % | G7 | %',
  'soul-eighths':
    'C | Am7 | F | G7 | C | Am7 | Dm7 | G7 | Em7 | A7 | Dm7 | G7 | C | Am7 | Fmaj7 | G7 | F | % | Em7 | Am7 | Dm7 | G7 | C | C7 | F | Fm | C | A7 | Dm7 | G7 | C | G7',
  'bossa-nova':
    'Dm7 | G7 | Cmaj7 | % | Fm7 | Bb7 | Em7 | A7 | Dm7 | G7 | Cmaj7 | % | Fm7 | Bb7 | Em7 | A7 | Am7 | D7 | Gmaj7 | % | Gm7 | C7 | Fmaj7 | % | Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | A7',
}

for (const [feel, chart] of Object.entries(CHARTS)) {
  describe(`a groove of 32 bars, ${feel}`, () => {
    const request = grooveRequest(feel, chart)
    bench('its first good line', () => {
      startGrooves(request).advance(1)
    })
    bench('proven', () => {
      const search = startGrooves(request)
      while (!search.advance(100).done);
    })
  })
}

describe('a groove of 32 bars in every feel', () => {
  for (const feel of FEELS) {
    if (feel.line.kind !== 'groove') continue
    const form = changes(`${feel.metre === '4/4' ? '' : `(${feel.metre}) `}${CHARTS['soul-eighths']}`)
    const request = grooveRequest(feel.id, form, { loop: true })
    bench(`${feel.id}, its first good line`, () => {
      startGrooves(request).advance(1)
    })
    bench(`${feel.id}, proven`, () => {
      const search = startGrooves(request)
      while (!search.advance(100).done);
    })
  }
})

describe('a groove, the longer the form', () => {
  for (const bars of [32, 128, 512]) {
    const row = Array(bars / 8)
      .fill('Dm7 | G7 | Cmaj7 | % | Fm7 | Bb7 | Em7 | A7')
      .join(' | ')
    const request = grooveRequest('bossa-nova', changes(row))
    bench(`bossa-nova, ${bars} bars`, () => {
      const search = startGrooves(request)
      while (!search.advance(100).done);
    })
  }
})

describe('several grooves of 32 bars', () => {
  for (const [feel, chart] of Object.entries(CHARTS)) {
    const request = grooveRequest(feel, chart, { loop: true, variations: 8, difference: 0.25 })
    // Aim: 400 ms after the first is proven.
    bench(`eight that differ in a quarter, ${feel}`, () => {
      const search = startGrooves(request)
      while (!search.advance(100).done);
    })
  }
})

/** A feel's vocabulary, filled up to twelve cells of a bar and twelve patterns. */
function twelveByTwelve(request: GrooveRequest): GrooveRequest {
  const { metre } = request
  const others = CELLS.filter(({ id, bars, upper, lower }) => {
    return bars === 1 && upper === metre.upper && lower === metre.lower && !request.cells.some((cell) => cell.id === id)
  })
  const cells = [...request.cells, ...others.map((cell) => ({ id: cell.id, cell, weight: 1 }))].slice(0, 12)
  const own = new Set(request.patterns.map(({ pattern }) => pattern))
  const further = PATTERNS.filter((pattern) => !own.has(pattern)).map((pattern) => ({ pattern, weight: 1 }))
  return { ...request, cells, patterns: [...request.patterns, ...further].slice(0, 12) }
}

describe('a groove of a period of two bars, 32 bars', () => {
  for (const [feel, chart] of Object.entries(CHARTS)) {
    for (const strictness of ['strict', 'with-fills'] as const) {
      const rules = [ruleOf('motif', { looksAt: 'motif', period: 2, strictness }, 'must')]
      const request = grooveRequest(feel, chart, { loop: true, rules })
      const asked = { 'its own vocabulary': request, 'twelve cells and twelve patterns': twelveByTwelve(request) }
      // Must reach: 500 ms for twelve cells and twelve patterns.
      for (const [vocabulary, all] of Object.entries(asked))
        bench(`proven, ${feel}, ${strictness}, ${vocabulary}`, () => {
          const search = startGrooves(all)
          while (!search.advance(100).done);
        })
    }
  }
})

describe('a groove of 32 bars after an edit in one of them', () => {
  for (const [feel, chart] of Object.entries(CHARTS)) {
    const known = new KnownGrooves()
    const row = chart.split(' | ')
    let edit = 0
    const edited = () => {
      const bar = (7 * edit) % row.length
      const chord = ['Am7', 'Ebmaj7', 'F#m7b5', 'Ab7', 'Bm7'][edit++ % 5]!
      return grooveRequest(feel, row.with(bar, chord).join(' | '), { loop: true })
    }
    bench(`its first good line, ${feel}`, () => {
      startGrooves(edited(), known).advance(1)
    })
    bench(`proven, ${feel}`, () => {
      const search = startGrooves(edited(), known)
      while (!search.advance(100).done);
    })
  }
})

describe('whether there is a groove of 16 bars under 20 random musts', () => {
  for (const feel of ['shuffle', 'soul-eighths']) {
    const base = grooveRequest(feel, CHARTS[feel as 'shuffle'].split(' | ').slice(0, 16).join(' | '))
    const sets = Array.from({ length: 10 }, (_, seed) => {
      const random = randomFrom(seed + 1)
      return Array.from(
        { length: 20 },
        (_, index): RuleInForce => ({ ...randomRule(random, base, index), strength: 'must' }),
      )
    })
    // A clash asks some thirty times.
    bench(`ten sets, ${feel}`, () => {
      const mortality = new GrooveMortality(base)
      for (const rules of sets) mortality.dies(rules)
    })
  }
})

describe('a groove of 16 bars under 20 random rules', () => {
  // Must reach: a first line, or the verdict that there is none, within about 150 ms.
  for (const seed of [3, 7, 14, 18]) {
    const random = randomFrom(seed)
    const base = grooveRequest('shuffle', `${CHARTS.shuffle.split(' | ').slice(0, 16).join(' | ')}`)
    const rules = Array.from({ length: 20 }, (_, index) => randomRule(random, base, index))
    bench(`first line or verdict, seed ${seed}`, () => {
      const search = startGrooves({ ...base, rules })
      for (let progress = search.advance(1); !progress.best && !progress.done; ) progress = search.advance(1)
    })
  }
})
