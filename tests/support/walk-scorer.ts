import type { Form } from '../../src/chart/form.ts'
import type { LineNote } from '../../src/line/line.ts'
import { binds, type RuleInForce } from '../../src/line/rule.ts'
import { standingsOf } from '../../src/line/standing.ts'
import type { WalkRequest } from '../../src/line/walk/problem.ts'
import type { WalkTable } from '../../src/line/walk/table.ts'
import type { Chord } from '../../src/music/chord.ts'
import { semitonesOf } from '../../src/music/degree.ts'
import { beatsOf } from '../../src/music/metre.ts'
import { isStretched, stepsOf, wayOf } from './hand.ts'
import { isPatterned, patternParses } from './pattern-parses.ts'

/** A note as it is fretted, and the fret under the first finger. */
export interface Fingered {
  readonly pitch: number
  readonly string: number
  readonly fret: number
  readonly hand: number
}

/** What may not be. */
export const NEVER = Number.POSITIVE_INFINITY

/** All of a request that decides what a line costs. */
export type ScoredRequest = Pick<
  WalkRequest,
  'form' | 'slots' | 'table' | 'instrument' | 'frets' | 'patterns' | 'rules' | 'secondsPerTick' | 'loop'
>

/**
 * What walking lines cost without their plan: written from the sentences of the weights and the meaning of rules, apart from the
 * search and its tables. Ghosts are passed over.
 *
 * The cost of a line is the sum of its notes, of the steps into them, and of what only the whole row of pitches tells.
 */
export class WalkScore {
  readonly #request: ScoredRequest
  readonly #table: WalkTable
  readonly #slots: ScoredRequest['slots']
  readonly #chords: readonly Chord[]
  readonly #runs: readonly number[]
  readonly #standings: ReturnType<typeof standingsOf>
  readonly #kept: readonly (number | undefined)[]
  readonly #movePairs: ReturnType<WalkScore['movePairs']>
  readonly #owed: ReturnType<WalkScore['owedTones']>
  /** how many slots a line fills */
  readonly length: number

