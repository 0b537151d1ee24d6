import { expect, test } from 'vitest'
import { givenBack } from '../../support/own-lines.ts'

// Lines of ours through the bytes of a MIDI file and back, over charts that say nothing of what they were made of.

const LINES = process.env['SOAK'] ? 500 : 50

test('Our own lines are read back as what they were made of', { timeout: 600_000 }, () => {
  const all = Array.from({ length: LINES }, (_, seed) => givenBack(seed + 1))
  const sum = (of: (line: (typeof all)[number]) => number): number => all.reduce((total, line) => total + of(line), 0)
  expect(sum(({ places }) => places)).toBe(sum(({ notes }) => notes))
  expect(sum(({ patterns }) => patterns) / sum(({ made }) => made)).toBeGreaterThanOrEqual(0.98)
  expect(sum(({ cells }) => cells) / sum(({ notes }) => notes)).toBeGreaterThanOrEqual(0.98)
})
