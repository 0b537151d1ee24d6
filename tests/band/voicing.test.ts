import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { CompingRow } from '../../src/band/band-table.ts'
import { fifthAndSixth, movement, type Voicing, voiceChanges } from '../../src/band/voicing.ts'
import { LOW_LIMITS, VOICINGS } from '../../src/band/voicings.ts'
import { FEELS } from '../../src/feels/feels.ts'
import { type Chord, degreeAt, semitonesOfNumber } from '../../src/music/chord.ts'
import { CHORD_QUALITIES } from '../../src/music/chord-qualities.ts'
import { semitonesOf } from '../../src/music/degree.ts'
import { parseKey } from '../../src/music/key.ts'
import { pitchClassOf } from '../../src/music/pitch.ts'
import { chordOf } from '../support/chord-form.ts'

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B']
const NAMES = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B']

/** All qualities on all twelve roots. */
const CHORDS: readonly Chord[] = CHORD_QUALITIES.flatMap(({ suffix }) => ROOTS.map((root) => chordOf(root + suffix)))

/** The rows of all feels that lead voices. */
const ROWS = FEELS.flatMap(({ band }) => band.comping).filter(
  ({ voicing }) => voicing !== 'fifth-and-sixth' && voicing !== 'root-and-fifth',
)

function rowOf(id: string): CompingRow {
  return FEELS.flatMap(({ band }) => band.comping).find((row) => row.id === id)!
}

function names(voicing: Voicing): string {
  return voicing.map((pitch) => NAMES[pitch % 12]! + (Math.floor(pitch / 12) - 1)).join(' ')
}

function voiced(row: string, symbols: string, key?: string): readonly string[] {
  const inKey = key === undefined ? undefined : parseKey(key)
  return voiceChanges(symbols.split(' ').map((text) => ({ chord: chordOf(text, inKey), row: rowOf(row) }))).map(names)
}

/** Degrees above the root of the tones of a voicing, as semitones. */
function above(chord: Chord, voicing: Voicing): readonly number[] {
  return voicing.map((pitch) => pitchClassOf(pitch - chord.rootPc))
}

describe('voicings of every chord on every root', () => {
  test.each(ROWS)('keep to the register and the number of voices of $id', (row) => {
    for (const chord of CHORDS) {
      const [voicing] = voiceChanges([{ chord, row }]) as [Voicing]
      expect(voicing.length, `${chord.symbol.text}: ${names(voicing)}`).toBeLessThanOrEqual(row.voices.most)
      // A power chord has two tones, and an octave that may not fit.
      expect(voicing.length).toBeGreaterThanOrEqual(Math.min(row.voices.least, chord.tones.length))
      expect(voicing[0]).toBeGreaterThanOrEqual(Math.max(52, row.register.lowest))
      expect(voicing.at(-1)).toBeLessThanOrEqual(row.register.highest)
    }
  })

  test.each(ROWS)('rise without a tone twice, and keep the low limits in $id', (row) => {
    for (const chord of CHORDS) {
      const [voicing] = voiceChanges([{ chord, row }]) as [Voicing]
      for (const [index, pitch] of voicing.slice(1).entries()) {
        const below = voicing[index]!
        expect(pitch).toBeGreaterThan(below)
        expect(below).toBeGreaterThanOrEqual(LOW_LIMITS.get(pitch - below) ?? 0)
      }
    }
  })

  test.each(ROWS)('say the chord in $id: third and seventh, and nothing that is foreign to it', (row) => {
    for (const chord of CHORDS) {
      const [voicing] = voiceChanges([{ chord, row }]) as [Voicing]
      const tones = above(chord, voicing)
      for (const guide of chord.symbol.quality.guideTones) {
        const what = `${chord.symbol.text}: ${names(voicing)}`
        expect(tones, what).toContain(pitchClassOf(semitonesOf(guide)))
      }
      for (const pitch of voicing) {
        const { standing, avoid } = degreeAt(chord, pitchClassOf(pitch))
        expect([standing, avoid]).not.toContain('chromatic')
        expect(avoid).toBe(false)
      }
    }
  })

  test('leave the root of a chord of four tones to the bass, but for half-diminished and diminished', () => {
    const row = rowOf('swing-comp-charleston')
    for (const chord of CHORDS.filter(({ symbol }) =>
      ['7', 'm7', 'maj7', '6', 'm6', '9', '13'].includes(symbol.quality.suffix),
    )) {
      const [voicing] = voiceChanges([{ chord, row }]) as [Voicing]
      expect(above(chord, voicing)).not.toContain(0)
    }
  })
})

