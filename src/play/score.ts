import type { PartName } from '../music/arrangement.ts'
import type { Performance, PlayedNote } from '../music/performance.ts'
import type { TempoMap } from '../music/tempo-map.ts'
import { TICKS_PER_QUARTER, TICKS_PER_WHOLE, type Tick } from '../music/tick.ts'
import type { PartSound } from './note-output.ts'

/**
 * Time as a tempo map writes it: ticks × microseconds of a quarter. Whole for whole ticks, so that sums of it are exact.
 */
export type TickMicros = number

/** A note and who plays it. */
export interface ScoreNote extends PlayedNote {
  readonly part: PartName
}

/** A performance laid out for playing. */
export interface Score {
  readonly performance: Performance
  /** notes of all parts in order of time */
  readonly notes: readonly ScoreNote[]
  /** where they start */
  readonly starts: readonly Tick[]
}

/** What goes round: the first time, and every time after that. Both have the same bars and tempos. */
export interface Music {
  readonly first: Performance
  readonly again: Performance
}

/** Music laid out for playing. */
export interface ScoredMusic {
  readonly music: Music
  readonly first: Score
  readonly again: Score
  readonly ticks: Tick
  readonly tempo: TempoMap
  /** where bars begin, in order, from tick 0 */
  readonly bars: readonly Tick[]
  /** where beats begin; every bar line is one */
  readonly beats: readonly Tick[]
  /** ticks of the beat that a tempo counts, at the beginning */
  readonly beatTicks: Tick
  readonly sounds: readonly PartSound[]
}

/** Where bars begin: counted in each metre from where it begins. */
export function barLinesOf(performance: Performance): readonly Tick[] {
  return linesOf(performance, ({ upper, lower }) => (upper * TICKS_PER_WHOLE) / lower)
}

/** Lines a step apart from each change of metre on. */
function linesOf(performance: Performance, stepOf: (metre: Performance['metres'][number]) => Tick): readonly Tick[] {
  const lines: Tick[] = []
  for (const [index, metre] of performance.metres.entries()) {
    const to = performance.metres[index + 1]?.tick ?? performance.ticks
    for (let tick = metre.tick; tick < to; tick += stepOf(metre)) lines.push(tick)
  }
  return lines
}

function beatLinesOf(performance: Performance, bars: readonly Tick[]): readonly Tick[] {
  let metre = 0
  return bars.flatMap((from, index) => {
    while ((performance.metres[metre + 1]?.tick ?? Number.POSITIVE_INFINITY) <= from) metre++
    const beat = performance.metres[metre]!.beatTicks
    const to = bars[index + 1] ?? performance.ticks
    return Array.from({ length: Math.ceil((to - from) / beat) }, (_, count) => from + count * beat)
  })
}

function scoreOf(performance: Performance): Score {
  const notes = performance.parts.flatMap(({ name, notes }) => notes.map((note) => ({ ...note, part: name })))
  notes.sort((a, b) => a.startTick - b.startTick)
  return { performance, notes, starts: notes.map((note) => note.startTick) }
}

/**
 * Music laid out for playing.
 *
 * @throws RangeError  if it has no bars, no tempo at tick 0, or is of another length when it comes again
 */
export function scoreMusic(music: Music): ScoredMusic {
  const { first, again } = music
  if (!(first.ticks > 0 && first.metres[0]?.tick === 0)) throw new RangeError('Music has at least one bar')
  if (first.tempo[0]?.tick !== 0) throw new RangeError('A tempo map begins with a tempo at tick 0')
  if (again.ticks !== first.ticks) {
    throw new RangeError(
      `Music of ${first.ticks} ticks lasts ${again.ticks} when it comes again: both are the same bars`,
    )
  }
  const bars = barLinesOf(first)
  return {
    music,
    first: scoreOf(first),
    again: scoreOf(again),
    ticks: first.ticks,
    tempo: first.tempo,
    bars,
    beats: beatLinesOf(first, bars),
    beatTicks: first.metres[0].beatTicks,
    sounds: first.parts.map(({ name, program }) => ({ part: name, program })),
  }
}

/**
 * Time from the start to a tick.
 *
 * @example
 * tickMicrosAt([{ tick: 0, microsPerQuarter: 500000 }, { tick: 480, microsPerQuarter: 400000 }], 481) // => 240400000
 */
export function tickMicrosAt(tempo: TempoMap, tick: Tick): TickMicros {
  let time = 0
  for (const [index, change] of tempo.entries()) {
    if (index > 0 && change.tick >= tick) break
    time += (Math.min(tick, tempo[index + 1]?.tick ?? tick) - change.tick) * change.microsPerQuarter
  }
  return time
}

/**
 * The tick at a time from the start, fractions included.
 *
 * @example
 * tickAt([{ tick: 0, microsPerQuarter: 500000 }, { tick: 480, microsPerQuarter: 400000 }], 240400000) // => 481
 */
export function tickAt(tempo: TempoMap, time: TickMicros): number {
  let left = time
  for (const [index, { tick, microsPerQuarter }] of tempo.entries()) {
    const ticks = left / microsPerQuarter
    const to = tempo[index + 1]?.tick
    if (to === undefined || tick + ticks < to) return tick + ticks
    left -= (to - tick) * microsPerQuarter
  }
  throw new RangeError('A tempo map begins with a tempo at tick 0')
}

/** How fast: seconds are ticks × microseconds, times `times`, over `over`. Two numbers, so that they are divided but once. */
export interface Pace {
  readonly times: number
  readonly over: number
}

/**
 * The pace of music: as it is written, or so that it begins at `bpm` beats a minute and its other tempos stay in proportion.
 */
export function paceOf(music: ScoredMusic, bpm: number | undefined): Pace {
  return bpm === undefined
    ? { times: 1, over: TICKS_PER_QUARTER * 1e6 }
    : { times: 60, over: bpm * music.beatTicks * music.tempo[0]!.microsPerQuarter }
}
