import type { Tick } from '../music/tick.ts'
import type { MetreGrid } from './metre-grid.ts'

/** A stretch of a bar that is not divided by halves: a triplet, or a division that no value of ours has. */
export interface Stretch {
  readonly from: Tick
  readonly to: Tick
  readonly kind: 'triplet' | 'uneven'
}

/** What a way of reading a stretch costs; the cheapest is printed. */
interface Way {
  readonly cost: number
  readonly stretches: readonly Stretch[]
}

const PLAIN: Way = { cost: 0, stretches: [] }
/** A triplet of whole thirds; each sixth that is struck on top is better read as a smaller triplet. */
const POINTS = { thirds: 1, sixths: 1.5, oddSixth: 0.5, uneven: 50 }

/** A thirty-second: what lies on its multiples is divided by halves. */
const HALVES: Tick = 60

/**
 * The triplets of a bar, each as long as needed: a beat, its half, or two beats together for quarter triplets.
 *
 * @param places  where notes and rests of the bar begin and end
 */
export function stretchesIn(grid: MetreGrid, places: ReadonlySet<Tick>): readonly Stretch[] {
  const inside = [...places].filter((tick) => tick > 0 && tick < grid.ticks)
  if (inside.every((tick) => tick % HALVES === 0)) return []
  const between = (from: Tick, to: Tick) => inside.filter((tick) => tick > from && tick < to)

  const whole = (from: Tick, to: Tick): Way | undefined => {
    const offsets = between(from, to).map((tick) => tick - from)
    if (offsets.every((offset) => (from + offset) % HALVES === 0)) return PLAIN
    const ticks = to - from
    const halved = Math.log2((8 * ticks) / 960)
    if (!Number.isInteger(halved)) return undefined
    const stretches: readonly Stretch[] = [{ from, to, kind: 'triplet' }]
    if (offsets.every((offset) => (offset * 3) % ticks === 0)) return { cost: POINTS.thirds, stretches }
    if (offsets.some((offset) => (offset * 6) % ticks !== 0)) return undefined
    const odd = offsets.filter((offset) => (offset * 3) % ticks !== 0).length
    return { cost: POINTS.sixths + odd * POINTS.oddSixth, stretches }
  }

  const divided = (from: Tick, to: Tick): Way => {
    const uneven: Way = {
      cost: POINTS.uneven + (to - from) / grid.ticks,
      stretches: [{ from, to, kind: 'uneven' }],
    }
    const one = whole(from, to) ?? uneven
    const { level, places: joints } = grid.strongestInside(from, to)
    if (one.cost === 0 || level > SMALLEST_LEVEL || joints.length === 0) return one
    const edges = [from, ...joints, to]
    const parts = edges.slice(1).map((edge, index) => divided(edges[index]!, edge))
    const many = {
      cost: parts.reduce((total, { cost }) => total + cost, 0),
      stretches: parts.flatMap(({ stretches }) => stretches),
    }
    return many.cost < one.cost ? many : one
  }

  // From the first beat on: the cheapest way to each beat's end, by one, two or four beats at a time.
  const ways: Way[] = [PLAIN]
  for (let end = 1; end <= grid.beats.length; end++) {
    const options = [1, 2, 4]
      .filter((count) => count <= end)
      .map((count): Way | undefined => {
        const { from } = grid.beats[end - count]!
        const { to } = grid.beats[end - 1]!
        const own = count === 1 ? divided(from, to) : whole(from, to)
        const before = ways[end - count]!
        return own && { cost: before.cost + own.cost, stretches: [...before.stretches, ...own.stretches] }
      })
      .filter((way) => way !== undefined)
    ways.push(options.reduce((best, way) => (way.cost < best.cost ? way : best)))
  }
  return ways.at(-1)!.stretches
}

const SMALLEST_LEVEL = 5
