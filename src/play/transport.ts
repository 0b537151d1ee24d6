import type { PartName } from '../music/arrangement.ts'
import type { Tick } from '../music/tick.ts'
import type { Clock } from './clock.ts'
import type { ClockSeconds, NoteOutput, OutputNote, PartSound } from './note-output.ts'
import {
  type Music,
  type Pace,
  paceOf,
  type Score,
  type ScoredMusic,
  scoreMusic,
  tickAt,
  tickMicrosAt,
} from './score.ts'

/** What is heard at a moment. */
export interface Place {
  /** as it was given to `play` or `setMusic`: what is heard may be older than what is shown */
  readonly music: Music
  /** fractions included, from 0 up to the end */
  readonly tick: number
  /** from 0 */
  readonly barIndex: number
  /** how many times it has gone round before */
  readonly pass: number
}

/** From the press to the first note: time for the notes to reach the audio thread, 8 ms where measured, and a port. */
const START_AFTER: ClockSeconds = 0.1

/** A change takes over at the first line that is at least this far away. Source: our design choice; a page mostly answers sooner. */
const CHANGE_AFTER: ClockSeconds = 0.05

/** Later than this a note is left out: after the machine has slept there is no burst. Source: our design choice. */
const TOO_LATE: ClockSeconds = 0.05

/** More than what is lost in counting seconds in floating point, and less than a frame. */
const ROUNDING: ClockSeconds = 1e-6

/** A tick of a time round. */
interface Position {
  readonly pass: number
  readonly tick: Tick
}

/**
 * A stretch of playing in one tempo: music and the anchor that all its times are counted from. It goes round until the next run
 * takes over, or until its end.
 */
interface Run extends Position {
  readonly music: ScoredMusic
  readonly bpm: number | undefined
  readonly pace: Pace
  /** when `pass` and `tick` are played */
  readonly seconds: ClockSeconds
  /** its first time round is the first of its music */
  readonly opens: boolean
  /** where the next run takes over, or the playing ends; `undefined`: it goes round for ever */
  until: Position | undefined
}

/** The next note that the output has not got. */
interface Cursor {
  readonly run: Run
  readonly pass: number
  readonly index: number
}

/** What the player wants from the next line on. */
interface Wish {
  readonly music: ScoredMusic
  readonly bpm: number | undefined
  readonly loop: boolean
}

function isBefore(a: Position, b: Position): boolean {
  return a.pass < b.pass || (a.pass === b.pass && a.tick < b.tick)
}

/** The earlier of two positions; `undefined` is never. */
function earlier(a: Position | undefined, b: Position | undefined): Position | undefined {
  if (!a || !b) return a ?? b
  return isBefore(a, b) ? a : b
}

/** When a position is played: counted from the anchor in whole units, divided once, never summed. */
function secondsOf(run: Run, { pass, tick }: Position): ClockSeconds {
  const { tempo, ticks } = run.music
  const time =
    (pass - run.pass) * tickMicrosAt(tempo, ticks) + tickMicrosAt(tempo, tick) - tickMicrosAt(tempo, run.tick)
  return run.seconds + (time * run.pace.times) / run.pace.over
}

/** The position at a time, fractions of ticks included; the anchor for what is before it. */
function positionAt(run: Run, seconds: ClockSeconds): Position {
  const { tempo, ticks } = run.music
  const round = tickMicrosAt(tempo, ticks)
  const passed = (Math.max(0, seconds - run.seconds) * run.pace.over) / run.pace.times + tickMicrosAt(tempo, run.tick)
  const rounds = Math.floor(passed / round)
  return { pass: run.pass + rounds, tick: tickAt(tempo, passed - rounds * round) }
}

/** The first of some lines that is not before `from`: each stands in every time round. */
function nextLine(run: Run, from: ClockSeconds, lines: readonly Tick[]): Position {
  let { pass } = positionAt(run, from)
  for (; ; pass++) {
    for (const tick of lines) {
      const line = { pass, tick }
      if (!isBefore(line, run) && secondsOf(run, line) >= from) return line
    }
  }
}

