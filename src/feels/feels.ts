import { BOSSA_NOVA } from './bossa-nova.ts'
import type { Feel } from './feel.ts'
import { JAZZ_WALTZ } from './jazz-waltz.ts'
import { SHUFFLE } from './shuffle.ts'
import { SOUL_EIGHTHS } from './soul-eighths.ts'
import { SWING_MEDIUM } from './swing-medium.ts'

/** All feels. */
export const FEELS: readonly Feel[] = [SWING_MEDIUM, JAZZ_WALTZ, SHUFFLE, SOUL_EIGHTHS, BOSSA_NOVA]

/** The feel of a chart, or of a bar, that names none, by metre as written. */
export const FEEL_BY_METRE: ReadonlyMap<string, Feel> = new Map([
  ['4/4', SWING_MEDIUM],
  ['3/4', JAZZ_WALTZ],
])

/** The feel with an id; `undefined` if there is none. */
export function feelOf(id: string): Feel | undefined {
  return FEELS.find((feel) => feel.id === id)
}
