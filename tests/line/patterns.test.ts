import { describe, expect, it } from 'vitest'
import { formatToken, semitonesOfToken } from '../../src/line/pattern.ts'
import { PATTERNS, patternOf } from '../../src/line/patterns.ts'
import { type Chord, chordAt } from '../../src/music/chord.ts'
import { CHORD_QUALITIES, type ChordFamily } from '../../src/music/chord-qualities.ts'
import { parseChordSymbol } from '../../src/music/chord-symbol.ts'

function chord(text: string): Chord {
  const reading = parseChordSymbol(text)
  if (reading.kind !== 'chord') throw new Error(`${text} is no chord`)
  return chordAt(reading.symbol, {})
}

/** A chord of each family. */
const FAMILY: Readonly<Record<ChordFamily, string>> = {
  major: 'Cmaj7',
  minor: 'Cm7',
  dominant: 'C7',
  'half-diminished': 'Cm7b5',
  diminished: 'Cdim7',
  augmented: 'Caug',
  suspended: 'C7sus4',
  power: 'C5',
  'minor-major': 'CmMaj7',
}

/**
 * Each pattern over a chord of one family: semitones above the anchor, `>` above the next root, approaches as written;
 * then how far it goes under and over the anchor over the chord of each of its families.
 */
const SEMITONES: readonly (readonly [
  id: string,
  family: ChordFamily,
  semitones: string,
  under: number,
  over: number,
])[] = [
  ['root-only', 'major', '0', 0, 0],
  ['root-octave', 'major', '0 12', 0, 12],
  ['octave-root', 'major', '12 0', 0, 12],
  ['root-fifth-up', 'major', '0 7', 0, 8],
  ['root-fifth-down', 'major', '0 -5', -6, 0],
  ['root-fifth-both', 'major', '0 7 0 -5', -6, 8],
  ['root-fifth-octave', 'major', '0 7 12', 0, 12],
  ['root-octave-fifth', 'major', '0 12 7', 0, 12],
  ['root-fifth-octave-fifth', 'major', '0 7 12 7', 0, 12],
  ['triad-up', 'major', '0 4 7', 0, 8],
  ['triad-down', 'major', '12 7 4', 0, 12],
  ['triad-octave', 'major', '0 4 7 12', 0, 12],
  ['triad-and-back', 'major', '0 4 7 4', 0, 7],
  ['triad-first-inversion', 'major', '4 7 12', 0, 12],
  ['triad-second-inversion', 'major', '7 12 16', 0, 16],
  ['seventh-arpeggio-up', 'major', '0 4 7 11', 0, 11],
  ['seventh-arpeggio-down', 'major', '11 7 4 0', 0, 11],
  ['octave-seventh-down', 'minor', '12 10 7 3', 0, 12],
  ['seventh-broken', 'major', '0 7 4 11', 0, 11],
  ['seventh-below', 'minor', '0 -2 -5 -9', -9, 0],
  ['ninth-arpeggio', 'major', '0 4 7 11 14', 0, 14],
  ['sixth-arpeggio', 'major', '0 4 7 9', 0, 9],
  ['rocking-sixth', 'major', '0 7 9 7', 0, 9],
  ['soul-sixth-fall', 'major', '0 9 7 4', 0, 9],
  ['octave-sixth-fall', 'major', '12 9 7 4', 0, 12],
  ['fifth-sixth', 'major', '7 9', 0, 9],
  ['fifth-sixth-root', 'major', '-5 -3 0', -5, 0],
  ['sixth-fifth-root', 'major', '0 -3 -5', -5, 0],
  ['root-flat-seven-fifth', 'minor', '0 -2 -5', -5, 0],
  ['octave-flat-seven-fifth', 'minor', '12 10 7', 0, 12],
  ['root-fifth-flat-seven-octave', 'minor', '0 7 10 12', 0, 12],
  ['box-shape', 'minor', '0 5 7 10 12', 0, 12],
  ['flat-seven-neighbour', 'minor', '0 -2 0', -2, 0],
  ['funk-pickup', 'minor', '-5 -2 0', -5, 0],
  ['octave-seven-funk', 'minor', '0 12 10 12', 0, 12],
  ['major-seventh-on-flat-three', 'minor', '3 7 10 14', 0, 14],
  ['minor-seventh-on-third', 'major', '4 7 11 14', 0, 14],
  ['half-diminished-on-third', 'dominant', '4 7 10 14', 0, 14],
  ['flat-five-shape-on-third', 'dominant', '4 7 10 13', 0, 13],
  ['walk-up-four', 'major', '0 2 4 5', 0, 5],
  ['walk-up-three', 'major', '0 2 4', 0, 4],
  ['walk-to-fifth', 'major', '0 2 4 5 7', 0, 7],
  ['walk-down-three', 'major', '0 -1 -3', -3, 0],
  ['walk-down-two', 'major', '0 -1', -2, 0],
  ['leading-tone-walk', 'major', '-5 -3 -1 0', -5, 0],
  ['digital-one-two-three-five', 'major', '0 2 4 7', 0, 7],
  ['digital-five-three-two-one', 'major', '7 4 2 0', 0, 7],
  ['pentatonic-major-run', 'major', '0 2 4 7 9 12', 0, 12],
  ['pentatonic-minor-run', 'minor', '0 3 5 7 10 12', 0, 12],
  ['pentatonic-minor-fall', 'minor', '12 10 7 5 3 0', 0, 12],
  ['blues-run', 'minor', '0 3 5 6 7 10 12', 0, 12],
  ['minor-to-major-third', 'dominant', '0 3 4 7', 0, 7],
  ['boogie', 'dominant', '0 4 7 9 10 9 7 4', 0, 10],
  ['boogie-octave', 'major', '0 4 7 9 12 9 7 4', 0, 12],
  ['boogie-two-bar', 'dominant', '0 4 7 9 12 10 9 7', 0, 12],
  ['minor-boogie', 'minor', '0 3 5 7 10 7 5 3', 0, 10],
  ['shuffle-walk', 'dominant', '0 4 5 6 7', 0, 7],
  ['gospel-climb', 'major', '0 3 4 7 9 12', 0, 12],
  ['gospel-walk-to-four', 'major', '0 2 3 4', 0, 4],
  ['gospel-walk-to-five', 'major', '0 4 5 6', 0, 6],
  ['walking-below', 'major', '0 4 7 h-', 0, 7],
  ['walking-above', 'major', '0 4 7 h+', 0, 7],
  ['walking-dominant', 'major', '0 4 7 d+', 0, 7],
  ['walking-scale-step', 'major', '0 4 7 s+', 0, 7],
  ['walking-scale-below', 'major', '0 2 4 h-', 0, 4],
  ['walking-double-below', 'major', '0 7 w- h-', 0, 7],
  ['walking-double-above', 'major', '0 4 w+ h+', 0, 4],
  ['walking-enclosure', 'major', '0 7 s+ h-', 0, 7],
  ['two-beat-below', 'major', '0 h-', 0, 0],
  ['two-beat-above', 'major', '0 h+', 0, 0],
  ['two-beat-dominant', 'major', '0 d+', 0, 0],
  ['third-approached', 'major', '0 h- 4 7', 0, 7],
  ['fifth-approached', 'major', '0 4 h- 7', 0, 7],
  ['fifth-enclosed', 'major', '0 s+ h- 7', 0, 7],
  ['third-enclosed', 'major', '0 s+ h- 4', 0, 4],
  ['root-enclosed', 'major', 's+ h- 0', 0, 0],
  ['chromatic-root-pickup', 'major', 'w- h- 0', 0, 0],
  ['tumbao-anticipated', 'major', '7 >0', 0, 7],
  ['tumbao-octave', 'major', '7 12 >0', 0, 12],
  ['tumbao-third', 'major', '4 7 >0', 0, 7],
  ['tumbao-approached', 'major', '7 h- >0', 0, 7],
  ['bossa-root-fifth', 'major', '0 7 7 0', 0, 8],
  ['bossa-low-fifth', 'major', '0 -5 -5 0', -6, 0],
  ['bossa-anticipated', 'major', '0 7 7 >0', 0, 8],
  ['samba-surdo', 'major', '-5 0', -6, 0],
  ['reggae-triad-drop', 'major', '12 7 4 0', 0, 12],
  ['reggae-low-answer', 'minor', '0 -5 -2 0', -5, 0],
  ['reggae-fifth-first', 'major', '7 4 0', 0, 7],
  ['waltz-root-fifth-fifth', 'major', '0 7 7', 0, 8],
  ['waltz-root-fifth-third', 'major', '0 -5 -8', -9, 0],
  ['waltz-approach', 'major', '0 7 h-', 0, 8],
  ['country-walk-up', 'major', '0 -5 2 4', -5, 4],
  ['rock-four-five', 'major', '0 5 7', 0, 7],
  ['phrygian-neighbour', 'minor', '0 1 0', 0, 1],
  ['tenth', 'major', '0 16', 0, 16],
  ['root-fifth-tenth', 'major', '0 7 16', 0, 16],
  ['root-fifth-ninth', 'major', '0 7 14', 0, 14],
  ['guide-tones-up', 'major', '4 11', 0, 11],
  ['guide-tones-down', 'major', '11 4', 0, 11],
  ['line-down-minor', 'minor', '12 11 10 9', 0, 12],
  ['line-up-major', 'major', '7 8 9 8', 0, 9],
  ['diminished-climb', 'diminished', '0 3 6 9 12', 0, 12],
  ['whole-tone-climb', 'augmented', '0 2 4 6 8', 0, 8],
  ['arpeggio-up-scale-down', 'major', '0 4 7 11 9 7 5 4', 0, 11],
  ['arpeggio-up-scale-down-octave', 'major', '0 4 7 11 12 11 9 7 5 4 2 0', 0, 12],
  ['arpeggio-to-ninth-scale-down', 'major', '0 4 7 11 14 12 11 9 7 5 4 2', 0, 14],
  ['scale-up-arpeggio-down', 'major', '0 2 4 5 7 9 11 12 11 7 4 0', 0, 12],
  ['scale-up', 'major', '0 2 4 5 7 9 11 12', 0, 12],
  ['scale-down', 'major', '12 11 9 7 5 4 2 0', 0, 12],
  ['scale-in-thirds-up', 'major', '0 4 2 5 4 7 5 9 7 11 9 12 11 14 12', 0, 14],
  ['scale-in-thirds-down', 'major', '12 9 11 7 9 5 7 4 5 2 4 0 2 -1 0', -2, 12],
  ['scale-in-fourths', 'major', '0 5 2 7 4 9 5 11 7 12', 0, 12],
  ['scale-in-sixths', 'major', '0 9 2 11 4 12', 0, 12],
  ['scale-in-threes', 'major', '0 2 4 2 4 5 4 5 7 5 7 9 7 9 11 9 11 12', 0, 12],
  ['scale-in-fours', 'major', '0 2 4 5 2 4 5 7 4 5 7 9 5 7 9 11 7 9 11 12', 0, 12],
  ['bebop-dominant-fall', 'dominant', '12 11 10 9 7 5 4 2', 0, 12],
  ['altered-fall', 'dominant', '12 10 8 6 4 3 1 0', 0, 12],
]

