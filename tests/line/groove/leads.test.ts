import { describe, expect, it } from 'vitest'
import type { Form } from '../../../src/chart/form.ts'
import type { GrooveLine } from '../../../src/line/groove/groove.ts'
import { changes } from '../../support/changes.ts'
import { scoreGroove } from '../../support/groove-scorer.ts'
import { grooveRequest, groovesOf, pitchesText } from '../../support/grooves.ts'

/** Bars, from 0, that lead into the next chord: by a lead of their figure, a walk, or an approach in the place of a token. */
function ledBars(line: GrooveLine, form: Form): readonly number[] {
  const leads = line.notes.filter(
    ({ source, target }) => source === 'lead' || source === 'walk' || (source === 'pattern' && target !== undefined),
  )
  return form.bars.map(({ index }) => index).filter((bar) => leads.some(({ slot }) => slot.barIndex === bar))
}

describe('leads in a phrase', () => {
  it('are one in two bars that belong together: A7 D7 is led out of, into A7', () => {
    const form = changes('A7 | D7 | A7 | % | D7 | % | A7 | % | E7 | D7 | A7 | E7')
    const [line] = groovesOf(grooveRequest('shuffle', form, { loop: true })) as [GrooveLine]
    const led = ledBars(line, form)
    expect(led).toContain(1)
    expect(led).not.toContain(0)
  })

  it('leave a groove its head: in gospel the walks are leads enough', () => {
    const form = changes('(12/8) C | C7 | F | C | Am7 | D7 | G7 | C')
    const request = grooveRequest('gospel-twelve', form, { loop: true })
    const [line] = groovesOf(request) as [GrooveLine]
    expect(ledBars(line, form).length).toBeLessThanOrEqual(4)
    expect(scoreGroove(request, line)).toBe(line.cost)
  })

  it('cost 12 points for each beyond four where the vocabulary has nothing else', () => {
    const form = changes('C | Am7 | F | G7 | C | Am7 | Dm7 | G7')
    const request = grooveRequest('soul-eighths', form, { loop: true })
    const { table } = request
    const pairs = table.pairs.filter(({ lead }) => lead !== undefined)
    const led = { ...request, table: { ...table, pairs, unlisted: 100, schemes: table.schemes.slice(1) } }
    const [line] = groovesOf(led) as [GrooveLine]
    expect(ledBars(line, form)).toEqual([0, 1, 2, 4, 5, 6])
    expect(line.terms).toContainEqual({ rule: 'leads-in-a-phrase', points: 24 })
    expect(scoreGroove(led, line)).toBe(line.cost)
  })

  it('are no tic where the lead is the riff itself', () => {
    const form = changes('Em | C | D | Em | D | Em | Am D | B7')
    const [line] = groovesOf(grooveRequest('steppers', form, { loop: true })) as [GrooveLine]
    expect(ledBars(line, form).length).toBeGreaterThan(4)
  })

  it('keep their target for themselves: not F sharp, F, F sharp', () => {
    const form = changes('(6/8) Bm | Bm | F#7 | Em | F#7 | F#7 | Bm | F#7')
    const request = grooveRequest('six-eight', form, { loop: true })
    const [line] = groovesOf(request) as [GrooveLine]
    expect(pitchesText(line, form).split(' | ')[1]).not.toMatch(/F#[12] F[12]$/)
    expect(scoreGroove(request, line)).toBe(line.cost)
  })
})
