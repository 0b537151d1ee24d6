import { countTicks, type Metre } from '../music/metre.ts'
import type { Tick } from '../music/tick.ts'
import type { Cell } from './cell.ts'

/** A beat group and where it goes when groups change places. */
interface Moved {
  readonly from: Tick
  readonly to: Tick
  readonly ticks: Tick
}

/**
 * The groups of a bar in another order, each moved whole: 2+2+3 as 3+2+2 puts the three first and the twos behind it, in their order.
 *
 * @returns  in the new order, or `undefined` if the groups are not the same ones
 */
function movedGroups(metre: Metre, groups: readonly number[]): readonly Moved[] | undefined {
  const unit = countTicks(metre)
  let at = 0
  const left = metre.groups.map((size) => {
    at += size * unit
    return { from: at - size * unit, ticks: size * unit }
  })
  at = 0
  const moved: Moved[] = []
  for (const size of groups) {
    const index = left.findIndex(({ ticks }) => ticks === size * unit)
    const [group] = index < 0 ? [] : left.splice(index, 1)
    if (!group) return undefined
    moved.push({ ...group, to: at })
    at += group.ticks
  }
  return left.length === 0 ? moved : undefined
}

/**
 * Where the places of a bar go when its beat groups change places.
 *
 * @param metre   with the groups that the places are written in
 * @param groups  the groups that they are played in
 * @returns       the place in the new bar of a tick inside a bar; `undefined` if the groups are not the same in another order
 */
export function regrouping(metre: Metre, groups: readonly number[]): ((tick: Tick) => Tick) | undefined {
  const moved = movedGroups(metre, groups)
  return moved && ((tick) => shifted(moved, tick))
}

function shifted(moved: readonly Moved[], tick: Tick): Tick {
  const group = moved.find(({ from, ticks }) => tick >= from && tick < from + ticks)
  return group ? tick - group.from + group.to : tick
}

/**
 * A cell of one bar with its beat groups in another order, each with its own rhythm: `1 3 5 7` in 2+2+3 is `1 3 4 6` in 3+2+2. What
 * sounds into another group, or to an onset where one begins, sounds to the next onset.
 *
 * @param cell    written in the groups of `metre`
 * @returns       the cell itself if the groups are as they are written; `undefined` if it cannot be told in them: it is no single
 *                bar, or it is tied over an end
 */
export function regrouped(cell: Cell, metre: Metre, groups: readonly number[]): Cell | undefined {
  if (metre.groups.join() === groups.join()) return cell
  const moved = movedGroups(metre, groups)
  if (!moved || cell.bars !== 1 || cell.onsets.some((onset) => onset.tiedOver || onset.continues)) return undefined
  const written = cell.onsets.map(({ tick }) => tick)
  const starts = written.map((tick) => shifted(moved, tick)).sort((a, b) => a - b)
  const onsets = cell.onsets.map((onset) => {
    const group = moved.find(({ from, ticks }) => onset.tick >= from && onset.tick < from + ticks)!
    const tick = shifted(moved, onset.tick)
    const end = onset.tick + onset.ticks
    const groupEnd = group.from + group.ticks
    const goesOn = end > groupEnd || (end === groupEnd && written.includes(end % cell.ticks))
    const next = starts.find((start) => start > tick) ?? cell.ticks
    return { ...onset, tick, ticks: goesOn ? next - tick : onset.ticks }
  })
  return { ...cell, onsets: onsets.sort((a, b) => a.tick - b.tick) }
}
