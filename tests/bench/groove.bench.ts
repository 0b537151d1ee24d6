import { bench, describe } from 'vitest'
import { FEELS } from '../../src/feels/feels.ts'
import { startGrooves } from '../../src/line/groove.ts'
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

describe('a groove of a period of two bars, 32 bars', () => {
  for (const [feel, chart] of Object.entries(CHARTS)) {
    const rules = [ruleOf('motif', { looksAt: 'motif', period: 2, strictness: 'strict' }, 'must')]
    const request = grooveRequest(feel, chart, { loop: true, rules })
    // Must reach: 500 ms for twelve cells and twelve patterns.
    bench(`proven, ${feel}`, () => {
      const search = startGrooves(request)
      while (!search.advance(100).done);
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
