import { METRES } from '../../music/metre.ts'
import type { Rule } from '../rule.ts'
import { hasFewNotes, oneOf } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'
import { sparseCells } from '../sparse-cells.ts'
import { isDegree } from '../tone.ts'
import { PEDAL_HELD } from './pedal-held.ts'

/** How a tune opens: on the dominant of its key, or with next to nothing. */
export type Opening = 'pedal' | 'sparse'

const OPENING = oneOf<Opening>('an opening, as in a pedal on the fifth', 'pedal', {
  pedal: 'a pedal on the fifth',
  sparse: 'root and fifth alone',
})

const ROOT_OR_FIFTH = [1, 5].map((number) => ({ number, alter: undefined }))

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
  metres: METRES,
  test: (opening) =>
    opening === 'pedal'
      ? PEDAL_HELD.test({ on: 'fifth', octaves: false })
      : {
          looksAt: 'several',
          tests: [
            { looksAt: 'cell', allows: (cell) => hasFewNotes(cell, 2), offers: sparseCells },
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
