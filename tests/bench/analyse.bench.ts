import { bench, describe } from 'vitest'
import { analyseTyped, wordsOf } from '../../src/analyse.ts'
import { compose } from '../../src/compose.ts'
import { analyse, type HeardNote } from '../../src/line/analyse/analyse.ts'
import { progression } from '../support/progressions.ts'

// A line of 512 notes read against its chart: at most 50 ms.

const NOTES = 512

/** Notes of lines one after the other would need a form as long, so a long chart is played until there are enough. */
function notesOver(chart: string, feel: string) {
  const composition = compose(`feel: ${feel}\n${chart}`, { choruses: 12 })
  const heard = composition.lines[0]!.notes.slice(0, NOTES).map(
    ({ slot, pitch }): HeardNote => ({ startTick: slot.startTick, ticks: slot.ticks, ghost: slot.ghost, pitch }),
  )
  if (heard.length < NOTES) throw new Error(`${feel} has ${heard.length} notes: expected ${NOTES}`)
  return { ...composition, heard }
}

describe('A line of 512 notes', () => {
  for (const feel of ['swing-medium', 'soul-eighths', 'funk-sixteenths']) {
    const { form, chart, instrument, feel: own, heard } = notesOver(progression(7), feel)
    const words = wordsOf(own)
    bench(`${feel}, read on its own form`, () => {
      analyse(heard, { form, key: chart.key, instrument, words })
    })
  }
  const bars = Array.from({ length: 128 }, (_, i) => (i % 2 === 0 ? 'D2 F2 A2 C3' : 'G1 B1 D2 Db2')).join(' | ')
  bench('typed, chart and all', () => {
    analyseTyped('| Dm7 | G7 | Dm7 | G7 |', bars)
  })
})
