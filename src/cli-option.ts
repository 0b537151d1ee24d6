import { type Command, Option } from 'commander'
import { nearest } from './chart/nearest.ts'
import { rowsOf } from './chart/row.ts'
import { FEELS } from './feels/feels.ts'
import type { MidiReader } from './files/midi-writer.ts'
import { parsePattern } from './line/pattern.ts'
import { PATTERNS } from './line/patterns.ts'
import { readRule } from './line/rule-sentence.ts'
import type { PartName } from './music/arrangement.ts'
import { INSTRUMENTS } from './music/instruments.ts'
import { parseCell } from './rhythm/cell.ts'
import { CELLS } from './rhythm/cells.ts'
import { type Settings, SURPRISES, type SurpriseName } from './settings.ts'

/** The command was called in a way that it does not know. */
export class UsageError extends Error {}

/** What is asked of `compose` and `explain`. */
export interface Asked {
  readonly settings: Settings
  readonly file: MidiFileAsked | undefined
  /** the path of a file of rules, a sentence a row, or `-` */
  readonly rulesFile: string | undefined
  readonly json: boolean
}

/** The MIDI file that is asked for. */
export interface MidiFileAsked {
  readonly path: string
  readonly reader: MidiReader
  readonly straight: boolean
  readonly parts: readonly PartName[]
}

const PARTS: readonly PartName[] = ['bass', 'chords', 'drums', 'click']
const READERS: readonly MidiReader[] = ['player', 'sequencer']

/** Limits of what one call may ask for. Source: our choice; each keeps a call within some seconds. */
const MOST = { variations: 20, choruses: 50, tempo: 400, seed: 4294967295 }
const LEAST_TEMPO = 20

/** The options of `compose` and `explain`. What is not here is refused. */
export function addComposeOptions(command: Command): Command {
  const option = (flags: string, description: string, parse: (text: string, before: unknown) => unknown) =>
    command.addOption(new Option(flags, description).argParser(parse))
  option('--feel <id>', "how it is played, instead of the chart's feel", (id) => known('--feel', id, 'feel', FEELS))
  option('--tempo <bpm>', "beats a minute, instead of the chart's tempo", (text) =>
    numberIn('--tempo', text, LEAST_TEMPO, MOST.tempo),
  )
  option('--cells <list>', "rhythm cells, instead of the chart's or the feel's: ids or notations", (text) =>
    vocabulary('--cells', text, 'cell', CELLS, (notation) => parseCell(notation)),
  )
  option('--patterns <list>', "degree patterns, instead of the chart's or the feel's: ids or notations", (text) =>
    vocabulary('--patterns', text, 'pattern', PATTERNS, (notation) => parsePattern(notation)),
  )
  option('--bass <id>', "the instrument, instead of the chart's", (id) => known('--bass', id, 'bass', INSTRUMENTS))
  option('--variations <n>', 'how many lines, the best first (default: 1)', (text) =>
    wholeIn('--variations', text, 1, MOST.variations),
  )
  option('--difference <share>', 'least share of slots in which two lines differ, 0 to 1 (default: 0.25)', (text) =>
    numberIn('--difference', text, 0, 1),
  )
  option('--surprise <how>', 'draw lines by chance instead of taking the best: little, some or free', (text) =>
    oneOf('--surprise', text, Object.keys(SURPRISES) as SurpriseName[]),
  )
  option('--seed <n>', 'which draw: the same number gives the same lines (default: 1)', (text) =>
    wholeIn('--seed', text, 0, MOST.seed),
  )
  option('--choruses <n>', 'how often the form is played (default: 1)', (text) =>
    wholeIn('--choruses', text, 1, MOST.choruses),
  )
  option(
    '--rule <sentence>',
    'a rule beside those of the chart, as in "Bars 5-8: no leap over a fourth"; repeatable',
    (text, before) => [...((before as readonly string[] | undefined) ?? []), ruleOf('--rule', text)],
  )
  command.option('--rules <file>', 'a file of rules, a sentence a row; // begins a comment')
  command.option('--loop', 'the last note has to lead into the first')
  option('--out <file.mid>', 'write a MIDI file; several lines are numbered, file-1.mid', midiPath)
  option('--for <reader>', 'who the MIDI file is for: player or sequencer (default: player)', (text) =>
    oneOf('--for', text, READERS),
  )
  command.option('--straight', 'write the MIDI file on the grid, without swing')
  option('--parts <list>', 'what the MIDI file holds (default: bass,chords,drums; also click)', (text) =>
    split('--parts', text).map((part) => oneOf('--parts', part, PARTS)),
  )
  command.option('--json', 'one JSON document instead of the table')
  return command.addHelpText(
    'after',
    `
A list is parted by commas. What is written out in its notation may stand in double quotes:
  --cells '"1 2& 3 4",four-quarters'    --patterns '"1 3 5 6",walking-below'
"linewright list cells" and its sisters name what there is.`,
  )
}

