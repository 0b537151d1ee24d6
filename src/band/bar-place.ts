import type { FormBar } from '../chart/form.ts'
import { formatMetre, type Metre, metreOf } from '../music/metre.ts'
import type { BandTable } from './band-table.ts'

/** The table a bar is played from, and the metre that table is in. */
export interface BarBand {
  readonly table: BandTable
  /** with the usual beat groups, which the table is written in */
  readonly metre: Metre
  /** false: the bar is the first half of one of the table's */
  readonly whole: boolean
}

/** What the band has to know of a bar. */
export interface BarPlace {
  /** bars since the section, the repeat or the chorus began */
  readonly inSection: number
  /** the last bar of a section, and four bars or more since the last such */
  readonly endsSection: boolean
  readonly pickup: boolean
  /** `undefined`: no table has this metre; hats on the beats, chords held */
  readonly band: BarBand | undefined
}

/** The band's tables by metre as written, `3/4`; `undefined` where no feel has one. */
export type BandOfMetre = (metre: string) => BandTable | undefined

/** Fewest bars from one fill to the next. Source: common practice, no source. */
const BARS_BETWEEN_FILLS = 4

function bandOf(metre: Metre, bandOfMetre: BandOfMetre): BarBand | undefined {
  const table = bandOfMetre(formatMetre(metre))
  if (table) return { table, metre: metreOf(formatMetre(metre))!, whole: true }
  const common = metreOf('4/4')!
  const half = formatMetre(metre) === '2/4' ? bandOfMetre(formatMetre(common)) : undefined
  return half && { table: half, metre: common, whole: false }
}

/**
 * What the band knows of each bar of a form. A section begins where it is named, and where the form jumps back: at a repeat and at
 * the next chorus. A 2/4 bar is half a 4/4 bar where 2/4 has no table of its own.
 */
export function barPlaces(bars: readonly FormBar[], bandOfMetre: BandOfMetre): readonly BarPlace[] {
  const begins = (index: number): boolean => {
    const bar = bars[index]
    const before = bars[index - 1]
    if (!bar || !before || before.number === 0) return true
    return bar.section !== undefined || bar.writtenIndex <= before.writtenIndex
  }
  let start = 0
  let unfilled = 0
  return bars.map((bar, index) => {
    if (begins(index)) start = index
    const pickup = bar.number === 0
    if (!pickup) unfilled++
    const endsSection = !pickup && begins(index + 1) && unfilled >= BARS_BETWEEN_FILLS
    if (endsSection) unfilled = 0
    return { inSection: index - start, endsSection, pickup, band: bandOf(bar.metre, bandOfMetre) }
  })
}
