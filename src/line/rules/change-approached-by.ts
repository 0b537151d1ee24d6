import type { Rule, Sounding } from '../rule.ts'
import { anyOf } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'
import { isInScale } from '../tone.ts'

/** Where a note lies against the note arrived at: semitones above it, or a step of the scale that sounds. */
type Step = number | 'scale-below' | 'scale-above'

/** A way into a change: one note or two, or the note itself before its time. */
type Way = readonly [Step] | readonly [Step, Step] | 'anticipated'

const CHROMATIC_BELOW: Way = [-2, -1]
const CHROMATIC_ABOVE: Way = [2, 1]
const FROM_ABOVE: Way = ['scale-above', -1]
const FROM_BELOW: Way = [-1, 'scale-above']
const BOTH_CHROMATIC: Way = [1, -1]

/**
 * The ways as a player calls them. Source: handbooks of walking bass name all of these; the wording is common practice, no
 * source. A scale step is one or two semitones, from a note of the chord's scale that sounds before the change.
 */
const WAYS = {
  'half-step': ['a half-step', [[-1], [1]]],
  'half-step-below': ['a half-step below', [[-1]]],
  'half-step-above': ['a half-step above', [[1]]],
  'scale-step': ['a scale step', [['scale-below'], ['scale-above']]],
  'scale-step-below': ['a scale step below', [['scale-below']]],
  'scale-step-above': ['a scale step above', [['scale-above']]],
  'whole-step': ['a whole step', [[-2], [2]]],
  'whole-step-below': ['a whole step below', [[-2]]],
  'whole-step-above': ['a whole step above', [[2]]],
  dominant: ['the dominant', [[7], [-5]]],
  'fifth-above': ['a fifth above', [[7]]],
  'fourth-below': ['a fourth below', [[-5]]],
  'double-chromatic': ['a double chromatic', [CHROMATIC_BELOW, CHROMATIC_ABOVE]],
  'double-chromatic-below': ['a double chromatic from below', [CHROMATIC_BELOW]],
  'double-chromatic-above': ['a double chromatic from above', [CHROMATIC_ABOVE]],
  enclosure: ['an enclosure', [FROM_ABOVE, FROM_BELOW, BOTH_CHROMATIC]],
  'enclosure-above-below': ['an enclosure from above', [FROM_ABOVE]],
  'enclosure-below-above': ['an enclosure from below', [FROM_BELOW]],
  'enclosure-chromatic': ['a chromatic enclosure', [BOTH_CHROMATIC]],
  'dominant-and-leading': ['the dominant and the leading note', [[7, -1]]],
  anticipation: ['an anticipation', ['anticipated']],
} as const satisfies Readonly<Record<string, readonly [words: string, ways: readonly Way[]]>>

/** A way into a change, or several of a kind. */
export type Approach = keyof typeof WAYS

/** All of them. */
export const APPROACHES = Object.keys(WAYS) as readonly Approach[]

const WORDS = Object.fromEntries(APPROACHES.map((id) => [id, WAYS[id][0]])) as Readonly<Record<Approach, string>>

const WAY = anyOf('a way into a change, as in a half-step below or an enclosure', 'half-step-below', WORDS)

const DISTANCES: Readonly<Record<'scale-below' | 'scale-above', readonly number[]>> = {
  'scale-below': [-1, -2],
  'scale-above': [1, 2],
}

/** The distances from the target that a step may have. */
const distancesOf = (step: Step): readonly number[] => (typeof step === 'number' ? [step] : DISTANCES[step])

/** True if a note lies as a step says. */
function lies(step: Step, distance: number, inScale: boolean): boolean {
  return distancesOf(step).includes(distance) && (typeof step === 'number' || inScale)
}

/** What the last note but one has to be remembered by: how far on the note after it lies, and whether its scale has it. */
interface Before {
  readonly move: number
  readonly inScale: boolean
}

/**
 * The last note before a change, or the last two, lead in by one of the ways asked for. An anticipation is pushed into its chord,
 * or is the pitch class of what is arrived at just before it.
 */
