import { barTicks, beatsOf, countTicks, formatMetre, type Metre } from '../music/metre.ts'
import { TICKS_PER_QUARTER, type Tick } from '../music/tick.ts'
import { type Cell, type CellOnset, type CellPlaces, placesOfLength } from './cell.ts'

/**
 * Where a cell may begin in a bar, in ticks from the bar line; none if it does not fit the metre.
 *
 * It must end inside the bar or fill whole bars. In 5/4 and 7/8 it does not cross from one beat group into the next unless it
 * fills the bar.
 *
 * @param cell  with its places, or without: then by its length
 */
export function startsIn(cell: Cell & Partial<CellPlaces>, metre: Metre): readonly Tick[] {
  const { metres, starts, groups } = { ...placesOfLength(cell), ...cell }
  if (!metres.includes(formatMetre(metre))) return []
  if (groups && groups.join() !== metre.groups.join()) return []
  const bar = barTicks(metre)
  if (cell.ticks % bar === 0) return [0]
  const unit = countTicks(metre)
  const candidates = starts === 'any' ? startsOf(beatsOf(metre)) : starts.map((count) => (count - 1) * unit)
  const joints = metre.upper === 5 || metre.upper === 7 ? startsOf(metre.groups.map((group) => group * unit)) : []
  return candidates.filter((start) => {
    const end = start + cell.ticks
    return end <= bar && !joints.some((joint) => start < joint && joint < end)
  })
}

/** Where each of a row of lengths begins. */
function startsOf(lengths: readonly Tick[]): readonly Tick[] {
  let at = 0
  return lengths.map((length) => {
    at += length
    return at - length
  })
}

/** A cell laid on time. */
export interface LaidCell {
  readonly cell: Cell
  readonly startTick: Tick
}

/** An onset of cells laid after each other, joined. */
export interface JoinedOnset<Laid extends LaidCell = LaidCell> {
  readonly startTick: Tick
  /** until the sound ends, ties over the end of its cell added in */
  readonly ticks: Tick
  readonly ghost: boolean
  readonly accent: boolean
  readonly length: 'short' | 'long' | undefined
  /** tied over the end of its cell with a cell directly after: it belongs to the chord that it anticipates */
  readonly pushed: boolean
  /** the cell it was struck in */
  readonly from: Laid
}

/**
 * Joins cells laid after each other.
 *
 * A push takes the next downbeat's place: after a cell that is tied over, an onset on the first tick of the next cell is not
 * struck and its length goes to the push; a cell that begins with a held sound goes on as written; before a rest the push ends
 * with its cell. A held sound that follows no push is struck, as a player would come in. So any cell may follow any other.
 *
 * @param cells    in order of time, not overlapping; a cell that does not begin where the one before ends follows nothing
 * @param options  `loop`: the first cell follows the last, so a push over the end takes the place of its downbeat
 * @returns        in order of time
 * @throws RangeError  if cells overlap or go back
 */
export function tile<Laid extends LaidCell>(
  cells: readonly Laid[],
  options: { readonly loop?: boolean } = {},
): readonly JoinedOnset<Laid>[] {
  const joined: { -readonly [Key in keyof JoinedOnset<Laid>]: JoinedOnset<Laid>[Key] }[] = []
  /** the last onset, while it is tied over an end that the next cell begins at */
  let push: (typeof joined)[number] | undefined
  let at: Tick | undefined
  const join = (onset: CellOnset, from: Laid): void => {
    if (push && onset.tick === 0) {
      push.ticks += onset.ticks
    } else {
      const { ghost, accent, length } = onset
      push = { startTick: from.startTick + onset.tick, ticks: onset.ticks, ghost, accent, length, pushed: false, from }
      joined.push(push)
    }
    if (!onset.tiedOver) push = undefined
  }

  for (const from of cells) {
    if (at !== undefined && from.startTick < at)
      throw new RangeError(`a cell at tick ${from.startTick} begins before the end of the one before it, ${at}`)
    if (from.startTick !== at) push = undefined
    else if (push) push.pushed = true
    if (from.cell.onsets[0]?.tick !== 0) push = undefined
    for (const onset of from.cell.onsets) join(onset, from)
    at = from.startTick + from.cell.ticks
  }

  // The seam of a loop: what is pushed over the end is not struck again at the start.
  if (options.loop && push) {
    push.pushed = true
    const first = joined[0]!
    if (first !== push && first.startTick === cells[0]!.startTick) {
      push.ticks += first.ticks
      joined.shift()
    }
  }
  return joined
}

/** The tempos at which a cell is offered, in quarters a minute. */
export interface CellTempo {
  /** faster than this it is not heard as rhythm any more */
  readonly fastest: number
  /** faster than this it is out of comfort */
  readonly comfortable: number
}

/**
 * The tempos a cell can bear by its shortest distance between onsets; `undefined` where no tempo is too fast, for quarters and
 * longer.
 *
 * Distances under about 100 ms are not heard as rhythm (London 2002): sixteenths to 150, eighth triplets to 200, eighths to 300.
 * Comfort ends at 132 for sixteenths and 240 for eighths, straight lines between: our own choice.
 */
export function tempoOf(cell: Cell): CellTempo | undefined {
  const starts = cell.onsets.map(({ tick }) => tick)
  const distances = starts.map((tick, index) => (starts[index + 1] ?? cell.ticks) - tick)
  const shortest = Math.min(...distances)
  if (shortest >= TICKS_PER_QUARTER) return undefined
  return { fastest: shortest * 1.25, comfortable: shortest <= 120 ? shortest * 1.1 : 24 + 0.9 * shortest }
}
