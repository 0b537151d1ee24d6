import { type Chord, chordAt } from '../music/chord.ts'
import type { ChordSymbol } from '../music/chord-symbol.ts'
import { formatDegree } from '../music/degree.ts'
import type { Key } from '../music/key.ts'
import { barTicks, beatsOf, formatMetre, type Metre } from '../music/metre.ts'
import { pitchClassOfName } from '../music/note-name.ts'
import type { Tick } from '../music/tick.ts'
import type { Chart, Written, WrittenBar } from './chart.ts'
import { Diagnoses, type Diagnostic } from './diagnostic.ts'
import { shown } from './header.ts'
import { nearest } from './nearest.ts'
import { shareBeats } from './place.ts'
import { type Run, runsOf } from './repeat.ts'
import type { Span } from './span.ts'

/** A chord with its place and length inside one played bar. A chord that lasts over a bar line is a change in each bar. */
export interface Change {
  /** `undefined` for N.C. */
  readonly chord: Chord | undefined
  readonly startTick: Tick
  readonly ticks: Tick
  readonly barIndex: number
  /** The same chord sounded just before, so nothing changes here. False at the first change of the form. */
  readonly held: boolean
  /** Where it is written in the text. */
  readonly span: Span
}

/** A bar as it is played. */
export interface FormBar {
  /** from 0, a pick-up included */
  readonly index: number
  /** from 1 for people; a pick-up is bar 0 */
  readonly number: number
  /** the written bar it comes from: an index into the chart's written bars */
  readonly writtenIndex: number
  /** the written bar's number for people */
  readonly writtenNumber: number
  readonly startTick: Tick
  readonly ticks: Tick
  readonly metre: Metre
  /** the name of the section that begins here */
  readonly section: string | undefined
  /** in order of time; they fill the bar */
  readonly changes: readonly Change[]
}

/** The bars in the order they are played. */
export interface Form {
  readonly bars: readonly FormBar[]
  /** all changes of all bars, in order of time */
  readonly changes: readonly Change[]
  readonly ticks: Tick
}

/** A form has at most so many bars: some three hours of music. */
export const MOST_BARS = 4000

/**
 * The bars of a chart in the order in which they are played: sections in the order of `form:`, or as written, with their repeats and
 * endings. A pick-up is bar 0, once. A chord that nobody can read, a slash at the start of a bar and `%` play what was played before.
 *
 * @returns the form, without bars where the chart has none, and what is to be said about the order, in the order of the text
 */
export function unfold(chart: Chart): { readonly form: Form; readonly diagnostics: readonly Diagnostic[] } {
  const diagnoses = new Diagnoses()
  const bars = chart.pickup ? withPickupOnce(chart.bars, diagnoses) : chart.bars
  const order = playedOrder(chart, bars, diagnoses)
  if (order.length > MOST_BARS) {
    const message = `Played out, this chart has more than ${MOST_BARS} bars. Only the first ${MOST_BARS} are read.`
    diagnoses.error('chart/too-many-bars', bars[order[MOST_BARS]!]!.span, message)
    order.length = MOST_BARS
  }
  const sounding = soundingIn(order, bars, diagnoses)
  return { form: formOf(order, bars, sounding, chart), diagnostics: diagnoses.list }
}

/** What begins or ends at a pick-up begins at bar 1 instead: the pick-up is played once. */
function withPickupOnce(bars: readonly WrittenBar[], diagnoses: Diagnoses): readonly WrittenBar[] {
  const [pickup, first, ...others] = bars
  if (!pickup || !first) return bars
  const { section, repeatStart, ending, repeatEnd } = pickup
  const sign = repeatStart ?? ending ?? repeatEnd
  if (sign) {
    const message = 'A pick-up is played once, so it is not a part of a repeat. The repeat begins at bar 1.'
    diagnoses.hint('chart/pickup-in-repeat', sign.span, message)
  }
  return [
    { ...pickup, section: undefined, repeatStart: undefined, ending: undefined, repeatEnd: undefined },
    {
      ...first,
      section: first.section ?? section,
      repeatStart: first.repeatStart ?? repeatStart,
      ending: first.ending ?? ending,
    },
    ...others,
  ]
}

/** Indices of written bars as they are played; more than a form may have only by one. */
function playedOrder(chart: Chart, bars: readonly WrittenBar[], diagnoses: Diagnoses): number[] {
  const order = chart.pickup ? [0] : []
  const from = order.length
  const stretches = chart.form ? sectionsPlayed(chart.form, bars, from, diagnoses) : undefined
  const runs = new Map<Run, readonly Run[]>()
  for (const stretch of stretches ?? [{ from, to: bars.length }]) {
    if (!runs.has(stretch)) runs.set(stretch, runsOf(bars, stretch, diagnoses))
    for (const run of runs.get(stretch)!)
      for (let i = run.from; i < run.to; i++) {
        order.push(i)
        if (order.length > MOST_BARS) return order
      }
  }
  return order
}

