import type { ArrangedBar, WrittenNote } from '../music/arrangement.ts'
import { barTicks, beatsOf } from '../music/metre.ts'

/** High wood block on the first beat, low on the others. Source: General MIDI percussion; velocities for some 6 dB, no source. */
const ONE = { pitch: 76, velocity: 112 }
const OTHER = { pitch: 77, velocity: 80 }

/** Ticks of a click, and the share of them that sounds. */
const CLICK = { ticks: 120, share: 0.5 }

/** A click on every beat, the first of each bar accented. A pick-up has the last beats of its bar. */
export function clickNotes(bars: readonly ArrangedBar[]): readonly WrittenNote[] {
  return bars.flatMap((bar) => {
    const missing = Math.max(0, barTicks(bar.metre) - bar.ticks)
    let inBar = 0
    return beatsOf(bar.metre).flatMap((beat): readonly WrittenNote[] => {
      const at = inBar
      inBar += beat
      if (at < missing || at - missing >= bar.ticks) return []
      const { pitch, velocity } = at === 0 ? ONE : OTHER
      return [
        {
          startTick: bar.startTick + at - missing,
          ticks: CLICK.ticks,
          pitch,
          velocity,
          share: CLICK.share,
          accent: false,
          length: undefined,
          ghost: false,
          tied: false,
          string: undefined,
        },
      ]
    })
  })
}
