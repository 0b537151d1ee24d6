import type { Form, FormBar } from '../chart/form.ts'
import { beatsOf, countTicks, type Metre, middlesOf } from '../music/metre.ts'
import type { Tick } from '../music/tick.ts'
import { bestPath, costsToGo } from '../search/cost-to-go.ts'
import { IMPOSSIBLE, type Trellis } from '../search/trellis.ts'
import type { Cell } from './cell.ts'
import { startsIn, tile } from './join.ts'
import type { Slot, Strength } from './slot.ts'

/** A cell of the vocabulary in force, and how often it is wanted against the others. */
export interface WeightedCell {
  /** its id, or its notation where it has none */
  readonly id: string
  readonly cell: Cell
  readonly weight: number
}

/** A cell laid on the form. */
export interface PlacedCell {
  readonly id: string
  readonly cell: Cell
  readonly startTick: Tick
}

/** What a plan charges, by bar. */
export interface PlanTerm {
  readonly rule: string
  readonly points: number
  readonly barIndex: number
}

/** Cells for the bars of a form. */
export interface RhythmPlan {
  /** in order of time; bars of N.C. have none */
  readonly cells: readonly PlacedCell[]
  readonly terms: readonly PlanTerm[]
  readonly cost: number
}

const PHRASE_BARS = 8

/** Points of the plan: hand-set starting values, common practice, no source. */
const POINTS = {
  changeWithoutOnset: 12,
  sameSkipTwice: 8,
  skipAfterSkip: 1,
  busyOpening: 1,
  skipIntoHeldChord: 1,
  pushIntoHeldChord: 3,
}

/**
 * Off-beat notes a bar of trio bassists by beats a minute: 1.22 at 130 to 160, 0.85 at 160 to 200, 0.47 at 240 to 320 (medians
 * of automatic onsets of 1,200 tracks), here at the middle of each band.
 */
const OFF_BEATS: readonly (readonly [number, number])[] = [
  [145, 1.22],
  [180, 0.85],
  [280, 0.47],
]

/** Off-beat notes at a tempo against those at another: skips are fewer as the tempo rises. */
function skipShare(tempoBpm: number, usualBpm: number): number {
  return offBeatsAt(tempoBpm) / offBeatsAt(usualBpm)
}

function offBeatsAt(bpm: number): number {
  const first = OFF_BEATS[0]!
  if (bpm <= first[0]) return first[1]
  for (let i = 1; i < OFF_BEATS.length; i++) {
    const [from, low] = OFF_BEATS[i - 1]!
    const [to, high] = OFF_BEATS[i]!
    if (bpm <= to) return low + ((high - low) * (bpm - from)) / (to - from)
  }
  return OFF_BEATS.at(-1)![1]
}

/** One way to fill a bar: a cell, or copies of a shorter one. */
interface Filling {
  readonly id: string
  readonly cells: readonly PlacedCell[]
  readonly weight: number
  readonly plain: boolean
  readonly terms: readonly PlanTerm[]
}

/**
 * The best cells for a walking line. In each phrase of eight bars (begun anew at each section) every cell gets its share of the
 * weights, by largest remainder; the same skip does not stand twice running, and skips stand apart from each other; each change has an
 * onset; among equals the busier bar comes later. The plan is the exact optimum of these points.
 *
 * @param vocabularyOf  the cells for a bar, by its metre; those that do not fit the bar are passed over, and one note a beat
 *                      is played where none fits
 * @param chargesOf     what a cell is charged in a bar beside the plan's own points; it gets the smaller a share
 * @param motif         the cells of so many bars are the same throughout, instead of each getting its share
 * @param repeats       for each bar, the bar whose cells it has too; its own index, or absent, where it has its own
 */
