import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Cell, type CellOnset, parseCell, printCell } from '../../src/rhythm/cell.ts'
import { soundsOf } from '../support/cell-notation.ts'

/** The cell of a text that must read. */
function cell(text: string): Cell {
  const reading = parseCell(text)
  if (!reading.ok) throw new Error(`${text}: ${reading.message}`)
  return reading.cell
}

/** Text, then its notes as onset+length with marks, `r` for silence and `<` for a sound from before, then what it shows. */
const READ: readonly (readonly [text: string, sounds: string, why: string])[] = [
  ['1 2 3 4', '0+480 480+480 960+480 1440+480', 'quarters'],
  ['1', '0+1920', 'a note lasts until the next count named'],
  ['(1)', '0+1920r', 'a bar of rest'],
  ['1 3', '0+960 960+960', 'halves'],
  ['1 2& 3 4&', '0+720 720+240 960+720 1680+240', 'dotted quarter and eighth, twice'],
  [
    '1 & 2 & 3 & 4 &',
    '0+240 240+240 480+240 720+240 960+240 1200+240 1440+240 1680+240',
    'eighths; & alone is the & of the count before it',
  ],
  ['1 + 2 and 3 & 4 &', '0+240 240+240 480+240 720+240 960+240 1200+240 1440+240 1680+240', '+ and "and" read as &'],
  ['(1) & (2) & (3) & (4) &', '0+240r 240+240 480+240r 720+240 960+240r 1200+240 1440+240r 1680+240', 'off-beats'],
  ['1/4: 1 e & a', '0+120 120+120 240+120 360+120', 'sixteenths'],
  ['1/4: 1 a', '0+360 360+120', 'dotted eighth and sixteenth'],
  ['1/4: 1 e', '0+120 120+360', 'sixteenth and dotted eighth'],
  ['1/4: 1 (e) & a', '0+120 120+120r 240+120 360+120', 'a gap inside the beat'],
  ['2/4: 1 trip let 2 trip let', '0+160 160+160 320+160 480+160 640+160 800+160', 'eighth triplets'],
  ['2/4: 1 let 2 let', '0+320 320+160 480+320 800+160', 'written-out shuffle'],
  ['2/4: 1 let 2trip', '0+320 320+320 640+320', 'quarter triplet over two beats'],
  ['1 2trip 3let', '0+640 640+640 1280+640', 'half triplet over a bar'],
  ['1 2& ~3 4', '0+720 720+720 1440+480', 'a written tie changes no time: same as 1 2& 4'],
  ['(1) 2 3 4&~', '0+480r 480+480 960+720 1680+240~', 'a push tied over the end'],
  ['~1 2 3 4', '0+480< 480+480 960+480 1440+480', 'begins with the sound from before: no onset on 1'],
  [
    '1 2 3 4& | ~1 2 3 4',
    '0+480 480+480 960+720 1680+720 2400+480 2880+480 3360+480',
    'a push across the bar line: one note of 720',
  ],
  ['1> 2x 3. 4-', '0+480> 480+480x 960+480. 1440+480-', 'accent, ghost, short, long'],
  ['1> (e) &x a.', '0+120> 120+120r 240+120x 360+1560.', 'marks do not change the written length'],
  ['3/4: 1 2 3', '0+480 480+480 960+480', 'waltz'],
  ['3/4: 1 2& 3', '0+720 720+240 960+480', 'reads'],
  ['5/4: 1 2& 4 5', '0+720 720+720 1440+480 1920+480', '3+2 with a dotted pair'],
  ['6/8: 1 4', '0+720 720+720', 'in x/8 the counts are eighths'],
  ['6/8: 1 3 4 6', '0+480 480+240 720+480 1200+240', 'quarter and eighth, twice'],
  ['6/8: 1 2& 4 5&', '0+360 360+360 720+360 1080+360', 'duplets (dotted eighths)'],
  ['7/8: 1 3 5', '0+480 480+480 960+720', '2+2+3'],
  ['9/8: 1 4 7 9', '0+720 720+720 1440+480 1920+240', 'reads'],
  [
    '12/8: 1 3 4 6 7 9 10 12',
    '0+480 480+240 720+480 1200+240 1440+480 1920+240 2160+480 2640+240',
    'slow-blues long-short',
  ],
  ['12/8: 1 4 6 7 10 11 12', '0+720 720+480 1200+240 1440+720 2160+240 2400+240 2640+240', 'run into the next bar'],
  ['2/2: 1 & 2 &', '0+480 480+480 960+480 1440+480', 'in 2/2 the counts are halves'],
  ['1/4: 1 :1/6 :1/3 & :2/3 :5/6', '0+80 80+80 160+80 240+80 320+80 400+80', 'exact places: six to the beat'],
  ['2/4: 1 :1/5 :2/5 :3/5 :4/5 2', '0+96 96+96 192+96 288+96 384+96 480+480', 'five to the beat'],
]

