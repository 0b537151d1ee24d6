import { randomFrom } from './random.ts'

// Progressions of our own to measure lines over, drawn with the shares of 1,382 jazz charts (counted from a public collection): chords a bar, the motion
// of roots, sizes from the 10th to the 90th of 100. Qualities by what a root moves to: common practice, no source.

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B']

/** Semitones up from root to root, of a thousand changes of root. */
const MOTIONS: readonly (readonly [semitones: number, share: number])[] = [
  [5, 537],
  [11, 98],
  [7, 68],
  [9, 66],
  [2, 58],
  [1, 45],
  [6, 34],
  [10, 30],
  [4, 23],
  [3, 22],
  [8, 19],
]

/** Of a hundred bars, those with one chord, two, three. */
const CHORDS_A_BAR: readonly (readonly [chords: number, share: number])[] = [
  [1, 64],
  [2, 34],
  [3, 2],
]

/** What is written over a root: on the way a fifth down, and elsewhere. */
const ON_THE_WAY: readonly (readonly [suffix: string, share: number])[] = [
  ['m7', 42],
  ['7', 42],
  ['m7b5', 8],
  ['7b9', 8],
]
const ELSEWHERE: readonly (readonly [suffix: string, share: number])[] = [
  ['maj7', 40],
  ['7', 22],
  ['m7', 22],
  ['6', 8],
  ['m6', 4],
  ['dim7', 4],
]

/**
 * A chart of 12 to 40 bars in 4/4, sections of eight bars marked, the same for a seed.
 *
 * A chord may hold for a second bar: a third of the bars with one chord keep the one before.
 */
export function progression(seed: number): string {
  const random = randomFrom(seed)
  const draw = <T>(rows: readonly (readonly [T, number])[]): T => {
    let left = random(rows.reduce((sum, [, share]) => sum + share, 0))
    for (const [value, share] of rows) {
      if (left < share) return value
      left -= share
    }
    throw new Error('the shares are spent')
  }
  const bars = 4 * (3 + random(8))
  let root = random(12)
  let next = draw(MOTIONS)
  const chord = () => {
    const text = ROOTS[root]! + draw(next === 5 ? ON_THE_WAY : ELSEWHERE)
    root = (root + next) % 12
    next = draw(MOTIONS)
    return text
  }
  const sections: string[] = []
  for (let start = 0; start < bars; start += 8) {
    const row: string[] = []
    for (let bar = start; bar < Math.min(start + 8, bars); bar++) {
      const chords = draw(CHORDS_A_BAR)
      row.push(bar > start && chords === 1 && random(3) === 0 ? '%' : Array.from({ length: chords }, chord).join(' '))
    }
    sections.push(`[${'ABCDE'[start / 8]}]\n| ${row.join(' | ')} |`)
  }
  return sections.join('\n')
}
