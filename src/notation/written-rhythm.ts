import { type Metre, metreOf } from '../music/metre.ts'
import { TICKS_PER_WHOLE, type Tick } from '../music/tick.ts'
import type { Cell } from '../rhythm/cell.ts'
import { gridOf, type Level, type MetreGrid } from './metre-grid.ts'
import { type NoteValue, nearestValue, noteValueOf } from './note-value.ts'
import { type Stretch, stretchesIn } from './triplets.ts'

/** A sound or a silence in a bar, in ticks from its bar line. */
export interface Sound {
  readonly from: Tick
  readonly to: Tick
  readonly kind: 'note' | 'ghost' | 'rest'
  /** the caller's own number for it */
  readonly index: number
}

/** A printed value of a bar: a note or a piece of one, or a rest. */
export interface WrittenValue {
  readonly from: Tick
  readonly to: Tick
  readonly kind: Sound['kind']
  readonly value: NoteValue
  /** of the sound it belongs to; of a rest without meaning */
  readonly index: number
}

/** A bar's rhythm as it is printed. */
export interface WrittenBar {
  /** in order of time; they fill the bar */
  readonly values: readonly WrittenValue[]
  /** indices into `values` */
  readonly beams: readonly (readonly number[])[]
  readonly triplets: readonly (readonly number[])[]
}

/**
 * Writes the rhythm of a bar so that its metre can be read: values are split where they would hide the middle of 4/4, a dotted beat, or
 * the start of a group, and joined by ties; rests show every beat; beams join the notes of one beat.
 *
 * Source: common practice, no source; in doubt the plainer reading for somebody who reads at sight.
 *
 * @param sounds  in order of time; what lies between them is silence
 */
export function writeBar(grid: MetreGrid, sounds: readonly Sound[]): WrittenBar {
  const filled = withRests(grid, sounds)
  const places = new Set(filled.flatMap(({ from, to }) => [from, to]))
  const stretches = stretchesIn(grid, places)

  const pieces = (sound: Sound): readonly WrittenValue[] =>
    cutBy(stretches, sound).flatMap(({ from, to, stretch }) =>
      split(from, to, { places: stretch ? placesOf(stretch, grid) : grid, rest: sound.kind === 'rest' }).map(
        (piece) => ({
          ...piece,
          kind: sound.kind,
          index: sound.index,
        }),
      ),
    )
  // A dead note does not ring, so it is not tied: what is left of it is silence.
  const shortened = filled.map((sound) => (sound.kind === 'ghost' ? { ...sound, to: pieces(sound)[0]!.to } : sound))
  const values = withRests(
    grid,
    shortened.filter(({ kind }) => kind !== 'rest'),
  ).flatMap(pieces)
  return { values, beams: beamsOf(values, grid), triplets: tripletsOf(values, stretches) }
}

/** The sounds with the silences between them. */
function withRests(grid: MetreGrid, sounds: readonly Sound[]): readonly Sound[] {
  const filled: Sound[] = []
  let at = 0
  for (const sound of sounds) {
    if (sound.kind === 'rest') continue
    if (sound.from > at) filled.push({ from: at, to: sound.from, kind: 'rest', index: -1 })
    filled.push(sound)
    at = sound.to
  }
  if (at < grid.ticks) filled.push({ from: at, to: grid.ticks, kind: 'rest', index: -1 })
  return filled
}

/** The parts of a sound inside and outside triplets. */
function cutBy(
  stretches: readonly Stretch[],
  { from, to }: Sound,
): readonly { readonly from: Tick; readonly to: Tick; readonly stretch: Stretch | undefined }[] {
  const edges = stretches.flatMap((stretch) => [stretch.from, stretch.to]).filter((edge) => from < edge && edge < to)
  const cuts = [...new Set([from, ...edges, to])].sort((a, b) => a - b)
  return cuts.slice(1).map((end, index) => {
    const start = cuts[index]!
    return { from: start, to: end, stretch: stretches.find((of) => of.from <= start && end <= of.to) }
  })
}

/** Places by their strength, and what may be written between them. */
interface Places {
  readonly additive: boolean
  readonly compound: boolean
  readonly kind?: Stretch['kind']
  level(tick: Tick): Level
  threefold(tick: Tick): boolean
  strongestInside(from: Tick, to: Tick): { readonly level: Level; readonly places: readonly Tick[] }
}