export function planWalk(
  form: Form,
  vocabularyOf: (bar: FormBar) => readonly WeightedCell[],
  tempo: { readonly bpm: number; readonly usualBpm: number },
  loop: boolean,
  chargesOf: (bar: FormBar, cell: Cell) => readonly PlanTerm[] = () => [],
  repeats: readonly number[] = [],
  motif: Motif | undefined = undefined,
): RhythmPlan {
  const share = skipShare(tempo.bpm, tempo.usualBpm)
  const sounding = form.bars.filter((bar) => bar.changes.some((change) => change.chord))
  const bars = sounding.filter(({ index }) => (repeats[index] ?? index) === index)
  if (bars.length === 0) return { cells: [], terms: [], cost: 0 }
  const fillings = bars.map((bar) => fillingsOf(form, bar, vocabularyOf(bar), share, loop, chargesOf))
  const phrases = phrasesOf(bars)
  const chosen = motif ? sameThroughout(fillings, bars, motif) : sharedOut(fillings, phrases)
  const terms: PlanTerm[] = []
  for (const [i, filling] of chosen.entries()) {
    terms.push(...filling.terms)
    const after = i > 0 ? termAfter(chosen[i - 1]!, filling) : undefined
    if (after) terms.push({ ...after, barIndex: bars[i]!.index })
  }
  const cellsAt = new Map(bars.map((bar, i) => [bar.index, chosen[i]!.cells]))
  const cells = sounding.flatMap((bar): readonly PlacedCell[] => {
    const own = cellsAt.get(bar.index)
    if (own) return own
    const first = form.bars[repeats[bar.index]!]!
    const shift = bar.startTick - first.startTick
    const again = cellsAt.get(first.index)!.map((placed) => ({ ...placed, startTick: placed.startTick + shift }))
    terms.push(...chargesOf(bar, again[0]!.cell))
    return again
  })
  return { cells, terms, cost: terms.reduce((sum, term) => sum + term.points, 0) }
}

/** Cells of a number of bars that come again and again, begun anew at each section. */
export interface Motif {
  readonly bars: 1 | 2 | 4
  /** the last bar of each four, and of each section, has another cell */
  readonly fills: boolean
}

/** The best plan in which each cell gets its share. */
function sharedOut(fillings: readonly (readonly Filling[])[], phrases: readonly number[]): readonly Filling[] {
  const trellis = new PlanTrellis(fillings, phrases)
  const path = bestPath(trellis, costsToGo(trellis))
  if (!path) throw new RangeError('a plan without a way through: shares do not add up')
  return path.map((state, layer) => trellis.fillingAt(layer, state))
}

/**
 * The cells of a motif get their shares of its bars, in the order that costs least over the whole form; among equals the busier bar
 * comes later. A bar of another metre shares out its own.
 */
function sameThroughout(
  fillings: readonly (readonly Filling[])[],
  bars: readonly FormBar[],
  motif: Motif,
): readonly Filling[] {
  let place = 0
  const places = bars.map((bar, i) => {
    place = i === 0 || bar.section !== undefined ? 0 : place + 1
    return place
  })
  const isLast = (i: number) => i === places.length - 1 || places[i + 1] === 0
  const isFill = places.map((at, i) => motif.fills && (at % 4 === 3 || isLast(i)))
  const at = (ids: readonly string[], i: number): Filling => {
    const some = fillings[i]!
    const same = some.find(({ id }) => id === ids[places[i]! % motif.bars]) ?? some[0]!
    if (!isFill[i]) return same
    const others = some.filter(({ id, plain }) => !plain && !ids.includes(id))
    return others.reduce((best, one) => (one.weight > best.weight ? one : best), others[0] ?? same)
  }
  const costOf = (ids: readonly string[]): number =>
    places.reduce((sum, _, i) => sum + at(ids, i).terms.reduce((points, term) => points + term.points, 0), 0)
  const { seats } = largestRemainder(fillings[0]!, motif.bars)
  const wanted = fillings[0]!.flatMap(({ id }) => new Array<string>(seats.get(id) ?? 0).fill(id))
  const orders = permutationsOf(wanted)
  const best = orders.reduce((least, order) => (costOf(order) < costOf(least) ? order : least))
  return places.map((_, i) => at(best, i))
}

