import type { Pitch } from '../../music/pitch.ts'
import type { CostTerm } from '../line.ts'
import { GROOVE_POINTS } from './neck.ts'
import type { GrooveTable } from './table.ts'
import type { Stance } from './voiced.ts'

/** A stance and what it costs. */
export interface PricedStance {
  readonly stance: Stance
  readonly points: number
}

/** What a stance costs: the zone's distance from where it wants to begin, and a home up the neck. */
export function stanceTerms(table: GrooveTable, lowest: Pitch, stance: Stance): readonly CostTerm[] {
  return [
    { rule: 'zone', points: Math.abs(stance.zone - lowest - table.zone) * table.zoneMove },
    { rule: 'high-home', points: homePoints(stance.home) },
  ].filter((term) => term.points > 0)
}

function homePoints(home: number): number {
  return home > 5 ? GROOVE_POINTS.highHome : 0
}
