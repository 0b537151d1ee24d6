import type { ComposedLine } from '../compose-messages.ts'

/** What the stand lamp lights. */
export interface Lamp {
  readonly barIndex: number
  /** index into the line's notes; `undefined`: none has sounded yet */
  readonly noteIndex: number | undefined
}

/**
 * The bar and the note that are heard.
 *
 * @param tick  of the performance, swung and placed
 * @param pass  how many times it has gone round before
 */
export function lampAt({ line, part, first, again }: ComposedLine, tick: number, pass: number): Lamp {
  const bar = Math.max(0, countUntil(part.bars, tick) - 1)
  const played = (pass === 0 ? first : again).parts.find(({ name }) => name === 'bass')?.notes ?? []
  const { notes } = line
  // A note that is tied over the end of a loop is struck at the start the first time, and not again.
  const note = countUntil(played, tick) - 1 + notes.length - played.length
  return {
    barIndex: bar,
    noteIndex: note >= 0 ? note : tick >= 0 && tick < tiedOver(line, part) ? notes.length - 1 : undefined,
  }
}

/** Ticks for which the last note is held over the end, into the next time round. */
function tiedOver({ notes }: ComposedLine['line'], { bars }: ComposedLine['part']): number {
  const slot = notes.at(-1)?.slot
  const end = bars.at(-1)
  return slot && end ? slot.startTick + slot.ticks - end.startTick - end.ticks : 0
}

/** How many have started. */
function countUntil(items: readonly { readonly startTick: number }[], tick: number): number {
  let from = 0
  let to = items.length
  while (from < to) {
    const middle = (from + to) >> 1
    if (items[middle]!.startTick <= tick) from = middle + 1
    else to = middle
  }
  return from
}
