import { HEADER_NAMES, type HeaderName, headerRow, isHeaderName } from './header.ts'
import { hasBars } from './parse.ts'
import { rowsOf } from './row.ts'
import type { Span } from './span.ts'
import { WordReader } from './word.ts'

/** A change of a text: what stands in the span gives way to `insert`. */
export interface TextEdit extends Span {
  readonly insert: string
}

/** A header that a chart has once. */
export type SingleHeaderName = Exclude<HeaderName, 'rule'>

/** A header row before the first bar, where it stands and what it reads. */
interface HeadRow {
  readonly name: string
  /** of the value; empty behind the colon where there is none */
  readonly value: Span
  /** the row up to its comment */
  readonly row: Span
  /** where the next row begins; the end of the text if there is none */
  readonly next: number
  readonly hasComment: boolean
}

/**
 * The edit that makes a chart's text say `name: value`, or say nothing of it where the value is absent or blank.
 *
 * The value of the first row with that name gives way; a row that is not there yet comes to its usual place among the headers, in
 * the order of `HEADER_NAMES`, with the line end of the text. All other rows, comments and line ends stay. To say nothing, every
 * row with the name goes; its comment stays. Where nothing has to change, the edit is empty.
 *
 * @throws RangeError  for a value that would not be read back: with a line end or a comment's slashes in it
 *
 * @example
 * headerEdit('tempo: 90\n| C7 |\n', 'tempo', '120') // => { from: 7, to: 9, insert: '120' }
 * headerEdit('key: F\n| C7 |\n', 'feel', 'shuffle') // => { from: 7, to: 7, insert: 'feel: shuffle\n' }
 * headerEdit('key: F\nfeel: shuffle\n| C7 |\n', 'feel', undefined) // => { from: 7, to: 21, insert: '' }
 */
export function headerEdit(text: string, name: SingleHeaderName, value: string | undefined): TextEdit {
  const edits = rowEdits(text, name, value)
  const first = edits[0] ?? { from: 0, to: 0, insert: '' }
  if (edits.length < 2) return first
  const { from } = first
  const { to } = edits.at(-1)!
  return { from, to, insert: editedText(text.slice(0, to), edits).slice(from) }
}

/**
 * The edit that makes a chart's text ask for these cells or patterns: ids bare, notations in quotes. None: the row goes, and the
 * feel's own are in force.
 *
 * @example
 * vocabularyEdit('| C7 |', 'cells', ['four-quarters', '1 2& 3 4']).insert // => 'cells: four-quarters "1 2& 3 4"\n\n'
 */
export function vocabularyEdit(text: string, name: 'cells' | 'patterns', words: readonly string[]): TextEdit {
  return headerEdit(text, name, words.length === 0 ? undefined : words.map(vocabularyWord).join(' '))
}

/**
 * The edits that give a chart another feel: its row is set, and the rows of cells and patterns go, since a feel has its own. All of
 * them count places in the same, unedited text; none overlaps another.
 */
export function feelEdits(text: string, id: string): readonly TextEdit[] {
  const edits = [
    ...rowEdits(text, 'feel', id),
    ...rowEdits(text, 'cells', undefined),
    ...rowEdits(text, 'patterns', undefined),
  ]
  return edits.sort((a, b) => a.from - b.from || a.to - b.to)
}

/**
 * The text with its edits made, which are in order of place and do not overlap.
 *
 * @example
 * editedText('C7 F7', [{ from: 1, to: 2, insert: 'm' }, { from: 5, to: 5, insert: ' |' }]) // => 'Cm F7 |'
 */
export function editedText(text: string, edits: readonly TextEdit[]): string {
  let result = ''
  let at = 0
  for (const { from, to, insert } of edits) {
    result += text.slice(at, from) + insert
    at = to
  }
  return result + text.slice(at)
}

/** Ids are words of letters joined by hyphens; notations never are. */
function vocabularyWord(word: string): string {
  if (/^[a-z]+(-[a-z]+)*$/.test(word)) return word
  if (/["“”„]/.test(word)) throw new RangeError(`A notation has no quotes in it, and this one has: ${word}`)
  return `"${word}"`
}

/** The edits of one header, row by row, in order of place. */
function rowEdits(text: string, name: SingleHeaderName, value: string | undefined): readonly TextEdit[] {
  const said = value?.trim() ?? ''
  if (/[\r\n]|\/\//.test(said))
    throw new RangeError(`A header's value stands in one row and has no // in it: ${JSON.stringify(said)}`)
  const { rows, musicFrom } = headOf(text)
  const own = rows.filter((row) => row.name === name)
  if (said === '')
    return own.map((row) => ({ from: row.row.from, to: row.hasComment ? row.row.to : row.next, insert: '' }))
  const kept = own.find((row) => row.value.to > row.value.from) ?? own[0]
  if (kept) return [valueEdit(text, kept.value, said)]

  // Behind the last row that usually stands before it, else before the first that stands behind it.
  const lineEnd = /\r\n?|\n/.exec(text)?.[0] ?? '\n'
  const rank = rankOf(name)
  const before = rows.findLast((row) => rankOf(row.name) < rank)
  const at = before?.next ?? rows[0]?.row.from ?? musicFrom
  if (at === text.length && /[^\r\n\uFEFF]$/.test(text))
    return [{ from: at, to: at, insert: `${lineEnd}${name}: ${said}` }]
  const gap = rows.length === 0 && at < text.length ? lineEnd : ''
  return [{ from: at, to: at, insert: `${name}: ${said}${lineEnd}${gap}` }]
}

/** A colon with a bar line close behind it would be a repeat. */
function valueEdit(text: string, { from, to }: Span, value: string): TextEdit {
  const old = text.slice(from, to)
  if (old === value) return { from, to: from, insert: '' }
  return { from, to, insert: text[from - 1] === ':' ? ` ${value}` : value }
}

function rankOf(name: string): number {
  return isHeaderName(name) ? HEADER_NAMES.indexOf(name) : HEADER_NAMES.length
}

/** The header rows that count, those before the first bar, and where the first row of anything else begins. */
function headOf(text: string): { readonly rows: readonly HeadRow[]; readonly musicFrom: number } {
  const rows: HeadRow[] = []
  const words = new WordReader()
  const all = rowsOf(text)
  let musicFrom: number | undefined
  for (const [index, row] of all.entries()) {
    if (row.text.trim() === '') continue
    const header = headerRow(row.text, row.from)
    if (!header) {
      musicFrom ??= row.from
      if (hasBars(row, words)) break
      continue
    }
    rows.push({
      name: header.name.toLowerCase(),
      value: header.span,
      row: { from: row.from, to: row.from + row.text.length },
      next: all[index + 1]?.from ?? text.length,
      hasComment: row.comment !== undefined,
    })
  }
  return { rows, musicFrom: musicFrom ?? text.length }
}
