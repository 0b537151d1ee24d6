import type { Form } from '../../src/chart/form.ts'
import type { GrooveLine, GrooveNote } from '../../src/line/groove/groove.ts'
import { layScheme } from '../../src/line/groove/scheme.ts'
import type { GrooveTable } from '../../src/line/groove/table.ts'
import { type Chord, degreeAt } from '../../src/music/chord.ts'
import { pitchClassOf } from '../../src/music/pitch.ts'
import { breachesOf } from './never.ts'
import type { Figure } from './walking-figures.ts'

// How grooves behave, counted from their notes.

/** A groove with the form it goes over and the table it was made with. */
export interface Grooved {
  readonly feel: string
  readonly form: Form
  readonly table: GrooveTable
  readonly line: GrooveLine
}

/** A tally of yes and no. */
class Share {
  yes = 0
  count = 0

  add(isSo: boolean): void {
    this.count++
    if (isSo) this.yes++
  }

  figure(name: string, range?: Figure['range']): Figure {
    const value = this.count === 0 ? (range?.[1] ?? 0) : (100 * this.yes) / this.count
    return { name, value, count: this.count, ...(range ? { range } : {}) }
  }
}

/** The notes of a bar. */
function notesIn({ line }: Grooved, bar: number): readonly GrooveNote[] {
  return line.notes.filter(({ slot }) => slot.barIndex === bar)
}

/** A bar as it sounds: onsets from its bar line with their pitches. */
function soundOf(each: Grooved, bar: number): string {
  const start = each.form.bars[bar]!.startTick
  return notesIn(each, bar)
    .map(({ slot, pitch }) => `${slot.startTick - start}=${pitch}`)
    .join()
}

/** The chord a note belongs to; a pushed one to the chord that it anticipates. */
function chordOf({ form }: Grooved, { slot }: GrooveNote): Chord {
  const bar = form.bars[slot.barIndex]!
  const at = slot.pushed ? (bar.startTick + bar.ticks) % form.ticks : slot.startTick
  return form.changes.findLast(({ startTick }) => startTick <= at)!.chord!
}

const mean = (numbers: readonly number[]): number => numbers.reduce((a, b) => a + b, 0) / Math.max(1, numbers.length)

/** By phrase of eight bars, how many of its bars lead out by tokens of the next chord or an approach; fills and walks do anyway. */
function leadsOf(each: Grooved): readonly number[] {
  const { bars } = each.form
  const led = bars.map((bar) =>
    notesIn(each, bar.index).some(
      ({ source, target }) => source === 'lead' || (source === 'pattern' && target !== undefined),
    ),
  )
  const phrases: number[] = []
  for (let from = 0; from < bars.length; from += 8) phrases.push(led.slice(from, from + 8).filter(Boolean).length)
  return phrases
}

/** Notes of one chord each, until another arrives. */
function spansOf(each: Grooved): readonly (readonly GrooveNote[])[] {
  const spans: GrooveNote[][] = []
  let before: Chord | undefined
  for (const note of each.line.notes) {
    const chord = chordOf(each, note)
    const isSame = before && before.rootPc === chord.rootPc && before.symbol.text === chord.symbol.text
    if (isSame) spans.at(-1)!.push(note)
    else spans.push([note])
    before = chord
  }
  return spans
}

/** A note that is the bass of its chord, low or high. */
const isRoot = (each: Grooved, note: GrooveNote): boolean => pitchClassOf(note.pitch) === chordOf(each, note).bassPc

/**
 * What a reader marks as wrong in grooves, counted.
 *
 * Ranges: what a reader of some forty charts asked for; common practice, no source.
 */
