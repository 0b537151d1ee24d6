import type { Part, PartBar } from '../../notation/part.ts'
import type { Measure } from './measure.ts'
import type { PartPage } from './sizes.ts'
import { type BarLayout, layBar, leastWidth, type RowSizes, stretchTo } from './spacing.ts'

/** A bar at its place in a system. Lengths in the system's staff spaces, from its left edge. */
export interface SystemBar {
  readonly bar: PartBar
  readonly x: number
  readonly width: number
  readonly layout: BarLayout
}

/** One line of the part. */
export interface System {
  readonly bars: readonly SystemBar[]
  /** clef, signature and metre before the first bar */
  readonly clefSpace: number
  /** to the last bar line */
  readonly width: number
  readonly sizes: RowSizes
  /** of the page's staff space; below 1 only on the last step of the ladder */
  readonly scale: number
}

/** From this λ on every bar of a system has the same width. */
const EQUAL_FROM = 0.62
/** A system that could only be set tighter than this breaks. */
const BREAK_BELOW = 0.42
const SMALLEST_SCALE = 0.72

/** Row sizes of a page at one step of the ladder. */
interface LadderStep {
  readonly suffixScale: number
  readonly symbolAir: number
  readonly chordScale: number
}

/** What a bar that stands alone and still does not fit gives up, in order. */
const LADDER: readonly LadderStep[] = [
  { suffixScale: 1, symbolAir: 0.6, chordScale: 1 },
  { suffixScale: 0.86, symbolAir: 0.6, chordScale: 1 },
  { suffixScale: 0.86, symbolAir: 0.35, chordScale: 1 },
  { suffixScale: 0.84, symbolAir: 0.35, chordScale: 0.85 },
]

/** All row sizes of a page, made once so that what is measured by them is kept. */
export interface PageSizes {
  readonly page: PartPage
  /** usual first */
  readonly ladder: readonly [RowSizes, ...RowSizes[]]
  /** the usual with the air that decides where systems break */
  readonly airy: RowSizes
}

/** The row sizes of a page in fonts that `measure` knows. */
export function pageSizes(page: PartPage, measure: Measure): PageSizes {
  const { chord, tab, degree } = page
  const ladder = LADDER.map(({ suffixScale, symbolAir, chordScale }) => ({
    chord: chord * chordScale,
    tab,
    degree,
    symbolAir,
    suffixScale,
    rodAir: 0,
    measure,
  }))
  const usual = ladder[0]!
  return { page, ladder: [usual, ...ladder.slice(1)], airy: { ...usual, rodAir: page.breakAir } }
}

/**
 * The room before the first bar, in sp: clef, signature and metre. It is the same on every system, so that first notes align.
 *
 * @param sharps  of the signature, -7 to 7
 *
 * @example
 * clefSpace(0, false) // => 7.5
 */
export function clefSpace(sharps: number, twoFigures: boolean): number {
  const accidentals = Math.abs(sharps)
  return 3.75 + 0.98 * accidentals + (accidentals > 0 ? 0.5 : 0.2) + (twoFigures ? 3.7 : 2.55) + 1.0
}

/**
 * Cuts bars into phrases: at every rehearsal letter, else after `perPhrase` bars. A pick-up belongs to the phrase after it and
 * is not counted.
 */
export function phrasesOf(bars: readonly PartBar[], perPhrase: number): readonly (readonly PartBar[])[] {
  const phrases: PartBar[][] = []
  let counted = 0
  for (const bar of bars) {
    const phrase = phrases.at(-1)
    const afterPickup = phrase !== undefined && counted === 0
    if (!phrase || (!afterPickup && (bar.section !== undefined || counted >= perPhrase))) {
      phrases.push([bar])
      counted = 0
    } else phrase.push(bar)
    if (!isPickup(bar)) counted++
  }
  return phrases
}

/** Numbered 0: the notes before bar 1. */
function isPickup(bar: PartBar): boolean {
  return bar.number === 0
}

function countedBars(row: readonly PartBar[]): number {
  return row.filter((bar) => !isPickup(bar)).length
}

/**
 * Breaks bars into systems. A phrase of four stands in 1, 2 or 4 systems (4, 2 + 2, 1 + 1 + 1 + 1, never 3 + 1); all phrases
 * between two rehearsal letters break alike, as the fullest of them asks.
 *
 * @param room  of the bars of a system, in sp
 */
