import { feelOf } from '../../src/feels/feels.ts'
import { randomFrom } from './random.ts'

// Charts of our own to measure grooves over, drawn by seed in a feel's metre, in the harmony its players meet. No weight was tuned on them.

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B']

/** A chord of a key: semitones above its tonic, what is written after the root, and the chords that may follow, by place in the row. */
type Row = readonly (readonly [above: number, suffix: string, next: readonly number[]])[]

/** Keys to walk about in, the tonic first, the chord that turns back last. Common practice, no source. */
const MAJOR: Row = [
  [0, '', [1, 2, 3, 4, 5]],
  [9, 'm', [2, 3, 5]],
  [5, '', [0, 3, 5]],
  [2, 'm', [5]],
  [4, 'm', [1, 2]],
  [7, '', [0, 1, 2]],
]
const MINOR: Row = [
  [0, 'm', [1, 2, 3, 4, 5]],
  [8, '', [2, 3, 5]],
  [10, '', [0, 1]],
  [5, 'm', [0, 2, 5]],
  [3, '', [1, 2, 3]],
  [7, '7', [0, 1]],
]
const MAJOR_SEVENTHS: Row = [
  [0, 'maj7', [1, 2, 3, 4, 5]],
  [9, 'm7', [3]],
  [5, 'maj7', [0, 4, 5]],
  [2, 'm7', [5]],
  [4, 'm7', [1]],
  [7, '7', [0, 4]],
]
const MINOR_SEVENTHS: Row = [
  [0, 'm7', [1, 2, 3, 4]],
  [8, 'maj7', [2, 3, 5]],
  [10, '7', [4, 0]],
  [5, 'm7', [0, 2]],
  [3, 'maj7', [1, 3]],
  [2, 'm7b5', [6]],
  [7, '7', [0]],
]
const VAMP: Row = [
  [0, 'm7', [0, 1, 2]],
  [5, '7', [0, 2]],
  [10, '7', [0, 3]],
  [7, '7', [0]],
]

type Family = 'major' | 'minor' | 'major-sevenths' | 'minor-sevenths' | 'vamp' | 'blues' | 'minor-blues'

const ROWS: Readonly<Record<Exclude<Family, 'blues' | 'minor-blues'>, Row>> = {
  major: MAJOR,
  minor: MINOR,
  'major-sevenths': MAJOR_SEVENTHS,
  'minor-sevenths': MINOR_SEVENTHS,
  vamp: VAMP,
}

/** What is met in each feel; the charts of a feel take them in turn. */
const FAMILIES: Readonly<Record<string, readonly Family[]>> = {
  'rock-eighths': ['major', 'minor'],
  'half-time': ['minor', 'major'],
  'funk-sixteenths': ['vamp', 'minor-sevenths'],
  'soul-eighths': ['major', 'major-sevenths', 'minor-sevenths'],
  'disco-octaves': ['minor-sevenths', 'major-sevenths'],
  'hip-hop': ['minor-sevenths', 'vamp'],
  shuffle: ['blues', 'blues', 'minor-blues'],
  'half-time-shuffle': ['minor-sevenths', 'vamp'],
  'slow-blues': ['blues', 'blues', 'minor-blues'],
  'bossa-nova': ['major-sevenths', 'minor-sevenths'],
  samba: ['major-sevenths', 'minor-sevenths'],
  tumbao: ['minor', 'major'],
  'cha-cha-cha': ['minor', 'major'],
  'second-line': ['blues', 'major'],
  'one-drop': ['minor', 'major'],
  steppers: ['minor'],
  'country-two': ['major'],
  'gospel-twelve': ['major', 'major-sevenths'],
  'ballad-two': ['major-sevenths', 'minor-sevenths'],
  'six-eight': ['major', 'minor'],
  waltz: ['major', 'minor'],
  'five-four': ['minor-sevenths', 'vamp'],
  'seven-eight': ['minor', 'vamp'],
}

/**
 * A chart of 8 or 16 bars, a blues of 12, in a feel and its metre; the same for a seed.
 *
 * @throws RangeError  if the feel is not in the table
 */
export function grooveChart(feelId: string, seed: number): string {
  const feel = feelOf(feelId)
  const families = FAMILIES[feelId]
  if (!feel || !families) throw new RangeError(`no charts for ${feelId}`)
  const random = randomFrom(seed * 31 + 7)
  const family = families[seed % families.length]!
  const tonic = random(12)
  const bars =
    family === 'blues' || family === 'minor-blues' ? blues(family, tonic, random) : walked(ROWS[family], tonic, random)
  const sections: string[] = []
  const length = bars.length === 12 ? 12 : 8
  for (let start = 0; start < bars.length; start += length)
    sections.push(`[${'AB'[start / length]}]\n| ${bars.slice(start, start + length).join(' | ')} |`)
  return `time: ${feel.metre}\nfeel: ${feelId}\n${sections.join('\n')}`
}

type Random = (limit: number) => number

/** Bars about a key: a third hold their chord, a sixth have two; each eighth one turns back. */
function walked(row: Row, tonic: number, random: Random): readonly string[] {
  const name = (at: number) => ROOTS[(tonic + row[at]![0]) % 12]! + row[at]![1]
  const bars: string[] = []
  let at = 0
  const length = random(3) === 0 ? 16 : 8
  for (let bar = 0; bar < length; bar++) {
    const next = row[at]![2][random(row[at]![2].length)]!
    if (bar % 8 === 0) at = 0
    else if (bar % 8 === 7) at = row.length - 1
    else if (random(3) === 0) {
      bars.push('%')
      continue
    } else at = next
    const then = row[at]![2][random(row[at]![2].length)]!
    if (bar % 8 !== 0 && bar % 8 !== 7 && then !== at && random(6) === 0) {
      bars.push(`${name(at)} ${name(then)}`)
      at = then
    } else bars.push(name(at))
  }
  return bars
}

/** Twelve bars: with or without the quick change, a turn back at the end or none. */
function blues(family: 'blues' | 'minor-blues', tonic: number, random: Random): readonly string[] {
  const minor = family === 'minor-blues'
  const name = (above: number, suffix: string) => ROOTS[(tonic + above) % 12]! + suffix
  const one = name(0, minor ? 'm7' : '7')
  const four = name(5, minor ? 'm7' : '7')
  const five = name(7, '7')
  const second = random(2) === 0 ? four : '%'
  const ninth = random(2) === 0 ? [five, four] : minor ? [name(8, '7'), five] : [name(2, 'm7'), five]
  const turn = random(3) === 0 ? [`${one} ${four}`, `${one} ${five}`] : [one, five]
  return [one, second, one, '%', four, '%', one, random(3) === 0 ? name(9, '7') : '%', ...ninth, ...turn]
}
