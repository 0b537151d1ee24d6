import type { PartBar, PrintedDegree, PrintedNote, PrintedRest, TabFigure } from '../../notation/part.ts'
import { placeRuns } from './chord-runs.ts'
import type { Measure } from './measure.ts'
import { TEXT_ACCIDENTAL } from './smufl.ts'

// Rods and springs. Between two neighbouring notes stands a rod, the least distance at which every row is clear of itself,
// and a spring, which takes what room is left by the length of the note. All lengths are in staff spaces (sp).
// Source of the model: J. S. Gourlay, "Spacing a line of music", Ohio State University, 1987.

/** What the rows of a bar measure. Compared by identity: make one for a page and keep it. */
export interface RowSizes {
  readonly chord: number
  readonly tab: number
  readonly degree: number
  /** least air between two chord symbols, in chord sizes */
  readonly symbolAir: number
  /** how much a chord symbol's suffix is narrowed in x */
  readonly suffixScale: number
  /** added to every rod */
  readonly rodAir: number
  readonly measure: Measure
}

/** A bar laid out: places from its left bar line. */
export interface BarLayout {
  readonly width: number
  /** centres of the heads, figures, degrees and rests, one for each of the bar's signs */
  readonly x: readonly number[]
  /** left edges of the chord symbols */
  readonly symbolX: readonly number[]
}

/** From the centre of a sign to its left and to its right. */
interface Extent {
  readonly left: number
  readonly right: number
}

/** The three rows under the chords; each must be clear of itself only. */
interface SignExtents {
  readonly staff: Extent
  readonly tab: Extent
  readonly degree: Extent
}

/** All of a bar that does not depend on how far its springs are stretched. */
interface BarRods {
  /** of the first sign */
  readonly start: number
  /** from each sign to the next */
  readonly rods: readonly number[]
  /** of every sign at λ = 1 */
  readonly springs: readonly number[]
  /** least room after the last sign, to the bar line */
  readonly end: number
  /** room of the bar line itself */
  readonly barLine: number
  /** metre before the first sign */
  readonly head: number
  readonly symbols: readonly SymbolRod[]
  readonly soleRest: boolean
}

interface SymbolRod {
  readonly width: number
  /** the sign it stands over, or the sign that sounds while it arrives */
  readonly sign: number
  /** how far through that sign it arrives: 0 over it */
  readonly through: number
}

/** Half a black head, the widest part of a whole head, and where symbols begin left of the centre below them. */
export const HALF_HEAD = 0.59
export const HALF_WHOLE_HEAD = 0.84
export const SYMBOL_LEAD = 0.62

/** Width of an accidental on the staff and the air before its head. */
export const ACCIDENTAL_WIDTH = { bb: 1.65, b: 0.92, n: 0.68, '#': 1.0, '##': 1.0 } as const
export const ACCIDENTAL_AIR = 0.22

/** Size of a tab figure in brackets, against the others. */
export const BRACKETED_SIZE = 0.86

/** How far a degree's accidental moves the degree to the left, in em. */
export const DEGREE_SHIFT = 0.12

const STAFF_AIR = 0.42
const TAB_AIR = 0.5
const DEGREE_AIR = 0.42
const END_AIR = 0.75
const SYMBOL_END = 0.55
const METRE_ROOM = 3.0
const EMPTY_BAR = 9
const QUARTER_SPRING = 3.6
const SPRING_RATIO = 1.45
const BAR_LINE_ROOM = { single: 0, double: 0.5, final: 0.9 } as const

/**
 * The room a length asks for at λ = 1, in sp: whole 7.6, half 5.2, quarter 3.6, eighth 2.5, sixteenth 1.7.
 *
 * @example
 * springOf(480) // => 3.6
 */
export function springOf(ticks: number): number {
  return QUARTER_SPRING * SPRING_RATIO ** Math.log2(ticks / 480)
}

/** What a tab figure says: a cross for a dead note, brackets round one that is tied over. */
export function tabText({ fret, bracketed }: TabFigure): string {
  const figure = fret === undefined ? '×' : String(fret)
  return bracketed ? `(${figure})` : figure
}

