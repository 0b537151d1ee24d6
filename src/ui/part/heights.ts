import type { PrintedNote } from '../../notation/part.ts'
import { beamedNotes, beamLine, type StemDirection, staffY, stemDirections, stemTip } from './stems.ts'
import type { System } from './systems.ts'

/** Heights of a system's rows in its staff spaces, downwards from its top. */
export interface SystemHeights {
  /** base line of the chord symbols */
  readonly chordBase: number
  /** top line of the staff */
  readonly staff: number
  /** first string of the tab */
  readonly tab: number
  /** last string */
  readonly tabEnd: number
  /** base line of the degrees */
  readonly degreeBase: number
  /** the end of the marks */
  readonly height: number
}

/** From one string to the next. */
export const STRING_GAP = 1.52

const CHORD_TOP = 0.55
const CHORD_TO_STAFF = 2.9
const TAB_FROM_STAFF = 7
const DEGREE_FROM_TAB = 3.75
const DEGREE_TO_END = 2.1
/** Ink over or under the staff that the usual places leave room for, and air under what goes lower. */
const FREE_ABOVE = 2.05
const AIR_ABOVE_TAB = 1.6
/** How far the slash before a bass hangs under the base line of the chords. */
const SLASH_DEPTH = 0.5

const STAFF_HEIGHT = 4
const TIE_DEPTH = 1.6
const MARK_DEPTH = 1.9
const TRIPLET_DEPTH = 2.1

/**
 * The rows of a system, each as high as its own ink asks: what rises over 2.05 sp above the staff lifts the chord row, what
 * falls more than 1.4 sp below moves the tab down. Stems and beams do not go with the sizes of the page, so the same bars give
 * the same heights.
 */
export function heightsOf(system: System, strings: number): SystemHeights {
  const ink = inkOf(system)
  const hanging = system.bars.some(({ bar }) => bar.symbols.some(({ bass }) => bass)) ? SLASH_DEPTH : 0
  const staff = CHORD_TO_STAFF + system.sizes.chord + Math.max(0, ink.above + hanging - FREE_ABOVE)
  const tab = staff + Math.max(TAB_FROM_STAFF, STAFF_HEIGHT + ink.below + AIR_ABOVE_TAB)
  const tabEnd = tab + STRING_GAP * (strings - 1)
  const degreeBase = tabEnd + DEGREE_FROM_TAB
  return {
    chordBase: CHORD_TOP + 0.95 * system.sizes.chord,
    staff,
    tab,
    tabEnd,
    degreeBase,
    height: degreeBase + DEGREE_TO_END,
  }
}

/** How far a system's ink reaches above and below its staff, at least 0. */
export function inkOf(system: System): { readonly above: number; readonly below: number } {
  let top = 0
  let bottom = STAFF_HEIGHT
  const reach = (y: number) => {
    top = Math.min(top, y)
    bottom = Math.max(bottom, y)
  }
  for (const { bar, layout } of system.bars) {
    const beamed = new Set(bar.beams.flat())
    const directions = stemDirections(bar)
    for (const [index, sign] of bar.signs.entries()) {
      if (sign.kind === 'rest') continue
      const y = staffY(sign.step)
      reach(y - 0.6)
      reach(y + 0.5)
      if (sign.accidental) {
        reach(y - 1.75)
        reach(y + (sign.accidental === 'b' || sign.accidental === 'bb' ? 0.7 : 1.4))
      }
      if (sign.value.part > 1 && !beamed.has(index)) reach(stemTip(sign.step))
      if (sign.tiedOn || sign.tiedFromBefore) reach(awayFromStem(sign, directions[index]!, TIE_DEPTH))
      if (sign.accent || sign.length) reach(awayFromStem(sign, directions[index]!, MARK_DEPTH))
    }
    for (const group of bar.beams) {
      const { notes, x } = beamedNotes(bar, group, layout.x)
      const beam = beamLine(notes, x)
      reach(Math.min(beam.from.y, beam.to.y))
      reach(Math.max(beam.from.y, beam.to.y))
    }
    for (const group of bar.triplets) reach(tripletY(bar.signs, group, layout.x, bar.beams))
  }
  return { above: -top, below: bottom - STAFF_HEIGHT }
}

function awayFromStem(note: PrintedNote, stem: StemDirection, depth: number): number {
  return staffY(note.step) + (stem === 'up' ? depth : -depth)
}

/** The outer edge of the 3 over or under a triplet: on the beam's side, or above where no beam is. */
export function tripletY(
  signs: System['bars'][number]['bar']['signs'],
  group: readonly number[],
  x: readonly number[],
  beams: readonly (readonly number[])[],
): number {
  const notes = group.map((index) => signs[index]!).filter((sign) => sign.kind === 'note')
  const joined = beams.some((beam) => group.every((index) => beam.includes(index)))
  if (joined) {
    const beam = beamLine(
      notes,
      group.map((index) => x[index]!),
    )
    return beam.direction === 'up'
      ? Math.min(beam.from.y, beam.to.y) - TRIPLET_DEPTH
      : Math.max(beam.from.y, beam.to.y) + TRIPLET_DEPTH
  }
  return Math.min(0, ...notes.map((note) => Math.min(staffY(note.step), stemTip(note.step)))) - TRIPLET_DEPTH
}