/** What the options say, as commander has read them. */
export function askedOf(options: Readonly<Record<string, unknown>>): Asked {
  const { feel, tempo, cells, patterns, bass, variations, difference, choruses, loop } = options
  const { out, for: reader, straight, parts, json, rule: rules, surprise, seed } = options
  const given = {
    feel,
    tempoBpm: tempo,
    cells,
    patterns,
    bass,
    variations,
    difference,
    choruses,
    loop,
    rules,
    surprise,
    seed,
  }
  const settings = Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)) as Settings
  const rulesFile = options['rules'] as string | undefined
  if (out === undefined) {
    for (const name of ['for', 'straight', 'parts'])
      if (options[name] !== undefined)
        throw new UsageError(`--${name} says how a MIDI file is written, and --out names none`)
    return { settings, file: undefined, rulesFile, json: json === true }
  }
  const file = {
    path: out as string,
    reader: (reader as MidiReader | undefined) ?? 'player',
    straight: straight === true,
    parts: (parts as readonly PartName[] | undefined) ?? PARTS.filter((part) => part !== 'click'),
  }
  return { settings, file, rulesFile, json: json === true }
}

/** What is asked of `analyse`. */
export interface AnalyseAsked {
  readonly chart: string
  /** from 1 */
  readonly track: number | undefined
  readonly settings: Settings
  readonly json: boolean
}

/** A MIDI file has no more tracks than this. Source: Standard MIDI Files 1.0, two bytes; each with 16 channels. */
const MOST_TRACKS = 65535 * 16

/** The options of `analyse`. */
export function addAnalyseOptions(command: Command): Command {
  const option = (flags: string, description: string, parse: (text: string) => unknown) =>
    command.addOption(new Option(flags, description).argParser(parse))
  command.requiredOption('--chart <chart>', 'the chart that the line was played over, or - for standard input')
  option('--track <n>', 'which track of the MIDI file is the bass, where it cannot be told', (text) =>
    wholeIn('--track', text, 1, MOST_TRACKS),
  )
  option('--feel <id>', "how it is played, instead of the chart's feel", (id) => known('--feel', id, 'feel', FEELS))
  option('--bass <id>', "the instrument, instead of the chart's", (id) => known('--bass', id, 'bass', INSTRUMENTS))
  command.option('--json', 'one JSON document instead of the table')
  return command.addHelpText(
    'after',
    `
A typed line has its bars parted by |, in each a rhythm as it is counted, a colon, and a word for each note:
  1 2 3 4: A5 D3 D5 G2 | 1 2& 3 4: A3 D2 D5 A5 | %
Words are places (string and fret, A5, or 3/5 with strings counted from the highest), notes as they sound (D2), or
degrees (1 b3 v5); frets, notes or degrees as the first word says which. A bar without a rhythm has the one before.`,
  )
}

