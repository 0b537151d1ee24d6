import { describe, expect, it } from 'vitest'
import { explain } from '../../src/line/explain.ts'
import type { Line, SearchedNote } from '../../src/line/line.ts'
import { parseNoteName, pitchClassOfName } from '../../src/music/note-name.ts'
import { slotsOf } from '../../src/rhythm/plan.ts'
import { changes as formOf } from '../support/changes.ts'
import { cellsOf, FOUR_STRINGS } from '../support/walking.ts'

/** A written line over changes in quarters (or in a cell), explained. */
function explained(changes: string, row: string, options: { cell?: string; loop?: boolean } = {}): Line {
  const form = formOf(changes)
  const [cell] = cellsOf(options.cell ?? '1 2 3 4')
  const loop = options.loop ?? false
  const slots = slotsOf(
    form,
    form.bars.map((bar) => ({ ...cell!, startTick: bar.startTick })),
    loop,
  )
  const names = row.split(' | ').flatMap((bar) => bar.split(' '))
  const notes = slots
    .filter((slot) => !slot.ghost)
    .map((slot, i): SearchedNote => {
      const [, name, octave] = /^([A-G][#b]*)(\d)$/.exec(names[i]!)!
      const pitch = 12 * (Number(octave) + 1) + pitchClassOfName(parseNoteName(name!)!)
      const string = FOUR_STRINGS.open.findLastIndex((open) => open <= pitch)
      const fret = pitch - FOUR_STRINGS.open[string]!
      return { slot, pitch, string, fret, hand: Math.max(1, fret), pattern: undefined, terms: [] }
    })
  const ghosts = slots.filter((slot) => slot.ghost)
  return explain(
    { notes, ghosts, terms: [], cost: 0, provenWithin: 0 },
    { form, instrument: FOUR_STRINGS, key: undefined, loop },
  )
}

const functions = (line: Line) => line.notes.map((note) => note.function).join(' ')

describe('what a note does', () => {
  it('is named by the degree where it is a tone of the chord', () => {
    expect(functions(explained('C7', 'C2 E2 G2 Bb2'))).toBe('root third fifth seventh')
    expect(functions(explained('Cadd9', 'C2 D3 E2 G2'))).toBe('root tension third fifth')
    expect(functions(explained('C/E', 'E2 C2 G2 E2'))).toBe('root root fifth root')
  })

  it('is passing between two notes a step away on either side, a neighbour where the line turns back', () => {
    expect(functions(explained('Dm7 | %', 'D2 E2 F2 A2 | F2 G2 F2 D2'))).toBe(
      'root passing third fifth third neighbour third root',
    )
  })

  it('is the same when it is struck twice', () => {
    expect(functions(explained('Dm7', 'D2 E2 E2 F2'))).toBe('root passing passing third')
  })

  it('is an approach where it steps into a change, an enclosure where both sides of the target are heard', () => {
    expect(functions(explained('Dm7 | G7', 'D2 F2 A2 F#2 | G2 B2 D2 G2')).split(' ')[3]).toBe('approach')
    expect(functions(explained('Dm7 | G7', 'D2 F2 Ab2 F#2 | G2 B2 D2 G2')).split(' ')[3]).toBe('enclosure')
  })

  it('is an approach where it falls a fifth into the root from off the chord', () => {
    expect(functions(explained('C7 | Bm7b5', 'C2 E2 G2 F#2 | B1 D2 F2 A2')).split(' ')[3]).toBe('approach')
  })

  it('is a tension where it is left by leap', () => {
    expect(functions(explained('Dm7', 'D2 E2 A2 D2'))).toBe('root tension fifth root')
  })

  it('is an anticipation where it is pushed over the bar line', () => {
    expect(functions(explained('Dm7 | G7', 'D2 F2 A2 G2 | B2 D2 F2 G2', { cell: '1 2 3 4&~' })).split(' ')[3]).toBe(
      'anticipation',
    )
  })

  it('leads round a loop into its first note', () => {
    expect(functions(explained('Dm7', 'D2 F2 A2 E2', { loop: true })).split(' ')[3]).toBe('approach')
    expect(functions(explained('Dm7', 'D2 F2 A2 E2')).split(' ')[3]).toBe('tension')
  })
})

describe('the name of a note', () => {
  const names = (line: Line) => line.notes.map((note) => note.name).join(' ')

  it('goes by the letters of its chord', () => {
    expect(names(explained('Ebm7b5', 'Eb2 Gb2 A2 Db3'))).toBe('Eb2 Gb2 Bbb2 Db3')
  })

  it('takes its letter from where it goes when it is off the chord', () => {
    expect(names(explained('Dm7 | G7', 'D2 F2 A2 Gb2 | G2 B2 D2 G2')).split(' ')[3]).toBe('F#2')
    expect(names(explained('Dm7 | G7', 'D2 F2 A2 G#2 | G2 B2 D2 G2')).split(' ')[3]).toBe('Ab2')
  })
})

describe('two chromatic notes in a row', () => {
  it('aim at the same note: A A# B going up, Bb A Ab coming down', () => {
    const names = (line: Line) => line.notes.map((note) => note.name).join(' ')
    expect(names(explained('G7 | Cm', 'G2 A2 A#2 B2 | C3 C2 D#2 G2'))).toBe('G2 A2 A#2 B2 C3 C2 Eb2 G2')
    expect(names(explained('G7 | Cm', 'B2 A#2 A2 Ab2 | G2 C2 D#2 G2'))).toBe('B2 Bb2 A2 Ab2 G2 C2 Eb2 G2')
    // Two half-steps into a change have its note as target: `w- h-` into C is Bb B (common practice, no source).
    expect(names(explained('G7 | C', 'G2 D2 A#2 B2 | C3 C2 E2 G2'))).toBe('G2 D2 Bb2 B2 C3 C2 E2 G2')
    expect(names(explained('A7 | D', 'A1 E2 C2 C#2 | D2 D2 F#2 A2'))).toBe('A1 E2 C2 C#2 D2 D2 F#2 A2')
    expect(names(explained('B7 | E', 'B1 F#2 D2 D#2 | E2 E2 G#2 B2'))).toBe('B1 F#2 D2 D#2 E2 E2 G#2 B2')
  })
})

describe('the degree of a note on its way', () => {
  const said = (line: Line) => line.notes.map(({ name, degree }) => `${name.replace(/\d/, '')}=${degree}`).join(' ')

  it.each([
    ['C7 | %', 'C2 E2 F#2 G2 | C2 E2 G2 C2', 'F#=#4'],
    ['F7 | %', 'F2 A2 B2 C3 | F2 A2 C3 F2', 'B=#4'],
    ['F7 | Gm7', 'F2 A2 F2 F#2 | G2 Bb2 D3 G2', 'F#=#1'],
    ['Ab7 | F7', 'Ab2 C3 Eb2 E2 | F2 A2 C3 F2', 'E=#5'],
    ['Ab13 | %', 'Ab2 C3 B2 C3 | Ab2 C3 Eb3 Ab2', 'B=#2'],
  ])('is the one it is spelled as: over %s, %s, %s', (chords, row, expected) => {
    expect(said(explained(chords, row)).split(' ')).toContain(expected)
  })

  it('is flat where it falls', () => {
    expect(said(explained('C7 | %', 'C3 G2 Gb2 F2 | E2 G2 C3 C2')).split(' ')[2]).toBe('Gb=b5')
  })

  it('is counted as it sounds where no degree is written so', () => {
    expect(said(explained('D#m7b5 | E', 'D#2 F#2 A2 F2 | E2 G#2 B2 E2')).split(' ')[3]).toBe('F=9')
    expect(said(explained('F#7 | %', 'F#2 E2 F2 F#2 | C#2 E2 F#2 F#2')).split(' ')[2]).toBe('F=7')
  })

  it('leaves a tone of the chord its own', () => {
    expect(said(explained('Bdim7 | C', 'B1 D2 F2 Ab2 | C2 E2 G2 C2')).split(' ')[3]).toBe('Ab=bb7')
  })
})

describe('dead notes', () => {
  it('lie on the string under the hand and have the pitch that was fretted there', () => {
    const line = explained('Dm7', 'D2 F2 A2 C3', { cell: '1 2 &x 3 4' })
    expect(functions(line)).toBe('root third ghost fifth seventh')
    const [, third, ghost] = line.notes
    expect([ghost!.string, ghost!.pitch, ghost!.fret]).toEqual([third!.string, third!.pitch, third!.fret])
  })

  it('lie on an open string where nothing was fretted before', () => {
    const [ghost] = explained('Dm7', 'F2 A2 C3', { cell: '1x 2 3 4' }).notes
    expect([ghost!.fret, ghost!.pitch]).toEqual([0, FOUR_STRINGS.open[ghost!.string]])
  })
})
