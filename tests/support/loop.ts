import { barTicks, metreOf, tempoBeatTicks } from '../../src/music/metre.ts'
import type { Performance } from '../../src/music/performance.ts'
import { microsPerQuarterOf, quartersPerMinute } from '../../src/music/tempo-map.ts'
import type { Music } from '../../src/play/score.ts'

/** How a loop is written down, where it is not in four, at 120, on program 33. */
export interface LoopManner {
  readonly metre?: string
  readonly bpm?: number
  readonly program?: number
  /** how much of its slot a note sounds */
  readonly share?: number
}

/**
 * A bass loop as bars of pitches, each bar shared out evenly: `28 31 33 35 | 28 . 33 -`. A dot is a rest, a dash holds the note
 * before it.
 */
export function performanceOf(bars: string, manner: LoopManner = {}): Performance {
  const { bpm = 120, program = 33, share = 1 } = manner
  const metre = metreOf(manner.metre ?? '4/4')!
  const length = barTicks(metre)
  const rows = bars.split('|').map((bar) => bar.trim().split(/\s+/))
  const slots = rows.flatMap((row, bar) =>
    row.map((sign, at) => ({ sign, from: bar * length + (at * length) / row.length, ticks: length / row.length })),
  )
  const notes = slots.flatMap(({ sign, from, ticks }, index) => {
    if (sign === '.' || sign === '-') return []
    const rest = slots.slice(index + 1)
    const holds = rest.findIndex((slot) => slot.sign !== '-')
    const held = rest.slice(0, holds < 0 ? rest.length : holds).reduce((sum, slot) => sum + slot.ticks, ticks)
    return { startTick: from, endTick: from + Math.round(held * share), pitch: Number(sign), velocity: 100 }
  })
  return {
    title: bars,
    ticks: rows.length * length,
    tempo: [{ tick: 0, microsPerQuarter: microsPerQuarterOf(quartersPerMinute(bpm, metre)) }],
    metres: [{ tick: 0, upper: metre.upper, lower: metre.lower, beatTicks: tempoBeatTicks(metre) }],
    key: undefined,
    sections: [],
    chordNames: [],
    parts: [{ name: 'bass', program, notes }],
  }
}

/** The same bars every time round. */
export function loopOf(bars: string, manner?: LoopManner): Music {
  const performance = performanceOf(bars, manner)
  return { first: performance, again: performance }
}
