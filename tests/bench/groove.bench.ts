import { bench, describe } from 'vitest'
import { startGrooves } from '../../src/line/groove.ts'
import { changes } from '../support/changes.ts'
import { grooveRequest } from '../support/grooves.ts'

// Must reach: 32 bars, the first good line in 100 ms and its proof within a second after, warm. The cost of a bar stays the same from 32
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
