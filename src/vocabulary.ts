import type { VocabularyWord } from './chart/chart.ts'
import type { Diagnoses } from './chart/diagnostic.ts'
import type { FormBar } from './chart/form.ts'
import { nearest } from './chart/nearest.ts'
import type { Feel, Weighted } from './feels/feel.ts'
import { weightedOf } from './feels/feel-rows.ts'
import { FEEL_BY_METRE } from './feels/feels.ts'
import type { WeightedPattern } from './line/groove/pairing.ts'
import { ownPattern, parsePattern } from './line/pattern.ts'
import { PATTERNS, patternOf } from './line/patterns.ts'
import { barTicks, formatMetre, type Metre, metreOf } from './music/metre.ts'
import { parseCell } from './rhythm/cell.ts'
import { CELLS, cellOf } from './rhythm/cells.ts'
import { fitsBar, type WeightedCell } from './rhythm/plan.ts'
import { regrouped } from './rhythm/regroup.ts'

/** The words a line may be made of. */
export interface Vocabulary {
  /** the cells for a bar, by its metre */
  readonly cellsOf: (bar: FormBar) => readonly WeightedCell[]
  /** the cells for bars of the feel's metre */
  readonly cells: readonly WeightedCell[]
  readonly patterns: readonly WeightedPattern[]
  /** the player named cells */
  readonly cellsChosen: boolean
  /** the player named the patterns, so in a walking line they are in force */
  readonly patternsChosen: boolean
}

/** The vocabulary that a chart asks for, or its feel's. What cannot be used is said and left out. */
export function vocabularyOf(
  feel: Feel,
  asked: {
    readonly cells: readonly VocabularyWord[] | undefined
    readonly patterns: readonly VocabularyWord[] | undefined
  },
  bars: readonly FormBar[],
  diagnoses: Diagnoses,
): Vocabulary {
  const chosen = each(asked.cells?.flatMap((word) => cellIn(word, feel.cells, bars, diagnoses)) ?? [], ({ id }) => id)
  const known = new Map<string, readonly WeightedCell[]>()
  const cellsOf = (bar: Pick<FormBar, 'metre' | 'ticks'>): readonly WeightedCell[] => {
    const fitting = chosen.filter(({ cell }) => fitsBar(cell, bar))
    if (fitting.length > 0) return fitting
    const metre = formatMetre(bar.metre)
    const key = `${metre} ${bar.metre.groups}`
    const rows = metre === feel.metre ? feel.cells : FEEL_BY_METRE.get(metre)?.cells
    const cells = known.get(key) ?? cellsOfRows(rows ?? CELLS_BY_METRE.get(metre) ?? [], bar.metre)
    known.set(key, cells)
    return cells
  }
  const feelMetre = metreOf(feel.metre)!
  const home = bars.find((bar) => formatMetre(bar.metre) === feel.metre)
  const patterns = each(
    asked.patterns?.flatMap((word) => patternIn(word, feel.patterns, diagnoses)) ?? [],
    ({ pattern }) => pattern.id,
  )
  const usualPatterns = feel.patterns.map(({ id, weight }) => ({ pattern: patternOf(id)!, weight }))
  return {
    cellsOf,
    cells: cellsOf(home ?? { metre: feelMetre, ticks: barTicks(feelMetre) }),
    cellsChosen: chosen.length > 0,
    patterns: patterns.length > 0 ? patterns : usualPatterns,
    patternsChosen: patterns.length > 0,
  }
}

/** Words that are said twice are one. */
function each<Word>(words: readonly Word[], idOf: (word: Word) => string): readonly Word[] {
  return [...new Map(words.map((word) => [idOf(word), word])).values()]
}

/** Cells of metres that no feel is in. Source: common practice, no source. */
const CELLS_BY_METRE: ReadonlyMap<string, readonly Weighted[]> = new Map([
  ['2/4', weightedOf('two-in-two:4 two-in-two-skip:1')],
  ['9/8', weightedOf('nine-three:4 nine-long-short:1')],
])

/** The cells of a feel in a metre: in the beat groups of the bar, or as they are written where none can be told in them. */
function cellsOfRows(rows: readonly Weighted[], metre: Metre): readonly WeightedCell[] {
  const written = rows.map((row) => ({ ...row, cell: cellOf(row.id)! }))
  const usual = metreOf(formatMetre(metre))!
  const grouped = written.flatMap((row) => {
    const cell = row.cell.ticks < barTicks(metre) ? row.cell : regrouped(row.cell, usual, metre.groups)
    return cell ? [{ ...row, cell }] : []
  })
  return grouped.length > 0 ? grouped : written
}

/** How often a feel uses a word; one that it does not know, as often as its rarest. */
function weightOf(id: string, rows: readonly Weighted[]): number {
  return rows.find((row) => row.id === id)?.weight ?? 1
}

function cellIn(
  { text, quoted, span }: VocabularyWord,
  usual: readonly Weighted[],
  bars: readonly FormBar[],
  diagnoses: Diagnoses,
): readonly WeightedCell[] {
  const named = quoted ? undefined : cellOf(text)
  const reading = named ? ({ ok: true, cell: named } as const) : parseCell(text)
  if (!reading.ok) {
    if (quoted) {
      diagnoses.warning(`cell/${reading.code}`, span, `${sentence(reading.message)} It is left out.`)
    } else {
      const near = nearest(
        text,
        CELLS.map((cell) => cell.id),
      )
      const message = `There is no cell "${text}"; a cell of your own stands in quotes. It is left out.`
      diagnoses.warning('cell/unknown', span, message, near ? [near] : [])
    }
    return []
  }
  if (!bars.some((bar) => fitsBar(reading.cell, bar))) {
    diagnoses.warning('cell/fits-no-bar', span, `The cell "${text}" fits no bar of this chart. It is left out.`)
    return []
  }
  return [{ id: text, cell: reading.cell, weight: weightOf(text, usual) }]
}

function patternIn(
  { text, quoted, span }: VocabularyWord,
  usual: readonly Weighted[],
  diagnoses: Diagnoses,
): readonly WeightedPattern[] {
  const named = quoted ? undefined : patternOf(text)
  if (named) return [{ pattern: named, weight: weightOf(text, usual) }]
  const reading = parsePattern(text)
  if (!reading.ok) {
    if (quoted) {
      diagnoses.warning(`line/pattern-${reading.code}`, span, `${sentence(reading.message)} It is left out.`)
    } else {
      const near = nearest(
        text,
        PATTERNS.map((pattern) => pattern.id),
      )
      const message = `There is no pattern "${text}"; a pattern of your own stands in quotes. It is left out.`
      diagnoses.warning('line/unknown-pattern', span, message, near ? [near] : [])
    }
    return []
  }
  return [{ pattern: ownPattern(text, reading.tokens), weight: 1 }]
}

function sentence(message: string): string {
  return message.endsWith('.') ? message : `${message}.`
}