/** The places of a triplet: its ends, its thirds, their halves. Those of an uneven stretch are its ends. */
function placesOf({ from, to, kind }: Stretch, { compound }: MetreGrid): Places {
  const levels = new Map<Tick, Level>([
    [from, 0],
    [to, 0],
  ])
  const third = (to - from) / 3
  for (const [level, parts] of kind === 'triplet' ? ([3, 6, 12] as const).entries() : [])
    for (let tick = from; tick < to; tick += (3 * third) / parts) if (!levels.has(tick)) levels.set(tick, level + 3)
  return {
    additive: false,
    compound,
    kind,
    threefold: () => true,
    level: (tick) => levels.get(tick) ?? 12,
    strongestInside: (start, end) => {
      const inside = [...levels].filter(([tick]) => start < tick && tick < end)
      const level = Math.min(12, ...inside.map(([, of]) => of))
      const places = inside.filter(([, of]) => of === level).map(([tick]) => tick)
      return { level, places: places.sort((a, b) => a - b) }
    },
  }
}

interface Piece {
  readonly from: Tick
  readonly to: Tick
  readonly value: NoteValue
}

interface Writing {
  readonly places: Places
  readonly rest: boolean
}

/**
 * The values that a length is written in: one, if the metre allows it, else split at the strongest place inside, where that gives the
 * fewest; of equal ones a note on a beat keeps the longest value in front, a note off the beat reaches the next beat first.
 */
function split(from: Tick, to: Tick, writing: Writing): readonly Piece[] {
  const { places } = writing
  if (places.kind === 'uneven') return [{ from, to, value: nearestValue(to - from) }]
  const value = noteValueOf(to - from, places.kind === 'triplet')
  if (value && mayStand(from, to, value, writing)) return [{ from, to, value }]
  const cuts = places.strongestInside(from, to).places
  if (cuts.length === 0) return [{ from, to, value: value ?? nearestValue(to - from) }]
  const options = cuts.map((cut) => [...split(from, cut, writing), ...split(cut, to, writing)])
  if (places.level(from) <= 2 && !writing.rest) options.reverse()
  return options.reduce((best, option) => (option.length < best.length ? option : best))
}

function mayStand(from: Tick, to: Tick, value: NoteValue, { places, rest }: Writing): boolean {
  const start = places.level(from)
  const end = places.level(to)
  const hidden = places.strongestInside(from, to).level
  const onBeats = start <= 2 && end <= 2
  if (rest)
    return restMayStand(value, {
      start,
      end,
      hidden,
      thirds: hidden === 3 && places.threefold(from),
      compound: places.compound,
    })
  // A group, and a dotted beat, is hidden only by what begins and ends with one.
  if (places.additive && hidden === 1) return start <= 1 && end <= 1
  if (places.compound && hidden <= 2) return onBeats
  // The middle of the bar may be hidden by whole beats, as in quarter, half, quarter.
  if (hidden < start && onBeats) return true
  if (hidden >= start) return true
  // Off the beat: around one place, no finer than its halves, and never around the middle.
  const grain = hidden + 1
  const short = places.strongestInside(from, to).places.length === 1
  return start === grain && end <= grain && short
}

/** A rest stands where it begins something stronger than anything inside it, and is dotted only for whole dotted beats. */
function restMayStand(
  { dots }: NoteValue,
  at: {
    readonly start: Level
    readonly end: Level
    readonly hidden: Level
    readonly thirds: boolean
    readonly compound: boolean
  },
): boolean {
  const { start, end, hidden, thirds, compound } = at
  if (dots > 0 && !thirds && !(compound && hidden === 2)) return false
  if (thirds && start < 3 && end === 3) return true
  return hidden > start && hidden > end
}

/** The notes of a beat that have flags, where they follow each other. */
function beamsOf(values: readonly WrittenValue[], grid: MetreGrid): readonly (readonly number[])[] {
  const beams: number[][] = []
  let beat = -1
  for (const [index, { from, kind, value }] of values.entries()) {
    if (kind === 'rest' || value.part < 8) {
      beat = -1
      continue
    }
    if (grid.beatAt(from) !== beat) beams.push([])
    beat = grid.beatAt(from)
    beams.at(-1)!.push(index)
  }
  return beams.filter((beam) => beam.length > 1)
}

function tripletsOf(values: readonly WrittenValue[], stretches: readonly Stretch[]): readonly (readonly number[])[] {
  return stretches
    .filter(({ kind }) => kind === 'triplet')
    .map((stretch) => [...values.keys()].filter((index) => isInside(values[index]!, stretch)))
}

