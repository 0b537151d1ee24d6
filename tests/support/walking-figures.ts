import type { Form, FormBar } from '../../src/chart/form.ts'
import type { Line, LineNote } from '../../src/line/line.ts'
import { degreeAt } from '../../src/music/chord.ts'
import { pitchClassOf } from '../../src/music/pitch.ts'
import { TICKS_PER_QUARTER } from '../../src/music/tick.ts'
import { REAL_DEGREES, REAL_MOTIONS } from './walking-counts.ts'

// How walking lines in 4/4 behave, counted beat by beat: one pitch a beat, the one that sounds there.

/** A figure of many lines, beside the range that real lines have. */
export interface Figure {
  readonly name: string
  /** in per cent, unless the name says otherwise */
  readonly value: number
  /** inclusive; absent: only shown */
  readonly range?: readonly [from: number, to: number]
  /** how many cases it was counted over */
  readonly count: number
}

/** A line with the form it goes over. */
export interface Walked {
  readonly form: Form
  readonly line: Line
}

/**
 * Intervals between neighbouring beats in semitones, 0 to 12 and more, as shares of 61,923 pairs in 169 solos in 4/4 with swing feel
 * (the beat table of a database of jazz solos, MIT; one bass pitch a beat, machine-made).
 */
const REAL_INTERVALS = [0.187, 0.234, 0.141, 0.076, 0.065, 0.077, 0.046, 0.055, 0.026, 0.016, 0.018, 0.02, 0.016, 0.022]

/** A beat of a line. */
interface Beat {
  readonly bar: FormBar
  /** from 0 */
  readonly beat: number
  readonly note: LineNote
  readonly pitch: number
  readonly change: Form['changes'][number]
  /** a chord that was not there before begins here */
  readonly arrives: boolean
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
    return { name, value: (100 * this.yes) / this.count, count: this.count, ...(range ? { range } : {}) }
  }
}

function beatsOf({ form, line }: Walked): readonly Beat[] {
  const notes = line.notes.filter((note) => !note.slot.ghost)
  return form.bars.flatMap((bar) =>
    [0, 1, 2, 3].flatMap((beat) => {
      const tick = bar.startTick + beat * TICKS_PER_QUARTER
      const note = notes.findLast(({ slot }) => slot.startTick <= tick && tick < slot.startTick + slot.ticks)
      const change = form.changes.findLast(({ startTick }) => startTick <= tick)
      if (!note || !change?.chord) return []
      return [{ bar, beat, note, pitch: note.pitch, change, arrives: change.startTick === tick && !change.held }]
    }),
  )
}

/** Where a beat stands, as its degree is counted. */
function classOf({ arrives, beat }: Beat): string {
  return arrives ? 'arrival' : ['barStart', 'beat2', 'beat3', 'beat4'][beat]!
}

/** What kind of move an interval is. */
function motionOf(interval: number): string {
  const size = Math.abs(interval)
  if (size === 0) return 'repeat'
  return `${size <= 2 ? 'step' : size <= 4 ? 'third' : 'leap'} ${interval > 0 ? 'up' : 'down'}`
}

/** Counters of the same shape, all at 0. */
function countsLike(counts: Readonly<Record<string, readonly number[]>>): Record<string, number[]> {
  return Object.fromEntries(Object.entries(counts).map(([name, row]) => [name, row.map(() => 0)]))
}

const mean = (numbers: readonly number[]): number => numbers.reduce((sum, number) => sum + number, 0) / numbers.length

function shareOf(counts: readonly number[]): readonly number[] {
  const sum = counts.reduce((all, count) => all + count, 0)
  return counts.map((count) => count / Math.max(1, sum))
}

const isRoot = ({ change, pitch }: Beat) => pitchClassOf(pitch) === change.chord!.bassPc
const isTone = (beat: Beat) =>
  isRoot(beat) || degreeAt(beat.change.chord!, pitchClassOf(beat.pitch)).standing === 'tone'

/**
 * The rows of how real walking lines behave, over many lines in 4/4.
 *
 * Ranges: hand-made and machine-made corpora of walking bass (53,382 and 61,923 notes), the ranges as a reader of both set them.
 */
