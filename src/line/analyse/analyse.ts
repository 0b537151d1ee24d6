import type { Form } from '../../chart/form.ts'
import { degreeAt } from '../../music/chord.ts'
import type { Instrument } from '../../music/instrument.ts'
import type { Key } from '../../music/key.ts'
import { type Metre, tempoBeatTicks } from '../../music/metre.ts'
import { type Pitch, pitchClassOf } from '../../music/pitch.ts'
import type { Tick } from '../../music/tick.ts'
import { CELLS } from '../../rhythm/cells.ts'
import { strengthOf } from '../../rhythm/plan.ts'
import type { Slot } from '../../rhythm/slot.ts'
import { explain } from '../explain.ts'
import { type BarMap, barMapOf } from '../groove/deal.ts'
import type { NoteFunction, SearchedNote } from '../line.ts'
import type { Pattern } from '../pattern.ts'
import { PATTERNS } from '../patterns.ts'
import { type CellVocabulary, cellsHeard, type GivenCell, type HeardCell, type Stroke } from './cells.ts'
import type { FigureWord, PatternVocabulary, PlacedNote } from './fit.ts'
import { type HeardPattern, patternsHeard } from './patterns.ts'
import { type Superimposed, superimposedOn, tokensOver } from './words.ts'

/** A note that somebody played or typed, on the grid of the form. */
export interface HeardNote extends Stroke {
  /** sounding; of a dead note the pitch under the hand */
  readonly pitch: Pitch
}

/** A played note against its chord. */
export interface AnalysedNote {
  readonly heard: HeardNote
  readonly barIndex: number
  /** index into the form's changes: the chord that it belongs to; `undefined` under N.C. */
  readonly changeIndex: number | undefined
  /** as spelled on the staff, with its octave; `undefined` under N.C. */
  readonly name: string | undefined
  /** against its chord, in ASCII; `undefined` under N.C. and of a dead note */
  readonly degree: string | undefined
  /** `undefined` under N.C. */
  readonly function: NoteFunction | undefined
  /** index into the stretches; `undefined`: no pattern explains it */
  readonly stretch: number | undefined
  /** patterns by which other readings of the line explain it about as well, in the order of the table */
  readonly also: readonly string[]
  /** its place in the pattern, from 0; `undefined` also where an approach has taken over */
  readonly place: number | undefined
  /** index into the cells; `undefined` under silence */
  readonly cell: number | undefined
}

/** Notes that belong together: a known pattern, or degrees that none explains. */
export interface Stretch {
  /** indices into the notes; dead notes between them are not counted in */
  readonly notes: readonly number[]
  readonly kind: HeardPattern['kind'] | 'unknown'
  /** of an unknown one in our notation, as `parsePattern` reads it */
  readonly pattern: Pattern | string
  readonly whole: boolean
  /** ids of other patterns that explain it just as well */
  readonly also: readonly string[]
}

/** Notes of one bar under one chord that spell another one. */
export interface Spelled extends Superimposed {
  /** indices into the notes */
  readonly notes: readonly number[]
}

/** A line, read against a chart. */
export interface Analysis {
  /** in order of time */
  readonly notes: readonly AnalysedNote[]
  /** in order of time */
  readonly stretches: readonly Stretch[]
  readonly cells: readonly HeardCell[]
  /** in order of time */
  readonly superimposed: readonly Spelled[]
  /** what the line is made of as a chart names it, the most frequent first: ids, and in quotes what is unknown */
  readonly vocabulary: { readonly patterns: readonly string[]; readonly cells: readonly string[] }
}

/** What a line is read with. */
export interface Analysing {
  readonly form: Form
  readonly key: Key | undefined
  readonly instrument: Instrument
  /** the tables, if absent, and no figures */
  readonly words?: PatternVocabulary & CellVocabulary
}

const TABLES = { patterns: PATTERNS, figures: [], cells: CELLS }

/** Notes of a stretch that nothing explains are written as one pattern only if there are so many: one degree is no pattern. */
const LEAST_UNKNOWN = 2

/**
 * Reads a line against a chart: what each note is and does, by the rules that explain our own lines; which known patterns and cells the
 * line is made of; and in our notations what no table knows. Any notes give an analysis.
 *
 * @param heard  in order of time; what lies outside the form, or has no length, is left out, and of two notes at one tick the
 *               later in the list
 */