export function breakSystems(
  bars: readonly PartBar[],
  sizes: PageSizes,
  room: number,
): readonly (readonly PartBar[])[] {
  const { perSystem } = sizes.page
  const holds = (row: readonly PartBar[]) => {
    if (countedBars(row) <= 1) return true
    const width = row.reduce((sum, bar, index) => sum + layBar(bar, sizes.airy, BREAK_BELOW, index === 0).width, 0)
    return width <= room
  }
  const systems: (readonly PartBar[])[] = []
  let section: (readonly PartBar[])[] = []
  const close = () => {
    let count: number = perSystem
    while (count > 1 && !section.every((phrase) => chunk(phrase, count).every(holds))) count /= 2
    for (const phrase of section) systems.push(...chunk(phrase, count))
    section = []
  }
  for (const phrase of phrasesOf(bars, perSystem)) {
    if (phrase[0]!.section !== undefined && section.length > 0) close()
    section.push(phrase)
  }
  close()
  return systems
}

/** A phrase in rows of `count` bars; a pick-up goes with the first bar. */
function chunk(phrase: readonly PartBar[], count: number): readonly (readonly PartBar[])[] {
  const lead = phrase.length > 0 && isPickup(phrase[0]!) ? 1 : 0
  const rows: (readonly PartBar[])[] = []
  for (let from = 0; from < phrase.length; ) {
    const to = from + count + (from === 0 ? lead : 0)
    rows.push(phrase.slice(from, to))
    from = to
  }
  return rows
}

/** The part in systems, each bar and note at its place. An empty part is a system of four empty bars (two on the phone). */
export function layPart(part: Part, sizes: PageSizes): readonly System[] {
  const { page } = sizes
  const bars = part.bars.length > 0 ? part.bars : emptyBars(page.perSystem)
  const twoFigures = bars.some((bar) => bar.metreChanges && bar.metre.upper >= 10)
  const lead = clefSpace(part.key?.sharps ?? 0, twoFigures)
  const rows = breakSystems(bars, sizes, page.width - lead)
  const most = Math.max(...rows.map((row) => countedBars(row)))
  return rows.map((row) => laySystem(row, sizes, lead, most))
}

/** Bars share a system: equal widths where every bar then has its air, else one λ for all. */
function laySystem(row: readonly PartBar[], { page, ladder }: PageSizes, lead: number, most: number): System {
  let sizes = ladder[0]
  let scale = 1
  const least = (candidate: RowSizes) => row.reduce((sum, bar, i) => sum + leastWidth(bar, candidate, i === 0), 0)
  const room = page.width - lead
  if (least(sizes) > room) {
    sizes = ladder.find((step) => least(step) <= room) ?? ladder.at(-1)!
    scale = Math.max(SMALLEST_SCALE, Math.min(1, page.width / (least(sizes) + lead)))
  }
  // A shorter system keeps the bar width of the page and ends early, unless its bars need more.
  const whole = page.width / scale - lead
  const counted = countedBars(row)
  const share = whole / Math.max(1, row.length)
  const widthAt = (lambda: number) => row.reduce((sum, bar, i) => sum + layBar(bar, sizes, lambda, i === 0).width, 0)
  const kept = counted < most ? (whole * counted) / most : whole
  const avail = kept < whole ? Math.min(whole, Math.max(kept, widthAt(EQUAL_FROM))) : whole

  const lambdas = row.map((bar, i) => {
    const width = (lambda: number) => layBar(bar, sizes, lambda, i === 0).width
    const part = kept < whole ? avail / row.length : share
    return width(EQUAL_FROM) <= part ? stretchTo(part, width) : undefined
  })
  const equal = row.every((bar) => !isPickup(bar)) && lambdas.every((lambda) => lambda !== undefined)
  const common = equal ? 0 : stretchTo(avail, widthAt)
  let x = lead
  const bars = row.map((bar, i) => {
    const layout = layBar(bar, sizes, equal ? lambdas[i]! : common, i === 0)
    const width = equal ? avail / row.length : layout.width
    const placed = { bar, x, width, layout }
    x += width
    return placed
  })
  return { bars, clefSpace: lead, width: x, sizes, scale }
}

function emptyBars(count: number): readonly PartBar[] {
  return Array.from({ length: count }, (_, index) => ({
    index,
    number: index + 1,
    startTick: index * 1920,
    ticks: 1920,
    metre: { upper: 4, lower: 4, groups: [1, 1, 1, 1] },
    metreChanges: index === 0,
    section: undefined,
    symbols: [],
    signs: [],
    beams: [],
    triplets: [],
    barLine: index === count - 1 ? 'final' : 'single',
  }))
}
