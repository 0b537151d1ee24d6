import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  editedText,
  feelEdits,
  headerEdit,
  type SingleHeaderName,
  vocabularyEdit,
} from '../../src/chart/header-edit.ts'
import { parseChart } from '../../src/chart/parse.ts'
import { PATTERNS } from '../../src/line/patterns.ts'
import { CELLS } from '../../src/rhythm/cells.ts'
import { withoutSpans } from '../support/chart-case.ts'
import { EXAMPLES } from '../support/command.ts'
import { readExample } from '../support/example.ts'

const edited = (text: string, name: SingleHeaderName, value: string | undefined) =>
  editedText(text, [headerEdit(text, name, value)])

describe('a header that is set', () => {
  it.each([
    [
      'takes a new value where it stands',
      'title: A\ntempo: 90\n| C7 |',
      'tempo',
      '120',
      'title: A\ntempo: 120\n| C7 |',
    ],
    ['keeps its remark', 'tempo: 90 // slow\n| C7 |', 'tempo', '120', 'tempo: 120 // slow\n| C7 |'],
    ['keeps how its name is written', 'Tempo :90\n| C7 |', 'tempo', '120', 'Tempo : 120\n| C7 |'],
    ['fills a row that says nothing', 'tempo:\n| C7 |', 'tempo', '120', 'tempo: 120\n| C7 |'],
    ['keeps Windows line ends', 'key: F\r\n| C7 |\r\n', 'tempo', '120', 'key: F\r\ntempo: 120\r\n| C7 |\r\n'],
    [
      'comes after those that usually stand before it',
      'title: A\nfeel: shuffle\n| C7 |',
      'key',
      'F',
      'title: A\nkey: F\nfeel: shuffle\n| C7 |',
    ],
    [
      'comes first where all others usually stand behind it',
      '// a remark\nkey: F\n| C7 |',
      'title',
      'A',
      '// a remark\ntitle: A\nkey: F\n| C7 |',
    ],
    ['comes before a header that nobody knows', 'mood: dark\n| C7 |', 'key', 'F', 'key: F\nmood: dark\n| C7 |'],
    [
      'stands alone above bars without a header',
      '// a remark\n[A]\n| C7 |',
      'key',
      'F',
      '// a remark\nkey: F\n\n[A]\n| C7 |',
    ],
    ['makes a row of its own behind the last one', 'title: A', 'key', 'F', 'title: A\nkey: F'],
    ['stands in an empty text', '', 'key', 'F', 'key: F\n'],
    ['stands behind a remark', '// later', 'key', 'F', '// later\nkey: F'],
    ['is the first one of two', 'key: F\nkey: C\n| C7 |', 'key', 'G', 'key: G\nkey: C\n| C7 |'],
    ['is the first one that says anything', 'key:\nkey: C\n| C7 |', 'key', 'G', 'key:\nkey: G\n| C7 |'],
    ['does not touch a row behind the first bar', '| C7 |\nkey: C\n', 'key', 'G', 'key: G\n\n| C7 |\nkey: C\n'],
    ['begins with a bar line if it must', 'title:A\n| C7 |', 'title', '|B|', 'title: |B|\n| C7 |'],
  ] as const)('%s', (_, text, name, value, expected) => {
    expect(edited(text, name, value)).toBe(expected)
  })

  it('changes nothing where it says so already', () => {
    const text = 'tempo: 90\n| C7 |'
    expect(headerEdit(text, 'tempo', ' 90 ')).toEqual({ from: 7, to: 7, insert: '' })
  })

  it.each(['two\nrows', 'a // remark'])('refuses a value that would not be read back: %j', (value) => {
    expect(() => headerEdit('| C7 |', 'title', value)).toThrow(RangeError)
  })
})

describe('a header that is dropped', () => {
  it.each([
    ['goes with its row', 'key: F\nfeel: shuffle\n\n| C7 |', 'key: F\n\n| C7 |'],
    ['leaves its remark', 'feel: shuffle // not yet\n| C7 |', '// not yet\n| C7 |'],
    ['goes wherever it stands', 'feel: shuffle\r\nkey: F\r\nfeel: samba\r\n| C7 |', 'key: F\r\n| C7 |'],
    ['goes at the end of the text', 'key: F\nfeel: shuffle', 'key: F\n'],
    ['was not there', 'key: F\n| C7 |', 'key: F\n| C7 |'],
  ])('%s', (_, text, expected) => {
    expect(edited(text, 'feel', undefined)).toBe(expected)
    expect(edited(text, 'feel', '  ')).toBe(expected)
  })
})

