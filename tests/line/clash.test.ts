import { describe, expect, it, test } from 'vitest'
import { type Composition, compose } from '../../src/compose.ts'
import { formatRule } from '../../src/line/rule-sentence.ts'
import { randomFrom } from '../support/random.ts'
import { randomStated } from '../support/random-rule.ts'

const CHART = '| Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | % |'

function clashOf(chart: string, rules: readonly string[]): NonNullable<Composition['clash']> {
  const { clash, diagnostics } = compose(chart, { rules })
  expect(diagnostics.filter(({ code }) => code.startsWith('rule/'))).toEqual([])
  if (!clash) throw new Error(`a line was built under ${rules.join(', ')}`)
  return clash
}

describe('A clash', () => {
  test.each<[string, readonly string[], readonly string[], readonly number[], readonly string[]]>([
    [
      'a kept bar and a register',
      ['no pushes', 'Bar 2: keep G2 B2 D3 F3 on 1 2 3 4', 'stay between E1 and D3'],
      ['Bar 2: keep G2 B2 D3 F3 on 1 2 3 4 (must)', 'stay between E1 and D3 (must)'],
      [2],
      [
        'stay between E1 and F3 (must)',
        'stay between E1 and D3 (weight 6)',
        'Bar 2: keep G2 B2 D3 F3 on 1 2 3 4 (weight 20)',
      ],
    ],
    [
      'a kept bar and a leap',
      ['Bars 1-4: no leap over a fourth', 'Bar 3: keep C2 C3 on 1 3'],
      ['Bars 1–4: no leap over a fourth (must)', 'Bar 3: keep C2 C3 on 1 3 (must)'],
      [3],
      [
        'Bars 1–4: no leap over an octave (must)',
        'Bar 3: keep C2 C3 on 1 3 (weight 20)',
        'Bars 1–4: no leap over a fourth (weight 8)',
      ],
    ],
    [
      'a rule by itself',
      ['Bar 4: first note on E1 (off)', 'Bars 2, 7: stay between F#1 and F#1', 'Bar 1: arrive on the root'],
      ['Bars 2, 7: stay between F#1 and F#1 (must)'],
      [2],
      ['Bars 2, 7: stay between F#1 and G1 (must)'],
    ],
  ])('names %s, the bars, and what would help', (_, asked, rules, bars, loosen) => {
    const clash = clashOf(CHART, asked)
    expect(clash.rules).toEqual(rules)
    expect(clash.bars).toEqual(bars)
    expect(clash.loosen.slice(0, loosen.length)).toEqual(loosen)
    for (const rule of rules) expect(clash.message).toContain(`"${rule}"`)
  })

  it('says where more than two bars are needed, and where more than one clash stands', () => {
    const clash = clashOf('| C | % | F | % |', [
      'Bars 1-2: arrive on the root',
      'Bars 1-2: arrive on the third',
      'Bars 3-4: arrive on the root',
      'Bars 3-4: arrive on the third',
    ])
    expect(clash.rules).toHaveLength(2)
    expect(clash.message).toContain('They are not the only ones that clash.')
    expect(clash.loosen).toHaveLength(3)
  })

  it('is smallest, stands in the bars it names, and each loosening leaves a line', () => {
    let clashes = 0
    for (let seed = 1; seed <= (process.env['SOAK'] ? 300 : 30); seed++) {
      const random = randomFrom(7000 + seed)
      const stated = Array.from({ length: 6 }, () => randomStated(random, 8)).filter(
        ({ where }) => where?.kind !== 'section',
      )
      const rules = stated.map((one) => formatRule({ ...one, strength: 'must' }))
      const { clash } = compose(CHART, { rules })
      if (!clash) continue
      clashes++
      const title = `seed ${seed}: ${rules.join(' + ')}`
      expect(clash.bars.length, title).toBeGreaterThan(0)
      expect(compose(CHART, { rules: clash.rules }).clash?.rules, title).toEqual(clash.rules)
      for (const rule of clash.rules) {
        const rest = clash.rules.filter((other) => other !== rule)
        expect(compose(CHART, { rules: rest }).clash, title).toBeUndefined()
      }
      const basis = clash.message.includes('not the only ones') ? clash.rules : rules
      for (const loosened of clash.loosen) {
        const helps = clash.rules.some((rule) => {
          const others = basis.filter((other) => other !== rule)
          return compose(CHART, { rules: [...others, loosened] }).clash === undefined
        })
        expect(helps, `${title} => ${loosened}`).toBe(true)
      }
    }
    expect(clashes).toBeGreaterThan(5)
  })
})
