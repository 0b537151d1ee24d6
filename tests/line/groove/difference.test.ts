import { describe, expect, it } from 'vitest'
import { grooveDifferenceOf } from '../../../src/line/groove/difference.ts'
import type { GrooveLine, GrooveRequest } from '../../../src/line/groove/groove.ts'
import { keptBar, ruleOf } from '../../support/groove-rules.ts'
import { grooveRequest, groovesOf, patternIn } from '../../support/grooves.ts'
import { cellsOf } from '../../support/walking.ts'

const LATIN = 'Dm7 | G7 | Cmaj7 | % | Fm7 | Bb7 | Em7 | A7'

const lineOf = (request: GrooveRequest): GrooveLine => groovesOf(request)[0]!
const played = (cell: string, pattern: string, options: Partial<GrooveRequest> = {}) => {
  const patterns = [{ pattern: patternIn(pattern), weight: 1 }]
  return grooveRequest('bossa-nova', LATIN, { cells: cellsOf(cell), patterns, ...options })
}

describe('the difference between grooves, in words', () => {
  const base = played('1 3', '1 5')
  const best = lineOf(base)
  const from = (request: GrooveRequest) => grooveDifferenceOf(lineOf(request), best, request.form.bars)

  it('is nothing where the notes are the same', () => {
    expect(from(base)).toBe('')
  })

  it('tells another rhythm and another figure', () => {
    expect(from(played('1 2 3 4', '1 5'))).toBe('another rhythm')
    const figured = { ...best, plan: { ...best.plan, a: { ...best.plan.a, row: 99 } }, notes: best.notes.slice(1) }
    expect(grooveDifferenceOf(figured, best, base.form.bars)).toBe('root and fifth')
  })

  it('tells bars that lie higher, and other notes', () => {
    const higher = {
      ...best,
      notes: best.notes.map((note) => (note.slot.barIndex > 3 ? { ...note, pitch: note.pitch + 12 } : note)),
    }
    expect(grooveDifferenceOf(higher, best, base.form.bars)).toBe('bars 5–8 lie higher')
    const kept = {
      ...base,
      rules: [ruleOf('kept', keptBar('1 2 3', [38, 41, 45]), 'must' as const, [{ from: 0, to: 1 }])],
    }
    expect(from(kept)).toMatch(/^other notes in bars? 1/)
  })

  it('tells another fill by its bar', () => {
    const figures = best.plan.figures.map((figure, bar) => (bar === 7 ? 'another' : figure))
    const last = best.notes.at(-1)!
    const other = {
      ...best,
      plan: { ...best.plan, figures },
      notes: [...best.notes.slice(0, -1), { ...last, pitch: last.pitch + 1 }],
    }
    expect(grooveDifferenceOf(other, best, base.form.bars)).toMatch(/^(another|a) fill in bar 8$/)
  })
})
