import type { Chord } from '../../music/chord.ts'
import { pitchClassOf } from '../../music/pitch.ts'
import { toneOf } from '../groove/tone.ts'
import type { DegreeToken } from '../pattern.ts'
import { offsetsOf } from '../pattern-memory.ts'
import type { FigureWord, PlacedNote } from './fit.ts'

/** Notes to the end of a bar that are a figure. */
export interface FigureReading {
  /** index into the figures */
  readonly figure: number
  /** up to but not with this note */
  readonly to: number
  /** for each note, its place among the tokens, from 0; `undefined`: the root of a chord that arrives where the figure strikes nothing */
  readonly places: readonly (number | undefined)[]
}

/**
 * The figures that begin at a note: struck where their cells strike, at the end of its bar, each note the degree or the approach of its
 * token in some octave. Where a chord arrives inside a figure its root may be played instead, as grooves do.
 */
export function figuresFrom(
  notes: readonly PlacedNote[],
  at: number,
  figures: readonly FigureWord[],
): readonly FigureReading[] {
  return figures.flatMap((word, figure) => {
    const places = placesIn(notes, at, word)
    return places ? [{ figure, to: at + places.length, places }] : []
  })
}

function placesIn(
  notes: readonly PlacedNote[],
  at: number,
  { cell, tokens }: FigureWord,
): readonly (number | undefined)[] | undefined {
  const first = notes[at]!
  const { bar, map } = first
  const start = map.ticks - cell.ticks
  if (first.tick < start) return undefined
  const before = notes[at - 1]
  // It begins where it begins: nothing is struck in it before.
  if (before && before.bar === bar && before.tick >= start) return undefined
  const struck = cell.onsets.filter((onset) => !onset.ghost && !onset.continues)
  const places: (number | undefined)[] = []
  let next = 0
  for (let j = at; notes[j]?.bar === bar; j++) {
    const note = notes[j]!
    // What rings in takes the place of the first.
    if (next === 0 && note.rungInto && struck[0] && start + struck[0].tick < note.tick && struck[0].tick === 0) next = 1
    const onset = struck[next]
    const isRoot = pitchClassOf(note.pitch) === note.chord.bassPc
    const arrivesHere = note.arrives && isRoot && (note.pushed || note.tick === note.partTick) && note.tick > 0
    if (onset && note.tick === start + onset.tick) {
      if (!arrivesHere && !isToken(notes, j, tokens, next)) return undefined
      places.push(next++)
    } else if (arrivesHere) places.push(undefined)
    else return undefined
  }
  return next === struck.length && next > 0 && places.some((place) => place !== undefined) ? places : undefined
}

function isToken(notes: readonly PlacedNote[], j: number, tokens: FigureWord['tokens'], k: number): boolean {
  const { pitch, chord, pushed, nextChords } = notes[j]!
  const token = tokens[k]!
  if (token.kind === 'degree') {
    const meant = token.next && !pushed ? [...nextChords, chord] : [chord]
    return meant.some((one) => sounds(pitch, token, one))
  }
  const later = tokens.findIndex((other, i) => i > k && other.kind === 'degree')
  const aim = later < 0 ? (notes[j + tokens.length - k] ?? notes[0]!) : notes[j + later - k]
  if (aim === undefined) return false
  // Where the neck leaves no room below its target it comes from above, and the other way round.
  return offsetsOf(token).some((offset) => [offset, -offset].some((one) => pitchClassOf(pitch - aim.pitch - one) === 0))
}

function sounds(pitch: number, token: DegreeToken, chord: Chord): boolean {
  return pitchClassOf(pitch - chord.bassPc - toneOf(token, chord, false).semitones) === 0
}
