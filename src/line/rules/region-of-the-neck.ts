import type { Rule } from '../rule.ts'
import { oneOf } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'

/** Where on the neck a line lies. */
export type NeckRegion = 'low' | 'high'

const REGION = oneOf<NeckRegion>('low or high', 'low', { low: 'low', high: 'high' })

/** Open strings and the first position; from a fifth above the open strings on. Our choice, no source. */
const FRETS: Readonly<Record<NeckRegion, { readonly from: number; readonly to: number }>> = {
  low: { from: 0, to: 4 },
  high: { from: 7, to: 24 },
}

/** The line lies low on the neck, open strings and the first four frets, or high, from the seventh fret on. */
export const REGION_OF_THE_NECK: Rule<NeckRegion> = {
  id: 'region-of-the-neck',
  phrasings: [
    phrasing(
      ['play|plays', REGION, 'on the neck'],
      (region) => region,
      (region) => [region],
    ),
  ],
  defaultWeight: 4,
  test: (region) => ({
    looksAt: 'note',
    allows: ({ fret }) => fret >= FRETS[region].from && fret <= FRETS[region].to,
  }),
  keeps: [
    { value: 'low', changes: 'Em7', line: 'E1 G1 B1 D2' },
    { value: 'high', changes: 'Em7', line: 'D3 E3 G3 E3' },
  ],
  breaks: [
    { value: 'low', changes: 'Em7', line: 'E2 G2 B2 D3' },
    { value: 'high', changes: 'Em7', line: 'E1 G1 B1 D2' },
  ],
}
