import { expect, it } from 'vitest'
import { lineColumn } from '../../src/chart/line-column.ts'

it.each([
  ['', 0, 1, 1],
  ['| C |', 2, 1, 3],
  ['| C |\n| F |', 5, 1, 6],
  ['| C |\n| F |', 6, 2, 1],
  ['a\r\nb', 3, 2, 1],
  ['a\rb', 2, 2, 1],
  ['a\n\nb', 3, 3, 1],
  ['\u{1D12B}b', 2, 1, 3],
  ['a', 9, 1, 2],
])('in %j the place of %i is row %i and column %i', (text, offset, line, column) => {
  expect(lineColumn(text, offset)).toEqual({ line, column })
})
