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
  // A note that is tied over the end of a loop is not struck again.
  const tiedOver = line.notes.length - played.length
  const note = countUntil(played, tick) - 1 + tiedOver
  return { barIndex: bar, noteIndex: note < 0 ? undefined : note }
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
