import type { FormBar } from '../../chart/form.ts'
import type { Pitch } from '../../music/pitch.ts'
import type { GrooveLine } from './line.ts'

/** Semitones on the average from which on bars lie higher or lower. */
const HEIGHT = 2.5

/** Share of the bars from which on something is said of the whole. */
const THROUGHOUT = 0.7

/**
 * What makes a groove different from another, in a few words of a player: `another rhythm`, `another answer`, `another fill in bar 4`,
 * `bars 5–8 lie higher`. From plan and notes; empty where they have the same notes.
 *
 * @param bars  as played
 */
export function grooveDifferenceOf(line: GrooveLine, other: GrooveLine, bars: readonly FormBar[]): string {
  const differing = bars.filter(({ index }) => heard(line, index) !== heard(other, index))
  if (differing.length === 0) return ''
  const [a, b] = [line.plan.a, other.plan.a]
  if (a.row !== b.row) return a.cell !== b.cell ? 'another rhythm' : figureWords(line)
  const [answer, otherAnswer] = [line.plan.motif[1], other.plan.motif[1]]
  if (answer && answer.row !== otherAnswer?.row) return otherAnswer ? 'another answer' : 'with an answer'
  if (otherAnswer && !answer) return 'without an answer'
  if (line.plan.motif.some((pairing, part) => pairing.row !== other.plan.motif[part]?.row))
    return 'another turn of phrase'
  const height = meanIn(line, differing) - meanIn(other, differing)
  if (Math.abs(height) >= HEIGHT) return heightWords(differing, bars, height > 0 ? 'higher' : 'lower')
  const filled = differing.filter(({ index }) => line.plan.figures[index] !== other.plan.figures[index])
  if (filled.length > 0) return fillWords(line, other, filled)
  return differing.length >= THROUGHOUT * bars.length
    ? 'other notes throughout'
    : `other notes in ${barsText(differing)}`
}

/** What is struck in a bar: places and pitches. */
function heard({ notes }: GrooveLine, barIndex: number): string {
  return notes.flatMap(({ slot, pitch }) => (slot.barIndex === barIndex ? [`${slot.startTick}:${pitch}`] : [])).join()
}

function meanIn({ notes }: GrooveLine, bars: readonly FormBar[]): Pitch {
  const among = new Set(bars.map(({ index }) => index))
  const pitches = notes.flatMap(({ slot, pitch }) => (among.has(slot.barIndex) ? [pitch] : []))
  return pitches.length === 0 ? 0 : pitches.reduce((sum, pitch) => sum + pitch, 0) / pitches.length
}

/** The figure of a groove by what is heard most in it beside the root. */
function figureWords({ plan }: GrooveLine): string {
  const degrees = plan.a.pattern.tokens.flatMap((token) => (token.kind === 'degree' && !token.next ? [token] : []))
  const has = (number: number) => degrees.some((token) => (token.number - 1) % 7 === number - 1)
  const hasOctave = degrees.some((token) => token.number === 8 || (token.number === 1 && token.octave > 0))
  if (degrees.every((token) => token.number === 1 && token.octave === 0)) return 'on the root alone'
  if (hasOctave && !has(3) && !has(6) && !has(7)) return 'with the octave'
  if (has(3) && has(6)) return 'up the sixth chord'
  if (has(3)) return 'with the third'
  if (has(7)) return 'with the seventh'
  if (has(6)) return 'with the sixth'
  return has(5) ? 'root and fifth' : 'another figure'
}

function fillWords(line: GrooveLine, other: GrooveLine, filled: readonly FormBar[]): string {
  const [first] = filled
  const here = first && line.plan.figures[first.index]
  const there = first && other.plan.figures[first.index]
  if (filled.length > 1) return `other fills in ${barsText(filled)}`
  if (!here) return `no fill in ${barsText(filled)}`
  return there ? `another fill in ${barsText(filled)}` : `a fill in ${barsText(filled)}`
}

function heightWords(differing: readonly FormBar[], bars: readonly FormBar[], word: string): string {
  if (differing.length >= THROUGHOUT * bars.length) return `${word} throughout`
  return `${barsText(differing)} ${differing.length === 1 ? 'lies' : 'lie'} ${word}`
}

/** Bars in words: a stretch or two by their numbers, else how many. */
function barsText(differing: readonly FormBar[]): string {
  const stretches: FormBar[][] = []
  for (const bar of differing) {
    const stretch = stretches.at(-1)
    if (stretch?.at(-1)?.index === bar.index - 1) stretch.push(bar)
    else stretches.push([bar])
  }
  if (stretches.length > 2) return `${differing.length} bars`
  const told = stretches.map((stretch) => {
    const [first, last] = [stretch[0]!.number, stretch.at(-1)!.number]
    return first === last ? `${first}` : `${first}–${last}`
  })
  return `${differing.length === 1 ? 'bar' : 'bars'} ${told.join(' and ')}`
}
