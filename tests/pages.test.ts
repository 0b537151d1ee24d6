import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { arrangementOf, compose, performanceOf } from '../src/compose.ts'
import { writeMidi } from '../src/files/midi-writer.ts'
import { linewright } from './support/command.ts'

const ROOT = join(import.meta.dirname, '..')
const page = (name: string) => readFileSync(join(ROOT, name), 'utf8')

describe.each(['README.md', 'DEVELOPERS.md'])('%s', (name) => {
  test('names files that are there', () => {
    const named = [...page(name).matchAll(/\b(?:src|tests|examples)\/[\w./-]*\w|[\w-]+\.md\b/g)].map(([path]) => path)
    expect(named.length).toBeGreaterThan(3)
    expect(named.filter((path) => !existsSync(join(ROOT, path)))).toEqual([])
  })
})

describe('README.md', () => {
  test('shows the table that its first command gives', async () => {
    const { out } = await linewright(['compose', '-'], { input: '| Dm7 G7 | Cmaj7 |\n' })
    expect(page('README.md')).toContain(`\`\`\`text\n${out}\`\`\``)
  })

  test('gives commands that end well', async () => {
    const commands = page('README.md')
      .replaceAll('\\\n', ' ')
      .matchAll(/^npm run -s linewright -- (.*?)(?: +#.*)?$/gm)
    const calls = [...commands].map(([, args]) =>
      [...args!.matchAll(/'([^']*)'|(\S+)/g)].map((word) => word[1] ?? word[2]!),
    )
    expect(calls.length).toBeGreaterThan(4)
    for (const args of calls) {
      const without = args.includes('--out') ? args.slice(0, args.indexOf('--for')) : args
      const { status, err } = await linewright(without)
      expect(err).toBe('')
      expect(status, args.join(' ')).toBe(0)
    }
  })

  test('has a chart that can be played', () => {
    const chart = /```text\n(title: [^`]*)```/.exec(page('README.md'))![1]!
    const { lines, diagnostics } = compose(chart)
    expect(diagnostics.filter(({ severity }) => severity !== 'hint')).toEqual([])
    expect(lines).toHaveLength(1)
  })
})

describe('DEVELOPERS.md', () => {
  test("shows one chart's way as it is", () => {
    const text = '| Dm7 G7 | Cmaj7 |'
    const composition = compose(text)
    const { chart, form, lines } = composition
    const line = lines[0]!
    const { notes } = line
    const arrangement = arrangementOf(composition, line)
    const performance = performanceOf(composition, line)
    const bass = performance.parts.find((part) => part.name === 'bass')!
    const perBar = <Item>(items: readonly Item[], barOf: (item: Item) => number, show: (item: Item) => string) =>
      form.bars
        .map((bar) => items.filter((item) => barOf(item) === bar.index).map(show))
        .map((row) => row.join(' '))
        .join(' | ')
    const bars = chart.bars.map((bar) =>
      bar.chords
        .map(({ word, beats, span }) =>
          word.kind === 'chord' ? `${word.symbol.text} ${beats} beats, text ${span.from}-${span.to}` : '',
        )
        .join('; '),
    )
    const rows = [
      ['text', text],
      ['Chart', bars.join(' | ')],
      [
        'Form',
        perBar(
          form.changes,
          (change) => change.barIndex,
          (change) => `${change.chord!.symbol.text} ${change.startTick}+${change.ticks}`,
        ),
      ],
      [
        'Slots',
        perBar(
          notes,
          ({ slot }) => slot.barIndex,
          ({ slot }) => `${slot.startTick}+${slot.ticks}`,
        ),
      ],
      [
        'Line',
        perBar(
          notes,
          ({ slot }) => slot.barIndex,
          (note) => `${note.name}=${note.degree}`,
        ),
      ],
      [
        '',
        `cost ${line.cost}; the second note ${notes[1]!.terms.map(({ rule, points }) => `${rule} ${points}`).join(', ')}`,
      ],
      ['Arrangement', arrangement.parts.map((part) => `${part.name} ${part.notes.length} notes`).join(', ')],
      ['Performance', `bass ${bass.notes.map((note) => `${note.startTick}-${note.endTick}`).join(' ')}`],
      ['bytes', `${writeMidi(performance, 'player').length}, beginning with MThd`],
    ]
    const shown = rows.map(([noun, what]) => `${noun!.padEnd(12)} ${what}`).join('\n')
    expect(page('DEVELOPERS.md')).toContain(`\`\`\`text\n${shown}\n\`\`\``)
  })
})
