import { describe, expect, test } from 'vitest'
import type { ComposeDocument } from '../../src/cli-json.ts'
import { example, linewright } from '../support/command.ts'

/** Rows of a table as lists of cells: columns are parted by two blanks and more. */
function rowsOf(out: string): readonly (readonly string[])[] {
  return out.split('\n').map((row) => row.trim().split(/ {2,}/))
}

const blues = example('third-lift-out-of-order')

describe('The table of compose', () => {
  test('has a row for each bar: chords, notes, degrees, strings and frets, cell; then the cost', async () => {
    const { out, err, status } = await linewright(['compose', blues])
    const { lines }: ComposeDocument = JSON.parse((await linewright(['compose', blues, '--json'])).out)
    const line = lines[0]!
    const rows = rowsOf(out)
    expect(rows[0]![0]).toBe('Third Lift Out of Order: medium swing, walking; tempo 126; key of F; four-string bass')
    expect(rows).toContainEqual(['bar', 'chords', 'notes', 'degrees', 'string/fret', 'cell'])
    expect(rows).toContainEqual(['[A]'])
    for (let bar = 1; bar <= 12; bar++) {
      const row = rows.find(([first]) => first === `${bar}`)!
      const notes = line.notes.filter((note) => note.bar === bar)
      const without = (cell: string) => cell.split(' ').filter((word) => word !== '.')
      // A note that is pushed has a sign before it.
      expect(without(row[2]!).map((word) => word.replace('<', ''))).toEqual(
        notes.map((note) => (note.ghost ? 'x' : note.name)),
      )
      expect(without(row[3]!)).toEqual(notes.map((note) => (note.ghost ? 'x' : note.degree)))
      expect(without(row[4]!)).toEqual(notes.map((note) => `${note.string}/${note.fret}`))
      expect(row[5]!.split(' + ')).toEqual([...new Set(notes.map((note) => note.cell))])
    }
    expect(rows.find(([first]) => first === '4')![1]).toBe('Cm7 F7')
    expect(out).toContain(`Line 1 of 1: ${line.cost} points, the best there is\n`)
    expect(out).toMatch(new RegExp(`^cost ${line.cost} = `, 'm'))
    const sum = [.../^cost \d+ = (.*)$/m.exec(out)![1]!.matchAll(/ (\d+)(?= \+|$)/g)]
    expect(sum.reduce((points, [, part]) => points + Number(part), 0)).toBe(line.cost)
    expect(err).toBe('')
    expect(status).toBe(0)
  })

  test('gives the number on the page where it is another', async () => {
    const { out } = await linewright(['compose', example('wet-cardboard')])
    expect(rowsOf(out).map(([first]) => first)).toEqual(expect.arrayContaining(['1', '5 (1)', '13 (5)', '20 (12)']))
  })

  test('shows bars without a note', async () => {
    const { out } = await linewright(['compose', example('biscuit-tin')])
    expect(out).toMatch(/^12 +N\.C\.$/m)
  })

  test('of several lines has one after the other', async () => {
    const { out } = await linewright(['compose', blues, '--variations', '2'])
    expect(out).toMatch(/^Line 1 of 2: \d+ points, the best there is$/m)
    expect(out).toMatch(/^Line 2 of 2: \d+ points, \d+ points? above the first, [a-z ]+ (in|throughout)/m)
  })
})

describe('The table of explain', () => {
  test('has a row for each note with its reasons, and the points add up to the cost', async () => {
    const { out, status } = await linewright(['explain', blues])
    const { lines }: ComposeDocument = JSON.parse((await linewright(['explain', blues, '--json'])).out)
    const line = lines[0]!
    const rows = rowsOf(out)
    const head = rows.findIndex(([first]) => first === 'bar')
    expect(rows[head]).toEqual(['bar', 'beat', 'note', 'string/fret', 'degree', 'function', 'pattern', 'or', 'why'])
    const notes = rows.slice(head + 1, head + 1 + line.notes.length)
    expect(notes.map((row) => row.slice(0, 7).map((cell) => cell.replace('<', '')))).toEqual(
      line.notes.map((note) => [
        `${note.bar}`,
        note.beat,
        note.ghost ? 'x' : note.name,
        `${note.string}/${note.fret}`,
        `${note.degree} of ${note.chord}`,
        note.function,
        note.pattern ?? '-',
      ]),
    )
    const pointsIn = (text: string) =>
      [...text.matchAll(/ (\d+)(?=,| \(|$)/g)].reduce((points, [, part]) => points + Number(part), 0)
    const plan = /^the plan: (.*)$/m.exec(out)?.[1] ?? ''
    const sum = notes.reduce((points, row) => points + pointsIn(` ${row[8]}`), 0) + pointsIn(` ${plan}`)
    expect(sum).toBe(line.cost)
    expect(status).toBe(0)
  })
})

describe('check', () => {
  test('says so where nothing is to be said', async () => {
    const { out, err, status } = await linewright(['check', blues])
    expect(out).toMatch(/third-lift-out-of-order\.changes\.txt: nothing to say against it\n$/)
    expect(err).toBe('')
    expect(status).toBe(0)
  })

  test('has no row for the cost: it builds nothing', async () => {
    const { out } = await linewright(['check', blues, '--json'])
    expect(JSON.parse(out)).toEqual({
      chart: { title: 'Third Lift Out of Order', key: 'F', bars: 12, formBars: 12, tempo: 126, feel: 'swing-medium' },
      diagnostics: [],
    })
  })
})
