import { describe, expect, it } from 'vitest'
import type { FormBar } from '../../../src/chart/form.ts'
import { layScheme } from '../../../src/line/groove/scheme.ts'
import { changes } from '../../support/changes.ts'
import { chordForm } from '../../support/chord-form.ts'

const EIGHT = ['A', 'B', 'A', 'f', 'A', 'B', 'A', 'F']

function lettersOver(...sections: readonly number[]): string {
  const row = sections.map((bars, index) => `[${'ABCDE'[index]}]\n| ${Array(bars).fill('C7').join(' | ')} |`).join('\n')
  return lettersOf(changes(row).bars)
}

function lettersOf(bars: readonly FormBar[]): string {
  return layScheme(EIGHT, bars)
    .map((place) => place.letter)
    .join('')
}

describe('a scheme', () => {
  it.each([
    [[8], 'ABAfABAF'],
    [[12], 'ABAfABAfABAF'],
    [[16], 'ABAfABAFABAfABAF'],
    [[4], 'ABAF'],
    [[6], 'ABAfAF'],
    [[1], 'F'],
    [[13], 'ABAfABAFABAfF'],
    [[24], 'ABAfABAFABAfABAFABAfABAF'],
    [[12, 12], 'ABAfABAfABAFABAfABAfABAF'],
    [[8, 4, 8], 'ABAfABAFABAFABAfABAF'],
  ] as const)('over sections of %s bars is %s', (sections, letters) => {
    expect(lettersOver(...sections)).toBe(letters)
  })

  it('marks the bar where a blues turns around', () => {
    const twelfth = layScheme(EIGHT, changes(Array(12).fill('C7').join(' | ')).bars)
    expect(twelfth.map((place, bar) => (place.twelfth ? bar + 1 : 0)).filter(Boolean)).toEqual([12])
  })

  it('leaves a pick-up to the groove and counts from the first whole bar', () => {
    expect(lettersOf(chordForm('(1/4) C7 | F7 | F7 | F7 | F7').bars)).toBe('AABAF')
  })
})
