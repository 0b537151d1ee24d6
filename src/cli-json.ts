import type { Diagnostic } from './chart/diagnostic.ts'
import type { Form } from './chart/form.ts'
import { lineColumn } from './chart/line-column.ts'
import type { Composition, Reading } from './compose.ts'
import type { Alternative } from './line/alternatives.ts'
import { differenceOf } from './line/difference.ts'
import type { CostTerm, Line, LineNote, NoteFunction } from './line/line.ts'
import type { RulePrice } from './line/rule-price.ts'
import { formatKey } from './music/key.ts'
import { countTicks } from './music/metre.ts'
import type { Tick } from './music/tick.ts'

/** The JSON document of `compose` and `explain`. */
export interface ComposeDocument {
  /** `null`: the input could not be read at all */
  readonly chart: ChartJson | null
  readonly diagnostics: readonly DiagnosticJson[]
  /** cheapest first; empty where the exit status is 1 */
  readonly lines: readonly LineJson[]
  readonly conflict: ConflictJson | null
  /** what each rule in force costs the first line, in their order; only of `explain` */
  readonly rules?: readonly RulePrice[]
  /** absent where nothing was built; no two runs have it equal */
  readonly timing?: { readonly buildMs: number }
}

/** The JSON document of `check`. */
export interface CheckDocument {
  readonly chart: ChartJson | null
  readonly diagnostics: readonly DiagnosticJson[]
}

export interface ChartJson {
  readonly title: string | null
  readonly key: string | null
  /** bars as written and as played, without the pick-up */
  readonly bars: number
  readonly formBars: number
  /** beats a minute */
  readonly tempo: number
  /** id */
  readonly feel: string | null
}

export interface DiagnosticJson {
  readonly severity: 'error' | 'warning' | 'hint'
  readonly code: string
  /** both from 1; columns in UTF-16 units */
  readonly line: number
  readonly column: number
  readonly length: number
  readonly message: string
  readonly fixes: readonly string[]
}

export interface LineJson {
  /** the line's own terms and those of all its notes */
  readonly cost: number
  /** in a few words, what makes it another line than the first; `null` for the first */
  readonly differs: string | null
  /** points above the first line; above the best there is where lines are drawn */
  readonly aboveBest: number
  /** at most this many points above the best line there is */
  readonly provenWithin: number
  readonly terms: readonly TermJson[]
  readonly notes: readonly NoteJson[]
}

export interface TermJson {
  readonly rule: string
  readonly points: number
  /** number of the played bar, on a term of the line that belongs to one */
  readonly bar?: number
}

export interface NoteJson {
  /** number of the played bar, from 1; 0 in a pick-up */
  readonly bar: number
  readonly writtenBar: number
  /** an exact fraction of the count of the metre, from 1: `1`, `5/2` */
  readonly beat: string
  /** written time at 480 to the quarter, in form order */
  readonly startTick: number
  readonly ticks: number
  /** MIDI note number, sounding */
  readonly pitch: number
  readonly name: string
  /** from 1, the highest-sounding string */
  readonly string: number
  readonly fret: number
  readonly chord: string
  readonly degree: string
  readonly function: NoteFunction
  /** id; `null` where none is in force */
  readonly pattern: string | null
  /** id, or the notation where it has no id */
  readonly cell: string
  readonly ghost: boolean
  readonly terms: readonly TermJson[]
  /** what else it could be, the cheapest first; only of `explain`, where it is known */
  readonly alternatives?: readonly Alternative[]
}

export interface ConflictJson {
  readonly rules: readonly string[]
  readonly bars: readonly number[]
  readonly message: string
  readonly loosen: readonly string[]
}

/** A diagnostic with its place in the text. */
export function diagnosticJson(diagnostic: Diagnostic, text: string): DiagnosticJson {
  const { severity, code, span, message, fixes } = diagnostic
  return { severity, code, ...lineColumn(text, span.from), length: span.to - span.from, message, fixes }
}

/** An error that belongs to no place in the text: it stands at the first. */
export function errorJson(code: string, message: string): DiagnosticJson {
  return { severity: 'error', code, line: 1, column: 1, length: 0, message, fixes: [] }
}

/** The chart in short. */
export function chartJson({ chart, form, tempoBpm, feel }: Reading): ChartJson {
  const bars = chart.bars.length - (form.bars[0]?.number === 0 ? 1 : 0)
  return {
    title: chart.title ?? null,
    key: chart.key ? formatKey(chart.key) : null,
    bars,
    formBars: form.bars.filter((bar) => bar.number > 0).length,
    tempo: tempoBpm,
    feel: feel?.id ?? null,
  }
}

/** A line, each note of it with its place in the bar. */
export function lineJson(
  line: Line,
  best: Line,
  composition: Composition,
  alternatives?: readonly (readonly Alternative[])[],
): LineJson {
  const { form, instrument, settings } = composition
  return {
    cost: line.cost,
    differs: line === best ? null : differenceOf(line, best, form.bars),
    aboveBest: settings.surprise ? line.provenWithin : line.cost - best.cost,
    provenWithin: line.provenWithin,
    terms: line.terms.map((term) => termJson(term, form)),
    notes: line.notes.map((note, index) => ({
      ...noteJson(note, form, instrument.open.length),
      ...(alternatives ? { alternatives: alternatives[index]! } : {}),
    })),
  }
}

function termJson({ rule, points, barIndex }: CostTerm, form: Form): TermJson {
  return { rule, points, ...(barIndex === undefined ? {} : { bar: form.bars[barIndex]!.number }) }
}

function noteJson(note: LineNote, form: Form, strings: number): NoteJson {
  const { slot } = note
  const bar = form.bars[slot.barIndex]!
  return {
    bar: bar.number,
    writtenBar: bar.writtenNumber,
    beat: beatFraction(slot.startTick - bar.startTick, countTicks(bar.metre)),
    startTick: slot.startTick,
    ticks: slot.ticks,
    pitch: note.pitch,
    name: note.name,
    string: strings - note.string,
    fret: note.fret,
    chord: form.changes[slot.changeIndex]!.chord?.symbol.text ?? 'N.C.',
    degree: note.degree,
    function: note.function,
    pattern: note.pattern ?? null,
    cell: slot.cell,
    ghost: slot.ghost,
    terms: note.terms.map((term) => termJson(term, form)),
  }
}

/**
 * A place in a bar as an exact fraction of the count, from 1.
 *
 * @param tick  from the bar line
 * @param count  ticks of one count
 *
 * @example
 * beatFraction(0, 480) // => '1'
 * beatFraction(720, 480) // => '5/2'
 * beatFraction(160, 240) // => '5/3'
 */
export function beatFraction(tick: Tick, count: Tick): string {
  const divisor = greatestCommonDivisor(tick, count)
  const [over, under] = [(tick + count) / divisor, count / divisor]
  return under === 1 ? `${over}` : `${over}/${under}`
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b)
}
