import type { Tick } from '../../music/tick.ts'
import { IMPOSSIBLE } from '../../search/trellis.ts'
import { timesOf } from '../repeated-bars.ts'
import type { LaidBar } from './bar.ts'
import type { Spot } from './neck.ts'
import type { Problem, Solved } from './problem.ts'
import type { Alternatives, Swept } from './sweep.ts'

/** What is struck in a bar: by tick, the place on the neck. A downbeat that a push before it has taken is missing. */
type Struck = ReadonlyMap<Tick, Spot>

/** What bars are narrowed to, by bar: a rhythm, and the places of its notes. */
interface Narrowed {
  readonly rhythms: ReadonlyMap<number, string>
  readonly places: ReadonlyMap<number, Struck>
}

/**
 * The best line that is found of a plan in its stance in which every bar has the same notes wherever it is played again, every seam paid
 * for: the bars that differ in the best line of all are settled one after the other, each with the rhythm and then with the notes that cost
 * least while those after it are still free. `undefined` if that leads nowhere.
 *
 * A downbeat that a push takes in one playing is struck in another.
 *
 * @param repeats  for each bar, the first that is the same
 * @param solved   the best line in which each playing has its own notes
 */
export function sameEachTime(repeats: readonly number[], problem: Problem, solved: Solved): Solved | undefined {
  const ways = problem.plans.alternativesOf(solved.plan)
  const times = timesOf(repeats)
  const rhythms = new Map<number, string>()
  const places = new Map<number, Struck>()
  let now = solved
  for (const bars of times.values()) {
    if (bars.length === 1) continue
    const first = bars[0]!
    const settle = (narrowings: readonly Narrowed[]): Narrowed | undefined => {
      let best: { readonly narrowed: Narrowed; readonly found: Solved } | undefined
      for (const narrowed of narrowings) {
        const found = narrowedTo(problem, solved, ways, narrowed)
        if (found && (!best || found.swept.cost < best.found.swept.cost)) best = { narrowed, found }
      }
      if (best) now = best.found
      return best?.narrowed
    }
    const all = (value: string) => new Map([...rhythms, ...bars.map((bar) => [bar, value] as const)])
    const own = bars.map((bar) => rhythmOf(now.swept.bars[bar]!))
    if (own.some((rhythm) => rhythm !== own[0])) {
      const common = [...new Set(ways[first]!.map(rhythmOf))]
      const settled = settle(common.map((rhythm) => ({ rhythms: all(rhythm), places })))
      if (!settled) return undefined
    }
    const rhythm = rhythmOf(now.swept.bars[first]!)
    const struck = struckIn(problem, now.swept)
    const notes = bars.map((bar) => struck[bar]!)
    const narrowings = notes
      .filter((one, at) => notes.findIndex((other) => isAlike(one, other) && one.size === other.size) === at)
      .map((one) => ({ rhythms: all(rhythm), places: new Map([...places, ...bars.map((bar) => [bar, one] as const)]) }))
    const settled = narrowings.length === 1 ? narrowings[0] : settle(narrowings)
    if (!settled) return undefined
    for (const bar of bars) {
      rhythms.set(bar, rhythm)
      places.set(bar, settled.places.get(bar)!)
    }
  }
  return isSame(repeats, now.swept.bars, struckIn(problem, now.swept)) ? now : undefined
}

/** The best line of a plan in a stance with some bars narrowed to a rhythm and to notes. */
function narrowedTo(
  { sweep, voicer }: Problem,
  { plan, swept }: Solved,
  ways: Alternatives,
  { rhythms, places }: Narrowed,
): Solved | undefined {
  const narrowed = ways.map((bars, bar) => {
    const rhythm = rhythms.get(bar)
    return rhythm === undefined ? bars : bars.filter((laid) => rhythmOf(laid) === rhythm)
  })
  if (narrowed.some((bars) => bars.length === 0)) return undefined
  const priced = sweep.stances.find(({ stance }) => stance === swept.stance)!
  const { grips } = voicer.neck
  const dearer = (bar: number, tick: Tick, _: number, grip: number): number => {
    const place = places.get(bar)?.get(tick)
    return !place || isAt(grips[grip]!, place) ? 0 : IMPOSSIBLE
  }
  const found = sweep.solve(narrowed, priced, undefined, { dearer, change: plan.change })
  return found && { plan, swept: found }
}

function struckIn({ voicer }: Problem, { bars, notes }: Swept): readonly Struck[] {
  const struck = bars.map(() => new Map<Tick, Spot>())
  for (const { barIndex, bar, slot, candidate } of notes) {
    const { laid, grips } = bar.slots[slot]!
    struck[barIndex]!.set(laid.onset.tick, voicer.neck.grips[grips[candidate]!]!)
  }
  return struck
}

/** Whether all bars have the rhythm and the notes of the first that is the same. */
function isSame(repeats: readonly number[], bars: readonly LaidBar[], struck: readonly Struck[]): boolean {
  return repeats.every(
    (first, bar) => isAlike(struck[first]!, struck[bar]!) && rhythmOf(bars[first]!) === rhythmOf(bars[bar]!),
  )
}

function isAlike(one: Struck, other: Struck): boolean {
  const has = (notes: Struck, [tick, place]: readonly [Tick, Spot]): boolean => {
    const own = notes.get(tick)
    return own ? isAt(own, place) : tick === 0
  }
  return [...one].every((note) => has(other, note)) && [...other].every((note) => has(one, note))
}

function isAt(one: Spot, other: Spot): boolean {
  return one.string === other.string && one.fret === other.fret
}

const rhythms = new WeakMap<LaidBar, string>()

/** All onsets of a laid bar, and what they were made of. */
function rhythmOf(laid: LaidBar): string {
  const known = rhythms.get(laid)
  if (known !== undefined) return known
  const { pairing, figure, slots, ghosts } = laid
  const onsets = [...slots.map(({ onset }) => onset), ...ghosts]
  const rhythm = [
    pairing?.row,
    figure,
    laid.tiedOver,
    ...onsets.map(({ tick, ticks, ghost }) => `${tick}+${ticks}${ghost}`),
  ].join(' ')
  rhythms.set(laid, rhythm)
  return rhythm
}