describe('words of the vocabulary', () => {
  it('stand bare as ids and in quotes as notations', () => {
    const text = 'key: F\n| C7 |'
    const cells = ['four-quarters', '3/4: 1 2& 3', '1']
    const now = editedText(text, [vocabularyEdit(text, 'cells', cells)])
    expect(now).toBe('key: F\ncells: four-quarters "3/4: 1 2& 3" "1"\n| C7 |')
    expect(parseChart(now).chart.cells?.map((word) => word.text)).toEqual(cells)
  })

  it('are bare for every id there is, and quoted for every notation', () => {
    for (const [name, ids, notations] of [
      ['cells', CELLS.map((cell) => cell.id), CELLS.map((cell) => cell.notation)],
      ['patterns', PATTERNS.map((pattern) => pattern.id), PATTERNS.map((pattern) => pattern.text)],
    ] as const) {
      const words = parseChart(vocabularyEdit('', name, [...ids, ...notations]).insert).chart[name]!
      expect(words.map(({ text }) => text)).toEqual([...ids, ...notations])
      expect(words.map(({ quoted }) => quoted)).toEqual([...ids.map(() => false), ...notations.map(() => true)])
    }
  })

  it('are the feel’s own again when there is none', () => {
    const text = 'cells: gallop\n| C7 |'
    expect(editedText(text, [vocabularyEdit(text, 'cells', [])])).toBe('| C7 |')
  })

  it('are refused with a quote inside', () => {
    expect(() => vocabularyEdit('', 'cells', ['1 "2'])).toThrow(RangeError)
  })
})

describe('another feel', () => {
  it.each([
    ['key: F\nfeel: shuffle\ncells: gallop\npatterns: root-only\n| C7 |', 'key: F\nfeel: bossa-nova\n| C7 |'],
    ['cells: gallop\nkey: F\npatterns: root-only // mine\n| C7 |', 'key: F\nfeel: bossa-nova\n// mine\n| C7 |'],
    ['patterns: a\r\ncells: b\r\npatterns: c', 'feel: bossa-nova\r\n'],
    ['| C7 |', 'feel: bossa-nova\n\n| C7 |'],
  ])('has its own cells and patterns: %j', (text, expected) => {
    expect(editedText(text, feelEdits(text, 'bossa-nova'))).toBe(expected)
  })
})

const VALUES: readonly (readonly [SingleHeaderName, string, unknown])[] = [
  ['title', '| take: two', '| take: two'],
  ['composer', 'Nobody', 'Nobody'],
  ['tempo', '97', 97],
  ['feel', 'soul-eighths', { value: 'soul-eighths' }],
  ['bass', 'five-string', { value: 'five-string' }],
  [
    'cells',
    'gallop "1 2"',
    [
      { text: 'gallop', quoted: false },
      { text: '1 2', quoted: true },
    ],
  ],
  ['patterns', 'root-only', [{ text: 'root-only', quoted: false }]],
]

describe('any chart', () => {
  const row = fc.constantFrom(
    ...[
      '',
      '  ',
      '// remark',
      'title: A',
      'Tempo: 90',
      'tempo: 80 // why',
      'feel: shuffle',
      'feel:',
      'cells: "1 2&" gallop',
    ],
    ...[
      'patterns: root-only',
      'bass: six',
      'mood: dark',
      'rule: Bar 1: root on 1',
      'key: F',
      'time: 3/4',
      'composer:me',
    ],
    ...['[A]', 'play it twice as slow here', '| Dm7 G7 |', '|: C7 | F7 :|', 'Am7', ':|', '|'],
  )
  const chart = fc.oneof(
    fc
      .tuple(fc.array(row, { maxLength: 14 }), fc.constantFrom('\n', '\r\n', '\r'), fc.constantFrom('', '\uFEFF'))
      .map(([rows, end, mark]) => mark + rows.join(end)),
    fc.constantFrom(...EXAMPLES.map(readExample)),
  )

  it('differs in the one header only, set or dropped (seed 20253)', () => {
    const runs = { seed: 20_253, numRuns: process.env['SOAK'] === '1' ? 10_000 : 600 }
    fc.assert(
      fc.property(chart, fc.constantFrom(...VALUES), fc.boolean(), (text, [name, value, read], drops) => {
        const before = withoutSpans(parseChart(text).chart) as Record<string, unknown>
        const now = edited(text, name, drops ? undefined : value)
        const after = withoutSpans(parseChart(now).chart) as Record<string, unknown>
        expect(after).toEqual({ ...before, [name === 'tempo' ? 'tempoBpm' : name]: drops ? undefined : read })
        const remarks = (one: string) => one.split(/\r\n?|\n/).flatMap((each) => /\/\/.*/.exec(each)?.[0] ?? [])
        expect(remarks(now)).toEqual(remarks(text))
        expect(edited(now, name, drops ? undefined : value)).toBe(now)
      }),
      runs,
    )
  })

  it('differs in the feel, the cells and the patterns when it takes another feel (seed 20254)', () => {
    fc.assert(
      fc.property(chart, (text) => {
        const before = withoutSpans(parseChart(text).chart) as Record<string, unknown>
        const after = withoutSpans(parseChart(editedText(text, feelEdits(text, 'samba'))).chart)
        expect(after).toEqual({ ...before, feel: { value: 'samba' }, cells: undefined, patterns: undefined })
      }),
      { seed: 20_254, numRuns: 200 },
    )
  })
})
