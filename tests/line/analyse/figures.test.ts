import { describe, expect, it } from 'vitest'
import { analyseTyped, type LineReading } from '../../../src/analyse.ts'

// Figures made by hand, each with what a teacher would say of it: degrees, functions, pattern or tokens, and the chord it spells.

/** A line over a chart, in medium swing. */
function reading(chart: string, line: string): LineReading {
  const read = analyseTyped(`| ${chart} |`, line)
  if (!read.analysis) throw new Error(read.lineDiagnostics.map(({ message }) => message).join(' '))
  return read
}

const degrees = (chart: string, line: string): string =>
  reading(chart, line)
    .analysis!.notes.map(({ degree }) => degree)
    .join(' ')
const functions = (chart: string, line: string): string =>
  reading(chart, line)
    .analysis!.notes.map((note) => note.function)
    .join(' ')
/** For each stretch of the first bar the patterns that explain it; tokens in quotes where none does. */
function stretches(chart: string, line: string): readonly (readonly string[])[] {
  const { notes, stretches: all } = reading(chart, line).analysis!
  return all
    .filter((one) => notes[one.notes[0]!]!.barIndex === 0)
    .map(({ pattern, also }) => (typeof pattern === 'string' ? [`"${pattern}"`] : [pattern.id, ...also]))
}
const superimposed = (chart: string, line: string): string | undefined =>
  reading(chart, line).analysis!.superimposed[0]?.name

/** Arpeggios that leave the root of their chord out, and how they are named. The first three are one pattern, `3 5 7 9`. */
const SPELLED: readonly (readonly [chord: string, notes: string, name: string])[] = [
  ['Dm7', 'F2 A2 C3 E3', 'Fmaj7 on the flat third'],
  ['Cmaj7', 'E2 G2 B2 D3', 'Em7 on the third'],
  ['G7', 'B1 D2 F2 A2', 'Bm7b5 on the third'],
  ['G7b9', 'B1 D2 F2 Ab2', 'Bdim7 on the third'],
  ['Gm7', 'Bb1 D2 F2 A2', 'Bbmaj7 on the flat third'],
  ['Fmaj7', 'A1 C2 E2 G2', 'Am7 on the third'],
  ['C7', 'E2 G2 Bb2 D3', 'Em7b5 on the third'],
  ['Am7', 'C2 E2 G2', 'C on the flat third'],
  ['Dm7', 'A1 C2 E2 G2', 'Am7 on the fifth'],
  ['Cmaj7', 'G1 B1 D2', 'G on the fifth'],
  ['Em7b5', 'G1 Bb1 D2', 'Gm on the flat third'],
  ['C7', 'Bb1 D2 F2 A2', 'Bbmaj7 on the flat seventh'],
]

/** What is known: chart, line, pattern of the first bar. */
const KNOWN: readonly (readonly [chart: string, line: string, pattern: string])[] = [
  ['C7', '1 & 2 & 3 & 4 &: C2 E2 G2 A2 Bb2 A2 G2 E2', 'boogie'],
  ['Dm7', 'F2 A2 C3 E3', 'major-seventh-on-flat-three'],
  ['Cmaj7', 'E2 G2 B2 D3', 'minor-seventh-on-third'],
  ['G7', 'B1 D2 F2 A2', 'half-diminished-on-third'],
  ['G7b9', 'B1 D2 F2 Ab2', 'flat-five-shape-on-third'],
  ['Dm7 | G7', 'D2 F2 A2 F#2 | 1: G2', 'walking-below'],
  ['Dm7 | G7', 'D2 F2 A2 Ab2 | 1: G2', 'walking-above'],
  ['Dm7 | G7', 'D2 F2 A2 D3 | 1: G2', 'walking-dominant'],
  ['G7 | Cmaj7', 'G1 B1 D2 Db2 | 1: C2', 'walking-double-above'],
  ['Cmaj7', 'C2 E2 G2 B2', 'seventh-arpeggio-up'],
  ['Cmaj7', 'B2 G2 E2 C2', 'seventh-arpeggio-down'],
  ['C6', 'C2 E2 G2 A2', 'sixth-arpeggio'],
  ['Cmaj7', 'C2 D2 E2 G2', 'digital-one-two-three-five'],
  ['Am7', '1 & 2 & 3 & 4: A1 C2 D2 Eb2 E2 G2 A2', 'blues-run'],
  ['C7', 'C2 D2 D#2 E2', 'gospel-walk-to-four'],
  ['Bb7', 'Bb1 F2 G2 F2', 'rocking-sixth'],
  ['Em7', '1 2 3: E2 D2 E2', 'flat-seven-neighbour'],
  ['Gmaj7', '1 2 3: D2 E2 G2', 'fifth-sixth-root'],
  ['Dm7 | G7', '1 3: A1 G1 | 1: G1', 'tumbao-anticipated'],
  ['F7', '1 & 2 & 3: F1 Bb1 C2 Eb2 F2', 'box-shape'],
]

