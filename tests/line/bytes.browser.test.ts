import { describe, expect, test } from 'vitest'
import { HASHED, hashOf, linesText } from '../support/line-bytes.ts'

describe('Repeatable: the lines of a request', () => {
  for (const [text, settings, hash] of HASHED) {
    test(`have the same bytes in a browser: ${text} ${JSON.stringify(settings)}`, () => {
      expect(hashOf(linesText(text, settings))).toBe(hash)
    })
  }
})
