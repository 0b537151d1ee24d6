import type { Tick } from '../music/tick.ts'

/**
 * How a feel swings.
 *
 * - `none`: as written
 * - `eighth`, `sixteenth`: the off-beat eighth, or the second and fourth sixteenth, comes late
 * - `written`: as written, for the triplets are in the notation
 * - `samba`: in each half bar the third eighth 10 ms early and the fourth 15 ms
 */
export interface Swing {
  readonly level: 'none' | 'eighth' | 'sixteenth' | 'written' | 'samba'
  /** ratio of long to short at tempos in quarters a minute, slowest first; at least one where the level is a ratio's */
  readonly points: readonly SwingPoint[]
}

/** The ratio of long to short at a tempo: 2 is two to one. */
export interface SwingPoint {
  readonly bpm: number
  /** >= 1 */
  readonly ratio: number
}

/** No swing. */
export const STRAIGHT: Swing = { level: 'none', points: [] }

/** Ticks of the unit that a ratio divides: the quarter under eighths, the eighth under sixteenths. */
const UNIT = { eighth: 480, sixteenth: 240 } as const

/** Ticks of half a 4/4 bar, and how early its third and fourth eighths are; direction and size: Gouyon 2007, Naveda et al. 2011. */
const SAMBA = { half: 960, thirdMs: 10, fourthMs: 15 }

/**
 * The ratio of long to short at a tempo: straight lines between the points, outside them the nearest; 1 where nothing swings by
 * a ratio. Drummers adapt the ratio to the tempo: Friberg & Sundström 2002, Honing & de Haas 2008.
 *
 * @param bpm  quarters a minute
 *
 * @example
 * swingRatio({ level: 'eighth', points: [{ bpm: 140, ratio: 2 }, { bpm: 180, ratio: 1.5 }] }, 160) // => 1.75
 * swingRatio({ level: 'eighth', points: [{ bpm: 140, ratio: 2 }, { bpm: 180, ratio: 1.5 }] }, 60) // => 2
 * swingRatio({ level: 'none', points: [] }, 160) // => 1
 */
export function swingRatio(swing: Swing, bpm: number): number {
  if (swing.level !== 'eighth' && swing.level !== 'sixteenth') return 1
  const { points } = swing
  if (points.length === 0) throw new RangeError(`a swing at the ${swing.level} needs at least one point`)
  const after = points.findIndex((point) => point.bpm >= bpm)
  if (after <= 0) return points.at(after)!.ratio
  const from = points[after - 1]!
  const to = points[after]!
  return from.ratio + ((to.ratio - from.ratio) * (bpm - from.bpm)) / (to.bpm - from.bpm)
}

/**
 * Where a place is played, in ticks that need not be whole: round at the end of all arithmetic, not here. Onsets and ends of
 * notes are both mapped. Between the places that swing, straight lines; triplets (all multiples of 40 ticks that are none of 60)
 * are exact already and stay.
 *
 * @param tick  counted from a bar line, so that beats are multiples of 480; >= 0
 * @param bpm   quarters a minute
 *
 * @example
 * swungTick(240, { level: 'eighth', points: [{ bpm: 120, ratio: 3 }] }, 120) // => 360
 * swungTick(120, { level: 'eighth', points: [{ bpm: 120, ratio: 3 }] }, 120) // => 180
 * swungTick(320, { level: 'eighth', points: [{ bpm: 120, ratio: 3 }] }, 120) // => 320
 */
export function swungTick(tick: Tick, swing: Swing, bpm: number): number {
  if (swing.level === 'none' || swing.level === 'written' || isTriplet(tick)) return tick
  if (swing.level === 'samba') {
    const msToTicks = bpm * 0.008
    const knots = [0, 240, 480 - SAMBA.thirdMs * msToTicks, 720 - SAMBA.fourthMs * msToTicks, 960]
    return onKnots(tick, SAMBA.half, knots)
  }
  const unit = UNIT[swing.level]
  const ratio = swingRatio(swing, bpm)
  return onKnots(tick, unit, [0, (unit * ratio) / (ratio + 1), unit])
}

function isTriplet(tick: Tick): boolean {
  return tick % 40 === 0 && tick % 60 !== 0
}

/** A tick on the lines that join `knots`, which lie at even distances of the written unit. */
function onKnots(tick: Tick, unit: Tick, knots: readonly number[]): number {
  const start = Math.floor(tick / unit) * unit
  const step = unit / (knots.length - 1)
  const segment = Math.floor((tick - start) / step)
  const from = knots[segment]!
  const share = (tick - start - segment * step) / step
  return share === 0 ? start + from : start + from + share * (knots[segment + 1]! - from)
}