/** All orders of a few things, as they stand first. */
function permutationsOf<T>(things: readonly T[]): readonly (readonly T[])[] {
  if (things.length <= 1) return [things]
  return things.flatMap((thing, i) =>
    permutationsOf([...things.slice(0, i), ...things.slice(i + 1)]).map((rest) => [thing, ...rest]),
  )
}

/** Phrase number of each bar: a new one at each section and after eight bars. */
function phrasesOf(bars: readonly FormBar[]): readonly number[] {
  let phrase = -1
  let length = PHRASE_BARS
  return bars.map((bar) => {
    if (bar.section !== undefined || length === PHRASE_BARS) {
      phrase++
      length = 0
    }
    length++
    return phrase
  })
}

function fillingsOf(
  form: Form,
  bar: FormBar,
  vocabulary: readonly WeightedCell[],
  share: number,
  loop: boolean,
  chargesOf: (bar: FormBar, cell: Cell) => readonly PlanTerm[],
): readonly Filling[] {
  const fitting = vocabulary.filter(({ cell, weight }) => weight > 0 && fitsBar(cell, bar))
  const used = fitting.length > 0 ? fitting : [beatCell(bar)]
  return used
    .map(({ id, cell, weight }) => {
      const cells: PlacedCell[] = []
      for (let at = 0; at < bar.ticks; at += cell.ticks) cells.push({ id, cell, startTick: bar.startTick + at })
      const plain = cells.every((placed) =>
        placed.cell.onsets.every((onset) => isOnBeat(bar, placed.startTick + onset.tick)),
      )
      const charges = chargesOf(bar, cell)
      const charged = charges.reduce((points, charge) => points + charge.points, 0)
      return {
        id,
        cells,
        // What a charge makes dear is wanted less often: one point halves it.
        weight: (plain ? weight : weight * share) / (1 + charged),
        plain,
        terms: [...termsOf(form, bar, cells, plain, loop), ...charges],
      }
    })
    .sort((a, b) => Number(b.plain) - Number(a.plain))
}

/** Answers of {@link fitsBar}: the same few cells are asked for in every bar. */
const FITS = new WeakMap<Cell, Map<string, boolean>>()

/** True if the cell, or copies of it one after the other, fill the bar. */
export function fitsBar(cell: Cell, { metre, ticks }: Pick<FormBar, 'metre' | 'ticks'>): boolean {
  const answers = FITS.get(cell) ?? new Map<string, boolean>()
  FITS.set(cell, answers)
  const key = `${metre.upper}/${metre.lower} ${metre.groups} ${ticks}`
  const known = answers.get(key)
  if (known !== undefined) return known
  const fits = fillsBar(cell, metre, ticks)
  answers.set(key, fits)
  return fits
}

function fillsBar(cell: Cell, metre: Metre, ticks: Tick): boolean {
  if (cell.ticks > ticks || ticks % cell.ticks !== 0) return false
  if (cell.onsets.length === 0) return true
  const starts = startsIn(cell, metre)
  for (let at = 0; at < ticks; at += cell.ticks) if (!starts.includes(at)) return false
  return true
}

/** One note a beat, for a metre that the vocabulary does not know. */
function beatCell(bar: FormBar): WeightedCell {
  let tick = 0
  const onsets = beatsOf(bar.metre).map((ticks) => {
    const onset = { tick, ticks, ghost: false, accent: false, length: undefined, tiedOver: false, continues: false }
    tick += ticks
    return onset
  })
  const { upper, lower } = bar.metre
  return { id: 'beats', cell: { upper, lower, bars: 1, ticks: bar.ticks, onsets }, weight: 1 }
}

function isOnBeat(bar: FormBar, tick: Tick): boolean {
  let at = bar.startTick
  for (const ticks of beatsOf(bar.metre)) {
    if (at === tick) return true
    at += ticks
  }
  return false
}

