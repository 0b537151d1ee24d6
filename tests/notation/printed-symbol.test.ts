import { describe, expect, test } from 'vitest'
import { parseChordSymbol } from '../../src/music/chord-symbol.ts'
import { formatDegree } from '../../src/music/degree.ts'
import { formatNoteName } from '../../src/music/note-name.ts'
import { type PrintedSymbol, printedSymbol } from '../../src/notation/printed-symbol.ts'
import { CHORD_SPELLINGS } from '../music/chord-spelling-cases.ts'

const PLACE = { startTick: 0, span: { from: 0, to: 1 } }

function printed(text: string): PrintedSymbol {
  const reading = parseChordSymbol(text)
  if (reading.kind === 'unreadable') throw new Error(`${text}: ${reading.message}`)
  return printedSymbol(reading.kind === 'chord' ? reading.symbol : undefined, PLACE)
}

/** The runs in a row: root, accidental, m, the raised suffix behind `^`, the bass. */
function runs({ root, accidental, minor, suffix, bass }: PrintedSymbol): string {
  const under = bass ? ` /${bass.letter}${bass.accidental ?? ''}` : ''
  return `${root}${accidental ?? ''}${minor ? ' m' : ''}${suffix ? ` ^${suffix}` : ''}${under}`
}

describe('a symbol is printed in its runs, and said in words', () => {
  test.each([
    ['C', 'C', 'C'],
    ['Bb7', 'Bb ^7', 'B flat seven'],
    ['F#m7b5/C', 'F# m ^7♭5 /C', 'F sharp minor seven flat five over C'],
    ['Cm7b5/Eb', 'C m ^7♭5 /Eb', 'C minor seven flat five over E flat'],
    ['Cmaj7', 'C ^maj7', 'C major seven'],
    ['CΔ', 'C ^Δ', 'C major seven'],
    ['CΔ9', 'C ^Δ9', 'C major nine'],
    ['CM7', 'C ^maj7', 'C major seven'],
    ['C^7', 'C ^Δ7', 'C major seven'],
    ['C-7', 'C m ^7', 'C minor seven'],
    ['Cmin7', 'C m ^7', 'C minor seven'],
    ['Cmi9', 'C m ^9', 'C minor nine'],
    ['C-', 'C m', 'C minor'],
    ['Cm(maj7)', 'C m ^(maj7)', 'C minor major seven'],
    ['CmM7', 'C m ^maj7', 'C minor major seven'],
    ['Cø', 'C ^ø', 'C half diminished'],
    ['Cø7', 'C ^ø7', 'C half diminished seven'],
    ['Bdim7', 'B ^°7', 'B diminished seven'],
    ['Bo7', 'B ^°7', 'B diminished seven'],
    ['C+', 'C ^+', 'C augmented'],
    ['Caug7', 'C ^aug7', 'C augmented seven'],
    ['C7b9', 'C ^7♭9', 'C seven flat nine'],
    ['C7(b9,#11)', 'C ^7(♭9,♯11)', 'C seven flat nine sharp eleven'],
    ['C7-9', 'C ^7♭9', 'C seven flat nine'],
    ['C7+5', 'C ^7♯5', 'C seven sharp five'],
    ['C(b5)', 'C ^(♭5)', 'C flat five'],
    ['C b5', 'C ^(♭5)', 'C flat five'],
    ['Bbmaj7#11/D', 'Bb ^maj7♯11 /D', 'B flat major seven sharp eleven over D'],
    ['Ebm6/9', 'Eb m ^6/9', 'E flat minor six nine'],
    ['C69', 'C ^6/9', 'C six nine'],
    ['C7sus4', 'C ^7sus4', 'C seven suspended four'],
    ['Cadd9', 'C ^add9', 'C add nine'],
    ['C7alt', 'C ^7alt', 'C seven altered'],
    ['C7altered', 'C ^7alt', 'C seven altered'],
    ['C5', 'C ^5', 'C five'],
    ['C7no3', 'C ^7no3', 'C seven no three'],
    ['Cdom7', 'C ^7', 'C seven'],
    ['G13', 'G ^13', 'G thirteen'],
    ['Fx7', 'F## ^7', 'F double sharp seven'],
    ['N.C.', 'N.C.', 'no chord'],
  ])('%s is printed %s: %s', (text, expected, spoken) => {
    expect(runs(printed(text))).toBe(expected)
    expect(printed(text).spoken).toBe(spoken)
  })
})

test('a printed symbol reads as the chord that was typed, in every spelling that is read', () => {
  const meaning = (text: string) => {
    const reading = parseChordSymbol(text)
    if (reading.kind !== 'chord') return `${text} is ${reading.kind}`
    const { root, degrees, bass } = reading.symbol
    return `${formatNoteName(root)} ${degrees.map(formatDegree).join(' ')} /${bass ? formatNoteName(bass) : ''}`
  }
  for (const { symbol } of CHORD_SPELLINGS) {
    const { root, accidental = '', minor, suffix, bass } = printed(symbol)
    const under = bass ? `/${bass.letter}${bass.accidental ?? ''}` : ''
    const again = `${root}${accidental}${minor ? 'm' : ''}${suffix}${under}`
    expect(`${symbol}: ${meaning(again)}`).toBe(`${symbol}: ${meaning(symbol)}`)
  }
})

test('every word of a spoken symbol is a word: no sign is left over', () => {
  for (const { symbol } of CHORD_SPELLINGS) expect(printed(symbol).spoken, symbol).toMatch(/^[A-G]( [A-Ga-z]+)*$/)
})
