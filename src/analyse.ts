import type { Diagnostic } from './chart/diagnostic.ts'
import { type Reading, read } from './compose.ts'
import type { Feel } from './feels/feel.ts'
import { bassTrackOf } from './files/bass-track.ts'
import type { FileNote, MidiFile } from './files/midi-reader.ts'
import { readMidi } from './files/midi-reader.ts'
import { type Analysing, type Analysis, analyse, type HeardNote } from './line/analyse/analyse.ts'
import type { FigureWord } from './line/analyse/fit.ts'
import type { Figure } from './line/groove/table.ts'
import { ownPattern, parsePattern } from './line/pattern.ts'
import { PATTERNS } from './line/patterns.ts'
import { readTypedLine, typedBars } from './line/typed-line.ts'
import { degreeAt } from './music/chord.ts'
import { formatMetre } from './music/metre.ts'
import { pitchClassOf } from './music/pitch.ts'
import { quartersPerMinute } from './music/tempo-map.ts'
import { TICKS_PER_QUARTER, type Tick } from './music/tick.ts'
import { type NamedCell, parseCell, placesOfLength } from './rhythm/cell.ts'
import { CELLS } from './rhythm/cells.ts'
import { quantise } from './rhythm/quantise.ts'
import type { Settings } from './settings.ts'

// A line that somebody played or typed, against a chart:
//   chart -> Form, line -> notes on its grid, both -> Analysis
// Wrong input is a diagnostic or a sentence; nothing here throws.

/** A line read against a chart. */
export interface LineReading extends Reading {
  /** `undefined` where chart or line cannot be read: diagnostics or `message` say why */
  readonly analysis: Analysis | undefined
  /** of the typed line, in the order of its text */
  readonly lineDiagnostics: readonly Diagnostic[]
  /** why there is no line: of a file, since it has no places to point at */
  readonly message: string | undefined
  /** what was made of a file, in sentences */
  readonly said: readonly string[]
}

/** A form is played so often at most, as the command line has it. */
const MOST_CHORUSES = 50

/** Notes of a file that are read: some hours of a busy line. */
const MOST_NOTES = 20_000

/** Reads a typed line against a chart. A line that is longer than the chart is read over as many choruses as it has. */
export function analyseTyped(chart: string, line: string, settings: Settings = {}): LineReading {
  const { reading, choruses } = readFor(chart, settings, ({ form }) => typedBars(line) / form.bars.length)
  if (!isPlayable(reading)) return nothing(reading)
  const typed = readTypedLine(line, reading.form, reading.instrument)
  const failed = typed.diagnostics.some(({ severity }) => severity === 'error')
  return {
    ...reading,
    analysis: failed ? undefined : analysisOf(reading, typed.notes),
    lineDiagnostics: typed.diagnostics,
    message: undefined,
    said: chorusesSaid(choruses),
  }
}

/**
 * Reads the bass of a MIDI file against a chart, which begins with the file or after a count-in (`leadInOf`). What lies behind it is read over more
 * choruses of it.
 *
 * @param track  number of the track, from 1; absent: the bass is looked for
 */
export function analyseMidi(
  chart: string,
  bytes: Uint8Array,
  settings: Settings = {},
  track: number | undefined = undefined,
): LineReading {
  const midi = readMidi(bytes)
  if (!midi.ok) return nothing(read(chart, settings), `The line cannot be read: ${midi.message}.`)
  const { file } = midi
  const bass = bassTrackOf(file.tracks, track)
  if (!bass.ok) return nothing(read(chart, settings), bass.message)
  const all = bass.track.notes
  const { single: struck, together } = oneAtATime(all.slice(0, MOST_NOTES))
  const scale = TICKS_PER_QUARTER / file.division
  const leadIn = leadInOf(struck, read(chart, settings), scale)
  const single = struck
    .slice(leadIn.pickup)
    .map((note) => ({ ...note, startTick: Math.max(0, note.startTick - leadIn.ticks / scale) }))
  const last = single.at(-1)!.startTick * scale
  const { reading, choruses } = readFor(chart, settings, ({ form }) => (last + 1) / form.ticks)
  if (!isPlayable(reading)) return nothing(reading)
  const { notes, said } = onForm(single, reading, file, scale)
  const name = bass.track.name === undefined ? '' : ` "${bass.track.name}"`
  return {
    ...reading,
    analysis: analysisOf(reading, notes),
    lineDiagnostics: [],
    message: undefined,
    said: [
      `The bass is track ${bass.number}${name}, ${counted(all.length, 'note')}.`,
      ...leadInSaid(leadIn),
      ...(all.length > MOST_NOTES ? [`Only the first ${MOST_NOTES} are read.`] : []),
      ...(file.brokenTracks > 0
        ? [
            `${counted(file.brokenTracks, 'track')} of the file ${file.brokenTracks === 1 ? 'breaks' : 'break'} off; what stands before the break is read.`,
          ]
        : []),
      ...(together > 0
        ? [`Of notes struck together the lowest is read; ${counted(together, 'other is', 'others are')} left out.`]
        : []),
      ...contradictions(file, reading),
      ...said,
      ...chorusesSaid(choruses),
    ],
  }
}

