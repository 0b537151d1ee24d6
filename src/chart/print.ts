import { formatKey } from '../music/key.ts'
import { beatsOf, formatMetre } from '../music/metre.ts'
import type { Chart, PlacedChord, VocabularyWord, WrittenBar } from './chart.ts'
import { shareBeats } from './place.ts'

const BARS_IN_A_ROW = 4

/**
 * A chart as text, headers first, four bars in a row. Read again it is the same chart, but for the places in the text; what was left
 * out when it was read, comments among it, is not there.
 */
export function printChart(chart: Chart): string {
  return `${[printHeaders(chart).join('\n'), printBars(chart)].filter((part) => part !== '').join('\n\n')}\n`
}

function printHeaders(chart: Chart): readonly string[] {
  const headers: [name: string, value: string | undefined][] = [
    ['title', chart.title],
    ['composer', chart.composer],
    ['key', chart.key && formatKey(chart.key)],
    ['time', formatMetre(chart.metre) === '4/4' ? undefined : formatMetre(chart.metre)],
    ['tempo', chart.tempoBpm?.toString()],
    ['feel', chart.feel?.value],
    ['form', chart.form?.map(({ value }) => value).join(' ')],
    ['groups', chart.groups?.join('+')],
    ['pickup', chart.pickup ? 'yes' : undefined],
    ['bass', chart.bass?.value],
    ['cells', chart.cells && printVocabulary(chart.cells)],
    ['patterns', chart.patterns && printVocabulary(chart.patterns)],
    ...chart.rules.map(({ value }): [string, string] => ['rule', value]),
    ...chart.otherHeaders.map(({ name, value }): [string, string] => [name, value]),
  ]
  return headers.flatMap(([name, value]) => (value === undefined ? [] : [`${name}: ${value}`.trimEnd()]))
}

function printVocabulary(words: readonly VocabularyWord[]): string {
  return words.map(({ text, quoted }) => (quoted ? `"${text}"` : text)).join(' ')
}

function printBars({ bars, metre, pickup }: Chart): string {
  const rows: string[] = []
  let row = ''
  let inRow = 0
  let metreBefore = formatMetre(metre)
  for (const [i, bar] of bars.entries()) {
    if (bar.section) rows.push(...(rows.length > 0 ? [''] : []), `[${bar.section.value}]`)
    const own = formatMetre(bar.metre)
    const change = own === metreBefore ? '' : `(${own}) `
    row = `${opened(row, bar)} ${change}${printChords(bar)} `
    metreBefore = pickup && i === 0 ? formatMetre(metre) : own
    row += closingOf(bar)
    inRow++
    const next = bars[i + 1]
    if (inRow < BARS_IN_A_ROW && next && !next.section && !countMayFollow(bar, next)) continue
    rows.push(row)
    row = ''
    inRow = 0
  }
  return rows.join('\n')
}

/** What nobody can read must not be read as the count of the repeat before it. */
function countMayFollow({ repeatEnd }: WrittenBar, next: WrittenBar): boolean {
  if (!repeatEnd || repeatEnd.value !== undefined || next.repeatStart || next.ending) return false
  return next.chords[0]?.word.kind === 'unread'
}

/** A row with what stands before its next bar. A plain line that stands there already becomes a part of it. */
function opened(row: string, { repeatStart, ending }: WrittenBar): string {
  if (row !== '' && !repeatStart && !ending) return row
  const line = `|${repeatStart ? ':' : ''}${ending ? `${ending.value.join(',')}.` : ''}`
  if (row === '') return line
  return row.endsWith(' |') ? row.slice(0, -1) + line : `${row} ${line}`
}

function closingOf({ repeatEnd, barLine }: WrittenBar): string {
  const line = { single: '|', double: '||', final: '|]' }[barLine]
  if (!repeatEnd) return line
  return `:${line}${repeatEnd.value === undefined ? '' : `x${repeatEnd.value}`}`
}

function printChords(bar: WrittenBar): string {
  const { chords, metre } = bar
  if (chords.length === 0) return '%'
  const even = chords.length <= beatsOf(metre).length ? shareBeats(metre, chords.length) : []
  const isEven = chords.every(({ word, beats }, i) => beats === even[i] && word.kind !== 'slash')
  return chords.map((chord) => printChord(chord) + (isEven ? '' : ' /'.repeat(chord.beats - 1))).join(' ')
}

function printChord({ word }: PlacedChord): string {
  switch (word.kind) {
    case 'chord':
      return word.symbol.text
    case 'no-chord':
      return 'N.C.'
    case 'unread':
      return word.text
    case 'slash':
      return '/'
  }
}
