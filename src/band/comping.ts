import type { Change, FormBar } from '../chart/form.ts'
import type { WrittenNote } from '../music/arrangement.ts'
import { type Chord, semitonesOfNumber } from '../music/chord.ts'
import { barTicks, formatMetre } from '../music/metre.ts'
import type { Pitch } from '../music/pitch.ts'
import { TICKS_PER_QUARTER, type Tick } from '../music/tick.ts'
import { type Cell, type CellOnset, parseCell } from '../rhythm/cell.ts'
import { type JoinedOnset, type LaidCell, tile } from '../rhythm/join.ts'
import { regrouped } from '../rhythm/regroup.ts'
import type { CompingRow } from './band-table.ts'
import type { BarPlace } from './bar-place.ts'
import { fifthAndSixth, type Voicing, voiceChanges } from './voicing.ts'

/** A stroke this close before a change, and nothing on it, is heard as the coming chord. Source: common practice, no source. */
const ANTICIPATION: Tick = 240

/** How long a chord sounds that had to be added where a change would have gone by unheard. */
const ADDED: Tick = TICKS_PER_QUARTER

/** A chord for as long as it lasts, over bar lines. */
interface Region {
  /** `undefined`: N.C. */
  readonly chord: Chord | undefined
  readonly startTick: Tick
  readonly endTick: Tick
}

/** A cell's bar, laid, with the row that it is from. */
interface LaidBar extends LaidCell {
  readonly bar: FormBar
  readonly row: CompingRow
}

/** A chord to be struck. */
interface Stroke {
  readonly startTick: Tick
  readonly endTick: Tick
  readonly region: number
  readonly onset: Pick<CellOnset, 'ghost' | 'accent' | 'length'>
  readonly pushed: boolean
  readonly laid: LaidBar
}

const PLAIN = { ghost: false, accent: false, length: undefined }

/** One onset that lasts a bar: how chords are played where no feel has a metre. */
function heldCell(bar: FormBar): Cell {
  const onset = { ...PLAIN, tick: 0, ticks: bar.ticks, tiedOver: false, continues: false }
  return { upper: bar.metre.upper, lower: bar.metre.lower, bars: 1, ticks: bar.ticks, onsets: [onset] }
}

/** A bar of a cell, or the first part of one, as a cell of its own; what sounds over its bar line is tied there. */
function sliceOf(cell: Cell, from: Tick, to: Tick, barLine: Tick): Cell {
  const onsets: CellOnset[] = []
  for (const onset of cell.onsets) {
    const start = Math.max(from, onset.tick)
    const end = Math.min(to, onset.tick + onset.ticks)
    if (start >= end) continue
    const goesOn = to === barLine && onset.tick + onset.ticks > to
    onsets.push({
      ...onset,
      tick: start - from,
      ticks: end - start,
      continues: onset.continues || onset.tick < from,
      tiedOver: goesOn || (onset.tiedOver && end === cell.ticks),
    })
  }
  return { ...cell, bars: 1, ticks: to - from, onsets }
}

/** The cell of a row of the band's table; such rows are ours, so a wrong one is a mistake of the program. */
function cellOfRow(row: CompingRow): Cell {
  const reading = parseCell(row.cell)
  if (!reading.ok) throw new RangeError(`Comping row ${row.id} is no cell: ${reading.message}`)
  return reading.cell
}

function layBar(bar: FormBar, place: BarPlace, startTick: Tick, usual: CompingRow): LaidBar {
  const { band } = place
  const row = band?.table.comping[0]
  if (place.pickup) return { bar, row: usual, startTick, cell: { ...heldCell(bar), onsets: [] } }
  if (!band || !row) return { bar, row: usual, startTick, cell: heldCell(bar) }
  const cell = cellOfRow(row)
  const rowBar = barTicks(band.metre)
  if (formatMetre(band.metre) !== `${cell.upper}/${cell.lower}`) {
    throw new RangeError(
      `Comping row ${row.id} is in ${cell.upper}/${cell.lower}, its table in ${formatMetre(band.metre)}`,
    )
  }
  const from = (place.inSection % cell.bars) * rowBar
  const slice = sliceOf(cell, from, from + Math.min(rowBar, bar.ticks), from + rowBar)
  return { bar, row, startTick, cell: regrouped(slice, band.metre, bar.metre.groups) ?? slice }
}