export function analyse(heard: readonly HeardNote[], { form, key, instrument, words = TABLES }: Analysing): Analysis {
  const line = heard
    .filter(({ startTick, ticks }) => startTick >= 0 && startTick < form.ticks && ticks > 0)
    .sort((a, b) => a.startTick - b.startTick)
    .filter((note, i, all) => i === 0 || all[i - 1]!.startTick < note.startTick)
    .map((note, i, all): HeardNote => {
      const next = all[i + 1]?.startTick ?? Number.POSITIVE_INFINITY
      return note.startTick + note.ticks > next ? { ...note, ticks: next - note.startTick } : note
    })
  const slots = slotsOf(form, line)
  const sounded = line.flatMap((note, i) => (slots[i] && !note.ghost ? [i] : []))
  const placed = placedNotes(
    form,
    sounded.map((i) => ({ slot: slots[i]!, pitch: line[i]!.pitch })),
  )
  const { stretches: read, also } = patternsHeard(placed, words)
  const patterns = withoutSingles(read, placed)
  const cells = cellsHeard(form, line, words, figureCells(patterns, placed, form))
  const places = new Map<number, HeardPattern>()
  for (const stretch of patterns) for (let at = stretch.from; at < stretch.to; at++) places.set(at, stretch)
  const searched = placed.map(({ pitch }, at): SearchedNote => {
    const stretch = places.get(at)
    const place = stretch?.places[at - stretch.from]
    const token = place === undefined ? undefined : stretch!.pattern.tokens[place]
    const number = token?.kind === 'degree' ? token.number : undefined
    const slot = slots[sounded[at]!]!
    return { slot, pitch, string: 0, fret: 0, hand: 1, pattern: stretch?.pattern.id, number, terms: [] }
  })
  const explained = explain(
    { notes: searched, ghosts: [], terms: [], cost: 0, provenWithin: 0 },
    { form, instrument, key, loop: false },
  ).notes
  const stretches = stretchesOf(patterns, placed, sounded)
  const stretchOf = new Map(stretches.flatMap(({ notes }, index) => notes.map((note) => [note, index] as const)))
  const order = new Map(sounded.map((i, at) => [i, at]))
  let cell = 0
  const notes = line.map((note, i): AnalysedNote => {
    while (cell + 1 < cells.length && cells[cell + 1]!.startTick <= note.startTick) cell++
    const inCell = cells[cell]
    const at = order.get(i)
    const own = at === undefined ? undefined : explained[at]
    const stretch = at === undefined ? undefined : places.get(at)
    return {
      heard: note,
      barIndex: barAt(form, note.startTick),
      changeIndex: slots[i]?.changeIndex,
      name: own?.name,
      degree: own?.degree,
      function: own?.function ?? (slots[i] ? 'ghost' : undefined),
      stretch: stretchOf.get(i),
      place: stretch && at !== undefined ? stretch.places[at - stretch.from] : undefined,
      also: at === undefined ? [] : also[at]!.map(({ id }) => id),
      cell:
        inCell && inCell.startTick <= note.startTick && note.startTick < inCell.startTick + inCell.ticks
          ? cell
          : undefined,
    }
  })
  const superimposed = spelledIn(placed, sounded, explained)
  const vocabulary = { patterns: patternWords(stretches), cells: cellWords(cells) }
  return { notes, stretches, cells, superimposed, vocabulary }
}

const barAt = (form: Form, tick: Tick): number => lastFrom(form.bars, tick)
const changeAt = (form: Form, tick: Tick): number => lastFrom(form.changes, tick)

/** The last of a row that begins at a tick or before it. */
function lastFrom(row: readonly { readonly startTick: Tick }[], tick: Tick): number {
  let low = 0
  let high = row.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (row[middle]!.startTick <= tick) low = middle
    else high = middle - 1
  }
  return low
}

/** Each note as a slot, so that what explains our own lines explains it; `undefined` under N.C. */
function slotsOf(form: Form, line: readonly HeardNote[]): readonly (Slot | undefined)[] {
  let changeIndex = 0
  return line.map(({ startTick, ticks, ghost, pitch, marks }): Slot | undefined => {
    while (form.changes[changeIndex + 1] && form.changes[changeIndex + 1]!.startTick <= startTick) changeIndex++
    const change = form.changes[changeIndex]
    if (!change?.chord) return undefined
    const bar = form.bars[change.barIndex]!
    const pushedInto = ghost ? undefined : anticipated(form, changeIndex, startTick, ticks, pitch)
    return {
      startTick,
      ticks,
      barIndex: bar.index,
      changeIndex: pushedInto ?? changeIndex,
      strength: strengthOf(bar, startTick),
      cell: '',
      accent: marks?.accent ?? false,
      length: marks?.length,
      pushed: pushedInto !== undefined,
      ghost,
    }
  })
}