function scoreIn(run: Run, pass: number): Score {
  return run.opens && pass === run.pass ? run.music.first : run.music.again
}

/** How many of some ticks in order are before `tick`. */
function countBefore(items: readonly Tick[], tick: Tick): number {
  let from = 0
  let to = items.length
  while (from < to) {
    const middle = (from + to) >> 1
    if (items[middle]! < tick) from = middle + 1
    else to = middle
  }
  return from
}

function cursorAt(run: Run, { pass, tick }: Position): Cursor {
  return { run, pass, index: countBefore(scoreIn(run, pass).starts, tick) }
}

function sameSounds(a: readonly PartSound[], b: readonly PartSound[]): boolean {
  return JSON.stringify(a) === JSON.stringify(b)
}

/**
 * Plays music on an output by a clock: from press to stop, round and round, with changes of tempo at the next beat and changes
 * of the music at the next bar line.
 *
 * It lays runs end to end on the clock's time, which never jumps back. Whatever is changed takes one way: the run that plays
 * gives way at a line, what the output has got from there on is taken back, and it is filled again up to its horizon.
 *
 * It has no timer: `advance` is to be called some forty times a second while it plays.
 */
export class Transport {
  readonly #clock: Clock
  readonly #onEnd: () => void
  readonly #levels = new Map<PartName, number | undefined>()
  #output: NoteOutput
  #wish: Wish | undefined
  #bpm: number | undefined
  #loop = true
  /** in order of time; none where nothing is played */
  #runs: readonly Run[] = []
  #cursor: Cursor | undefined
  /** notes up to here the output has got */
  #sentUntil: ClockSeconds = 0
  /** rises with every play and stop, so that a slow start knows that it is out of date */
  #turn = 0

  /**
   * @param onEnd  called when the last bar has been heard to its end, without a loop; it has stopped by then
   */
  constructor(clock: Clock, output: NoteOutput, onEnd: () => void = () => {}) {
    this.#clock = clock
    this.#output = output
    this.#onEnd = onEnd
  }

  /** Whether it plays, or is about to. */
  get playing(): boolean {
    return this.#wish !== undefined
  }

  /** Where notes go. */
  get output(): NoteOutput {
    return this.#output
  }