interface LeadIn {
  /** of the file, before the chart begins */
  readonly bars: number
  readonly ticks: Tick
  /** so many notes stand before the chart */
  readonly pickup: number
}

/**
 * Whole bars of the file before the chart begins: as many as the bass rests, or one more where its first notes are a pickup, if more notes
 * are then tones of their chords than with none; else none. A pickup begins in the second half of a bar.
 */
function leadInOf(notes: readonly FileNote[], { form }: Reading, scale: number): LeadIn {
  const none: LeadIn = { bars: 0, ticks: 0, pickup: 0 }
  const bar = form.bars[0]?.ticks
  if (bar === undefined) return none
  const startOf = ({ startTick }: FileNote) => startTick * scale + bar * HAIR
  const after = (bars: number): LeadIn => {
    const pickup = notes.findIndex((note) => startOf(note) >= bars * bar)
    return { bars, ticks: bars * bar, pickup: pickup < 0 ? notes.length : pickup }
  }
  const tones = ({ ticks, pickup }: LeadIn): number =>
    notes.slice(pickup).filter(({ startTick, pitch }) => {
      const at = startTick * scale - ticks
      const within = ((Math.round(at) % form.ticks) + form.ticks) % form.ticks
      const chord = form.changes.findLast((change) => change.startTick <= within)?.chord
      return chord !== undefined && degreeAt(chord, pitchClassOf(pitch)).standing === 'tone'
    }).length
  const rested = Math.floor(startOf(notes[0]!) / bar)
  const isPickup = startOf(notes[0]!) - rested * bar >= bar / 2
  let best = none
  let most = tones(none)
  for (const bars of isPickup ? [rested, rested + 1] : [rested]) {
    if (bars === 0) continue
    const leadIn = after(bars)
    const found = tones(leadIn)
    if (found > most) [best, most] = [leadIn, found]
  }
  return best
}

function leadInSaid({ bars, pickup }: LeadIn): readonly string[] {
  if (bars === 0) return []
  const rested = counted(bars, 'bar')
  if (pickup === 0) return [`The bass enters after ${rested} of the file: the chart begins there, which fits better.`]
  const left = counted(pickup, 'note before it is', 'notes before it are')
  return [`The chart begins after ${rested} of the file, which fits better; ${left} left out.`]
}

/** A bar's part by which a first note may come before its bar line. */
const HAIR = 1 / 32

/** The chart for a line that is so many times as long as its form. */
function readFor(
  chart: string,
  settings: Settings,
  timesOf: (reading: Reading) => number,
): { readonly reading: Reading; readonly choruses: number } {
  const reading = read(chart, settings)
  const own = settings.choruses ?? 1
  const times = reading.form.bars.length === 0 ? 1 : Math.ceil(timesOf(reading))
  const choruses = Math.min(MOST_CHORUSES, Math.max(1, times) * own)
  if (choruses <= own) return { reading, choruses: own }
  return { reading: read(chart, { ...settings, choruses }), choruses }
}

const chorusesSaid = (choruses: number): readonly string[] =>
  choruses > 1 ? [`The chart is played ${choruses} times, since the line is longer than it.`] : []

function isPlayable({ form, diagnostics }: Reading): boolean {
  return form.bars.length > 0 && diagnostics.every(({ severity }) => severity !== 'error')
}

function nothing(reading: Reading, message?: string): LineReading {
  return { ...reading, analysis: undefined, lineDiagnostics: [], message, said: [] }
}

function analysisOf({ form, chart, instrument, feel }: Reading, notes: readonly HeardNote[]): Analysis {
  return analyse(notes, { form, key: chart.key, instrument, words: wordsOf(feel) })
}

/** Of notes that begin within a thirty-second of each other the lowest: a bass line has one voice. */
function oneAtATime(notes: readonly FileNote[]): { readonly single: readonly FileNote[]; readonly together: number } {
  const single: FileNote[] = []
  for (const note of notes) {
    const last = single.at(-1)
    if (!last || last.startTick !== note.startTick) single.push(note)
    else if (note.pitch < last.pitch) single[single.length - 1] = note
  }
  return { single, together: notes.length - single.length }
}

/** A dead note is this soft beside the others, and short. Our choice, after how they are played. */
const GHOST = { velocity: 0.5, share: 0.55 }

