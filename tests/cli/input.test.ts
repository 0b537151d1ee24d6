import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, readdirSync, readFileSync, symlinkSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { BUILT, example, folderWith, linewright } from '../support/command.ts'

const blues = example('third-lift-out-of-order')

describe('An input that cannot be read ends with exit status 1 and one sentence:', () => {
  test.each<[string, string | Uint8Array, RegExp]>([
    ['a megabyte of chart', '| F7 | Bb7 |\n'.repeat(80_000), /longer than 256 kB, the most that a chart may have/],
    ['bytes that are no text', Uint8Array.from([0x4d, 0x54, 0x68, 0x64, 0xff, 0xfe, 0x80]), /it is no text in UTF-8/],
    ['text with a zero in it', '| F7 |\0', /it is no text/],
  ])('%s', async (_, content, sentence) => {
    const folder = folderWith({ 'chart.txt': content })
    for (const command of ['compose', 'explain', 'check']) {
      const { status, out, err } = await linewright([command, 'chart.txt'], { folder })
      expect(err).toMatch(sentence)
      expect(err).toMatch(/^chart\.txt:1:1: error input\/unreadable: /)
      expect(err.trimEnd().split('\n')).toHaveLength(1)
      expect(out).toBe('')
      expect(status).toBe(1)
    }
  })

  test('a file that is not there', async () => {
    const { status, err } = await linewright(['compose', 'nowhere.txt'])
    expect(err).toBe(
      'nowhere.txt:1:1: error input/unreadable: nowhere.txt cannot be read: there is no such file or folder.\n',
    )
    expect(status).toBe(1)
  })

  test('a folder', async () => {
    const { status, err } = await linewright(['compose', '.'])
    expect(err).toContain('. cannot be read: it is a folder.')
    expect(status).toBe(1)
  })

  test('too much on standard input', async () => {
    const { status, err } = await linewright(['compose', '-'], { input: '| F7 '.repeat(100_000) })
    expect(err).toContain('Standard input cannot be read: it is longer than 256 kB')
    expect(status).toBe(1)
  })

  test('and as JSON', async () => {
    const composed = await linewright(['compose', 'nowhere.txt', '--json'])
    expect(JSON.parse(composed.out)).toEqual({
      chart: null,
      diagnostics: [
        {
          severity: 'error',
          code: 'input/unreadable',
          line: 1,
          column: 1,
          length: 0,
          message: 'nowhere.txt cannot be read: there is no such file or folder.',
          fixes: [],
        },
      ],
      lines: [],
      conflict: null,
    })
    expect(composed.status).toBe(1)
    const checked = await linewright(['check', 'nowhere.txt', '--json'])
    expect(Object.keys(JSON.parse(checked.out))).toEqual(['chart', 'diagnostics'])
    expect(checked.status).toBe(1)
  })
})

