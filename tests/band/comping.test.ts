import { describe, expect, test } from 'vitest'
import type { BandTable, CompingRow } from '../../src/band/band-table.ts'
import { barPlaces } from '../../src/band/bar-place.ts'
import { type Comping, compingNotes } from '../../src/band/comping.ts'
import { BOSSA_NOVA } from '../../src/feels/bossa-nova.ts'
import { FEELS } from '../../src/feels/feels.ts'
import { JAZZ_WALTZ } from '../../src/feels/jazz-waltz.ts'
import { SOUL_EIGHTHS } from '../../src/feels/soul-eighths.ts'
import { SWING_MEDIUM } from '../../src/feels/swing-medium.ts'
import { parseCell } from '../../src/rhythm/cell.ts'
import { chordForm } from '../support/chord-form.ts'
import { chordRows } from '../support/chord-rows.ts'

/** The row of a feel with this cell instead of its own. */
function rowWith(cell: string, row: CompingRow = SOUL_EIGHTHS.band.comping[0]!): CompingRow {
  return { ...row, cell }
}

interface Asked {
  readonly row?: CompingRow
  readonly metre?: string
  readonly loop?: boolean
  readonly waltz?: BandTable
}

function comping(symbols: string, { row = rowWith('1 3'), metre = '4/4', loop = false, waltz }: Asked = {}): Comping {
  const form = chordForm(symbols, { metre })
  const table = { ...SOUL_EIGHTHS.band, comping: [row] }
  const places = barPlaces(form.bars, (text) => (text === metre ? table : text === '3/4' ? waltz : undefined))
  return compingNotes(form.bars, places, form.changes, row, loop)
}

/** Where each stroke begins and how long it is, bar by bar, with the chord by its bass tone: the first tones are enough to tell. */
function strokes(symbols: string, asked: Asked = {}): readonly string[] {
  return chordRows(comping(symbols, asked).notes)
}

describe('comping', () => {
  test('lays the cell on every bar and leads the voices', () => {
    expect(strokes('C | F', { row: rowWith('1 2&. (3)') })).toEqual([
      '0+720 E4 G4 C5',
      '720+240. E4 G4 C5',
      '1920+720 F4 A4 C5',
      '2640+240. F4 A4 C5',
    ])
  })

  test('goes round a cell of two bars, anew in each section', () => {
    const row = rowWith('1 | (1) 3')
    expect(strokes('[A] C | C | C | [B] C | C', { row }).map((each) => each.split(' ')[0])).toEqual([
      '0+1920',
      '2880+960',
      '3840+1920',
      '5760+1920',
      '8640+960',
    ])
  })

  test('ties over a bar line inside a cell of two bars', () => {
    expect(strokes('C | F', { row: rowWith('1 4& | ~1 3') })).toEqual([
      '0+1680 E4 G4 C5',
      '1680+1200~ F4 A4 C5',
      '2880+960 F4 A4 C5',
    ])
  })

  test('takes the coming chord on a push, which takes the downbeat’s place', () => {
    expect(strokes('C | F', { row: rowWith('1 3 4&~') })).toEqual([
      '0+960 E4 G4 C5',
      '960+720 E4 G4 C5',
      '1680+1200~ F4 A4 C5',
      '2880+720 F4 A4 C5',
      '3600+240 F4 A4 C5',
    ])
  })

  test('takes the coming chord where a stroke sounds into a change within an eighth', () => {
    expect(strokes('C F', { row: rowWith('1 2&') })).toEqual(['0+720 E4 G4 C5', '720+1200 F4 A4 C5'])
  })

  test('spares the stroke before a change that would go by unheard', () => {
    expect(strokes('C F', { row: rowWith('1 2&. (3)') })).toEqual(['0+720 E4 G4 C5', '720+240. F4 A4 C5'])
  })

  test('adds a chord on a change that no stroke can be spared for', () => {
    expect(strokes('C F', { row: rowWith('1') })).toEqual(['0+960 E4 G4 C5', '960+960 F4 A4 C5'])
    expect(strokes('C F G C', { row: rowWith('1 2&. (3)') })).toEqual([
      '0+480 E4 G4 C5',
      '720+240. F4 A4 C5',
      '960+480 D4 G4 B4',
      '1440+480 E4 G4 C5',
    ])
  })

  test('ends a chord where its change ends', () => {
    expect(strokes('C F', { row: rowWith('1 2') })).toEqual(['0+480 E4 G4 C5', '480+480 E4 G4 C5', '960+960 F4 A4 C5'])
  })

  test('rests in N.C., and does not push into it', () => {
    expect(strokes('C | N.C. | F', { row: rowWith('1 4&~') })).toEqual([
      '0+1680 E4 G4 C5',
      '1680+240 E4 G4 C5',
      '3600+1920~ F4 A4 C5',
      '5520+240 F4 A4 C5',
    ])
  })

  test('rests in a pick-up', () => {
    expect(strokes('(1/4) C | C | F')[0]).toMatch(/^480\+960 /)
  })

  test('keeps one voicing as long as a chord lasts', () => {
    const tones = strokes('C | % | _ | C').map((each) => each.slice(each.indexOf(' ')))
    expect(new Set(tones).size).toBe(1)
  })

  test('plays half a bar in 2/4, and holds chords where no feel has the metre', () => {
    expect(strokes('C | (2/4) F | (7/8) G', { row: rowWith('1 2& 4') }).map((each) => each.split(' ')[0])).toEqual([
      '0+720',
      '720+720',
      '1440+480',
      '1920+720',
      '2640+240',
      '2880+1680',
    ])
  })

  test('plays bars of three by the jazz waltz', () => {
    expect(strokes('C | (3/4) F | (4/4) C', { waltz: JAZZ_WALTZ.band }).map((each) => each.split(' ')[0])).toEqual([
      '0+960',
      '960+960',
      '1920+720',
      '2640+720',
      '3360+960',
      '4320+960',
    ])
  })

  test('lets root and fifth, root and sixth take turns beat by beat', () => {
    const row = FEELS.flatMap(({ band }) => band.comping).find(({ id }) => id === 'shuffle-comp-two-notes')!
    expect(strokes('F7', { row })).toEqual([
      '0+240 F2 C3',
      '240+240 F2 C3',
      '480+240 F2 D3',
      '720+240 F2 D3',
      '960+240 F2 C3',
      '1200+240 F2 C3',
      '1440+240 F2 D3',
      '1680+240 F2 D3',
    ])
  })

  const rowOf = (id: string) => FEELS.flatMap(({ band }) => band.comping).find((row) => row.id === id)!

  test('breaks a chord up and down, from the bottom in each bar and for each chord', () => {
    const row = rowOf('six-comp-broken')
    const tones = (symbols: string) => strokes(symbols, { row, metre: '6/8' }).map((each) => each.split(' ')[1])
    expect(tones('C7 | F')).toEqual([...['G3', 'C4', 'E4', 'Bb4', 'E4', 'C4'], ...['C4', 'F4', 'A4', 'F4', 'C4', 'F4']])
    expect(tones('C7 F')).toEqual(['G3', 'C4', 'E4', 'C4', 'F4', 'A4'])
  })

  test('plays root and fifth in eighths, and the octaves of a montuno about a tone that names the chord', () => {
    expect(strokes('E5', { row: rowOf('rock-comp-eighths') })[0]).toBe('0+240 E3 B3')
    expect(new Set(strokes('C7', { row: rowOf('montuno-two-three') }).map((each) => each.slice(-9)))).toEqual(
      new Set(['E4 Bb4 E5']),
    )
  })

  test('strums as many tones as there are strings, the lowest once more on top', () => {
    const row = rowOf('country-comp-boom-chick')
    expect(strokes('G | C', { row }).map((each) => each.replace(/^\S+ /, ''))).toEqual([
      'G3 B3 D4 G4 B4',
      'G3 B3 D4 G4 B4',
      'G3 C4 E4 G4 C5',
      'G3 C4 E4 G4 C5',
    ])
  })

  test('is as loud and as long as its row says', () => {
    const { notes } = comping('C')
    const [{ velocity, length }] = SOUL_EIGHTHS.band.comping as [CompingRow]
    for (const note of notes) expect([note.velocity, note.share]).toEqual([velocity, length])
  })
})

