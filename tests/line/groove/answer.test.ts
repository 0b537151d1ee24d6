import { describe, expect, it } from 'vitest'
import { changes } from '../../support/changes.ts'
import { scoreGroove } from '../../support/groove-scorer.ts'
import { grooveRequest, groovesOf, pitchesText } from '../../support/grooves.ts'

describe('An answer', () => {
  const form = changes('Dm7 | C7 | C7 | Fmaj7 | Gm7 Dm7 | C7 | C7 | A7')
  const request = grooveRequest('ballad-two', form, { loop: true })

  it('is none where it plays what the groove would play: C G over a chord that holds on', () => {
    const answered = { ...request, table: { ...request.table, schemes: request.table.schemes.slice(0, 1) } }
    const [line] = groovesOf(answered)
    const bars = pitchesText(line!, form).split(' | ')
    expect(bars[1]).not.toBe(bars[2])
    expect(bars[5]).not.toBe(bars[6])
    expect(scoreGroove(answered, line!)).toBe(line!.cost)
  })

  it('pays where there is no other', () => {
    const { table } = request
    const pairs = table.pairs.filter(({ pattern }) => ['root-fifth-up', 'two-beat-dominant'].includes(pattern))
    const few = {
      ...request,
      patterns: request.patterns.filter(({ pattern }) => pairs.some((pair) => pair.pattern === pattern.id)),
      cells: request.cells.filter(({ id }) => id === 'half-notes'),
      table: { ...table, pairs, unlisted: 60, schemes: table.schemes.slice(0, 1) },
    }
    const [line] = groovesOf(few)
    expect(line!.terms).toContainEqual({ rule: 'no-answer', points: 24 })
    expect(scoreGroove(few, line!)).toBe(line!.cost)
  })
})
