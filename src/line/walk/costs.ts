import type { Form, FormBar } from '../../chart/form.ts'
import { type Chord, degreeAt } from '../../music/chord.ts'
import { beatsOf } from '../../music/metre.ts'
import { type Pitch, type PitchClass, pitchClassOf } from '../../music/pitch.ts'
import type { Slot } from '../../rhythm/slot.ts'
import { costAfter, type Move, moveOf, sizeOf } from '../move.ts'
import type { Neck, Place } from '../neck.ts'
import { acrossTerms, shiftCost, stretchCost } from '../neck-problem.ts'
import { type Standing, standingsOf } from '../standing.ts'
import type { ToneKind, WalkTable } from './table.ts'

/** A sounded slot as the walking weights see it. */
export interface WalkPlace extends Standing {
  readonly standing: 'arrival' | 'barStart' | 'middle' | 'other' | 'leading'
  /** an off-beat note leaves the memory of the last move as it was */
  readonly onBeat: boolean
  /** a single off-beat note between beats, in a bar of beats: under a pattern it strikes the note before it again */
  readonly skip: boolean
  /** which chord it belongs to, counted by changes: slots of a held chord share it */
  readonly run: number
  /** how many slots that chord has */
  readonly runSlots: number
  /** a pitch struck again would waste the moment */
  readonly hasty: boolean
  /** that chord opens or closes a section */
  readonly structural: boolean
  /** the root of a change two notes later, where its own chord has another */
  readonly coming: PitchClass | undefined
  /** the tune begins with it: the first note, or what is pushed round a loop into its downbeat */
  readonly begins: boolean
  /** the pitch that the contour wants here */
  readonly target: Pitch
  /** the pitch that has to stay, whatever the weights say */
  readonly kept: Pitch | undefined
}

/** Receives a cost under its name. */
export type AddTerm = (rule: string, points: number) => void

/** The sounded slots of a form with what the weights ask of each; ghosts are left out. Slots under N.C. are an error. */
export function walkPlaces(
  form: Form,
  slots: readonly Slot[],
  table: WalkTable,
  loop: boolean,
  keptAt: (slot: Slot) => Pitch | undefined = () => undefined,
): readonly WalkPlace[] {
  const runOf: number[] = []
  const structuralRuns = new Set<number>()
  let run = -1
  for (const change of form.changes) {
    if (!change.held) run++
    const bar = form.bars[change.barIndex]!
    if (bar.section !== undefined && change.startTick === bar.startTick) {
      structuralRuns.add(run)
      if (run > 0) structuralRuns.add(run - 1)
    }
    runOf.push(run)
  }
  structuralRuns.add(0)
  structuralRuns.add(run)
  const sounded = slots.filter((slot) => !slot.ghost)
  const counts = new Map<number, number>()
  for (const slot of sounded) {
    const r = runOf[slot.changeIndex]!
    counts.set(r, (counts.get(r) ?? 0) + 1)
  }
  const standings = standingsOf(form, sounded, loop)
  const comingAt = (index: number): PitchClass | undefined => {
    const next = standings[index + 1] ?? (loop ? standings[0] : undefined)
    const after = standings[index + 2] ?? (loop ? standings[index + 2 - standings.length] : undefined)
    if (!next || !after || standings[index]!.arrives || next.arrives || !after.arrives) return undefined
    const root = after.chord.bassPc
    return root === standings[index]!.chord.bassPc ? undefined : root
  }
  const isOnBeat = ({ pushed, strength }: Slot) => pushed || (strength !== 'off' && strength !== 'fine')
  const beats = new Map<number, { on: number; off: number }>()
  for (const slot of sounded) {
    const count = beats.get(slot.barIndex) ?? { on: 0, off: 0 }
    count[isOnBeat(slot) ? 'on' : 'off']++
    beats.set(slot.barIndex, count)
  }
  const isSkip = (index: number): boolean => {
    const { slot, arrives } = standings[index]!
    const [before, after] = [standings[index - 1]?.slot, standings[index + 1]?.slot]
    const { on, off } = beats.get(slot.barIndex)!
    const isBetween = before?.barIndex === slot.barIndex && isOnBeat(before) && (!after || isOnBeat(after))
    return !isOnBeat(slot) && !arrives && isBetween && 2 * off <= on
  }
  const begins = (index: number): boolean => {
    if (index <= 0 || index + 1 < standings.length || !loop) return index === 0
    return standings[index]!.slot.pushed && standings[index]!.arrives
  }
  const isSparse = (bar: FormBar): boolean => {
    const { on, off } = beats.get(bar.index)!
    return on + off < beatsOf(bar.metre).length
  }
  return standings.map((standing, index) => {
    const { slot, arrives, leads } = standing
    const bar = form.bars[slot.barIndex]!
    const r = runOf[slot.changeIndex]!
    const onBeat = isOnBeat(slot)
    return {
      ...standing,
      standing: arrives
        ? 'arrival'
        : slot.strength === 'one'
          ? 'barStart'
          : slot.strength === 'middle'
            ? 'middle'
            : leads
              ? 'leading'
              : 'other',
      onBeat,
      skip: isSkip(index),
      run: r,
      runSlots: counts.get(r)!,
      hasty: counts.get(r) === 2 || (onBeat && (leads || begins(index - 1))) || isSparse(bar),
      structural: structuralRuns.has(r),
      coming: comingAt(index),
      begins: begins(index),
      target: contourAt(
        table.contour,
        bar.number > 0 ? bar.number - 1 : 0,
        (slot.startTick - bar.startTick) / bar.ticks,
      ),
      kept: keptAt(slot),
    }
  })
}

