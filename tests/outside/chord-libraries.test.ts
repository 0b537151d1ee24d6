import { chordParserFactory } from 'chord-symbol'
import { Chord, ChordType, Note } from 'tonal'
import { describe, expect, test } from 'vitest'
import { CHORD_QUALITIES } from '../../src/music/chord-qualities.ts'
import { semitonesOf } from '../../src/music/degree.ts'
import { type PitchClass, pitchClassOf } from '../../src/music/pitch.ts'
import { spellPitch } from '../../src/music/spelling.ts'
import { CHORD_SPELLINGS } from '../music/chord-spelling-cases.ts'
import { chordOf } from '../support/chord-form.ts'

const rising = (pitchClasses: readonly PitchClass[]): readonly PitchClass[] =>
  [...new Set(pitchClasses)].sort((a, b) => a - b)

/** The pitch class of a name, by tonal's arithmetic. */
const sounding = (name: string): PitchClass => Note.chroma(name)!

/** Pitch classes of our reading. */
function pitchClassesOf(text: string): readonly PitchClass[] {
  const { rootPc, tones } = chordOf(text)
  return rising(tones.map((tone) => pitchClassOf(rootPc + semitonesOf(tone))))
}

// tonal 6.4.3, https://github.com/tonaljs/tonal (package "tonal"): Chord.get.
describe('tonal 6.4.3 reads the same', () => {
  test.each(CHORD_SPELLINGS.filter(({ tonal }) => tonal === 'same'))('$symbol', ({ symbol, bass }) => {
    const theirs = Chord.get(symbol)
    expect(rising(theirs.notes.map(sounding))).toEqual(pitchClassesOf(symbol))
    expect(sounding(theirs.tonic!)).toBe(chordOf(symbol).rootPc)
    if (bass !== undefined) expect(sounding(theirs.bass)).toBe(chordOf(symbol).bassPc)
  })

  test.each(CHORD_SPELLINGS.filter(({ tonal }) => tonal === 'bass-counted-in'))(
    '$symbol, with the bass as one more tone',
    ({ symbol }) => {
      const theirs = rising(Chord.get(symbol).notes.map(sounding))
      expect(theirs).toEqual(rising([...pitchClassesOf(symbol), chordOf(symbol).bassPc]))
    },
  )

  test('182 of the 437', () => {
    expect(CHORD_SPELLINGS.filter(({ tonal }) => tonal !== undefined)).toHaveLength(182)
  })
})

// tonal transposes a root by intervals, ours goes by letters. Its own name for m7#5 has the sharp fifth as Ab.
describe('tonal 6.4.3 spells the same', () => {
  const rows = CHORD_SPELLINGS.filter(
    ({ tonal, bass, quality }) => tonal === 'same' && bass === undefined && quality !== 'minor-7-sharp-5',
  )

  test.each(rows)('$symbol', ({ symbol }) => {
    const chord = chordOf(symbol)
    const ours = chord.tones.map((tone) =>
      spellPitch(36 + chord.rootPc + semitonesOf(tone), { chord }).replace(/-?\d+$/, ''),
    )
    expect([...ours].sort()).toEqual([...Chord.get(symbol).notes].sort())
  })
})

// tonal 6.4.3, ChordType: its dictionary of chord types.
test('tonal 6.4.3 knows 70 of the 84 qualities by their pitches', () => {
  const theirs = new Set(ChordType.all().map(({ chroma }) => chroma))
  const unknown = CHORD_QUALITIES.filter(({ degrees }) => {
    const sounds = degrees.map((degree) => pitchClassOf(semitonesOf(degree)))
    return !theirs.has(Array.from({ length: 12 }, (_, at) => (sounds.includes(at) ? '1' : '0')).join(''))
  })
  expect(unknown.map(({ suffix }) => suffix).join(' ')).toBe(
    'add11 (#11) m(b6) maj11 m13 m7(b13) m11b5 dim9 7(add11) 7sus2 13sus4b9 7b5b9 7b5#9 7alt',
  )
})

// chord-symbol 4.0.0, https://github.com/no-chris/chord-symbol (package "chord-symbol"): chordParserFactory.
describe('chord-symbol 4.0.0 reads the same', () => {
  const parse = chordParserFactory()

  test.each(CHORD_SPELLINGS.filter(({ chordSymbol }) => chordSymbol !== undefined))(
    '$symbol',
    ({ symbol, root, bass, chordSymbol }) => {
      const theirs = parse(symbol)
      if (!('normalized' in theirs)) throw new Error(`${symbol} is not read`)
      const { rootNote, bassNote, semitones } = theirs.normalized
      const rootPc = sounding(rootNote)
      expect(rising(semitones.map((above) => pitchClassOf(rootPc + above)))).toEqual(pitchClassesOf(symbol))
      expect(rootPc).toBe(chordOf(symbol).rootPc)
      expect(rootNote === root).toBe(chordSymbol === 'same')
      expect(bassNote && sounding(bassNote)).toBe(bass && sounding(bass))
    },
  )

  test('362 of the 437', () => {
    expect(CHORD_SPELLINGS.filter(({ chordSymbol }) => chordSymbol !== undefined)).toHaveLength(362)
  })
})

test('at least one of the two libraries reads 375 of the 437 as we do', () => {
  const agreed = CHORD_SPELLINGS.filter(({ tonal, chordSymbol }) => tonal === 'same' || chordSymbol === 'same')
  expect(agreed).toHaveLength(375)
})
