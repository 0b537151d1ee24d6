import { formatMetre } from '../../music/metre.ts'
import { type Cell, parseCell } from '../../rhythm/cell.ts'
import type { WeightedCell } from '../../rhythm/plan.ts'
import type { Rule } from '../rule.ts'
import { oneOf } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'
import { isDegree } from '../tone.ts'
import { PEDAL_HELD } from './pedal-held.ts'

/** How a tune opens: on the dominant of its key, or with next to nothing. */
export type Opening = 'pedal' | 'sparse'

const OPENING = oneOf<Opening>('an opening, as in a pedal on the fifth', 'pedal', {
  pedal: 'a pedal on the fifth',
  sparse: 'root and fifth alone',
})

/** What a walking line is given to play in a sparse bar, by metre. Source: common practice, no source. */
const SPARSE: Readonly<Record<string, readonly string[]>> = {
  '2/4': ['2/4: 1'],
  '3/4': ['3/4: 1', '3/4: 1 3'],
  '4/4': ['1 3', '1', '1 3& (4&)'],
  '5/4': ['5/4: 1 4'],
  '6/8': ['6/8: 1 4'],
  '12/8': ['12/8: 1 7'],
}

const ROOT_OR_FIFTH = [1, 5].map((number) => ({ number, alter: undefined }))

/** At most two notes. */
function isSparse({ onsets }: Cell): boolean {
  return onsets.filter(({ ghost, continues }) => !ghost && !continues).length <= 2
}

function sparseCells(metre: string): readonly WeightedCell[] {
  return (SPARSE[metre] ?? []).flatMap((notation, order) => {
    const reading = parseCell(notation)
    return reading.ok ? [{ id: notation, cell: reading.cell, weight: order === 0 ? 2 : 1 }] : []
  })
}

/** The first bars are an introduction: those of a section called so, or the first phrase. */
export const OPENS_WITH: Rule<Opening> = {
  id: 'opens-with',
  phrasings: [
    phrasing(
      ['open|opens with', OPENING],
      (opening) => opening,
      (opening) => [opening],
    ),
  ],
  defaultWeight: 6,
  test: (opening) =>
    opening === 'pedal'
      ? PEDAL_HELD.test({ on: 'fifth', octaves: false })
      : {
          looksAt: 'several',
          tests: [
            { looksAt: 'cell', allows: isSparse, offers: (metre) => sparseCells(formatMetre(metre)) },
            { looksAt: 'note', allows: (note) => isDegree(note, ROOT_OR_FIFTH) },
          ],
        },
  keeps: [
    { value: 'pedal', changes: 'Dm7 | C', line: 'G1 G1 G1 G1 | G1 G1 G1 G1' },
    { value: 'sparse', changes: 'C | F', line: 'C2 G1 | F1', cells: ['1 3', '1'] },
  ],
  breaks: [
    { value: 'pedal', changes: 'C', line: 'C2 G1 C2 G1' },
    { value: 'sparse', changes: 'C', line: 'C2 E2', cells: ['1 3'] },
    { value: 'sparse', changes: 'C', line: 'C2 G1 C2 G1' },
  ],
}
