import { type Chord, degreeAt } from '../music/chord.ts'
import { type Degree, semitonesOf } from '../music/degree.ts'
import { type Pitch, type PitchClass, pitchClassOf } from '../music/pitch.ts'
import type { CompingRow } from './band-table.ts'
import { LOW_LIMITS, VOICINGS, type VoicingShape } from './voicings.ts'

/** A chord to be voiced, and the row that it is played by. */
export interface VoicedChange {
  readonly chord: Chord
  readonly row: CompingRow
}

/** The tones of a voicing, rising, sounding. */
export type Voicing = readonly Pitch[]

/** Nothing of a chord is below this, but for two-note figures of a rhythm guitar: E3. Source: common practice, no source. */
const FLOOR: Pitch = 52

/** Lowest root of a two-note figure: its sixth keeps the low limit there. */
const LOWEST_SIXTH_ROOT: Pitch = 41

/** Middle of the place where the bottom of a two-handed form lies best, D3 to D4. */
const BOTTOM_CENTRE: Pitch = 56

/** A perfect fourth: no voice leaps farther. */
const LARGEST_LEAP = 5

/** Points of a voicing and of a move, in semitones of movement. Hand-set, no source. */
const POINTS = { ownShape: 5, voiceMissing: 4, toneMissing: 6, outside: 4, root: 2, twoHands: 2, leap: 40, centre: 0.1 }

interface Candidate {
  readonly voicing: Voicing
  readonly points: number
}

function pitchClasses(degrees: readonly Degree[]): readonly PitchClass[] {
  return [...new Set(degrees.map((degree) => pitchClassOf(semitonesOf(degree))))]
}

/** The tones that name a chord: its third and seventh, and whatever is altered or added. The rest may be left to the bass. */
function namingTones(chord: Chord): readonly PitchClass[] {
  const altered = chord.tones.filter((tone) => tone.number > 8 || (tone.number === 5 && tone.alter !== 0))
  return pitchClasses([...chord.symbol.quality.guideTones, ...altered].filter((tone) => isTone(chord, tone)))
}

function isTone(chord: Chord, degree: Degree): boolean {
  const pitchClass = pitchClassOf(semitonesOf(degree))
  return chord.tones.some((tone) => pitchClassOf(semitonesOf(tone)) === pitchClass)
}

/** Whether a voicing says no more than its chord: chord tones, and tensions of its scale that do not clash. */
function fits(shape: VoicingShape, chord: Chord): boolean {
  return shape.degrees.every((degree) => {
    const { standing, avoid } = degreeAt(chord, pitchClassOf(chord.rootPc + semitonesOf(degree)))
    return standing !== 'chromatic' && !avoid
  })
}

/** The bass has the root of what is more than a triad, but under a slash it has another tone. */
function leavesRootToBass(chord: Chord): boolean {
  return chord.bassPc === chord.rootPc && chord.tones.length > 3
}

/** Shapes of the handbook table that this row may take for this chord; none where the table has nothing that says it. */
function handbookShapes({ chord, row }: VoicedChange): readonly VoicingShape[] {
  const hasRoot = (shape: VoicingShape) => shape.degrees.some((degree) => pitchClassOf(semitonesOf(degree)) === 0)
  const naming = namingTones(chord)
  const usable = VOICINGS.filter((shape) => {
    const { least, most } = row.voices
    if (shape.degrees.length < least || shape.degrees.length > most || !fits(shape, chord)) return false
    if (row.voicing === 'guide-tones') return shape.id.startsWith('shell')
    if (shape.id.startsWith('shell')) return false
    if (row.voicing === 'strummed' || row.voicing === 'octaves') return false
    if (row.voicing === 'close' || row.voicing === 'broken')
      return shape.degrees.every((degree) => isTone(chord, degree))
    // A left hand's form has the root only where it stands for a ninth that would not fit.
    return leavesRootToBass(chord) ? shape.hand === 'left hand' || !hasRoot(shape) : hasRoot(shape)
  })
  const { id } = chord.symbol.quality
  const exact = chord.symbol.exact ? usable.filter((shape) => shape.qualities.includes(id)) : []
  if (exact.length > 0) return exact
  // A chord that the handbook does not name: whatever says all of it.
  return usable.filter((shape) => {
    const tones = pitchClasses(shape.degrees)
    return naming.length > 0 && naming.every((tone) => tones.includes(tone))
  })
}

