import fc from 'fast-check'
import { Accidental, Beam, Fraction, StaveNote, Voice } from 'vexflow/core'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { parseKey } from '../../src/music/key.ts'
import { metreOf } from '../../src/music/metre.ts'
import { LETTERS } from '../../src/music/note-name.ts'
import { gridOf } from '../../src/notation/metre-grid.ts'
import type { NoteValue } from '../../src/notation/note-value.ts'
import { BarAccidentals, staffPlaceOf } from '../../src/notation/staff-accidental.ts'
import { type Sound, writeBar } from '../../src/notation/written-rhythm.ts'

// Source: VexFlow 5.0.0, an engraving library. It has no screen here, so it says with every sign that it cannot measure text.

beforeAll(() => {
  for (const level of ['warn', 'error'] as const) vi.spyOn(console, level).mockImplementation(() => {})
})
afterAll(() => vi.restoreAllMocks())

const RUNS = process.env['SOAK'] ? 2000 : 200

const KEYS = ['C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'Cb']

const staveNote = (name: string, octave: number, duration: string, clef = 'bass') =>
  new StaveNote({ keys: [`${name.toLowerCase()}/${octave}`], duration, clef })

describe('VexFlow', () => {
  test('prints the same accidentals in a bar, in every key', () => {
    const name = fc.record({
      letter: fc.constantFrom(...LETTERS),
      sign: fc.constantFrom('', '#', 'b', '##', 'bb'),
      octave: fc.integer({ min: 2, max: 4 }),
    })
    fc.assert(
      fc.property(fc.constantFrom(...KEYS), fc.array(name, { minLength: 1, maxLength: 10 }), (key, names) => {
        const notes = names.map(({ letter, sign, octave }) => staveNote(letter + sign, octave, '4'))
        const voice = new Voice({ numBeats: names.length, beatValue: 4 }).setStrict(false).addTickables(notes)
        Accidental.applyAccidentals([voice], key)
        const theirs = notes.map((note) => (note.getModifiersByType('Accidental') as Accidental[])[0]?.type)
        const bar = new BarAccidentals(parseKey(key)!)
        const ours = names.map(({ letter, sign, octave }) => bar.strike(staffPlaceOf(`${letter}${sign}${octave}`, 0)))
        expect(ours).toEqual(theirs)
      }),
      { seed: 4, numRuns: RUNS },
    )
  })

  test('puts every note of a bass on the same line or space of the bass clef', () => {
    for (let octave = 0; octave <= 4; octave++) {
      for (const letter of LETTERS) {
        const { line } = staveNote(letter, octave + 1, '4').getKeyProps()[0]!
        expect(staffPlaceOf(`${letter}${octave}`, -1).step, `${letter}${octave}`).toBe(2 * (line - 3))
      }
    }
  })

  // Its own groups for these metres; 5/4 and 7/8 it is given.
  test.each([
    ['4/4', undefined],
    ['3/4', undefined],
    ['2/4', undefined],
    ['6/8', undefined],
    ['9/8', undefined],
    ['12/8', undefined],
    ['5/4', [[1, 4]]],
    [
      '7/8',
      [
        [2, 8],
        [2, 8],
        [3, 8],
      ],
    ],
  ] as const)('beams the same notes in %s', (name, groups) => {
    const metre = metreOf(name)!
    const grid = gridOf(metre)
    const places = fc.uniqueArray(fc.integer({ min: 0, max: grid.ticks / 120 - 1 }), { minLength: 1 })
    fc.assert(
      fc.property(places, fc.infiniteStream(fc.boolean()), (starts, silent) => {
        const edges = [...starts.toSorted((a, b) => a - b).map((place) => place * 120), grid.ticks]
        const sounds = edges.slice(1).flatMap((to, index): Sound[] => {
          const kind = silent.next().value && silent.next().value ? 'rest' : 'note'
          return kind === 'rest' ? [] : [{ from: edges[index]!, to, kind, index }]
        })
        const { values, beams } = writeBar(grid, sounds)
        const notes = values.map(({ value, kind }) => staveNote('D', 3, duration(value, kind === 'rest')))
        for (const [index, note] of notes.entries()) expect(note.getTicks().value()).toBe(ticksIn(values[index]!))
        const given = groups?.map(([parts, of]) => new Fraction(parts, of)) ?? Beam.getDefaultBeamGroups(name)
        const theirs = Beam.generateBeams(notes, { groups: given }).map((beam) =>
          beam.getNotes().map((note) => notes.indexOf(note as StaveNote)),
        )
        expect(beams).toEqual(theirs)
      }),
      { seed: 6, numRuns: RUNS / 4 },
    )
  })
})

const duration = ({ part, dots }: NoteValue, rest: boolean): string => `${part}${'d'.repeat(dots)}${rest ? 'r' : ''}`

/** It counts 4096 to the quarter. */
const ticksIn = ({ from, to }: { readonly from: number; readonly to: number }): number => ((to - from) * 4096) / 480
