import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { AnalyseDocument } from '../../src/cli-analyse.ts'
import { example, folderWith, linewright } from '../support/command.ts'

const blues = example('third-lift-out-of-order')
const line = blues.replace('.changes.txt', '.line.txt')

describe('A line in a terminal', () => {
  test('is shown note by note, with what it is made of', async () => {
    const { status, out, err } = await linewright(['analyse', line, '--chart', blues])
    expect([status, err]).toEqual([0, ''])
    const rows = out.split('\n')
    expect(rows[0]).toMatch(/^bar {2}beat {2}note {2}degree +function +pattern +cell$/)
    expect(rows[1]).toMatch(/^1 +1 +F1 +1 of F7 +root +walking-above +four-quarters$/)
    expect(rows).toContainEqual(
      expect.stringMatching(/^3 +1 +A2 +3 of F7 +third +half-diminished-on-third: Am7b5 on the third/),
    )
    expect(rows).toContainEqual(expect.stringMatching(/^2 +4 +Gb2 +b6 of Bb7 +tension +not explained +"$/))
    expect(out).toMatch(
      /\n\n47 of 48 notes in known patterns, 48 of 48 in known cells\n\npatterns: [a-z, -]+\ncells: four-quarters\n$/,
    )
  })

  test('of our own file is the line that was composed', async () => {
    const folder = folderWith()
    const file = join(folder, 'line.mid')
    const composed = await linewright(['compose', blues, '--out', file, '--json'])
    const written = JSON.parse(composed.out).lines[0].notes as readonly Record<string, unknown>[]
    const { status, out, err } = await linewright(['analyse', file, '--chart', blues, '--json'])
    expect([status, err]).toEqual([0, ''])
    const document = JSON.parse(out) as AnalyseDocument
    // A dead note has no degree of its own.
    const facts = ({ bar, beat, pitch, name, chord, degree, ghost }: Readonly<Record<string, unknown>>) => [
      bar,
      beat,
      pitch,
      name,
      chord,
      ghost ? null : degree,
      ghost,
    ]
    expect(document.notes.map((note) => facts({ ...note }))).toEqual(written.map(facts))
    expect(document.said[0]).toBe(`The bass is track 1 "Bass", ${written.length} notes.`)
  })

  test('gives words that a chart may begin with', async () => {
    const folder = folderWith({ 'chart.txt': '| Cmaj7 | Fmaj7 |', 'line.txt': '1 :1/5 3: C2 Gb2 Ab2 | F1 Cb2 Db2' })
    const { out } = await linewright(['analyse', 'line.txt', '--chart', 'chart.txt'], { folder })
    const rows = out.trimEnd().split('\n').slice(-2)
    expect(rows).toEqual(['patterns: "1 b5 b6"', 'cells: "1 :1/5 3"'])
    const again = await linewright(['compose', '-', '--json'], { input: `${rows.join('\n')}\n| Dm7 | % |\n` })
    const { diagnostics, lines } = JSON.parse(again.out)
    expect([again.status, diagnostics]).toEqual([0, []])
    // The same rhythm and the same degrees, over other chords.
    const notes = lines[0].notes as readonly Record<string, string>[]
    expect(new Set(notes.map(({ cell, pattern }) => `${cell} ${pattern}`))).toEqual(new Set(['1 :1/5 3 1 b5 b6']))
    expect(notes.slice(0, 6).map(({ degree }) => degree)).toEqual(expect.arrayContaining(['1', 'b5']))
  })

  test('may come on standard input, and be longer than its chart', async () => {
    const { status, out } = await linewright(['analyse', '-', '--chart', blues, '--json'], {
      input:
        readFileSync(line, 'utf8').replaceAll('\n', '\n') + readFileSync(line, 'utf8').replace('1 2 3 4: E1', '| E1'),
    })
    const document = JSON.parse(out) as AnalyseDocument
    expect(status).toBe(0)
    expect(document.said).toEqual(['The chart is played 2 times, since the line is longer than it.'])
    expect(document.notes).toHaveLength(96)
  })
})

describe('A line that cannot be read', () => {
  const folder = () =>
    folderWith({ 'wrong.txt': '1 2 3 4: D2 H2 A2 C3', 'noise.mid': 'MThd, or so it says', 'empty.txt': '' })

  test.each([
    [
      'a word',
      ['wrong.txt'],
      'wrong.txt:1:13: error line/typed-no-note: "H2" is no note: expected a name with its octave, as it sounds, as in E1 or Bb2. Perhaps B2?\n',
    ],
    [
      'a file that is none',
      ['noise.mid'],
      'noise.mid:1:1: error line/unreadable: The line cannot be read: its header is cut short.\n',
    ],
    [
      'an empty text',
      ['empty.txt'],
      'empty.txt:1:1: error line/typed-empty: No bar is written here: expected a rhythm and its notes, as in 1 2 3 4: D2 F2 A2 C3.\n',
    ],
    [
      'nothing',
      ['not-there.mid'],
      'not-there.mid:1:1: error input/unreadable: not-there.mid cannot be read: there is no such file or folder.\n',
    ],
  ])('for %s says so and ends with 1', async (_, [path], message) => {
    const { status, out, err } = await linewright(['analyse', path!, '--chart', blues], { folder: folder() })
    expect({ status, out, err }).toEqual({ status: 1, out: '', err: message })
    const json = await linewright(['analyse', path!, '--chart', blues, '--json'], { folder: folder() })
    expect(json.status).toBe(1)
    expect(JSON.parse(json.out)).toMatchObject({ notes: [], lineDiagnostics: [{ severity: 'error' }] })
  })
})