const isInside = (value: Piece | WrittenValue, { from, to }: Stretch): boolean => from <= value.from && value.to <= to

/** A printed note or rest of a rhythm cell. */
export interface RhythmSign {
  readonly kind: 'note' | 'rest'
  /** from the start of the cell */
  readonly startTick: Tick
  readonly ticks: Tick
  readonly value: NoteValue
  readonly head: 'plain' | 'ghost'
  readonly accent: boolean
  readonly length: 'short' | 'long' | undefined
  readonly tiedFromBefore: boolean
  readonly tiedOn: boolean
  /** what is said where it is struck: `1`, `and`, `e`, `a`, `trip`, `let`; `undefined` of rests, of tied notes and of other places */
  readonly count: string | undefined
}

/** A rhythm cell as it is printed on one line. */
export interface WrittenRhythm {
  /** in order of time; they fill the cell */
  readonly signs: readonly RhythmSign[]
  /** indices into `signs` that a beam joins */
  readonly beams: readonly (readonly number[])[]
  /** indices into `signs` over which a 3 stands */
  readonly triplets: readonly (readonly number[])[]
}

/** A rhythm cell as notes and rests, beams, triplets and the count of each note. */
export function rhythmOf(cell: Cell): WrittenRhythm {
  const metre = metreOfCell(cell)
  const grid = gridOf(metre)
  const signs: RhythmSign[] = []
  const beams: (readonly number[])[] = []
  const triplets: (readonly number[])[] = []
  for (let bar = 0; bar < cell.bars; bar++) {
    const at = bar * grid.ticks
    const sounds = cell.onsets.flatMap(({ tick, ticks, ghost }, index): Sound[] => {
      const from = Math.max(0, tick - at)
      const to = Math.min(grid.ticks, tick + ticks - at)
      return from < to ? [{ from, to, kind: ghost ? 'ghost' : 'note', index }] : []
    })
    const written = writeBar(grid, sounds)
    const shifted = (indices: readonly number[]) => indices.map((index) => index + signs.length)
    beams.push(...written.beams.map(shifted))
    triplets.push(...written.triplets.map(shifted))
    signs.push(...written.values.map((value) => signOf(value, at, cell)))
  }
  return { signs, beams, triplets }
}

function signOf({ from, to, kind, value, index }: WrittenValue, at: Tick, cell: Cell): RhythmSign {
  const startTick = at + from
  const onset = kind === 'rest' ? undefined : cell.onsets[index]
  const struck = onset !== undefined && onset.tick === startTick && !onset.continues
  const end = onset && onset.tick + onset.ticks
  return {
    kind: onset ? 'note' : 'rest',
    startTick,
    ticks: to - from,
    value,
    head: kind === 'ghost' ? 'ghost' : 'plain',
    accent: struck && onset.accent,
    length: struck ? onset.length : undefined,
    tiedFromBefore: onset !== undefined && !struck,
    tiedOn: kind === 'note' && end !== undefined && (at + to < end || onset!.tiedOver),
    count: struck ? countAt(from, TICKS_PER_WHOLE / cell.lower) : undefined,
  }
}

/** A cell's metre, with groups where a chart has no such metre: threes or twos of eighths. */
function metreOfCell({ upper, lower }: Cell): Metre {
  const groups: number[] = []
  const size = lower !== 8 ? 1 : upper % 3 === 0 ? 3 : 2
  for (let left = upper; left > 0; left -= groups.at(-1)!)
    groups.push(left === 3 && size === 2 ? 3 : Math.min(size, left))
  return metreOf(`${upper}/${lower}`) ?? { upper, lower, groups }
}

const SYLLABLES: readonly (readonly [parts: number, of: number, word: string])[] = [
  [1, 4, 'e'],
  [1, 2, 'and'],
  [3, 4, 'a'],
  [1, 3, 'trip'],
  [2, 3, 'let'],
]

/**
 * What is said at a place of the bar when it is counted: the number of the count, or the syllable of its part; `undefined` where
 * no syllable falls.
 *
 * @param count  ticks of a count
 *
 * @example
 * countAt(480, 480) // => '2'
 * countAt(720, 480) // => 'and'
 */
export function countAt(tick: Tick, count: Tick): string | undefined {
  const rest = tick % count
  if (rest === 0) return `${tick / count + 1}`
  return SYLLABLES.find(([parts, of]) => rest * of === count * parts)?.[2]
}
