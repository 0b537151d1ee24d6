import { beatsOf, METRES, metreOf } from '../../music/metre.ts'
import type { Cell } from '../../rhythm/cell.ts'
import type { Rule } from '../rule.ts'
import { hasFewNotes, notes, struckOnsets } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'
import { downTo, upTo } from '../rule-value.ts'
import { sparseCells } from '../sparse-cells.ts'

/** How many notes a bar has: so many, or as many as it has beats. */
export type Density = { readonly atMost: number | 'beats' } | { readonly atLeast: number | 'more-than-beats' }

/** More than this nobody plays. */
const MOST = 16

/** So few are offered to a walking line, whose feels have them not. */
const FEW = 2

function allows(density: Density, cell: Cell): boolean {
  const beats = beatsOf(metreOf(`${cell.upper}/${cell.lower}`) ?? { ...cell, groups: [] }).length
  if ('atMost' in density) return hasFewNotes(cell, density.atMost === 'beats' ? beats : density.atMost)
  const struck = struckOnsets(cell).length
  return density.atLeast === 'more-than-beats' ? struck > beats : struck >= density.atLeast
}

/** How dense a bar is: dead notes do not count. Few are one at least; silence is a rest. */
export const NOTES_A_BAR: Rule<Density> = {
  id: 'notes-a-bar',
  phrasings: [
    phrasing(
      ['at most', notes(MOST), 'a|each|every|per bar'],
      (atMost): Density => ({ atMost }),
      (density) => ('atMost' in density && density.atMost !== 'beats' ? [density.atMost] : undefined),
    ),
    phrasing(
      ['at least', notes(MOST), 'a|each|every|per bar'],
      (atLeast): Density => ({ atLeast }),
      (density) => ('atLeast' in density && density.atLeast !== 'more-than-beats' ? [density.atLeast] : undefined),
    ),
    phrasing(
      ['at most a note a|each|every|per beat'],
      (): Density => ({ atMost: 'beats' }),
      (density) => ('atMost' in density && density.atMost === 'beats' ? [] : undefined),
    ),
    phrasing(
      ['more notes than beats'],
      (): Density => ({ atLeast: 'more-than-beats' }),
      (density) => ('atLeast' in density && density.atLeast === 'more-than-beats' ? [] : undefined),
    ),
  ],
  defaultWeight: 4,
  metres: METRES,
  test: (density) => ({
    looksAt: 'cell',
    allows: (cell) => allows(density, cell),
    offers: (metre) => {
      const isSparse = 'atMost' in density && density.atMost !== 'beats' && density.atMost <= FEW
      return isSparse ? sparseCells(metre).filter(({ cell }) => allows(density, cell)) : []
    },
  }),
  milder: (density) => {
    if ('atMost' in density)
      return density.atMost === 'beats' ? [] : [upTo(density.atMost, MOST).map((atMost) => ({ atMost }))]
    return density.atLeast === 'more-than-beats' ? [] : [downTo(density.atLeast, 1).map((atLeast) => ({ atLeast }))]
  },
  keeps: [
    { value: { atMost: 2 }, changes: 'C | F', line: 'C2 G1 | F1', cells: ['1 3', '1'] },
    { value: { atLeast: 5 }, changes: 'C', line: 'C2 E2 G2 E2 C2', cells: ['1 2 3 4 &'] },
    { value: { atMost: 'beats' }, changes: 'C', line: 'C2 E2 G2 E2', cells: ['1 2 &x 3 4'] },
    { value: { atLeast: 'more-than-beats' }, changes: 'C', line: 'C2 E2 G2 E2 C2', cells: ['1 2 3 4 &'] },
  ],
  breaks: [
    { value: { atMost: 2 }, changes: 'C', line: 'C2 G1 C2', cells: ['1 3 4'] },
    { value: { atMost: 2 }, changes: 'C', line: '', cells: ['1x 3x'] },
    { value: { atLeast: 5 }, changes: 'C', line: 'C2 E2 G2 E2' },
    { value: { atMost: 'beats' }, changes: 'C', line: 'C2 E2 G2 E2 C2', cells: ['1 2 3 4 &'] },
    { value: { atLeast: 'more-than-beats' }, changes: 'C', line: 'C2 E2 G2 E2', cells: ['1 2 &x 3 4'] },
  ],
}
