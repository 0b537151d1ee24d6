import { describe, expect, test } from 'vitest'
import { type Lamp, lampAt } from '../../src/app/lamp.ts'
import { compose, roundsOf } from '../../src/compose.ts'
import type { ComposedLine } from '../../src/compose-messages.ts'
import { partOf } from '../../src/notation/part.ts'

function composed(text: string): ComposedLine {
  const composition = compose(text, { loop: true })
  const line = composition.lines[0]!
  const { form, chart, instrument } = composition
  return {
    line,
    part: partOf({ form, line, key: chart.key, instrument, written: chart.bars }),
    ...roundsOf(composition, line),
  }
}

describe('The lamp', () => {
  test('goes from note to note, as they are played and not as they are written', () => {
    const line = composed('feel: swing-medium\ncells: "1 2& 3 4"\ntempo: 120\n| Dm7 | G7 |')
    const bass = line.first.parts.find(({ name }) => name === 'bass')!.notes
    const seen: Lamp[] = bass.map(({ startTick }) => lampAt(line, startTick, 0))
    expect(seen.map(({ noteIndex }) => noteIndex)).toEqual(bass.map((_, index) => index))
    // The skip is swung: at its written place the note before it still sounds.
    const skip = line.line.notes.findIndex(({ slot }) => slot.startTick % 480 === 240)
    expect(lampAt(line, line.line.notes[skip]!.slot.startTick, 0).noteIndex).toBe(skip - 1)
  })

  test('stands in the bar that is heard, with no note before the first', () => {
    const line = composed('| Dm7 | G7 | Cmaj7 |')
    expect(lampAt(line, 0, 0).barIndex).toBe(0)
    expect(lampAt(line, 1919, 0).barIndex).toBe(0)
    expect(lampAt(line, 1920, 0).barIndex).toBe(1)
    expect(lampAt(line, 3 * 1920 - 1, 3).barIndex).toBe(2)
    expect(lampAt(line, -1, 0).noteIndex).toBeUndefined()
  })

  test.each([['feel: swing-medium\ncells: push-both'], ['feel: swing-medium\ncells: "1 2 3 4&~"']])(
    'lights the note that is tied over the end at the start of each time round: %s',
    (headers) => {
      const line = composed(`${headers}\n| Dm7 | G7 |`)
      const last = line.line.notes.length - 1
      expect(line.line.notes[0]!.slot.startTick).toBeGreaterThan(0)
      for (const pass of [0, 1]) {
        const { notes } = (pass === 0 ? line.first : line.again).parts.find(({ name }) => name === 'bass')!
        expect(lampAt(line, 40, pass).noteIndex).toBe(last)
        const struck = notes.filter(({ startTick }) => startTick > 100)
        expect(struck.map(({ startTick }) => lampAt(line, startTick, pass).noteIndex)).toEqual(
          line.line.notes.map((_, index) => index),
        )
      }
    },
  )
})
