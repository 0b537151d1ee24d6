import { BarReader } from './bar-reader.ts'
import type { Chart } from './chart.ts'
import { Diagnoses, type Diagnostic } from './diagnostic.ts'
import { type HeaderRow, headerRow, readHeaders, refuseLateHeader } from './header.ts'
import { type Row, rowsOf } from './row.ts'
import { tokensOf } from './token.ts'
import { WordReader } from './word.ts'

/** A text that is longer is no chart: this is some ten thousand bars. In UTF-16 units. */
export const LONGEST_TEXT = 262_144

/**
 * Reads a chart. Whatever the text, there is a chart, and a list of what is to be said about it in the order of the text; takes time
 * in proportion to the length of the text. What concerns the order in which bars are played is said by `unfold`.
 */
export function parseChart(text: string): { readonly chart: Chart; readonly diagnostics: readonly Diagnostic[] } {
  const diagnoses = new Diagnoses()
  if (text.length > LONGEST_TEXT) {
    const message = `This text has ${text.length} signs, and a chart has at most ${LONGEST_TEXT}. None of it is read.`
    diagnoses.error('chart/too-long', { from: 0, to: 0 }, message)
    return { chart: { ...readHeaders([], diagnoses), bars: [] }, diagnostics: diagnoses.list }
  }

  // Headers first, wherever they stand before the first bar: they say what the bars are counted in.
  const headers: HeaderRow[] = []
  const music: Row[] = []
  const words = new WordReader()
  let begun = false
  for (const row of rowsOf(text)) {
    if (row.text.trim() === '') continue
    const header = headerRow(row.text, row.from)
    if (!header) {
      music.push(row)
      begun ||= hasBars(row, words)
    } else if (!begun) headers.push(header)
    else refuseLateHeader(header, diagnoses)
  }
  const head = readHeaders(headers, diagnoses)

  const bars = new BarReader(head, words, diagnoses)
  for (const row of music) bars.readRow(row)
  const chart: Chart = { ...head, ...bars.finish() }
  const groups = headers.find(({ name }) => name.toLowerCase() === 'groups')
  if (chart.groups && groups) checkGroups(chart, chart.groups, groups, diagnoses)
  if (chart.bars.every(({ number }) => number === 0)) {
    const message =
      'This chart has no bar but perhaps a pick-up. Bars are written | Dm7 G7 | Cmaj7 |, chords between bar lines.'
    diagnoses.error('chart/no-bars', { from: text.length, to: text.length }, message)
  }
  return { chart, diagnostics: diagnoses.list }
}

/** True if the row begins the bars: not a section alone, and no remark. */
export function hasBars(row: Row, words: WordReader): boolean {
  const tokens = tokensOf(row)
  return tokens.some(({ kind }) => kind === 'line' || kind === 'word') && !words.isProse(tokens)
}

function checkGroups(chart: Chart, groups: readonly number[], row: HeaderRow, diagnoses: Diagnoses): void {
  const sum = groups.reduce((total, group) => total + group, 0)
  if (chart.bars.length === 0 || chart.bars.some(({ metre }) => metre.upper === sum)) return
  const message = `These are the groups of ${sum} beats, and no bar has so many. They change nothing.`
  diagnoses.hint('chart/groups-not-used', row.span, message)
}
