import type { LineReading } from './analyse.ts'
import type { FormBar } from './chart/form.ts'
import { beatFraction, type ChartJson, chartJson, type DiagnosticJson } from './cli-json.ts'
import { columns, printable } from './cli-table.ts'
import type { AnalysedNote, Stretch } from './line/analyse/analyse.ts'
import type { NoteFunction } from './line/line.ts'
import { pitchName } from './line/rule-blank.ts'
import { countTicks } from './music/metre.ts'

/** The JSON document of `analyse`. */
export interface AnalyseDocument {
  /** `null`: the chart could not be read at all */
  readonly chart: ChartJson | null
  /** of the chart */
  readonly diagnostics: readonly DiagnosticJson[]
  /** of the line, with places in its own text */
  readonly lineDiagnostics: readonly DiagnosticJson[]
  /** what was made of the line, in sentences */
  readonly said: readonly string[]
  /** in order of time; empty where the exit status is 1 */
  readonly notes: readonly AnalysedNoteJson[]
  readonly stretches: readonly StretchJson[]
  readonly cells: readonly HeardCellJson[]
  readonly superimposed: readonly SpelledJson[]
  /** what the line is made of, as the headers of a chart name it, the most frequent first */
  readonly vocabulary: { readonly patterns: readonly string[]; readonly cells: readonly string[] }
}

export interface AnalysedNoteJson {
  /** number of the played bar, from 1; 0 in a pick-up */
  readonly bar: number
  /** an exact fraction of the count of the metre, from 1: `1`, `5/2` */
  readonly beat: string
  /** at 480 to the quarter, in form order */
  readonly startTick: number
  readonly ticks: number
  /** MIDI note number, sounding */
  readonly pitch: number
  readonly name: string
  readonly ghost: boolean
  /** `N.C.` where none sounds */
  readonly chord: string
  /** `null` under N.C. */
  readonly degree: string | null
  /** `null` under N.C. */
  readonly function: NoteFunction | null
  /** index into the stretches; `null`: not explained by a pattern */
  readonly stretch: number | null
  /** its place in the pattern, from 1; `null` where it has none */
  readonly place: number | null
  /** ids of patterns by which other readings of the line explain it about as well */
  readonly also: readonly string[]
  /** index into the cells; `null`: not explained by a cell */
  readonly cell: number | null
}

export interface StretchJson {
  readonly kind: Stretch['kind']
  /** id, or of an unknown one its tokens */
  readonly pattern: string
  /** it is played to its end */
  readonly whole: boolean
  /** other patterns that explain it about as well */
  readonly also: readonly string[]
}

export interface SpelledJson {
  /** indices into the notes */
  readonly notes: readonly number[]
  /** the chord that they spell over the one that sounds, and on which of its degrees: `Fmaj7`, `b3` */
  readonly chord: string
  readonly degree: string
  /** in words: `Fmaj7 on the flat third` */
  readonly name: string
}

export interface HeardCellJson {
  readonly bar: number
  readonly beat: string
  /** id, or of an unknown one its notation */
  readonly cell: string
  readonly known: boolean
  readonly also: readonly string[]
}

/** A line as a document. */
export function analyseJson(
  reading: LineReading,
  diagnostics: readonly DiagnosticJson[],
  lineDiagnostics: readonly DiagnosticJson[],
): AnalyseDocument {
  const { analysis, form } = reading
  return {
    chart: chartJson(reading),
    diagnostics,
    lineDiagnostics,
    said: reading.message === undefined ? reading.said : [reading.message],
    notes: analysis?.notes.map((note) => noteJson(note, reading)) ?? [],
    stretches: analysis?.stretches.map(stretchJson) ?? [],
    cells:
      analysis?.cells.map(({ startTick, cell, known, also }) => {
        const bar = form.bars.findLast((one) => one.startTick <= startTick)!
        return { bar: bar.number, beat: beatIn(bar, startTick), cell, known, also }
      }) ?? [],
    superimposed: analysis?.superimposed ?? [],
    vocabulary: analysis?.vocabulary ?? { patterns: [], cells: [] },
  }
}

