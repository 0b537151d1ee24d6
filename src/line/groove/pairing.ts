import type { Tick } from '../../music/tick.ts'
import type { Cell } from '../../rhythm/cell.ts'
import type { WeightedCell } from '../../rhythm/plan.ts'
import type { CostTerm } from '../line.ts'
import type { Pattern, PatternToken } from '../pattern.ts'
import { patternOf } from '../patterns.ts'
import { type BarMap, deal } from './deal.ts'
import type { Deal, GrooveTable } from './table.ts'

/** A degree pattern of the vocabulary in force, and how often it is wanted against the others. */
export interface WeightedPattern {
  readonly pattern: Pattern
  readonly weight: number
}

/** An onset of a bar that cells fill. */
export interface BarOnset {
  /** from the bar line */
  readonly tick: Tick
  readonly ticks: Tick
  readonly ghost: boolean
  readonly accent: boolean
  readonly length: 'short' | 'long' | undefined
  readonly tiedOver: boolean
  readonly continues: boolean
  readonly cell: string
  /** no onset of its cell: a chord arrives here */
  readonly added?: true
}

/** A pattern dealt to the cells of a bar: what a bar of a groove is made of. */
export interface Pairing {
  /** its place among all pairings: listed ones first, in the order of the table */
  readonly row: number
  readonly cell: string
  readonly onsets: readonly BarOnset[]
  readonly pattern: Pattern
  readonly deal: Deal
  /** a pattern that ends in the next root; the tokens before that stand at the end of the bar */
  readonly lead: Pattern | undefined
  readonly leadTokens: readonly PatternToken[]
  /** it leads on by itself: it has a lead, or its pattern steps into what comes */
  readonly leadsOn: boolean
  /** what choosing it costs in each bar */
  readonly terms: readonly CostTerm[]
  readonly points: number
}

const DEALS: readonly Deal[] = ['each', 'run', 'beat', 'beatrun', 'half', 'tail', 'low-high']

/** A pattern that is rarely used costs no more than this; the table's affinity is the judge. */
const MOST_PATTERN_POINTS = 3

/**
 * All pairings that a vocabulary allows in a bar: those of the table whose cells and pattern are in it, then every other
 * pattern, deal and lead over every way to fill the bar, at `unlisted`. Empty if no cell fits the bar.
 */
export function pairingsOf(
  table: GrooveTable,
  map: BarMap,
  cells: readonly WeightedCell[],
  patterns: readonly WeightedPattern[],
): readonly Pairing[] {
  const cellPoints = pointsOf(cells)
  const patternPoints = pointsOf(patterns).map((points) => Math.min(points, MOST_PATTERN_POINTS))
  const pairings: Pairing[] = []
  const known = new Set<string>()

  const add = (
    tiling: Tiling,
    pattern: number,
    way: Deal,
    lead: { readonly pattern: Pattern; readonly points: number } | undefined,
    pair: CostTerm,
  ): void => {
    const { pattern: tokens } = patterns[pattern]!
    const struck = tiling.onsets.filter((onset) => !onset.ghost && !onset.continues)
    if (lead && struck.length < lead.pattern.tokens.length) return
    if (!isDealable(tokens, way, struck.length, lead !== undefined)) return
    // Two deals that give every onset the same token, now and when they run on, are one.
    const ticks = struck.map((onset) => onset.tick)
    const dealt = [0, 1].map((position) =>
      deal(map, ticks, tokens.tokens.length, way, position, lead ? lead.pattern.tokens.length - 1 : 0),
    )
    const runs = way === 'run' || way === 'beatrun'
    const round = runs && dealt[0]!.used % tokens.tokens.length !== 0 ? dealt[0]!.used : 0
    const key = [tiling.id, tokens.text, lead?.pattern.id, round, ...dealt[0]!.tokens].join(' ')
    if (known.has(key)) return
    known.add(key)
    const terms = [
      pair,
      { rule: 'cell', points: Math.max(...tiling.cells.map((cell) => cellPoints[cell]!)) },
      { rule: 'pattern', points: patternPoints[pattern]! },
    ].filter((term) => term.points > 0)
    pairings.push({
      row: pairings.length,
      cell: tiling.id,
      onsets: tiling.onsets,
      pattern: tokens,
      deal: way,
      lead: lead?.pattern,
      leadTokens: lead ? lead.pattern.tokens.slice(0, -1) : [],
      leadsOn: lead !== undefined || tokens.tokens.some(({ kind }) => kind === 'approach'),
      terms,
      points: terms.reduce((sum, term) => sum + term.points, 0),
    })
  }

  for (const row of table.pairs) {
    const tiling = tilingOf(row.cell, map, cells)
    const pattern = patterns.findIndex((one) => one.pattern.id === row.pattern)
    if (!tiling || pattern < 0) continue
    const lead = row.lead === undefined ? undefined : { pattern: knownPattern(row.lead), points: 0 }
    add(tiling, pattern, row.deal, lead, { rule: 'pair', points: row.points })
  }
  const leads = table.leads.map((lead) => ({ pattern: knownPattern(lead.pattern), points: lead.points }))
  for (const tiling of tilings(map, cells)) {
    for (const pattern of patterns.keys()) {
      for (const way of DEALS) {
        for (const lead of [undefined, ...leads]) {
          const points = table.unlisted + (lead?.points ?? 0)
          add(tiling, pattern, way, lead, { rule: 'unlisted', points })
        }
      }
    }
  }
  return pairings
}

