import { describe, expect, it } from 'vitest'
import { differenceOf } from '../../src/line/difference.ts'
import type { Line } from '../../src/line/line.ts'
import { changes as formOf } from '../support/changes.ts'
import { writtenLine } from '../support/written-line.ts'

const form = formOf('Dm7 | G7 | Cmaj7 | A7')

/** What the second line has that the first has not. */
function told(best: string, line: string): string {
  const lineOf = (text: string): Line => writtenLine(form, text.replaceAll(/[A-G][b#]*\d/g, '$&/q'))
  return differenceOf(lineOf(line), lineOf(best), form.bars)
}

const BEST = 'D2 F2 A2 Ab2 | G2 F2 D2 B1 | C2 E2 G2 E2 | A2 G2 E2 Eb2'

describe('what differs between two lines', () => {
  it('is nothing where they have the same notes', () => {
    expect(told(BEST, BEST)).toBe('')
  })

  it('is told with the bars where it is', () => {
    expect(told(BEST, 'D2 F2 A2 Ab2 | G2 F2 D2 B1 | C3 E3 G3 E3 | A2 G2 E2 Eb2')).toBe('higher in bar 3')
    expect(told(BEST, 'D2 F2 A2 Ab2 | G1 F1 A1 B1 | C2 E2 G2 E2 | A2 G2 E2 Eb2')).toBe('lower in bar 2')
    expect(told(BEST, 'D2 F2 A2 Ab2 | G2 F2 D2 B1 | C2 G2 C2 E2 | A2 G2 E2 Eb2')).toBe('more leaps in bar 3')
    expect(told(BEST, 'D2 E2 F2 Gb2 | G2 F2 E2 D2 | C2 E2 G2 E2 | A2 G2 E2 Eb2')).toBe('more steps in bars 1–2')
  })

  it('is throughout where most bars differ', () => {
    expect(told(BEST, 'D3 F3 A3 Ab3 | G3 F3 D3 B2 | C3 E3 G3 E3 | A2 G2 E2 Eb2')).toBe('higher throughout')
  })
})
