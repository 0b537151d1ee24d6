import { type Chord, degreeAt } from '../music/chord.ts'
import { type Pitch, pitchClassOf } from '../music/pitch.ts'
import type { Tick } from '../music/tick.ts'
import { IMPOSSIBLE } from '../search/trellis.ts'
import type { LaidBar, LaidSlot } from './groove-bar.ts'
import type { BarContext } from './groove-context.ts'
import { type AddPoints, anchorOf, GROOVE_POINTS, type Grip, type GrooveNeck, REACH, type Spot } from './groove-neck.ts'
import type { GrooveRules, RuledPlace } from './groove-rules.ts'
import type { GrooveTable } from './groove-table.ts'
import { kindOfPitchClass, relativeOf, toneOf } from './groove-tone.ts'

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
export interface VoicedSlot {
  readonly laid: LaidSlot
  readonly choices: readonly Choice[]
  readonly from: Int32Array
  readonly grips: Int16Array
  readonly costs: Int32Array
  /** what rules see of it; `undefined` where there are none */
  readonly ruled: RuledPlace | undefined
}

/** The same, its costs not yet those of a home of the hand. */
type PitchedSlot = VoicedSlot

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
  readonly rule: 'figure-moved' | 'target-missed' | undefined
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
  /** least cost inside it, from its first note or from its second: filled as it is asked for */
  readonly inner: [number | undefined, number | undefined]
  /** the same with the step into each bar that may follow */
  readonly windows: [Map<VoicedBar, number>, Map<VoicedBar, number>]
}

/** A laid bar with its roots at their pitches. */
interface PitchedBar extends Pick<VoicedBar, 'laid' | 'links' | 'basses'> {
  readonly anchors: readonly Pitch[]
  readonly slots: readonly PitchedSlot[]
  /** by home of the hand */
  readonly atHome: VoicedBar[]
}

/** Where roots stand and where the hand is at home. */
export interface Stance {
  /** lowest root of the twelve */
  readonly zone: Pitch
  /** hand position */
  readonly home: number
}

/** Puts laid bars on a neck. Bars that find their roots at the same pitches share the work. */
export class Voicer {
  readonly neck: GrooveNeck
  readonly #table: GrooveTable
  readonly #rules: GrooveRules
  /** all notes are free, not only where a must leaves no other */
  readonly #allFree: boolean
  readonly #voiced = new Map<LaidBar, Map<number, PitchedBar>>()

  constructor(table: GrooveTable, neck: GrooveNeck, rules: GrooveRules, allFree: boolean) {
    this.#table = table
    this.neck = neck
    this.#rules = rules
    this.#allFree = allFree
  }

  voice(laid: LaidBar, stance: Stance): VoicedBar {
    const { parts, next } = laid.context
    let key = 0
    for (const part of parts) key = key * 64 + anchorOf(stance.zone, part.chord.bassPc) - this.neck.lowest + 12
    if (next) key = key * 64 + anchorOf(stance.zone, next.chord.bassPc) - this.neck.lowest + 12
    let known = this.#voiced.get(laid)
    if (!known) {
      known = new Map()
      this.#voiced.set(laid, known)
    }
    let pitched = known.get(key)
    if (!pitched) {
      pitched = this.#pitch(laid, stance.zone)
      known.set(key, pitched)
    }
    const voiced = pitched.atHome[stance.home] ?? this.#bringHome(pitched, stance.home)
    pitched.atHome[stance.home] = voiced
    return voiced
  }

