import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { unfold } from '../../src/chart/form.ts'
import { parseChart } from '../../src/chart/parse.ts'
import { parseChordSymbol } from '../../src/music/chord-symbol.ts'
import { chartCases, diagnosticText, formText } from '../support/chart-case.ts'

const CASES = chartCases(join(import.meta.dirname, 'cases'))

describe('a chart', () => {
  it.each(CASES)('$title', ({ text, played, said }) => {
    const { chart, diagnostics } = parseChart(text)
    const unfolded = unfold(chart)
    const all = [...diagnostics, ...unfolded.diagnostics].map((diagnostic) => diagnosticText(diagnostic, text))
    expect(all).toEqual(said)
    expect(formText(unfolded.form)).toBe(played)
  })

  it('has a case for everything that may be said about it', () => {
    const folder = join(import.meta.dirname, '..', '..', 'src', 'chart')
    const source = readdirSync(folder).map((file) => readFileSync(join(folder, file), 'utf8'))
    const codes = new Set(source.join('\n').match(/(?<=')chart\/[a-z-]+(?=')/g))
    const said = new Set(CASES.flatMap((one) => one.said.map((row) => row.split(' ')[1]!)))
    // A case for these would be too long: they have tests of their own.
    const long = ['chart/too-long', 'chart/too-many-bars', 'chart/more']
    expect([...codes].filter((code) => !said.has(code) && !long.includes(code))).toEqual([])
  })

  it('has a case for each way in which a chord cannot be read, or may have been meant otherwise', () => {
    const said = new Set(CASES.flatMap((one) => one.said.map((row) => row.split(' ')[1]!)))
    const codes = [
      'no-root',
      'lower-case-root',
      'german-h',
      'too-many-accidentals',
      'no-such-number',
      'plus-number',
      'two-sevenths',
      'parenthesis',
      'bass-not-a-note',
      'unreadable',
      'minus-five',
      'two-is-add-nine',
      'accidental-is-the-roots',
      'plus-seven-after-minor',
      'suspended-minor',
      'altered-ninth-without-seventh',
      'nothing-to-omit',
    ]
    expect(codes.filter((code) => !said.has(`chord/${code}`))).toEqual([])
  })

  it('gets messages that are sentences and say what is done instead', () => {
    for (const { text } of CASES) {
      const { chart, diagnostics } = parseChart(text)
      for (const { message } of [...diagnostics, ...unfold(chart).diagnostics]) {
        expect(message).toMatch(/^["“A-Z%:\d].*\.$/)
        expect(message).not.toMatch(/undefined|NaN/)
      }
    }
  })

  it('gets fixes for its chords that can be read', () => {
    for (const { text } of CASES)
      for (const { code, fixes } of parseChart(text).diagnostics)
        if (code.startsWith('chord/'))
          for (const fix of fixes) expect([fix, parseChordSymbol(fix).kind]).toEqual([fix, 'chord'])
  })
})