/** Weights as whole points: how many times the weight halves from the largest. */
function pointsOf(rows: readonly { readonly weight: number }[]): number[] {
  const largest = Math.max(...rows.map((row) => row.weight))
  return rows.map((row) => Math.round(Math.log2(largest / row.weight)))
}

/** A pattern that the table names. */
function knownPattern(id: string): Pattern {
  const pattern = patternOf(id)
  if (!pattern) throw new RangeError(`the table names the pattern ${id}, which does not exist`)
  return pattern
}

function isDealable(pattern: Pattern, way: Deal, struck: number, led: boolean): boolean {
  const { tokens } = pattern
  if (tokens.length === 1) return way === 'each'
  if (way === 'half' || way === 'low-high') return tokens.length === 2
  if (way === 'tail' && struck < tokens.length) return false
  // A token of the next chord stands at the end of a bar or nowhere.
  const aimsOn = tokens.some((token) => token.kind === 'degree' && token.next)
  return !aimsOn || (way === 'each' && struck === tokens.length && !led)
}

/** Cells that fill a bar. */
interface Tiling {
  readonly id: string
  /** indices into the vocabulary */
  readonly cells: readonly number[]
  readonly onsets: readonly BarOnset[]
}

/** The tiling that a table row names: an id, `id*n`, or ids separated by blanks; `undefined` if it is not in the vocabulary. */
function tilingOf(row: string, map: BarMap, cells: readonly WeightedCell[]): Tiling | undefined {
  const indices: number[] = []
  for (const word of row.split(' ')) {
    const [id, times] = word.split('*')
    const index = cells.findIndex((cell) => cell.id === id)
    if (index < 0) return undefined
    for (let time = 0; time < Number(times ?? 1); time++) indices.push(index)
  }
  return tile(indices, row, map, cells)
}

/** Each cell that fills the bar alone or repeated, then each two different ones that fill it together. */
function tilings(map: BarMap, cells: readonly WeightedCell[]): readonly Tiling[] {
  const found: Tiling[] = []
  const push = (tiling: Tiling | undefined): void => {
    if (tiling) found.push(tiling)
  }
  for (const [index, { id, cell }] of cells.entries()) {
    const times = map.ticks / cell.ticks
    if (!Number.isInteger(times)) continue
    push(tile(new Array(times).fill(index), times === 1 ? id : `${id}*${times}`, map, cells))
  }
  for (const [first, one] of cells.entries()) {
    for (const [second, other] of cells.entries()) {
      if (first === second || one.cell.ticks + other.cell.ticks !== map.ticks) continue
      push(tile([first, second], `${one.id} ${other.id}`, map, cells))
    }
  }
  return found
}

/** Joins cells to a bar: a push inside it takes the place of the onset that follows. */
function tile(indices: readonly number[], id: string, map: BarMap, cells: readonly WeightedCell[]): Tiling | undefined {
  const onsets: BarOnset[] = []
  let at = 0
  for (const index of indices) {
    const { cell, id: name } = cells[index]!
    if (!mayStand(cell, at, map)) return undefined
    for (const onset of cell.onsets) {
      const tick = at + onset.tick
      const before = onsets.at(-1)
      if (before?.tiedOver && before.tick + before.ticks === tick && !onset.ghost) {
        onsets[onsets.length - 1] = { ...before, ticks: before.ticks + onset.ticks, tiedOver: onset.tiedOver }
        continue
      }
      onsets.push({ ...onset, tick, continues: onset.continues && tick === 0, cell: name })
    }
    at += cell.ticks
  }
  return at === map.ticks ? { id, cells: [...new Set(indices)], onsets } : undefined
}

/** Whether a cell of a bar or less may begin at a tick; a named cell says at which counts. */
function mayStand(cell: Cell & { readonly starts?: readonly number[] | 'any' }, tick: Tick, map: BarMap): boolean {
  if (cell.bars > 1 || tick + cell.ticks > map.ticks) return false
  const { starts } = cell
  if (starts === undefined || starts === 'any') return true
  return starts.some((count) => ((count - 1) * 1920) / map.metre.lower === tick)
}
