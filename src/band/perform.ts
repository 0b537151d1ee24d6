import type { ArrangedBar, Arrangement, WrittenNote, WrittenPart } from '../music/arrangement.ts'
import { barTicks, beatsOf, countTicks, formatMetre, isCompound, tempoBeatTicks } from '../music/metre.ts'
import type { MetreChange, Performance, PlayedNote, PlayedPart } from '../music/performance.ts'
import { type TempoMap, ticksOfMs } from '../music/tempo-map.ts'
import { TICKS_PER_QUARTER, type Tick } from '../music/tick.ts'
import { STRAIGHT, type Swing, swungTick } from '../rhythm/swing.ts'
import type { Touch } from './touch.ts'

/** How a feel is played: its swing for all, its touch for the bass. */
export interface Manner {
  readonly swing: Swing
  readonly touch: Touch
}

/** What is asked of a performance beside the feel. */
export interface Playing {
  /** on the grid: nothing swings, nothing is placed */
  readonly straight: boolean
  /** the bass stands before or behind the drums as its touch says */
  readonly placed: boolean
  /**
   * What is heard is one time round of a loop: where a part ends on a note that is tied over the last bar line into the next time
   * round, it does not strike the downbeat which that note holds.
   */
  readonly loopTrue: boolean
}

/** For one who listens: swung and placed, from the first bar to the last. */
export const AS_PLAYED: Playing = { straight: false, placed: true, loopTrue: false }

/** For a sequencer, where the first bar follows the last: swung but not placed. */
export const AS_LOOP: Playing = { straight: false, placed: false, loopTrue: true }

/** Silence before the next note of a string. Source: our design choice; below it repeated notes run together. */
const GAP_MS = 10

/** A dead note is this short, or this share of its slot where that is shorter, and never louder. Source: our design choice. */
const GHOST = { ms: 60, share: 0.4, loudest: 34 }

/** A short note sounds at most half of its slot. */
const SHORT_SHARE = 0.5

/** Beats, from 0, on which the hands clap. Elsewhere they are beats like others. Source: common practice, no source. */
const BACK_BEATS: Readonly<Record<string, readonly number[]>> = { '4/4': [1, 3], '12/8': [1, 3], '6/8': [1] }

type BeatPlace = keyof Touch['velocities']

/** The bars with the ticks that are counted in them. */
class Timeline {
  readonly #bars: readonly ArrangedBar[]
  readonly #tempo: TempoMap
  #at = 0

  constructor(bars: readonly ArrangedBar[], tempo: TempoMap) {
    this.#bars = bars
    this.#tempo = tempo
  }

