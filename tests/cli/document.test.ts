import { describe, expect, test } from 'vitest'
import type { ComposeDocument } from '../../src/cli-json.ts'
import { EXAMPLES, example, linewright } from '../support/command.ts'

/** The kind of every value, as the page of the command line states it: an array has the kinds of its entries, each once. */
function shapeOf(value: unknown): unknown {
  if (value === null) return 'null'
  if (Array.isArray(value)) {
    const shapes = new Map(value.map((entry) => [JSON.stringify(shapeOf(entry)), shapeOf(entry)]))
    return [...shapes.values()]
  }
  if (typeof value === 'object') return Object.fromEntries(Object.entries(value).map(([key, of]) => [key, shapeOf(of)]))
  return typeof value
}

const TERM = { rule: 'string', points: 'number' }

const NOTE_KEYS = [
  ...['bar', 'writtenBar', 'beat', 'startTick', 'ticks', 'pitch', 'name', 'string', 'fret'],
  ...['chord', 'degree', 'function', 'pattern', 'cell', 'ghost', 'terms'],
]

const FUNCTIONS = [
  ...['root', 'third', 'fifth', 'seventh', 'tension'],
  ...['passing', 'neighbour', 'approach', 'enclosure', 'anticipation', 'ghost'],
]

/** Sounding pitches of a four-string bass, the highest-sounding string first. */
const STRINGS = [43, 38, 33, 28]

async function documentOf(args: readonly string[], input = ''): Promise<ComposeDocument> {
  const { out, err, status } = await linewright([...args, '--json'], { input })
  expect(status, err).toBe(0)
  return JSON.parse(out)
}