export function grooveFaults(grooved: readonly Grooved[]): readonly Figure[] {
  let breaches = 0
  let bars = 0
  const equal = new Share()
  const ownOctave = new Share()
  const leaps = new Share()
  const rootSounded = new Share()
  const sectionRoot = new Share()
  const givenAway = new Share()
  const inMinor = new Share()
  const sameFigure = new Share()
  const lowest: number[] = []
  for (const each of grooved) {
    const { form, table, line } = each
    bars += form.bars.length
    breaches += breachesOf(table.never, form, line).length
    lowest.push(Math.min(...line.notes.map(({ pitch }) => pitch)))

    // Where the scheme asks for something else, an answer or a fill, something else is played.
    const letters = layScheme(table.schemes[line.plan.scheme]!.letters, form.bars).map(({ letter }) => letter)
    for (const bar of form.bars.slice(1)) {
      const [before, own] = [letters[bar.index - 1]!, letters[bar.index]!]
      if (before !== own && [before, own].every((letter) => letter !== 'w'))
        equal.add(soundOf(each, bar.index) === soundOf(each, bar.index - 1))
    }

    const frets = new Map<string, string>()
    for (const bar of form.bars) {
      const sound = soundOf(each, bar.index)
      const places = notesIn(each, bar.index)
        .map(({ string, fret }) => `${string}:${fret}`)
        .join()
      if (sound !== '') {
        if (frets.has(sound)) sameFigure.add(frets.get(sound) === places)
        else frets.set(sound, places)
      }
    }

    for (const [index, note] of line.notes.entries()) {
      const next = line.notes[index + 1]
      if (!next) continue
      const distance = next.pitch - note.pitch
      // Octave figures leap from their high root to the next low one.
      const inOctaves = isRoot(each, note) && isRoot(each, next)
      if (next.slot.barIndex === note.slot.barIndex && !inOctaves) leaps.add(Math.abs(distance) > 12)
      const chord = chordOf(each, next)
      const arrives = chord !== chordOf(each, note) && chord.bassPc !== chordOf(each, note).bassPc
      const isStep = [1, 2, 10, 11].includes(pitchClassOf(distance))
      if (arrives && isRoot(each, next) && !isRoot(each, note) && isStep && table.leadDrop > 0)
        ownOctave.add(Math.abs(distance) <= 2)
      if (arrives && degreeAt(chord, pitchClassOf(chord.rootPc + 3)).standing === 'tone' && isStep)
        inMinor.add(pitchClassOf(note.pitch - chord.rootPc) !== 9)
    }

    const spans = spansOf(each)
    for (const [index, span] of spans.entries()) {
      if (span.length >= 3) rootSounded.add(span.some((note) => isRoot(each, note)))
      const next = spans[index + 1]?.[0]
      if (next && span.length >= 3) givenAway.add(span.at(-1)!.pitch === next.pitch)
    }
    for (const bar of form.bars) {
      const { chord } = form.changes.findLast(({ startTick }) => startTick <= bar.startTick)!
      if (bar.section === undefined || !chord) continue
      const first = line.notes.find(({ slot }) => slot.startTick + slot.ticks > bar.startTick)
      sectionRoot.add(first !== undefined && pitchClassOf(first.pitch) === chord.bassPc)
    }
  }
  const leads = grooved.flatMap(leadsOf)
  return [
    { name: 'bars that do what must never happen', value: breaches, range: [0, 0], count: bars },
    equal.figure('a bar like the one before where the scheme asks for another', [0, 0]),
    ownOctave.figure('step leads in the octave of their target', [98, 100]),
    leaps.figure('leaps over an octave inside a bar, roots in octaves apart', [0, 0]),
    rootSounded.figure('root sounded in spans of three notes and more', [95, 100]),
    sectionRoot.figure('root at section starts', [100, 100]),
    givenAway.figure('arrivals given away by the note before', [0, 5]),
    inMinor.figure('steps into minor that are not the raised sixth', [98, 100]),
    sameFigure.figure('the same bar at the same frets', [95, 100]),
    { name: 'bars led out of in a phrase of eight, at most', value: Math.max(...leads), count: leads.length },
    { name: 'lowest note of a chorus (MIDI)', value: mean(lowest), count: lowest.length },
  ]
}

