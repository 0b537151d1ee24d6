import type { Engraver } from './system-piece.ts'

/** Loads the engraver and its font. */
export async function loadEngraver(): Promise<Engraver> {
  return () => []
}
