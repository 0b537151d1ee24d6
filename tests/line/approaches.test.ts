import { describe, expect, it } from 'vitest'
import { compose } from '../../src/compose.ts'
import { parseNoteName, pitchClassOfName } from '../../src/music/note-name.ts'
import { pitchClassOf } from '../../src/music/pitch.ts'

/** The dominant seventh of each target: its scale is the major scale of the target. */
const TARGETS = [
  ['C', 'G7'],
  ['G', 'D7'],
  ['F', 'C7'],
  ['Bb', 'F7'],
  ['Eb', 'Bb7'],
  ['E', 'B7'],
  ['F#', 'C#7'],
] as const

/**
 * The ways into a change, and their notes into each target, spelt as chromatic notes are that rise or fall into it; scale steps and
 * dominants are of the target's own major scale. Source: common practice, no source.
 */
const WAYS: readonly (readonly [way: string, ...notes: string[]])[] = [
  ['a half-step below', 'B', 'F#', 'E', 'A', 'D', 'D#', 'F'],
  ['a half-step above', 'Db', 'Ab', 'Gb', 'B', 'E', 'F', 'G'],
  ['a scale step below', 'B', 'F#', 'E', 'A', 'D', 'D#', 'E#'],
  ['a scale step above', 'D', 'A', 'G', 'C', 'F', 'F#', 'G#'],
  ['a whole step below', 'Bb', 'F', 'Eb', 'Ab', 'Db', 'D', 'E'],
  ['a whole step above', 'D', 'A', 'G', 'C', 'F', 'F#', 'G#'],
  ['a fifth above', 'G', 'D', 'C', 'F', 'Bb', 'B', 'C#'],
  ['a fourth below', 'G', 'D', 'C', 'F', 'Bb', 'B', 'C#'],
  ['a double chromatic from below', 'Bb B', 'F F#', 'Eb E', 'Ab A', 'Db D', 'D D#', 'E F'],
  ['a double chromatic from above', 'D Db', 'A Ab', 'G Gb', 'C B', 'F E', 'F# F', 'G# G'],
  ['an enclosure from above', 'D B', 'A F#', 'G E', 'C A', 'F D', 'F# D#', 'G# F'],
  ['an enclosure from below', 'B D', 'F# A', 'E G', 'A C', 'D F', 'D# F#', 'F G#'],
  ['a chromatic enclosure', 'Db B', 'Ab F#', 'Gb E', 'B A', 'E D', 'F D#', 'G F'],
  ['the dominant and the leading note', 'G B', 'D F#', 'C E', 'F A', 'Bb D', 'B D#', 'C# F'],
  ['an anticipation', 'C', 'G', 'F', 'Bb', 'Eb', 'E', 'F#'],
]

describe('A rule of approach', () => {
  for (const [way, ...rows] of WAYS) {
    it(`leads into each root by ${way}, and by nothing else`, () => {
      for (const [i, [target, dominant]] of TARGETS.entries()) {
        const rules = [`approach each change by ${way} (must)`, 'arrive on the root (must)']
        const { lines } = compose(`| ${dominant} | ${target} |`, { cells: ['1 2 3 4'], rules })
        const [line] = lines
        if (!line) throw new Error(`${dominant} to ${target} by ${way}: no line`)
        const names = rows[i]!.split(' ')
        const before = line.notes.slice(4 - names.length, 4)
        const classOf = (name: string) => pitchClassOfName(parseNoteName(name)!)
        expect(
          before.map(({ pitch }) => pitchClassOf(pitch)),
          `${dominant} ${target}`,
        ).toEqual(names.map(classOf))
        expect(pitchClassOf(line.notes[4]!.pitch)).toBe(classOf(target))
        // Nearer than an octave, and on the side that it says.
        if (/below/.test(way) && names.length === 1) expect(before[0]!.pitch).toBeLessThan(line.notes[4]!.pitch)
        if (/above/.test(way) && names.length === 1) expect(before[0]!.pitch).toBeGreaterThan(line.notes[4]!.pitch)
        // As spelt, where the chord before has no spelling of its own for it.
        const spelt = before.map(({ name }) => name.replace(/-?\d/, ''))
        if (names.length === 1 && target !== 'F#') expect(spelt).toEqual(names)
      }
    })
  }
})