/** A row of how the lines of a feel are made. */
export interface GrooveRow {
  readonly feel: string
  readonly notesABar: number
  readonly deadABar: number
  /** bars that are made of the scheme's first bar, in per cent */
  readonly asFirst: number
  /** intervals inside bars and across: same, step, third, fourth to fifth, octave, wider, in per cent */
  readonly intervals: readonly number[]
  /** root, octave of it, fifth, third, sixth, seventh, approach and lead, in per cent */
  readonly degrees: readonly number[]
  /** arrivals reached by a step, in per cent */
  readonly stepIn: number
  /** bars of a phrase of eight that lead into the next chord, on average and at most */
  readonly leads: readonly [mean: number, most: number]
  /** hand positions changed, a bar */
  readonly moves: number
  readonly compass: readonly [lowest: number, highest: number]
  /** different bars as they are played, of all */
  readonly different: readonly [kinds: number, bars: number]
}

/** How the lines of one feel are made. */
export function grooveRow(grooved: readonly Grooved[]): GrooveRow {
  const intervals = new Array<number>(6).fill(0)
  const degrees = new Array<number>(7).fill(0)
  const stepIn = new Share()
  const asFirst = new Share()
  let [notes, dead, bars, moves, kinds] = [0, 0, 0, 0, 0]
  let [lowest, highest] = [127, 0]
  for (const each of grooved) {
    const { form, line } = each
    bars += form.bars.length
    notes += line.notes.length
    dead += line.ghosts.length
    kinds += new Set(form.bars.map((bar) => shapeOf(each, bar.index))).size
    for (const bar of form.bars) {
      const first = line.plan.motif[0]?.pattern.id
      asFirst.add(line.plan.figures[bar.index] === undefined && line.plan.patterns[bar.index] === first)
    }
    const roots = new Map<number, number>()
    for (const [index, note] of line.notes.entries()) {
      lowest = Math.min(lowest, note.pitch)
      highest = Math.max(highest, note.pitch)
      const chord = chordOf(each, note)
      const above = pitchClassOf(note.pitch - chord.bassPc)
      if (note.target !== undefined || note.source === 'lead') degrees[6]!++
      else if (above === 0) {
        const own = Math.min(roots.get(chord.bassPc) ?? 127, note.pitch)
        roots.set(chord.bassPc, own)
        degrees[note.pitch === own ? 0 : 1]!++
      } else {
        const { number } = degreeAt(chord, pitchClassOf(note.pitch)).degree
        const kind = [undefined, undefined, undefined, 3, undefined, 2, 4, 5][((number - 1) % 7) + 1]
        if (kind !== undefined) degrees[kind]!++
      }
      const next = line.notes[index + 1]
      if (!next) continue
      const size = Math.abs(next.pitch - note.pitch)
      intervals[size === 0 ? 0 : size <= 2 ? 1 : size <= 4 ? 2 : size <= 7 ? 3 : size === 12 ? 4 : 5]!++
      if (chordOf(each, next).bassPc !== chord.bassPc) stepIn.add(size >= 1 && size <= 2)
      if (next.hand !== note.hand) moves++
    }
  }
  const share = (counts: readonly number[], of: number) => counts.map((count) => Math.round((100 * count) / of))
  return {
    feel: grooved[0]!.feel,
    notesABar: notes / bars,
    deadABar: dead / bars,
    asFirst: (100 * asFirst.yes) / asFirst.count,
    intervals: share(
      intervals,
      intervals.reduce((a, b) => a + b, 0),
    ),
    degrees: share(degrees, notes),
    stepIn: stepIn.count === 0 ? 0 : (100 * stepIn.yes) / stepIn.count,
    leads: [mean(grooved.flatMap(leadsOf)), Math.max(...grooved.flatMap(leadsOf))],
    moves: moves / bars,
    compass: [lowest, highest],
    different: [kinds, bars],
  }
}

/** A bar as a shape: onsets with their distances from its chord's bass. */
function shapeOf(each: Grooved, bar: number): string {
  const start = each.form.bars[bar]!.startTick
  return notesIn(each, bar)
    .map((note) => `${note.slot.startTick - start}=${pitchClassOf(note.pitch - chordOf(each, note).bassPc)}`)
    .join()
}
