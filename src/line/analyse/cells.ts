import type { Form, FormBar } from '../../chart/form.ts'
import { barTicks, beatsOf, countTicks, formatMetre, type Metre, metreOf } from '../../music/metre.ts'
import type { Tick } from '../../music/tick.ts'
import { type Cell, type CellOnset, type NamedCell, printCell } from '../../rhythm/cell.ts'
import { startsIn } from '../../rhythm/join.ts'
import { regrouped } from '../../rhythm/regroup.ts'

/** A stroke of a line that was heard, on the grid; a dead note is a ghost. */
export interface Stroke {
  readonly startTick: Tick
  /** until it ends, > 0 */
  readonly ticks: Tick
  readonly ghost: boolean
  /** absent: nobody knows, as in most recordings */
  readonly marks?: Pick<CellOnset, 'accent' | 'length'>
}

/** A stretch of the line in one rhythm. */
export interface HeardCell {
  readonly startTick: Tick
  readonly ticks: Tick
  /** id of a known cell; else the rhythm in our notation, as {@link parseCell} reads it */
  readonly cell: string
  readonly known: boolean
  /** other known cells that read the stretch just as well, in the order of the table */
  readonly also: readonly string[]
}

/**
 * Points of the segmentation, whole: hand-set, no source. A cell costs 4 however long it is, so long ones are cheap; a bar that no
 * cell reads is dearer than any way to read it.
 */
const POINTS = {
  cell: 4,
  /** a note that is longer or shorter than the cell has it */
  length: 3,
  /** by more than an eighth */
  farLength: 4,
  /** an accent, a short or a long that the cell has not, or has */
  mark: 1,
  /** a dead note too many or missing */
  ghost: 2,
  /** it is tied over its end and rings no further, or the other way round */
  tie: 2,
  /** one that a figure brings with it */
  given: 1,
  /** a note for a chord that arrives where the cell strikes nothing */
  added: 5,
  /** one that nobody expects here */
  unusual: 6,
  /** left at a beat before its end, for a figure */
  cut: 2,
  unknownBar: 4,
  unknownStroke: 5,
}

/** Others are named beside a cell that read the same strokes for at most so many points more. */
const AS_WELL = 2

const EIGHTH: Tick = 240

/** A cell as it may be heard: its first stroke may be taken by what rings in. */
interface Candidate {
  readonly cell: NamedCell
  /** in the table */
  readonly order: number
  /** onsets that are struck, dead ones left out; the first left out where it is taken */
  readonly struck: readonly CellOnset[]
  readonly dead: readonly CellOnset[]
  /** what the reading costs before lengths and marks are compared */
  readonly points: number
}

/** The words that a rhythm may be read with. */
export interface CellVocabulary {
  readonly cells: readonly NamedCell[]
  /** ids of those that are usual where the line comes from; absent: all */
  readonly usual?: ReadonlySet<string>
}

/** A stretch whose cell is known: that of a figure which the notes are. */
export interface GivenCell {
  readonly startTick: Tick
  readonly ticks: Tick
  /** id */
  readonly cell: string
}

/** The known cells of a metre by where they begin, how long they are and what they strike. */
type CellIndex = ReadonlyMap<Tick, ReadonlyMap<string, readonly Candidate[]>>

const keyOfMetre = (metre: Metre): string => `${formatMetre(metre)} ${metre.groups}`

const keyOf = (ticks: Tick, rings: boolean, struck: readonly Tick[]): string =>
  `${ticks}${rings ? '~' : ' '}${struck.join(' ')}`

const INDICES = new WeakMap<CellVocabulary, Map<string, CellIndex>>()

function indexOf(words: CellVocabulary, metre: Metre, cuts: readonly Tick[]): CellIndex {
  const known = INDICES.get(words) ?? new Map<string, CellIndex>()
  INDICES.set(words, known)
  const key = `${keyOfMetre(metre)} ${cuts}`
  const index = known.get(key) ?? indexMade(words, metre, cuts)
  known.set(key, index)
  return index
}