function regionsOf(changes: readonly Change[]): readonly Region[] {
  const regions: Region[] = []
  for (const { chord, startTick, ticks, held } of changes) {
    const last = regions.at(-1)
    if (held && last) regions[regions.length - 1] = { ...last, endTick: startTick + ticks }
    else regions.push({ chord, startTick, endTick: startTick + ticks })
  }
  return regions
}

/** Which chord each onset of the cells sounds, and until when. */
function strokesOf(onsets: readonly JoinedOnset<LaidBar>[], regions: readonly Region[], end: Tick): readonly Stroke[] {
  const regionAt = (tick: Tick) => regions.findLastIndex((region) => region.startTick <= tick)
  const strokes: Stroke[] = []
  for (const onset of onsets) {
    const { startTick } = onset
    if (startTick >= end) continue
    const endTick = startTick + onset.ticks
    const barLine = onset.from.startTick + onset.from.cell.ticks
    const own = regionAt(startTick)
    const coming = regionAt(Math.min(endTick - 1, startTick + ANTICIPATION))
    const target = onset.pushed ? regionAt(barLine) : coming
    // A push into silence is none.
    const region = regions[target]?.chord ? target : own
    if (!regions[region]?.chord) continue
    strokes.push({
      startTick,
      endTick: Math.min(endTick, regions[region].endTick),
      region,
      onset,
      pushed: onset.pushed && region === target,
      laid: onset.from,
    })
  }
  return strokes
}

/** Every chord is heard: from the stroke just before it, if that can be spared, else from one added on the change. */
function serveChanges(
  strokes: readonly Stroke[],
  regions: readonly Region[],
  onsets: readonly JoinedOnset<LaidBar>[],
  bars: readonly LaidBar[],
): readonly Stroke[] {
  const served = [...strokes]
  const heard = regions.map(() => 0)
  for (const stroke of strokes) heard[stroke.region] = (heard[stroke.region] ?? 0) + 1
  for (const [index, region] of regions.entries()) {
    if (!region.chord || heard[index]! > 0) continue
    const before = served.findLastIndex((stroke) => stroke.startTick < region.startTick)
    const stroke = served[before]
    const isNear = stroke !== undefined && stroke.startTick >= region.startTick - ANTICIPATION
    if (isNear && heard[stroke.region]! > 1) {
      heard[stroke.region] = heard[stroke.region]! - 1
      served[before] = { ...stroke, region: index }
      continue
    }
    const laid = bars.findLast((bar) => bar.startTick <= region.startTick)
    if (!laid || laid.bar.number === 0) continue
    const cut = onsets.find(
      (onset) => onset.startTick < region.startTick && onset.startTick + onset.ticks > region.startTick,
    )
    const next = served[before + 1]?.startTick ?? Number.POSITIVE_INFINITY
    const until = cut ? cut.startTick + cut.ticks : region.startTick + ADDED
    served.splice(before + 1, 0, {
      startTick: region.startTick,
      endTick: Math.min(until, next, region.endTick),
      region: index,
      onset: PLAIN,
      pushed: false,
      laid,
    })
  }
  return served
}

function isTwoNotes({ voicing }: CompingRow): boolean {
  return voicing === 'fifth-and-sixth' || voicing === 'root-and-fifth'
}

/** The tone of a broken chord that comes after so many: up from the bottom, down from the top, neither of them twice. */
function upAndDown(voicing: Voicing, order: number): Pitch {
  const round = Math.max(1, 2 * (voicing.length - 1))
  const step = order % round
  return voicing[step < voicing.length ? step : round - step]!
}

