import { type Chord, degreeAt, familyOf } from '../music/chord.ts'
import { type PitchClass, pitchClassOf } from '../music/pitch.ts'
import type { CostTerm } from './line.ts'
import { type Memory, type MemoryStep, placesWhere } from './memory.ts'
import type { Neck } from './neck.ts'
import { type Pattern, type PatternToken, semitonesOfToken } from './pattern.ts'
import type { WalkPlace } from './walk-costs.ts'
import type { WalkTable } from './walk-table.ts'

/** What a state says: which pattern is in force and where in it the line is. */
export interface PatternState {
  /** `undefined`: no chosen pattern fits the chord, the notes are free */
  readonly pattern: Pattern | undefined
  /** `undefined`: an approach note has taken over from the pattern */
  readonly token: number | undefined
}

/** Intervals by which an approach note that has taken over may lead into its arrival. */
const LEADS: readonly number[] = [-7, -2, -1, 1, 2, 5]

/** How far an anticipated degree may lie from the note before it, so that it is in the nearest octave. */
const NEAREST: readonly number[] = Array.from({ length: 13 }, (_, i) => i - 6)

/**
 * The memory of chosen degree patterns. A pattern comes into force at a chord change or where the one before it is done, and
 * also at a bar line; it is cut at a change, and begins again when it is done. Register is exact: two tokens of one pattern
 * under one chord are a fixed interval apart. Over a chord that no chosen pattern names, notes are free.
 *
 * An approach at the end of a pattern aims at whatever is arrived at; at the very end, at the root that the form begins with.
 */