/** Tones of a chord for so many voices, the most telling first: guide tones, what is altered or added, fifth, root. */
function ownTones({ chord, row }: VoicedChange, voices: number): readonly PitchClass[] {
  const rank = pitchClasses(chord.symbol.quality.bassRank).toReversed()
  const rest = [...pitchClasses(chord.tones).filter((tone) => tone !== 0), 0]
  const naming = namingTones(chord)
  const first = row.voicing === 'guide-tones' || chord.bassPc !== chord.rootPc ? [0, ...naming] : naming
  return [...new Set([...first, ...rest, ...rank])].slice(0, voices)
}

/** A row of tones above the root, each the nearest above the one before, in every octave whose bottom is from floor to ceiling. */
function placesOf(
  classes: readonly PitchClass[],
  rootPc: PitchClass,
  floor: Pitch,
  ceiling: Pitch,
): readonly Voicing[] {
  const places: Voicing[] = []
  for (let bottom = floor; bottom <= ceiling; bottom++) {
    if (pitchClassOf(bottom) !== pitchClassOf(classes[0]! + rootPc)) continue
    const voicing = [bottom]
    for (const tone of classes.slice(1)) {
      const below = voicing.at(-1)!
      voicing.push(below + 1 + pitchClassOf(tone + rootPc - below - 1))
    }
    places.push(voicing)
  }
  return places
}

function keepsLowLimits(voicing: Voicing): boolean {
  return voicing.every((pitch, index) => {
    const below = voicing[index - 1]
    return below === undefined || below >= (LOW_LIMITS.get(pitch - below) ?? 0)
  })
}

function pointsOfPlace(voicing: Voicing, { row }: VoicedChange): number {
  const above = Math.max(0, voicing.at(-1)! - row.register.highest)
  const centre = Math.max(BOTTOM_CENTRE, row.register.lowest + 4)
  return (
    POINTS.outside * above +
    POINTS.centre * Math.abs(voicing[0]! - centre) +
    POINTS.voiceMissing * (row.voices.most - voicing.length)
  )
}

function candidatesOf(change: VoicedChange): readonly Candidate[] {
  const { chord, row } = change
  const floor = Math.max(FLOOR, row.register.lowest)
  const candidates: Candidate[] = []
  const add = (classes: readonly PitchClass[], notBelow: Pitch, points: number) => {
    for (const voicing of placesOf(classes, chord.rootPc, Math.max(floor, notBelow), row.register.highest)) {
      if (keepsLowLimits(voicing)) candidates.push({ voicing, points: points + pointsOfPlace(voicing, change) })
    }
  }

  // Handbook shapes as they are printed.
  const shapes = handbookShapes(change)
  const naming = namingTones(chord)
  for (const shape of shapes) {
    const classes = shape.degrees.map((degree) => pitchClassOf(semitonesOf(degree)))
    const missing = naming.filter((tone) => !classes.includes(tone)).length
    add(classes, shape.notBelow, POINTS.toneMissing * missing + (shape.hand === 'two hands' ? POINTS.twoHands : 0))
  }

  // The same tones, or the chord's own, in every close position: there is always a near one.
  const sets = shapes.map((shape) => pitchClasses(shape.degrees))
  if (shapes.length === 0 || row.voicing !== 'rootless') {
    const { least, most } = row.voicing === 'octaves' ? { least: 2, most: 2 } : row.voices
    for (let voices = least; voices <= most; voices++) sets.push(ownTones(change, voices))
  }
  for (const set of distinctSets(sets)) {
    const missing = naming.filter((tone) => !set.includes(tone)).length
    const root = set.includes(0) && leavesRootToBass(chord) && row.voicing !== 'guide-tones' ? POINTS.root : 0
    const doubled = row.voicing === 'strummed' || row.voicing === 'octaves' ? row.voices.most - set.length : 0
    for (const inversion of inversionsOf(set)) {
      const classes = [...inversion, ...inversion.slice(0, doubled)]
      add(classes, 0, POINTS.ownShape + root + POINTS.toneMissing * missing)
    }
  }
  const inside = candidates.filter(({ voicing }) => voicing.at(-1)! <= row.register.highest)
  return inside.length > 0 ? inside : candidates
}

