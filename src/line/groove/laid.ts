import { type BarChoice, barePoints, type LaidBar, type ReadFigure, readFigures, signatureOf } from './bar.ts'
import type { BarMap } from './deal.ts'
import type { Pairing } from './pairing.ts'
import type { GrooveTable } from './table.ts'

/** A bar's onsets with their tokens, numbered. */
export interface Signature {
  readonly opening: string
  readonly onsets: readonly number[]
}

/** A vocabulary, and the bars that were laid of it. They depend on their chords alone, so they serve any form. */
export class KnownBars {
  readonly table: GrooveTable
  readonly fills: readonly ReadFigure[]
  readonly walks: readonly ReadFigure[]
  /** pairings in order of their points */
  readonly cheapestFirst: readonly Pairing[]
  readonly signatures: readonly Signature[]
  /** by pairing, what its density and its empty places cost in a bar of one chord */
  readonly barePoints: readonly number[]
  readonly leastPoints: number
  readonly leastBare: number
  /** per kind of bar without rules */
  readonly laid: Map<number, LaidBar>[] = []
  /** per shape of bar, pairing and figure */
  readonly shapes = new Map<number, LaidBar>()
  /** by their first laid bar */
  readonly choices = new Map<LaidBar, BarChoice[]>()
  /** bars laid, under rules too */
  size = 0

  constructor(table: GrooveTable, map: BarMap, pairings: readonly Pairing[]) {
    this.table = table
    this.fills = readFigures(table.fills, 0)
    this.walks = readFigures(table.walks, table.fills.length)
    this.cheapestFirst = [...pairings].sort((x, y) => x.points - y.points || x.row - y.row)
    const numbers = new Map<string, number>()
    this.signatures = pairings.map((pairing) => {
      const { opening, onsets } = signatureOf(map, pairing)
      const number = (onset: string): number => {
        const known = numbers.get(onset) ?? numbers.size
        numbers.set(onset, known)
        return known
      }
      return { opening, onsets: onsets.map(number) }
    })
    this.barePoints = pairings.map((pairing) => barePoints(table, map, pairing))
    this.leastPoints = Math.min(...pairings.map((pairing) => pairing.points))
    this.leastBare = Math.min(...this.barePoints)
  }
}
