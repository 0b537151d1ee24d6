import { barTicks, beatsOf, countTicks, isCompound, type Metre, middlesOf } from '../music/metre.ts'
import type { Tick } from '../music/tick.ts'

/**
 * How strong a place of the bar is: 0 the bar line, 1 the middle or the start of a later group, 2 a beat, and from 3 on its parts:
 * thirds or halves of the beat first, then halves of these.
 */
export type Level = number

/** Weaker than any place that a value of ours can begin on. */
const WEAKEST: Level = 12

/** The places of a bar by their strength, for writing rhythm so that the metre can be read. */
export class MetreGrid {
  readonly metre: Metre
  readonly ticks: Tick
  /** where each beat begins and ends; beams and triplets keep to them */
  readonly beats: readonly { readonly from: Tick; readonly to: Tick }[]
  /** the parts that a bar falls into first: its halves or groups */
  readonly halves: readonly { readonly from: Tick; readonly to: Tick }[]
  /** no value hides the start of a group: 5/4, 7/8 and whatever else adds up unevenly */
  readonly additive: boolean
  readonly compound: boolean
  readonly #levels = new Map<Tick, Level>()

  constructor(metre: Metre) {
    this.metre = metre
    this.ticks = barTicks(metre)
    this.compound = isCompound(metre)
    const beats: { from: Tick; to: Tick }[] = []
    for (const ticks of beatsOf(metre)) {
      const from = beats.at(-1)?.to ?? 0
      beats.push({ from, to: from + ticks })
    }
    this.beats = beats
    const middles = middlesOf(metre)
    this.halves = [0, ...middles].map((from, index) => ({ from, to: middles[index] ?? this.ticks }))
    this.additive = middles.length > 0 && !this.compound && !(metre.upper === 4 && metre.lower === 4)

    this.#levels.set(0, 0).set(this.ticks, 0)
    for (const middle of middles) this.#levels.set(middle, 1)
    for (const { from, to } of beats) {
      this.#mark(from, 2)
      this.#divide(from, to, partsOf(to - from, countTicks(metre)), 3)
    }
  }

  level(tick: Tick): Level {
    return this.#levels.get(tick) ?? WEAKEST
  }

  /** The beat that a place lies in; at the very end of the bar the last. */
  beatAt(tick: Tick): number {
    const beat = this.beats.findIndex(({ to }) => tick < to)
    return beat < 0 ? this.beats.length - 1 : beat
  }

  /** Whether the beat that a place lies in falls into thirds. */
  threefold(tick: Tick): boolean {
    const { from, to } = this.beats[this.beatAt(tick)]!
    return partsOf(to - from, countTicks(this.metre)) === 3
  }

  /** The strongest places between two others, themselves not among them. */
  strongestInside(from: Tick, to: Tick): { readonly level: Level; readonly places: readonly Tick[] } {
    let level = WEAKEST
    let places: Tick[] = []
    for (const [tick, of] of this.#levels) {
      if (tick <= from || tick >= to || of > level) continue
      if (of < level) places = []
      level = of
      places.push(tick)
    }
    return { level, places: places.sort((a, b) => a - b) }
  }

  #mark(tick: Tick, level: Level): void {
    if (!this.#levels.has(tick)) this.#levels.set(tick, level)
  }

  #divide(from: Tick, to: Tick, parts: number, level: Level): void {
    const part = (to - from) / parts
    if (!Number.isInteger(part) || part < SMALLEST) return
    for (let i = 0; i < parts; i++) {
      if (i > 0) this.#mark(from + i * part, level)
      this.#divide(from + i * part, from + (i + 1) * part, 2, level + 1)
    }
  }
}

/** A thirty-second, the smallest value we print. */
const SMALLEST: Tick = 60

/** Into how many parts a beat falls: halves, or thirds, or as many counts as it has. */
function partsOf(beat: Tick, count: Tick): number {
  let counts = beat / count
  if (counts === 1) return 2
  while (counts % 2 === 0) counts /= 2
  return counts === 1 ? 2 : counts
}

const grids = new Map<string, MetreGrid>()

/** The grid of a metre with its groups. */
export function gridOf(metre: Metre): MetreGrid {
  const name = `${metre.upper}/${metre.lower} ${metre.groups.join('+')}`
  const grid = grids.get(name) ?? new MetreGrid(metre)
  grids.set(name, grid)
  return grid
}