/** Text, then the error and the words it stands under. */
const REFUSED: readonly (readonly [text: string, code: string, under: string])[] = [
  ['1:1/6 2', 'first-count-missing', '1:1/6'],
  ['1/4: 1 :1/7', 'bad-fraction', ':1/7'],
  ['', 'empty', ''],
  ['1 2 |', 'empty-bar', ''],
  ['5 1', 'count-out-of-range', '5'],
  ['1 3 2', 'goes-back', '2'],
  ['1 2 2', 'same-place', '2'],
  ['1 & e', 'goes-back', 'e'],
  ['2 3 4', 'first-count-missing', '2'],
  ['& 2 3', 'first-count-missing', '&'],
  ['1 e trip 2', 'mixed-division', 'trip'],
  ['1 & let 2', 'mixed-division', 'let'],
  ['1 q 2', 'unknown-token', 'q'],
  ['1 (2', 'unknown-token', '(2'],
  ['1 (2.) 3', 'unknown-token', '(2.)'],
  ['1>> 2', 'mark-twice', '1>>'],
  ['1.- 2', 'short-and-long', '1.-'],
  ['1x- 2', 'ghost-mark', '1x-'],
  ['1~ 2', 'tie-not-last', '1~'],
  ['(1) ~2 3', 'nothing-to-hold', '~2'],
  ['1x ~2 3', 'nothing-to-hold', '~2'],
  ['3/5: 1 2 3', 'bad-metre', '3/5:'],
  ['0/4: 1', 'bad-metre', '0/4:'],
]

describe('a cell in its notation', () => {
  it.each(READ)('%s is %s: %s', (text, sounds) => {
    expect(soundsOf(cell(text))).toBe(soundsOf(sounds))
  })

  it.each(REFUSED)('%s is refused: %s', (text, code, under) => {
    const reading = parseCell(text)
    expect(reading).toMatchObject({ ok: false, code })
    if (reading.ok) return
    expect(text.slice(reading.span.from, reading.span.to)).toBe(under)
    expect(reading.span.from).toBe(text.lastIndexOf(under))
    expect(reading.message).not.toBe('')
  })

  it.each([
    ['x: 1', 'bad-metre'],
    ['17/8: 1', 'bad-metre'],
    ['3/4:', 'empty'],
    [' | 1', 'empty-bar'],
    ['1 2 (3.', 'unknown-token'],
    ['1 ~2>', 'unknown-token'],
    ['1 :3/2 2', 'bad-fraction'],
    ['1 :1/0 2', 'bad-fraction'],
    ['1 trip e 2', 'mixed-division'],
    ['1 2 | & 2', 'first-count-missing'],
    ['1 2 | 2', 'first-count-missing'],
    ['1x~', 'ghost-mark'],
    ['1 4~ | 1', 'tie-not-last'],
  ])('%s is refused too: %s', (text, code) => {
    expect(parseCell(text)).toMatchObject({ ok: false, code })
  })

  it('counts triplets beside sixteenths where fractions say so', () => {
    expect(soundsOf(cell('1/4: 1 e :1/3 &'))).toBe('0+120 120+40 160+80 240+240')
  })

  it('reads its metre with or without a blank behind the colon', () => {
    expect(cell('3/4:1 2 3')).toEqual(cell('3/4: 1 2 3'))
  })
})

