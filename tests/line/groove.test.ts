import { describe, expect, it } from 'vitest'
import { scoreGroove } from '../support/groove-scorer.ts'
import { GROOVE_FEELS, grooveRequest, groovesOf } from '../support/grooves.ts'

const CHARTS = [
  'A7 | D7 | A7 | % | D7 | % | A7 | % | E7 | D7 | A7 | E7',
  'C7 | F7 | C7 | % | F7 | % | C7 | A7 | Dm7 | G7 | C7 A7 | Dm7 G7',
  'C | Am7 | F | G7 | C | Am7 | Dm7 | G7',
  'F | % | Gm7 | C7 | F | Dm7 | Gm7 | C7',
  'Dm7 | G7 | Cmaj7 | % | Fm7 | Bb7 | Em7 | A7',
  'Am7 | % | Bm7b5 | E7 | Am7 | D7 | Dm7 G7 | Cmaj7',
  'F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7/C | D7b9 | Gm7 | C7 | F7 D7 | Gm7 C7',
  'Em7 | N.C. | A7 / N.C. / | (3/4) Am7 | (2/4) D7 | (4/4) G | % | %',
  'Caug | Csus4 | C5 | Cm(maj7)',
]

describe('a groove', () => {
  for (const feel of GROOVE_FEELS) {
    for (const loop of [false, true]) {
      it(`in ${feel}${loop ? ', looped,' : ''} costs what its terms add up to and what the definitions say`, () => {
        for (const chart of CHARTS) {
          const request = grooveRequest(feel, chart, { loop })
          for (const line of groovesOf(request)) {
            const terms = [...line.terms, ...line.notes.flatMap((note) => note.terms)]
            expect(
              terms.reduce((sum, term) => sum + term.points, 0),
              chart,
            ).toBe(line.cost)
            expect(scoreGroove(request, line), chart).toBe(line.cost)
          }
        }
      })
    }
  }
})