/** Bars of a section. */
interface Section extends Run {
  readonly name: Written<string>
}

/**
 * The sections in the order of `form:`; `undefined` if it names none that there is.
 *
 * @param from  index of the first bar that may belong to a section
 */
function sectionsPlayed(
  words: readonly Written<string>[],
  bars: readonly WrittenBar[],
  from: number,
  diagnoses: Diagnoses,
): readonly Run[] | undefined {
  const starts = bars.flatMap(({ section }, i) => (section ? [{ name: section, from: i }] : []))
  const all = starts.map((start, i): Section => ({ ...start, to: starts[i + 1]?.from ?? bars.length }))
  const byName = new Map<string, Section>()
  for (const section of all) {
    const name = plainName(section.name.value)
    if (!byName.has(name)) byName.set(name, section)
  }
  const played = namedSections(words, byName, diagnoses)
  if (played.length === 0) return undefined

  const first = all[0]!.from
  if (first > from) {
    const message = 'These bars belong to no section, so the header form: cannot name them. They are not played.'
    diagnoses.warning(
      'chart/section-not-played',
      { from: bars[from]!.span.from, to: bars[first - 1]!.span.to },
      message,
    )
  }
  const heard = new Set(played)
  for (const section of all) {
    const name = shown(section.name.value)
    if (byName.get(plainName(section.name.value)) !== section) {
      const message = `There is a section "${name}" already, and the header form: means that one. This one is not played.`
      diagnoses.warning('chart/section-twice', section.name.span, message)
    } else if (!heard.has(section)) {
      const message = `The header form: does not name section "${name}". It is not played.`
      diagnoses.warning('chart/section-not-played', section.name.span, message)
    }
  }
  return played
}

/** Names are compared without capitals, and a blank is a blank. */
function plainName(name: string): string {
  return name.toLowerCase().split(/\s+/).join(' ')
}

/** What the words of `form:` name; a name of several words is taken before its first word alone. */
function namedSections(
  words: readonly Written<string>[],
  byName: ReadonlyMap<string, Section>,
  diagnoses: Diagnoses,
): readonly Section[] {
  const names = [...byName.values()].map(({ name }) => name.value)
  const longest = Math.min(8, Math.max(1, ...names.map((name) => name.split(/\s+/).length)))
  const played: Section[] = []
  for (let i = 0; i < words.length; ) {
    let count = Math.min(longest, words.length - i)
    const named = () =>
      byName.get(
        plainName(
          words
            .slice(i, i + count)
            .map(({ value }) => value)
            .join(' '),
        ),
      )
    while (count > 1 && !named()) count--
    const section = named()
    if (section) played.push(section)
    else {
      const { value, span } = words[i]!
      const list = names.length > 0 ? `the sections are ${shown(names.join(', '))}` : 'a section is written [A]'
      const message = `There is no section "${shown(value)}": ${list}. It is left out of the form.`
      diagnoses.warning('chart/unknown-section', span, message, () => sectionFixes(value, names))
    }
    i += count
  }
  return played
}

/** The nearest section; or letters that stand together, `AABA`, one by one. */
function sectionFixes(word: string, names: readonly string[]): readonly string[] {
  const letters = [...word.slice(0, 32)]
  if (letters.length > 1 && letters.every((letter) => names.includes(letter))) return [letters.join(' ')]
  const near = nearest(word.slice(0, 32), names.slice(0, 100))
  return near === undefined ? [] : [near]
}

/** What sounds, with its place in a bar. `symbol` is `undefined` for N.C. */
interface Sounding {
  readonly symbol: ChordSymbol | undefined
  readonly beats: number
  readonly span: Span
}

