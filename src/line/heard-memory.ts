import { type Chord, degreeAt } from '../music/chord.ts'
import { type Pitch, pitchClassOf } from '../music/pitch.ts'
import type { CostTerm } from './line.ts'
import type { Memory, MemoryStep } from './memory.ts'
import { chordKey } from './standing.ts'
import { toneKind, type WalkPlace } from './walk/costs.ts'
import type { PlaceMasks } from './walk/known.ts'
import type { WalkTable } from './walk/table.ts'

// The state: what a chord still owes the ear.
const ROOT = 1
const THIRD = 2
const COLOUR = 4
/** the last bar of the chord did not start on its root */
const OFF_ROOT = 8

/**
 * Charges a chord of three notes or more whose third, or whose root, has not been heard by the time it is left; a chord of four whose
 * written sixth or altered tension has not; and two bars running of one chord that start elsewhere than on its root. The root is
 * dearer where a section opens or closes, and heard there in a chord of two notes too. A slash bass stands for the root.
 */
export function heardMemory(places: readonly WalkPlace[], table: WalkTable, masks: PlaceMasks): Memory {
  const sounding = (chord: Chord, part: number) =>
    masks.where(`heard ${part} of ${chordKey(chord)}`, (pitch) => partOf(chord, pitch) === part)
  const soundingNone = (chord: Chord, parts: number) =>
    masks.where(`not heard ${parts} of ${chordKey(chord)}`, (pitch) => (partOf(chord, pitch) & parts) === 0)
  /** a bar of the same chord starts later */
  const goesOn = places.map(({ run }, slot) => {
    let later = slot + 1
    while (places[later]?.run === run && places[later]!.standing !== 'barStart') later++
    return places[later]?.run === run
  })

  /** The ways to play a slot, by what its note says of what is owed. */
  const hear = (slot: number, before: number, leaving?: readonly CostTerm[]): MemoryStep[] => {
    const { chord, standing } = places[slot]!
    const opens = standing === 'barStart' || (standing === 'arrival' && goesOn[slot]!)
    const kept = opens ? before & ~OFF_ROOT : before
    const offRoot = opens && goesOn[slot] ? OFF_ROOT : 0
    const left = leaving ? { leaving } : {}
    const again = { arriving: [{ rule: 'held-root-on-one', points: table.heldOffRoot }] }
    const away = opens && before & OFF_ROOT ? again : {}
    const told = (before & (ROOT | THIRD | COLOUR)) | (opens ? ROOT : 0)
    if (told === 0) return [{ to: kept, ...left }]
    const ways: MemoryStep[] = []
    for (const part of [ROOT, THIRD, COLOUR]) {
      if (!(told & part)) continue
      const to = part === ROOT ? kept & ~ROOT : (kept & ~part) | offRoot
      ways.push({ to, places: sounding(chord, part), ...left, ...(part === ROOT ? {} : away) })
    }
    ways.push({ to: kept | offRoot, places: soundingNone(chord, told), ...left, ...away })
    return ways
  }
  const arrive = (slot: number, leaving?: readonly CostTerm[]): MemoryStep[] => {
    const { chord, structural } = places[slot]!
    // What is pushed over the end of a loop is heard in the next round.
    const runSlots = slot + 1 === places.length ? 1 : places[slot]!.runSlots
    const has = (part: number) => (sounding(chord, part).includes(1) ? part : 0)
    const root = runSlots >= 3 || (structural && runSlots === 2) ? ROOT : 0
    const third = runSlots >= 3 ? has(THIRD) : 0
    const colour = runSlots >= 4 ? has(COLOUR) : 0
    return hear(slot, root | third | colour, leaving)
  }
  const owing = (slot: number, owed: number): CostTerm[] => {
    const { points, structural } = table.rootNotHeard
    const terms: CostTerm[] = []
    if (owed & ROOT) terms.push({ rule: 'root-heard', points: places[slot]!.structural ? structural : points })
    if (owed & THIRD) terms.push({ rule: 'third-heard', points: table.thirdNotHeard })
    if (owed & COLOUR) terms.push({ rule: 'colour-heard', points: table.colourNotHeard })
    return terms
  }
  const after = (slot: number) => (slot + 1 === places.length ? 0 : slot + 1)
  const leaves = (slot: number) => slot + 1 === places.length || places[slot + 1]!.arrives
  return {
    name: 'heard',
    key(slot) {
      const next = places[after(slot)]!
      const flags = [leaves(slot), goesOn[after(slot)], next.structural, places[slot]!.structural].map(Number).join('')
      return `${chordKey(next.chord)} ${next.standing} ${Math.min(next.runSlots, 4)} ${flags}`
    },
    begin: (slot) => arrive(slot),
    step: (slot, state) => (leaves(slot) ? arrive(after(slot), owing(slot, state)) : hear(after(slot), state)),
    end: (state) => owing(places.length - 1, state),
  }
}

/** What a pitch says of its chord that would be missed: its root, its third, or its written colour. */
function partOf(chord: Chord, pitch: Pitch): number {
  const kind = toneKind(chord, pitchClassOf(pitch))
  if (kind === 'root') return ROOT
  if (kind === 'third') return THIRD
  const { degree, standing } = degreeAt(chord, pitchClassOf(pitch))
  if (standing !== 'tone') return 0
  const isSixth = degree.number === 6
  const isAltered = degree.number > 8 && degree.alter !== 0
  return isSixth || isAltered ? COLOUR : 0
}
