import type { Form, FormBar } from './chart/form.ts'
import type { LineJson, NoteJson, TermJson } from './cli-json.ts'
import type { Composition } from './compose.ts'
import type { RulePrice } from './line/rule-price.ts'

/** Text for a terminal: control characters of the input would steer it. */
export function printable(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters meant
  return text.replace(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/g, '\ufffd')
}

/**
 * Rows in columns, two blanks between, without blanks at the ends of rows.
 *
 * @example
 * columns([['bar', 'note'], ['1', 'F1']]) // => 'bar  note\n1    F1'
 */
export function columns(rows: readonly (readonly string[])[]): string {
  const widths: number[] = []
  for (const row of rows)
    for (const [i, cell] of row.entries()) if (row.length > 1) widths[i] = Math.max(widths[i] ?? 0, cell.length)
  return rows
    .map((row) =>
      row
        .map((cell, i) => cell.padEnd(widths[i] ?? 0))
        .join('  ')
        .trimEnd(),
    )
    .join('\n')
}

/** What is played: title, feel, tempo, key, instrument. */
export function heading({ chart, feel, tempoBpm, instrument }: Composition, key: string | null): string {
  const parts = [feel?.name, `tempo ${tempoBpm}`, key && `key of ${key}`, instrument.name]
  const how = parts.filter((part) => part).join('; ')
  return printable(chart.title === undefined ? how : `${chart.title}: ${how}`)
}

/** Which line it is, and how good. */
export function standing(line: LineJson, index: number, count: number, isDrawn: boolean): string {
  const differs = line.differs ? `, ${line.differs}` : ''
  const head = `Line ${index + 1} of ${count}: ${points(line.cost)}`
  if (isDrawn) return `${head}, drawn ${points(line.aboveBest)} above the best there is${differs}`
  const proof = line.provenWithin === 0 ? '' : `, at most ${points(line.provenWithin)} above the best there is`
  if (index === 0) return `${head}${proof || ', the best there is'}`
  return `${head}, ${points(line.aboveBest)} above the first${proof}${differs}`
}

function points(count: number): string {
  return count === 1 ? '1 point' : `${count} points`
}

/** A line as a table: a row for each played bar, notes parted by ` . ` where a chord changes inside it. */
export function barTable(line: LineJson, { form }: Composition): string {
  const rows: string[][] = [['bar', 'chords', 'notes', 'degrees', 'string/fret', 'cell']]
  const byBar = new Map<number, NoteJson[]>()
  for (const note of line.notes) byBar.set(note.bar, [...(byBar.get(note.bar) ?? []), note])
  for (const bar of form.bars) {
    if (bar.section !== undefined) rows.push([`[${bar.section}]`])
    const notes = byBar.get(bar.number) ?? []
    rows.push([
      barNumber(bar),
      chordsOf(bar, form),
      spread(notes, shownName),
      spread(notes, (note) => (note.ghost ? 'x' : note.degree)),
      spread(notes, placeOf),
      [...new Set(notes.map((note) => note.cell))].join(' + '),
    ])
  }
  return printable(columns(rows))
}

/** The number as played, and in brackets the one on the page where it is another. */
function barNumber(bar: FormBar): string {
  return bar.number === bar.writtenNumber ? `${bar.number}` : `${bar.number} (${bar.writtenNumber})`
}

function chordsOf(bar: FormBar, form: Form): string {
  const first = form.changes.indexOf(bar.changes[0]!)
  return bar.changes
    .filter((change, i) => i === 0 || !change.held || form.changes[first + i - 1]?.chord !== change.chord)
    .map((change) => change.chord?.symbol.text ?? 'N.C.')
    .join(' ')
}

function spread(notes: readonly NoteJson[], show: (note: NoteJson) => string): string {
  return notes
    .map((note, i) => (i > 0 && notes[i - 1]!.chord !== note.chord ? `. ${show(note)}` : show(note)))
    .join(' ')
}

/** `<` before a note that is struck early and belongs to the chord it anticipates; `x` a dead note. */
function shownName(note: NoteJson): string {
  return note.ghost ? 'x' : note.function === 'anticipation' ? `<${note.name}` : note.name
}

function placeOf(note: NoteJson): string {
  return `${note.string}/${note.fret}`
}

/** So many other notes are named in the table. */
const MOST_ALTERNATIVES = 3

/**
 * A line as a table with a row for each note, what else it could be where that is known, and why it is there. The points of the last
 * column add up to the line's cost.
 */
export function noteTable(line: LineJson): string {
  const isKnown = line.notes.some(({ alternatives }) => alternatives !== undefined)
  const others = (cell: string) => (isKnown ? [cell] : [])
  const rows = [['bar', 'beat', 'note', 'string/fret', 'degree', 'function', 'pattern', ...others('or'), 'why']]
  for (const note of line.notes) {
    rows.push([
      `${note.bar}`,
      note.beat,
      shownName(note),
      placeOf(note),
      `${note.degree} of ${note.chord}`,
      note.function,
      note.pattern ?? '-',
      ...others(nearest(note) || '-'),
      why(note.terms),
    ])
  }
  const plan = line.terms.filter((term) => term.points > 0)
  const planRow = plan.length > 0 ? `\nthe plan: ${plan.map(planTerm).join(', ')}` : ''
  return printable(columns(rows) + planRow)
}

/** The nearest other notes, and how far above the best their lines are: `F2 +3, G2 +4`. */
function nearest({ alternatives = [] }: NoteJson): string {
  const near = alternatives.slice(0, MOST_ALTERNATIVES)
  return near.map(({ name, above }) => `${name} +${above}`).join(', ')
}

function why(terms: readonly TermJson[]): string {
  const paid = terms.filter((term) => term.points > 0)
  return paid.length === 0 ? '0' : paid.map((term) => `${term.rule} ${term.points}`).join(', ')
}

function planTerm({ rule, points, bar }: TermJson): string {
  return bar === undefined ? `${rule} ${points}` : `${rule} ${points} (bar ${bar})`
}

/** What the line cost, rule by rule, the dearest first. */
export function costRow(line: LineJson): string {
  const sums = new Map<string, number>()
  for (const term of [...line.terms, ...line.notes.flatMap((note) => note.terms)])
    sums.set(term.rule, (sums.get(term.rule) ?? 0) + term.points)
  const paid = [...sums].filter(([, sum]) => sum > 0).sort(([a, x], [b, y]) => y - x || (a < b ? -1 : 1))
  return `cost ${line.cost}${paid.length > 0 ? ` = ${paid.map(([rule, sum]) => `${rule} ${sum}`).join(' + ')}` : ''}`
}

/** What the rules cost the line, a row each; empty without rules. */
export function priceRows(prices: readonly RulePrice[]): string {
  const rows = prices.map(({ sentence, points: price, within }) => {
    const about = within === 0 ? '' : `, give or take ${within}`
    return `${sentence} costs ${price === 0 ? 'nothing' : points(price)}${about}`
  })
  return printable(rows.join('\n'))
}
