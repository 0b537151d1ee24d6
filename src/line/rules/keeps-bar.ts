import type { Pitch } from '../../music/pitch.ts'
import { parseCell } from '../../rhythm/cell.ts'
import type { Rule } from '../rule.ts'
import { CELL, PITCHES, struckOnsets } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'

/** The notes of a bar as it is to stay. */
export interface KeptBar {
  /** a pitch for each note that is struck, in order of time */
  readonly pitches: readonly Pitch[]
  /** a cell of one bar, as it is printed */
  readonly notation: string
}

function cellOf(notation: string) {
  const reading = parseCell(notation)
  if (!reading.ok) throw new RangeError(`"${notation}" is no cell: ${reading.message}`)
  return reading.cell
}

/** The bar has these notes in this rhythm. */
export const KEEPS_BAR: Rule<KeptBar> = {
  id: 'keeps-bar',
  phrasings: [
    phrasing(
      ['keep|keeps', PITCHES, 'on', CELL],
      (pitches, notation): KeptBar => ({ pitches, notation }),
      ({ pitches, notation }) => [pitches, notation],
      (pitches, notation) => {
        const struck = struckOnsets(cellOf(notation)).length
        if (struck === pitches.length) return undefined
        return { message: `strikes ${struck} and names ${pitches.length}: expected a note for each that is struck` }
      },
    ),
  ],
  defaultWeight: 20,
  test: ({ pitches, notation }) => ({ looksAt: 'kept-bar', cell: cellOf(notation), notation, pitches }),
  reach: ({ pitches }) => ({ pitch: Math.max(...pitches) }),
  keeps: [
    { value: { pitches: [38, 41, 45, 44], notation: '1 2 3 4' }, changes: 'Dm7', line: 'D2 F2 A2 Ab2' },
    { value: { pitches: [38, 45], notation: '1 2& (4)' }, changes: 'Dm7', line: 'D2 A2', cells: ['1 2& (4)'] },
  ],
  breaks: [
    { value: { pitches: [38, 41, 45, 44], notation: '1 2 3 4' }, changes: 'Dm7', line: 'D2 F2 A2 G2' },
    { value: { pitches: [38, 45], notation: '1 2& (4)' }, changes: 'Dm7', line: 'D2 A2', cells: ['1 3'] },
  ],
}
