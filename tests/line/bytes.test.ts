import { describe, expect, it } from 'vitest'
import { HASHED, hashOf, linesText } from '../support/line-bytes.ts'

describe('Repeatable: the lines of a request', () => {
  it('have the same bytes here as on every machine', () => {
    const here = HASHED.map(([text, settings]) => hashOf(linesText(text, settings)))
    expect(here).toEqual(HASHED.map(([, , hash]) => hash))
  })

  it('have the same bytes when they are asked for again, in another order', () => {
    const before = HASHED.map(([text, settings]) => linesText(text, settings))
    const after = [...HASHED].reverse().map(([text, settings]) => linesText(text, settings))
    expect(after.reverse()).toEqual(before)
  })
})