describe.each(EXAMPLES)('The JSON of %s', (name) => {
  test('has the keys and kinds that were promised, and adds up', async () => {
    const { chart, diagnostics, lines, conflict, timing, ...more } = await documentOf(['compose', example(name)])
    expect(more).toEqual({})
    expect(conflict).toBeNull()
    // A chart that changes its metre is told how that is played.
    expect(diagnostics.filter(({ code }) => code !== 'chart/other-metre')).toEqual([])
    expect(shapeOf(timing)).toEqual({ buildMs: 'number' })
    expect(Object.keys(chart!)).toEqual(['title', 'key', 'bars', 'formBars', 'tempo', 'feel'])
    expect(['null', 'string']).toContain(shapeOf(chart!.key))
    expect([chart!.title, chart!.bars, chart!.formBars, chart!.tempo, chart!.feel].map(shapeOf)).toEqual([
      'string',
      'number',
      'number',
      'number',
      'string',
    ])

    expect(lines).toHaveLength(1)
    const [line] = lines
    expect(Object.keys(line!)).toEqual(['cost', 'differs', 'aboveBest', 'provenWithin', 'terms', 'notes'])
    for (const term of line!.terms) expect([TERM, { ...TERM, bar: 'number' }]).toContainEqual(shapeOf(term))
    let sum = line!.terms.reduce((points, term) => points + term.points, 0)
    let end = 0
    for (const note of line!.notes) {
      expect(Object.keys(note)).toEqual(NOTE_KEYS)
      expect(note.bar).toBeGreaterThanOrEqual(1)
      expect(note.bar).toBeLessThanOrEqual(chart!.formBars)
      expect(note.writtenBar).toBeLessThanOrEqual(chart!.bars)
      expect(note.beat).toMatch(/^[1-9]\d*(\/[1-9]\d*)?$/)
      expect(note.name).toMatch(/^[A-G](##|bb|#|b)?\d$/)
      if (!note.ghost) expect(note.pitch).toBe(STRINGS[note.string - 1]! + note.fret)
      expect(FUNCTIONS).toContain(note.function)
      expect(note.function === 'ghost').toBe(note.ghost)
      expect(['null', 'string']).toContain(shapeOf(note.pattern))
      expect(note.startTick).toBeGreaterThanOrEqual(end)
      end = note.startTick + note.ticks
      for (const term of note.terms) expect(shapeOf(term)).toEqual(TERM)
      sum += note.terms.reduce((points, term) => points + term.points, 0)
    }
    expect(sum).toBe(line!.cost)
    expect(line!.aboveBest).toBe(0)
  })
})

describe('The JSON', () => {
  test('counts beats as fractions of the count of the metre', async () => {
    const { lines } = await documentOf(['compose', example('window-left-open'), '--cells', '"3/4: 1 2& 3"'])
    expect([...new Set(lines[0]!.notes.map((note) => note.beat))]).toEqual(['1', '5/2', '3'])
    expect(new Set(lines[0]!.notes.map((note) => note.cell))).toEqual(new Set(['3/4: 1 2& 3']))
  })

  test('counts bars as played and as written', async () => {
    const { chart, lines } = await documentOf(['compose', example('wet-cardboard')])
    expect(chart).toMatchObject({ bars: 12, formBars: 20 })
    const bars = new Map(lines[0]!.notes.map((note) => [note.bar, note.writtenBar]))
    expect([bars.get(1), bars.get(5), bars.get(9), bars.get(13), bars.get(20)]).toEqual([1, 1, 1, 5, 12])
  })

  test('says where each line stands above the first', async () => {
    const { lines } = await documentOf(['compose', example('third-lift-out-of-order'), '--variations', '3'])
    expect(lines).toHaveLength(3)
    for (const line of lines) expect(line.aboveBest).toBe(line.cost - lines[0]!.cost)
    expect(lines.map((line) => line.cost)).toEqual(lines.map((line) => line.cost).sort((a, b) => a - b))
  })

  test('is the same every time, but for the time it took', async () => {
    const args = ['compose', example('biscuit-tin'), '--variations', '2']
    const { timing: _, ...first } = await documentOf(args)
    const { timing: __, ...second } = await documentOf(args)
    expect(second).toEqual(first)
  })

  test('of explain is that of compose', async () => {
    const { timing: _, ...composed } = await documentOf(['compose', example('biscuit-tin')])
    const { timing: __, rules, lines, ...explained } = await documentOf(['explain', example('biscuit-tin')])
    for (const { notes } of lines) for (const note of notes) expect(note.alternatives!.length > 0).toBe(!note.ghost)
    const bare = lines.map((line) => ({ ...line, notes: line.notes.map(({ alternatives: _, ...note }) => note) }))
    expect({ ...explained, lines: bare }).toEqual(composed)
    expect(rules).toEqual([])
  })

  test('has no title and no key where the chart has none', async () => {
    const { chart } = await documentOf(['compose', '-'], '| Dm7 | G7 |')
    expect(chart).toMatchObject({ title: null, key: null, bars: 2, formBars: 2, feel: 'swing-medium' })
  })
})

describe('An option stands in for the header of the chart:', () => {
  const tune = 'feel: shuffle\ntempo: 100\n| A7 | D7 | A7 | % |\n'

  test('--feel and --tempo', async () => {
    const { chart } = await documentOf(['compose', '-', '--feel', 'bossa-nova', '--tempo', '131.5'], tune)
    expect(chart).toMatchObject({ feel: 'bossa-nova', tempo: 131.5 })
  })

  test('--bass: five strings go lower, and are counted from the highest', async () => {
    const { lines } = await documentOf(['compose', example('concrete-stairs'), '--bass', 'five-string'])
    const five = [...STRINGS, 23]
    for (const note of lines[0]!.notes) if (!note.ghost) expect(note.pitch).toBe(five[note.string - 1]! + note.fret)
  })

  test('--cells and --patterns', async () => {
    const args = ['compose', '-', '--feel', 'swing-medium', '--cells', 'four-quarters', '--patterns', '"1 3 5 6"']
    const { lines } = await documentOf(args, '| C | F | C | G |')
    expect(new Set(lines[0]!.notes.map((note) => note.cell))).toEqual(new Set(['four-quarters']))
    expect(lines[0]!.notes.map((note) => note.degree).slice(0, 4)).toEqual(['1', '3', '5', '6'])
  })

  test('--choruses', async () => {
    const { chart } = await documentOf(['compose', '-', '--choruses', '3'], tune)
    expect(chart).toMatchObject({ bars: 4, formBars: 12 })
  })

  test('--difference: two lines differ in at least that share of their slots', async () => {
    const args = ['compose', example('third-lift-out-of-order'), '--cells', 'four-quarters']
    const { lines } = await documentOf([...args, '--variations', '2', '--difference', '0.5'])
    const [first, second] = lines.map((line) => line.notes.map((note) => note.pitch))
    const different = first!.filter((pitch, i) => pitch !== second![i]).length
    expect(different / first!.length).toBeGreaterThanOrEqual(0.5)
  })

  test('--loop: what leads into the first note is paid for there', async () => {
    const args = ['compose', '-', '--cells', 'four-quarters', '--feel', 'swing-medium']
    const rulesOfFirst = async (...more: string[]) =>
      (await documentOf([...args, ...more], tune)).lines[0]!.notes[0]!.terms.map((term) => term.rule)
    expect(await rulesOfFirst()).not.toContain('small-intervals')
    expect(await rulesOfFirst('--loop')).toContain('small-intervals')
  })
})

test('The chosen pattern is in force on every note of its chart', async () => {
  const { lines } = await documentOf(['compose', example('four-notes-from-the-third')])
  const { notes } = lines[0]!
  expect(new Set(notes.map((note) => note.pattern))).toEqual(new Set(['major-seventh-on-flat-three']))
  expect(notes.slice(0, 4).map((note) => note.degree)).toEqual(['b3', '5', 'b7', '9'])
})

test('A figure whose low fifth lies under the lowest string moves whole', async () => {
  const { lines } = await documentOf(['compose', example('concrete-stairs')])
  const bar = (number: number) => lines[0]!.notes.filter((note) => note.bar === number).map((note) => note.name)
  expect([bar(1), bar(9)]).toEqual([
    ['E2', 'B1', 'B1', 'E2'],
    ['F2', 'C2', 'C2', 'F2'],
  ])
})

test('A bar of N.C. has no note', async () => {
  const { lines } = await documentOf(['compose', example('biscuit-tin')])
  expect(lines[0]!.notes.filter((note) => note.bar === 12)).toEqual([])
})