/** The pitch of the arch at a place: low at both ends of a stretch of bars, high in the middle, straight between. */
function contourAt(contour: WalkTable['contour'], bar: number, share: number): Pitch {
  const at = ((bar % contour.bars) + share) / contour.bars
  return Math.round(contour.low + (contour.high - contour.low) * (1 - Math.abs(2 * at - 1)))
}

/**
 * What a pitch class is against a chord. The slash bass counts as the root. Over a suspended chord the fourth or second that
 * stands for the third counts as the third; sixths count as sevenths (weights fitted so).
 */
export function toneKind(chord: Chord, pitchClass: PitchClass): ToneKind {
  if (pitchClass === chord.bassPc) return 'root'
  const { degree, standing } = degreeAt(chord, pitchClass)
  if (standing === 'scale') return 'scale'
  if (standing === 'chromatic') return 'chromatic'
  switch (((degree.number - 1) % 7) + 1) {
    case 1:
      return 'fifth'
    case 3:
      return 'third'
    case 5:
      return 'fifth'
    case 6:
      return degree.number > 7 ? 'otherTone' : 'seventh'
    case 7:
      return 'seventh'
    default:
      return hasThird(chord) ? 'otherTone' : 'third'
  }
}

const hasThird = (chord: Chord): boolean => chord.tones.some((tone) => tone.number === 3 || tone.number === 10)

const isTone = (kind: ToneKind): boolean => kind !== 'scale' && kind !== 'chromatic'

/** Names of what a note pays for its degree, by where it stands. */
const TONE_RULES = {
  arrival: 'arrives-on-the-root',
  barStart: 'bar-starts-on-root-or-fifth',
  middle: 'chord-tone-in-the-middle',
  other: 'chord-tone-between',
  leading: 'chord-tone-before-the-change',
} as const

/** What a line never does a bar that stays may do: a tone that is never taken there, and for each semitone over the octave more points. */
const KEPT = { tone: 15, perSemitoneOverOctave: 2 }

/** What a pitch costs where it stands; `false` if it may not stand there at all. */
export function noteTerms(table: WalkTable, place: WalkPlace, pitch: Pitch, add: AddTerm): boolean {
  const kind = toneKind(place.chord, pitchClassOf(pitch))
  const tone =
    place.standing === 'arrival' && kind === 'fifth' && place.runSlots === 2
      ? table.fifthOfTwo
      : table[place.standing][kind]
  if (place.kept === undefined ? tone === undefined : pitch !== place.kept) return false
  add(TONE_RULES[place.standing], tone ?? KEPT.tone)
  if (place.begins && kind !== 'root') add('starts-on-the-root', table.firstNotRoot)
  if (kind === 'scale' && isTone(toneKind(place.chord, pitchClassOf(pitch - 1)))) add('no-avoid-note', table.avoid)
  if (place.coming === pitchClassOf(pitch)) add('change-not-given-away', table.givenAway)
  add('follows-the-arch', Math.max(0, Math.abs(pitch - place.target) - table.contour.free) * table.contour.points)
  add('below-the-top', Math.max(0, pitch - table.above.pitch) * table.above.points)
  return true
}

