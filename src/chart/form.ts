import { type Chord, chordAt } from '../music/chord.ts'
import type { ChordSymbol } from '../music/chord-symbol.ts'
import { formatDegree } from '../music/degree.ts'
import type { Key } from '../music/key.ts'
import { barTicks, beatsOf, formatMetre, type Metre } from '../music/metre.ts'
import { pitchClassOfName } from '../music/note-name.ts'
import type { Tick } from '../music/tick.ts'
import type { Chart, WrittenBar } from './chart.ts'
import { Diagnoses, type Diagnostic } from './diagnostic.ts'
import { shareBeats } from './place.ts'
import { type Run, runsOf } from './repeat.ts'
import { sectionsPlayed } from './section.ts'
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
  /** how often the whole form was played before, from 0 */
  readonly chorus: number
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
      chorus: 0,
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
