import type { BandTable } from '../band/band-table.ts'
import type { Touch } from '../band/touch.ts'
import type { GrooveTable } from '../line/groove/table.ts'
import type { WalkTable } from '../line/walk/table.ts'
import type { Swing } from '../rhythm/swing.ts'

/** A row of a feel's vocabulary: an id and how often it is used, against the others. */
export interface Weighted {
  readonly id: string
  readonly weight: number
}

/** A way of playing: data only. `compose.ts` deals its parts out to the rooms that use them. */
export interface Feel {
  readonly id: string
  readonly name: string
  /** as written: `4/4` */
  readonly metre: string
  readonly tempo: { readonly from: number; readonly to: number; readonly usual: number }
  readonly swing: Swing
  readonly touch: Touch
  /** sounding pitches of the usual range on a four-string bass, both ends included */
  readonly register: { readonly lowest: number; readonly highest: number }
  readonly cells: readonly Weighted[]
  readonly patterns: readonly Weighted[]
  readonly phraseBars: number
  readonly line:
    | { readonly kind: 'walk'; readonly table: WalkTable }
    | { readonly kind: 'groove'; readonly table: GrooveTable }
  readonly band: BandTable
  /** what a player would say */
  readonly note: string
}