function indexMade({ cells, usual }: CellVocabulary, metre: Metre, cuts: readonly Tick[]): CellIndex {
  const index = new Map<Tick, Map<string, Candidate[]>>()
  const asUsual = metreOf(formatMetre(metre))
  for (const [order, written] of cells.entries()) {
    const isWhole = asUsual && written.bars === 1 && written.ticks === barTicks(metre) && !written.groups
    const moved = isWhole ? regrouped(written, asUsual, metre.groups) : undefined
    const cell = moved ? { ...written, ...moved } : written
    const starts = startsIn(cell, metre)
    if (starts.length === 0) continue
    const points = POINTS.cell + (!usual || usual.has(cell.id) ? 0 : POINTS.unusual)
    addTo(index, starts, { cell, order, points })
    if (cell.ticks > barTicks(metre)) continue
    for (const end of cuts)
      if (end < cell.ticks) addTo(index, starts, { cell: cutAt(cell, end), order, points: points + POINTS.cut })
  }
  return index
}

/** The lengths to which a cell may be cut: whole beats. */
function cutLengths(metre: Metre): readonly Tick[] {
  let end = 0
  return beatsOf(metre).map((beat) => {
    end += beat
    return end
  })
}

/** A cell up to a place in it. */
function cutAt(cell: NamedCell, end: Tick): NamedCell {
  const onsets = cell.onsets.filter(({ tick }) => tick < end)
  return {
    ...cell,
    ticks: end,
    onsets: onsets.map((onset) => ({ ...onset, ticks: Math.min(onset.ticks, end - onset.tick), tiedOver: false })),
  }
}

function addTo(
  index: Map<Tick, Map<string, Candidate[]>>,
  starts: readonly Tick[],
  { cell, order, points }: { readonly cell: NamedCell; readonly order: number; readonly points: number },
): void {
  const dead = cell.onsets.filter((onset) => onset.ghost)
  const sounded = cell.onsets.filter((onset) => !onset.ghost)
  const own = sounded.filter((onset) => !onset.continues)
  const first = sounded[0]
  const add = (rings: boolean, struck: readonly CellOnset[], more: number): void => {
    const places = struck.map((onset) => onset.tick)
    const key = keyOf(cell.ticks, rings, places)
    for (const start of starts) {
      const byKey = index.get(start) ?? new Map<string, Candidate[]>()
      index.set(start, byKey)
      byKey.set(key, [...(byKey.get(key) ?? []), { cell, order, struck, dead, points: points + more }])
    }
  }
  if (first?.continues) {
    add(true, own, 0)
    // A held sound that nothing rings into is struck.
    add(false, [first, ...own], POINTS.tie)
  } else {
    add(false, own, 0)
    // What rings in takes the place of the downbeat.
    if (first?.tick === 0) add(true, own.slice(1), 0)
  }
}

/** One way to read a stretch. */
interface Reading {
  readonly from: number
  readonly to: number
  readonly cost: number
  readonly cells: readonly string[]
}

/**
 * The rhythm of a line as cells, one after the other: the cheapest way to read it, of equals the one of fewest cells, then the first of
 * the table. A bar that none reads is written out. Bars without a stroke into which nothing rings are left out.
 *
 * @param strokes  in order of time, inside the form; of two at one tick the first counts
 * @param words    those that are known
 * @param given    stretches that are to be read so
 */
