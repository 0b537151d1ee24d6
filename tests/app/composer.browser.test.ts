import { afterEach, describe, expect, test } from 'vitest'
import blues from '../../examples/kettle-before-eight.changes.txt?raw'
import soul from '../../examples/second-coat-of-paint.changes.txt?raw'
import { Composer } from '../../src/app/composer.ts'
import type { ComposeAnswer } from '../../src/compose-messages.ts'

let answers: ComposeAnswer[] = []
const composer = new Composer((answer) => answers.push(answer))

afterEach(() => {
  answers = []
})

const last = () => answers.at(-1)
const lineCount = () => new Set(answers.flatMap((answer) => (answer.kind === 'line' ? [answer.index] : []))).size

describe('The composing workers', () => {
  test('read the text at once, then find a line, then more that differ', async () => {
    composer.ask({ text: '| Dm7 | G7 | Cmaj7 | A7 |', loop: false, lines: 3 })
    await expect.poll(last, { timeout: 30_000 }).toMatchObject({ kind: 'done', lines: 3, provenWithin: 0 })
    expect(answers[0]).toMatchObject({ kind: 'page', page: { feel: { id: 'swing-medium' }, tempoBpm: 144 } })
    expect(answers[1]).toMatchObject({ kind: 'line', index: 0 })
    expect(lineCount()).toBe(3)
    const lines = answers.flatMap((answer) => (answer.kind === 'line' ? [answer.line] : []))
    for (const { line, part, first } of lines) {
      expect(part.bars).toHaveLength(4)
      expect(first.parts.find(({ name }) => name === 'bass')?.notes).toHaveLength(line.notes.length)
    }
    const frets = lines.map(({ line }) => line.notes.map(({ string, fret }) => `${string}/${fret}`).join(' '))
    expect(new Set(frets).size).toBe(3)
  })

  test('answer the newest wish only, however long the one before would take', async () => {
    const numbers = new Set<number>()
    for (const text of [soul, `${soul}\n| C | F |`, soul]) composer.ask({ text, loop: true, lines: 6 })
    composer.ask({ text: '| F7 | Bb7 |', loop: true, lines: 1 })
    await expect.poll(last, { timeout: 30_000 }).toMatchObject({ kind: 'done', lines: 1 })
    for (const { number } of answers) numbers.add(number)
    expect(numbers.size).toBe(1)
    const page = answers.find((answer) => answer.kind === 'page')
    expect(page?.kind === 'page' && page.page.form.bars).toHaveLength(2)
  })

  test('give a long search up when something new is asked for', async () => {
    composer.ask({ text: blues, loop: true, lines: 6 })
    await expect.poll(lineCount, { timeout: 30_000 }).toBeGreaterThan(0)
    answers = []
    composer.ask({ text: '| C7 |', loop: false, lines: 1 })
    await expect.poll(last, { timeout: 30_000 }).toMatchObject({ kind: 'done', lines: 1 })
  })

  test('show a first good groove, and the proven one in its place', async () => {
    composer.ask({ text: `rule: a new line at each repeat\n${soul}`, loop: true, lines: 1 })
    await expect.poll(last, { timeout: 60_000 }).toMatchObject({ kind: 'done', provenWithin: 0 })
    const costs = answers.flatMap((answer) => (answer.kind === 'line' ? [answer.line.line.cost] : []))
    expect(costs).toEqual([...costs].sort((a, b) => b - a))
  })

  test('say which bar leaves no line', async () => {
    composer.ask({ text: 'feel: swing-medium\npatterns: "1 15"\n| C | F | C | G7 |', loop: false, lines: 1 })
    await expect.poll(last, { timeout: 30_000 }).toMatchObject({ kind: 'clash' })
    const answer = last()
    expect(answer?.kind === 'clash' && answer.clash.message).toMatch(/^No line at bar [1-4]: .*cells and patterns/)
  })

  test('have no line where nothing is written, and say so without failing', async () => {
    composer.ask({ text: '', loop: true, lines: 6 })
    await expect.poll(last, { timeout: 30_000 }).toMatchObject({ kind: 'done', lines: 0, page: { form: { bars: [] } } })
  })

  test('make the MIDI file of a line that is shown', async () => {
    composer.ask({ text: '| F7 | Bb7 |', loop: false, lines: 2 })
    await expect.poll(last, { timeout: 30_000 }).toMatchObject({ kind: 'done', lines: 2 })
    const line = (index: number) => {
      const answer = answers.find((one) => one.kind === 'line' && one.index === index)
      return answer?.kind === 'line' ? answer.line.line : undefined
    }
    const over = { text: '| F7 | Bb7 |', loop: false, parts: ['bass', 'drums'] } as const
    const files = await Promise.all([
      composer.file({ ...over, line: line(0)!, for: 'player' }),
      composer.file({ ...over, line: line(1)!, for: 'sequencer' }),
    ])
    for (const bytes of files) expect([...bytes!.slice(0, 4)]).toEqual([0x4d, 0x54, 0x68, 0x64])
    expect(files[0]).not.toEqual(files[1])
    expect(await composer.file({ ...over, text: '', line: line(0)!, for: 'player' })).toBeUndefined()
  })

  test('let a cell and a pattern be heard over the first chord', async () => {
    const cell = await composer.hear('tempo: 100\n| F7 | Bb7 |', { kind: 'cell', text: '1 2 3 4' })
    expect(cell?.parts.map(({ name }) => name)).toEqual(['bass'])
    expect(cell?.parts[0]?.notes).toHaveLength(4)
    const pattern = await composer.hear('| F7 | Bb7 |', { kind: 'pattern', text: '1 3 5 6' })
    expect(pattern?.parts[0]?.notes.map(({ pitch }) => (pitch + 7) % 12)).toEqual(expect.arrayContaining([0, 4]))
    const waltz = await composer.hear('| F7 |', { kind: 'cell', text: '3/4: 1 2 3' })
    expect(waltz?.ticks).toBe(1440)
  })
})
