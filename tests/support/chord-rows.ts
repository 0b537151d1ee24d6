import type { WrittenNote } from '../../src/music/arrangement.ts'
import type { Tick } from '../../src/music/tick.ts'

const NAMES = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B']

/** A stretch of chords, one row a stroke: tick, length, marks, tones: `720+240. F3 A3 B3 E4`; `~` is tied over. */
export function chordRows(
  notes: readonly WrittenNote[],
  from: Tick = 0,
  to: Tick = Number.POSITIVE_INFINITY,
): readonly string[] {
  const strokes = new Map<Tick, WrittenNote[]>()
  for (const note of notes) {
    if (note.startTick < from || note.startTick >= to) continue
    strokes.set(note.startTick, [...(strokes.get(note.startTick) ?? []), note])
  }
  return [...strokes].map(([tick, [first, ...rest]]) => {
    const marks = (first!.length === 'short' ? '.' : '') + (first!.tied ? '~' : '')
    const tones = [first!, ...rest].map(({ pitch }) => NAMES[pitch % 12]! + (Math.floor(pitch / 12) - 1))
    return `${tick}+${first!.ticks}${marks} ${tones.join(' ')}`
  })
}
