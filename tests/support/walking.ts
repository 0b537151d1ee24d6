import type { Form } from '../../src/chart/form.ts'
import { SWING_MEDIUM } from '../../src/feels/swing-medium.ts'
import { WALKING_WEIGHTS } from '../../src/feels/walking-weights.ts'
import { explain } from '../../src/line/explain.ts'
import type { Line } from '../../src/line/line.ts'
import type { WalkRequest } from '../../src/line/walk/problem.ts'
import { walk } from '../../src/line/walk/walk.ts'
import type { WalkResult } from '../../src/line/walk/written.ts'
import { instrumentOf } from '../../src/music/instruments.ts'
import { parseCell } from '../../src/rhythm/cell.ts'
import { cellOf } from '../../src/rhythm/cells.ts'
import { planWalk, slotsOf, type WeightedCell } from '../../src/rhythm/plan.ts'

/** The cells of medium swing. */
export const SWING_CELLS: readonly WeightedCell[] = SWING_MEDIUM.cells.map((row) => ({ ...row, cell: cellOf(row.id)! }))

/** Cells from their notation, each wanted as often as the others. */
export function cellsOf(...notations: readonly string[]): readonly WeightedCell[] {
  return notations.map((notation) => {
    const reading = parseCell(notation)
    if (!reading.ok) throw new Error(reading.message)
    return { id: notation, cell: reading.cell, weight: 1 }
  })
}

export const FOUR_STRINGS = instrumentOf('four-string')!

/** What a walking line over a form is built from: medium swing on four strings, unless something else is asked for. */
export function walkRequest(
  form: Form,
  options: Partial<WalkRequest> & { readonly cells?: readonly WeightedCell[] } = {},
): WalkRequest {
  const { cells = SWING_CELLS, ...rest } = options
  const loop = options.loop ?? false
  const plan = planWalk(form, () => cells, { bpm: 144, usualBpm: 144 }, loop)
  return {
    form,
    slots: slotsOf(form, plan.cells, loop),
    planTerms: plan.terms,
    table: WALKING_WEIGHTS,
    instrument: FOUR_STRINGS,
    frets: { from: 0, to: 12 },
    patterns: undefined,
    rules: [],
    secondsPerTick: 60 / 144 / 480,
    loop,
    variations: 1,
    difference: 0.25,
    ...rest,
  }
}

/** The lines of a result, explained. */
export function linesOf(request: WalkRequest, result: WalkResult = walk(request)): readonly Line[] {
  if (!result.ok) throw new Error(`no line at bar ${result.barIndex + 1}`)
  const { form, instrument, loop } = request
  return result.lines.map((line) => explain(line, { form, instrument, key: undefined, loop }))
}
