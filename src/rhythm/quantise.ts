import type { Form, FormBar } from '../chart/form.ts'
import { isCompound } from '../music/metre.ts'
import { TICKS_PER_QUARTER, type Tick } from '../music/tick.ts'
import { STRAIGHT, type Swing, swungTick } from './swing.ts'

/** A stroke as it was played, in ticks of 480 to the quarter that need not be whole. */
export interface PlayedStroke {
  readonly start: number
  /** > start */
  readonly end: number
}

/** Strokes on the grid. */
export interface Quantised {
  /** in the order of the strokes; several may fall on one place */
  readonly strokes: readonly { readonly startTick: Tick; readonly ticks: Tick }[]
  /** how they were heard to swing */
  readonly swing: Swing
  /** all of them came so much late, < 0: early */
  readonly late: number
  /** strokes that lay off their place by more than a hair, after swing and lateness are taken out */
  readonly moved: number
  /** and by how much at most */
  readonly farthest: number
}

/** Shares of a beat as places, with what it costs to be there: hand-set, no source. Whole beats and halves are free. */
const HALVES: readonly (readonly [place: Tick, points: number])[] = [
  [0, 0],
  [120, 30],
  [240, 0],
  [360, 30],
  [480, 0],
]
const THIRDS: readonly (readonly [place: Tick, points: number])[] = [
  [0, 0],
  [160, 0],
  [320, 0],
  [480, 0],
]
/** A beat in thirds costs this much, and two strokes on one place so much. */
const THIRDS_POINTS = 26
const SAME_PLACE = 240

/** A stroke so little before a beat belongs to it: half a sixteenth. */
const EARLY = 60

/** What is off its place by no more is on it: some 10 ms at usual tempos. */
const HAIR = 10

/** Swing that anybody may play: triplets. */
const TRIPLETS: Swing = { level: 'eighth', points: [{ bpm: 120, ratio: 2 }] }

/**
 * Puts strokes on the grid: each beat in halves and quarters, or in thirds, whichever explains its strokes with the least moving; all of
 * them straight or swung, whichever moves them less. What all of them are late or early by is taken out first.
 *
 * @param strokes  in order of time
 * @param form     the bars they are played over; what lies behind the last bar is put on straight quarters
 * @param usual    how the feel swings; it is tried first
 * @param bpm      quarters a minute
 */
export function quantise(strokes: readonly PlayedStroke[], form: Form, usual: Swing, bpm: number): Quantised {
  let best: (Quantised & { readonly cost: number }) | undefined
  // Where triplets are written, a lone last one is no swung half.
  for (const swing of usual.level === 'written' ? [usual] : [usual, STRAIGHT, TRIPLETS]) {
    const first = onGrid(strokes, form, swing, bpm, 0)
    const late = middleOf(first.offs)
    const { places, offs, points } = late === 0 ? first : onGrid(strokes, form, swing, bpm, late)
    const cost = points + offs.reduce((sum, off) => sum + Math.abs(off), 0)
    if (best && cost >= best.cost) continue
    const far = offs.map((off) => Math.abs(off)).filter((off) => off > HAIR)
    const placed = places.map((startTick, i) => ({
      startTick,
      ticks: lengthOf(strokes[i]!, startTick, places[i + 1], late),
    }))
    const farthest = far.reduce((most, off) => Math.max(most, off), 0)
    best = { strokes: placed, swing, late: Math.round(late), moved: far.length, farthest: Math.round(farthest), cost }
  }
  const { cost: _, ...quantised } = best!
  return quantised
}

interface OnGrid {
  readonly places: readonly Tick[]
  /** how far each stroke was from its place */
  readonly offs: readonly number[]
  readonly points: number
}

