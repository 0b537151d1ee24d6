import type { PartBar, PrintedNote } from '../../notation/part.ts'
import { UNITS } from './draw-system.ts'
import { beamedNotes, beamLine, STEM_SIDE, staffY } from './stems.ts'

/** Thickness of a beam, and from one beam to the next. */
const BEAM = 0.5
const BEAM_PITCH = 0.75
/** Length of an inner beam that ends in the air. */
const STUB = 1.1
/** Half the thickness of a stem. */
const HALF_STEM = 0.06
/** From a head's centre to where its stem begins. */
const HEAD_TO_STEM = 0.17
const CROSS_TO_STEM = 0.35

/**
 * Stems and beams of a group of notes, as SVG from the bar line and the top line of the staff.
 *
 * @param x  centres of the bar's signs, in sp from its bar line
 */
export function drawBeam(bar: PartBar, group: readonly number[], x: readonly number[]): string {
  const { notes, x: centres } = beamedNotes(bar, group, x)
  const beam = beamLine(notes, centres)
  const up = beam.direction === 'up'
  const slope = (beam.to.y - beam.from.y) / (beam.to.x - beam.from.x)
  const stems = centres.map((centre) => centre + (up ? STEM_SIDE : -STEM_SIDE))
  const yAt = (at: number) => beam.from.y + (at - beam.from.x) * slope
  const inwards = up ? 1 : -1

  const beamAt = (from: number, to: number, level: number) => {
    const left = from - HALF_STEM
    const right = to + HALF_STEM
    const y = level * BEAM_PITCH * inwards
    const edge = `M${u(left)} ${u(yAt(left) + y)}L${u(right)} ${u(yAt(right) + y)}`
    const back = `V${u(yAt(right) + y + BEAM * inwards)}L${u(left)} ${u(yAt(left) + y + BEAM * inwards)}z`
    return `<path class="beam" d="${edge}${back}"/>`
  }

  let svg = ''
  for (const [index, note] of notes.entries()) {
    const from = staffY(note.step) - inwards * (note.head === 'ghost' ? CROSS_TO_STEM : HEAD_TO_STEM)
    svg += `<path class="stem" d="M${u(stems[index]!)} ${u(from)}V${u(yAt(stems[index]!) + HALF_STEM * inwards)}"/>`
  }
  svg += beamAt(stems[0]!, stems.at(-1)!, 0)
  for (const [level, part] of [
    [1, 16],
    [2, 32],
  ] as const) {
    for (const [first, last] of runs(notes, part)) {
      if (first < last) svg += beamAt(stems[first]!, stems[last]!, level)
      else if (stubGoesLeft(notes, first, bar.startTick, part))
        svg += beamAt(stems[first]! - STUB, stems[first]!, level)
      else svg += beamAt(stems[first]!, stems[first]! + STUB, level)
    }
  }
  return svg
}

/** Runs of neighbours at most as long as a `part` of a whole, as first and last index. */
function runs(notes: readonly PrintedNote[], part: number): readonly (readonly [number, number])[] {
  const found: [number, number][] = []
  for (const [index, { value }] of notes.entries()) {
    if (value.part < part) continue
    const before = found.at(-1)
    if (before && before[1] === index - 1) before[1] = index
    else found.push([index, index])
  }
  return found
}

/** A lone short note leans on the one that it completes: backwards in the second half of the longer value. */
function stubGoesLeft(notes: readonly PrintedNote[], index: number, startTick: number, part: number): boolean {
  if (index === 0) return false
  if (index === notes.length - 1) return true
  return (notes[index]!.startTick - startTick) % (3840 / part) !== 0
}

function u(sp: number): string {
  return String(Math.round(sp * UNITS * 100) / 100)
}