const FUNCTIONS: readonly (readonly [chart: string, line: string, what: string])[] = [
  ['Dm7 | G7', 'D2 E2 F2 F#2 | 1: G2', 'root passing third approach root'],
  ['Dm7 | G7', 'D2 F2 A2 Ab2 | 1: G2', 'root third fifth approach root'],
  ['Cmaj7', 'C2 D2 C2 G1', 'root neighbour root fifth'],
  ['Cmaj7 | Fmaj7', 'C2 E2 Gb2 E2 | 1: F2', 'root third neighbour third root'],
  ['Dm7 | G7', 'D2 C2 Ab2 F#2 | 1: G2', 'root seventh approach enclosure root'],
  ['Dm7 | G7 ', '1 2 3 4&~: D2 F2 A2 G2 | ~1 2 3 4: B1 D2 F2', 'root third fifth anticipation third fifth seventh'],
]

describe('A figure made by hand', () => {
  it.each(SPELLED)('over %s, %s is %s', (chord, notes, name) => {
    const size = notes.split(' ').length
    expect(superimposed(chord, `${['1 2 3', '1 2 3 4'][size - 3]}: ${notes}`)).toBe(name)
  })

  it.each(KNOWN)('over %s, %s is %s', (chart, line, pattern) => {
    expect(stretches(chart, line)).toEqual([expect.arrayContaining([pattern])])
  })

  it.each(FUNCTIONS)('over %s, %s does %s', (chart, line, what) => {
    expect(functions(chart, line)).toBe(what)
  })

  it('is counted against the chord that sounds', () => {
    expect(degrees('Dm7 G7 | Cmaj7', 'D2 F2 B1 D2 | C2 E2 G2 B2')).toBe('1 b3 3 5 1 3 5 7')
    expect(degrees('G7', 'F2 D2 B1 G1')).toBe('b7 5 3 1')
    expect(degrees('C7b9', '1 3: E2 Db3')).toBe('3 b9')
  })

  it('names no chord where the root itself is heard lowest, nor for two notes', () => {
    expect(superimposed('Dm7', 'D2 F2 A2 C3')).toBeUndefined()
    expect(superimposed('Dm7', '1 3: F2 A2')).toBeUndefined()
  })
})

describe('What no table knows', () => {
  it('is written in tokens and cells, and is not guessed at', () => {
    const { analysis } = reading('Cmaj7', '1 :1/5 3: C2 Gb2 Ab1')
    const [stretch] = analysis!.stretches
    expect(stretch).toMatchObject({ kind: 'unknown', pattern: '1 b5 vb6' })
    expect(analysis!.cells).toEqual([{ startTick: 0, ticks: 1920, cell: '1 :1/5 3', known: false, also: [] }])
    expect(analysis!.vocabulary).toEqual({ patterns: ['"1 b5 vb6"'], cells: ['"1 :1/5 3"'] })
  })

  it('has neither degree nor function under N.C.', () => {
    const { analysis } = reading('N.C. | Dm7', 'C2 D2 E2 F2 | D2 F2 A2 C3')
    expect(analysis!.notes.slice(0, 4).map(({ degree, function: does, stretch }) => [degree, does, stretch])).toEqual(
      Array.from({ length: 4 }, () => [undefined, undefined, undefined]),
    )
    expect(analysis!.notes[4]!.degree).toBe('1')
  })
})