  /** The bar of a tick, the last bar for what lies behind it. Queries mostly rise, so it looks around where it stood. */
  barAt(tick: Tick): ArrangedBar {
    while (this.#at > 0 && this.#bars[this.#at]!.startTick > tick) this.#at--
    while (this.#at < this.#bars.length - 1 && this.#bars[this.#at + 1]!.startTick <= tick) this.#at++
    return this.#bars[this.#at]!
  }

  microsAt(tick: Tick): number {
    let micros = this.#tempo[0]!.microsPerQuarter
    for (const change of this.#tempo) if (change.tick <= tick) micros = change.microsPerQuarter
    return micros
  }

  /** Ticks from the bar line; a pick-up is the end of a bar. */
  inBar(bar: ArrangedBar, tick: Tick): Tick {
    return tick - bar.startTick + Math.max(0, barTicks(bar.metre) - bar.ticks)
  }

  /** Where a written tick is played. In compound metres nothing swings. */
  played(tick: Tick, swing: Swing): number {
    const bar = this.barAt(tick)
    if (isCompound(bar.metre)) return tick
    const inBar = this.inBar(bar, tick)
    return tick - inBar + swungTick(inBar, swing, 60_000_000 / this.microsAt(tick))
  }

  placeOf(tick: Tick): BeatPlace {
    const bar = this.barAt(tick)
    const inBar = this.inBar(bar, tick)
    if (inBar === 0) return 'first'
    let start = 0
    for (const [beat, ticks] of beatsOf(bar.metre).entries()) {
      if (start === inBar) return BACK_BEATS[formatMetre(bar.metre)]?.includes(beat) ? 'backBeat' : 'beat'
      start += ticks
    }
    return inBar % (TICKS_PER_QUARTER / 2) === 0 ? 'offBeat' : 'finer'
  }
}

function velocityOf(note: WrittenNote, place: BeatPlace, touch: Touch): number {
  const plain =
    (note.ghost ? touch.ghostVelocity : (note.velocity ?? touch.velocities[place])) +
    (note.accent ? touch.accentAdd : 0)
  return Math.max(1, Math.min(note.ghost ? GHOST.loudest : 127, Math.round(plain)))
}

/** Notes of a part that are struck: without the downbeat that a note over the end of the loop holds. */
function struckNotes(part: WrittenPart, end: Tick, loopTrue: boolean): readonly WrittenNote[] {
  const pushes = part.notes.some((note) => note.startTick + note.ticks > end)
  return loopTrue && pushes ? part.notes.filter((note) => note.startTick > 0) : part.notes
}

function playedPart(part: WrittenPart, end: Tick, timeline: Timeline, manner: Manner, playing: Playing): PlayedPart {
  const { touch } = manner
  const swing = playing.straight ? STRAIGHT : manner.swing
  const placementMs = part.name === 'bass' && playing.placed && !playing.straight ? touch.placementMs : 0
  const written = struckNotes(part, end, playing.loopTrue)

  // Onset and length: swing both ends of the slot, take the share that sounds, place the whole.
  const drafts = written.map((note) => {
    const micros = timeline.microsAt(note.startTick)
    const place = timeline.placeOf(note.startTick)
    const onBeat = place === 'first' || place === 'beat' || place === 'backBeat'
    const from = timeline.played(note.startTick, swing)
    const to = timeline.played(note.startTick + note.ticks, swing)
    const slot = to - from
    const share = note.share ?? (onBeat ? touch.lengthOnBeat : touch.lengthOffBeat)
    const length = note.ghost
      ? Math.floor(Math.min(ticksOfMs(GHOST.ms, micros), GHOST.share * slot))
      : Math.round(
          note.tied || note.length === 'long'
            ? slot
            : slot * (note.length === 'short' ? Math.min(SHORT_SHARE, share) : share),
        )
    const placement = ticksOfMs(placementMs, micros)
    const startTick = Math.min(end - 1, Math.max(0, Math.round(from + placement)))
    // Rounding onset and length apart may reach a tick too far.
    const endTick = Math.min(startTick + length, Math.round(to + placement), end)
    return { note, startTick, endTick, gap: ticksOfMs(GAP_MS, micros), velocity: velocityOf(note, place, touch) }
  })

  // Gap: backwards in order of sound, so that the next onset on the same string, or of the same pitch, is known.
  drafts.sort((a, b) => a.startTick - b.startTick)
  const nextOnString = new Map<number, Tick>()
  const nextOfPitch = new Map<number, Tick>()
  const notes: PlayedNote[] = []
  for (const { note, startTick, endTick, gap, velocity } of drafts.toReversed()) {
    const { pitch, string } = note
    const again = nextOfPitch.get(pitch) ?? Number.POSITIVE_INFINITY
    const plucked = string === undefined ? undefined : nextOnString.get(string)
    const latest = Math.floor(Math.min(again, plucked ?? Number.POSITIVE_INFINITY) - gap)
    notes.push({ startTick, endTick: Math.max(startTick + 1, Math.min(endTick, latest)), pitch, velocity })
    nextOfPitch.set(pitch, startTick)
    if (string !== undefined) nextOnString.set(string, startTick)
  }
  notes.reverse()
  return { name: part.name, program: part.program, notes }
}

/** Metres where they change. A pick-up stands in a metre of its own length, so that bar lines fall where they are. */
function metreChanges(bars: readonly ArrangedBar[]): readonly MetreChange[] {
  const changes: MetreChange[] = []
  for (const bar of bars) {
    const { upper, lower } = shortened(bar)
    const last = changes.at(-1)
    if (last?.upper === upper && last.lower === lower) continue
    changes.push({ tick: bar.startTick, upper, lower, beatTicks: tempoBeatTicks(bar.metre) })
  }
  return changes
}

function shortened(bar: ArrangedBar): { readonly upper: number; readonly lower: number } {
  let lower = bar.metre.lower
  let count = countTicks(bar.metre)
  while (bar.ticks % count !== 0 && count % 2 === 0) {
    lower *= 2
    count /= 2
  }
  return { upper: Math.floor(bar.ticks / count), lower }
}

/**
 * An arrangement as it is played: swung, cut to the length of the touch, placed in milliseconds, with the velocity of each place
 * in the bar; in that order, without chance.
 *
 * Nothing starts before tick 0, nothing sounds after the last bar line, notes of one string and equal pitches never overlap.
 *
 * @throws RangeError  if there are no bars or no tempo at tick 0
 */
export function perform(arrangement: Arrangement, manner: Manner, playing: Playing): Performance {
  if (arrangement.bars.length === 0) throw new RangeError('An arrangement has at least one bar')
  if (arrangement.tempo[0]?.tick !== 0) throw new RangeError('A tempo map begins with a tempo at tick 0')
  const timeline = new Timeline(arrangement.bars, arrangement.tempo)
  return {
    title: arrangement.title,
    ticks: arrangement.ticks,
    tempo: arrangement.tempo,
    metres: metreChanges(arrangement.bars),
    key: arrangement.key,
    sections: arrangement.sections,
    chordNames: arrangement.chordNames,
    parts: arrangement.parts.map((part) => playedPart(part, arrangement.ticks, timeline, manner, playing)),
  }
}