export const CHANGE_APPROACHED_BY: Rule<readonly Approach[]> = {
  id: 'change-approached-by',
  phrasings: [
    phrasing(
      ['approach|approaches each|every|the change|changes|chord by|with|from', WAY],
      (ways) => ways,
      (ways) => [ways],
    ),
    phrasing(
      ['approach|approaches changes|chords by|with|from', WAY],
      (ways) => ways,
      () => undefined,
    ),
  ],
  defaultWeight: 5,
  test: (approaches) => {
    const ways = approaches.flatMap((approach): readonly Way[] => WAYS[approach][1])
    const arrivesBy = (before: Before | undefined, from: Sounding, to: Sounding): boolean => {
      if (!to.arrives) return true
      const last = from.pitch - to.pitch
      return ways.some((way) => {
        if (way === 'anticipated') return to.slot.pushed || last % 12 === 0
        const [first, second] = way
        if (second === undefined) return lies(first, last, isInScale(from))
        return before && lies(second, last, isInScale(from)) && lies(first, last - before.move, before.inScale)
      })
    }
    const twos = ways.filter((way) => way !== 'anticipated' && way.length === 2) as readonly (readonly [Step, Step])[]
    if (twos.length === 0) return { looksAt: 'pair', allows: (from, to) => arrivesBy(undefined, from, to) }
    // Two notes: state 0 remembers nothing of use, each other one a move into the last note before a change that a way has.
    const moves = new Set(
      twos.flatMap(([first, second]) => distancesOf(second).flatMap((y) => distancesOf(first).map((x) => y - x))),
    )
    const memories = [...moves].flatMap((move): Before[] => [
      { move, inScale: false },
      { move, inScale: true },
    ])
    return {
      looksAt: 'memory',
      states: 1 + memories.length,
      step: (state, from, to) => {
        const kept = arrivesBy(memories[state - 1], from, to)
        if (!to.leads) return { state: 0, kept }
        const move = to.pitch - from.pitch
        const inScale = isInScale(from)
        return {
          state: 1 + memories.findIndex((memory) => memory.move === move && memory.inScale === inScale),
          kept,
        }
      },
    }
  },
  keeps: [
    { value: ['half-step-below'], changes: 'Dm7 | G7', line: 'D2 F2 A2 Gb2 | G2 B2 D2 F2' },
    { value: ['half-step-above'], changes: 'Dm7 | G7', line: 'D2 F2 A2 Ab2 | G2 B2 D2 F2' },
    { value: ['scale-step-above'], changes: 'Dm7 | G7', line: 'D2 F2 C3 A2 | G2 B2 D2 F2' },
    { value: ['scale-step-below'], changes: 'Dm7 | G7', line: 'D2 F2 A2 F2 | G2 B2 D2 F2' },
    { value: ['whole-step-below'], changes: 'G7 | C', line: 'G2 F2 D2 Bb1 | C2 E2 G2 E2' },
    { value: ['whole-step-above'], changes: 'G7 | C', line: 'G2 F2 B1 D2 | C2 E2 G2 E2' },
    { value: ['fifth-above'], changes: 'Dm7 | G7', line: 'A2 F2 C3 D3 | G2 B2 D2 F2' },
    { value: ['fourth-below'], changes: 'Dm7 | G7', line: 'A2 F2 C2 D2 | G2 B2 D2 F2' },
    { value: ['dominant', 'half-step-above'], changes: 'Dm7 | G7', line: 'D2 F2 A2 Ab2 | G2 B2 D2 F2' },
    { value: ['double-chromatic-below'], changes: 'Dm7 | G7', line: 'D2 A2 F2 Gb2 | G2 B2 D2 F2' },
    { value: ['double-chromatic-above'], changes: 'Dm7 | G7', line: 'D2 F2 A2 Ab2 | G2 B2 D2 F2' },
    { value: ['enclosure-above-below'], changes: 'Dm7 | G7', line: 'D2 F2 A2 Gb2 | G2 B2 D2 F2' },
    { value: ['enclosure-below-above'], changes: 'G7 | C', line: 'G2 F2 B1 D2 | C2 E2 G2 E2' },
    { value: ['enclosure-chromatic'], changes: 'G7 | C', line: 'G2 F2 Db2 B1 | C2 E2 G2 E2' },
    { value: ['dominant-and-leading'], changes: 'G7 | C', line: 'D2 F2 G2 B1 | C2 E2 G2 E2' },
    { value: ['anticipation'], changes: 'G7 | C', line: 'G2 F2 D2 C2 | C2 E2 G2 E2' },
    { value: ['anticipation'], changes: 'G7 | C', line: 'G2 F2 D2 C2', cells: ['1 2 3 4&~', '~1'] },
  ],
  breaks: [
    { value: ['half-step-below'], changes: 'Dm7 | G7', line: 'D2 F2 A2 Ab2 | G2 B2 D2 F2' },
    { value: ['half-step-above'], changes: 'Dm7 | G7', line: 'D2 F2 A2 Gb2 | G2 B2 D2 F2' },
    { value: ['scale-step'], changes: 'Dm7 | G7', line: 'D2 F2 A2 Ab2 | G2 B2 D2 F2' },
    { value: ['whole-step'], changes: 'Dm7 | G7', line: 'D2 F2 A2 Ab2 | G2 B2 D2 F2' },
    { value: ['fifth-above'], changes: 'Dm7 | G7', line: 'A2 F2 C2 D2 | G2 B2 D2 F2' },
    { value: ['dominant'], changes: 'Dm7 | G7', line: 'D2 F2 C3 A2 | G2 B2 D2 F2' },
    { value: ['double-chromatic-below'], changes: 'Dm7 | G7', line: 'D2 F2 A2 Gb2 | G2 B2 D2 F2' },
    { value: ['double-chromatic'], changes: 'Dm7 | G7', line: 'D2 A2 C3 Ab2 | G2 B2 D2 F2' },
    { value: ['enclosure-above-below'], changes: 'Dm7 | G7', line: 'D2 A2 Ab2 Gb2 | G2 B2 D2 F2' },
    { value: ['enclosure-chromatic'], changes: 'G7 | C', line: 'G2 F2 D2 B1 | C2 E2 G2 E2' },
    { value: ['enclosure'], changes: 'G7 | C', line: 'G2 B1 F2 B1 | C2 E2 G2 E2' },
    { value: ['dominant-and-leading'], changes: 'G7 | C', line: 'D2 F2 G1 B1 | C2 E2 G2 E2' },
    { value: ['anticipation'], changes: 'G7 | C', line: 'G2 F2 D2 B1 | C2 E2 G2 E2' },
  ],
}
