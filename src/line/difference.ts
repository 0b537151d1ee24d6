import type { FormBar } from '../chart/form.ts'
import type { Line, LineNote } from './line.ts'

/** Share of a line's bars that differ from which on it differs throughout. */
const THROUGHOUT = 0.7
/** What has to differ before it is worth a word: share of onsets, of notes in number, of moves; semitones on the whole. */
const TELLING = { onsets: 0.25, notes: 0.1, moves: 0.08, height: 2.5 }

/**
 * What makes a line different from another, in a few words of a player: `higher in bars 5–8`, `more leaps throughout`. Empty where
 * they have the same notes.
 *
 * @param bars  as played
 */
export function differenceOf(line: Line, other: Line, bars: readonly FormBar[]): string {
  const differing = bars.filter(({ index }) => heard(line, index).join() !== heard(other, index).join())
  if (differing.length === 0) return ''
  const among = new Set(differing.map(({ index }) => index))
  const here = line.notes.filter((note) => isStruck(note) && among.has(note.slot.barIndex))
  const there = other.notes.filter((note) => isStruck(note) && among.has(note.slot.barIndex))
  return `${what(here, there)} ${where(differing, bars)}`
}

const isStruck = (note: LineNote): boolean => !note.slot.ghost

/** What is struck in a bar: places and pitches. */
function heard({ notes }: Line, barIndex: number): readonly string[] {
  return notes.flatMap((note) =>
    isStruck(note) && note.slot.barIndex === barIndex ? [`${note.slot.startTick}:${note.pitch}`] : [],
  )
}

function what(here: readonly LineNote[], there: readonly LineNote[]): string {
  if (here.length === 0) return 'silent'
  if (there.length === 0) return 'playing'
  const more = here.length / there.length - 1
  if (more > TELLING.notes) return 'more notes'
  if (more < -TELLING.notes) return 'fewer notes'
  const height = meanPitch(here) - meanPitch(there)
  if (height > TELLING.height) return 'higher'
  if (height < -TELLING.height) return 'lower'
  const onsets = new Set(there.map(({ slot }) => slot.startTick))
  const moved = here.filter(({ slot }) => !onsets.has(slot.startTick)).length
  if (moved / here.length > TELLING.onsets) return 'another rhythm'
  const leaps = shareOfMoves(here, 5, 127) - shareOfMoves(there, 5, 127)
  const steps = shareOfMoves(here, 1, 2) - shareOfMoves(there, 1, 2)
  if (Math.max(leaps, steps) > TELLING.moves) return leaps > steps ? 'more leaps' : 'more steps'
  return height > 0.5 ? 'a little higher' : height < -0.5 ? 'a little lower' : 'other notes'
}

function meanPitch(notes: readonly LineNote[]): number {
  return notes.reduce((sum, { pitch }) => sum + pitch, 0) / notes.length
}

/** How many of the moves are of a size, in semitones. */
function shareOfMoves(notes: readonly LineNote[], from: number, to: number): number {
  const moves = notes.slice(1).map(({ pitch }, i) => Math.abs(pitch - notes[i]!.pitch))
  return moves.length === 0 ? 0 : moves.filter((size) => size >= from && size <= to).length / moves.length
}

/** The bars in words: all of them, stretches by their numbers, or how many. */
function where(differing: readonly FormBar[], bars: readonly FormBar[]): string {
  if (differing.length >= THROUGHOUT * bars.length) return 'throughout'
  const stretches: FormBar[][] = []
  for (const bar of differing) {
    const stretch = stretches.at(-1)
    if (stretch?.at(-1)?.index === bar.index - 1) stretch.push(bar)
    else stretches.push([bar])
  }
  if (stretches.length > 2) return `in ${differing.length} bars`
  const told = stretches.map((stretch) => {
    const [first, last] = [stretch[0]!.number, stretch.at(-1)!.number]
    return first === last ? `${first}` : `${first}–${last}`
  })
  return `in ${differing.length === 1 ? 'bar' : 'bars'} ${told.join(' and ')}`
}