/** Widths of a degree's sign and number, in em. */
export function degreeWidths(
  degree: PrintedDegree,
  measure: Measure,
): { readonly sign: number; readonly number: number } {
  return {
    sign: degree.accidental ? measure(TEXT_ACCIDENTAL[degree.accidental], 'signs') : 0,
    number: measure(String(degree.number), 'part'),
  }
}

function extentsOf(sign: PrintedNote | PrintedRest, beamed: boolean, sizes: RowSizes): SignExtents {
  const none = { left: 0, right: 0 }
  const dots = sign.value.dots * 0.75
  if (sign.kind === 'rest') return { staff: { left: 0.6, right: 0.65 + dots }, tab: none, degree: none }
  const wide = sign.value.part === 1 || (sign.value.part === 2 && sign.head === 'ghost')
  const half = wide ? HALF_WHOLE_HEAD : HALF_HEAD
  const flagRight = !beamed && sign.value.part >= 8 && sign.step < 0 ? HALF_HEAD + 1 + dots : 0
  const staff = {
    left: half + (sign.accidental ? ACCIDENTAL_WIDTH[sign.accidental] + ACCIDENTAL_AIR : 0),
    right: Math.max(half + dots, flagRight, sign.tiedOn ? 1.55 : 0),
  }
  let tab = none
  if (sign.tab) {
    const half = (sizes.measure(tabText(sign.tab), 'part') * sizes.tab * (sign.tab.bracketed ? BRACKETED_SIZE : 1)) / 2
    tab = { left: half, right: half }
  }
  let degree = none
  if (sign.mark === 'ghost') degree = { left: 0.5 * sizes.degree, right: 0.5 * sizes.degree }
  else if (sign.degree) {
    const widths = degreeWidths(sign.degree, sizes.measure)
    const half = ((widths.sign + widths.number) * sizes.degree) / 2
    const shift = sign.degree.accidental ? DEGREE_SHIFT * sizes.degree : 0
    degree = { left: half + shift, right: Math.max(half - shift, 0.45 * sizes.degree) }
  }
  return { staff, tab, degree }
}

function findRods(bar: PartBar, sizes: RowSizes, atHead: boolean): BarRods {
  const { signs } = bar
  const beamed = new Set(bar.beams.flat())
  const extents = signs.map((sign, index) => extentsOf(sign, beamed.has(index), sizes))
  const head = bar.metreChanges && !atHead ? METRE_ROOM : 0
  const first = extents[0]
  const last = extents.at(-1)
  const symbols = bar.symbols.map((symbol) => {
    // The last sign that has begun; a symbol before all of them stands over the first.
    const sign = Math.max(
      0,
      signs.findLastIndex(({ startTick }) => startTick <= symbol.startTick),
    )
    const at = signs[sign]
    const through = at
      ? Math.max(0, symbol.startTick - at.startTick) / at.ticks
      : (symbol.startTick - bar.startTick) / bar.ticks
    return { width: placeRuns(symbol, sizes.measure, sizes.suffixScale).width * sizes.chord, sign, through }
  })
  return {
    start: head + (first ? Math.max(1.9, first.staff.left + 0.75, first.tab.left + 0.7, first.degree.left + 0.5) : 1.9),
    rods: extents.slice(1).map((next, index) => {
      const before = extents[index]!
      const clear = Math.max(
        before.staff.right + next.staff.left + STAFF_AIR,
        before.tab.right + next.tab.left + TAB_AIR,
        before.degree.right + next.degree.left + DEGREE_AIR,
      )
      return clear + sizes.rodAir
    }),
    springs: signs.map(({ ticks }) => springOf(ticks)),
    end: last ? Math.max(last.staff.right, last.tab.right, last.degree.right) + END_AIR : EMPTY_BAR - 1.9,
    barLine: BAR_LINE_ROOM[bar.barLine],
    head,
    symbols,
    soleRest: signs.length === 1 && signs[0]!.kind === 'rest',
  }
}

const RODS = new WeakMap<RowSizes, WeakMap<PartBar, (BarRods | undefined)[]>>()

