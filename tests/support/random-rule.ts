import { PATTERNS } from '../../src/line/patterns.ts'
import type { TargetDegree } from '../../src/line/rule-blank.ts'
import type { Stated, Strength } from '../../src/line/rule-sentence.ts'
import type { Where } from '../../src/line/rule-where.ts'
import { APPROACHES } from '../../src/line/rules/change-approached-by.ts'
import { RULES } from '../../src/line/rules.ts'
import { parseNoteName } from '../../src/music/note-name.ts'
import { parseCell, printCell } from '../../src/rhythm/cell.ts'

export type Random = (limit: number) => number

export function pick<Item>(random: Random, items: readonly Item[]): Item {
  return items[random(items.length)]!
}

function some<Item>(random: Random, items: readonly Item[], most: number): readonly Item[] {
  return [...new Set(Array.from({ length: 1 + random(most) }, () => pick(random, items)))]
}

const DEGREES: readonly TargetDegree[] = [
  ...[1, 2, 3, 4, 5, 6, 7, 9, 11, 13].map((number) => ({ number, alter: undefined })),
  ...[2, 3, 5, 6, 7, 9, 11, 13].flatMap((number) => [-1, 1].map((alter) => ({ number, alter }))),
]

/** Degrees, but not the root alone: rules about the root say that. */
function degrees(random: Random): readonly TargetDegree[] {
  const chosen = some(random, DEGREES, 3)
  return chosen.length === 1 && chosen[0]!.number === 1 ? degrees(random) : chosen
}

const CELLS = ['1 2 3 4', '1 3', '1 2& 4', '1 & 2 & 3 & 4 &', '1 (2) 3 4x', '1 2 3 4&~', '~1 2 3', '1 2 (3&) 4']
const cell = (notation: string) => {
  const reading = parseCell(notation)
  if (!reading.ok) throw new Error(reading.message)
  return reading.cell
}

function keptBar(random: Random): unknown {
  const chosen = cell(pick(random, CELLS))
  const struck = chosen.onsets.filter((onset) => !onset.ghost && !onset.continues)
  return { pitches: struck.map(() => 28 + random(28)), notation: printCell(chosen) }
}

/** Two numbers in order. */
function range(random: Random, lowest: number, widest: number): readonly [number, number] {
  const from = lowest + random(widest)
  return [from, from + random(widest)]
}

const pattern = (random: Random): string => pick(random, [...PATTERNS.map(({ id }) => id), '1 3 5 6', '1 b7 v5'])

/** A value of chance for each rule that has one. */
const VALUES: Readonly<Record<string, (random: Random) => unknown>> = {
  'inside-range': (random) => {
    const [lowest, highest] = range(random, 24, 20)
    return { lowest, highest }
  },
  'region-of-the-neck': (random) => pick(random, ['low', 'high']),
  'between-frets': (random) => {
    const [from, to] = range(random, 0, 12)
    return { from, to }
  },
  'no-leap-over': (random) => random(20),
  'at-most-in-a-row': (random) => 1 + random(12),
  'change-on-degree': degrees,
  'bar-on-degree': degrees,
  'chord-sounds-degree': (random) => some(random, DEGREES, 3),
  'phrase-on-degree': degrees,
  'change-approached-by': (random) => some(random, APPROACHES, 3),
  'contour-followed': (random) => {
    const [lowest, highest] = random(3) === 0 ? [31, 43] : range(random, 28, 14)
    return {
      shape: pick(random, ['rise', 'fall', 'arch', 'valley']),
      over: pick(random, ['phrase', 'bars', 'section', 'choruses']),
      lowest,
      highest,
      within: random(2) === 0 ? 5 : 1 + random(24),
    }
  },
  'pedal-held': (random) => ({
    on: pick<unknown>(random, ['root', 'fifth', ...['G', 'D', 'Ab', 'C'].map((name) => parseNoteName(name))]),
    octaves: random(3) === 0,
  }),
  'pattern-so-many-times': (random) => {
    const count = 1 + random(6)
    const [atLeast, atMost] = pick(random, [
      [0, 0],
      [count, undefined],
      [0, count],
      [count, count],
    ])
    return { pattern: pattern(random), atLeast, atMost }
  },
  'pattern-throughout': pattern,
  'line-at-repeats': (random) => ({ anew: random(2) === 0 }),
  'motif-throughout': (random) => {
    const strictness = pick(random, ['strict', 'with-fills', 'free'])
    return { period: strictness === 'free' ? undefined : pick(random, [undefined, 1, 2, 4]), strictness }
  },
  'first-note-on': (random) => (random(2) === 0 ? { pitch: 28 + random(28) } : { degrees: some(random, DEGREES, 2) }),
  'last-note-on': (random) => (random(2) === 0 ? { pitch: 28 + random(28) } : { degrees: some(random, DEGREES, 2) }),
  'ends-with': (random) => pick(random, ['held', 'fifth', 'up', 'down', 'stop']),
  'opens-with': (random) => pick(random, ['pedal', 'sparse']),
  'notes-a-bar': (random) =>
    pick<unknown>(random, [
      { atMost: 1 + random(6) },
      { atLeast: 1 + random(6) },
      { atMost: 'beats' },
      { atLeast: 'more-than-beats' },
    ]),
  'felt-in': (random) => pick(random, ['two', 'four']),
  'keeps-bar': keptBar,
}

function where(random: Random, bars: number): Where | undefined {
  const some = barsOf(random, bars)
  if (random(6) > 0) return some
  const first = 1 + random(2)
  const choruses = pick(random, ['last', { first, last: first }, { first, last: first + 1 }] as const)
  return { ...(some ?? { kind: 'whole' }), choruses }
}

function barsOf(random: Random, bars: number): Where | undefined {
  switch (random(4)) {
    case 0: {
      const first = 1 + random(bars)
      return { kind: 'bars', ranges: [{ first, last: Math.min(bars, first + random(4)) }] }
    }
    case 1: {
      const first = 1 + random(bars)
      const second = first + 2 + random(4)
      return {
        kind: 'bars',
        ranges: [
          { first, last: first },
          { first: second, last: second + random(2) },
        ],
      }
    }
    case 2:
      return random(3) === 0 ? { kind: 'section', name: pick(random, ['A', 'B', 'Bridge']) } : undefined
    default:
      return undefined
  }
}

/** A rule of chance, in or out of the reach of a form of so many bars. */
export function randomStated(random: Random, bars: number): Stated {
  const rule = pick(random, RULES)
  const strength: Strength = pick(random, ['must', 'must', 'must', 'strongly', 'gently', 'off', 1 + random(20)])
  return { rule, value: VALUES[rule.id]?.(random), where: where(random, bars), strength }
}