describe('the degree patterns', () => {
  it('are those of the list below, in its order', () => {
    expect(PATTERNS.map(({ id }) => id)).toEqual(SEMITONES.map(([id]) => id))
    expect(PATTERNS).toHaveLength(117)
  })

  it.each(SEMITONES)('%s over a chord that is %s is %s', (id, family, semitones) => {
    const here = chord(FAMILY[family])
    const words = patternOf(id)!.tokens.map((token) =>
      token.kind === 'approach' ? formatToken(token) : `${token.next ? '>' : ''}${semitonesOfToken(token, here)}`,
    )
    expect(words.join(' ')).toBe(semitones)
  })

  it.each(SEMITONES)('%s over its families stays in its compass', (id, _family, _semitones, under, over) => {
    const { tokens, families } = patternOf(id)!
    const chords = (Object.keys(FAMILY) as ChordFamily[])
      .filter((family) => families === 'any' || families.includes(family))
      .map((family) => chord(FAMILY[family]))
    const heights = tokens.flatMap((token) =>
      token.kind === 'degree' ? chords.map((here) => semitonesOfToken(token, here)) : [],
    )
    expect([Math.min(0, ...heights), Math.max(0, ...heights)]).toEqual([under, over])
  })

  it.each(PATTERNS)('$id, $text, resolves over every chord of its families', ({ tokens, families }) => {
    for (const quality of CHORD_QUALITIES) {
      if (families !== 'any' && !families.includes(quality.family)) continue
      const here = chord(`C${quality.suffix}`)
      for (const token of tokens)
        if (token.kind === 'degree') expect(Number.isInteger(semitonesOfToken(token, here)), quality.id).toBe(true)
    }
  })

  it.each(PATTERNS)('$id is written as it is read', ({ text, tokens }) => {
    expect(tokens.map(formatToken).join(' ')).toBe(text)
  })

  it('have ids of their own, a level and a purpose', () => {
    expect(new Set(PATTERNS.map(({ id }) => id)).size).toBe(PATTERNS.length)
    const levels = PATTERNS.map(({ level }) => level)
    expect(levels.filter((level) => level === 'beginner')).toHaveLength(45)
    expect(levels.filter((level) => level === 'intermediate')).toHaveLength(49)
    expect(levels.filter((level) => level === 'advanced')).toHaveLength(23)
    for (const { id, purpose } of PATTERNS) expect(purpose, id).not.toBe('')
  })

  it('share their tokens only where they stand over other chords', () => {
    for (const [index, one] of PATTERNS.entries())
      for (const other of PATTERNS.slice(index + 1)) {
        if (one.text !== other.text) continue
        expect([one.families, other.families]).not.toContain('any')
        expect([...one.families].filter((family) => [...other.families].includes(family))).toEqual([])
      }
  })
})