const beatIn = (bar: FormBar, tick: number): string => beatFraction(tick - bar.startTick, countTicks(bar.metre))

function noteJson(note: AnalysedNote, { form }: LineReading): AnalysedNoteJson {
  const { heard, barIndex, changeIndex, place } = note
  const bar = form.bars[barIndex]!
  const chord = changeIndex === undefined ? undefined : form.changes[changeIndex]!.chord
  return {
    bar: bar.number,
    beat: beatIn(bar, heard.startTick),
    startTick: heard.startTick,
    ticks: heard.ticks,
    pitch: heard.pitch,
    name: note.name ?? pitchName(heard.pitch),
    ghost: heard.ghost,
    chord: chord?.symbol.text ?? 'N.C.',
    degree: note.degree ?? null,
    function: note.function ?? null,
    stretch: note.stretch ?? null,
    place: place === undefined ? null : place + 1,
    also: note.also,
    cell: note.cell ?? null,
  }
}

function stretchJson({ kind, pattern, whole, also }: Stretch): StretchJson {
  return { kind, pattern: nameOf(pattern), whole, also }
}

const nameOf = (pattern: Stretch['pattern']): string => (typeof pattern === 'string' ? pattern : pattern.id)

const NOT_EXPLAINED = 'not explained'

/** A line as a table, a row a note; a pattern and a cell are named where they begin. */
export function analysisTable({ notes, stretches, cells, superimposed }: AnalyseDocument): string {
  const rows = [['bar', 'beat', 'note', 'degree', 'function', 'pattern', 'cell']]
  let stretch: number | null | undefined
  let cell: number | null | undefined
  for (const [index, note] of notes.entries()) {
    const own = note.stretch === null ? undefined : stretches[note.stretch]!
    const place = note.place === null ? '' : ` ${note.place}`
    const spelled = superimposed.find(({ notes: [first] }) => first === index)
    const name = ({ kind, pattern }: StretchJson) => (kind === 'unknown' ? `"${pattern}"` : pattern)
    const begins = note.stretch !== stretch || note.ghost
    const pattern = note.ghost ? '' : own ? (begins ? name(own) : `"${place}`) : NOT_EXPLAINED
    const inCell = note.cell === null ? undefined : cells[note.cell]!
    rows.push([
      `${note.bar}`,
      note.beat,
      note.ghost ? 'x' : note.function === 'anticipation' ? `<${note.name}` : note.name,
      note.degree === null ? 'N.C.' : note.ghost ? `x of ${note.chord}` : `${note.degree} of ${note.chord}`,
      note.function ?? '-',
      spelled ? `${pattern}: ${spelled.name}` : pattern,
      inCell ? (note.cell === cell ? '"' : inCell.cell) : NOT_EXPLAINED,
    ])
    if (!note.ghost) stretch = note.stretch
    cell = note.cell
  }
  return printable(columns(rows))
}

/** What the line is made of, as rows that a chart may begin with. */
export function vocabularyRows({ vocabulary }: AnalyseDocument): string {
  const rows = Object.entries(vocabulary).filter(([, words]) => words.length > 0)
  return printable(rows.map(([header, words]) => `${header}: ${words.join(', ')}`).join('\n'))
}

/** How much of the line is explained. */
export function explained({ notes, stretches, cells }: AnalyseDocument): string {
  const sounded = notes.filter(({ ghost }) => !ghost)
  const inPatterns = sounded.filter(({ stretch }) => stretch !== null && stretches[stretch]!.kind !== 'unknown').length
  const inCells = notes.filter(({ cell }) => cell !== null && cells[cell]!.known).length
  return `${inPatterns} of ${sounded.length} notes in known patterns, ${inCells} of ${notes.length} in known cells`
}