/** The notes of a file on the grid of the form, and what is to be said about that. */
function onForm(
  notes: readonly FileNote[],
  { form, feel, tempoBpm, chart }: Reading,
  file: MidiFile,
  scale: number,
): { readonly notes: readonly HeardNote[]; readonly said: readonly string[] } {
  const strokes = notes.map(({ startTick, ticks }) => ({ start: startTick * scale, end: (startTick + ticks) * scale }))
  const micros = file.tempos[0]?.micros
  const bpm = micros === undefined ? quartersPerMinute(tempoBpm, chart.metre) : 60e6 / micros
  const grid = quantise(strokes, form, feel.swing, bpm)
  const velocities = notes.map(({ velocity }) => velocity).sort((a, b) => a - b)
  const usual = velocities[velocities.length >> 1]!
  const heard = notes.map(({ pitch, velocity, ticks }, i): HeardNote => {
    const { startTick, ticks: written } = grid.strokes[i]!
    const next = strokes[i + 1]?.start ?? strokes[i]!.end
    const isShort = ticks * scale <= GHOST.share * (next - strokes[i]!.start)
    return { startTick, ticks: written, pitch, ghost: velocity <= GHOST.velocity * usual && isShort }
  })
  const inside = heard.filter(({ startTick }) => startTick < form.ticks)
  const said: string[] = []
  if (grid.late !== 0) {
    const early = grid.late < 0 ? 'early' : 'late'
    said.push(`All of it comes ${counted(Math.abs(grid.late), 'tick')} ${early}, of 480 to the quarter.`)
  }
  if (grid.moved > 0) {
    const far = counted(grid.farthest, 'tick')
    said.push(`${grid.moved} of ${counted(notes.length, 'note')} were moved to the grid, by ${far} at most.`)
  }
  if (inside.length < heard.length)
    said.push(
      `${counted(heard.length - inside.length, 'note behind the end of the chart is', 'notes behind the end of the chart are')} left out.`,
    )
  return { notes: inside, said }
}

/** What the file says of metre and tempo, where the chart says something else: the chart is right. */
function contradictions(file: MidiFile, { form, chart }: Reading): readonly string[] {
  const said: string[] = []
  const [first] = file.metres
  const metre = formatMetre(form.bars[0]!.metre)
  if (first && `${first.upper}/${first.lower}` !== metre)
    said.push(
      `The file is in ${first.upper}/${first.lower} and the chart in ${metre}: bars are counted as in the chart.`,
    )
  const micros = file.tempos[0]?.micros
  if (micros !== undefined && chart.tempoBpm !== undefined) {
    const own = quartersPerMinute(chart.tempoBpm, chart.metre)
    const played = 60e6 / micros
    if (Math.abs(played - own) >= 1)
      said.push(
        `The file is played at ${Math.round(played)} quarters a minute and the chart asks for ${Math.round(own)}.`,
      )
  }
  return said
}

function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`
}

const WORDS = new WeakMap<Feel, NonNullable<Analysing['words']>>()

/** What a line over a chart in a feel is read with: all tables, the feel's own words before others, and the feel's figures. */
export function wordsOf(feel: Feel): NonNullable<Analysing['words']> {
  const known = WORDS.get(feel)
  if (known) return known
  const table = feel.line.kind === 'groove' ? feel.line.table : undefined
  const figures = table ? [...table.fills, ...table.walks] : []
  const isFill = (figure: Figure) => table?.fills.includes(figure) ?? false
  const cells = table?.pairs.flatMap(({ cell }) => cell.split(' ').map((word) => word.split('*')[0]!)) ?? []
  const usual = new Set([
    ...feel.patterns.map(({ id }) => id),
    // A walking player may have chosen any that go with the feel.
    ...(table ? [] : PATTERNS.filter(({ feels }) => feels === 'all' || feels.includes(feel.id)).map(({ id }) => id)),
    ...feel.cells.map(({ id }) => id),
    ...cells,
    ...figures.map(({ id }) => id),
    ...(table?.leads.map(({ pattern }) => pattern) ?? []),
    ...(table?.pairs.flatMap(({ lead }) => lead ?? []) ?? []),
    ...(table?.relatives.map(({ instead }) => instead) ?? []),
  ])
  const words = {
    patterns: PATTERNS,
    figures: figures.flatMap((figure) => figureWord(figure, isFill(figure))),
    cells: CELLS,
    usual,
  }
  WORDS.set(feel, words)
  return words
}

/** A figure as a word; none where it has no notes. */
function figureWord({ id, cell: notation, tokens, families }: Figure, isFill: boolean): readonly FigureWord[] {
  const pattern = parsePattern(tokens)
  const cell = cellWord(notation)
  if (!pattern.ok || !cell) return []
  return [{ ...ownPattern(tokens, pattern.tokens), id, families: families as FigureWord['families'], cell, isFill }]
}

/** A cell without a name, known by its notation. */
function cellWord(notation: string): NamedCell | undefined {
  const reading = parseCell(notation)
  if (!reading.ok) return undefined
  const { cell } = reading
  const named = { id: notation, name: notation, group: '', notation, level: 1, feels: [], touch: '' }
  return { ...cell, ...placesOfLength(cell), ...named }
}