describe('voice leading', () => {
  test('goes from form A to form B and back down in fifths: two tones stay, two fall by a step', () => {
    expect(voiced('swing-comp-charleston', 'Dm7 G7 Cmaj7', 'C')).toEqual(['F3 A3 C4 E4', 'F3 A3 B3 E4', 'E3 G3 B3 D4'])
  })

  test('takes the altered tones of the minor key where the dominant leads to it', () => {
    const [, dominant] = voiced('swing-comp-charleston', 'Dm7b5 G7b9 Cm6', 'Cm')
    expect(dominant).toMatch(/Ab/)
    expect(dominant).not.toMatch(/A\d/)
  })

  test('holds three tones over a shuffle from the first to the fourth', () => {
    const [first, fourth] = voiced('shuffle-comp-charleston', 'C7 F7') as [string, string]
    const moved = first.split(' ').filter((name) => !fourth.split(' ').includes(name))
    expect(moved.length).toBeLessThanOrEqual(3)
  })

  test('keeps a slash chord’s root, for the bass has another tone', () => {
    const [voicing] = voiced('swing-comp-charleston', 'F7/A') as [string]
    expect(voicing).toMatch(/F\d/)
  })

  // Octaves about a tone move together: two chords may have no such pair nearer than a tritone.
  test.each(ROWS.filter(({ voicing }) => voicing !== 'guide-tones' && voicing !== 'octaves'))(
    'has no voice leap more than a fourth in $id, from any chord to any',
    (row) => {
      const index = fc.integer({ min: 0, max: CHORDS.length - 1 })
      fc.assert(
        fc.property(fc.array(index, { minLength: 2, maxLength: 12 }), (path) => {
          const changes = path.map((at) => ({ chord: CHORDS[at]!, row }))
          const voicings = voiceChanges(changes)
          for (const [at, voicing] of voicings.slice(1).entries()) {
            const before = voicings[at]!
            if (before.length !== voicing.length) continue
            for (const [voice, pitch] of voicing.entries())
              expect(Math.abs(pitch - before[voice]!)).toBeLessThanOrEqual(5)
          }
        }),
        { seed: 8, numRuns: process.env['SOAK'] ? 1000 : 100 },
      )
    },
  )

  test('counts the top voice twice, lets voices come in and fall silent, and fines a leap over a fourth', () => {
    expect(movement([60, 64, 67], [60, 65, 69])).toBe(0 + 1 + 2 * 2)
    expect(movement([60, 64, 67], [60, 64])).toBe(0)
    expect(movement([60, 64], [60, 64, 67])).toBe(0)
    expect(movement([60], [66])).toBeGreaterThan(40)
  })
})

describe('a boogie figure', () => {
  test.each([
    ['F7', [41, 48], [41, 50]],
    ['E7', [52, 59], [52, 61]],
    ['Cm7', [48, 55], [48, 57]],
    ['Bdim7', [47, 53], [47, 55]],
  ] as const)('has root with fifth and sixth over %s', (text, fifth, sixth) => {
    const chord = chordOf(text)
    expect(fifthAndSixth(chord, semitonesOfNumber(chord, 6))).toEqual({ fifth, sixth })
  })
})

describe('the table of voicings', () => {
  test('has 61 rows whose qualities exist', () => {
    expect(VOICINGS).toHaveLength(61)
    const ids = CHORD_QUALITIES.map(({ id }) => id)
    for (const { qualities } of VOICINGS) for (const id of qualities) expect(ids).toContain(id)
  })

  test('keeps the low limits on all twelve roots at its lowest place', () => {
    for (const shape of VOICINGS) {
      for (let bottom = shape.notBelow; bottom < shape.notBelow + 12; bottom++) {
        let below = bottom
        for (const [index, degree] of shape.degrees.entries()) {
          if (index === 0) continue
          const rise = pitchClassOf(semitonesOf(degree) - semitonesOf(shape.degrees[index - 1]!)) || 12
          expect(below).toBeGreaterThanOrEqual(LOW_LIMITS.get(rise) ?? 0)
          below += rise
        }
      }
    }
  })
})
