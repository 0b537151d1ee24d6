import type { Rule, RuleTest } from '../rule.ts'
import { oneOf } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'

/** How many bars make the motif (`undefined`: as the feel has it), and how strictly it is kept. */
export type MotifKept = Omit<Extract<RuleTest, { readonly looksAt: 'motif' }>, 'looksAt'>

type Length = 'groove' | 'one' | 'two' | 'four'

const PERIODS: Readonly<Record<Length, MotifKept['period']>> = { groove: undefined, one: 1, two: 2, four: 4 }

const LENGTH = oneOf<Length>('bar, two bars, four bars or groove', 'two', {
  one: 'bar',
  two: 'two bars',
  four: 'four bars',
  groove: 'groove',
})
/** The same in figures. */
const FIGURES = oneOf<Length>('2 bars or 4 bars', 'two', {
  one: '1 bar',
  two: '2 bars',
  four: '4 bars',
  groove: 'groove',
})

const lengthOf = ({ period }: MotifKept): Length =>
  period === undefined ? 'groove' : period === 1 ? 'one' : period === 2 ? 'two' : 'four'

/** The same bar, or the same few bars, come again and again, each on its chord; with fills where phrases end, or without. */
export const MOTIF_THROUGHOUT: Rule<MotifKept> = {
  id: 'motif-throughout',
  phrasings: [
    phrasing(
      ['the~ same', LENGTH, 'throughout'],
      (length): MotifKept => ({ period: PERIODS[length], strictness: 'strict' }),
      (motif) => (motif.strictness === 'strict' ? [lengthOf(motif)] : undefined),
    ),
    phrasing(
      ['the~ same', LENGTH, 'throughout with fills'],
      (length): MotifKept => ({ period: PERIODS[length], strictness: 'with-fills' }),
      (motif) => (motif.strictness === 'with-fills' ? [lengthOf(motif)] : undefined),
    ),
    phrasing(
      ['each|every bar by itself'],
      (): MotifKept => ({ period: undefined, strictness: 'free' }),
      ({ strictness }) => (strictness === 'free' ? [] : undefined),
    ),
    phrasing(
      ['the~ same', FIGURES, 'throughout'],
      (length): MotifKept => ({ period: PERIODS[length], strictness: 'strict' }),
      () => undefined,
    ),
    phrasing(
      ['the~ same', FIGURES, 'throughout with fills'],
      (length): MotifKept => ({ period: PERIODS[length], strictness: 'with-fills' }),
      () => undefined,
    ),
  ],
  defaultWeight: 10,
  test: (motif) => ({ looksAt: 'motif', ...motif }),
  keeps: [
    {
      value: { period: 1, strictness: 'strict' },
      changes: 'C | F',
      line: 'C2 G2 E2 | F2 C3 A2',
      cells: ['1 2& 4', '1 2& 4'],
    },
    {
      value: { period: 2, strictness: 'strict' },
      changes: 'C | F | G | C',
      line: 'C2 G2 E2 | F2 C2 | G2 D3 B2 | C3 G2',
      cells: ['1 2& 4', '1 3', '1 2& 4', '1 3'],
    },
    {
      value: { period: 1, strictness: 'with-fills' },
      changes: 'C | F | C | G7',
      line: 'C2 G2 E2 | F2 C3 A2 | C2 G2 E2 | G2 D2 B1 D2',
      cells: ['1 2& 4', '1 2& 4', '1 2& 4', '1 2 3 4'],
    },
    { value: { period: undefined, strictness: 'free' }, changes: 'C | F', line: 'C2 G2 | F2 C2 F2 A2', cells: ['1 3'] },
  ],
  breaks: [
    {
      value: { period: 1, strictness: 'strict' },
      changes: 'C | F',
      line: 'C2 G2 E2 | F2 A2 C3 A2',
      cells: ['1 2& 4', '1 2 3 4'],
    },
    {
      value: { period: 1, strictness: 'with-fills' },
      changes: 'C | F | C | G7',
      line: 'C2 G2 E2 | F2 C2 A1 C2 | C2 G2 E2 | G2 D3 B2',
      cells: ['1 2& 4', '1 2 3 4', '1 2& 4', '1 2& 4'],
    },
  ],
}
