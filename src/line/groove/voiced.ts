import type { Pitch } from '../../music/pitch.ts'
import type { Tick } from '../../music/tick.ts'
import type { LaidBar, LaidSlot } from './bar.ts'
import type { RuledPlace } from './rules.ts'

/** One pitch that a slot may take, and why. */
export interface Choice {
  readonly pitch: Pitch
  /** `pattern` its token, `approach` a token that steps, `takeover` an approach in its place, `free` any note where a must leaves no other */
  readonly kind: 'pattern' | 'approach' | 'takeover' | 'free'
  /** the chord it is counted from */
  readonly reference: number
  /** the chord that sounds, for what arrives after it */
  readonly sounding: number
  /** the octave its figure stands in above the place of the root: 0 or 1 */
  readonly octave: number
  /** low tokens of its group are folded up, or the fifth lies on the other side */
  readonly folded: boolean
  /** a lead keeps its fold apart from the figure before it */
  readonly lead: boolean
  /** the pitch that an approach has to be followed by */
  readonly target: Pitch | undefined
  /** points by rule that do not depend on where it is fretted */
  readonly terms: readonly { readonly rule: string; readonly points: number }[]
}

/**
 * A slot with all grips that may play it. Grips of one choice stand together: those of choice c from `from[c]` up to
 * `from[c + 1]`.
 */
export interface Gripped {
  readonly laid: LaidSlot
  readonly choices: readonly Choice[]
  readonly from: readonly number[]
  readonly grips: readonly number[]
  /** what rules see of it; `undefined` where there are none */
  readonly ruled: RuledPlace | undefined
}

/** The same with what each grip pays by itself where the hand is at home. */
export interface VoicedSlot extends Gripped {
  readonly costs: Int32Array
}

/** The choices that may follow each other, and how the later one is reached. */
export interface Link {
  /** choices of the earlier slot, half-open */
  readonly before: number
  readonly beforeTo: number
  /** choices of the later one */
  readonly after: number
  readonly afterTo: number
  readonly reach: number
  /** a figure of one chord that changes its octave, or an approach that is not followed by its target */
  readonly rule: 'figure-moved' | 'target-missed' | 'target-heard' | undefined
  readonly points: number
}

/** How a slot is reached from the one before. */
export interface Way {
  readonly links: readonly Link[]
  /** from onset to onset */
  readonly ticks: Tick
  /** a bar under the rules that bind the later slot */
  readonly barIndex: number
}

/** A laid bar on the neck, for one zone and one home of the hand. */
export interface VoicedBar {
  readonly laid: LaidBar
  readonly slots: readonly VoicedSlot[]
  /** from each slot to the next */
  readonly links: readonly (readonly Link[])[]
  /** bass pitch classes of its parts and of the chord after them */
  readonly basses: readonly number[]
  /** the ways from its last note into the first and into the second of another bar */
  readonly across: readonly [Map<VoicedBar, Way>, Map<VoicedBar, Way>]
  /** least cost inside it, from its first note or from its second, with the step into each bar that may follow: filled as it is asked for */
  readonly windows: [Map<VoicedBar, number>, Map<VoicedBar, number>]
}

/** Where roots stand and where the hand is at home. */
export interface Stance {
  /** lowest root of the twelve */
  readonly zone: Pitch
  /** hand position */
  readonly home: number
}

/** The choice that a candidate of a slot belongs to, as a number. */
export function choiceIndexAt(slot: VoicedSlot, candidate: number): number {
  let choice = 0
  while (slot.from[choice + 1]! <= candidate) choice++
  return choice
}

/** The choice that a candidate of a slot belongs to. */
export function choiceAt(slot: VoicedSlot, candidate: number): Choice {
  return slot.choices[choiceIndexAt(slot, candidate)]!
}