  /**
   * Plays music from its beginning. Called on a player's press.
   *
   * @throws OutputError  if nothing can sound; it is stopped then
   * @throws RangeError   if the music has no bars
   */
  async play(music: Music): Promise<void> {
    this.stop()
    const turn = ++this.#turn
    this.#wish = { music: scoreMusic(music), bpm: this.#bpm, loop: this.#loop }
    try {
      // In the press itself: a browser lets sound begin in no later turn.
      await this.#clock.start()
      // Another output may be chosen while one starts.
      let started: NoteOutput | undefined
      while (started !== this.#output && turn === this.#turn) {
        started = this.#output
        await this.#start(started, this.#wish.music.sounds)
      }
    } catch (error) {
      // Stopped meanwhile: nobody waits for it any more.
      if (turn !== this.#turn) return
      this.stop()
      throw error
    }
    if (turn !== this.#turn) return
    const { music: scored, bpm, loop } = this.#wish
    const seconds = this.#clock.now() + START_AFTER
    const run: Run = {
      ...{ music: scored, bpm, pace: paceOf(scored, bpm), seconds, pass: 0, tick: 0, opens: true },
      until: loop ? undefined : { pass: 0, tick: scored.ticks },
    }
    this.#runs = [run]
    this.#cursor = cursorAt(run, run)
    this.#sentUntil = seconds
    this.advance()
  }

  /** Silence at once. Nothing where nothing plays. */
  stop(): void {
    if (!this.#wish) return
    this.#turn++
    this.#rest()
    this.#output.stop()
  }

  /**
   * Other music, from the next bar line on: in the same bar of it, or from its beginning where it has no such bar. Nothing where
   * nothing plays.
   */
  setMusic(music: Music): void {
    if (this.#wish && music !== this.#wish.music.music) this.#want({ music: scoreMusic(music) })
  }

  /**
   * Another tempo, from the next beat on, and for whatever is played later.
   *
   * @param bpm  beats a minute of the beat that its metre counts; `undefined`: as the music is written
   */
  setTempo(bpm: number | undefined): void {
    if (bpm !== undefined && !(bpm > 0 && Number.isFinite(bpm))) {
      throw new RangeError(`A tempo of ${bpm} beats a minute; it is to be above 0`)
    }
    this.#bpm = bpm
    this.#want({ bpm })
  }

  /** Whether it goes round. If no longer, what plays is played to its end. */
  setLoop(on: boolean): void {
    this.#loop = on
    this.#want({ loop: on })
  }

  /** How loud a part is, on every output: in decibels against its usual level, `undefined` for silent. */
  setLevel(part: PartName, decibels: number | undefined): void {
    this.#levels.set(part, decibels)
    this.#output.setLevel(part, decibels)
  }

  /**
   * Sends notes elsewhere; while it plays, from the next note on. Called on a player's press.
   *
   * @throws OutputError  if the other output cannot sound; the old one stays
   */
  async setOutput(output: NoteOutput): Promise<void> {
    if (output === this.#output) return
    const turn = this.#turn
    const { sounds } = this.#runs.length > 0 ? this.#runAt(this.#clock.now()).music : { sounds: [] }
    if (this.#runs.length > 0) await this.#start(output, sounds)
    this.#output.stop()
    this.#output = output
    if (this.#runs.length === 0 || turn !== this.#turn) return
    const from = this.#clock.now() + CHANGE_AFTER
    const run = this.#runAt(from)
    if (!sameSounds(run.music.sounds, sounds)) output.changeSounds(run.music.sounds, from)
    this.#cursor = cursorAt(run, positionAt(run, from))
    this.#sentUntil = from
    this.advance()
  }

  /** What is heard now; the beginning before the first note; `undefined` where nothing plays. */
  place(): Place | undefined {
    if (this.#runs.length === 0) return undefined
    const heard = this.#clock.heard()
    const run = this.#runAt(heard)
    const at = earlier(positionAt(run, heard), run.until)!
    const { bars, music } = run.music
    return { music, tick: at.tick, pass: at.pass, barIndex: Math.max(0, countBefore(bars, at.tick + 1e-6) - 1) }
  }

  /** Time has gone on: fills the output up to its horizon, and stops at the end. */
  advance(): void {
    if (this.#runs.length === 0) return
    const now = this.#clock.now()
    const notes = this.#take(now, now + this.#output.horizon)
    if (notes.length > 0) this.#output.play(notes)
    this.#output.advance()
    const heard = this.#clock.heard()
    this.#runs = this.#runs.filter((_, index) => (this.#runs[index + 1]?.seconds ?? Number.POSITIVE_INFINITY) > heard)
    const last = this.#runs.at(-1)!
    if (last.until && secondsOf(last, last.until) <= heard) {
      // Nothing is cut off: every note has ended by itself, and may ring on.
      this.#turn++
      this.#rest()
      this.#onEnd()
    }
  }

  #start(output: NoteOutput, sounds: readonly PartSound[]): Promise<void> {
    const started = output.start(sounds)
    for (const [part, decibels] of this.#levels) output.setLevel(part, decibels)
    return started
  }

  #rest(): void {
    this.#wish = undefined
    this.#runs = []
    this.#cursor = undefined
    this.#clock.stop()
  }

  /** The run that plays at a time: the first one before it begins. */
  #runAt(seconds: ClockSeconds): Run {
    return this.#runs.findLast((run) => run.seconds <= seconds) ?? this.#runs[0]!
  }

  /** Notes that the output has not got and that start before `until`. */
  #take(now: ClockSeconds, until: ClockSeconds): readonly OutputNote[] {
    const notes: OutputNote[] = []
    for (;;) {
      const { run, pass, index } = this.#cursor!
      const note = scoreIn(run, pass).notes[index]
      const at = { pass, tick: note?.startTick ?? run.music.ticks }
      if (run.until && !isBefore(at, run.until)) {
        const next = this.#runs[this.#runs.indexOf(run) + 1]
        if (!next || next.seconds >= until) break
        if (!sameSounds(run.music.sounds, next.music.sounds)) {
          this.#output.changeSounds(next.music.sounds, next.seconds)
        }
        this.#cursor = cursorAt(next, next)
      } else if (note) {
        const start = secondsOf(run, at)
        if (start >= until) break
        const { part, pitch, velocity, endTick } = note
        const end = secondsOf(run, { pass, tick: endTick })
        if (start >= now - TOO_LATE) notes.push({ part, pitch, velocity, start, end })
        this.#cursor = { run, pass, index: index + 1 }
      } else {
        if (secondsOf(run, at) >= until) break
        this.#cursor = { run, pass: pass + 1, index: 0 }
      }
    }
    this.#sentUntil = Math.max(this.#sentUntil, until)
    return notes
  }

  /** The one way of every change: the run that plays gives way to runs as wished, and the output is filled anew from there. */
  #want(change: Partial<Wish>): void {
    if (!this.#wish) return
    this.#wish = { ...this.#wish, ...change }
    if (this.#runs.length === 0) return
    const soonest = this.#clock.now() + CHANGE_AFTER
    const from = this.#output.takesBack ? soonest : Math.max(soonest, this.#sentUntil)
    const base = this.#runAt(from)
    // Too late: it ends before anything can change.
    if (base.until && base === this.#runs.at(-1) && secondsOf(base, base.until) <= from + ROUNDING) return
    const before = base.until
    const later = this.#plan(base, from)
    this.#runs = [...this.#runs.slice(0, this.#runs.indexOf(base)), base, ...later]
    const changed = earlier(before, base.until)
    if (!changed) return
    const { run, pass, index } = this.#cursor!
    const tick = scoreIn(run, pass).notes[index]?.startTick ?? run.music.ticks
    const stays = run === base ? !isBefore(changed, { pass, tick }) : this.#runs.includes(run) && !later.includes(run)
    if (!stays) this.#cursor = cursorAt(base, changed)
    if (this.#output.takesBack) this.#output.takeBackFrom(secondsOf(base, changed))
    this.advance()
  }

  /** Where a run gives way so that the wish comes true, and the runs that follow it. */
  #plan(base: Run, from: ClockSeconds): readonly Run[] {
    const { music, bpm, loop } = this.#wish!
    const later: Run[] = []
    const { pass } = positionAt(base, from)
    const end = (run: Run, pass: number) => (loop ? undefined : { pass, tick: run.music.ticks })
    base.until = end(base, pass)
    let last = base

    const beat = nextLine(base, from, base.music.beats)
    if (bpm !== base.bpm && (!base.until || isBefore(beat, base.until))) {
      const pace = paceOf(base.music, bpm)
      const opens = base.opens && beat.pass === base.pass
      last = { ...base, ...beat, bpm, pace, opens, seconds: secondsOf(base, beat) }
      base.until = beat
      later.push(last)
    }

    const line = nextLine(last, from, last.music.bars)
    const { until } = last
    if (music !== last.music && (!until || isBefore(line, until))) {
      const barIndex = last.music.bars.indexOf(line.tick)
      const tick = music.bars[barIndex] ?? 0
      // From the beginning though not at the seam: a time round more. Whatever held over the bar line did so in the old music.
      const round = line.pass + (tick === 0 && line.tick > 0 ? 1 : 0)
      const run = {
        music,
        bpm,
        pace: paceOf(music, bpm),
        seconds: secondsOf(last, line),
        pass: round,
        tick,
        opens: true,
      }
      last.until = line
      later.push({ ...run, until: loop ? undefined : { pass: round, tick: music.ticks } })
    }
    return later
  }
}
