import { expect, test } from 'vitest'
import { byNearness, nearest } from '../../src/chart/nearest.ts'

test.each([
  // a swap of neighbours is one step, as a letter added, left out or changed is
  ['dmi7', ['m7', 'mi7', 'dim7'], ['dim7', 'mi7']],
  ['tepmo', ['temporal', 'tempo', 'time'], ['tempo']],
  // of equals the one of the same length, then the first
  ['sus5', ['sus', 'sus4', 'sus2'], ['sus4', 'sus2', 'sus']],
  ['colour', ['title', 'tempo'], []],
])('near to %s of %j are %j', (word, words, near) => {
  expect(byNearness(word, words)).toEqual(near)
  expect(nearest(word, words)).toBe(near[0])
})
