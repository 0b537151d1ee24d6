import type { WeightedCell } from '../../rhythm/plan.ts'
import { patternOf } from '../patterns.ts'
import { type LaidBar, layBar } from './bar.ts'
import type { BarContext } from './context.ts'
import { type Pairing, pairingsOf } from './pairing.ts'
import type { GrooveTable } from './table.ts'

/** What is dealt to cells that no feel has: root and fifth, on either side. */
const ROOT_AND_FIFTH = ['root-fifth-up', 'root-fifth-down'].map((id) => ({ pattern: patternOf(id)!, weight: 1 }))

/** Pairings of offers are counted from here: no vocabulary has so many. */
const FIRST_ROW = 50_000

/** Bars of cells that rules offer, for where the vocabulary has none that they allow. */
export class OfferedBars {
  readonly #table: GrooveTable
  readonly #rows = new Map<string, number>()
  readonly #bars = new Map<string, readonly LaidBar[]>()

  constructor(table: GrooveTable) {
    this.#table = table
  }

  /**
   * The cheapest bars, at most so many, as they are without a motif. The same objects each time.
   *
   * @returns  none where no pairing is played
   */
  of(context: BarContext, cells: readonly WeightedCell[], most: number): readonly LaidBar[] {
    if (cells.length === 0 || context.parts.length === 0 || context.metre !== 'own') return []
    const key = `${context.index} ${cells.map(({ id }) => id).join('|')}`
    const known =
      this.#bars.get(key) ??
      pairingsOf(this.#table, context.map, cells, ROOT_AND_FIFTH)
        .filter(({ lead }) => !lead)
        .sort((a, b) => a.points - b.points || a.row - b.row)
        .slice(0, most)
        .map((pairing) =>
          layBar(this.#table, context, this.#numbered(pairing), undefined, 0, {
            mayDie: false,
            isSecond: false,
            isCrowded: false,
          }),
        )
    this.#bars.set(key, known)
    return known
  }

  #numbered(pairing: Pairing): Pairing {
    const key = `${pairing.cell} ${pairing.pattern.id} ${pairing.deal}`
    const row = this.#rows.get(key) ?? FIRST_ROW + this.#rows.size
    this.#rows.set(key, row)
    return { ...pairing, row }
  }
}
