import { describe, expect, it } from 'vitest'
import { offerAt } from '../../src/ui/changes-completion.ts'

/** What is offered where the text has a `^`, and what stands there already. */
function offered(text: string): string {
  const at = text.indexOf('^')
  const chart = text.slice(0, at) + text.slice(at + 1)
  const offer = offerAt(chart, at)
  return offer ? `${chart.slice(offer.from, at)} → ${offer.words.join(', ')}` : ''
}

describe('what may stand at a place of a chart', () => {
  it.each([
    ['| F7 | Bbmaj7 | F7 | F7b9 |\n| F^', 'F → F7, F7b9'],
    ['| F7 | Bbmaj7 |\n| B^ | C7 |', 'B → Bbmaj7'],
    ['| F7 | <F^', 'F → F7'],
    ['| F7 | F7^ |', ''],
    ['| F7 | x^ |', ''],
    ['| F7 | // F^', ''],
    ['[Bridge]\n| C7 |\n[B^', 'B → Bridge'],
    ['fe^\n| C7 |', 'fe → feel: '],
    ['tempo: 90\nt^\n| C7 |', 't → title: , time: '],
    ['rule: x\nru^', 'ru → rule: '],
    ['| C7 |\nfe^', ''],
    ['feel: bo^', 'bo → bossa-nova'],
    ['bass: five-string-h^', 'five-string-h → five-string-high-c'],
    ['cells: gallop four-q^', 'four-q → four-quarters'],
    ['patterns: boogie-o^', 'boogie-o → boogie-octave'],
    ['form: ^\n[A]\n| C7 |\n[B]\n| F7 |', ' → A, B'],
    ['mood: F^', ''],
    ['^', ''],
  ])('%j: %s', (text, expected) => {
    expect(offered(text)).toBe(expected)
  })
})