export function walkingFigures(walked: readonly Walked[]): readonly Figure[] {
  const rootOnChange = new Share()
  const toneOnChange = new Share()
  const toneOnBeat = [0, 1, 2, 3].map(() => new Share())
  const heldRoot = new Share()
  const midRoot = new Share()
  const intervals: number[] = new Array(14).fill(0)
  const turns = new Share()
  const backAfterLeap = new Share()
  const onAfterLeap = new Share()
  const longRuns = new Share()
  const upward = new Share()
  const semitoneIntoRoot = new Share()
  const fifthIntoRoot = new Share()
  const offBeats: number[] = []
  const allBeats = new Share()
  const pitches: number[] = []
  const spans: number[] = []
  const sameBars = new Share()
  const rocking = new Share()
  const degrees = countsLike(REAL_DEGREES)
  const motions = countsLike(REAL_MOTIONS)

  for (const each of walked) {
    const beats = beatsOf(each)
    const sounded = beats.map(({ pitch }) => pitch).sort((a, b) => a - b)
    pitches.push(...sounded)
    spans.push(quantile(sounded, 0.975) - quantile(sounded, 0.025))
    for (const beat of beats) {
      degrees[classOf(beat)]![(beat.pitch - beat.change.chord!.bassPc + 120) % 12]!++
      toneOnBeat[beat.beat]!.add(isTone(beat))
      if (beat.arrives) {
        rootOnChange.add(isRoot(beat))
        toneOnChange.add(isTone(beat))
      } else if (beat.beat === 0) heldRoot.add(isRoot(beat))
      else if (beat.beat === 2 && beat.change.startTick <= beat.bar.startTick) midRoot.add(isRoot(beat))
    }
    let direction = 0
    let leap = 0
    let run = 1
    for (let index = 1; index < beats.length; index++) {
      const beat = beats[index]!
      const move = beat.pitch - beats[index - 1]!.pitch
      intervals[Math.min(13, Math.abs(move))]!++
      if (index >= 2)
        motions[motionOf(beats[index - 1]!.pitch - beats[index - 2]!.pitch)]![Math.max(-13, Math.min(13, move)) + 13]!++
      if (index >= 3)
        rocking.add(
          move !== 0 && beat.pitch === beats[index - 2]!.pitch && beats[index - 1]!.pitch === beats[index - 3]!.pitch,
        )
      if (beat.arrives && isRoot(beat)) {
        semitoneIntoRoot.add(Math.abs(move) === 1)
        fifthIntoRoot.add(move === 5 || move === -7)
      }
      if (move === 0) run++
      else {
        longRuns.add(run >= 3)
        run = 1
        upward.add(move > 0)
        if (direction !== 0) turns.add(Math.sign(move) !== direction)
        if (leap !== 0) {
          backAfterLeap.add(Math.sign(move) !== Math.sign(leap))
          onAfterLeap.add(Math.sign(move) === Math.sign(leap))
        }
        direction = Math.sign(move)
        leap = Math.abs(move) >= 5 && Math.abs(move) <= 12 ? move : 0
      }
    }
    const shapes = new Map<number, string>()
    for (const bar of each.form.bars) {
      const onsets = each.line.notes.filter(({ slot }) => !slot.ghost && slot.barIndex === bar.index)
      offBeats.push(onsets.filter(({ slot }) => slot.startTick % TICKS_PER_QUARTER !== 0).length)
      const struck = new Set(onsets.map(({ slot }) => slot.startTick - bar.startTick))
      allBeats.add([0, 1, 2, 3].every((beat) => struck.has(beat * TICKS_PER_QUARTER)))
      const own = beats.filter((beat) => beat.bar === bar)
      const shape = own.map(({ pitch }) => pitch).join()
      if (shapes.has(bar.index - 1)) sameBars.add(shapes.get(bar.index - 1) === shape)
      shapes.set(bar.index, shape)
    }
  }

  pitches.sort((a, b) => a - b)
  const moves = intervals.reduce((sum, count) => sum + count, 0)
  const between = (name: string, from: number, to: number, range: Figure['range']): Figure => {
    const inside = intervals.slice(from, to + 1).reduce((sum, count) => sum + count, 0)
    return { name, value: (100 * inside) / moves, count: moves, range: range! }
  }
  const order = toneOnBeat.map(({ yes, count }) => yes / count)
  const pitchFigure = (name: string, value: number, range: Figure['range']): Figure => ({
    name,
    value,
    count: pitches.length,
    range: range!,
  })
  return [
    rootOnChange.figure('root on a change', [65, 90]),
    toneOnChange.figure('chord tone on a change', [73, 100]),
    toneOnBeat[0]!.figure('chord tone on beat 1', [75, 100]),
    toneOnBeat[1]!.figure('chord tone on beat 2'),
    toneOnBeat[2]!.figure('chord tone on beat 3', [60, 100]),
    toneOnBeat[3]!.figure('chord tone on beat 4'),
    {
      name: 'chord tones: beat 1 > 3 > 2 >= 4 (1: so)',
      value: order[0]! > order[2]! && order[2]! > order[1]! && order[1]! >= order[3]! ? 1 : 0,
      range: [1, 1],
      count: moves,
    },
    heldRoot.figure("root at a held chord's bar (real 22)"),
    midRoot.figure('root on beat 3, chord held (real 15)'),
    between('same pitch', 0, 0, [5, 20]),
    between('semitone', 1, 1, [15, 30]),
    between('whole tone', 2, 2, [10, 30]),
    between('third', 3, 4, [10, 25]),
    between('fourth to fifth', 5, 7, [10, 25]),
    between('sixth, seventh', 8, 11, [0, 8]),
    between('octave', 12, 12, [0, 4]),
    between('more than an octave', 13, 13, [0, 1]),
    turns.figure('turns', [45, 67]),
    backAfterLeap.figure('back after a leap', [60, 100]),
    onAfterLeap.figure('on after a leap', [0, 25]),
    longRuns.figure('runs of three or more of one pitch', [0, 4]),
    upward.figure('upward moves', [45, 55]),
    semitoneIntoRoot.figure('into a root by semitone', [35, 60]),
    fifthIntoRoot.figure('into a root from its fifth', [10, 30]),
    pitchFigure('median pitch (MIDI)', quantile(pitches, 0.5), [38, 45]),
    pitchFigure('5 % of pitches lie below (MIDI)', quantile(pitches, 0.05), [34, 49]),
    pitchFigure('95 % of pitches lie below (MIDI)', quantile(pitches, 0.95), [34, 49]),
    {
      name: 'central span of a chorus (semitones, median)',
      value: quantile(
        spans.sort((a, b) => a - b),
        0.5,
      ),
      range: [12, 19],
      count: spans.length,
    },
    {
      name: 'off-beat notes a bar',
      value: offBeats.reduce((a, b) => a + b, 0) / offBeats.length,
      range: [0.3, 1.3],
      count: offBeats.length,
    },
    allBeats.figure('bars with all four beats struck', [50, 100]),
    {
      name: 'Jensen-Shannon distance of intervals',
      value: jensenShannon(
        intervals.map((n) => n / moves),
        REAL_INTERVALS,
      ),
      count: moves,
    },
    {
      name: 'Jensen-Shannon distance of degrees by beat',
      value: mean(
        Object.keys(degrees).map((name) => jensenShannon(shareOf(degrees[name]!), shareOf(REAL_DEGREES[name]!))),
      ),
      count: moves,
    },
    {
      name: 'Jensen-Shannon distance of motions after a motion',
      value: jensenShannon(shareOf(Object.values(motions).flat()), shareOf(Object.values(REAL_MOTIONS).flat())),
      count: moves,
    },
    rocking.figure('a b a b, two notes rocked'),
    sameBars.figure('a bar like the one before'),
  ]
}

