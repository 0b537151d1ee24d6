import { expect, test } from 'vitest'
import { deedOf, KEY_ROWS } from '../../src/app/keys.ts'

const plain = { ctrl: false, shift: false, alt: false }

test.each([
  [' ', 'play'],
  ['[', 'line-before'],
  [']', 'line-after'],
  ['l', 'loop'],
  ['L', 'loop'],
  ['-', 'slower'],
  ['+', 'faster'],
  ['=', 'faster'],
  ['c', 'changes'],
  ['i', 'idea'],
  ['m', 'balance'],
  ['w', 'take-away'],
  ['e', 'fold'],
  ['d', 'lights'],
  ['.', 'top'],
  ['?', 'keys'],
  ['Escape', 'close'],
  ['x', undefined],
  ['ArrowUp', undefined],
])('%s does %s', (key, deed) => {
  expect(deedOf({ key, ...plain }, true)).toBe(deed)
})

test('With single letters switched off, space and Escape go on working, and so do undo and redo', () => {
  expect(deedOf({ key: 'l', ...plain }, false)).toBeUndefined()
  expect(deedOf({ key: '?', ...plain }, false)).toBeUndefined()
  expect(deedOf({ key: ' ', ...plain }, false)).toBe('play')
  expect(deedOf({ key: 'Escape', ...plain }, false)).toBe('close')
  expect(deedOf({ key: 'z', ...plain, ctrl: true }, false)).toBe('undo')
  expect(deedOf({ key: 'Z', ...plain, ctrl: true, shift: true }, false)).toBe('redo')
})

test('What the browser or the system has on its keys stays with them', () => {
  expect(deedOf({ key: 'l', ...plain, ctrl: true }, true)).toBeUndefined()
  expect(deedOf({ key: 'd', ...plain, alt: true }, true)).toBeUndefined()
})

test('The list has a row for every key', () => {
  const listed = new Set(KEY_ROWS.flatMap(({ keys }) => keys.split(/[ ,]+/)))
  const keys = ['Space', '.', '[', ']', 'l', '−', '+', 'c', 'i', 'm', 'w', 'e', 'd', '?', 'Ctrl', 'z', 'Esc']
  expect(keys.filter((key) => !listed.has(key))).toEqual([])
})