  /** A laid bar with its roots in a zone, for any home of the hand. */
  #pitch(laid: LaidBar, zone: Pitch): PitchedBar {
    const { context } = laid
    const chords = [...context.parts.map((part) => part.chord), ...(context.next ? [context.next.chord] : [])]
    const anchors = chords.map((chord) => anchorOf(zone, chord.bassPc))
    const choices = this.#choicesOf(laid, anchors)
    const slots = laid.slots.map((slot, index): PitchedSlot => {
      const ruled = this.#rules.isEmpty ? undefined : this.#rules.place(laid, index)
      const own = this.#gripsOf(choices[index]!, ruled)
      const isFree = slot.tone.kind !== 'kept' && (this.#allFree || own.grips.length === 0)
      const free = isFree ? this.#freeChoices(slot, chords, anchors, this.neck.pitches()) : []
      const gripped = isFree ? this.#gripsOf([...choices[index]!, ...free], ruled) : own
      return { laid: slot, ruled, ...gripped }
    })
    const basses = chords.map((chord) => chord.bassPc)
    const links = slots.slice(1).map((slot, index) => linksInBar(slots[index]!, slot, basses))
    return { laid, anchors, slots, links, basses, atHome: [] }
  }

  /** Adds what depends on where the hand is at home. */
  #bringHome({ laid, anchors, slots, links, basses }: PitchedBar, home: number): VoicedBar {
    const { neck } = this
    const voiced = slots.map((slot): VoicedSlot => {
      const costs = slot.costs.slice()
      const entryPoints = slot.laid.entry ? neck.entryPoints(home) : undefined
      for (const [index, choice] of slot.choices.entries()) {
        const place = this.#placeOf(choice, anchors, home)
        for (let i = slot.from[index]!; i < slot.from[index + 1]!; i++) {
          const grip = slot.grips[i]!
          let cost = costs[i]! + (entryPoints?.[grip] ?? 0)
          if (place && !isAt(neck.grips[grip]!, place.spot)) cost += place.points
          costs[i] = cost
        }
      }
      return { ...slot, costs }
    })
    return {
      laid,
      slots: voiced,
      links,
      basses,
      across: [new Map(), new Map()],
      inner: [undefined, undefined],
      windows: [new Map(), new Map()],
    }
  }

  /** The pitches each slot may take. */
  #choicesOf(laid: LaidBar, anchors: readonly Pitch[]): readonly (readonly Choice[])[] {
    const { slots, context } = laid
    const { lowest } = this.neck
    // Where low tokens leave the neck the whole figure may stand an octave higher.
    const chords = [...context.parts.map((part) => part.chord), ...(context.next ? [context.next.chord] : [])]
    const octaves = anchors.map((anchor, reference) =>
      anchor + lowestToken(laid, chords[reference]!) < lowest ? [0, 1] : [0],
    )
    const isLeading = (slot: LaidSlot): boolean => slot.reference !== slot.part && slot.role !== 'push'
    // Groups of low tokens fold together: the figure of a part, and what leads out of it.
    const lowOf = (reference: number, leading: boolean) =>
      slots.filter(
        (slot) =>
          slot.reference === reference &&
          isLeading(slot) === leading &&
          slot.tone.kind === 'degree' &&
          slot.tone.tone.semitones < 0,
      )
    const leaves = (reference: number, leading: boolean): boolean =>
      lowOf(reference, leading).some(
        (slot) => slot.tone.kind === 'degree' && anchors[reference]! + slot.tone.tone.semitones < lowest,
      )
    const foldable = (slot: LaidSlot): boolean =>
      (slot.freeFifth && slots.some((other) => other.part === slot.part && isFifth(other))) ||
      leaves(slot.reference, isLeading(slot))

    const result: Choice[][] = []
    // From the end, since an approach looks at what it steps into.
    for (let index = slots.length - 1; index >= 0; index--) {
      const slot = slots[index]!
      const choices: Choice[] = []
      const { tone, reference } = slot
      if (tone.kind === 'kept') choices.push(...this.#freeChoices(slot, chords, anchors, [tone.pitch]))
      else if (tone.kind === 'degree') {
        const leading = isLeading(slot)
        const last = slots[index + 1]
        const landsNext = leading && !(last !== undefined && last.reference === reference && isLeading(last))
        for (const octave of octaves[reference]!) {
          const root = anchors[reference]! + 12 * octave
          for (const folded of foldable(slot) ? [false, true] : [false]) {
            const { semitones } = tone.tone
            const isLow = semitones < 0
            const flips = slot.freeFifth && isFifth(slot)
            const moves = folded && (isLow || flips)
            const pitch = root + semitones + (moves ? (isLow ? 12 : -12) : 0)
            const terms = [{ rule: 'role', points: slot.rolePoints }]
            if (moves) terms.push({ rule: 'fold', points: this.#table.fold })
            if (folded && leading && isLow && landsNext) terms.push({ rule: 'lead-drop', points: this.#table.leadDrop })
            if (slot.entry && octave === 1) terms.push({ rule: 'figure-moved', points: GROOVE_POINTS.figureMoved })
            choices.push({
              pitch,
              kind: 'pattern',
              reference,
              sounding: reference,
              octave,
              folded,
              lead: leading,
              target: undefined,
              terms,
            })
          }
        }
      } else {
        choices.push(...this.#stepChoices(laid, slot, index, result, anchors, octaves))
      }
      if (slot.approachPoints !== undefined) {
        const aim = slot.approachReference
        const chord = context.parts[slot.part]!.chord
        for (const octave of octaves[aim]!) {
          const target = anchors[aim]! + 12 * octave + (aim < context.parts.length ? 0 : this.#opening(laid, aim))
          choices.push(...this.#takeovers(slot, chord, target, octave))
        }
      }
      result[index] = choices
    }
    return result.map((choices, index) => choices.map((choice) => this.#repeatedInFill(slots, result, index, choice)))
  }

  /** An approach in a fill on a note that an earlier token of the fill has struck, in any octave and not just before, pays for it. */
  #repeatedInFill(
    slots: readonly LaidSlot[],
    choices: readonly (readonly Choice[])[],
    index: number,
    choice: Choice,
  ): Choice {
    if (choice.kind !== 'approach' || slots[index]!.source !== 'fill') return choice
    const struck = slots.some(
      (slot, earlier) =>
        earlier < index - 1 &&
        slot.source === 'fill' &&
        choices[earlier]!.every(({ pitch }) => pitchClassOf(pitch) === pitchClassOf(choice.pitch)),
    )
    if (!struck) return choice
    return { ...choice, terms: [...choice.terms, { rule: 'fill-repeats', points: GROOVE_POINTS.fillRepeats }] }
  }

  /** Semitones above its root of the tone that the bar after opens with, if it is made of the same pattern. */
  #opening({ pairing, context }: LaidBar, reference: number): number {
    if (!pairing || reference < context.parts.length || !context.next) return 0
    const { chord } = context.next
    const { pattern, foreign } = relativeOf(pairing.pattern, chord, this.#table.relatives)
    const first = pattern.tokens[0]!
    return first.kind === 'degree' && !first.next ? toneOf(first, chord, foreign).semitones : 0
  }

  /** An approach token: each way of its target, from below or, where that leaves the neck, from above. */
  #stepChoices(
    laid: LaidBar,
    slot: LaidSlot,
    index: number,
    later: readonly (readonly Choice[])[],
    anchors: readonly Pitch[],
    octaves: readonly (readonly number[])[],
  ): readonly Choice[] {
    const { slots, context } = laid
    if (slot.tone.kind !== 'approach') return []
    const { token, target } = slot.tone
    const { reference } = slot
    const aims =
      target === undefined
        ? octaves[reference]!.map((octave) => {
            const pitch = anchors[reference]! + 12 * octave + this.#opening(laid, reference)
            return { pitch, octave, folded: false }
          })
        : later[target]!.filter((choice) => choice.kind === 'pattern')
    // A run of approach tokens turns over as a whole.
    const run = slots.slice(index).findIndex((other) => other.tone.kind === 'degree')
    let first = index
    while (first > 0 && slots[first - 1]!.tone.kind === 'approach') first--
    const together = slots.slice(first, run < 0 ? undefined : index + run)
    const scale = context.parts[slot.part]!.chord
    const choices: Choice[] = []
    for (const aim of aims) {
      const turned = together.some(
        (other) =>
          other.tone.kind === 'approach' &&
          other.tone.token.from === 'below' &&
          Math.max(...stepsOf(other.tone.token.by, 'below')) > aim.pitch - this.neck.lowest,
      )
      const from = turned && token.from === 'below' ? 'above' : token.from
      for (const size of stepsOf(token.by, from)) {
        const pitch = from === 'below' ? aim.pitch - size : aim.pitch + size
        if (token.by === 'scale' && !isInScale(scale, pitch)) continue
        const terms = [{ rule: 'role', points: slot.rolePoints }]
        if (from !== token.from) terms.push({ rule: 'fold', points: this.#table.fold })
        choices.push({
          pitch,
          kind: 'approach',
          reference,
          sounding: slot.part,
          octave: aim.octave,
          folded: aim.folded,
          lead: reference !== slot.part,
          target: aim.pitch,
          terms,
        })
      }
    }
    return choices
  }

  /** Approaches that may take the place of a token: a half step, a scale step, the fifth above or the fourth below. */
  #takeovers(slot: LaidSlot, chord: Chord, target: Pitch, octave: number): readonly Choice[] {
    const ways: readonly (readonly [number, number])[] = [
      [-1, 0],
      [1, 0],
      [-2, 1],
      [2, 1],
      [7, 2],
      [-5, 2],
    ]
    const choices: Choice[] = []
    for (const [distance, points] of ways) {
      const pitch = target + distance
      if (!this.neck.ofPitch.has(pitch)) continue
      if (Math.abs(distance) === 2 && !isInScale(chord, pitch)) continue
      choices.push({
        pitch,
        kind: 'takeover',
        reference: slot.approachReference,
        sounding: slot.part,
        octave,
        folded: false,
        lead: true,
        target,
        terms: [
          { rule: 'approach', points: slot.approachPoints! },
          { rule: 'approach-kind', points },
        ],
      })
    }
    return choices
  }

  /** Notes of the degree table, whatever the figure: any where a must leaves nothing else, and those that are kept. */
  #freeChoices(
    slot: LaidSlot,
    chords: readonly Chord[],
    anchors: readonly Pitch[],
    pitches: readonly Pitch[],
  ): readonly Choice[] {
    const sounding = slot.role === 'push' ? slot.reference : slot.part
    const chord = chords[sounding]!
    const prices = this.#table.roles[slot.role]
    return pitches.map((pitch): Choice => {
      const isRoot = pitchClassOf(pitch) === chord.bassPc
      const kind = isRoot ? (pitch === anchors[sounding] ? '1' : '8') : kindOfPitchClass(chord, pitch)
      return {
        pitch,
        kind: 'free',
        reference: sounding,
        sounding,
        octave: 0,
        folded: false,
        lead: false,
        target: undefined,
        terms: [
          { rule: 'role', points: prices[kind] + prices.any },
          { rule: 'unlisted', points: this.#table.unlisted },
        ],
      }
    })
  }

  /** The grips of some choices, with what each pays wherever the hand is at home. */
  #gripsOf(
    choices: readonly Choice[],
    ruled: RuledPlace | undefined,
  ): Pick<PitchedSlot, 'choices' | 'from' | 'grips' | 'costs'> {
    const { neck } = this
    const gripPoints = neck.gripPoints()
    const grips: number[] = []
    const costs: number[] = []
    const kept: Choice[] = []
    const from = [0]
    for (const choice of choices) {
      const start = grips.length
      const base = choice.terms.reduce((sum, term) => sum + term.points, 0)
      for (const grip of neck.ofPitch.get(choice.pitch) ?? []) {
        const cost = base + gripPoints[grip]! + (ruled ? this.#rules.pointsOf(ruled, grip, neck) : 0)
        if (cost >= IMPOSSIBLE) continue
        grips.push(grip)
        costs.push(cost)
      }
      if (grips.length === start) continue
      kept.push(choice)
      from.push(grips.length)
    }
    return {
      choices: kept,
      from: Int32Array.from(from),
      grips: Int16Array.from(grips),
      costs: Int32Array.from(costs),
    }
  }

  /** Where the note of a figure has its place, and what it pays elsewhere; `undefined` for notes of no figure. */
  #placeOf(
    choice: Choice,
    anchors: readonly Pitch[],
    home: number,
  ): { readonly spot: Spot; readonly rule: 'home-place' | 'shape'; readonly points: number } | undefined {
    if (choice.kind !== 'pattern') return undefined
    const root = anchors[choice.reference]! + 12 * choice.octave
    const rootSpot = this.neck.homePlace(root, home)
    if (!rootSpot) return undefined
    if (choice.pitch === root) return { spot: rootSpot, rule: 'home-place', points: GROOVE_POINTS.place }
    const spot = this.neck.figurePlace(rootSpot, choice.pitch)
    return spot && { spot, rule: 'shape', points: GROOVE_POINTS.shape }
  }

  /** All that a note pays by itself, but for rules. */
  noteTerms(
    slot: VoicedSlot,
    choice: Choice,
    grip: Grip,
    anchors: readonly Pitch[],
    stance: Stance,
    add: AddPoints,
  ): void {
    for (const { rule, points } of choice.terms) add(rule, points)
    this.neck.gripTerms(grip, add)
    if (slot.laid.entry) this.neck.entryTerms(grip, stance.home, add)
    const place = this.#placeOf(choice, anchors, stance.home)
    if (place && !isAt(grip, place.spot)) add(place.rule, place.points)
  }
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

/** Roots of a laid bar's chords and of the chord after it, in a zone. */
export function anchorsOf(context: BarContext, zone: Pitch): readonly Pitch[] {
  const chords = [...context.parts.map((part) => part.chord), ...(context.next ? [context.next.chord] : [])]
  return chords.map((chord) => anchorOf(zone, chord.bassPc))
}

/** Links between the choices of two neighbours inside a bar. */
function linksInBar(from: VoicedSlot, to: VoicedSlot, basses: readonly number[]): readonly Link[] {
  return linksOf(from, to, (one, other) => {
    if (misses(one, other) || !keepsFigure(one, other, one.reference === other.reference)) return undefined
    const arrives = basses[one.sounding] !== basses[other.sounding]
    return { reach: REACH.inBar | reachOf(to.laid, other, arrives), rule: undefined, points: 0 }
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
  from: VoicedSlot,
  to: VoicedSlot,
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

/** Semitones of the lowest token that a bar's figure or lead has over a chord; 0 if none lies below the root. */
function lowestToken({ pairing, slots }: LaidBar, chord: Chord): number {
  let lowest = 0
  for (const token of [...(pairing?.pattern.tokens ?? []), ...(pairing?.leadTokens ?? [])])
    if (token.kind === 'degree') lowest = Math.min(lowest, toneOf(token, chord, false).semitones)
  for (const { tone } of slots) if (tone.kind === 'degree') lowest = Math.min(lowest, tone.tone.semitones)
  return lowest
}

function isFifth(slot: LaidSlot): boolean {
  return slot.tone.kind === 'degree' && slot.tone.tone.kind === '5'
}

function isAt(grip: Grip, place: Spot): boolean {
  return grip.string === place.string && grip.fret === place.fret
}

function isInScale(chord: Chord, pitch: Pitch): boolean {
  return degreeAt(chord, pitchClassOf(pitch)).standing !== 'chromatic'
}

/** Semitones between an approach and its target. */
function stepsOf(by: 'half' | 'whole' | 'scale' | 'dominant', from: 'above' | 'below'): readonly number[] {
  if (by === 'half') return [1]
  if (by === 'whole') return [2]
  if (by === 'dominant') return [from === 'above' ? 7 : 5]
  return [1, 2]
}
