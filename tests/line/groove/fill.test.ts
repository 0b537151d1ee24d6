import { describe, expect, it } from 'vitest'
import type { GrooveLine } from '../../../src/line/groove/groove.ts'
import { pitchClassOf } from '../../../src/music/pitch.ts'
import { changes } from '../../support/changes.ts'
import { scoreGroove } from '../../support/groove-scorer.ts'
import { grooveRequest, groovesOf } from '../../support/grooves.ts'

const FORM = changes('(12/8) Cm7 | Fm7 | Cm7 | % | Fm7 | % | Cm7 | % | Ab7 | G7 | Cm7 | G7')
const C = 0

/** The last bar's notes, a fill into C minor. */
function lastBar({ notes }: GrooveLine) {
  return notes.filter(({ slot }) => slot.barIndex === FORM.bars.length - 1)
}

describe('A fill', () => {
  const request = grooveRequest('slow-blues', FORM, { loop: true })

  it('keeps to the last what it leads to', () => {
    const [line] = groovesOf(request) as [GrooveLine]
    expect(
      lastBar(line)
        .slice(-2)
        .map(({ pitch }) => pitchClassOf(pitch)),
    ).not.toContain(C)
  })

  it('does not end on it: F# E C# B into B minor', () => {
    const form = changes('Bm | % | G | A | Bm | % | Em | F#7')
    const { table } = grooveRequest('rock-eighths', form)
    const [line] = groovesOf(grooveRequest('rock-eighths', form, { loop: true })) as [GrooveLine]
    expect(line.notes.at(-1)!.pitch % 12).not.toBe(11)
    const fills = table.fills.filter(({ id, when }) => id === 'rock-octave-fall' || when === 'f')
    const only = grooveRequest('rock-eighths', form, { loop: true, table: { ...table, fills } })
    const [given] = groovesOf(only) as [GrooveLine]
    expect(given.notes.at(-1)!.pitch % 12).toBe(11)
    expect(given.notes.at(-1)!.terms).toContainEqual({ rule: 'fill-gives-away', points: 4 })
    expect(scoreGroove(only, given)).toBe(given.cost)
  })

  it('pays for giving it away: G F D Db C Db into C', () => {
    const { table } = request
    const fills = table.fills.filter(({ id, when }) => id === 'blues-fall' || when === 'f')
    const only = { ...request, table: { ...table, fills } }
    const [line] = groovesOf(only) as [GrooveLine]
    const bar = lastBar(line)
    expect(bar.at(-2)!.pitch % 12).toBe(C)
    expect(bar.at(-2)!.terms).toContainEqual({ rule: 'fill-gives-away', points: 4 })
    expect(scoreGroove(only, line)).toBe(line.cost)
  })
})
