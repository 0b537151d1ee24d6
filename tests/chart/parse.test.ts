import { describe, expect, it } from 'vitest'
import { LONGEST_TEXT, parseChart } from '../../src/chart/parse.ts'
import { formatKey } from '../../src/music/key.ts'
import { EXAMPLES } from '../support/command.ts'
import { readExample } from '../support/example.ts'

describe('the headers of a chart', () => {
  const text = `title: Late Bus Blues
composer: nobody
key: Dm
time: 7/8
tempo: 132.5
feel: shuffle
form: A Bridge
groups: 3+2+2
pickup: yes
bass: five-string
cells: four-quarters, "1 2& 3 4" walk-skip-four
patterns: “1 3 5 n1”
rule: Bars 1–2: no leap over a fourth (must)
rule: Bar 3: root on 1
mood: dark
[A] (1/8) A7 | Dm6 |
[Bridge] Gm7 |`
  const { chart } = parseChart(text)

  it('are read', () => {
    expect(chart.title).toBe('Late Bus Blues')
    expect(chart.composer).toBe('nobody')
    expect(formatKey(chart.key!)).toBe('Dm')
    expect([chart.metre.upper, chart.metre.lower]).toEqual([7, 8])
    expect(chart.groups).toEqual([3, 2, 2])
    expect(chart.bars.map(({ metre }) => metre.groups)).toEqual([[1], [3, 2, 2], [3, 2, 2]])
    expect(chart.tempoBpm).toBe(132.5)
    expect(chart.pickup).toBe(true)
    expect(chart.feel?.value).toBe('shuffle')
    expect(chart.bass?.value).toBe('five-string')
    expect(chart.form?.map(({ value }) => value)).toEqual(['A', 'Bridge'])
    expect(chart.rules.map(({ value }) => value)).toEqual([
      'Bars 1–2: no leap over a fourth (must)',
      'Bar 3: root on 1',
    ])
    expect(chart.otherHeaders.map(({ name, value }) => [name, value])).toEqual([['mood', 'dark']])
  })

  it('name cells and patterns by ids and by notations in quotes', () => {
    expect(chart.cells?.map((word) => [word.text, word.quoted])).toEqual([
      ['four-quarters', false],
      ['1 2& 3 4', true],
      ['walk-skip-four', false],
    ])
    expect(chart.patterns?.map((word) => [word.text, word.quoted])).toEqual([['1 3 5 n1', true]])
  })

  it('know where their values are written', () => {
    const written = [chart.feel!, chart.bass!, ...chart.form!, ...chart.rules, ...chart.otherHeaders]
    for (const { value, span } of written) expect(text.slice(span.from, span.to)).toBe(value)
    for (const word of [...chart.cells!, ...chart.patterns!])
      expect(text.slice(word.span.from, word.span.to)).toBe(word.text)
  })

  it('are absent where nothing is said', () => {
    const { chart: bare } = parseChart('| C |')
    expect(bare.title).toBeUndefined()
    expect(bare.key).toBeUndefined()
    expect(bare.tempoBpm).toBeUndefined()
    expect(bare.cells).toBeUndefined()
    expect(bare.pickup).toBe(false)
    expect([bare.metre.upper, bare.metre.lower]).toEqual([4, 4])
  })
})

describe('the bars of a chart', () => {
  it('know where they and their chords are written', () => {
    const text = 'key: F\r\n| Dm7 /  / G7 |\r\n| Cmaj7(9, #11) | % |'
    const { chart } = parseChart(text)
    const cut = ({ from, to }: { from: number; to: number }) => text.slice(from, to)
    expect(chart.bars.map(({ span }) => cut(span))).toEqual(['Dm7 /  / G7', 'Cmaj7(9, #11)', '%'])
    expect(chart.bars.map(({ chords }) => chords.map(({ span }) => cut(span)))).toEqual([
      ['Dm7 /  /', 'G7'],
      ['Cmaj7(9, #11)'],
      [],
    ])
  })

  it('are numbered from 1, and a pick-up is bar 0', () => {
    const numbers = (text: string) => parseChart(text).chart.bars.map(({ number }) => number)
    expect(numbers('| C | F |')).toEqual([1, 2])
    expect(numbers('pickup: yes\n| (1/4) G7 | C | F |')).toEqual([0, 1, 2])
  })

  it('read equal symbols as one', () => {
    const [first, second] = parseChart('| Dm7 | Dm7 |').chart.bars
    expect(first!.chords[0]!.word).toEqual(second!.chords[0]!.word)
  })
})