  constructor(request: ScoredRequest) {
    this.#request = request
    const { form, slots, loop } = request
    this.#table = isPatterned(request) ? widened(request.table) : request.table
    this.#slots = slots.filter((slot) => !slot.ghost)
    this.length = this.#slots.length
    this.#chords = this.#slots.map((slot) => form.changes[slot.changeIndex]!.chord!)
    this.#runs = this.#slots.map(
      (slot) => form.changes.slice(0, slot.changeIndex + 1).filter((change) => !change.held).length,
    )
    this.#standings = standingsOf(form, this.#slots, loop)
    this.#kept = this.#slots.map(
      (_, i) => this.#bound('kept-bar', i, 'must').map((rule) => keptAt(rule, form, this.#slots[i]!))[0],
    )
    this.#movePairs = this.movePairs()
    this.#owed = this.owedTones()
  }

  /** What a line costs; `NEVER` if it breaks a must or what the weights never do. */
  of(notes: readonly Fingered[]): number {
    let total = this.whole(notes.map(({ pitch }) => pitch))
    for (const [i, note] of notes.entries()) {
      total += this.note(i, note)
      if (i > 0 || this.#request.loop) total += this.step(i, notes.at(i - 1)!, note)
    }
    return total
  }

  /** A note by itself, where it stands. */
  note(i: number, note: Fingered): number {
    const table = this.#table
    const { pitch, string, fret } = note
    const kept = this.#kept[i]
    const chord = this.#chords[i]!
    const kind = kindOf(chord, pitch)
    const tone = this.#arrives(i) && kind === 'fifth' && this.#inRun(i) === 2 ? table.fifthOfTwo : this.#row(i)[kind]
    if (kept !== undefined ? kept !== pitch : tone === undefined) return NEVER
    let total = tone ?? 15
    if (this.#begins(i) && kind !== 'root') total += table.firstNotRoot
    if (kind === 'scale' && isTone(kindOf(chord, pitch - 1))) total += table.avoid
    if (this.#givesAway(i, pitch)) total += table.givenAway
    total += Math.max(0, Math.abs(pitch - this.#target(i)) - table.contour.free) * table.contour.points
    total += table.above.points * Math.max(0, pitch - table.above.pitch)
    total += fret === 0 ? table.hand.openString : Math.max(0, fret - 9) * table.hand.highFret
    const { instrument } = this.#request
    const { open } = instrument
    if (isStretched(instrument, fret, note.hand)) total += table.hand.stretch
    for (const rule of this.#bound('note', i))
      if (!rule.test.allows({ ...this.#standings[i]!, pitch, string, fret, open })) total += price(rule)
    for (const rule of this.#bound('kept-bar', i))
      if (keptAt(rule, this.#request.form, this.#slots[i]!) !== pitch) total += price(rule)
    return total
  }

  /** The step into a note from the one before it: the pitches, the hand, and rules about both. In a loop the first note has one too. */
  step(i: number, before: Fingered, note: Fingered): number {
    const table = this.#table
    const from = (i + this.length - 1) % this.length
    const left = kindOf(this.#chords[from]!, before.pitch)
    const kind = kindOf(this.#chords[i]!, note.pitch)
    const interval = note.pitch - before.pitch
    const size = Math.abs(interval)
    const sizes = this.#onBeat(i) ? table.intervals : table.intoOffBeat
    const stays = this.#kept[from] !== undefined && this.#kept[i] !== undefined
    if (sizes[size] === undefined && !stays) return NEVER
    let step = sizes[size] ?? sizes.at(-1)! + 2 * (size - sizes.length + 1)
    const { barIndex } = this.#slots[i]!
    const inBar = this.#slots.filter((slot) => slot.barIndex === barIndex).length
    const isSparse = inBar < beatsOf(this.#request.form.bars[barIndex]!.metre).length
    const inHaste =
      this.#inRun(i) === 2 || (this.#isBeforeChange(i) && this.#onBeat(i)) || (i === 1 && this.#onBeat(i)) || isSparse
    if (size === 0 && this.#runs[from] === this.#runs[i] && inHaste) step += table.repeatInHaste
    if (this.#arrives(i)) {
      const known = kindOf(this.#chords[i]!, before.pitch) !== 'chromatic'
      if (size === 1) step += table.approach.semitone
      else if (size === 2 && (left !== 'chromatic' || known)) step += table.approach.scaleStep
      else if ([-7, 5].includes(interval) && kind === 'root' && left !== 'chromatic') step += table.approach.fifth
      else if (isTone(left) && size >= 1 && size <= 4) step += table.approach.chordTone
      else if (size === 0) step += table.approach.same
      else step += table.approach.leap
      const resolves = left === 'seventh' && kind === 'third' && [-1, -2].includes(interval)
      const keeps = left === 'third' && kind === 'seventh' && [-1, 0].includes(interval)
      if (resolves || keeps) step = Math.max(0, step - table.guideTones)
    }
    let total = step
    if (!isTone(left) && size > 2) total += table.leftByLeap
    if (left === 'chromatic' && size !== 1) total += table.chromaticNotBySemitone
    if (!isTone(kind) && size > 2) total += table.reachedByLeap
    if (left === 'chromatic' && size === 1 && kind === 'scale' && !this.#arrives(i)) total += table.chromaticIntoScale
    if (size === 0 && !this.#onBeat(from)) total += table.skipRepeated
    if (kind === 'chromatic' && size === 2 && !this.#standings[i]!.leads) total += table.chromaticByWholeStep

    // The hand.
    const { hand } = table
    const { instrument } = this.#request
    const steps = stepsOf(instrument, before.hand, note.hand)
    const tenths = wayOf(instrument, before.hand, note.hand)
    const ticks = this.#slots[i]!.startTick - this.#slots[from]!.startTick + (i === 0 ? this.#request.form.ticks : 0)
    const each = hand.perStep + (ticks <= 240 ? hand.hurried : 0)
    if (note.hand !== before.hand) total += before.fret === 0 ? hand.perStep * steps : hand.move + steps * each
    const apart = (note.string - before.string) * (interval < 0 ? -1 : 1)
    if (size === 12 ? apart !== 2 : (size === 7 || size === 5) && apart !== 1) total += hand.outOfShape
    if (size !== 12 || apart !== 2) total += hand.skippedString * Math.max(0, Math.abs(apart) - 1)
    if (size === 1 && apart !== 0 && note.fret > 0 && before.fret > 0) total += hand.halfStepAcross
    if (note.pitch === before.pitch && note.string !== before.string) total += hand.otherString

    const seconds = ticks * this.#request.secondsPerTick
    for (const rule of this.#bound('hand', i))
      if (!rule.test.allows({ tenths, fromOpen: before.fret === 0, seconds })) total += price(rule)
    for (const rule of this.#bound('pair', i)) {
      const [a, b] = [this.#standings[from]!, this.#standings[i]!]
      if (!rule.test.allows({ ...a, pitch: before.pitch }, { ...b, pitch: note.pitch })) total += price(rule)
    }
    return total
  }

  /** What the row of pitches costs besides: moves after moves, what each chord left unsaid, patterns, and rules with a memory. */
  whole(pitches: readonly number[]): number {
    let total = 0
    const into = (i: number) => pitches[i]! - pitches[(i + pitches.length - 1) % pitches.length]!
    for (const pair of this.#movePairs) total += this.moveAfter(pair, into(pair.from), into(pair.to))
    const { patterns, rules } = this.#request
    if (!patterns)
      for (const { slots, points, isHeard } of this.#owed) if (!slots.some((i) => isHeard(pitches[i]!))) total += points
    for (const rule of rules) {
      const { test } = rule
      if (test.looksAt === 'memory') total += this.#remembered({ ...rule, test }, pitches)
    }
    if (isPatterned(this.#request)) {
      const places = {
        slots: this.#slots,
        chords: this.#chords,
        runs: this.#runs,
        kept: this.#kept.map((p) => p !== undefined),
      }
      total += patternParses(this.#request, places, pitches)
    }
    return total
  }

  /** Which slot's move each slot's move is judged by. Off-beat notes leave no move behind, and may only not be a third of one pitch. */
  movePairs(): readonly MovePair[] {
    const { loop } = this.#request
    const { length } = this
    const pairs: MovePair[] = []
    for (let to = loop ? 0 : 1; to < length; to++) {
      for (let back = 1; back <= length; back++) {
        if (to - back <= 0 && !loop) break
        const from = (to - back + length) % length
        if (!this.#onBeat(from)) continue
        pairs.push({ to, from, onBeat: this.#onBeat(to) })
        break
      }
    }
    return pairs
  }

  /** What an interval costs after another. */
  moveAfter({ onBeat }: MovePair, before: number, now: number): number {
    return onBeat || (before === 0 && now === 0) ? after(this.#table.after, before, now) : 0
  }

  /**
   * What each chord has to say: its root, its third and its written colour if the neck has them; and its root at the start of a bar or of
   * the one before.
   */
  owedTones(): readonly {
    readonly slots: readonly number[]
    readonly points: number
    isHeard(pitch: number): boolean
  }[] {
    const table = this.#table
    const { instrument, frets } = this.#request
    const neck = instrument.open.flatMap((open) =>
      Array.from({ length: frets.to - frets.from + 1 }, (_, i) => open + frets.from + i),
    )
    return [...new Set(this.#runs)].flatMap((run) => {
      const slots = this.#slots.map((_, i) => i).filter((i) => this.#runs[i] === run)
      // What is pushed over the end of a loop neither owes nor pays.
      if (slots.length > 1 && slots.at(-1)! - slots.at(-2)! > 1) slots.pop()
      const { length } = this.#runs.filter((one) => one === run)
      const chord = this.#chords[slots[0]!]!
      const is = (kind: Kind) => (pitch: number) => kindOf(chord, pitch) === kind
      const structural = isStructural(this.#request.form, run)
      const points = structural ? table.rootNotHeard.structural : table.rootNotHeard.points
      const owed = [
        { least: structural ? 2 : 3, points, isHeard: is('root') },
        { least: 3, points: table.thirdNotHeard, isHeard: is('third') },
        { least: 4, points: table.colourNotHeard, isHeard: (pitch: number) => isColour(chord, pitch) },
      ]
      const opening = slots.filter((i, k) => k === 0 || this.#slots[i]!.strength === 'one')
      return [
        ...owed
          .filter(({ least, isHeard }, k) => length >= least && (k === 0 || neck.some(isHeard)))
          .map((one) => ({ ...one, slots })),
        ...opening.slice(1).map((i, k) => ({
          slots: [opening[k]!, i],
          points: table.heldOffRoot,
          isHeard: is('root'),
        })),
      ]
    })
  }

  /** A finite automaton reads the pitches; in a loop it may begin anywhere if it comes back there. */
  #remembered(rule: Rule<'memory'>, pitches: readonly number[]): number {
    const { loop } = this.#request
    const count = pitches.length
    let best = NEVER
    for (let begin = 0; begin < (loop ? rule.test.states : 1); begin++) {
      let state = begin
      let total = 0
      for (let i = loop ? 0 : 1; i < count; i++) {
        // In a loop the reading goes from the first note on, and last comes the step back to it.
        const to = loop ? (i + 1) % count : i
        const from = (to + count - 1) % count
        const step = rule.test.step(
          state,
          { ...this.#standings[from]!, pitch: pitches[from]! },
          { ...this.#standings[to]!, pitch: pitches[to]! },
        )
        state = step.state
        if (!step.kept && binds(rule, this.#slots[to]!.barIndex)) total += price(rule)
      }
      if (!loop || state === begin) best = Math.min(best, total)
    }
    return best
  }

  #bound<Kind extends RuleInForce['test']['looksAt']>(kind: Kind, i: number, strength?: 'must'): readonly Rule<Kind>[] {
    return this.#request.rules.filter(
      (rule): rule is Rule<Kind> =>
        rule.test.looksAt === kind &&
        (strength === undefined || rule.strength === strength) &&
        binds(rule, this.#slots[i]!.barIndex),
    )
  }

  #row(i: number) {
    const table = this.#table
    if (this.#arrives(i)) return table.arrival
    const { strength } = this.#slots[i]!
    if (strength === 'one') return table.barStart
    if (strength === 'middle') return table.middle
    return this.#isBeforeChange(i) ? table.leading : table.other
  }

  #target(i: number): number {
    const { form } = this.#request
    const slot = this.#slots[i]!
    const bar = form.bars[slot.barIndex]!
    const { low, high, bars } = this.#table.contour
    const place = ((Math.max(0, bar.number - 1) % bars) + (slot.startTick - bar.startTick) / bar.ticks) / bars
    return Math.round(place < 0.5 ? low + 2 * (high - low) * place : high - 2 * (high - low) * (place - 0.5))
  }

  #arrives(i: number): boolean {
    return i === 0 || this.#runs[i] !== this.#runs[i - 1]
  }

  /** The first note, or in a loop what is pushed from its end into its first chord. */
  #begins(i: number): boolean {
    return i === 0 || (this.#request.loop && i === this.length - 1 && this.#slots[i]!.pushed && this.#arrives(i))
  }

  /** The next note arrives on a change: in a loop the first note does. */
  #isBeforeChange(i: number): boolean {
    const next = i + 1 < this.length ? i + 1 : this.#request.loop ? 0 : undefined
    return next !== undefined && this.#arrives(next)
  }

  /** Two notes before a change, its root where that is no root now. */
  #givesAway(i: number, pitch: number): boolean {
    const last = this.#request.loop ? Number.POSITIVE_INFINITY : this.length - 1
    if (i + 2 > last || this.#arrives(i)) return false
    const target = (i + 2) % this.length
    if (this.#arrives((i + 1) % this.length) || !this.#arrives(target)) return false
    const root = this.#chords[target]!.bassPc
    return root !== this.#chords[i]!.bassPc && (((pitch - root) % 12) + 12) % 12 === 0
  }

  #inRun(i: number): number {
    return this.#runs.filter((run) => run === this.#runs[i]).length
  }

  #onBeat(i: number): boolean {
    const { pushed, strength } = this.#slots[i]!
    return pushed || !['off', 'fine'].includes(strength)
  }
}

interface MovePair {
  readonly to: number
  readonly from: number
  /** `to` is on the beat */
  readonly onBeat: boolean
}

type Test = RuleInForce['test']
type Rule<Kind extends Test['looksAt']> = Omit<RuleInForce, 'test'> & {
  readonly test: Extract<Test, { looksAt: Kind }>
}

const price = ({ strength }: Pick<RuleInForce, 'strength'>): number => (strength === 'must' ? NEVER : strength)

/** The pitch that a bar that is to stay has where a slot is; `undefined` where it strikes nothing. */
function keptAt({ test }: Rule<'kept-bar'>, form: Form, slot: ScoredRequest['slots'][number]): number | undefined {
  const tick = slot.startTick - form.bars[slot.barIndex]!.startTick
  const struck = test.cell.onsets.filter((onset) => !onset.ghost && !onset.continues)
  return test.pitches[struck.findIndex((onset) => onset.tick === tick)]
}

/** A pattern may ask for a chromatic arrival, and for leaps up to two octaves at two points more for each semitone. */
function widened(table: WalkTable): WalkTable {
  const wide = (sizes: readonly number[]) => {
    const all = [...sizes]
    while (all.length < 25) all.push(all.at(-1)! + 2)
    return all
  }
  const arrival = { ...table.arrival, chromatic: table.arrival.chromatic ?? 15 }
  return { ...table, arrival, intervals: wide(table.intervals), intoOffBeat: wide(table.intoOffBeat) }
}

/** What a walking line of free notes costs without its plan. */
export function scoreWalk(form: Form, all: readonly LineNote[], table: WalkTable, loop: boolean): number {
  const notes = all.filter((note) => !note.slot.ghost)
  const slots = notes.map(({ slot }) => slot)
  const instrument = { open: [0], scale: 8636 } as unknown as WalkRequest['instrument']
  const frets = { from: 0, to: 127 }
  const free = { patterns: undefined, rules: [], secondsPerTick: 0 }
  return new WalkScore({ form, slots, table, instrument, frets, ...free, loop }).of(notes)
}

type Kind = 'root' | 'third' | 'fifth' | 'seventh' | 'otherTone' | 'scale' | 'chromatic'

function kindOf(chord: Chord, pitch: number): Kind {
  const mod = (x: number) => ((x % 12) + 12) % 12
  if (mod(pitch) === chord.bassPc) return 'root'
  const above = mod(pitch - chord.rootPc)
  const tone = chord.tones.find((degree) => mod(semitonesOf(degree)) === above)
  if (tone) {
    if (tone.number === 1) return 'fifth'
    if (tone.number === 3) return 'third'
    if (tone.number === 5) return 'fifth'
    if (tone.number === 6 || tone.number === 7) return 'seventh'
    return chord.tones.some((degree) => degree.number === 3) ? 'otherTone' : 'third'
  }
  return chord.scale.degrees.some((degree) => mod(semitonesOf(degree)) === above) ? 'scale' : 'chromatic'
}

/** A written sixth, or altered ninth, eleventh or thirteenth, that is not the root or the third as well. */
function isColour(chord: Chord, pitch: number): boolean {
  if (['root', 'third'].includes(kindOf(chord, pitch))) return false
  const above = (((pitch - chord.rootPc) % 12) + 12) % 12
  const tone = chord.tones.find((degree) => ((semitonesOf(degree) % 12) + 12) % 12 === above)
  return tone !== undefined && (tone.number === 6 || (tone.number > 8 && tone.alter !== 0))
}

const isTone = (kind: Kind) => kind !== 'scale' && kind !== 'chromatic'

function after(table: WalkTable['after'], before: number, now: number): number {
  const name = (interval: number): 'repeat' | 'step' | 'third' | 'leap' => {
    const size = Math.abs(interval)
    return size === 0 ? 'repeat' : size <= 2 ? 'step' : size <= 4 ? 'third' : 'leap'
  }
  const [a, b] = [name(before), name(now)]
  if (a === 'repeat') return b === 'repeat' ? table.repeat.repeat : table.repeat.move
  if (b === 'repeat') return table[a].on.repeat
  return before > 0 === now > 0 ? table[a].on[b] : table[a].back[b]
}

function isStructural(form: Form, run: number): boolean {
  const starts = form.changes.filter((change) => !change.held)
  if (run === 1 || run === starts.length) return true
  const opens = (index: number) => {
    const change = starts[index]
    const bar = change && form.bars[change.barIndex]!
    return bar !== undefined && bar.section !== undefined && bar.startTick === change!.startTick
  }
  return opens(run - 1) || opens(run)
}
