/**
 * What is asked of one composing, beside the text. All of it may be absent. The text is the only home of what decides the line;
 * the first five stand in for its headers where a command asks for something else.
 */
export interface Settings {
  readonly feel?: string
  /** beats a minute, > 0 */
  readonly tempoBpm?: number
  /** ids, or cells written out in their notation */
  readonly cells?: readonly string[]
  /** ids, or patterns written out in their notation */
  readonly patterns?: readonly string[]
  /** id of an instrument */
  readonly bass?: string
  /** how many lines, a whole number >= 1; 1 if absent */
  readonly variations?: number
  /** least share of slots in which two lines differ, 0 to 1; 0.25 if absent */
  readonly difference?: number
  /** lines are drawn by chance, from near the best to far from it; the best are taken if absent */
  readonly surprise?: SurpriseName
  /** of the draw, a whole number; 1 if absent: the same one gives the same lines */
  readonly seed?: number
  /** how often the form is played, a whole number >= 1; 1 if absent */
  readonly choruses?: number
  /** the last note has to lead into the first; no if absent */
  readonly loop?: boolean
  /** rules beside the chart's own, in the same sentences */
  readonly rules?: readonly string[]
}

/** How far from the best a drawn line may lie: twice the points that halve a line's likelihood. */
export const SURPRISES = { little: 2, some: 3, free: 4 } as const

export type SurpriseName = keyof typeof SURPRISES