/** What a filling costs in its bar. */
function termsOf(
  form: Form,
  bar: FormBar,
  cells: readonly PlacedCell[],
  plain: boolean,
  loop: boolean,
): readonly PlanTerm[] {
  const terms: PlanTerm[] = []
  const add = (rule: string, points: number) => terms.push({ rule, points, barIndex: bar.index })
  const onsets = cells.flatMap(({ cell, startTick }) =>
    cell.onsets.map((onset) => ({ ...onset, tick: startTick + onset.tick })),
  )
  for (const change of bar.changes) {
    const struck = onsets.some((onset) => onset.tick === change.startTick && !onset.ghost)
    if (change.chord && !change.held && !struck) add('onset-on-each-change', POINTS.changeWithoutOnset)
  }
  if (bar.section !== undefined && !plain) add('section-opens-plainly', POINTS.busyOpening)
  const next = form.bars[bar.index + 1] ?? (loop ? form.bars[0] : undefined)
  const changesNext = next?.changes[0]?.chord !== undefined && !next.changes[0].held
  const last = onsets.at(-1)
  if (last?.tiedOver && !changesNext) add('push-into-a-change', POINTS.pushIntoHeldChord)
  else if (last && !isOnBeat(bar, last.tick) && !changesNext) add('skip-into-a-change', POINTS.skipIntoHeldChord)
  return terms
}

/** What a filling costs after the bar before it. */
function termAfter(before: Filling, { plain, id }: Filling): Omit<PlanTerm, 'barIndex'> | undefined {
  if (plain || before.plain) return undefined
  if (before.id === id) return { rule: 'no-skip-twice-running', points: POINTS.sameSkipTwice }
  return { rule: 'skips-stand-apart', points: POINTS.skipAfterSkip }
}

/**
 * The trellis of a plan: a state is what the phrase still wants of each filling, and the filling that the bar has. Its layers are
 * bars; within a phrase the shares are used up. What is wanted is one number, in mixed radix.
 */
class PlanTrellis implements Trellis {
  readonly layers: number
  readonly start: Int32Array
  readonly end: Int32Array
  readonly #fillings: readonly (readonly Filling[])[]
  readonly #costs: readonly Int32Array[]
  /** per bar, the choice of each state */
  readonly #choices: readonly Int32Array[]
  /** per bar but the last: the steps of state i are `first[i]` to `first[i + 1]` */
  readonly #first: readonly Int32Array[]
  readonly #to: readonly Int32Array[]

  constructor(fillings: readonly (readonly Filling[])[], phrases: readonly number[]) {
    this.#fillings = fillings
    this.layers = fillings.length
    this.#costs = fillings.map((some) =>
      Int32Array.from(some, ({ terms }) => terms.reduce((sum, term) => sum + term.points, 0)),
    )
    const shares = sharesOf(fillings, phrases)
    const wanted = new Map<ReadonlyMap<string, number>, Wanted>()
    const strides = fillings.map((some, bar) => {
      const share = shares[bar]!
      const phrase = wanted.get(share) ?? wantedOf(share)
      wanted.set(share, phrase)
      return some.map(({ id }) => phrase.digits.get(id))
    })
    const choices: Int32Array[] = []
    const first: Int32Array[] = []
    const to: Int32Array[] = []
    // A state is its choice and what is wanted after it.
    let lefts: number[] = []
    const reach = (bar: number, left: number, index: Map<number, number>, found: number[], into: number[]): void => {
      for (const [choice, digit] of strides[bar]!.entries()) {
        if (!digit || Math.floor(left / digit.stride) % digit.radix === 0) continue
        const key = (left - digit.stride) * strides[bar]!.length + choice
        let at = index.get(key)
        if (at === undefined) {
          at = found.length
          index.set(key, at)
          found.push(key)
        }
        into.push(at)
      }
    }
    const close = (bar: number, found: readonly number[]): void => {
      const { length } = strides[bar]!
      choices.push(Int32Array.from(found, (key) => key % length))
      lefts = found.map((key) => Math.floor(key / length))
    }
    let found: number[] = []
    reach(0, wanted.get(shares[0]!)!.all, new Map(), found, [])
    close(0, found)
    for (let bar = 0; bar + 1 < fillings.length; bar++) {
      const fresh = phrases[bar + 1] !== phrases[bar]
      const index = new Map<number, number>()
      const steps: number[] = []
      found = []
      const starts = new Int32Array(lefts.length + 1)
      for (const [state, left] of lefts.entries()) {
        reach(bar + 1, fresh ? wanted.get(shares[bar + 1]!)!.all : left, index, found, steps)
        starts[state + 1] = steps.length
      }
      first.push(starts)
      to.push(Int32Array.from(steps))
      close(bar + 1, found)
    }
    this.#choices = choices
    this.#first = first
    this.#to = to
    this.start = choices[0]!.map((choice) => this.#costs[0]![choice]!)
    this.end = new Int32Array(choices.at(-1)!.length)
  }

