import type { Chord } from '../music/chord.ts'
import { pitchClassOf } from '../music/pitch.ts'
import type { CostTerm } from './line.ts'
import type { Memory, MemoryStep } from './memory.ts'
import { chordKey } from './standing.ts'
import { toneKind, type WalkPlace } from './walk-costs.ts'
import type { PlaceMasks } from './walk-known.ts'
import type { ToneKind, WalkTable } from './walk-table.ts'

// The state: what a chord still owes the ear.
const ROOT = 1
const THIRD = 2

/**
 * Charges a chord of three notes or more whose third, or whose root, has not been heard by the time it is left. Its root is
 * dearer where a section opens or closes. A slash bass stands for the root.
 */
export function heardMemory(places: readonly WalkPlace[], table: WalkTable, masks: PlaceMasks): Memory {
  /** the places of a chord's root, its third, and the rest */
  const masksOf = (chord: Chord): readonly Uint8Array[] => {
    const of = (part: string, test: (kind: ToneKind) => boolean) =>
      masks.where(`${part} of ${chordKey(chord)}`, (pitch) => test(toneKind(chord, pitchClassOf(pitch))))
    return [
      of('root', (kind) => kind === 'root'),
      of('third', (kind) => kind === 'third'),
      of('rest', (kind) => kind !== 'root' && kind !== 'third'),
    ]
  }
  const hear = (chord: Chord, owed: number, leaving?: readonly CostTerm[]): MemoryStep[] => {
    const left = leaving ? { leaving } : {}
    if (owed === 0) return [{ to: 0, ...left }]
    const [root, third, rest] = masksOf(chord) as [Uint8Array, Uint8Array, Uint8Array]
    return [
      { to: owed & ~ROOT, places: root, ...left },
      { to: owed & ~THIRD, places: third, ...left },
      { to: owed, places: rest, ...left },
    ]
  }
  const isLong = (place: WalkPlace) => place.runSlots >= 3
  const arrive = (place: WalkPlace, leaving?: readonly CostTerm[]): MemoryStep[] => {
    if (!isLong(place)) return hear(place.chord, 0, leaving)
    const third = masksOf(place.chord)[1]!.includes(1)
    return hear(place.chord, third ? ROOT | THIRD : ROOT, leaving)
  }
  const owing = (place: WalkPlace, owed: number): CostTerm[] => {
    const { points, structural } = table.rootNotHeard
    const terms: CostTerm[] = []
    if (owed & ROOT) terms.push({ rule: 'root-heard', points: place.structural ? structural : points })
    if (owed & THIRD) terms.push({ rule: 'third-heard', points: table.thirdNotHeard })
    return terms
  }
  return {
    name: 'heard',
    key(slot) {
      const next = places[(slot + 1) % places.length]!
      const arrives = slot + 1 === places.length || next.arrives
      const flags = Number(arrives) + 2 * Number(isLong(next)) + 4 * Number(places[slot]!.structural)
      return `${chordKey(next.chord)} ${flags}`
    },
    begin: (slot) => arrive(places[slot]!),
    step(slot, state) {
      const here = places[slot]!
      const next = places[(slot + 1) % places.length]!
      if (slot + 1 === places.length || next.arrives) return arrive(next, owing(here, state))
      return hear(next.chord, state)
    },
    end: (state) => owing(places.at(-1)!, state),
  }
}
