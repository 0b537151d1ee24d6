import type { MoveSize, WalkTable } from './walk/table.ts'

/**
 * The last move of a line, as much of it as decides what may follow: none, a repeat, or a step, third or leap up or down.
 *
 * 0 none · 1 repeat · 2, 3 step up, down · 4, 5 third up, down · 6, 7 leap up, down.
 */
export type Move = number

/** How many moves there are. */
export const MOVES = 8

export const NO_MOVE: Move = 0

const SIZES: readonly MoveSize[] = ['repeat', 'repeat', 'step', 'step', 'third', 'third', 'leap', 'leap']

/**
 * The move of an interval in semitones, rising positive: a step is up to 2, a third 3 or 4, a leap more.
 *
 * @example
 * moveOf(0) // => 1
 * moveOf(-2) // => 3
 * moveOf(7) // => 6
 */
export function moveOf(semitones: number): Move {
  if (semitones === 0) return 1
  const size = Math.abs(semitones)
  return (size <= 2 ? 2 : size <= 4 ? 4 : 6) + (semitones < 0 ? 1 : 0)
}

/** What `move` costs after `before`: runs go on, leaps are recovered, a pitch is not struck three times. */
export function costAfter(table: WalkTable['after'], before: Move, move: Move): number {
  if (before === NO_MOVE || move === NO_MOVE) return 0
  const size = SIZES[move]!
  const sizeBefore = SIZES[before]!
  if (sizeBefore === 'repeat') return size === 'repeat' ? table.repeat.repeat : table.repeat.move
  const goesOn = size === 'repeat' || (before & 1) === (move & 1)
  return table[sizeBefore][goesOn ? 'on' : 'back'][size]
}

/** The size of a move, for the name of what it cost. */
export function sizeOf(move: Move): MoveSize | undefined {
  return move === NO_MOVE ? undefined : SIZES[move]
}
