import { bench, describe } from 'vitest'
import { unfold } from '../../src/chart/form.ts'
import { LONGEST_TEXT, parseChart } from '../../src/chart/parse.ts'

/** 88 written bars with sections, repeats, endings and two chords in every other bar. */
const TEXT = `title: Eighty-Eight\nkey: Eb\n${Array.from(
  { length: 11 },
  (_, i) => `[${String.fromCharCode(65 + i)}]
|: Ebmaj7 C7b9 | Fm7 | Bb7sus4 Bb7 | Gm7b5 |
| Abmaj7 | % |1. C7alt :|2. Fm9 Bb13 ||`,
).join('\n')}`

/** As long as a chart may be. */
const LONGEST = TEXT.repeat(Math.floor(LONGEST_TEXT / TEXT.length))

describe('a chart', () => {
  bench('of 88 bars is read and unfolded', () => {
    unfold(parseChart(TEXT).chart)
  })

  bench('as long as one may be is read and unfolded', () => {
    unfold(parseChart(LONGEST).chart)
  })
})
