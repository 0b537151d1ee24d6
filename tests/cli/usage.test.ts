import { readdirSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { example, folderWith, linewright } from '../support/command.ts'

const blues = example('third-lift-out-of-order')

describe('Refused with one sentence and exit status 2 is', () => {
  test.each<[string, readonly string[], RegExp]>([
    ['no command', [], /nothing to do; compose, check, explain, analyse and list/],
    ['a line without its chart', ['analyse', 'line.mid'], /required option '--chart <chart>' not specified/],
    ['line and chart on one input', ['analyse', '-', '--chart', '-'], /--chart: standard input is the line/],
    ['a track of a typed line', ['analyse', blues, '--chart', blues, '--track', '2'], /--track .* the line is a text/],
    ['a track 0', ['analyse', 'line.mid', '--chart', blues, '--track', '0'], /--track takes a whole number from 1 to/],
    [
      'an option of compose given to analyse',
      ['analyse', blues, '--chart', blues, '--loop'],
      /unknown option '--loop'/,
    ],
    ['an exercise', ['exercise', 'thirds', '--key', 'C'], /unknown command 'exercise'/],
    ['a chart that is not named', ['compose'], /missing required argument 'chart'/],
    ['two charts', ['check', blues, blues], /too many arguments/],
    [
      'a list that is not built',
      ['list', 'exercises'],
      /'exercises' is invalid.*feels, cells, patterns, basses, rules/,
    ],
    ['another such list', ['list', 'shapes'], /'shapes' is invalid/],
    ['a list of nothing', ['list'], /missing required argument 'what'/],
    ...['--key', '--wav', '--musicxml'].map((option): [string, string[], RegExp] => [
      `the option ${option}, which is not built`,
      ['compose', blues, option, 'x'],
      new RegExp(`unknown option '${option}'`),
    ]),
    ['an option of compose given to check', ['check', blues, '--tempo', '120'], /unknown option '--tempo'/],
    ['an option without its value', ['compose', blues, '--feel'], /argument missing/],
    ['an unknown feel', ['compose', blues, '--feel', 'shufle'], /there is no feel "shufle"; perhaps "shuffle"/],
    ['an unknown bass', ['compose', blues, '--bass', 'kazoo'], /there is no bass "kazoo"/],
    [
      'an unknown cell',
      ['compose', blues, '--cells', 'for-quarters'],
      /no cell "for-quarters"; perhaps "four-quarters"/,
    ],
    ['a cell that cannot be read', ['compose', blues, '--cells', '"1 3 2"'], /"1 3 2" is no cell: /],
    ['an unknown pattern', ['compose', blues, '--patterns', 'rot-only'], /no pattern "rot-only"; perhaps "root-only"/],
    ['a pattern that cannot be read', ['compose', blues, '--patterns', '1 3 99'], /"1 3 99" is no pattern: .*1 to 15/],
    ['a hole in a list', ['compose', blues, '--cells', 'four-quarters,,half-notes'], /empty place in its list/],
    ['a quote that is not closed', ['compose', blues, '--cells', '"1 2'], /quote that is not closed/],
    [
      'a rule that cannot be read',
      ['compose', blues, '--rule', 'no lep over a fourth'],
      /--rule: "no lep over a fourth" is no rule: "lep" is not understood here: .*; perhaps "no leap over a fourth \(must\)"/,
    ],
    [
      'a second rule that cannot be read',
      ['explain', blues, '--rule', 'no pushes', '--rule', 'Bars 8-5: no pushes'],
      /--rule: "Bars 8-5: no pushes" is no rule: Bars 8 to 5 go backwards.*perhaps "Bars 5–8: no pushes \(must\)"/,
    ],
    [
      'a rule of no weight',
      ['compose', blues, '--rule', 'no pushes (weight 0)'],
      /A weight is a whole number of points from 1 to 1000, not 0/,
    ],
    ['no rule', ['compose', blues, '--rule', ''], /--rule: "" is no rule: There is no rule: expected/],
    ['chart and rules on one input', ['compose', '-', '--rules', '-'], /--rules: standard input is the chart/],
    ['a tempo in words', ['compose', blues, '--tempo', 'fast'], /--tempo takes a number from 20 to 400, not "fast"/],
    ['a tempo of nothing', ['compose', blues, '--tempo', '0'], /--tempo takes a number/],
    ['no line at all', ['compose', blues, '--variations', '0'], /--variations takes a whole number from 1/],
    ['half a line', ['compose', blues, '--variations', '1.5'], /--variations takes a whole number/],
    ['a share above one', ['compose', blues, '--difference', '2'], /--difference takes a number from 0 to 1/],
    [
      'a surprise of another size',
      ['compose', blues, '--surprise', 'huge'],
      /--surprise knows little, some, free, not "huge"/,
    ],
    ['a seed in words', ['compose', blues, '--seed', 'lucky'], /--seed takes a whole number from 0 to 4294967295/],
    ['no chorus', ['compose', blues, '--choruses', '0'], /--choruses takes a whole number/],
    ['a file that is no MIDI file', ['compose', blues, '--out', 'line.wav'], /--out takes the name of a MIDI file/],
    [
      'an unknown reader',
      ['compose', blues, '--out', 'a.mid', '--for', 'me'],
      /--for knows player, sequencer, not "me"/,
    ],
    [
      'an unknown part',
      ['compose', blues, '--out', 'a.mid', '--parts', 'horns'],
      /--parts knows bass, chords, drums, click/,
    ],
    ['a way of writing without a file', ['compose', blues, '--straight'], /--straight says how .* --out names none/],
    ['a reader without a file', ['explain', blues, '--for', 'player'], /--for says how/],
    ['parts without a file', ['compose', blues, '--parts', 'bass'], /--parts says how/],
  ])('%s', async (_, args, sentence) => {
    const folder = folderWith()
    const { status, out, err } = await linewright(args, { folder })
    expect(err).toMatch(sentence)
    expect(err.trimEnd().split('\n')).toHaveLength(1)
    expect(err).toMatch(/^linewright: /)
    expect(out).toBe('')
    expect(status).toBe(2)
    expect(readdirSync(folder)).toEqual([])
  })
})

describe('Help', () => {
  test.each([
    [['--help'], ['compose', 'check', 'explain', 'list', 'Exit status']],
    [
      ['compose', '--help'],
      [
        '--feel',
        '--tempo',
        '--cells',
        '--patterns',
        '--bass',
        '--variations',
        '--difference',
        '--rule',
        '--rules',
        '--surprise',
        '--seed',
      ],
    ],
    [
      ['compose', '--help'],
      ['--choruses', '--loop', '--out', '--for', '--straight', '--parts', '--json'],
    ],
    [
      ['explain', '--help'],
      ['--feel', '--json'],
    ],
    [['check', '--help'], ['--json']],
    [
      ['list', '--help'],
      ['feels', 'cells', 'patterns', 'basses', 'rules'],
    ],
    [['help', 'compose'], ['--feel']],
  ])('%j names what there is', async (args, words) => {
    const { status, out, err } = await linewright(args)
    for (const word of words) expect(out).toContain(word)
    expect(err).toBe('')
    expect(status).toBe(0)
  })
})

describe('A list', () => {
  test.each([
    ['feels', ['swing-medium', 'jazz-waltz', 'shuffle', 'soul-eighths', 'bossa-nova']],
    ['cells', ['four-quarters  1 2 3 4', 'half-notes  ']],
    ['patterns', ['major-seventh-on-flat-three', '3 5 7 9', 'v5 v6 1']],
    ['basses', ['four-string ', 'E1 A1 D2 G2', 'B0 E1 A1 D2 G2']],
    ['rules', ['no-leap-over  8  no leap over a fourth', 'approach each change by an enclosure from above']],
  ])('of %s has a row for each, its id first', async (what, rows) => {
    const { status, out, err } = await linewright(['list', what])
    for (const row of rows) expect(out.replaceAll(/ {2,}/g, '  ')).toContain(row)
    expect(out.trimEnd().split('\n').length).toBeGreaterThan(5)
    expect(err).toBe('')
    expect(status).toBe(0)
  })
})