/** What a pitch costs after another; `false` if it may not follow at all. */
export function pairTerms(table: WalkTable, from: WalkPlace, to: WalkPlace, x: Pitch, y: Pitch, add: AddTerm): boolean {
  const interval = y - x
  const size = Math.abs(interval)
  const sizes = to.onBeat ? table.intervals : table.intoOffBeat
  const stays = from.kept !== undefined && to.kept !== undefined
  const wide = stays ? sizes.at(-1)! + (size - sizes.length + 1) * KEPT.perSemitoneOverOctave : undefined
  const points = sizes[size] ?? wide
  if (points === undefined) return false
  const left = toneKind(from.chord, pitchClassOf(x))
  const reached = toneKind(to.chord, pitchClassOf(y))
  let byInterval = points
  if (to.arrives) {
    const { approach } = table
    const inNewScale = degreeAt(to.chord, pitchClassOf(x)).standing !== 'chromatic'
    let into: number
    if (size === 1) into = approach.semitone
    else if (size === 2 && (left !== 'chromatic' || inNewScale)) into = approach.scaleStep
    else if ((interval === -7 || interval === 5) && reached === 'root' && left !== 'chromatic') into = approach.fifth
    else if (isTone(left) && size <= 4 && size > 0) into = approach.chordTone
    else if (size === 0) into = approach.same
    else into = approach.leap
    const guides =
      (left === 'seventh' && reached === 'third' && (interval === -1 || interval === -2)) ||
      (left === 'third' && reached === 'seventh' && (interval === -1 || interval === 0))
    // The bonus for guide tones never makes the step cheaper than nothing.
    let bonus = guides ? table.guideTones : 0
    const fromInto = Math.min(bonus, into)
    bonus -= fromInto
    into -= fromInto
    byInterval -= Math.min(bonus, byInterval)
    add('led-into-the-change', into)
  }
  add('small-intervals', byInterval)
  if (size === 0 && from.run === to.run && to.hasty) add('repeats-where-there-is-time', table.repeatInHaste)
  if (!isTone(left) && size > 2) add('left-by-step', table.leftByLeap)
  if (left === 'chromatic' && size !== 1) add('chromatic-note-resolves', table.chromaticNotBySemitone)
  if (!isTone(reached) && size > 2) add('reached-by-step', table.reachedByLeap)
  if (left === 'chromatic' && size === 1 && reached === 'scale' && !to.arrives)
    add('chromatic-note-next-to-a-chord-tone', table.chromaticIntoScale)
  if (size === 0 && !from.onBeat) add('skip-leads-on', table.skipRepeated)
  if (reached === 'chromatic' && size === 2 && !to.leads) add('chromatic-note-passes', table.chromaticByWholeStep)
  return true
}

/**
 * What a move costs after the move before it, under the name of what it was. Into an off-beat note nothing but the same pitch a third
 * time.
 */
export function moveTerms(table: WalkTable, before: Move, interval: number, onBeat: boolean, add: AddTerm): void {
  if (!onBeat && !(sizeOf(before) === 'repeat' && interval === 0)) return
  const names = { repeat: 'moves-after-a-repeat', step: 'step-goes-on', third: 'third-goes-on', leap: 'leap-turns' }
  const size = sizeOf(before)
  if (size) add(names[size], costAfter(table.after, before, moveOf(interval)))
}

/** Where a note is fretted, by which hand. */
export interface Fingering {
  readonly place: Place
  readonly hand: number
}

/** Frets above this one are high on the neck. */
const HIGH_FRET = 9

/** What a place on the neck costs by itself. */
export function placeTerms(table: WalkTable, fret: number, add: AddTerm): void {
  if (fret === 0) add('fretted', table.hand.openString)
  if (fret > HIGH_FRET) add('low-on-the-neck', (fret - HIGH_FRET) * table.hand.highFret)
}

/** What a note costs under its hand. */
export function gripTerms(table: WalkTable, { place, hand }: Fingering, add: AddTerm): void {
  add('hand-at-ease', stretchCost(table.hand, place, hand))
}

/** What the hand pays for going from one place to another. */
export function handTerms(
  table: WalkTable,
  neck: Neck,
  from: Fingering,
  to: Fingering,
  hurried: boolean,
  add: AddTerm,
): void {
  add('hand-keeps-still', shiftCost(table.hand, neck, from.hand, to.hand, from.place.fret, hurried))
  acrossTerms(table.hand, from.place, to.place, add)
}
