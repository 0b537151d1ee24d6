import { describe, expect, it } from 'vitest'
import { compose } from '../../src/compose.ts'
import { type Pattern, semitonesOfToken } from '../../src/line/pattern.ts'
import { PATTERNS } from '../../src/line/patterns.ts'
import type { ChordFamily } from '../../src/music/chord-qualities.ts'

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B']

/** Four, five and six strings, a lower one, a short one, and one without frets that is played 1 2 4. */
const BASSES = [
  'four-string',
  'five-string',
  'six-string',
  'four-string-drop-d',
  'four-string-short-scale',
  'double-bass',
]

/** A chord of each family. */
const SUFFIXES: Readonly<Record<ChordFamily, string>> = {
  major: 'maj7',
  minor: 'm7',
  dominant: '7',
  'half-diminished': 'm7b5',
  diminished: 'dim7',
  augmented: 'aug',
  suspended: '7sus4',
  power: '5',
  'minor-major': 'm(maj7)',
}

/** A rhythm with an onset for each token. */
const cellFor = ({ tokens }: Pattern): string => (tokens.length > 4 ? '1 & 2 & 3 & 4 &' : '1 2 3 4')

describe('every pattern', () => {
  it.each(PATTERNS.map((pattern, order) => [pattern.id, pattern, order] as const))(
    'can be played in every key on four, five and six strings, each degree in its octave: %s',
    (_, pattern, order) => {
      const family = pattern.families === 'any' ? 'dominant' : pattern.families[0]!
      for (const [index, root] of ROOTS.entries()) {
        // Over the patterns every bass meets every key.
        if (!process.env['SOAK'] && (index + order) % 3 !== 0) continue
        const all = process.env['SOAK'] ? BASSES : [BASSES[(index + Math.floor(order / 3)) % BASSES.length]!]
        for (const bass of all) {
          const symbol = root + SUFFIXES[family]
          const title = `${symbol} on ${bass}`
          const { form, lines, clash, instrument } = compose(`| ${symbol} | % |`, {
            feel: 'swing-medium',
            bass,
            cells: [cellFor(pattern)],
            rules: [`pattern ${pattern.id} throughout (must)`],
          })
          expect(clash, title).toBeUndefined()
          const { notes } = lines[0]!
          for (const { pitch, string, fret } of notes) {
            expect(fret >= 0 && fret <= instrument.frets, title).toBe(true)
            expect(instrument.open[string]! + fret, title).toBe(pitch)
          }
          // One round from the beginning: approaches and what belongs to the next chord apart, all stand as they are written.
          const { chord } = form.changes[0]!
          const inBar = notes.filter(({ slot }) => slot.barIndex === 0)
          const heights = pattern.tokens
            .slice(0, inBar.length)
            .flatMap((token, k) =>
              token.kind === 'degree' && !token.next ? [inBar[k]!.pitch - semitonesOfToken(token, chord!)] : [],
            )
          expect(new Set(heights).size, title).toBeLessThanOrEqual(1)
          if (heights.length > 0) expect((heights[0]! + 120 - chord!.rootPc) % 12, title).toBe(0)
        }
      }
    },
  )
})
