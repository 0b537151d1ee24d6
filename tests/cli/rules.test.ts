import { describe, expect, test } from 'vitest'
import type { ComposeDocument } from '../../src/cli-json.ts'
import { examplesOf, RULES } from '../../src/line/rules.ts'
import { folderWith, linewright } from '../support/command.ts'

const CHART = 'feel: swing-medium\nrule: no pushes\n| Dm7 | G7 | Cmaj7 | A7 |\n'

describe('Rules of a call', () => {
  test('come from options and from a file, and each is priced under the table', async () => {
    const folder = folderWith({
      'chart.txt': CHART,
      'rules.txt':
        '// for the left hand\nstay between frets 0 and 5\n\nBars 2-3: arrive on the third (weight 4) // softly\n',
    })
    const args = ['explain', 'chart.txt', '--rule', 'Bar 1: first note on the fifth', '--rules', 'rules.txt']
    const { out, err, status } = await linewright(args, { folder })
    expect([err, status]).toEqual(['', 0])
    const prices = out.trimEnd().split('\n\n').at(-1)!.split('\n')
    expect(prices.map((row) => row.replace(/ costs (nothing|\d+ points?)$/, ' costs'))).toEqual([
      'no pushes (must) costs',
      'Bar 1: first note on the fifth (must) costs',
      'stay between frets 0 and 5 (must) costs',
      'Bars 2–3: arrive on the third (weight 4) costs',
    ])

    const { rules, lines }: ComposeDocument = JSON.parse((await linewright([...args, '--json'], { folder })).out)
    const without = args.filter((arg) => arg !== '--rule' && !arg.startsWith('Bar 1'))
    const cheaper: ComposeDocument = JSON.parse((await linewright([...without, '--json'], { folder })).out)
    expect(rules![1]).toEqual({
      sentence: 'Bar 1: first note on the fifth (must)',
      points: lines[0]!.cost - cheaper.lines[0]!.cost,
      within: 0,
    })
    expect(rules![1]!.points).toBeGreaterThan(0)
    expect(prices[1]).toMatch(new RegExp(` costs ${rules![1]!.points} points?$`))
  })

  test('that do not fit the chart are warned of, and bind nothing', async () => {
    const { out, err, status } = await linewright(['compose', '-', '--rule', 'Bar 9: no pushes'], { input: CHART })
    expect(err).toMatch(/^-:1:1: warning rule\/no-such-bar: In the rule "Bar 9: no pushes": There is no bar 9: .*\n$/)
    expect(out).toContain('Line 1 of 1')
    expect(status).toBe(0)
  })

  test('in a file are named with their row where they cannot be read', async () => {
    const folder = folderWith({ 'chart.txt': CHART, 'rules.txt': 'no pushes\nno pushs\n' })
    const { out, err, status } = await linewright(['compose', 'chart.txt', '--rules', 'rules.txt'], { folder })
    expect(err).toMatch(/^linewright: rules\.txt:2: "no pushs" is no rule: .*; perhaps "no pushes \(must\)"\n$/)
    expect([out, status]).toEqual(['', 2])
    const missing = await linewright(['compose', 'chart.txt', '--rules', 'nowhere.txt'], { folder })
    expect(missing.err).toBe('linewright: nowhere.txt cannot be read: there is no such file or folder.\n')
    expect(missing.status).toBe(1)
  })

  test('that clash are named with their bars, and with sentences that would help', async () => {
    const args = ['compose', '-', '--rule', 'no leap over a fourth', '--rule', 'Bar 3: keep C2 C3 on 1 3']
    const { out, err, status } = await linewright([...args, '--json'], { input: CHART })
    const { lines, conflict }: ComposeDocument = JSON.parse(out)
    expect([lines, status]).toEqual([[], 1])
    expect(conflict).toEqual({
      rules: ['no leap over a fourth (must)', 'Bar 3: keep C2 C3 on 1 3 (must)'],
      bars: [3],
      message:
        'No line at bar 3: "no leap over a fourth (must)" and "Bar 3: keep C2 C3 on 1 3 (must)" cannot hold together.',
      loosen: [
        'no leap over an octave (must)',
        'Bar 3: keep C2 C3 on 1 3 (weight 20)',
        'no leap over a fourth (weight 8)',
      ],
    })
    expect(err).toContain(`${conflict!.message} Perhaps "no leap over an octave (must)" or "Bar 3: `)
  })
})

test('Every sentence that the list of rules shows is read', async () => {
  const listed = (await linewright(['list', 'rules'])).out
  const chart = '| C | F | C | G7 |\n'
  const sentences = RULES.flatMap(examplesOf)
  for (const sentence of sentences) expect(listed).toContain(sentence)
  const folder = folderWith({ 'chart.txt': chart, 'rules.txt': sentences.map((one) => `${one} (off)`).join('\n') })
  const { err, status } = await linewright(['compose', 'chart.txt', '--rules', 'rules.txt'], { folder })
  expect([err, status]).toEqual(['', 0])
})