function onGrid(strokes: readonly PlayedStroke[], form: Form, swing: Swing, bpm: number, late: number): OnGrid {
  const places: Tick[] = []
  const offs: number[] = []
  let points = 0
  let bar = 0
  for (let i = 0; i < strokes.length; ) {
    const beatOf = (k: number): number => Math.floor((strokes[k]!.start - late + EARLY) / TICKS_PER_QUARTER)
    const beat = beatOf(i)
    let to = i + 1
    while (to < strokes.length && beatOf(to) === beat) to++
    const from = beat * TICKS_PER_QUARTER
    while (bar + 1 < form.bars.length && form.bars[bar + 1]!.startTick <= from) bar++
    const ownBar = form.bars[bar]
    const played = strokes.slice(i, to).map(({ start }) => start - late - from)
    const swings = ownBar && isCompound(ownBar.metre) ? STRAIGHT : swing
    const halves = inBeat(played, HALVES, from, ownBar, swings, bpm)
    const thirds = ownBar && isCompound(ownBar.metre) ? undefined : inBeat(played, THIRDS, from, ownBar, swings, bpm)
    const chosen = thirds && thirds.cost + THIRDS_POINTS < halves.cost ? thirds : halves
    if (chosen === thirds) points += THIRDS_POINTS
    points += chosen.points
    places.push(...chosen.places.map((place) => Math.max(0, from + place)))
    offs.push(...chosen.offs)
    i = to
  }
  return { places, offs, points }
}

/** The strokes of one beat on its places: each on the nearest, and on one of its own if there is one. */
function inBeat(
  played: readonly number[],
  places: typeof HALVES,
  from: Tick,
  bar: FormBar | undefined,
  swing: Swing,
  bpm: number,
): {
  readonly places: readonly Tick[]
  readonly offs: readonly number[]
  readonly points: number
  readonly cost: number
} {
  const chosen: Tick[] = []
  const offs: number[] = []
  let points = 0
  // Beats are counted from the bar line, so that halves of 7/8 swing as they are written: not at all.
  const inBar = from - (bar?.startTick ?? 0)
  const soundsAt = (place: Tick): number =>
    inBar >= 0 && inBar % TICKS_PER_QUARTER === 0 ? swungTick(inBar + place, swing, bpm) - inBar : place
  for (const at of played) {
    let least = Number.POSITIVE_INFINITY
    let nearest = 0
    let off = 0
    let paid = 0
    for (const [place, own] of places) {
      const away = at - soundsAt(place)
      const more = own + (chosen.includes(place) ? SAME_PLACE : 0)
      if (Math.abs(away) + more >= least) continue
      least = Math.abs(away) + more
      nearest = place
      off = away
      paid = more
    }
    chosen.push(nearest)
    offs.push(off)
    points += paid
  }
  const cost = points + offs.reduce((sum, away) => sum + Math.abs(away), 0)
  return { places: chosen, offs, points, cost }
}

function middleOf(offs: readonly number[]): number {
  const sorted = [...offs].sort((a, b) => a - b)
  const middle = sorted[sorted.length >> 1] ?? 0
  // A quarter of a sixteenth is placement; more is another place.
  return Math.abs(middle) <= EARLY / 2 ? middle : 0
}

/** Shares of the way to the next stroke that are held, and lengths that are rounded: our choice, after how lengths are played. */
const HELD = { share: 0.62, shortShare: 0.46, shortest: 120, grid: 240 }

/** The written length: to the next stroke, unless the sound ends well before it. */
function lengthOf({ start, end }: PlayedStroke, startTick: Tick, next: Tick | undefined, late: number): Tick {
  const held = ended(end - late, startTick)
  if (next === undefined || next <= startTick) return held
  const gap = next - startTick
  const share = gap <= TICKS_PER_QUARTER ? HELD.shortShare : HELD.share
  return end - start >= gap * share ? gap : Math.min(gap, held)
}

/** Until the place of the grid that is nearest to the end. */
function ended(end: number, startTick: Tick): Tick {
  const ticks = Math.round((end - startTick) / HELD.grid) * HELD.grid
  return Math.max(HELD.shortest, ticks)
}