describe('a cell printed', () => {
  it.each([
    ['1 2& ~3 4', '1 2& 4'],
    ['4/4: 1 2 3 4', '1 2 3 4'],
    ['1 1& 2 2and 3', '1 & 2 & 3'],
    ['1 2 (3) (4)', '1 2 (3)'],
    ['1-> 2', '1>- 2'],
    ['1 2 3 4& | ~1 2', '1 2 3 4& | ~1 2'],
    ['1 (2) | (1) 2', '1 (2) | (1) 2'],
    ['1 e :1/3 & 2', '1 e :1/3 & 2'],
    ['1/4: 1 :2/6 let', '1/4: 1 trip let'],
    ['~1 (2) 3~', '~1 (2) 3~'],
    ['6/8: 1 2& 4 5&', '6/8: 1 2& 4 5&'],
  ])('%s is written %s', (text, shortest) => {
    expect(printCell(cell(text))).toBe(shortest)
  })

  it('reads back as an equal cell', () => {
    fc.assert(
      fc.property(anyCell(), (any) => {
        const reading = parseCell(printCell(any))
        expect(reading).toEqual({ ok: true, cell: any })
      }),
      { seed: 2, numRuns: process.env['SOAK'] ? 10_000 : 1_000 },
    )
  })

  it('never throws at any text', () => {
    const words = fc.constantFrom(
      '1',
      '2',
      '4',
      '(1)',
      '~1',
      '&',
      'e',
      'trip',
      ':1/3',
      '|',
      '1>',
      '3x',
      '4~',
      '3/4:',
      '(',
      '9',
      'q',
    )
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(words).map((all) => all.join(' ')),
        ),
        (text) => {
          const reading = parseCell(text)
          if (reading.ok) expect(cell(printCell(reading.cell))).toEqual(reading.cell)
          else expect(reading.span.to).toBeLessThanOrEqual(text.length)
        },
      ),
      { seed: 3, numRuns: process.env['SOAK'] ? 20_000 : 2_000 },
    )
  })
})

/** Cells of one to three bars whose notes and rests change at whole twelfths or fifths of a count. */
function anyCell(): fc.Arbitrary<Cell> {
  const metre = fc.constantFrom([4, 4], [3, 4], [1, 4], [12, 8], [7, 8], [2, 2])
  const shares = fc.array(fc.tuple(fc.nat({ max: 2_000 }), fc.constantFrom('note', 'rest', 'ghost'), fc.nat()))
  return fc
    .tuple(metre, fc.integer({ min: 1, max: 3 }), shares, fc.boolean())
    .map(([[upper, lower], bars, rows, held]) => {
      const barTicks = (upper! * 1920) / lower!
      const ticks = bars * barTicks
      const places = new Map(rows.map(([at, kind, marks]) => [(at * 20) % ticks, { kind, marks }]))
      if (!places.has(0)) places.set(0, { kind: 'note', marks: 0 })
      const sorted = [...places].sort(([a], [b]) => a - b)
      const onsets: CellOnset[] = []
      for (const [index, [tick, { kind, marks }]] of sorted.entries()) {
        if (kind === 'rest') continue
        const until = sorted[index + 1]?.[0] ?? ticks
        const ghost = kind === 'ghost'
        // A ghost cannot be held over a bar line.
        const end = ghost ? Math.min(until, (Math.floor(tick / barTicks) + 1) * barTicks) : until
        const continues = tick === 0 && held && !ghost
        onsets.push({
          tick,
          ticks: end - tick,
          ghost,
          accent: !continues && marks % 2 === 1,
          length: ghost || continues ? undefined : (['short', 'long', undefined] as const)[marks % 3],
          tiedOver: !ghost && !continues && tick > ticks - barTicks && end === ticks && marks % 5 === 1,
          continues,
        })
      }
      return { upper: upper!, lower: lower!, bars, ticks, onsets }
    })
}