/** What the options of `analyse` say, as commander has read them. */
export function analyseAskedOf({ chart, track, feel, bass, json }: Readonly<Record<string, unknown>>): AnalyseAsked {
  const given = Object.entries({ feel, bass }).filter(([, value]) => value !== undefined)
  return {
    chart: chart as string,
    track: track as number | undefined,
    settings: Object.fromEntries(given) as Settings,
    json: json === true,
  }
}

/** The rules of a file, a sentence a row. */
export function rulesOf(path: string, text: string): readonly string[] {
  return rowsOf(text).flatMap((row, index) => {
    const sentence = row.text.trim()
    return sentence === '' ? [] : [ruleOf(`${path}:${index + 1}`, sentence)]
  })
}

/** A sentence that can be read as a rule; whether it fits the chart is said with the chart. */
function ruleOf(where: string, sentence: string): string {
  const reading = readRule(sentence)
  if (reading.ok) return sentence
  const { message, fix } = reading.problem
  const what = message.replace(/ The rule binds nothing\.$/, '').replace(/\.$/, '')
  throw new UsageError(`${where}: "${sentence}" is no rule: ${what}${fix === undefined ? '' : `; perhaps "${fix}"`}`)
}

function numberIn(option: string, text: string, least: number, most: number): number {
  const value = /^\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN
  if (!(value >= least && value <= most))
    throw new UsageError(`${option} takes a number from ${least} to ${most}, not "${text}"`)
  return value
}

function wholeIn(option: string, text: string, least: number, most: number): number {
  const value = /^\d+$/.test(text) ? Number(text) : Number.NaN
  if (!(value >= least && value <= most))
    throw new UsageError(`${option} takes a whole number from ${least} to ${most}, not "${text}"`)
  return value
}

function oneOf<Name extends string>(option: string, text: string, names: readonly Name[]): Name {
  const name = names.find((candidate) => candidate === text)
  if (name === undefined) throw new UsageError(`${option} knows ${names.join(', ')}, not "${text}"`)
  return name
}

function midiPath(path: string): string {
  if (!/[^/\\]\.midi?$/i.test(path))
    throw new UsageError(`--out takes the name of a MIDI file, as in line.mid, not "${path}"`)
  return path
}

type Row = { readonly id: string }

function known(option: string, id: string, noun: string, table: readonly Row[]): string {
  if (table.some((row) => row.id === id)) return id
  throw new UsageError(`${option}: there is no ${noun} "${id}"${suggestion(id, table)}`)
}

/** The ids of a list, and what is written out in its notation without its quotes. */
function vocabulary(
  option: string,
  text: string,
  noun: string,
  table: readonly Row[],
  read: (notation: string) => { readonly ok: boolean; readonly message?: string },
): readonly string[] {
  return split(option, text).map((item) => {
    if (table.some((row) => row.id === item)) return item
    const reading = read(item)
    if (reading.ok) return item
    if (/^[a-z]{2}[a-z-]*$/.test(item))
      throw new UsageError(`${option}: there is no ${noun} "${item}"${suggestion(item, table)}`)
    throw new UsageError(`${option}: "${item}" is no ${noun}: ${reading.message}`)
  })
}

/**
 * The items of a list: parted by commas, blanks around them left out, double quotes around an item taken off.
 *
 * @example
 * split('--cells', '"1 2& 3 4", four-quarters') // => ['1 2& 3 4', 'four-quarters']
 */
export function split(option: string, text: string): readonly string[] {
  return text.split(',').map((part) => {
    const item = part.trim()
    const quoted = /^"(?<inside>[^"]*)"$/.exec(item)?.groups?.['inside']?.trim()
    const bare = quoted ?? item
    if (bare === '') throw new UsageError(`${option} has an empty place in its list: ${text}`)
    if (bare.includes('"')) throw new UsageError(`${option} has a quote that is not closed: ${text}`)
    return bare
  })
}

function suggestion(id: string, table: readonly Row[]): string {
  const near = nearest(
    id,
    table.map((row) => row.id),
  )
  return near ? `; perhaps "${near}"` : ''
}