/** What sounds in each played bar. */
function soundingIn(
  order: readonly number[],
  bars: readonly WrittenBar[],
  diagnoses: Diagnoses,
): readonly (readonly Sounding[])[] {
  const played: (readonly Sounding[])[] = []
  const said = new Set<number>()
  let last: ChordSymbol | undefined
  let before: WrittenBar | undefined
  for (const index of order) {
    const bar = bars[index]!
    const startsWithSlash = bar.chords[0]?.word.kind === 'slash'
    if (!before && (bar.chords.length === 0 || startsWithSlash) && !said.has(index)) {
      said.add(index)
      const sign = startsWithSlash ? '/' : '%'
      const message = `Nothing is played before this bar, so ${sign} has nothing to repeat. It is read as N.C.`
      diagnoses.warning('chart/nothing-to-repeat', startsWithSlash ? bar.chords[0]!.span : bar.span, message, ['N.C.'])
    }
    const sounding: readonly Sounding[] =
      bar.chords.length > 0
        ? bar.chords.map((chord) => {
            if (chord.word.kind === 'chord') last = chord.word.symbol
            else if (chord.word.kind === 'no-chord') last = undefined
            return { symbol: last, beats: chord.beats, span: chord.span }
          })
        : again(played.at(-1), before?.metre, bar)
    played.push(sounding)
    last = sounding.at(-1)?.symbol
    before = bar
  }
  return played
}

/** The bar before once more: on the same beats, or shared out anew in another metre. */
function again(
  before: readonly Sounding[] | undefined,
  metreBefore: Metre | undefined,
  { metre, span }: WrittenBar,
): readonly Sounding[] {
  const beats = beatsOf(metre).length
  if (!before || !metreBefore) return [{ symbol: undefined, beats, span }]
  if (formatMetre(metreBefore) === formatMetre(metre)) return before.map((sounding) => ({ ...sounding, span }))
  return shareBeats(metre, Math.min(beats, before.length)).map((share, i) => ({
    symbol: before[i]!.symbol,
    beats: share,
    span,
  }))
}

/** The form of bars in which this sounds. */
function formOf(
  order: readonly number[],
  bars: readonly WrittenBar[],
  sounding: readonly (readonly Sounding[])[],
  { key, pickup }: Chart,
): Form {
  const chords = chordsOf(sounding.flat(), key)
  const formBars: FormBar[] = []
  const all: Change[] = []
  let startTick = 0
  for (const [index, writtenIndex] of order.entries()) {
    const written = bars[writtenIndex]!
    const beats = beatsOf(written.metre)
    const changes: Change[] = []
    let beat = 0
    let tick = startTick
    for (const { beats: count, span } of sounding[index]!) {
      let ticks = 0
      for (const end = beat + count; beat < end; beat++) ticks += beats[beat]!
      const { chord, held } = chords[all.length]!
      const change: Change = { chord, startTick: tick, ticks, barIndex: index, held, span }
      changes.push(change)
      all.push(change)
      tick += ticks
    }
    formBars.push({
      index,
      number: pickup ? index : index + 1,
      writtenIndex,
      writtenNumber: written.number,
      startTick,
      ticks: barTicks(written.metre),
      metre: written.metre,
      section: written.section?.value,
      changes,
    })
    startTick = tick
  }
  return { bars: formBars, changes: all, ticks: startTick }
}

/** Each chord with the one that comes after it, and whether it is held; equal chords before equal ones are one and the same object. */
function chordsOf(
  sounding: readonly Sounding[],
  key: Key | undefined,
): readonly { readonly chord: Chord | undefined; readonly held: boolean }[] {
  const contents = new Map<ChordSymbol, string>()
  const contentOf = (symbol: ChordSymbol | undefined): string => {
    if (!symbol) return ''
    const content = contents.get(symbol) ?? soundOf(symbol)
    contents.set(symbol, content)
    return content
  }
  const placed = new Map<ChordSymbol, Map<string, Chord>>()
  const place = (symbol: ChordSymbol, next: ChordSymbol | undefined): Chord => {
    const ofSymbol = placed.get(symbol) ?? new Map<string, Chord>()
    placed.set(symbol, ofSymbol)
    const chord = ofSymbol.get(contentOf(next)) ?? chordAt(symbol, { key, next })
    ofSymbol.set(contentOf(next), chord)
    return chord
  }

  const chords: { chord: Chord | undefined; held: boolean }[] = []
  let next: ChordSymbol | undefined
  for (let i = sounding.length - 1; i >= 0; i--) {
    const { symbol } = sounding[i]!
    const after = sounding[i + 1]
    if (after && contentOf(after.symbol) !== contentOf(symbol)) next = after.symbol
    const before = sounding[i - 1]
    const held = before !== undefined && contentOf(before.symbol) === contentOf(symbol)
    chords.push({ chord: symbol && place(symbol, next), held })
  }
  return chords.reverse()
}

/** What a symbol sounds, however it is spelled: equal for equal tones over an equal bass. */
export function soundOf(symbol: ChordSymbol): string {
  const root = pitchClassOfName(symbol.root)
  const bass = symbol.bass ? pitchClassOfName(symbol.bass) : root
  return `${root}/${bass} ${symbol.degrees.map(formatDegree).join(' ')}`
}
