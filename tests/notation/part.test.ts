import { describe, expect, test } from 'vitest'
import type { Form } from '../../src/chart/form.ts'
import { compose } from '../../src/compose.ts'
import { instrumentOf } from '../../src/music/instruments.ts'
import { parseKey } from '../../src/music/key.ts'
import { type Part, type PartBar, type PrintedNote, type PrintedRest, partOf } from '../../src/notation/part.ts'
import { changes } from '../support/changes.ts'
import { FOUR_STRINGS } from '../support/grooves.ts'
import { rhythmText } from '../support/rhythm-text.ts'
import { writtenLine } from '../support/written-line.ts'

interface Setting {
  readonly key?: string
  readonly bass?: string
  readonly loop?: boolean
  readonly time?: string
  readonly form?: string
}

function part(chords: string | Form, row: string, { key, bass, loop = false, time, form: order }: Setting = {}): Part {
  const headers = { ...(time ? { time } : {}), ...(order ? { form: order } : {}), ...(key ? { key } : {}) }
  const form = typeof chords === 'string' ? changes(chords, headers) : chords
  const instrument = bass ? instrumentOf(bass)! : FOUR_STRINGS
  const ofKey = key ? parseKey(key)! : undefined
  const line = writtenLine(form, row, { loop, instrument, ...(ofKey ? { key: ofKey } : {}) })
  return partOf({ form, line, key: ofKey, instrument })
}

const isNote = (sign: PrintedNote | PrintedRest): sign is PrintedNote => sign.kind === 'note'

/** Something of each note, bar by bar; `-` where it is not printed. */
function rows(of: Part, say: (note: PrintedNote) => string | undefined): string {
  return of.bars
    .map((bar) =>
      bar.signs
        .filter(isNote)
        .map((note) => say(note) ?? '-')
        .join(' '),
    )
    .join(' | ')
}

const rhythm = (of: Part): string => of.bars.map(rhythmText).join(' | ')
const accidentals = (of: Part): string => rows(of, ({ accidental }) => accidental)
const degrees = (of: Part): string => rows(of, ({ degree }) => degree && `${degree.accidental ?? ''}${degree.number}`)
const marks = (of: Part): string => rows(of, ({ mark }) => mark)
const tab = (of: Part): string =>
  rows(
    of,
    ({ tab: figure }) =>
      figure && `${figure.bracketed ? '(' : ''}${figure.string}:${figure.fret ?? 'x'}${figure.bracketed ? ')' : ''}`,
  )

function symbols({ bars }: Part): string {
  const text = ({ symbols: list, startTick: start }: PartBar) =>
    list
      .map(({ root, accidental, minor, suffix, startTick }) => {
        const at = (startTick - start) / 480 + 1
        return `${root}${accidental ?? ''}${minor ? 'm' : ''}${suffix}@${at}`
      })
      .join(' ')
  return bars.map(text).join(' | ')
}

test('a line fills its bars with notes and rests', () => {
  const of = part('F7 | Bb7', 'F1/q. A1/e r/q C2/q | Bb1/h r/h')
  expect(rhythm(of)).toBe('q. e rq q | h rh')
  expect(of.bars.map(({ startTick, ticks }) => [startTick, ticks])).toEqual([
    [0, 1920],
    [1920, 1920],
  ])
})

test('a bar in which nothing sounds is a whole rest in every metre', () => {
  expect(rhythm(part('F | N.C.', 'F1/h. r/h.', { time: '3/4' }))).toBe('h. | rw')
  expect(part('F | N.C.', 'F1/h. r/h.', { time: '3/4' }).bars[1]!.signs[0]!.ticks).toBe(1440)
})

test('a note over a bar line is printed on both sides and tied', () => {
  const of = part('F | Bb', 'F1/h. Bb1/q+q< | D2/h.')
  expect(rhythm(of)).toBe('h. q~ | q h.')
  expect(rows(of, ({ tiedFromBefore }) => (tiedFromBefore ? 'tied' : undefined))).toBe('- - | tied -')
  expect(rows(of, ({ noteIndex }) => `${noteIndex}`)).toBe('0 1 | 1 2')
})

test('what a loop ties over its end goes on at its start, and only there', () => {
  expect(rhythm(part('F | Bb', 'r/q F1/h. | Bb1/h. F1/q+q<', { loop: true }))).toBe('q h. | h. q~')
  expect(tab(part('F | Bb', 'r/q F1/h. | Bb1/h. F1/q+q<', { loop: true }))).toBe('(0:1) 0:1 | 1:1 0:1')
  expect(rhythm(part('F | Bb', 'F1/w | Bb1/h. F1/q+q<', { loop: true }))).toBe('w | h. q')
})

