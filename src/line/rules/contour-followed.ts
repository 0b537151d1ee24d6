import type { Pitch } from '../../music/pitch.ts'
import type { Rule } from '../rule.ts'
import { oneOf, PITCH, pitchName, SEMITONES_AROUND } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'
import { upTo } from '../rule-value.ts'

/** A shape of a line as a whole. */
export type Shape = 'rise' | 'fall' | 'arch' | 'valley'

/** A shape between two pitches, and how far to either side of it a line may go. */
export interface Contour {
  readonly shape: Shape
  /** over each phrase or section, over the bars that the rule names, or from chorus to chorus, level in each */
  readonly over: 'phrase' | 'section' | 'bars' | 'choruses'
  readonly lowest: Pitch
  readonly highest: Pitch
  /** semitones, >= 1 */
  readonly within: number
}

/** G1 to G2 within a fourth: where most walking lines lie. Our choice. */
const USUAL = { lowest: 31, highest: 43, within: 5 }

/** A1 to A2 within a fifth: a chorus needs more room than a phrase. Our choice. */
const USUAL_OF_CHORUSES = { lowest: 33, highest: 45, within: 7 }

function usualOver(over: Contour['over']): typeof USUAL {
  return over === 'choruses' ? USUAL_OF_CHORUSES : USUAL
}

const SHAPE = oneOf<Shape>('rise, fall, arch or valley', 'rise', {
  rise: 'rise',
  fall: 'fall',
  arch: 'arch',
  valley: 'valley',
})
const OVER = oneOf<Contour['over']>(
  'over each phrase, over each section, over these bars or over the choruses',
  'phrase',
  {
    phrase: 'over each phrase',
    section: 'over each section',
    bars: 'over these bars',
    choruses: 'over the choruses',
  },
)

const isUsual = ({ over, lowest, highest, within }: Contour): boolean => {
  const usual = usualOver(over)
  return lowest === usual.lowest && highest === usual.highest && within === usual.within
}

/** What share of the way from the lowest to the highest pitch a shape has gone, at a share of its time. */
function heightAt(shape: Shape, share: number): number {
  switch (shape) {
    case 'rise':
      return share
    case 'fall':
      return 1 - share
    case 'arch':
      return 1 - Math.abs(2 * share - 1)
    case 'valley':
      return Math.abs(2 * share - 1)
  }
}

/** Shares are fractions: what lies on the edge of the band is in it. */
const HAIR = 1e-9

/** Every note lies within so many semitones of a straight line from low to high, or from high to low, or there and back. */
export const CONTOUR_FOLLOWED: Rule<Contour> = {
  id: 'contour-followed',
  phrasings: [
    phrasing(
      [SHAPE, OVER],
      (shape, over): Contour => ({ shape, over, ...usualOver(over) }),
      (contour) => (isUsual(contour) ? [contour.shape, contour.over] : undefined),
    ),
    phrasing(
      [SHAPE, OVER, 'between', PITCH, 'and', PITCH, 'within', SEMITONES_AROUND],
      (shape, over, lowest, highest, within): Contour => ({ shape, over, lowest, highest, within }),
      ({ shape, over, lowest, highest, within }) => [shape, over, lowest, highest, within],
      (shape, over, lowest, highest, within) =>
        lowest > highest
          ? {
              message: `go down from ${pitchName(lowest)} to ${pitchName(highest)}: expected the lower note first`,
              instead: [shape, over, highest, lowest, within],
            }
          : undefined,
    ),
    phrasing(
      [SHAPE, OVER, 'between', PITCH, 'and', PITCH],
      (shape, over, lowest, highest): Contour => ({ ...usualOver(over), shape, over, lowest, highest }),
      () => undefined,
      (shape, over, lowest, highest) =>
        lowest > highest
          ? {
              message: `go down from ${pitchName(lowest)} to ${pitchName(highest)}: expected the lower note first`,
              instead: [shape, over, highest, lowest],
            }
          : undefined,
    ),
    phrasing(
      [SHAPE, OVER, 'within', SEMITONES_AROUND],
      (shape, over, within): Contour => ({ ...usualOver(over), shape, over, within }),
      () => undefined,
    ),
  ],
  defaultWeight: 2,
  test: ({ shape, lowest, highest, within }) => ({
    looksAt: 'note',
    allows: ({ pitch, phraseShare }) => {
      const middle = lowest + (highest - lowest) * heightAt(shape, phraseShare)
      return Math.abs(pitch - middle) <= within + HAIR
    },
  }),
  reach: ({ highest }) => ({ pitch: highest }),
  milder: (contour) => [upTo(contour.within, 24).map((within) => ({ ...contour, within }))],
  keeps: [
    { value: { shape: 'arch', over: 'phrase', ...USUAL }, changes: 'C', line: 'G1 C2 G2 C2' },
    { value: { shape: 'rise', over: 'bars', ...USUAL }, changes: 'C', line: 'G1 C2 E2 G2' },
    { value: { shape: 'valley', over: 'section', ...USUAL }, changes: 'C', line: 'G2 C2 G1 C2' },
    { value: { shape: 'rise', over: 'choruses', ...USUAL_OF_CHORUSES }, changes: 'C', line: 'C2 E2 F2 E2' },
    { value: { shape: 'rise', over: 'phrase', lowest: 36, highest: 48, within: 2 }, changes: 'C', line: 'C2 E2 G2 A2' },
    { value: { shape: 'fall', over: 'phrase', lowest: 36, highest: 48, within: 2 }, changes: 'C', line: 'C3 A2 G2 E2' },
    { value: { shape: 'arch', over: 'phrase', lowest: 36, highest: 48, within: 2 }, changes: 'C', line: 'C2 G2 C3 G2' },
    {
      value: { shape: 'valley', over: 'phrase', lowest: 36, highest: 48, within: 2 },
      changes: 'C',
      line: 'C3 G2 C2 G2',
    },
  ],
  breaks: [
    { value: { shape: 'rise', over: 'phrase', lowest: 36, highest: 48, within: 2 }, changes: 'C', line: 'C2 E2 G2 E2' },
    { value: { shape: 'fall', over: 'phrase', lowest: 36, highest: 48, within: 2 }, changes: 'C', line: 'C3 A2 D2 E2' },
    { value: { shape: 'arch', over: 'phrase', lowest: 36, highest: 48, within: 2 }, changes: 'C', line: 'C2 E2 G2 A2' },
    {
      value: { shape: 'valley', over: 'phrase', lowest: 36, highest: 48, within: 2 },
      changes: 'C',
      line: 'C3 G2 E2 C3',
    },
  ],
}
