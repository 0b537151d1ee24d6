import type { PartBar, PrintedNote } from '../../notation/part.ts'

// Stems and beams as they will be drawn, in sp: x from the system's left edge, y downwards from the top line of the staff.

/** Length of a stem without a beam. */
export const STEM = 3.35
/** From the head's centre to the stem. */
export const STEM_SIDE = 0.53

/** Lengths under a beam by the shortest note of the group, and how far a beam may rise or fall. */
const BEAMED_STEM = { 8: 3.2, 16: 3.55, 32: 4.3 } as const
const STEEPEST = 0.6
const SLOPE = 0.25

export type StemDirection = 'up' | 'down'

/** A beam: where it runs, and the way its stems go. */
export interface BeamLine {
  readonly direction: StemDirection
  /** stem tips of the first and of the last note */
  readonly from: { readonly x: number; readonly y: number }
  readonly to: { readonly x: number; readonly y: number }
}

/** Height of a staff place: 0 the top line, 4 the bottom line. */
export function staffY(step: number): number {
  return (4 - step) / 2
}

/** Stems turn by the middle line; on it they go down. */
export function stemDirection(step: number): StemDirection {
  return step < 0 ? 'up' : 'down'
}

/** Where the stem of a note without a beam ends: at the usual length, or at the middle line when the head is far from it. */
export function stemTip(step: number): number {
  const y = staffY(step)
  return stemDirection(step) === 'up' ? Math.min(y - STEM, 2) : Math.max(y + STEM, 2)
}

/**
 * The beam over or under some notes: by the mean of their heights it goes up or down, and it follows a quarter of the way from
 * the first to the last, at most 0.6 sp.
 *
 * @param x  centres of the heads
 */
export function beamLine(notes: readonly PrintedNote[], x: readonly number[]): BeamLine {
  const mean = notes.reduce((sum, { step }) => sum + step, 0) / notes.length
  const direction = mean < 0 ? 'up' : 'down'
  const side = direction === 'up' ? STEM_SIDE : -STEM_SIDE
  const shortest = Math.max(...notes.map(({ value }) => value.part))
  const length = BEAMED_STEM[shortest >= 32 ? 32 : shortest >= 16 ? 16 : 8]
  const y = notes.map(({ step }) => staffY(step))
  const rise = Math.max(-STEEPEST, Math.min(STEEPEST, (y.at(-1)! - y[0]!) * SLOPE))
  const first = x[0]!
  const last = x.at(-1)!
  const wanted = y.map((head, index) => {
    const along = last === first ? 0 : (x[index]! - first) / (last - first)
    return head + (direction === 'up' ? -length : length) - rise * along
  })
  const from = direction === 'up' ? Math.min(...wanted) : Math.max(...wanted)
  return { direction, from: { x: first + side, y: from }, to: { x: last + side, y: from + rise } }
}

/** The way the stem of each sign of a bar goes, beams heeded. */
export function stemDirections(bar: PartBar): readonly StemDirection[] {
  const directions = bar.signs.map((sign) => (sign.kind === 'note' ? stemDirection(sign.step) : 'up'))
  for (const group of bar.beams) {
    const steps = group.map((index) => bar.signs[index]!).map((sign) => (sign.kind === 'note' ? sign.step : 0))
    const direction = steps.reduce((sum, step) => sum + step, 0) / steps.length < 0 ? 'up' : 'down'
    for (const index of group) directions[index] = direction
  }
  return directions
}

/** The notes of a beam and their places. */
export function beamedNotes(
  bar: PartBar,
  group: readonly number[],
  x: readonly number[],
): { readonly notes: readonly PrintedNote[]; readonly x: readonly number[] } {
  const indices = group.filter((index) => bar.signs[index]?.kind === 'note')
  return { notes: indices.map((index) => bar.signs[index] as PrintedNote), x: indices.map((index) => x[index]!) }
}