/**
 * The change that a note is struck early for: it begins at most a beat before and rings into it. Inside a bar that alone does not
 * say it, so there it has to be a tone of the chord to come and none of the one that sounds.
 */
function anticipated(form: Form, from: number, startTick: number, ticks: number, pitch: Pitch): number | undefined {
  const end = startTick + ticks
  const bar = form.bars[form.changes[from]!.barIndex]!
  const beat = tempoBeatTicks(bar.metre)
  const isTone = (index: number): boolean => {
    const { chord } = form.changes[index]!
    return chord !== undefined && degreeAt(chord, pitchClassOf(pitch)).standing === 'tone'
  }
  if (end > form.ticks && form.ticks - startTick <= beat && form.changes[0]?.chord) return 0
  const next = form.changes[from + 1]
  if (!next?.chord || next.startTick >= end || next.startTick - startTick > beat) return undefined
  if (next.barIndex !== bar.index) return from + 1
  return !next.held && isTone(from + 1) && !isTone(from) ? from + 1 : undefined
}

function placedNotes(
  form: Form,
  notes: readonly { readonly slot: Slot; readonly pitch: Pitch }[],
): readonly PlacedNote[] {
  let began = 0
  const runs = form.changes.map((change, index) => {
    if (!change.held) began = index
    return began
  })
  const first = form.changes.find((change) => change.chord)?.chord
  let inPhrase = -1
  const phraseEnds = form.bars.map(({ section }, i) => {
    inPhrase = section === undefined ? inPhrase + 1 : 0
    const next = form.bars[i + 1]
    return inPhrase % PHRASE_BARS === PHRASE_BARS - 1 || !next || next.section !== undefined
  })
  const maps = new Map<Metre, BarMap>()
  const mapOf = (metre: Metre): BarMap => {
    const map = maps.get(metre) ?? barMapOf(metre)
    maps.set(metre, map)
    return map
  }
  return notes.map(({ slot, pitch }, i): PlacedNote => {
    const { changeIndex, barIndex, startTick, pushed } = slot
    const chord = form.changes[changeIndex]!.chord!
    const run = runs[changeIndex]!
    const before = notes[i - 1]?.slot
    const bar = form.bars[barIndex]!
    const overBar = pushed && startTick + slot.ticks > bar.startTick + bar.ticks
    const beforeBar = before && barOf(form, before)
    const later = form.changes.slice(changeIndex + 1, changeIndex + MOST_AHEAD)
    const nextChords = [
      form.bars[barIndex + 1]?.changes[0]?.chord,
      later.find((change) => change.chord && !change.held)?.chord,
    ]
    const meant = nextChords.filter((one) => one !== undefined)
    const struckIn = form.bars[barAt(form, startTick)]!
    const { startTick: partTick } = form.changes[changeAt(form, startTick)]!
    return {
      pitch,
      chord,
      run,
      arrives: !before || runs[before.changeIndex] !== run,
      opensBar: beforeBar !== (overBar ? barIndex + 1 : barIndex),
      pushed,
      nextChords: meant.length > 0 ? meant : first ? [first] : [],
      bar: struckIn.index,
      map: mapOf(struckIn.metre),
      tick: startTick - struckIn.startTick,
      partTick: partTick - struckIn.startTick,
      endsPhrase: phraseEnds[struckIn.index]!,
      rungInto: before !== undefined && before.startTick < partTick && before.startTick + before.ticks > partTick,
    }
  })
}

/** Bars at the end of which a fill is expected. */
const PHRASE_BARS = 4

/** The next chord is looked for among so many changes: a vamp of bars without number has none in sight. */
const MOST_AHEAD = 64

/** The bar that a slot belongs to: a note pushed over the bar line belongs to the next. */
function barOf(form: Form, { barIndex, pushed, startTick, ticks }: Slot): number {
  const bar = form.bars[barIndex]!
  return pushed && startTick + ticks > bar.startTick + bar.ticks ? barIndex + 1 : barIndex
}