/** The pitches of each stroke; a chord that goes on keeps its voicing. */
function voiceStrokes(strokes: readonly Stroke[], regions: readonly Region[]): readonly Voicing[] {
  const led: { readonly chord: Chord; readonly row: CompingRow }[] = []
  const ledBy = strokes.map((stroke) => {
    const chord = regions[stroke.region]!.chord!
    const { row } = stroke.laid
    if (isTwoNotes(row)) return undefined
    const last = led.at(-1)
    if (last?.row !== row || last.chord.symbol.text !== chord.symbol.text || last.chord.scale.id !== chord.scale.id)
      led.push({ chord, row })
    return led.length - 1
  })
  const voicings = voiceChanges(led)
  let broken = 0
  return strokes.map((stroke, index) => {
    const at = ledBy[index]
    const before = strokes[index - 1]
    broken = before?.laid === stroke.laid && before.region === stroke.region ? broken + 1 : 0
    if (at !== undefined) {
      const voicing = voicings[at]!
      return stroke.laid.row.voicing === 'broken' ? [upAndDown(voicing, broken)] : voicing
    }
    const chord = regions[stroke.region]!.chord!
    const { fifth, sixth } = fifthAndSixth(chord, semitonesOfNumber(chord, 6))
    if (stroke.laid.row.voicing === 'root-and-fifth') return fifth
    const beat = Math.floor((stroke.startTick - stroke.laid.startTick) / TICKS_PER_QUARTER)
    return beat % 2 === 0 ? fifth : sixth
  })
}

/** The chords of a form, and where they are pushed. */
export interface Comping {
  readonly notes: readonly WrittenNote[]
  /** ticks of chords tied over a bar line into the chord they anticipate */
  readonly pushes: readonly Tick[]
}

/**
 * The chords of a form by the first comping row of each bar's table, round and round from each section's start, the voices led by
 * least movement.
 *
 * A chord on a push takes the coming chord; so does a stroke less than an eighth before a change that it sounds into. No chord
 * goes by unheard: where a cell has no stroke for one, the stroke just before it is spared for it, or one is added on the change.
 * Chords rest in N.C. and in a pick-up; in metres without a table they are held.
 *
 * @param usual  the row that gives sound and register where there is no table
 * @param loop   the first bar follows the last: a push over the end takes the first chord and runs past the end, into its downbeat
 */
export function compingNotes(
  bars: readonly FormBar[],
  places: readonly BarPlace[],
  changes: readonly Change[],
  usual: CompingRow,
  loop: boolean,
): Comping {
  const last = bars.at(-1)
  const end = last ? last.startTick + last.ticks : 0
  const laid = bars.map((bar, index) => layBar(bar, places[index]!, bar.startTick, usual))

  // A loop is laid with the first bar once more behind it, so that the seam is a bar line like others.
  const first = bars.findIndex((bar) => bar.number > 0)
  const again = loop ? bars[first] : undefined
  const lap = again ? [layBar(again, places[first]!, end, usual)] : []
  const chordsAgain = again
    ? again.changes.map((change) => ({ ...change, startTick: change.startTick - again.startTick + end }))
    : []

  const onsets = tile([...laid, ...lap])
  const regions = regionsOf([
    ...changes,
    ...chordsAgain.map((change, index) => (index === 0 ? { ...change, held: false } : change)),
  ])
  const within = regions.filter((region) => region.startTick < end)
  const strokes = serveChanges(strokesOf(onsets, regions, end), within, onsets, laid)
  const voicings = voiceStrokes(strokes, regions)

  const notes = strokes.flatMap(({ startTick, endTick, onset, pushed, laid: { row } }, index) =>
    voicings[index]!.map(
      (pitch): WrittenNote => ({
        startTick,
        ticks: endTick - startTick,
        pitch,
        velocity: row.velocity,
        share: row.length,
        accent: onset.accent,
        length: onset.length,
        ghost: onset.ghost,
        tied: pushed,
        string: undefined,
      }),
    ),
  )
  return { notes, pushes: strokes.filter((stroke) => stroke.pushed).map((stroke) => stroke.startTick) }
}
