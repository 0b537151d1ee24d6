import type { FormBar } from '../chart/form.ts'
import type { WrittenNote } from '../music/arrangement.ts'
import { barTicks, beatsOf } from '../music/metre.ts'
import type { Pitch } from '../music/pitch.ts'
import type { Tick } from '../music/tick.ts'
import { regrouping } from '../rhythm/regroup.ts'
import type { DrumLane, DrumPattern } from './band-table.ts'
import type { BarBand, BarPlace } from './bar-place.ts'

/** General MIDI percussion. Source: General MIDI System Level 1, percussion key map. */
const KICK = 36
const CLOSED_HAT = 42

/** Where no feel has drums for a metre: hats on the beats, kick on the first, as hard as in a quiet groove. */
const PLAIN = { hat: 5, kick: 7, ticks: 120 }

/** How hard the kick marks a push of the whole band. */
const PUSH_LEVEL = 7

/** Part of a stroke's step that its note lasts: percussion rings as it will. */
const STROKE_SHARE = 0.5

/** A stroke of a pattern. */
interface Stroke {
  /** from the start of the pattern */
  readonly tick: Tick
  readonly pitch: Pitch
  /** 1 to 9 */
  readonly level: number
  /** of its step */
  readonly ticks: Tick
}

/**
 * MIDI velocity of a level: 1 is 14, 9 is 127.
 *
 * @param level  1 to 9
 *
 * @example
 * velocityOfLevel(8) // => 113
 */
export function velocityOfLevel(level: number): number {
  return Math.round((level * 127) / 9)
}

/**
 * The strokes of a row of drum notation, with the ticks of a step.
 *
 * @throws RangeError  if it is no such row
 */
export function readLane(lane: DrumLane, ticksPerStep: Tick): readonly Stroke[] {
  const match = /^(\d+)=([.1-9 |]+)$/.exec(lane)
  if (!match) throw new RangeError(`"${lane}" is no row of drums: 38=.... 8... is`)
  const pitch = Number(match[1])
  const strokes: Stroke[] = []
  for (const [step, mark] of [...match[2]!.replaceAll(/[ |]/g, '')].entries()) {
    if (mark !== '.') strokes.push({ tick: step * ticksPerStep, pitch, level: Number(mark), ticks: ticksPerStep })
  }
  return strokes
}

/** The strokes of a pattern for a bar, which begins at a tick of it; in the bar's own beat groups, if the pattern's are the same. */
function strokesOf(pattern: DrumPattern, from: Tick, bar: FormBar, { metre }: BarBand): readonly Stroke[] {
  const placed = regrouping(metre, bar.metre.groups) ?? ((tick: Tick) => tick)
  return pattern.lanes
    .flatMap((lane) => readLane(lane, pattern.ticksPerStep))
    .filter((stroke) => stroke.tick >= from && stroke.tick < from + Math.min(barTicks(metre), bar.ticks))
    .map((stroke) => ({ ...stroke, tick: placed(stroke.tick - from) }))
}

/** The bar of a groove that a bar is played from; a 2/4 bar is half of a 4/4 bar. */
function grooveStrokes(groove: DrumPattern, bar: FormBar, place: BarPlace, band: BarBand): readonly Stroke[] {
  const patternBar = barTicks(band.metre)
  const [lane = ''] = groove.lanes
  const steps = lane.replace(/^\d+=/, '').replaceAll(/[ |]/g, '').length
  const bars = Math.max(1, Math.round((steps * groove.ticksPerStep) / patternBar))
  return strokesOf(groove, (place.inSection % bars) * patternBar, bar, band)
}

function plainStrokes(bar: FormBar): readonly Stroke[] {
  const strokes: Stroke[] = [{ tick: 0, pitch: KICK, level: PLAIN.kick, ticks: PLAIN.ticks }]
  let tick = 0
  for (const beat of beatsOf(bar.metre)) {
    if (tick < bar.ticks) strokes.push({ tick, pitch: CLOSED_HAT, level: PLAIN.hat, ticks: PLAIN.ticks })
    tick += beat
  }
  return strokes
}

/**
 * The drums of a form: the first groove of each bar's table, round and round from each section's start; a fill, never the same
 * twice running, in the last bar of each section of four bars or more, and its stroke on the bar after; the kick with every push
 * of bass and chords together. Drums play through N.C. and rest in a pick-up.
 *
 * The last bar of all is filled like others: a chart goes round. Only in a loop does its stroke after fall, on the first bar.
 *
 * @param places  what is known of each bar, one for each
 * @param pushes  ticks at which the band pushes together
 * @param loop    the first bar follows the last
 */
export function drumNotes(
  bars: readonly FormBar[],
  places: readonly BarPlace[],
  pushes: readonly Tick[],
  loop: boolean,
): readonly WrittenNote[] {
  // One stroke at a place and a drum: the harder of those that fall there.
  const struck = new Map<Tick, Map<Pitch, Stroke>>()
  const strike = (at: Tick, stroke: Stroke) => {
    const here = struck.get(at) ?? new Map<Pitch, Stroke>()
    struck.set(at, here)
    if ((here.get(stroke.pitch)?.level ?? 0) < stroke.level) here.set(stroke.pitch, stroke)
  }

  let filled = 0
  for (const [index, bar] of bars.entries()) {
    const place = places[index]!
    if (place.pickup) continue
    const { band } = place
    const groove = band?.table.grooves[0]
    const fills = band?.whole ? band.table.fills : []
    const fill = place.endsSection ? fills[filled % fills.length] : undefined
    const strokes =
      fill && band
        ? strokesOf(fill, 0, bar, band)
        : band && groove
          ? grooveStrokes(groove, bar, place, band)
          : plainStrokes(bar)
    for (const stroke of strokes) strike(bar.startTick + stroke.tick, stroke)
    if (!fill) continue
    filled++
    const after = bars[index + 1] ?? (loop ? bars.find((_, at) => !places[at]!.pickup) : undefined)
    if (!after) continue
    for (const stroke of fill.nextBar.flatMap((lane) => readLane(lane, fill.ticksPerStep)))
      strike(after.startTick, stroke)
  }
  for (const push of pushes) strike(push, { tick: 0, pitch: KICK, level: PUSH_LEVEL, ticks: PLAIN.ticks })

  return [...struck]
    .sort(([a], [b]) => a - b)
    .flatMap(([startTick, drums]) =>
      [...drums.values()].sort((a, b) => a.pitch - b.pitch).map((stroke) => percussionNote(startTick, stroke)),
    )
}

function percussionNote(startTick: Tick, stroke: Stroke): WrittenNote {
  return {
    startTick,
    ticks: stroke.ticks,
    pitch: stroke.pitch,
    velocity: velocityOfLevel(stroke.level),
    share: STROKE_SHARE,
    accent: false,
    length: undefined,
    ghost: false,
    tied: false,
    string: undefined,
  }
}
