import { formatMetre, type Metre } from '../music/metre.ts'
import { parseCell } from '../rhythm/cell.ts'
import type { WeightedCell } from '../rhythm/plan.ts'

/** Bars of one note or two, which no walking feel has. Source: common practice, no source. */
const SPARSE: Readonly<Record<string, readonly string[]>> = {
  '2/4': ['2/4: 1'],
  '3/4': ['3/4: 1', '3/4: 1 3'],
  '4/4': ['1 3', '1', '1 3& (4&)'],
  '5/4': ['5/4: 1 4', '5/4: 1'],
  '6/8': ['6/8: 1 4', '6/8: 1'],
  '7/8': ['7/8: 1', '7/8: 1 5'],
  '9/8': ['9/8: 1', '9/8: 1 7'],
  '12/8': ['12/8: 1 7', '12/8: 1'],
}

/** The sparse cells of a metre, the first wanted twice as often as each other. */
export function sparseCells(metre: Metre): readonly WeightedCell[] {
  return (SPARSE[formatMetre(metre)] ?? []).map((notation, order) => {
    const reading = parseCell(notation)
    if (!reading.ok) throw new RangeError(`"${notation}" is no cell: ${reading.message}`)
    return { id: notation, cell: reading.cell, weight: order === 0 ? 2 : 1 }
  })
}