  fillingAt(layer: number, state: number): Filling {
    return this.#fillings[layer]![this.#choices[layer]![state]!]!
  }

  size(layer: number): number {
    return this.#choices[layer]!.length
  }

  stepBack(layer: number, next: Int32Array, into: Int32Array): void {
    into.fill(IMPOSSIBLE)
    for (let state = 0; state < into.length; state++)
      this.successors(layer, state, (to, cost) => {
        into[state] = Math.min(into[state]!, next[to]! + cost)
      })
  }

  successors(layer: number, state: number, visit: (next: number, cost: number) => void): void {
    const here = this.fillingAt(layer, state)
    const steps = this.#to[layer]!
    for (let i = this.#first[layer]![state]!; i < this.#first[layer]![state + 1]!; i++) {
      const choice = this.#choices[layer + 1]![steps[i]!]!
      const after = termAfter(here, this.#fillings[layer + 1]![choice]!)?.points ?? 0
      visit(steps[i]!, this.#costs[layer + 1]![choice]! + after)
    }
  }

  /** Plain bars first, then in the order of the vocabulary: so the busier bar comes later. */
  rank(layer: number, state: number): number {
    return this.#choices[layer]![state]!
  }

  label(layer: number, state: number): number {
    return this.#choices[layer]![state]!
  }
}

/** What a phrase wants of each filling, as digits of one number. */
interface Wanted {
  readonly all: number
  readonly digits: ReadonlyMap<string, { readonly stride: number; readonly radix: number }>
}

function wantedOf(shares: ReadonlyMap<string, number>): Wanted {
  const digits = new Map<string, { stride: number; radix: number }>()
  let stride = 1
  let all = 0
  for (const [id, count] of shares) {
    if (count === 0) continue
    digits.set(id, { stride, radix: count + 1 })
    all += count * stride
    stride *= count + 1
  }
  return { all, digits }
}

/**
 * For each bar, how many bars of its phrase each filling gets: shares of the weights by largest remainder, the earlier in the
 * vocabulary first, what one phrase is left short of being owed to it in the next. Bars that differ in what fits them (another metre,
 * another rule) are shared out apart.
 */
function sharesOf(
  fillings: readonly (readonly Filling[])[],
  phrases: readonly number[],
): readonly ReadonlyMap<string, number>[] {
  const keyOf = (bar: number) => fillings[bar]!.map(({ id, weight }) => `${id} ${weight}`).join()
  const shares = new Map<number, Map<string, number>>()
  const owed = new Map<string, ReadonlyMap<string, number>>()
  for (const phrase of new Set(phrases)) {
    const kinds = new Map<string, number[]>()
    for (const [bar, of] of phrases.entries()) {
      if (of !== phrase) continue
      const kind = kinds.get(keyOf(bar)) ?? []
      kind.push(bar)
      kinds.set(keyOf(bar), kind)
    }
    const total = new Map<string, number>()
    for (const [kind, bars] of kinds) {
      const { seats, short } = largestRemainder(fillings[bars[0]!]!, bars.length, owed.get(kind))
      for (const [id, count] of seats) total.set(id, (total.get(id) ?? 0) + count)
      owed.set(kind, short)
    }
    shares.set(phrase, total)
  }
  return phrases.map((phrase) => shares.get(phrase)!)
}

/** Seats by weight, and what each is short of or, below 0, has too much. */
function largestRemainder(
  fillings: readonly Filling[],
  seats: number,
  owed: ReadonlyMap<string, number> | undefined = undefined,
): { readonly seats: ReadonlyMap<string, number>; readonly short: ReadonlyMap<string, number> } {
  const sum = fillings.reduce((total, filling) => total + filling.weight, 0)
  const short = new Map(fillings.map(({ id, weight }) => [id, (seats * weight) / sum + (owed?.get(id) ?? 0)]))
  const given = new Map(fillings.map(({ id }) => [id, 0]))
  for (let seat = 0; seat < seats; seat++) {
    const { id } = fillings.reduce((most, one) => (short.get(one.id)! > short.get(most.id)! ? one : most))
    short.set(id, short.get(id)! - 1)
    given.set(id, given.get(id)! + 1)
  }
  return { seats: given, short }
}

/**
 * The onsets of cells laid on a form, each with its chord. A note pushed over a beat or a bar line belongs to the chord that it
 * anticipates; where no chord sounds nothing is struck, and a note before ends there.
 *
 * @returns in order of time
 */
export function slotsOf(form: Form, cells: readonly PlacedCell[], loop: boolean): readonly Slot[] {
  const slots: Slot[] = []
  let changeIndex = 0
  for (const onset of tile(cells, { loop })) {
    const { startTick } = onset
    while (endOf(form, changeIndex) <= startTick) changeIndex++
    const anticipated = onset.pushed ? anticipatedBy(form, changeIndex, startTick, startTick + onset.ticks) : undefined
    const own = anticipated ?? changeIndex
    if (!form.changes[changeIndex]!.chord || !form.changes[own]!.chord) continue
    const bar = form.bars[form.changes[changeIndex]!.barIndex]!
    slots.push({
      startTick,
      ticks: Math.min(onset.ticks, silenceAfter(form, own, startTick) - startTick),
      barIndex: bar.index,
      changeIndex: own,
      strength: strengthOf(bar, startTick),
      cell: onset.from.id,
      accent: onset.accent,
      length: onset.length,
      pushed: onset.pushed,
      ghost: onset.ghost,
    })
  }
  return slots
}

function endOf(form: Form, changeIndex: number): Tick {
  const change = form.changes[changeIndex]!
  return change.startTick + change.ticks
}

/** The change that a tied note runs into; past the end of the form, its first. */
function anticipatedBy(form: Form, changeIndex: number, from: Tick, to: Tick): number | undefined {
  for (let index = changeIndex + 1; index < form.changes.length; index++) {
    const { startTick } = form.changes[index]!
    if (startTick > from && startTick < to) return index
    if (startTick >= to) return undefined
  }
  return to > form.ticks ? 0 : undefined
}

/** Where N.C. next begins; the end of time if it does not. */
function silenceAfter(form: Form, changeIndex: number, from: Tick): Tick {
  for (let index = changeIndex; index < form.changes.length; index++) {
    const change = form.changes[index]!
    if (!change.chord && change.startTick > from) return change.startTick
  }
  return Number.POSITIVE_INFINITY
}

/** How strong a place of a bar is. */
export function strengthOf(bar: Pick<FormBar, 'startTick' | 'metre'>, tick: Tick): Strength {
  const at = tick - bar.startTick
  if (at === 0) return 'one'
  if (middlesOf(bar.metre).includes(at)) return 'middle'
  let beat = 0
  for (const ticks of beatsOf(bar.metre)) {
    if (beat === at) return 'beat'
    beat += ticks
  }
  const unit = Math.min(240, countTicks(bar.metre))
  return at % unit === 0 || at % 160 === 0 ? 'off' : 'fine'
}
