import { formatKey, type Key, parseKey } from '../music/key.ts'
import { METRES, type Metre, metreOf } from '../music/metre.ts'
import type { Chart, Header, VocabularyWord, Written } from './chart.ts'
import type { Diagnoses } from './diagnostic.ts'
import { nearest } from './nearest.ts'
import type { Span } from './span.ts'

/** The headers of a chart, in the order in which they are printed. */
export const HEADER_NAMES = [
  'title',
  'composer',
  'key',
  'time',
  'tempo',
  'feel',
  'form',
  'groups',
  'pickup',
  'bass',
  'cells',
  'patterns',
  'rule',
] as const

export type HeaderName = (typeof HEADER_NAMES)[number]

/** What others call our headers. */
const OTHER_NAMES: Readonly<Record<string, HeaderName>> = {
  name: 'title',
  author: 'composer',
  by: 'composer',
  writer: 'composer',
  music: 'composer',
  metre: 'time',
  meter: 'time',
  'time signature': 'time',
  signature: 'key',
  bpm: 'tempo',
  speed: 'tempo',
  style: 'feel',
  groove: 'feel',
  structure: 'form',
  order: 'form',
  'pick-up': 'pickup',
  upbeat: 'pickup',
  instrument: 'bass',
  cell: 'cells',
  rhythms: 'cells',
  pattern: 'patterns',
  rules: 'rule',
}

/** A row of the text that reads `name: value`. */
export interface HeaderRow extends Header {
  /** the name with its colon */
  readonly nameSpan: Span
}

const LONGEST_NAME = 32

/**
 * The header that a row is; `undefined` if it is none. A colon at a bar line belongs to the repeat.
 *
 * @param from  where the row begins in the text
 */
export function headerRow(row: string, from: number): HeaderRow | undefined {
  const colon = row.indexOf(':')
  if (colon < 1 || row[colon + 1] === '|') return undefined
  const before = row.slice(0, colon)
  const name = before.trim()
  if (name.length > LONGEST_NAME || !/^\p{L}[\p{L} -]*$/u.test(name)) return undefined
  const value = row.slice(colon + 1).trim()
  const start = from + colon + 1 + (row.slice(colon + 1).length - row.slice(colon + 1).trimStart().length)
  return {
    name,
    nameSpan: { from: from + before.length - before.trimStart().length, to: from + colon + 1 },
    value,
    span: value === '' ? { from: from + colon + 1, to: from + colon + 1 } : { from: start, to: start + value.length },
  }
}

/** True if a header of ours has the name, small letters or capitals. */
export function isHeaderName(name: string): name is HeaderName {
  return (HEADER_NAMES as readonly string[]).includes(name)
}

/** What we would call an unknown header, with its colon; a row that ends with its colon may be a section. */
function headerFixes(row: HeaderRow): readonly string[] {
  const known = OTHER_NAMES[row.name.toLowerCase()] ?? nearest(row.name, HEADER_NAMES)
  if (known) return [`${known}:`]
  return row.value === '' ? [`[${row.name}]`] : []
}

/** Says that a header stands behind the first bar, where none is read. */
export function refuseLateHeader(row: HeaderRow, diagnoses: Diagnoses): void {
  const message = `Headers stand before the first bar, and "${row.name}:" does not. It is left out.`
  const isSection = row.value === '' && !isHeaderName(row.name.toLowerCase())
  diagnoses.warning('chart/late-header', row.nameSpan, message, isSection ? [`[${row.name}]`] : [])
}