test('accents and lengths stand where a note is struck', () => {
  const of = part('F | Bb', "F1/h.>' Bb1/q+q>< | D2/h.")
  expect(rows(of, ({ accent, length }) => `${accent ? '>' : ''}${length ?? ''}`)).toBe('>short > |  ')
})

describe('a note stands on its step, with the accidental that it needs', () => {
  test('steps count from the middle line, an octave above what sounds', () => {
    expect(rows(part('F', 'E1/q D2/q G2/q C3/q'), ({ step }) => `${step}`)).toBe('-6 0 3 6')
    expect(rows(part('F', 'E2/q D3/q G3/q C4/q', { bass: 'piccolo' }), ({ step }) => `${step}`)).toBe('-6 0 3 6')
  })

  test.each([
    ['the signature says it', 'F', 'Bb1/q Bb2/q A1/q F1/q', '- - - -'],
    ['a natural against the signature', 'F', 'B1/q Bb1/q B1/q B1/q', 'n b n -'],
    ['it holds to the bar line', 'C', 'F#1/q F#1/q F1/q F1/q | F#1/q F1/h.', '# - n - | # n'],
    ['each octave by itself', 'C', 'F#1/q F#2/q F1/q F2/q', '# # n n'],
    ['another letter of the same sound', 'C', 'F#1/q Gb1/q F#1/q G1/q', '# b - n'],
    ['a tied note repeats none, and the bar after it does', 'C', 'F1/h. F#1/q+q< | F#1/q F1/h', '- # | - # n'],
    ['double flats go back to single ones', 'C', 'Bbb1/q Bb1/q B1/h', 'bb b n'],
    ['double sharps', 'E', 'F##1/q F#1/q F#1/h', '## # -'],
    ['a dead note has none', 'C', 'F#1/q x/q F#1/h | x/q F#1/h.', '# - - | - #'],
    ['seven flats', 'Cb', 'Fb1/q F1/q Cb2/h', '- n -'],
    ['a minor key has its relative signature', 'Dm', 'Bb1/q C#2/q D2/h', '- # -'],
  ])('%s, in %s: %s', (_, key, row, printed) => {
    expect(accidentals(part('C | F', `${row}${row.includes('|') ? '' : ' | r/w'}`, { key }))).toBe(
      row.includes('|') ? printed : `${printed} | `,
    )
  })
})

describe('tab', () => {
  test('has string and fret where a note is struck, a cross for a dead note, nothing for a tie inside a bar', () => {
    expect(tab(part('F', 'F1/q. A1/q. x/q'))).toBe('0:1 1:0 - 1:x')
  })

  test('stands again in brackets where a tie comes over a bar line', () => {
    expect(tab(part('F | F', 'F1/h. C2/q+h+e< | A1/q.'))).toBe('0:1 1:3 | (1:3) - 1:0')
  })
})

describe('degrees', () => {
  test('count against the chord, and a pushed note against the chord it brings', () => {
    expect(degrees(part('F7 | Bb7', 'F1/q A1/q Eb2/q. Bb1/e+h< | D2/h'))).toBe('1 3 b7 1 | - 3')
  })

  test('stand again over a bar line only if another chord has come under the note', () => {
    expect(degrees(part('F | F', 'F1/h. C2/q+h | A1/h'))).toBe('1 5 | - 3')
    expect(degrees(part('F | C7', 'F1/h. C2/q+h | E2/h'))).toBe('1 5 | 1 3')
    expect(marks(part('F | C7', 'F1/h. C2/q+h | E2/h'))).toBe('root fifth | root third')
  })

  test('of a chord keep its double accidental', () => {
    expect(degrees(part('Bdim7', 'B1/h Ab1/h'))).toBe('1 bb7')
  })
})

