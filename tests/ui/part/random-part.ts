import type { Part } from '../../../src/notation/part.ts'
import { randomFrom } from '../../support/random.ts'
import { printedRows } from './printed-rows.ts'

const SYMBOLS = [
  ...['F7', 'Cm7', 'C/E', 'Bbmaj7', 'F#m7b5', 'Bbmaj7#11/D', 'N.C.', 'B°7', 'A13', 'Ebm6/9', 'Dm', 'Gsus4', 'C#m7'],
  ...['Ab7#9', 'E'],
]
/** Rhythms of a bar, from one note to sixteen. */
const RHYTHMS = [
  ['w'],
  ['h', 'h'],
  ['q', 'q', 'q', 'q'],
  ['q.', 'e', 'q', 'q'],
  ['e', 'e', 'q', 'e', 'e', 'q'],
  ['e', 'e', 'e', 'e', 'e', 'e', 'e', 'e'],
  ['e.', 's', 'e', 'e', 's', 's', 'e', 'q'],
  ['s', 's', 's', 's', 'e', 's', 's', 'e.', 's', 's', 'e', 's'],
  ['s', 's', 's', 's', 's', 's', 's', 's', 's', 's', 's', 's', 's', 's', 's', 's'],
]
const KEYS = ['C', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'G', 'D', 'A', 'E', 'B', 'F#']
const ACCIDENTALS = ['', '', '', 'b', 'n', '#']

/** A part of eight bars that nobody would play: everything that spacing has to bear, always the same for a seed. */
export function randomPart(seed: number): Part {
  const random = randomFrom(seed)
  const pick = <Item>(items: readonly Item[]): Item => items[random(items.length)]!
  const strings = 4 + random(3)
  const bars = Array.from({ length: 8 }, () => {
    const rhythm = pick(RHYTHMS)
    const signs = rhythm.map((value) => {
      if (random(8) === 0) return `r${value}`
      const height = random(9 + 4 * strings) - 3 * (strings - 1)
      const ghost = random(7) === 0
      return `${height}${ghost ? '' : pick(ACCIDENTALS)}${value}${ghost ? 'x' : ''}`
    })
    const symbols = Array.from({ length: 1 + random(4) }, () => pick(SYMBOLS))
    return `${symbols.join(' ')}: ${signs.join(' ')}`
  })
  return printedRows(bars.join(' | '), { key: pick(KEYS), strings, sections: { 0: 'A' } })
}