/** What the headers of a chart say. */
export function readHeaders(rows: readonly HeaderRow[], diagnoses: Diagnoses): Omit<Chart, 'bars'> {
  const first = new Map<HeaderName, HeaderRow>()
  const rules: Written<string>[] = []
  const otherHeaders: Header[] = []
  for (const row of rows) {
    const name = row.name.toLowerCase()
    const { value, span } = row
    if (!isHeaderName(name)) {
      otherHeaders.push({ name: row.name, value, span })
      const message = `"${row.name}" is not a header we know. It is kept and changes nothing; the headers are ${HEADER_NAMES.join(', ')}.`
      diagnoses.warning('chart/unknown-header', row.nameSpan, message, () => headerFixes(row))
    } else if (value === '') {
      diagnoses.hint(
        'chart/empty-header',
        row.nameSpan,
        `"${name}:" says nothing. The chart is read as if it were not there.`,
      )
    } else if (name === 'rule') {
      rules.push({ value, span })
    } else if (first.has(name)) {
      const message = `"${name}:" stands here a second time. The first one counts, and this one is left out.`
      diagnoses.warning('chart/header-twice', row.nameSpan, message)
    } else first.set(name, row)
  }
  const read = <T>(name: HeaderName, of: (row: HeaderRow) => T): T | undefined => {
    const row = first.get(name)
    return row && of(row)
  }
  const metre = read('time', (row) => readMetre(row, diagnoses)) ?? metreOf('4/4')!
  return {
    title: first.get('title')?.value,
    composer: first.get('composer')?.value,
    key: read('key', (row) => readKey(row, diagnoses)),
    metre,
    tempoBpm: read('tempo', (row) => readTempo(row, diagnoses)),
    feel: read('feel', writtenOf),
    form: read('form', readForm),
    groups: read('groups', (row) => readGroups(row, diagnoses)),
    pickup: read('pickup', (row) => readPickup(row, diagnoses)) ?? false,
    bass: read('bass', writtenOf),
    cells: read('cells', (row) => readVocabulary(row, diagnoses)),
    patterns: read('patterns', (row) => readVocabulary(row, diagnoses)),
    rules,
    otherHeaders,
  }
}

function writtenOf({ value, span }: HeaderRow): Written<string> {
  return { value, span }
}

function readKey({ value, span }: HeaderRow, diagnoses: Diagnoses): Key | undefined {
  const key = parseKey(value)
  if (key) return key
  const message = `"${shown(value)}" is not a key: one is written F, Bb, Dm or F# minor, with at most seven sharps or flats. The chart is read without a key.`
  diagnoses.warning('chart/wrong-key', span, message, () => keyFixes(value))
  return undefined
}

