import { type Chord, chordAt } from '../music/chord.ts'
import type { ChordSymbol } from '../music/chord-symbol.ts'
import { formatDegree } from '../music/degree.ts'
import { beatsOf, type Metre } from '../music/metre.ts'
import { formatNoteName } from '../music/note-name.ts'
import type { Tick } from '../music/tick.ts'
import type { Chart, WrittenBar } from './chart.ts'
import { Diagnoses, type Diagnostic } from './diagnostic.ts'
import { nearest } from './nearest.ts'
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

/** The longest form: more bars than anybody plays, and few enough to answer at once. */
const MOST_BARS = 4000

/**
 * The bars of a chart in the order in which they are played: repeats and endings carried out, sections in the order of `form:`.
 */
export function unfold(chart: Chart): { readonly form: Form; readonly diagnostics: readonly Diagnostic[] } {
  const diagnoses = new Diagnoses()
  let order = sectionsOf(chart, diagnoses).flatMap(({ from, to }) => playedBars(chart.bars, from, to))
  if (order.length > MOST_BARS) {
    const message = `The form has ${order.length} bars; ${MOST_BARS} are the most. It is cut there.`
    diagnoses.error('chart/too-long', chart.bars.at(-1)!.span, message)
    order = order.slice(0, MOST_BARS)
  }
  return { form: formOf(chart, order), diagnostics: diagnoses.list }
}

/** Stretches of written bars in the order in which they are played. */
function sectionsOf(chart: Chart, diagnoses: Diagnoses): readonly { from: number; to: number }[] {
  const starts = chart.bars.flatMap((bar, index) => (bar.section && index > 0 ? [index] : []))
  const edges = [0, ...starts, chart.bars.length]
  const stretches = edges.slice(0, -1).map((from, i) => ({ from, to: edges[i + 1]! }))
  if (!chart.form) return stretches
  const nameOf = (from: number) => chart.bars[from]?.section?.value
  const played: { from: number; to: number }[] = []
  for (const { value, span } of chart.form) {
    const found = stretches.find(({ from }) => nameOf(from)?.toLowerCase() === value.toLowerCase())
    if (found) played.push(found)
    else {
      const names = stretches.map(({ from }) => nameOf(from)).filter((name) => name !== undefined)
      const near = nearest(value, names)
      const message = `There is no section "${value}". It is passed over.`
      diagnoses.warning('chart/unknown-section', span, message, near ? [near] : [])
    }
  }
  if (played.length === 0) return stretches
  for (const stretch of stretches) {
    if (played.includes(stretch) || stretch.from === stretch.to) continue
    const bar = chart.bars[stretch.from]!
    const message = `The section "${bar.section?.value ?? 'before the first name'}" is never played: form: does not name it.`
    diagnoses.hint('chart/section-not-played', bar.section?.span ?? bar.span, message)
  }
  return played
}

/** The bars of a stretch with its repeats carried out. */
function playedBars(bars: readonly WrittenBar[], from: number, to: number): readonly number[] {
  const order: number[] = []
  const play = (first: number, last: number) => {
    for (let index = first; index < last; index++) order.push(index)
  }
  let at = from
  while (at < to) {
    let next = at
    while (next < to && !bars[next]!.ending && !bars[next]!.repeatEnd && (next === at || !bars[next]!.repeatStart))
      next++
    if (next === to || (next > at && bars[next]!.repeatStart)) {
      play(at, next)
      at = next
      continue
    }
    if (!bars[next]!.ending) {
      for (let time = 0; time < (bars[next]!.repeatEnd!.value ?? 2); time++) play(at, next + 1)
      at = next + 1
      continue
    }
    const endings = endingsOf(bars, next, to)
    const most = Math.max(...endings.flatMap((ending) => ending.times))
    for (let time = 1; time <= most; time++) {
      const ending = endings.find((one) => one.times.includes(time)) ?? endings.at(-1)!
      play(at, next)
      play(ending.from, ending.to)
      if (order.length > MOST_BARS) return order
    }
    at = endings.at(-1)!.to
  }
  return order
}

