import type { CompingRow, CompingVoicing } from '../band/band-table.ts'
import type { Deal, Figure, GrooveTable, Role, RoleKind } from '../line/groove/table.ts'
import type { SwingPoint } from '../rhythm/swing.ts'
import type { Weighted } from './feel.ts'

// A feel is written as rows of text, one entry a row, columns parted by two blanks or more, `-` for nothing.

/** The columns of each row of a table. */
function columnsOf(table: string): readonly (readonly string[])[] {
  return table
    .trim()
    .split('\n')
    .map((row) => row.trim().split(/ {2,}/))
}

/**
 * Ids with how often they are used, against the others.
 *
 * @example
 * weightedOf('half-notes:2 habanera:1') // => [{ id: 'half-notes', weight: 2 }, { id: 'habanera', weight: 1 }]
 */
export function weightedOf(text: string): readonly Weighted[] {
  return text
    .trim()
    .split(/\s+/)
    .map((entry) => {
      const [id, weight] = entry.split(':') as [string, string]
      return { id, weight: Number(weight) }
    })
}

/**
 * Swing ratios at tempos in quarters a minute.
 *
 * @example
 * swingPointsOf('112:2.11 297:1.23') // => [{ bpm: 112, ratio: 2.11 }, { bpm: 297, ratio: 1.23 }]
 */
export function swingPointsOf(text: string): readonly SwingPoint[] {
  return weightedOf(text).map(({ id, weight }) => ({ bpm: Number(id), ratio: weight }))
}

/** Role | the points of each kind, in the order of {@link ROLE_KINDS}. */
export function rolesOf<Name extends Role>(table: string): Readonly<Record<Name, Readonly<Record<RoleKind, number>>>> {
  const rows = table
    .trim()
    .split('\n')
    .map((row) => {
      const [role, ...points] = row.trim().split(/\s+/) as [Name, ...string[]]
      return [role, Object.fromEntries(ROLE_KINDS.map((kind, index) => [kind, Number(points[index])]))]
    })
  return Object.fromEntries(rows) as Record<Name, Record<RoleKind, number>>
}

/** What a role prices, in the order of the columns. */
export const ROLE_KINDS: readonly RoleKind[] = ['1', '8', '5', '3', '6', '7', '4', 'x', 'ap', 'any', 'none']

/** Pattern | cells that tile the bar | deal | lead | points. */
export function pairsOf(table: string): GrooveTable['pairs'] {
  return columnsOf(table).map(([pattern, cell, deal, lead, points]) => ({
    cell: cell!,
    pattern: pattern!,
    deal: deal as Deal,
    lead: lead === '-' ? undefined : lead,
    points: Number(points),
  }))
}

/** Pattern | the one that takes its place | chord families. */
export function relativesOf(table: string): GrooveTable['relatives'] {
  return columnsOf(table).map(([pattern, instead, families]) => ({
    pattern: pattern!,
    instead: instead!,
    families: families!.split(' '),
  }))
}

/** A letter a bar | points. */
export function schemesOf(table: string): GrooveTable['schemes'] {
  return columnsOf(table).map(([letters, points]) => ({ letters: letters!.split(' '), points: Number(points) }))
}

/** Id | cell | tokens (`-` where nothing is struck) | points | when | chord families. */
export function figuresOf(table: string): readonly Figure[] {
  return columnsOf(table).map(([id, cell, tokens, points, when, families]) => ({
    id: id!,
    cell: cell!,
    tokens: tokens === '-' ? '' : tokens!,
    points: Number(points),
    when: when as Figure['when'],
    families: families === 'any' ? 'any' : families!.split(' '),
  }))
}

/** Id | cell | program | length | velocity | fewest and most voices | voicing | lowest and highest pitch. */
export function compingOf(table: string): readonly CompingRow[] {
  return columnsOf(table).map(([id, cell, program, length, velocity, voices, voicing, register]) => {
    const [least, most] = voices!.split('-').map(Number) as [number, number?]
    const [lowest, highest] = register!.split('-').map(Number) as [number, number]
    return {
      id: id!,
      cell: cell!,
      program: Number(program),
      length: Number(length),
      velocity: Number(velocity),
      voices: { least, most: most ?? least },
      voicing: voicing as CompingVoicing,
      register: { lowest, highest },
    }
  })
}