export function patternMemory(
  patterns: readonly Pattern[],
  places: readonly WalkPlace[],
  table: WalkTable,
  neck: Neck,
  loop: boolean,
): Memory & { stateOf(state: number): PatternState } {
  const states: PatternState[] = []
  const numbers = new Map<string, number>()
  const numberOf = (pattern: Pattern | undefined, token: number | undefined): number => {
    const key = `${pattern?.id ?? ''}/${token ?? 'approach'}`
    const known = numbers.get(key)
    if (known !== undefined) return known
    states.push({ pattern, token })
    numbers.set(key, states.length - 1)
    return states.length - 1
  }
  const masks = new Map<PitchClass, Uint8Array>()
  const maskOf = (pitchClass: PitchClass): Uint8Array => {
    const known = masks.get(pitchClass) ?? placesWhere(neck, (pitch) => pitchClassOf(pitch) === pitchClass)
    masks.set(pitchClass, known)
    return known
  }
  const fits = (pattern: Pattern, chord: Chord): boolean =>
    pattern.families === 'any' || pattern.families.includes(familyOf(chord))
  const at = (slot: number): WalkPlace => places[slot % places.length]!
  /** the chord after the one that sounds at a slot; at the end, the first */
  const nextChord = (slot: number): Chord => {
    const { run } = at(slot)
    return (places.slice(slot).find((place) => place.run !== run) ?? places[0]!).chord
  }

  /** The steps onto a token; `before` is the token of the note before, if it belongs to the same round of the pattern. */
  const onto = (pattern: Pattern, token: number, slot: number, before: number | undefined): MemoryStep => {
    const to = numberOf(pattern, token)
    const place = at(slot)
    const own = pattern.tokens[token]!
    const previous = before === undefined ? undefined : pattern.tokens[before]!
    const height = heightOf(pattern, token, place.chord)
    const previousHeight = before === undefined ? undefined : heightOf(pattern, before, place.chord)
    if (own.kind === 'degree') {
      const chord = own.next ? nextChord(slot) : place.chord
      const mask = maskOf(pitchClassOf(rootOf(chord) + semitonesOfToken(own, chord)))
      if (!previous) return { to, places: mask }
      if (own.next) {
        const together = previous.kind === 'degree' && previous.next
        const apart = semitonesOfToken(own, chord) - (together ? semitonesOfToken(previous, chord) : 0)
        return { to, places: mask, intervals: together ? [apart] : NEAREST }
      }
      if (previous.kind === 'approach')
        return { to, places: mask, intervals: offsetsOf(previous).map((offset) => -offset) }
      if (previousHeight === undefined) return { to, places: mask }
      return { to, places: mask, intervals: [semitonesOfToken(own, place.chord) - previousHeight] }
    }
    const offsets = offsetsOf(own)
    const scale =
      own.by === 'scale'
        ? placesWhere(neck, (pitch) => degreeAt(place.chord, pitchClassOf(pitch)).standing !== 'chromatic')
        : undefined
    if (previous?.kind === 'approach') {
      // Both aim at the same note.
      const intervals = offsets.flatMap((offset) => offsetsOf(previous).map((other) => offset - other))
      return { to, intervals, ...(scale ? { places: scale } : {}) }
    }
    if (height !== undefined && previousHeight !== undefined) {
      const intervals = offsets.map((offset) => height + offset - previousHeight)
      return { to, intervals, ...(scale ? { places: scale } : {}) }
    }
    // Aimed at what comes after the pattern: the step that leaves it makes that true. At the very end that is the first chord.
    if (slot + 1 === places.length && !loop) {
      const aim = places[0]!.chord.bassPc
      const classes = offsets.map((offset) => pitchClassOf(aim + offset))
      return { to, places: placesWhere(neck, (pitch) => classes.includes(pitchClassOf(pitch))) }
    }
    return { to, ...(scale ? { places: scale } : {}) }
  }

  /** The ways for patterns to begin at a slot, coming from `from`. */
  const begins = (slot: number, from: PatternState | undefined): MemoryStep[] => {
    const fitting = patterns.filter((pattern) => fits(pattern, at(slot).chord))
    if (fitting.length === 0) return [{ to: numberOf(undefined, 0) }]
    return fitting.map((pattern) => {
      const changed: CostTerm[] =
        from?.pattern && from.pattern !== pattern ? [{ rule: 'pattern-goes-on', points: table.patternChanged }] : []
      return { ...onto(pattern, 0, slot, undefined), arriving: changed }
    })
  }

  return {
    stateOf: (state) => states[state]!,
    begin: () => begins(0, undefined),
    step(slot, state) {
      const here = states[state]!
      const { pattern, token } = here
      const next = at(slot + 1)
      const seam = slot + 1 === places.length
      const changes = seam || next.arrives
      if (!pattern) return changes ? begins(slot + 1, here) : [{ to: state }]
      if (token === undefined) return begins(slot + 1, here).map((step) => narrowed(step, LEADS))
      const done = token + 1 === pattern.tokens.length
      const steps: MemoryStep[] = []
      if (!changes && !done) steps.push(onto(pattern, token + 1, slot + 1, token))
      if (changes || done || next.slot.strength === 'one') {
        const aim = pattern.tokens[token]!
        // An approach to a token of its own pattern that is cut leads nowhere; one at the end leads into what begins.
        const leads = aim.kind === 'approach' && heightOf(pattern, token, at(slot).chord) === undefined
        const into = leads ? offsetsOf(aim).map((offset) => -offset) : undefined
        for (const step of begins(slot + 1, here)) steps.push(into ? narrowed(step, into) : step)
      }
      const beforeChange = slot + 2 >= places.length ? loop : at(slot + 2).arrives
      if (!changes && beforeChange && pattern.tokens[token]!.kind === 'degree') {
        const arriving = [{ rule: 'pattern-holds', points: table.approachTakesOver }]
        steps.push({ to: numberOf(pattern, undefined), arriving })
      }
      return steps
    },
    end: () => [],
  }
}

/** Roots that patterns are anchored on: a pattern counts from the chord's root even where the bass is another note. */
function rootOf(chord: Chord): PitchClass {
  return chord.rootPc
}

/** Semitones above the anchor of the note that a token sounds or aims at; `undefined` where it belongs to what comes after. */
function heightOf(pattern: Pattern, token: number, chord: Chord): number | undefined {
  const aim = pattern.tokens.slice(token).find((other) => other.kind === 'degree')
  return !aim || aim.next ? undefined : semitonesOfToken(aim, chord)
}

/** Semitones from the target to an approach note. A scale step is one or two; which, the scale decides. */
function offsetsOf(token: PatternToken & { kind: 'approach' }): readonly number[] {
  const sign = token.from === 'above' ? 1 : -1
  switch (token.by) {
    case 'half':
      return [sign]
    case 'whole':
      return [2 * sign]
    case 'scale':
      return [sign, 2 * sign]
    case 'dominant':
      return [token.from === 'above' ? 7 : -5]
  }
}

function narrowed(step: MemoryStep, intervals: readonly number[]): MemoryStep {
  return { ...step, intervals: step.intervals ? step.intervals.filter((i) => intervals.includes(i)) : intervals }
}
