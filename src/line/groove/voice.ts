import { type Chord, degreeAt } from '../../music/chord.ts'
import { type Pitch, pitchClassOf } from '../../music/pitch.ts'
import { IMPOSSIBLE } from '../../search/trellis.ts'
import type { LaidBar, LaidSlot } from './bar.ts'
import type { BarContext } from './context.ts'
import { linksInBar } from './links.ts'
import { type AddPoints, anchorOf, GROOVE_POINTS, type Grip, type GrooveNeck, type Spot } from './neck.ts'
import type { GrooveRules, RuledPlace } from './rules.ts'
import type { GrooveTable } from './table.ts'
import { kindOfPitchClass, relativeOf, toneOf } from './tone.ts'
import type { Choice, Gripped, Stance, VoicedBar, VoicedSlot } from './voiced.ts'

/** A slot with what each grip pays by itself wherever the hand is at home. */
interface PitchedSlot extends Gripped {
  readonly costs: readonly number[]
}

/** A laid bar with its roots at their pitches, wherever the hand is at home. */
export interface PitchedBar extends Pick<VoicedBar, 'laid' | 'links' | 'basses'> {
  readonly anchors: readonly Pitch[]
  readonly slots: readonly PitchedSlot[]
}

/** A pitched bar that is kept, with what it is at each home of the hand. */
interface KeptPitched {
  readonly pitched: PitchedBar
  readonly atHome: VoicedBar[]
}

/** Puts laid bars on a neck. Bars that find their roots at the same pitches share the work. */
export class Voicer {
  readonly neck: GrooveNeck
  readonly #table: GrooveTable
  readonly #rules: GrooveRules
  /** all notes are free, not only where a must leaves no other */
  readonly #allFree: boolean
  readonly #voiced = new Map<LaidBar, Map<number, KeptPitched>>()

  constructor(table: GrooveTable, neck: GrooveNeck, rules: GrooveRules, allFree: boolean) {
    this.#table = table
    this.neck = neck
    this.#rules = rules
    this.#allFree = allFree
  }

  /** A laid bar on the neck; the same object each time. */
  voice(laid: LaidBar, { zone, home }: Stance): VoicedBar {
    const key = this.anchorKey(laid, zone)
    let known = this.#voiced.get(laid)
    if (!known) {
      known = new Map()
      this.#voiced.set(laid, known)
    }
    let kept = known.get(key)
    if (!kept) {
      kept = { pitched: this.pitch(laid, zone), atHome: [] }
      known.set(key, kept)
    }
    const voiced = kept.atHome[home] ?? this.#bringHome(kept.pitched, home)
    kept.atHome[home] = voiced
    return voiced
  }

  /** Equal for zones in which the roots of a bar lie at the same pitches. */
  anchorKey({ context: { parts, next } }: LaidBar, zone: Pitch): number {
    let key = 0
    for (const part of parts) key = key * 64 + anchorOf(zone, part.chord.bassPc) - this.neck.lowest + 12
    return next ? key * 64 + anchorOf(zone, next.chord.bassPc) - this.neck.lowest + 12 : key
  }

  /** A laid bar with its roots in a zone, made anew. */
  pitch(laid: LaidBar, zone: Pitch): PitchedBar {
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
    return { laid, anchors, slots, links, basses }
  }

  /** By slot, the pitches that the figure of a bar may give it with its roots in a zone, on the neck or not. */
  figurePitches(laid: LaidBar, zone: Pitch): readonly (readonly Pitch[])[] {
    return this.#choicesOf(laid, anchorsOf(laid.context, zone)).map((choices) => choices.map(({ pitch }) => pitch))
  }

  /** Adds what depends on where the hand is at home. */
  #bringHome(pitched: PitchedBar, home: number): VoicedBar {
    const { laid, links, basses } = pitched
    const slots = pitched.slots.map((slot): VoicedSlot => {
      const costs = new Int32Array(slot.costs.length)
      this.homeCosts(pitched, slot, home, costs)
      return { ...slot, costs }
    })
    return { laid, slots, links, basses, across: [new Map(), new Map()], windows: [new Map(), new Map()] }
  }

  /** What each grip of a slot pays by itself where the hand is at home. */
  homeCosts({ anchors }: Pick<PitchedBar, 'anchors'>, slot: PitchedSlot, home: number, into: Int32Array): void {
    const { neck } = this
    const { choices, from, grips, costs } = slot
    const entryPoints = slot.laid.entry ? neck.entryPoints(home) : undefined
    for (const [index, choice] of choices.entries()) {
      const place = this.#placeOf(choice, anchors, home)
      for (let i = from[index]!; i < from[index + 1]!; i++) {
        const grip = grips[i]!
        let cost = costs[i]! + (entryPoints?.[grip] ?? 0)
        if (place && !isAt(neck.grips[grip]!, place.spot)) cost += place.points
        into[i] = cost
      }
    }
  }

  /** A slot of a bar with any note of the neck beside those that its figure gives. */
  freed({ laid, slots }: VoicedBar, index: number, { zone, home }: Stance): VoicedSlot {
    const { context } = laid
    const chords = [...context.parts.map((part) => part.chord), ...(context.next ? [context.next.chord] : [])]
    const anchors = anchorsOf(context, zone)
    const own = slots[index]!
    const slot = laid.slots[index]!
    const choices = own.choices.filter(({ kind }) => kind !== 'free')
    const free = this.#freeChoices(slot, chords, anchors, this.neck.pitches())
    const pitched: PitchedSlot = { laid: slot, ruled: own.ruled, ...this.#gripsOf([...choices, ...free], own.ruled) }
    const costs = new Int32Array(pitched.costs.length)
    this.homeCosts({ anchors }, pitched, home, costs)
    return { ...pitched, costs }
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
    return result.map((choices, index) =>
      choices.map((choice) => givenAway(laid, index, this.#repeatedInFill(slots, result, index, choice))),
    )
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
    return { choices: kept, from, grips, costs }
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

/** Roots of a laid bar's chords and of the chord after it, in a zone. */
export function anchorsOf(context: BarContext, zone: Pitch): readonly Pitch[] {
  const chords = [...context.parts.map((part) => part.chord), ...(context.next ? [context.next.chord] : [])]
  return chords.map((chord) => anchorOf(zone, chord.bassPc))
}

/** Semitones of the lowest token that a bar's figure or lead has over a chord; 0 if none lies below the root. */
function lowestToken({ pairing, slots }: LaidBar, chord: Chord): number {
  let lowest = 0
  for (const token of [...(pairing?.pattern.tokens ?? []), ...(pairing?.leadTokens ?? [])])
    if (token.kind === 'degree') lowest = Math.min(lowest, toneOf(token, chord, false).semitones)
  for (const { tone } of slots) if (tone.kind === 'degree') lowest = Math.min(lowest, tone.tone.semitones)
  return lowest
}

/** The last two notes of a fill pay for the bass that the bar after arrives at: the fill leads to it no more. */
function givenAway({ slots, context: { parts, next } }: LaidBar, index: number, choice: Choice): Choice {
  const [slot, last] = [slots[index]!, slots.at(-1)!]
  if (slot.source !== 'fill' || index < slots.length - 2 || last.role === 'push') return choice
  const isTarget =
    next?.chord.bassPc === pitchClassOf(choice.pitch) && parts[slot.part]!.chord.bassPc !== next.chord.bassPc
  if (!isTarget) return choice
  return { ...choice, terms: [...choice.terms, { rule: 'fill-gives-away', points: GROOVE_POINTS.fillGivesAway }] }
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
