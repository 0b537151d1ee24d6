import { barTicks, beatsOf, countTicks, type Metre, middlesOf, tempoBeatTicks } from '../../music/metre.ts'
import type { Tick } from '../../music/tick.ts'
import type { Strength } from '../../rhythm/slot.ts'
import type { Deal, Role } from './table.ts'

/** Where things stand in a bar of one metre, in ticks from its bar line. */
export interface BarMap {
  readonly metre: Metre
  readonly ticks: Tick
  readonly beats: readonly Tick[]
  readonly middles: readonly Tick[]
  /** where the second half begins; the last group in metres that have none */
  readonly half: Tick
  /** where the last beat begins */
  readonly lastBeat: Tick
  readonly beatTicks: Tick
}

/** The map of a metre. */
export function barMapOf(metre: Metre): BarMap {
  const ticks = barTicks(metre)
  const beats: Tick[] = []
  let at = 0
  for (const beat of beatsOf(metre)) {
    beats.push(at)
    at += beat
  }
  const middles = middlesOf(metre)
  const beatTicks = tempoBeatTicks(metre)
  return {
    metre,
    ticks,
    beats,
    middles,
    half: middles.at(-1) ?? (metre.upper === 3 ? 2 * countTicks(metre) : beats[beats.length >> 1]!),
    lastBeat: ticks - beatTicks,
    beatTicks,
  }
}

/** The place of an onset, without regard to chords: count 1, second half, another beat, off the beat, finer. */
export function placeOf(map: BarMap, tick: Tick): 'one' | 'mid' | 'back' | 'off' | 'fine' {
  if (tick === 0) return 'one'
  if (map.middles.includes(tick)) return 'mid'
  if (map.beats.includes(tick)) return 'back'
  if (tick % 240 === 0) return 'off'
  return map.metre.lower === 4 && tick % 160 === 0 ? 'off' : 'fine'
}

/** The role of an onset: its place, but `last` in the last beat; an arrival is `one` wherever it stands. */
export function roleOf(map: BarMap, tick: Tick, arrives: boolean): Role {
  if (arrives) return 'one'
  const place = placeOf(map, tick)
  return place !== 'one' && place !== 'mid' && tick >= map.lastBeat ? 'last' : place
}

/** How strong a place is, for whoever plays it. */
export function strengthOf(map: BarMap, tick: Tick): Strength {
  const place = placeOf(map, tick)
  return place === 'mid' ? 'middle' : place === 'back' ? 'beat' : place
}

/** Tokens dealt to onsets. */
export interface Dealt {
  /** for each onset, which token it gets, from 0 */
  readonly tokens: readonly number[]
  /** for each onset, whether the pattern begins again there */
  readonly restarts: readonly boolean[]
  /** how many tokens were used, for a deal that goes on over the bar line */
  readonly used: number
}

/**
 * Deals a pattern to the struck onsets of a span of one chord.
 *
 * `each` gives the next token to each onset, `beat` to each beat (off-beats repeat it); `run` and `beatrun` do the same but go on
 * from `position`; `half` gives the first token to the first half of the bar and the second to the second; `tail` holds the first
 * token back for all but the last onsets; `low-high` puts the first on beats and the second elsewhere. Common practice, no
 * source.
 *
 * @param ticks     the onsets, from the bar line, in order of time
 * @param length    how many tokens the pattern has, >= 1
 * @param position  tokens already used since the chord began; 0 unless the deal runs on
 * @param lead      onsets at the end that a lead will take over; `tail` ends before them
 */
export function deal(
  map: BarMap,
  ticks: readonly Tick[],
  length: number,
  way: Deal,
  position: number,
  lead: number,
): Dealt {
  const tokens: number[] = []
  const restarts: boolean[] = []
  const goesRound = way === 'each' || way === 'beat' || way === 'run' || way === 'beatrun'
  let used = 0
  for (const [index, tick] of ticks.entries()) {
    const onBeat = map.beats.includes(tick)
    let token = 0
    switch (way) {
      case 'each':
      case 'run':
        token = position + index
        used = index + 1
        break
      case 'beat':
      case 'beatrun':
        if (index === 0 || onBeat) used++
        token = position + used - 1
        break
      case 'half':
        token = tick >= map.half && (ticks[0]! < map.half || map.middles.length > 1) ? 1 : 0
        break
      case 'low-high':
        token = onBeat ? 0 : 1
        break
      case 'tail': {
        const fromEnd = ticks.length - lead - index
        token = fromEnd >= 1 && fromEnd < length ? length - fromEnd : 0
        break
      }
    }
    tokens.push(token % length)
    restarts.push(goesRound && length > 1 && index > 0 && token % length === 0)
  }
  return { tokens, restarts, used }
}
