import type { WrittenNote } from '../../src/music/arrangement.ts'
import type { Tick } from '../../src/music/tick.ts'

/** Letters of the drums, lowest on the drummer's page first. */
const LETTERS: readonly (readonly [number, string])[] = [
  [49, 'crash'],
  [51, 'ride'],
  [42, 'hat'],
  [44, 'foot'],
  [46, 'open'],
  [54, 'tambourine'],
  [37, 'rim'],
  [38, 'snare'],
  [48, 'tom1'],
  [45, 'tom2'],
  [41, 'tom3'],
  [36, 'kick'],
  [76, 'one'],
  [77, 'click'],
]

/** A stretch of drums as rows of levels, 1 to 9, one character a step: `snare .... 8... .... 8...`. */
export function drumRows(notes: readonly WrittenNote[], from: Tick, to: Tick, step: Tick = 120): readonly string[] {
  return LETTERS.flatMap(([pitch, name]) => {
    const own = notes.filter((note) => note.pitch === pitch && note.startTick >= from && note.startTick < to)
    if (own.length === 0) return []
    let row = ''
    for (let tick = from; tick < to; tick += step) {
      if ((tick - from) % 480 === 0 && tick > from) row += ' '
      const struck = own.find((note) => note.startTick === tick)
      row += struck ? Math.round((struck.velocity! * 9) / 127) : '.'
    }
    return [`${name} ${row}`]
  })
}