/** One note beside notes of its chord and bar that nothing explains belongs with them: a root alone explains nothing. */
function withoutSingles(patterns: readonly HeardPattern[], placed: readonly PlacedNote[]): readonly HeardPattern[] {
  const read = new Set<number>()
  for (const { from, to } of patterns) for (let at = from; at < to; at++) read.add(at)
  const isAlone = (at: number, beside: number): boolean => {
    const other = placed[beside]
    return other?.bar === placed[at]!.bar && other.run === placed[at]!.run && !read.has(beside)
  }
  return patterns.filter(
    ({ kind, from, to }) => kind !== 'pattern' || to - from > 1 || !(isAlone(from, from - 1) || isAlone(from, to)),
  )
}

/** Figures bring their cells with them. */
function figureCells(
  patterns: readonly HeardPattern[],
  placed: readonly PlacedNote[],
  form: Form,
): readonly GivenCell[] {
  return patterns.flatMap(({ kind, pattern, from }) => {
    if (kind !== 'figure') return []
    const bar = form.bars[placed[from]!.bar]!
    const { cell } = pattern as FigureWord
    const startTick = bar.startTick + bar.ticks - cell.ticks
    return [{ startTick, ticks: cell.ticks, cell: cell.id }]
  })
}

/** Stretches that patterns read, and between them what is left, cut at chords and bar lines. */
function stretchesOf(
  patterns: readonly HeardPattern[],
  placed: readonly PlacedNote[],
  sounded: readonly number[],
): readonly Stretch[] {
  const stretches: Stretch[] = []
  const unknown = (from: number, to: number): void => {
    let begin = from
    for (let at = from + 1; at <= to; at++) {
      if (at < to && !placed[at]!.arrives && !placed[at]!.opensBar) continue
      if (at - begin >= LEAST_UNKNOWN) {
        const some = placed.slice(begin, at)
        const { chord } = some[0]!
        const pitches = some.map(({ pitch }) => pitch)
        stretches.push({
          notes: sounded.slice(begin, at),
          kind: 'unknown',
          pattern: tokensOver(chord, pitches),
          whole: true,
          also: [],
        })
      }
      begin = at
    }
  }
  let at = 0
  for (const { kind, from, to, pattern, whole, also } of patterns) {
    unknown(at, from)
    stretches.push({
      notes: sounded.slice(from, to),
      kind,
      pattern,
      whole,
      also: also.map(({ id }) => id),
    })
    at = to
  }
  unknown(at, placed.length)
  return stretches
}

/** The chords that notes of one bar spell over the one that sounds, notes on their way into the next left out. */
function spelledIn(
  placed: readonly PlacedNote[],
  sounded: readonly number[],
  explained: readonly { readonly function: NoteFunction }[],
): readonly Spelled[] {
  const spelled: Spelled[] = []
  for (let from = 0; from < placed.length; ) {
    const { bar, run, chord } = placed[from]!
    let to = from + 1
    while (to < placed.length && placed[to]!.bar === bar && placed[to]!.run === run) to++
    const leads = explained[to - 1]!.function === 'approach' || explained[to - 1]!.function === 'enclosure'
    const pitches = placed.slice(from, to).map(({ pitch }) => pitch)
    const whole = superimposedOn(chord, pitches)
    const own = whole ?? (leads ? superimposedOn(chord, pitches.slice(0, -1)) : undefined)
    if (own) spelled.push({ ...own, notes: sounded.slice(from, whole ? to : to - 1) })
    from = to
  }
  return spelled
}

function patternWords(stretches: readonly Stretch[]): readonly string[] {
  const words = stretches.flatMap(({ kind, pattern }) => {
    if (kind === 'figure') return []
    return [typeof pattern === 'string' ? `"${pattern}"` : /\s|^\d/.test(pattern.id) ? `"${pattern.id}"` : pattern.id]
  })
  return byFrequency(words)
}

function cellWords(cells: readonly HeardCell[]): readonly string[] {
  return byFrequency(cells.map(({ cell, known }) => (known ? cell : `"${cell}"`)))
}

/** Each once, the most frequent first, of equals the earlier. */
function byFrequency(words: readonly string[]): readonly string[] {
  const counts = new Map<string, number>()
  for (const word of words) counts.set(word, (counts.get(word) ?? 0) + 1)
  return [...counts].sort((a, b) => b[1] - a[1]).map(([word]) => word)
}
