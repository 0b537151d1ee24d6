import { bench, describe } from 'vitest'
import { statesOfWalk, walk } from '../../src/line/walk.ts'
import { changes as formOf } from '../support/changes.ts'
import { walkRequest } from '../support/walking.ts'

// Must reach: 32 bars in 50 ms, warm, on four strings to fret 12; work per slot equal from 32 to 512 bars.
const bars = (count: number) =>
  Array(count / 8)
    .fill('Dm7 | G7 | Cmaj7 | % | Cm7 | F7 | Bbmaj7 | A7b9')
    .join(' | ')

describe('a walking line', () => {
  for (const count of [32, 128, 512]) {
    const request = walkRequest(formOf(bars(count)))
    const { slots, states } = statesOfWalk(request)
    bench(`${count} bars, ${slots} slots, ${(states / slots).toFixed(0)} states a slot`, () => {
      walk(request)
    })
  }
  const blues = walkRequest(formOf('Bb7 | Eb7 | Bb7 | % | Eb7 | % | Bb7 | G7 | Cm7 | F7 | Bb7 G7 | Cm7 F7'), {
    variations: 4,
  })
  bench('four lines over a blues', () => {
    walk(blues)
  })
  bench('a blues that is looped', () => {
    walk({ ...blues, variations: 1, loop: true })
  })
})
