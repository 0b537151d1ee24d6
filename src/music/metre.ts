import { TICKS_PER_WHOLE, type Tick } from './tick.ts'

/**
 * A metre with its beat groups. `groups` counts in units of the lower figure and adds up to `upper`: 7/8 in `2+2+3`.
 */
export interface Metre {
  readonly upper: number
  readonly lower: number
  readonly groups: readonly number[]
}

/** Beat groups of the metres a chart may have. Source: common practice, no source; 5/4 as 3+2 and 7/8 as 2+2+3. */
const GROUPS: Readonly<Record<string, readonly number[]>> = {
  '2/4': [1, 1],
  '3/4': [1, 1, 1],
  '4/4': [1, 1, 1, 1],
  '5/4': [3, 2],
  '6/8': [3, 3],
  '7/8': [2, 2, 3],
  '9/8': [3, 3, 3],
  '12/8': [3, 3, 3, 3],
}

/** The metres a chart may have, as they are written. */
export const METRES: readonly string[] = Object.keys(GROUPS)

/**
 * The metre written as `text`, with its usual groups or with `groups`; `undefined` if a chart may not have it or the
 * groups do not add up.
 *
 * @example
 * metreOf('7/8') // => { upper: 7, lower: 8, groups: [2, 2, 3] }
 * metreOf('5/4', [2, 3]) // => { upper: 5, lower: 4, groups: [2, 3] }
 * metreOf('11/8') // => undefined
 */
export function metreOf(text: string, groups?: readonly number[]): Metre | undefined {
  const usual = GROUPS[text]
  if (!usual) return undefined
  const [upper, lower] = text.split('/').map(Number) as [number, number]
  if (groups && groups.reduce((sum, group) => sum + group, 0) !== upper) return undefined
  return { upper, lower, groups: groups ?? usual }
}

/** The metre as it is written, without its groups. */
export function formatMetre(metre: Pick<Metre, 'upper' | 'lower'>): string {
  return `${metre.upper}/${metre.lower}`
}

/** Ticks of a whole bar. */
export function barTicks(metre: Metre): Tick {
  return metre.upper * countTicks(metre)
}

/** Ticks of one count, the unit of the lower figure. */
export function countTicks(metre: Metre): Tick {
  return TICKS_PER_WHOLE / metre.lower
}

/** 6/8, 9/8 and 12/8: the beat is the dotted quarter. */
export function isCompound(metre: Metre): boolean {
  return metre.lower === 8 && metre.upper % 3 === 0
}

/**
 * The beats of a bar as lengths in ticks: the units that slashes count and chords are shared out over. The dotted quarter
 * in compound metres, each group in 7/8, the quarter elsewhere.
 *
 * @example
 * beatsOf(metreOf('7/8')!) // => [480, 480, 720]
 */
export function beatsOf(metre: Metre): readonly Tick[] {
  const known = BEATS.get(metre) ?? beatsIn(metre)
  BEATS.set(metre, known)
  return known
}

/** The same few metres are asked for at every note. */
const BEATS = new WeakMap<Metre, readonly Tick[]>()

function beatsIn(metre: Metre): readonly Tick[] {
  const unit = countTicks(metre)
  if (isCompound(metre)) return Array.from({ length: metre.upper / 3 }, () => 3 * unit)
  if (metre.lower === 8) return metre.groups.map((group) => group * unit)
  return Array.from({ length: metre.upper }, () => unit)
}

/** Ticks of the beat that a tempo counts: the dotted quarter in compound metres, the quarter elsewhere. */
export function tempoBeatTicks(metre: Metre): Tick {
  return isCompound(metre) ? 720 : 480
}

/**
 * Where the strong second half (or each later group) of the bar begins, in ticks from its bar line: 3 in 4/4, 7 in 12/8, 4 in
 * 5/4 and 6/8, 3 and 5 in 7/8; none in 2/4, 3/4 and 9/8.
 */
export function middlesOf(metre: Metre): readonly Tick[] {
  const unit = countTicks(metre)
  if (metre.lower === 4 && metre.upper === 4) return [2 * unit]
  if (metre.lower === 8 && metre.upper === 12) return [6 * unit]
  if (metre.lower === 4 && metre.upper !== 5) return []
  if (metre.upper === 9) return []
  const starts: Tick[] = []
  let at = 0
  for (const group of metre.groups.slice(0, -1)) {
    at += group * unit
    starts.push(at)
  }
  return starts
}