export function cellsHeard(
  form: Form,
  strokes: readonly Stroke[],
  words: CellVocabulary,
  given: readonly GivenCell[] = [],
): readonly HeardCell[] {
  const heard = strokes.filter((stroke, i) => i === 0 || strokes[i - 1]!.startTick < stroke.startTick)
  const indices = new Map<string, CellIndex>()
  const metres = [...new Set(form.bars.map(({ metre }) => metre))]
  // A figure may begin elsewhere than on a beat.
  const begun = given.map(({ startTick }) => {
    const bar = form.bars.findLast((one) => one.startTick <= startTick) ?? form.bars[0]!
    return { metre: keyOfMetre(bar.metre), tick: startTick - bar.startTick }
  })
  const cutsIn = (metre: Metre): readonly Tick[] => {
    const own = begun.filter((one) => one.tick > 0 && one.metre === keyOfMetre(metre)).map(({ tick }) => tick)
    return [...new Set([...cutLengths(metre), ...own])]
  }
  const lengths = [...new Set([...words.cells.map((cell) => cell.ticks), ...metres.flatMap(cutsIn)])]
  const places = placesOf(form, given)
  const best: { cost: number; count: number; by: Reading | undefined }[] = places.map(() => ({
    cost: Number.POSITIVE_INFINITY,
    count: 0,
    by: undefined,
  }))
  if (places.length === 0) return []
  best[0] = { cost: 0, count: 0, by: undefined }
  const placeAt = new Map(places.map(({ tick }, i) => [tick, i]))
  const arrivals = new Set(form.changes.flatMap(({ held, startTick }) => (held ? [] : [startTick])))
  const givenAt = new Map(given.map((cell) => [cell.startTick, cell]))
  let first = 0
  for (const [at, { tick, bar }] of places.entries()) {
    while (first < heard.length && heard[first]!.startTick < tick) first++
    if (!bar || best[at]!.cost === Number.POSITIVE_INFINITY) continue
    const take = (to: number, more: number, names: readonly string[]): void => {
      const cost = best[at]!.cost + more
      const count = best[at]!.count + 1
      const there = best[to]!
      if (cost < there.cost || (cost === there.cost && count < there.count))
        best[to] = { cost, count, by: { from: at, to, cost: more, cells: names } }
    }
    const isGiven = givenAt.get(tick)
    const end = isGiven && placeAt.get(tick + isGiven.ticks)
    if (isGiven && end !== undefined) take(end, POINTS.given, [isGiven.cell])
    const before = heard[first - 1]
    const rings = before !== undefined && before.startTick + before.ticks > tick
    const within = (end: Tick): readonly Stroke[] => {
      let last = first
      while (last < heard.length && heard[last]!.startTick < end) last++
      return heard.slice(first, last)
    }
    const key = keyOfMetre(bar.metre)
    const index = indices.get(key) ?? indexOf(words, bar.metre, cutsIn(bar.metre))
    indices.set(key, index)
    const byKey = index.get(tick - bar.startTick)
    for (const ticks of lengths) {
      const to = placeAt.get(tick + ticks)
      if (to === undefined || !byKey) continue
      // A cell of several bars needs bars of its own metre.
      if (ticks > bar.ticks && !sameMetres(form, bar, tick + ticks)) continue
      if (given.some((one) => one.startTick < tick + ticks && one.startTick + one.ticks > tick)) continue
      const inside = within(tick + ticks)
      const struck = inside.filter((stroke) => !stroke.ghost)
      const isRungInto = rings && struck[0]?.startTick !== tick
      const own = struck.filter(({ startTick }) => startTick === tick || !arrivals.has(startTick))
      const priced = [struck, ...(own.length < struck.length ? [own] : [])].flatMap((some) => {
        const places = some.map((stroke) => stroke.startTick - tick)
        const added = POINTS.added * (struck.length - some.length)
        const candidates = byKey.get(keyOf(ticks, isRungInto, places)) ?? []
        return candidates.map((candidate) => ({
          id: candidate.cell.id,
          cost: added + costOf(candidate, inside, some, tick, struck),
        }))
      })
      if (priced.length === 0) continue
      const least = Math.min(...priced.map(({ cost }) => cost))
      const ids = priced
        .filter(({ cost }) => cost <= least + AS_WELL)
        .sort((a, b) => a.cost - b.cost)
        .map(({ id }) => id)
      take(to, least, [...new Set(ids)])
    }
    const barEnd = bar.startTick + bar.ticks
    const isSilent = !rings && within(barEnd).length === 0
    if (isSilent) take(placeAt.get(barEnd)!, 0, [])
    // Of a bar that no cell reads, one may still read the beginning or the end.
    for (let to = at + 1; !isSilent && places[to] && places[to]!.tick <= barEnd; to++) {
      const end = places[to]!.tick
      const isPart = tick > bar.startTick || end < barEnd
      if (tick > bar.startTick && end < barEnd) continue
      if (
        isPart &&
        ((tick - bar.startTick) % countTicks(bar.metre) !== 0 || given.some(({ startTick }) => startTick === tick))
      )
        continue
      const inside = within(end)
      if (isPart && inside.length === 0) continue
      take(to, POINTS.unknownBar + POINTS.unknownStroke * inside.length, [])
    }
  }

  const read: HeardCell[] = []
  for (let at = places.length - 1; at > 0; ) {
    const { from, to, cells: names } = best[at]!.by!
    const startTick = places[from]!.tick
    const ticks = places[to]!.tick - startTick
    const [cell, ...also] = names
    if (cell !== undefined) read.push({ startTick, ticks, cell, known: true, also })
    else {
      const written = writtenOut(places[from]!.bar!, startTick, startTick + ticks, heard)
      if (written !== undefined) read.push({ startTick, ticks, cell: written, known: false, also: [] })
    }
    at = from
  }
  return read.reverse()
}