/**
 * What a reader marks as wrong in walking lines, counted.
 *
 * Ranges: common practice, no source.
 */
export function walkingFaults(walked: readonly Walked[]): readonly Figure[] {
  const rootHeard = new Share()
  const structuralRoot = new Share()
  const sameShape = new Share()
  const doubled = new Share()
  const foreignThird = new Share()
  const givenAway = new Share()
  const sameDownbeat = new Share()
  const thrice = new Share()
  const heldOffRoot = new Share()
  const intoScale = new Share()
  const doubledOne = new Share()
  const lowest: number[] = []
  const skips: number[] = []
  const ghosts: number[] = []

  for (const each of walked) {
    const { form, line } = each
    const beats = beatsOf(each)
    lowest.push(Math.min(...beats.map(({ pitch }) => pitch)))
    for (const bar of form.bars) {
      const inBar = line.notes.filter(({ slot }) => slot.barIndex === bar.index)
      ghosts.push(inBar.filter(({ slot }) => slot.ghost).length)
      skips.push(inBar.filter(({ slot }) => !slot.ghost && slot.startTick % TICKS_PER_QUARTER !== 0).length)
    }
    const spans = spansOf(beats)
    const shapes: { readonly bar: number; readonly kind: string; readonly shape: string }[] = []
    for (const [index, span] of spans.entries()) {
      const [first] = span
      const chord = first!.change.chord!
      const heard = span.some(isRoot)
      if (span.length >= 3) rootHeard.add(heard)
      const { bar } = first!
      const isStructural = bar.index % 8 === 0 || bar.index === form.bars.length - 1
      if (isStructural && first!.beat === 0 && /^(maj7|6)$/.test(suffixOf(first!))) structuralRoot.add(heard)
      const next = spans[index + 1]?.[0]
      const falls = next && (next.change.chord!.rootPc - chord.rootPc + 12) % 12 === 5
      if (falls && span.length === 4 && first!.beat === 0) {
        const kind = suffixOf(first!)
        const shape = span.map(({ pitch }) => (pitch - chord.rootPc + 120) % 12).join()
        sameShape.add(shapes.some((one) => bar.index - one.bar < 16 && one.kind === kind && one.shape === shape))
        shapes.push({ bar: bar.index, kind, shape })
      }
      if (next) {
        const target = next.pitch
        givenAway.add(span.slice(-2).some(({ pitch }) => pitch === target) && span.length > 2)
      }
    }
    for (let index = 0; index + 2 < beats.length; index++) {
      const [a, b, c] = [beats[index]!, beats[index + 1]!, beats[index + 2]!]
      if (Math.abs(c.pitch - a.pitch) === 4 && (b.pitch - a.pitch) * (c.pitch - b.pitch) > 0 && a.change === b.change)
        foreignThird.add(
          Math.abs(b.pitch - a.pitch) !== 2 &&
            degreeAt(a.change.chord!, pitchClassOf(b.pitch)).standing === 'chromatic',
        )
    }
    for (const bar of form.bars) {
      const own = beats.filter((beat) => beat.bar === bar)
      if (own.length === 4) doubled.add(own[0]!.pitch === own[1]!.pitch && own[2]!.pitch === own[3]!.pitch)
    }
    const sounded = line.notes.filter(({ slot }) => !slot.ghost)
    for (let index = 2; index < sounded.length; index++)
      thrice.add(new Set(sounded.slice(index - 2, index + 1).map(({ pitch }) => pitch)).size === 1)
    for (let index = 1; index + 1 < sounded.length; index++) {
      const [a, b] = [sounded[index]!, sounded[index + 1]!]
      const chordOf = (note: LineNote) => form.changes[note.slot.changeIndex]!.chord!
      const standingOf = (note: LineNote) => degreeAt(chordOf(note), pitchClassOf(note.pitch)).standing
      if (chordOf(a) === chordOf(b) && standingOf(a) === 'chromatic' && Math.abs(a.pitch - b.pitch) === 1)
        intoScale.add(standingOf(b) === 'scale')
    }
    for (const beat of beats) {
      const before = beats.find((one) => one.bar.index === beat.bar.index - 1 && one.beat === 0)
      if (beat.beat === 0 && before && !beat.arrives && beat.change.held)
        heldOffRoot.add(!isRoot(beat) && !isRoot(before))
      const second = beats.find((one) => one.bar === beat.bar && one.beat === 1)
      if (beat.beat === 0 && second) doubledOne.add(second.note !== beat.note && second.pitch === beat.pitch)
    }
    const downbeats = beats.filter(({ beat }) => beat === 0)
    for (let index = 2; index < downbeats.length; index++) {
      const three = downbeats.slice(index - 2, index + 1)
      sameDownbeat.add(new Set(three.map(({ pitch }) => pitch)).size === 1)
    }
  }
  return [
    rootHeard.figure('root heard in spans of three beats and more', [95, 100]),
    structuralRoot.figure('root heard at tonic arrivals of section starts, end', [100, 100]),
    sameShape.figure('same degree shape over II or V within 16 bars', [0, 25]),
    doubled.figure('bars with both halves doubled', [0, 0]),
    foreignThird.figure('thirds filled by a foreign note'),
    givenAway.figure('arrivals given away in the two beats before'),
    sameDownbeat.figure('the same downbeat a third time'),
    thrice.figure('one pitch three times running, skips counted', [0, 0]),
    heldOffRoot.figure('a held bar off the root after a bar off the root'),
    intoScale.figure('chromatic notes that pass into a mere scale note'),
    doubledOne.figure('beat 1 struck again on 2'),
    {
      name: 'lowest note of a chorus (MIDI, median)',
      value: quantile(
        lowest.sort((a, b) => a - b),
        0.5,
      ),
      count: lowest.length,
    },
    { name: 'skips a bar', value: skips.reduce((a, b) => a + b, 0) / skips.length, count: skips.length },
    { name: 'dead notes a bar', value: ghosts.reduce((a, b) => a + b, 0) / ghosts.length, count: ghosts.length },
  ]
}

/** Beats of one chord each, until another arrives. */
function spansOf(beats: readonly Beat[]): readonly (readonly Beat[])[] {
  const spans: Beat[][] = []
  for (const beat of beats) {
    if (beat.arrives || spans.length === 0) spans.push([beat])
    else spans.at(-1)!.push(beat)
  }
  return spans
}

const suffixOf = ({ change }: Beat): string => change.chord!.symbol.text.replace(/^[A-G][#b]?/, '')

/** The value below which a share of sorted numbers lies. */
function quantile(sorted: readonly number[], share: number): number {
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!
}

/** Jensen-Shannon distance of two distributions, the root of the divergence in bits. */
function jensenShannon(a: readonly number[], b: readonly number[]): number {
  const toMean = (of: readonly number[]) =>
    of.reduce((sum, p, i) => (p > 0 ? sum + p * Math.log2(p / ((a[i]! + b[i]!) / 2)) : sum), 0)
  return Math.sqrt((toMean(a) + toMean(b)) / 2)
}