/** A key in other words, `d minor` or `B flat`; or the one that sounds the same, if it would take too many accidentals. */
function keyFixes(value: string): readonly string[] {
  const plain = value.slice(0, LONGEST_NAME)
  const words = plain
    .replace(/^[a-g]/, (letter) => letter.toUpperCase())
    .replace(/^[Hh]/, 'B')
    .replace(/[ -]*flat/i, 'b')
    .replace(/[ -]*sharp/i, '#')
    .replace(/\b(major|minor|maj|min)\b/i, (word) => ` ${word.toLowerCase()}`)
  const same: Readonly<Record<string, string>> = { 'G#': 'Ab', 'D#': 'Eb', 'A#': 'Bb', 'E#': 'F', 'B#': 'C', Fb: 'E' }
  const minor: Readonly<Record<string, string>> = { Gb: 'F#', Db: 'C#', Cb: 'B', 'E#': 'F', 'B#': 'C', Fb: 'E' }
  const respelt = /^([A-G][#b])(.*)$/.exec(words)
  const [, tonic = '', rest = ''] = respelt ?? []
  const tries = [words, (/^ *m(?!aj)/.test(rest) ? minor[tonic] : same[tonic]) + rest]
  return [...new Set(tries.map((one) => parseKey(one)).filter((key) => key !== undefined))].map(formatKey).slice(0, 1)
}

function readMetre({ value, span }: HeaderRow, diagnoses: Diagnoses): Metre | undefined {
  const metre = metreOf(value.replace(/\s/g, ''))
  if (metre) return metre
  const message = `"${shown(value)}" is not a metre of ours: they are ${METRES.join(', ')}. The chart is read in 4/4.`
  diagnoses.warning('chart/unknown-metre', span, message, () => metreFixes(value))
  return undefined
}

/** Metres of ours near another one. */
export function metreFixes(text: string): readonly string[] {
  const plain = text.replace(/\s/g, '').toLowerCase().slice(0, LONGEST_NAME)
  const words: Readonly<Record<string, string>> = {
    c: '4/4',
    common: '4/4',
    cut: '4/4',
    '2/2': '4/4',
    '4': '4/4',
    '3': '3/4',
    waltz: '3/4',
    '3/8': '6/8',
    '6/4': '3/4',
    '8/8': '4/4',
    '4/8': '2/4',
  }
  const known = words[plain] ?? METRES.find((metre) => metre.replace('/', '') === plain.replace(/\D/g, ''))
  const near = known ?? METRES.find((metre) => metre.split('/')[0] === plain.split('/')[0])
  return near ? [near] : []
}

/** The slowest and the fastest beat that anybody plays to. */
const TEMPO = { least: 20, most: 400 }

function readTempo({ value, span }: HeaderRow, diagnoses: Diagnoses): number | undefined {
  const match = /^(?:[♩q] ?= ?)?(\d{1,6}(?:\.\d{1,6})?)(?: ?bpm)?$/i.exec(value)
  const bpm = Number(match?.[1])
  if (match && bpm >= TEMPO.least && bpm <= TEMPO.most) return bpm
  const message = `"${shown(value)}" is not a tempo: it is a number of beats a minute, ${TEMPO.least} to ${TEMPO.most}. The tempo of the feel is taken.`
  const digits = /\d{2,3}/.exec(value.slice(0, LONGEST_NAME))?.[0]
  const fits = digits !== undefined && !match && Number(digits) >= TEMPO.least && Number(digits) <= TEMPO.most
  diagnoses.warning('chart/wrong-tempo', span, message, fits ? [digits] : [])
  return undefined
}

/** The names of the sections, word by word; a comma parts them too. */
function readForm({ value, span }: HeaderRow): readonly Written<string>[] {
  return [...value.matchAll(/[^\s,]+/g)].map((match) => ({
    value: match[0],
    span: { from: span.from + match.index, to: span.from + match.index + match[0].length },
  }))
}

/** The metres whose groups a chart may choose. */
const GROUPED = [5, 7]

function readGroups({ value, span }: HeaderRow, diagnoses: Diagnoses): readonly number[] | undefined {
  const plain = value.replace(/\s/g, '')
  const groups = /^[1-9](\+[1-9])*$/.test(plain.slice(0, LONGEST_NAME)) ? plain.split('+').map(Number) : []
  const sum = groups.reduce((total, group) => total + group, 0)
  if (plain.length <= LONGEST_NAME && groups.length > 1 && GROUPED.includes(sum) && groups.every((group) => group > 1))
    return groups
  const message = `"${shown(value)}" are no beat groups: they are written 3+2 for 5/4 and 3+2+2 for 7/8. The usual ones are taken, 3+2 and 2+2+3.`
  diagnoses.warning('chart/wrong-groups', span, message)
  return undefined
}

/** The metre written as `text`, in the groups that the chart asks for where they are its groups. */
export function groupedMetre(text: string, groups: readonly number[] | undefined): Metre | undefined {
  const usual = metreOf(text)
  if (!usual || !groups || !GROUPED.includes(usual.upper)) return usual
  return metreOf(text, groups) ?? usual
}

function readPickup({ value, span }: HeaderRow, diagnoses: Diagnoses): boolean {
  const word = value.toLowerCase()
  if (word === 'yes' || word === 'no') return word === 'yes'
  const message = `"${shown(value)}" is neither yes nor no. The chart is read without a pick-up; its length stands in the first bar, (1/4).`
  diagnoses.warning('chart/wrong-pickup', span, message, ['yes', 'no'])
  return false
}

/** Ids, and notations in quotes, parted by blanks or commas. */
function readVocabulary({ value, span }: HeaderRow, diagnoses: Diagnoses): readonly VocabularyWord[] {
  const words: VocabularyWord[] = []
  for (const match of value.matchAll(/["“”„]([^"“”„]*)(["“”„]?)|[^\s,"“”„]+/g)) {
    const from = span.from + match.index
    const to = from + match[0].length
    const notation = match[1]
    if (notation === undefined) words.push({ text: match[0], quoted: false, span: { from, to } })
    else words.push({ text: notation, quoted: true, span: { from: from + 1, to: from + 1 + notation.length } })
    if (notation !== undefined && match[2] === '')
      diagnoses.warning(
        'chart/open-quote',
        { from, to },
        'This quote is not closed. It is read to the end of the row.',
        [`"${notation}"`],
      )
  }
  return words
}

/** A value as a message quotes it. */
export function shown(text: string): string {
  return text.length > LONGEST_NAME ? `${text.slice(0, LONGEST_NAME)}…` : text
}