function rodsOf(bar: PartBar, sizes: RowSizes, atHead: boolean): BarRods {
  const bars = RODS.get(sizes) ?? new WeakMap<PartBar, (BarRods | undefined)[]>()
  RODS.set(sizes, bars)
  const known = bars.get(bar) ?? []
  bars.set(bar, known)
  const place = atHead ? 1 : 0
  const rods = known[place] ?? findRods(bar, sizes, atHead)
  known[place] = rods
  return rods
}

/**
 * Lays a bar out with its springs stretched by `lambda`: 0 gives its least width. Width and places rise with λ, never fall.
 * Rods are never shortened; chord symbols stand clear of one another, each over its own note, or between two notes where none
 * begins with it.
 *
 * @param atHead  the bar begins a system: its metre stands in the clef's space
 */
export function layBar(bar: PartBar, sizes: RowSizes, lambda: number, atHead: boolean): BarLayout {
  const rods = rodsOf(bar, sizes, atHead)
  const air = sizes.symbolAir * sizes.chord
  const x: number[] = []
  const count = Math.max(1, bar.signs.length)

  // Phase 1: the signs, left to right. `clear` is where the next symbol may begin at the earliest.
  let clear = Number.NEGATIVE_INFINITY
  let next = 0
  for (let sign = 0; sign < count; sign++) {
    let at = sign === 0 ? rods.start : x[sign - 1]! + Math.max(rods.rods[sign - 1]!, lambda * rods.springs[sign - 1]!)
    for (; next < rods.symbols.length && rods.symbols[next]!.sign === sign; next++) {
      const { width, through } = rods.symbols[next]!
      if (through === 0) at = Math.max(at, clear + SYMBOL_LEAD)
      const left = through === 0 ? at - SYMBOL_LEAD : Math.max(clear, at - SYMBOL_LEAD)
      clear = left + width + air
    }
    x.push(at)
  }

  // Phase 2: the bar's width.
  const last = x.at(-1)!
  const spring = lambda * (rods.springs.at(-1) ?? springOf(bar.ticks))
  let width = last + Math.max(rods.end, spring) + rods.barLine
  if (rods.symbols.length > 0) width = Math.max(width, clear - air + SYMBOL_END)

  // Phase 3: the symbols. One that arrives while a note sounds stands as far through the note's room as it can.
  const symbolX: number[] = new Array(rods.symbols.length)
  let limit = width - SYMBOL_END + air
  for (let index = rods.symbols.length - 1; index >= 0; index--) {
    const symbol = rods.symbols[index]!
    const from = x[symbol.sign]!
    const to = x[symbol.sign + 1] ?? width - rods.barLine
    const place = from + (to - from) * symbol.through - SYMBOL_LEAD
    symbolX[index] = symbol.through === 0 ? place : Math.min(place, limit - air - symbol.width)
    limit = symbolX[index]!
  }
  let free = Number.NEGATIVE_INFINITY
  for (const [index, symbol] of rods.symbols.entries()) {
    symbolX[index] = Math.max(symbolX[index]!, free)
    free = symbolX[index]! + symbol.width + air
  }

  if (rods.soleRest) return { width, x: [Math.max(last, (rods.head + width - rods.barLine) / 2)], symbolX }
  return { width, x: bar.signs.length === 0 ? [] : x, symbolX }
}

/** The least width of a bar. */
export function leastWidth(bar: PartBar, sizes: RowSizes, atHead: boolean): number {
  return layBar(bar, sizes, 0, atHead).width
}

/** Halvings of a bisection for λ: from 4 down to less than a ten-millionth. */
const HALVINGS = 26
const LAMBDA_FROM = 4

/** The largest λ at which `widthOf` is at most `width`; 0 where even the least is wider. */
export function stretchTo(width: number, widthOf: (lambda: number) => number): number {
  let low = 0
  let high = LAMBDA_FROM
  while (widthOf(high) < width && high < 4096) high *= 2
  for (let halving = 0; halving < HALVINGS; halving++) {
    const middle = (low + high) / 2
    if (widthOf(middle) <= width) low = middle
    else high = middle
  }
  return low
}
