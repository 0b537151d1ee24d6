import { describe, expect, it, test } from 'vitest'
import { read } from '../../src/compose.ts'
import type { Settings } from '../../src/settings.ts'

const CHART = `pickup: yes
form: A B A
[A]
(1/4) C7 | (4/4) F7 | Bb7 | F7 | C7 |
[B]
| Dm7 | (3/4) G7 |
`

/** What is said about the rules of a chart: code, the words it is about, the fix, and where the fix belongs. */
function said(rule: string, settings: Settings = {}): readonly string[] {
  const text = `rule: ${rule}\n${CHART}`
  return read(text, settings)
    .diagnostics.filter(({ code }) => code.startsWith('rule/'))
    .map(({ code, span, fixes, fixSpan }) => {
      const place = fixSpan ? ` for ${text.slice(fixSpan.from, fixSpan.to)}` : ''
      return `${code} [${text.slice(span.from, span.to)}] => ${fixes.join()}${place}`
    })
}

/** Numbers of the played bars that a rule binds. */
function bound(rule: string, settings: Settings = {}): string {
  const { rules, form } = read(`rule: ${rule}\n${CHART}`, settings)
  const [only] = rules
  if (!only) return 'nothing'
  if (!only.bars) return 'all'
  return form.bars
    .filter(({ index }) => only.bars!.some(({ from, to }) => from <= index && index < to))
    .map(({ number }) => number)
    .join(' ')
}

describe('A rule', () => {
  // Played: the pick-up, A in bars 1 to 4, B in 5 and 6, A in 7 to 10.
  test.each<[string, Settings, string]>([
    ['no leap over a fourth', {}, 'all'],
    ['Bars 2, 5-6: no leap over a fourth', {}, '2 5 6'],
    ['Bar 0: no leap over a fourth', {}, '0'],
    ['Section B: no leap over a fourth', {}, '5 6'],
    ['[a]: no leap over a fourth', {}, '0 1 2 3 4 7 8 9 10'],
    ['Bars 2, 9: no leap over a fourth', { choruses: 2 }, '2 9 12 19'],
    ['Section B: no leap over a fourth', { choruses: 2 }, '5 6 15 16'],
    ['Chorus 2: no leap over a fourth', { choruses: 2 }, '11 12 13 14 15 16 17 18 19 20'],
    ['Chorus 1, bars 0-2: no leap over a fourth', { choruses: 2 }, '0 1 2'],
    ['Last chorus, section B: no leap over a fourth', { choruses: 3 }, '25 26'],
    ['First chorus, section B: no leap over a fourth', {}, '5 6'],
    ['Choruses 2-3, bar 10: no leap over a fourth', { choruses: 4 }, '20 30'],
    ['keep F2 on 1', {}, '1 2 3 4 5 7 8 9 10'],
    ['a new line at each repeat', {}, 'all'],
    ['Bars 5-6: keep F2 on 3/4: 1', {}, '6'],
    ['Bar 0: first note on the root', {}, '0'],
    ['no leap over a fourth (off)', {}, 'nothing'],
  ])('binds the bars it names, in every chorus: %s, %j', (rule, settings, bars) => {
    expect(said(rule, settings)).toEqual([])
    expect(bound(rule, settings)).toBe(bars)
  })

  test.each([
    ['Bar 11: no leap over a fourth', 'rule/no-such-bar [Bar 11] =>  for Bar 11: no leap over a fourth'],
    [
      'Bars 9-12: no leap over a fourth',
      'rule/no-such-bar [Bars 9-12] => Bars 9–10: no leap over a fourth (must) for Bars 9-12: no leap over a fourth',
    ],
    ['Section C: no pushes', 'rule/no-such-section [Section C] =>  for Section C: no pushes'],
    [
      'stay between frets 0 and 22',
      'rule/out-of-range [22] => stay between frets 0 and 20 (must) for stay between frets 0 and 22',
    ],
    ['no lep over a fourth', 'rule/unreadable [lep] => no leap over a fourth (must) for no lep over a fourth'],
    ['Bar 5: keep F2 on 3/4: 1', 'rule/other-metre [keep F2 on 3/4: 1] =>  for Bar 5: keep F2 on 3/4: 1'],
    [
      'Bar 5: begin on the third',
      'rule/binds-nothing [Bar 5] => first note on the third (must) for Bar 5: begin on the third',
    ],
    ['Bar 1: end on F2', 'rule/binds-nothing [Bar 1] => last note on F2 (must) for Bar 1: end on F2'],
  ])('that cannot bind is said, with its place in the text, and binds nothing: %s', (rule, saying) => {
    expect(said(rule)).toEqual([saying.trim()])
    expect(bound(rule)).toBe('nothing')
  })

  it('about a chorus that is not played today is a hint, and binds nothing', () => {
    const { diagnostics, rules } = read(`rule: Choruses 2-3: no pushes\n${CHART}`, { choruses: 2 })
    expect(rules).toEqual([])
    expect(diagnostics.filter(({ code }) => code.startsWith('rule/'))).toEqual([
      {
        code: 'rule/no-such-chorus',
        severity: 'hint',
        span: { from: 6, to: 18 },
        message: 'The form is played 2 times, so there is no chorus 3. The rule binds nothing.',
        fixes: [],
      },
    ])
  })

  it('about the whole line has neither bars nor a weight, and is said once', () => {
    expect(said('Bars 1-2: lead back to the beginning (weight 3)')).toEqual([
      'rule/whole-line [Bars 1-2] => lead back to the beginning (must) for Bars 1-2: lead back to the beginning (weight 3)',
    ])
    expect(bound('Bars 1-2: lead back to the beginning (weight 3)')).toBe('all')
    expect(said('each bar by itself\nrule: the same two bars throughout')).toEqual([
      'rule/said-already [the same two bars throughout] =>  for the same two bars throughout',
    ])
  })

  it('beside the text is read after the text’s own, and has no place in it', () => {
    const { rules, diagnostics } = read('rule: no pushes (weight 3)\n| C7 |', {
      rules: ['no leap over a third (strongly)', 'arrive in style', 'no ghost notes (gently)'],
    })
    expect(rules.map(({ sentence, strength }) => `${sentence} ${strength}`)).toEqual([
      'no pushes 3',
      'no leap over a third 24',
      'no ghost notes 4',
    ])
    expect(diagnostics.map(({ code, span, message }) => [code, span, message.slice(0, 31)])).toEqual([
      ['rule/unreadable', { from: 0, to: 0 }, 'In the rule "arrive in style": '],
    ])
  })

  it('counts patterns as far as that can be remembered, and says so of the next one', () => {
    const counting = ['triad-up', 'walking-below', 'triad-down', 'boogie'].map(
      (id) => `pattern ${id} at least three times`,
    )
    const { rules, diagnostics } = read('| C7 |', { rules: counting })
    expect(rules.map(({ sentence }) => sentence)).toEqual(counting.slice(0, 2))
    expect(diagnostics.map(({ code }) => code)).toEqual(['rule/too-many', 'rule/too-many'])
  })

  it('is one of a hundred at most', () => {
    const { rules, diagnostics } = read('| C7 |', { rules: Array.from({ length: 105 }, () => 'no pushes') })
    expect(rules).toHaveLength(100)
    expect(diagnostics.map(({ code }) => code)).toEqual(['rule/too-many'])
  })
})
