import type { Form } from '../chart/form.ts'
import type { Slot } from '../rhythm/slot.ts'
import type { GrooveTable } from './groove-table.ts'

/** Ticks of the parts of a quarter, as a teacher counts them. */
const PARTS: Readonly<Record<string, number>> = { '': 0, e: 120, '&': 240, a: 360, trip: 160, let: 320 }

/**
 * Dead notes after the search: at the places a feel allows, in bars of its metre, directly before a struck note, where nothing is
 * struck. They change no pitch and no place, so the best line stays the best.
 *
 * @param struck  sounded slots of the line, in order of time
 * @returns       the dead notes, in order of time
 */
export function deadNotes(
  ghosts: NonNullable<GrooveTable['ghosts']>,
  form: Form,
  isOwn: (barIndex: number) => boolean,
  struck: readonly Slot[],
): readonly Slot[] {
  const dead: Slot[] = []
  const at = new Map(struck.map((slot) => [slot.startTick, slot]))
  const places = ghosts.places.flatMap((place) => {
    const [, count, part] = /^(\d+)(e|&|a|trip|let)?$/.exec(place) ?? []
    if (count === undefined) return []
    const within = PARTS[part ?? '']!
    // Until the next place of the same division.
    return [{ tick: (Number(count) - 1) * 480 + within, ticks: within % 160 === 0 ? 160 : 120 }]
  })
  places.sort((a, b) => a.tick - b.tick)
  for (const bar of form.bars) {
    if (!isOwn(bar.index)) continue
    let left = ghosts.most
    for (const { tick, ticks } of places) {
      const startTick = bar.startTick + tick
      const before = struck.findLast((slot) => slot.startTick <= startTick)
      const after = at.get(startTick + ticks)
      if (left === 0 || !after || !before || before.startTick === startTick || before.pushed || after.pushed) continue
      dead.push({
        startTick,
        ticks,
        barIndex: bar.index,
        changeIndex: before.changeIndex,
        strength: 'fine',
        cell: before.cell,
        accent: false,
        length: undefined,
        pushed: false,
        ghost: true,
      })
      left--
    }
  }
  return dead
}
