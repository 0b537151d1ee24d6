import { expect, test } from 'vitest'
import { pencilled, stepAfter } from '../../src/app/first-minute.ts'
import { keyInWords, lengthInWords, numberInWords } from '../../src/app/in-words.ts'
import { SENTENCES } from '../../src/app/sentences.ts'
import { parseKey } from '../../src/music/key.ts'
import { metreOf } from '../../src/music/metre.ts'

test.each([
  [0, 'no'],
  [1, 'one'],
  [12, 'twelve'],
  [20, 'twenty'],
  [32, 'thirty-two'],
  [99, 'ninety-nine'],
  [100, '100'],
])('%i is %s', (count, words) => {
  expect(numberInWords(count)).toBe(words)
})

test('A length says bars, metre and how it is played', () => {
  expect(lengthInWords(Array(12).fill(metreOf('4/4')), true)).toBe('Twelve bars in 4/4, played round and round.')
  expect(lengthInWords([metreOf('3/4')!], false)).toBe('One bar in 3/4, played once.')
  const mixed = ['4/4', '3/4', '4/4'].map((text) => metreOf(text)!)
  expect(lengthInWords(mixed, true)).toBe('Three bars in 4/4 and 3/4, played round and round.')
})

test.each([
  ['F', 'Key of F'],
  ['Bb', 'Key of B♭'],
  ['F#m', 'Key of F♯ minor'],
])('%s is "%s"', (text, words) => {
  expect(keyInWords(parseKey(text))).toBe(words)
})

test('The first minute says one thing at a time, and nothing in the end', () => {
  expect(pencilled('nothing', false)).toBe('Press play. Then change a chord.')
  expect(pencilled(stepAfter('nothing', 'played'), false)).toBe('Change a chord: press any symbol.')
  expect(pencilled(stepAfter('played', 'changed'), true)).toBe('Now hear line 2: press ›.')
  expect(pencilled(stepAfter('changed', 'stepped'), false)).toBe('')
  // Who has changed a chord first is not asked to do so after the first play.
  expect(stepAfter('changed', 'played')).toBe('changed')
})

test('What the world refuses is said in whole sentences, and what goes on is named', () => {
  for (const [code, { text }] of Object.entries(SENTENCES)) {
    expect(text, code).toMatch(/^[A-Z].*\.$/)
    if (code.startsWith('midi/')) expect(text, code).toContain('built-in sound plays')
  }
  expect(new Set(Object.values(SENTENCES).map(({ text }) => text)).size).toBe(Object.keys(SENTENCES).length)
})
