import type { Tick } from '../../music/tick.ts'
import type { GrooveTable } from './table.ts'

/** Ticks of the parts of a quarter, as a teacher counts them. */
const PARTS: Readonly<Record<string, number>> = { '': 0, e: 120, '&': 240, a: 360, trip: 160, let: 320 }

/** A sound in a bar, from its bar line. */
interface Span {
  readonly tick: Tick
  readonly ticks: Tick
}

/**
 * Ticks of a place of a bar from its bar line: the count, and the part of it.
 *
 * @throws RangeError  if it is none
 *
 * @example
 * placeTick('2&') // => 720
 * placeTick('4a') // => 1800
 */
export function placeTick(place: string): Tick {
  const [, count, part] = /^([1-9])(e|&|a|trip|let)?$/.exec(place) ?? []
  if (count === undefined) throw new RangeError(`a place is a count and its part, as 2&, not '${place}'`)
  return (Number(count) - 1) * 480 + PARTS[part ?? '']!
}

/**
 * Dead notes that a bar may have beside those of its cells, the most wanted first: where the feel has them, nothing is struck, and the next
 * note or the next bar follows at once. Each ends the note that sounds into it.
 *
 * @param struck  what is struck in the bar, dead notes too, in order of time
 * @param end     where the bar ends, if its end leads into a bar that begins with a note
 */
export function deadNotes(
  { places, most }: NonNullable<GrooveTable['ghosts']>,
  struck: readonly Span[],
  end: Tick | undefined,
): readonly Span[] {
  const spans = places.map((place) => {
    const tick = placeTick(place)
    return { tick, ticks: tick % 160 === 0 && tick % 240 !== 0 ? 160 : 120 }
  })
  return spans
    .filter(({ tick, ticks }) => {
      const isTaken = struck.some((one) => one.tick === tick)
      const isFirst = struck.every((one) => one.tick > tick)
      const leads = tick + ticks === end || struck.some((one) => one.tick === tick + ticks)
      return !isTaken && !isFirst && leads
    })
    .slice(0, most)
}