describe('a push over the end', () => {
  const row = rowWith('1 3 4&~')

  test('of a loop takes the first chord and runs into its downbeat', () => {
    const rows = strokes('C | F', { row, loop: true })
    expect(rows.at(-1)).toBe('3600+1200~ E4 G4 C5')
    expect(rows[0]).toBe('0+960 E4 G4 C5')
  })

  test('of a form that ends is a chord like others', () => {
    expect(strokes('C | F', { row }).at(-1)).toBe('3600+240 F4 A4 C5')
  })

  test('is told to the drums', () => {
    expect(comping('C | F', { row }).pushes).toEqual([1680])
    expect(comping('C | F', { row, loop: true }).pushes).toEqual([1680, 3600])
  })
})

describe('the comping rows of the feels', () => {
  test.each(FEELS.flatMap(({ metre, band }) => band.comping.map((each) => [each.id, metre, each] as const)))(
    '%s is a cell of whole bars of %s',
    (_id, metre, { cell, length, velocity, voices }) => {
      const reading = parseCell(cell)
      expect(reading).toMatchObject({ ok: true })
      expect(reading.ok && `${reading.cell.upper}/${reading.cell.lower}`).toBe(metre)
      expect(length > 0 && length <= 1 && velocity > 0 && velocity < 128 && voices.least <= voices.most).toBe(true)
    },
  )

  test('have every chord of a chart heard', () => {
    const symbols = 'Dm7 G7 | Cmaj7 Am7 | Dm7 G7 C6 A7 | D7 | F7/A Bdim7 | Cmaj7'
    for (const row of [...SWING_MEDIUM.band.comping, ...BOSSA_NOVA.band.comping, ...SOUL_EIGHTHS.band.comping]) {
      const form = chordForm(symbols)
      const { notes } = comping(symbols, { row })
      for (const change of form.changes) {
        const until = change.startTick + change.ticks
        expect(notes.some(({ startTick }) => startTick >= change.startTick - 240 && startTick < until)).toBe(true)
      }
    }
  })
})
