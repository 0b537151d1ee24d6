import { pitchClassOf } from '../../music/pitch.ts'
import type { LaidSlot } from './bar.ts'
import { GROOVE_POINTS, REACH } from './neck.ts'
import type { Choice, Gripped, Link, VoicedBar, VoicedSlot } from './voiced.ts'

/** Links between the choices of two neighbours inside a bar. */
export function linksInBar(from: Gripped, to: Gripped, basses: readonly number[]): readonly Link[] {
  return linksOf(from, to, (one, other) => {
    if (misses(one, other) || !keepsFigure(one, other, one.reference === other.reference)) return undefined
    const arrives = basses[one.sounding] !== basses[other.sounding]
    const reach = REACH.inBar | reachOf(to.laid, other, arrives)
    if (aside(one, other)) return { reach, rule: 'target-heard', points: GROOVE_POINTS.targetHeard }
    return { reach, rule: undefined, points: 0 }
  })
}

/** Links between the last choices of a bar and the first of the bar after. */
export function linksAcross(bar: VoicedBar, from: VoicedSlot, next: VoicedBar, to: VoicedSlot): readonly Link[] {
  const following = bar.laid.context.parts.length
  const held = next.laid.context.parts[0]?.arrives === false
  return linksOf(from, to, (one, other) => {
    // A written approach may lead where the bar after does not begin, at a price; one that takes a token's place may not.
    const missed = misses(one, other)
    if (missed && one.kind === 'takeover') return undefined
    if (!missed && !keepsFigure(one, other, one.reference === following && other.reference === 0)) return undefined
    const moved =
      held &&
      one.octave !== other.octave &&
      one.kind === 'pattern' &&
      one.reference < following &&
      other.kind === 'pattern'
    const reach = reachOf(to.laid, other, bar.basses[one.sounding] !== next.basses[other.sounding])
    if (missed) return { reach, rule: 'target-missed', points: GROOVE_POINTS.targetMissed }
    if (moved) return { reach, rule: 'figure-moved', points: GROOVE_POINTS.place }
    return { reach, rule: undefined, points: 0 }
  })
}

/** Links between all choices of two notes that nothing but rules joins. */
export function silentLinks(from: VoicedSlot, to: VoicedSlot): readonly Link[] {
  const [beforeTo, afterTo] = [from.choices.length, to.choices.length]
  if (beforeTo === 0 || afterTo === 0) return []
  return [{ before: 0, beforeTo, after: 0, afterTo, reach: REACH.silent, rule: undefined, points: 0 }]
}

/** Links between two slots. Free notes are joined to others alike, so one link does for all of them. */
function linksOf(
  from: Gripped,
  to: Gripped,
  join: (one: Choice, other: Choice) => Pick<Link, 'reach' | 'rule' | 'points'> | undefined,
): readonly Link[] {
  const links: Link[] = []
  const link = (before: number, beforeTo: number, after: number, afterTo: number): void => {
    const joined = join(from.choices[before]!, to.choices[after]!)
    if (joined) links.push({ before, beforeTo, after, afterTo, ...joined })
  }
  const free = freeFrom(to.choices)
  for (const [before, beforeTo] of alike(from.choices)) {
    const aims = from.choices[before]!.target !== undefined
    for (const [after, afterTo] of alike(to.choices)) {
      if (!aims || after < free) link(before, beforeTo, after, afterTo)
      else for (let one = after; one < afterTo; one++) link(before, beforeTo, one, one + 1)
    }
  }
  return links
}

/** Runs of choices that are joined alike: each by itself, and all free notes, which come last. */
function alike(choices: readonly Choice[]): readonly (readonly [number, number])[] {
  const free = freeFrom(choices)
  const own = choices.slice(0, free).map((_, index) => [index, index + 1] as const)
  return free < choices.length ? [...own, [free, choices.length]] : own
}

function freeFrom(choices: readonly Choice[]): number {
  const first = choices.findIndex((choice) => choice.kind === 'free')
  return first < 0 ? choices.length : first
}

/** Whether an approach is followed by another note than the one it aims at. */
function misses(one: Choice, other: Choice): boolean {
  return one.target !== undefined && one.target !== (other.target ?? other.pitch)
}

/** A step that takes a token's place just after its target was heard: F sharp, F, F sharp. */
function aside(one: Choice, other: Choice): boolean {
  if (other.kind !== 'takeover' || other.target === undefined) return false
  const isStep = Math.abs(other.pitch - other.target) <= 2
  return isStep && pitchClassOf(one.pitch) === pitchClassOf(other.target)
}

/** A figure stays in its octave and keeps its fold. */
function keepsFigure(one: Choice, other: Choice, sameReference: boolean): boolean {
  if (!sameReference || one.kind === 'free' || other.kind === 'free') return true
  if (one.octave !== other.octave) return false
  return one.lead !== other.lead || one.folded === other.folded
}

function reachOf(slot: LaidSlot, choice: Choice, arrives: boolean): number {
  const isApproach = choice.kind === 'approach' || choice.kind === 'takeover'
  return (
    (arrives ? REACH.arrival : 0) |
    (isApproach ? REACH.approach : 0) |
    (slot.freshInFill && choice.kind !== 'free' ? REACH.freshInFill : 0)
  )
}