describe('A chart in which nothing can be played', () => {
  test.each([
    ['nothing at all', ''],
    ['headers only', 'title: Nothing\n'],
    ['comments only', '// later\n'],
  ])('(%s) ends with exit status 1, an error with its place, and no file', async (_, text) => {
    const folder = folderWith({ 'chart.txt': text })
    const { status, out, err } = await linewright(['compose', 'chart.txt', '--json', '--out', 'line.mid'], { folder })
    expect(err).toMatch(/^chart\.txt:\d+:\d+: error chart\//)
    const document = JSON.parse(out)
    expect(document.lines).toEqual([])
    expect(document.conflict).toBeNull()
    expect(document.diagnostics.some((diagnostic: { severity: string }) => diagnostic.severity === 'error')).toBe(true)
    expect(status).toBe(1)
    expect(existsSync(join(folder, 'line.mid'))).toBe(false)
  })
})

describe('A chart with mistakes', () => {
  const text = 'key: F\n| F7 | H7 |\n| Bb7 | C7sos |\n'

  test('plays all the same, and each mistake is named with its line and column', async () => {
    const folder = folderWith({ 'chart.txt': text })
    const { status, out, err } = await linewright(['compose', 'chart.txt'], { folder })
    expect(err).toMatch(/^chart\.txt:2:8: warning chord\/german-h: "H7" .* Perhaps B7\?$/m)
    expect(err).toMatch(/^chart\.txt:3:9: warning chord\/.*: .*C7sos/m)
    expect(out).toContain('Line 1 of 1')
    expect(status).toBe(0)
  })

  test('is only checked by check: warnings are no failure', async () => {
    const folder = folderWith({ 'chart.txt': text })
    const { status, out, err } = await linewright(['check', 'chart.txt', '--json'], { folder })
    expect(err).toContain('chart.txt:2:8: warning ')
    const { chart, diagnostics } = JSON.parse(out)
    expect(chart).toMatchObject({ key: 'F', bars: 4, formBars: 4 })
    const place = diagnostics.map((row: { line: number; column: number; length: number }) => [
      row.line,
      row.column,
      row.length,
    ])
    expect(place).toEqual([
      [2, 8, 2],
      [3, 9, 5],
    ])
    expect(status).toBe(0)
  })

  test('cannot steer the terminal', async () => {
    const input = 'title: \u001b[2Jgone\n| \u001b[31mF7 | F7 |\n'
    const { out, err } = await linewright(['compose', '-'], { input })
    expect(out + err).not.toContain('\u001b')
  })
})

describe('A vocabulary that leaves no line', () => {
  // Two octaves at a time, which no walking line goes.
  const args = ['compose', 'chart.txt', '--feel', 'swing-medium', '--patterns', '"1 15"', '--out', 'line.mid']

  test('is answered with the bar, in one sentence and in the JSON, and no file is written', async () => {
    const folder = folderWith({ 'chart.txt': 'key: C\n| C | F | C | G7 |\n' })
    const { status, out, err } = await linewright([...args, '--json'], { folder })
    expect(err).toMatch(/^chart\.txt:2:\d+: error line\/clash: No line at bar \d: .*\.\n$/)
    const { lines, conflict, diagnostics } = JSON.parse(out)
    expect(lines).toEqual([])
    expect(diagnostics).toEqual([])
    expect(Object.keys(conflict)).toEqual(['rules', 'bars', 'message', 'loosen'])
    expect(conflict.bars).toHaveLength(1)
    expect(err).toContain(conflict.message)
    expect(status).toBe(1)
    expect(readdirSync(folder)).toEqual(['chart.txt'])
    const table = await linewright(args, { folder })
    expect([table.status, table.out, table.err]).toEqual([1, '', err])
  })

  test('is a wrong call where a cell fits no bar', async () => {
    const { status, out, err } = await linewright(['compose', blues, '--cells', '"3/4: 1 2 3"', '--json'])
    expect(err).toBe('linewright: --cells: The cell "3/4: 1 2 3" fits no bar of this chart\n')
    expect([status, out]).toEqual([2, ''])
  })
})

describe('Standard input', () => {
  test('is read where the chart is -', async () => {
    const { status, out, err } = await linewright(['compose', '-'], { input: '| Dm7 G7 | Cmaj7 |' })
    expect(err).toBe('')
    expect(out).toMatch(/^ *1 +Dm7 G7 /m)
    expect(status).toBe(0)
  })

  test('may come with a byte-order mark and with rows that end as on other systems', async () => {
    const { status, out } = await linewright(['check', '-', '--json'], {
      input: '\ufefftitle: T\r\n| Dm7 |\r\n| X |\r\n',
    })
    const { chart, diagnostics } = JSON.parse(out)
    expect(chart).toMatchObject({ title: 'T', bars: 2 })
    expect(diagnostics).toMatchObject([{ line: 3, column: 3, length: 1 }])
    expect(status).toBe(0)
  })
})

describe('Standard output', () => {
  const shell = (script: string) =>
    spawnSync('bash', ['-c', script, process.execPath, BUILT, blues], { encoding: 'utf8' })

  test('may be closed by a reader who has seen enough', () => {
    const { stdout, stderr } = shell('set -o pipefail; "$0" "$1" list cells | head -1; echo "status $?"')
    expect(stdout).toMatch(/^cell .*\nstatus 0\n$/)
    expect(stderr).toBe('')
  })

  test('on a full disk is a failure in one sentence', () => {
    const { stdout, stderr } = shell('"$0" "$1" compose "$2" > /dev/full; echo "status $?"')
    expect(stdout).toBe('status 1\n')
    expect(stderr).toBe('linewright: standard output cannot be written: the system says ENOSPC\n')
  })
})

describe('A MIDI file', () => {
  test('is written beside the table', async () => {
    const folder = folderWith()
    const { status, out } = await linewright(['compose', blues, '--out', 'line.mid'], { folder })
    expect(out).toMatch(/Written: line\.mid\n$/)
    expect(readdirSync(folder)).toEqual(['line.mid'])
    expect(readFileSync(join(folder, 'line.mid')).subarray(0, 14).toString('hex')).toBe('4d546864000000060001000401e0')
    expect(status).toBe(0)
  })

  test('holds the parts asked for', async () => {
    const folder = folderWith()
    await linewright(['compose', blues, '--out', 'line.mid', '--parts', 'bass,click'], { folder })
    expect(readFileSync(join(folder, 'line.mid')).subarray(8, 14).toString('hex')).toBe('0001000301e0')
  })

  test('differs for a sequencer, and on the grid', async () => {
    const folder = folderWith()
    const write = async (name: string, ...options: string[]) => {
      await linewright(['compose', blues, '--out', name, ...options], { folder })
      return readFileSync(join(folder, name)).toString('hex')
    }
    const player = await write('player.mid')
    const sequencer = await write('sequencer.mid', '--for', 'sequencer')
    const straight = await write('straight.mid', '--straight')
    expect(new Set([player, sequencer, straight]).size).toBe(3)
    expect(await write('again.mid')).toBe(player)
  })

  test('is numbered where several lines are asked for', async () => {
    const folder = folderWith()
    const args = ['compose', blues, '--variations', '3', '--out', 'line.mid', '--json']
    const { out } = await linewright(args, { folder })
    expect(JSON.parse(out).lines).toHaveLength(3)
    expect(readdirSync(folder).sort()).toEqual(['line-1.mid', 'line-2.mid', 'line-3.mid'])
  })

  test('takes the place of an older one, through a link too', async () => {
    const folder = folderWith({ 'old.mid': 'old' })
    symlinkSync('old.mid', join(folder, 'link.mid'))
    expect((await linewright(['compose', blues, '--out', 'link.mid'], { folder })).status).toBe(0)
    expect(readFileSync(join(folder, 'old.mid')).subarray(0, 4).toString()).toBe('MThd')
    expect(readdirSync(folder).sort()).toEqual(['link.mid', 'old.mid'])
  })

  test.each<[string, string, RegExp]>([
    [
      'in a folder that is not there',
      'nowhere/line.mid',
      /nowhere\/line\.mid cannot be written: there is no such file/,
    ],
    ['where a folder stands', 'folder.mid', /folder\.mid cannot be written: it is a folder/],
    ['below a file', 'file.txt/line.mid', /file\.txt\/line\.mid cannot be written: a part of its path is no folder/],
  ])('is not written %s: exit status 1, one sentence, nothing left behind', async (_, path, sentence) => {
    const folder = folderWith({ 'file.txt': 'kept' })
    mkdirSync(join(folder, 'folder.mid'))
    const { status, out, err } = await linewright(['compose', blues, '--out', path, '--json'], { folder })
    expect(err).toMatch(sentence)
    expect(err.trimEnd().split('\n')).toHaveLength(1)
    const { lines, conflict, diagnostics } = JSON.parse(out)
    expect({ lines, conflict }).toEqual({ lines: [], conflict: null })
    expect(diagnostics.at(-1)).toMatchObject({ severity: 'error', code: 'output/unwritable' })
    expect(status).toBe(1)
    expect(readdirSync(folder).sort()).toEqual(['file.txt', 'folder.mid'])
    expect(readdirSync(join(folder, 'folder.mid'))).toEqual([])
  })

  test('of several lines is written for all of them or for none', async () => {
    const folder = folderWith()
    mkdirSync(join(folder, 'line-2.mid'))
    const args = ['compose', blues, '--variations', '2', '--out', 'line.mid']
    const { status, err } = await linewright(args, { folder })
    expect(err).toContain('line-2.mid cannot be written: it is a folder')
    expect(status).toBe(1)
    expect(readdirSync(folder)).toEqual(['line-2.mid'])
  })

  test('with a name like that of a hidden file is refused', async () => {
    const { status } = await linewright(['compose', blues, '--out', '.mid'], { folder: folderWith() })
    expect(status).toBe(2)
  })
})