function distinctSets(sets: readonly (readonly PitchClass[])[]): readonly (readonly PitchClass[])[] {
  const seen = new Map(sets.map((set) => [[...set].sort((a, b) => a - b).join(), set]))
  return [...seen.values()]
}

function inversionsOf(set: readonly PitchClass[]): readonly (readonly PitchClass[])[] {
  const rising = [...set].sort((a, b) => a - b)
  return rising.map((_, first) => [...rising.slice(first), ...rising.slice(0, first)])
}

/**
 * How far the voices move, the top counted twice, and a fine for each leap over a fourth. Where one voicing has more voices, the
 * ones that make the least of it fall silent or come in.
 *
 * Least movement with common tones held: harmony handbooks; Tymoczko 2011 for the measure.
 */
export function movement(from: Voicing, to: Voicing): number {
  if (from.length > to.length) return Math.min(...from.map((_, out) => movement(from.toSpliced(out, 1), to)))
  if (from.length < to.length) return Math.min(...to.map((_, out) => movement(from, to.toSpliced(out, 1))))
  let sum = 0
  for (const [index, pitch] of from.entries()) {
    const moved = Math.abs(to[index]! - pitch)
    sum += moved * (index === from.length - 1 ? 2 : 1) + (moved > LARGEST_LEAP ? POINTS.leap : 0)
  }
  return sum
}

/**
 * The voicings that lead from chord to chord with the least movement of all there are, one for each change: common tones stay,
 * no voice leaps more than a fourth where that can be had, the top moves least.
 *
 * Shapes come from the handbook table where it has one for the chord and its scale; else, and in between, the chord's own tones in
 * close position, third and seventh first. A chord with too few tones for its row has fewer voices.
 *
 * An exact dynamic program: one layer a change, one state a voicing.
 */
export function voiceChanges(changes: readonly VoicedChange[]): readonly Voicing[] {
  const layers = changes.map(candidatesOf)
  const back: number[][] = []
  let costs: number[] = []
  for (const [at, layer] of layers.entries()) {
    const before = layers[at - 1]
    const next: number[] = []
    const from: number[] = []
    for (const { voicing, points } of layer) {
      let best = before ? Number.POSITIVE_INFINITY : 0
      let bestFrom = 0
      for (const [index, candidate] of (before ?? []).entries()) {
        const cost = costs[index]! + movement(candidate.voicing, voicing)
        if (cost < best) [best, bestFrom] = [cost, index]
      }
      next.push(best + points)
      from.push(bestFrom)
    }
    costs = next
    back.push(from)
  }

  const chosen: Voicing[] = []
  let state = costs.indexOf(Math.min(...costs))
  for (let at = layers.length - 1; at >= 0; at--) {
    chosen.push(layers[at]![state]!.voicing)
    state = back[at]![state]!
  }
  return chosen.reverse()
}

/**
 * The two shapes of a boogie figure: root with the fifth, and root with the sixth.
 *
 * @returns  two notes each, the root from F2 to E3
 */
export function fifthAndSixth(
  chord: Chord,
  semitonesOfSixth: number,
): { readonly fifth: Voicing; readonly sixth: Voicing } {
  const root = LOWEST_SIXTH_ROOT + pitchClassOf(chord.rootPc - LOWEST_SIXTH_ROOT)
  const fifth = chord.tones.find((tone) => tone.number === 5)
  return { fifth: [root, root + (fifth ? semitonesOf(fifth) : 7)], sixth: [root, root + semitonesOfSixth] }
}
