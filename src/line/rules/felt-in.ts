import { formatMetre } from '../../music/metre.ts'
import type { Cell } from '../../rhythm/cell.ts'
import { cellOf } from '../../rhythm/cells.ts'
import type { Rule } from '../rule.ts'
import { oneOf } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'

/** How many notes of a bar of four beats carry it. */
export type Felt = 'two' | 'four'

const FELT = oneOf<Felt>('two or four', 'two', { two: 'two', four: 'four' })

/** What a walking line is given to play, ids and weights. Source: common practice, no source. */
const OFFERS: Readonly<Record<Felt, Readonly<Record<string, readonly (readonly [id: string, weight: number])[]>>>> = {
  two: {
    '4/4': [
      ['half-notes', 4],
      ['half-and-two', 2],
      ['two-beat-skip', 1],
    ],
    '12/8': [
      ['twelve-half', 4],
      ['twelve-lead-in-one', 1],
    ],
  },
  four: { '4/4': [['four-quarters', 4]], '12/8': [['twelve-dotted', 4]] },
}

/** In two the first half is one note, and notes beside the second lead on; in four there is one on each beat, and more between. */
function isFelt({ ticks, lower, onsets }: Cell, felt: Felt): boolean {
  const beat = lower === 8 ? 720 : 480
  const struck = onsets.filter((onset) => !onset.ghost).map((onset) => onset.tick)
  for (let half = 0; half < ticks; half += 2 * beat) {
    if (!struck.includes(half)) return false
    if (felt === 'four' && !struck.includes(half + beat)) return false
    const mayLead = half > 0 && half + 2 * beat === ticks
    if (felt === 'two' && !mayLead && struck.some((tick) => tick > half && tick < half + 2 * beat)) return false
  }
  return true
}

/** Bars of four beats are carried by their halves, or by all their beats: in two under the tune, in four under the solos. */
export const FELT_IN: Rule<Felt> = {
  id: 'felt-in',
  phrasings: [
    phrasing(
      ['play|plays? in', FELT],
      (felt) => felt,
      (felt) => [felt],
    ),
    phrasing(
      ['a? two-feel'],
      () => 'two',
      () => undefined,
    ),
    phrasing(
      ['a? four-feel'],
      () => 'four',
      () => undefined,
    ),
  ],
  defaultWeight: 4,
  metres: ['4/4', '12/8'],
  test: (felt) => ({
    looksAt: 'cell',
    allows: (cell) => isFelt(cell, felt),
    offers: (metre) =>
      (OFFERS[felt][formatMetre(metre)] ?? []).map(([id, weight]) => ({ id, cell: cellOf(id)!, weight })),
  }),
  keeps: [
    { value: 'two', changes: 'C | F', line: 'C2 G1 | F1 C2 E2', cells: ['1 3', '1 3 4'] },
    { value: 'four', changes: 'C | F', line: 'C2 E2 G2 E2 | F2 A2 C3 A2 F2', cells: ['1 2 3 4', '1 2 3 4 &'] },
  ],
  breaks: [
    { value: 'two', changes: 'C', line: 'C2 E2 G2 E2' },
    { value: 'two', changes: 'C', line: 'C2 G2 G2', cells: ['1 2 3'] },
    { value: 'two', changes: 'C', line: 'C2', cells: ['1'] },
    { value: 'four', changes: 'C', line: 'C2 G2 A2', cells: ['1 3 4'] },
  ],
}
