/** The three ways a part stands on a screen. */
export type PartView = 'desktop' | 'tablet' | 'phone'

/** The page a part is laid on: lengths in staff spaces (sp) but for `sp` itself. */
export interface PartPage {
  /** CSS pixels of a staff space */
  readonly sp: number
  readonly width: number
  /** bars of a phrase, and the most of a system */
  readonly perSystem: 4 | 2
  /** sizes of chord symbols, tab figures and degrees */
  readonly chord: number
  readonly tab: number
  readonly degree: number
  /** between systems */
  readonly gap: number
  /** air at each rod that decides whether a system holds its bars */
  readonly breakAir: number
}

/** Width in pixels that the sizes are made for, and the sizes. */
const VIEWS = {
  desktop: { width: 944, sp: 7.4, perSystem: 4, chord: 3.0, tab: 2.0, degree: 2.2, gap: 3.15, breakAir: 0.3 },
  tablet: { width: 740, sp: 8.7, perSystem: 4, chord: 2.8, tab: 2.0, degree: 2.1, gap: 5, breakAir: 0.3 },
  phone: { width: 358, sp: 6.7, perSystem: 2, chord: 3.15, tab: 2.05, degree: 2.15, gap: 2.9, breakAir: 0.1 },
} as const

/** How far the staff space follows the width before the bars do. */
const NARROWEST = 0.94
const WIDEST = 1.25

/** The view that a width asks for where none is named. */
export function viewOf(widthPx: number): PartView {
  if (widthPx <= 540) return 'phone'
  return widthPx <= 860 ? 'tablet' : 'desktop'
}

/**
 * The page of a view at a width. The staff space follows the width a little and the player's own size altogether; a part of
 * one or two bars is set larger and does not fill the width.
 *
 * @param sizePercent  60 to 200
 * @throws RangeError  at a width that is not above 0 or a size outside 60 to 200
 */
export function pageOf(view: PartView, widthPx: number, sizePercent: number, barCount: number): PartPage {
  if (!(widthPx > 0)) throw new RangeError(`a part needs a width above 0 px, not ${widthPx}`)
  if (!(sizePercent >= 60 && sizePercent <= 200)) throw new RangeError(`size ${sizePercent} is outside 60 to 200 %`)
  const { width: usual, ...sizes } = VIEWS[view]
  const few = barCount > 0 && barCount <= 2
  const follow = Math.min(WIDEST, Math.max(NARROWEST, widthPx / usual))
  const sp = sizes.sp * follow * (sizePercent / 100) * (few ? (view === 'phone' ? 1.05 : 1.4) : 1)
  return { ...sizes, sp, width: (widthPx / sp) * (few && view !== 'phone' ? 0.72 : 1) }
}