describe('a text', () => {
  it.each(EXAMPLES)('that is the example %s has nothing said against it', (name) => {
    expect(parseChart(readExample(name)).diagnostics).toEqual([])
  })

  it('that is too long is not read', () => {
    const { chart, diagnostics } = parseChart('| C '.repeat(LONGEST_TEXT))
    expect(chart.bars).toEqual([])
    expect(diagnostics.map(({ severity, code }) => [severity, code])).toEqual([['error', 'chart/too-long']])
  })

  it.each([
    'x ',
    '| ',
    '[ ',
    '(',
    '( ',
    ':',
    '[|',
    '|:',
    'a: \n',
    '1,',
    '|1,',
    '"',
    'Hm ',
    '% % | ',
    'D.C. ',
    'C7(|',
    '\r',
  ])('of nothing but %j is read to its end', (piece) => {
    const { chart, diagnostics } = parseChart(piece.repeat(LONGEST_TEXT / piece.length))
    expect(diagnostics.length).toBeGreaterThan(0)
    expect(diagnostics.length).toBeLessThan(210)
    expect(chart.bars.length).toBeLessThan(LONGEST_TEXT)
  })

  it('with too many faults says how many more there are', () => {
    const { diagnostics } = parseChart('| Hm7 '.repeat(300))
    expect(diagnostics).toHaveLength(201)
    expect(diagnostics.at(-1)).toMatchObject({ severity: 'hint', code: 'chart/more' })
    expect(diagnostics.at(-1)!.message).toMatch(/^100 more/)
  })

  it('says everything in the order of the text', () => {
    const { diagnostics } = parseChart('[A]\nmood: dark\n| Hm7 |: C | C2 |\nkey: F')
    const froms = diagnostics.map(({ span }) => span.from)
    expect(froms).toEqual([...froms].sort((a, b) => a - b))
  })
})

describe('a chord that nobody can read', () => {
  const said = (text: string) => parseChart(text).diagnostics.map(({ message }) => message)

  it.each([
    ['Bb7 | Bdmi7', '"Bdmi7" is not a chord we can read. It plays as the Bb7 before it.'],
    ['Bb7 | % | / / / / | Bdmi7', '"Bdmi7" is not a chord we can read. It plays as the Bb7 before it.'],
    ['Bb7 | C7 Bdmi7', '"Bdmi7" is not a chord we can read. It plays as the C7 before it.'],
    ['Bdmi7', '"Bdmi7" is not a chord we can read. It plays as N.C.'],
    ['Bb7 | N.C. | Bdmi7', '"Bdmi7" is not a chord we can read. It plays as N.C.'],
    ['Bb7 | D min7', '"min7" stands alone and is no chord. It plays as the D before it.'],
    ['Bb7 | bVII7', '"bVII7" is one, are not read yet: write the chord by its letter. It plays as the Bb7 before it.'],
  ])('says what is played instead: %s', (row, sentence) => {
    expect(said(`| ${row} |`)[0]).toContain(sentence)
  })

  it('leaves open what is played before it where bars are played again or in another order', () => {
    const open = 'It plays as the chord before it, or as N.C. where there is none.'
    expect(said('| C7 |: Bdmi7 | F7 :|')[0]).toContain(open)
    expect(said('form: B A\n[A] C7 | [B] Bdmi7 |')[0]).toContain(open)
  })
})