/** Where a cell may begin or end: beats, with the bar they are in, and the end. */
function placesOf(
  form: Form,
  given: readonly GivenCell[],
): readonly { readonly tick: Tick; readonly bar: FormBar | undefined }[] {
  const begun = given.map(({ startTick }) => startTick)
  const places: { tick: Tick; bar: FormBar | undefined }[] = []
  for (const bar of form.bars) {
    const end = bar.startTick + bar.ticks
    const beats = [0, ...cutLengths(bar.metre)].map((ticks) => bar.startTick + ticks)
    const own = begun.filter((tick) => tick > bar.startTick && tick < end && !beats.includes(tick))
    for (const tick of [...beats, ...own].sort((a, b) => a - b)) if (tick < end) places.push({ tick, bar })
  }
  if (places.length > 0) places.push({ tick: form.ticks, bar: undefined })
  return places
}

function sameMetres(form: Form, from: FormBar, end: Tick): boolean {
  for (let i = from.index; i < form.bars.length && form.bars[i]!.startTick < end; i++)
    if (formatMetre(form.bars[i]!.metre) !== formatMetre(from.metre)) return false
  return true
}

/** What it costs to read strokes as a cell that strikes at the same places. */
function costOf(
  { cell, struck, dead, points }: Candidate,
  inside: readonly Stroke[],
  heard: readonly Stroke[],
  tick: Tick,
  struckIn: readonly Stroke[],
): number {
  let cost = points
  const end = tick + cell.ticks
  for (const [i, stroke] of heard.entries()) {
    const onset = struck[i]!
    const until = Math.min(stroke.startTick + stroke.ticks, end)
    const isCut = heard.length < struckIn.length && struckIn.some(({ startTick }) => startTick === until)
    const off = isCut ? 0 : Math.abs(until - stroke.startTick - onset.ticks)
    if (off > 0) cost += off > EIGHTH ? POINTS.farLength : POINTS.length
    if (stroke.marks && stroke.marks.accent !== onset.accent) cost += POINTS.mark
    if (stroke.marks && stroke.marks.length !== onset.length) cost += POINTS.mark
  }
  const last = heard.at(-1)
  const ringsOut = last !== undefined && last.startTick + last.ticks > end
  if (ringsOut !== (struck.at(-1)?.tiedOver ?? false)) cost += POINTS.tie
  const ghosts = inside.filter((stroke) => stroke.ghost).map((stroke) => stroke.startTick - tick)
  for (const ghost of ghosts) if (!dead.some((onset) => onset.tick === ghost)) cost += POINTS.ghost
  for (const onset of dead) if (!ghosts.includes(onset.tick)) cost += POINTS.ghost
  return cost
}

/** The rhythm of a bar, or of part of it, in our notation; `undefined` where it is silent. */
function writtenOut(bar: FormBar, begin: Tick, end: Tick, heard: readonly Stroke[]): string | undefined {
  const inBar = heard.filter(({ startTick, ticks }) => startTick < end && startTick + ticks > begin)
  if (inBar.length === 0) return undefined
  const onsets: CellOnset[] = []
  for (const [i, { startTick, ticks, ghost, marks }] of inBar.entries()) {
    const continues = startTick < begin
    if (continues && ghost) continue
    const from = Math.max(startTick, begin)
    const next = inBar[i + 1]?.startTick ?? end
    const until = ghost ? next : Math.min(startTick + ticks, next, end)
    if (until <= from) continue
    const tiedOver = !ghost && startTick + ticks > end && next >= end
    onsets.push({
      tick: from - begin,
      ticks: until - from,
      ghost,
      accent: !continues && (marks?.accent ?? false),
      length: ghost || continues ? undefined : marks?.length,
      tiedOver,
      continues,
    })
  }
  if (onsets.length === 0) return undefined
  // A pick-up is as many counts as it is long.
  const upper = (end - begin) / countTicks(bar.metre)
  const cell: Cell = { upper, lower: bar.metre.lower, bars: 1, ticks: end - begin, onsets }
  return printCell(cell)
}
