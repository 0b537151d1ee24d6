import type { Form } from '../../chart/form.ts'
import type { Instrument } from '../../music/instrument.ts'
import type { Metre } from '../../music/metre.ts'
import type { Pitch } from '../../music/pitch.ts'
import type { WeightedCell } from '../../rhythm/plan.ts'
import type { RuleInForce } from '../rule.ts'
import type { WeightedPattern } from './pairing.ts'
import type { GrooveTable } from './table.ts'

/** What a groove is built from. */
export interface GrooveRequest {
  /** as played; bars without a chord are empty */
  readonly form: Form
  readonly table: GrooveTable
  /** the feel's; a bar of another is played plainly, one of half its length as the first half of the groove */
  readonly metre: Metre
  /** the vocabulary in force */
  readonly cells: readonly WeightedCell[]
  readonly patterns: readonly WeightedPattern[]
  /** usual range, sounding, both ends included */
  readonly register: { readonly lowest: Pitch; readonly highest: Pitch }
  readonly instrument: Instrument
  /** frets that may be used, both ends included */
  readonly frets: { readonly from: number; readonly to: number }
  readonly rules: readonly RuleInForce[]
  /** quarters a minute, for rules about the hand; 100 if absent */
  readonly tempoBpm?: number
  /** for each bar, the first that is the same bar played again, whose notes it has too; absent: each bar has its own */
  readonly repeats?: readonly number[] | undefined
  /** the last note has to lead into the first */
  readonly loop: boolean
  /** how many lines, >= 1 */
  readonly variations: number
  /** least share of all their onsets in which two lines differ, 0 to 1 */
  readonly difference: number
  /** lines are drawn by chance instead of being the cheapest */
  readonly surprise?: Surprise | undefined
}

/** How lines are drawn. */
export interface Surprise {
  /** twice the points that halve a walking line's likelihood, a whole number >= 1; grooves lie further apart */
  readonly halfPoints: number
  /** any whole number; the same one gives the same lines */
  readonly seed: number
}