/** The endings that follow each other from a bar on. The last one ends at a double bar, the next repeat or the end of the stretch. */
function endingsOf(bars: readonly WrittenBar[], from: number, to: number) {
  const endings: { times: readonly number[]; from: number; to: number }[] = []
  let at = from
  while (at < to && bars[at]!.ending) {
    let end = at
    while (
      end + 1 < to &&
      !bars[end]!.repeatEnd &&
      bars[end]!.barLine === 'single' &&
      !bars[end + 1]!.ending &&
      !bars[end + 1]!.repeatStart
    )
      end++
    endings.push({ times: bars[at]!.ending!.value, from: at, to: end + 1 })
    at = end + 1
  }
  return endings
}

interface Sounding {
  readonly symbol: ChordSymbol | undefined
  readonly ticks: Tick
  readonly span: Span
}

function formOf(chart: Chart, order: readonly number[]): Form {
  // What sounds in each bar; a bar without chords repeats the one before, an unread chord or a slash the chord before.
  let before: readonly Sounding[] = []
  let last: ChordSymbol | undefined
  const sounding = order.map((index): readonly Sounding[] => {
    const { chords, metre, span } = chart.bars[index]!
    const beats = beatsOf(metre)
    if (chords.length === 0) {
      const ticks = beats.reduce((sum, one) => sum + one, 0)
      const same = before.reduce((sum, one) => sum + one.ticks, 0) === ticks
      const repeated = same
        ? before.map((one) => ({ ...one, span }))
        : [{ symbol: before[0]?.symbol ?? last, ticks, span }]
      before = repeated
      last = repeated.at(-1)!.symbol
      return repeated
    }
    let beat = 0
    before = chords.map(({ word, beats: count, span: own }) => {
      const ticks = beats.slice(beat, beat + count).reduce((sum, one) => sum + one, 0)
      beat += count
      if (word.kind === 'chord') last = word.symbol
      if (word.kind === 'no-chord') last = undefined
      return { symbol: last, ticks, span: own }
    })
    return before
  })

  const flat = sounding.flat()
  const chords = new Map<ChordSymbol | undefined, Map<ChordSymbol | undefined, Chord>>()
  const keys = new Map<string, ChordSymbol>()
  const same = (symbol: ChordSymbol): ChordSymbol => {
    const key = `${formatNoteName(symbol.root)} ${symbol.degrees.map(formatDegree).join(' ')} ${symbol.bass ? formatNoteName(symbol.bass) : ''}`
    const known = keys.get(key) ?? symbol
    keys.set(key, known)
    return known
  }
  const symbols = flat.map(({ symbol }) => (symbol ? same(symbol) : undefined))
  // The next chord that is another one, from the end backwards.
  const nextOther: (ChordSymbol | undefined)[] = new Array(flat.length)
  for (let i = flat.length - 2; i >= 0; i--)
    nextOther[i] = symbols[i + 1] === symbols[i] ? nextOther[i + 1] : symbols[i + 1]
  const chordOf = (i: number): Chord | undefined => {
    const symbol = symbols[i]
    if (!symbol) return undefined
    const byNext = chords.get(symbol) ?? new Map<ChordSymbol | undefined, Chord>()
    chords.set(symbol, byNext)
    const chord = byNext.get(nextOther[i]) ?? chordAt(symbol, { key: chart.key, next: nextOther[i] })
    byNext.set(nextOther[i], chord)
    return chord
  }

  let startTick = 0
  let i = 0
  const bars = order.map((writtenIndex, index): FormBar => {
    const written = chart.bars[writtenIndex]!
    const barStart = startTick
    const changes = sounding[index]!.map(({ ticks, span }): Change => {
      const chord = chordOf(i)
      const held = i > 0 && symbols[i] === symbols[i - 1]
      const change = { chord, startTick, ticks, barIndex: index, held, span }
      startTick += ticks
      i++
      return change
    })
    const first = chart.pickup ? 0 : 1
    return {
      index,
      number: index + first,
      writtenIndex,
      writtenNumber: written.number,
      startTick: barStart,
      ticks: startTick - barStart,
      metre: written.metre,
      section: written.section?.value,
      changes,
    }
  })
  return { bars, changes: bars.flatMap((bar) => bar.changes), ticks: startTick }
}