describe('marks', () => {
  test.each([
    ['tones of the chord by their degree', 'C7', 'C2/q E2/q G2/q Bb1/q', 'root third fifth seventh'],
    ['a slash bass by its degree, a third', 'C/E', 'E1/h G1/h', 'third fifth'],
    ['a slash bass by its degree, a fifth', 'G7/D', 'D2/h G1/h', 'fifth root'],
    ['a slash bass by its degree, a seventh', 'Am7/G', 'G1/h A1/h', 'seventh root'],
    ['a slash bass off the chord by its degree too', 'C/Bb', 'Bb1/h C2/h', 'seventh root'],
    ['a slash bass that is a nine as tension', 'C/D', 'D2/h C2/h', 'tension root'],
    ['six and nine as tension', 'C6/9', 'C2/q A1/q D2/q C2/q', 'root tension tension root'],
    ['passing as the way it leads', 'C', 'C2/q D2/q E2/q D2/e C2/e', 'root motion-up third motion-down root'],
    ['a dead note', 'C', 'C2/h x/h', 'root ghost'],
  ])('show %s', (_, chord, row, expected) => {
    expect(marks(part(chord, row))).toBe(expected)
  })

  test('show a note struck twice on its way as level, then as it leads', () => {
    expect(marks(part('C | F', 'C2/h. E1/e E1/e | F1/w'))).toBe('root third third | root')
    expect(marks(part('C | F', 'C2/h. F#1/e F#1/e | F1/w'))).toBe('root motion-level motion-down | root')
  })

  test('show a pushed note as what it is to the chord it brings', () => {
    expect(marks(part('C | F7', 'C2/h. A1/q+h< | Eb2/h'))).toBe('root third | - seventh')
    expect(marks(part('C | F/A', 'C2/h. A1/q+h< | C2/h'))).toBe('root third | - fifth')
  })
})

describe('chord symbols stand', () => {
  const typed = (text: string, loop = false): string => {
    const composition = compose(text, { loop })
    const { form, chart, instrument } = composition
    return symbols(partOf({ form, line: composition.lines[0]!, key: undefined, instrument, written: chart.bars }))
  }

  test('where a chord is typed again, and not for a repeat sign or slashes', () => {
    expect(typed('| C7 | C7 | % | / F7 |')).toBe('C7@1 | C7@1 |  | F7@2')
    expect(typed('| C7 | / | N.C. | N.C. |')).toBe('C7@1 |  | N.C.@1 | N.C.@1')
  })

  test('where a chord is typed that nobody can read, as the one that is played instead', () => {
    expect(typed('| Bb7 | Bdmi7 | F7 Qx7 |')).toBe('Bb7@1 | Bb7@1 | F7@1 F7@3')
  })

  test('as typed each time round', () => {
    expect(typed('|: C7 | % :| F7 |')).toBe('C7@1 |  | C7@1 |  | F7@1')
    expect(typed('pickup: yes\n| (1/4) C7 | (4/4) C7 | F7 |')).toBe('C7@1 | C7@1 | F7@1')
  })

  test('where the chord changes, and not again while it is held', () => {
    expect(symbols(part('F7 | F7 | Bb7 F7 | %', 'F1/w | F1/w | F1/w | F1/w'))).toBe('F7@1 |  | Bb7@1 F7@3 | Bb7@1 F7@3')
  })

  test('as N.C. where no chord sounds', () => {
    expect(symbols(part('F7 | N.C. | N.C. | F7', 'F1/w | r/w | r/w | F1/w'))).toBe('F7@1 | N.C.@1 |  | F7@1')
  })

  test('over the note that brings them inside a bar, over beat one where a bar line lies between', () => {
    expect(symbols(part('F7 Bb7 | C7', 'F1/q. Bb1/e+h< | C2/w'))).toBe('F7@1 Bb7@2.5 | C7@1')
    expect(symbols(part('F7 Bb7 | C7', 'F1/h Bb1/q. C2/e+h< | C2/h'))).toBe('F7@1 Bb7@3 | C7@1')
  })
})

test('sections have their letter, a double line before them and a final one at the end', () => {
  const of = part('[A] F7 | F7 | [B] Bb7 | F7', 'F1/w | F1/w | F1/w | F1/w')
  expect(of.bars.map(({ section, barLine }) => `${section ?? ''} ${barLine}`.trim())).toEqual([
    'A single',
    'double',
    'B single',
    'final',
  ])
})

test('a metre is printed at the first bar and where it changes', () => {
  const of = part('F7 | (3/4) Bb7 | Bb7', 'F1/w | F1/h. | F1/h.')
  expect(of.bars.map(({ metreChanges }) => metreChanges)).toEqual([true, true, false])
  expect(rhythm(of)).toBe('w | h. | h.')
})

test('a part knows its key and how many strings it has', () => {
  expect(part('F', 'F1/w', { bass: 'six-string', key: 'F' })).toMatchObject({ strings: 6, key: { sharps: -1 } })
})
