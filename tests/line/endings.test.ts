import { describe, expect, it, test } from 'vitest'
import { compose } from '../../src/compose.ts'
import type { Settings } from '../../src/settings.ts'

/** By bar, the names of its notes, each with its place in quarters from the bar line and its length. */
function bars(text: string, settings: Settings = {}): readonly string[] {
  const { form, lines, clash, diagnostics } = compose(text, settings)
  if (clash) throw new Error(clash.message)
  expect(diagnostics.filter(({ code }) => code.startsWith('rule/'))).toEqual([])
  return form.bars.map(({ index, startTick }) =>
    lines[0]!.notes
      .filter(({ slot }) => slot.barIndex === index && !slot.ghost)
      .map(({ name, slot }) => `${name} ${(slot.startTick - startTick) / 480}+${slot.ticks / 480}`)
      .join(' | '),
  )
}

const ending = (chart: string, how: string, feel?: string): string =>
  bars(chart, { rules: [`end with ${how}`], ...(feel ? { feel } : {}) }).at(-1)!

describe('A tune ends', () => {
  const chart = '| Fmaj7 | Gm7 | C7 | Fmaj7 |'

  test.each([
    ['a held root', 'F1 0+4'],
    ['the fifth between two roots', 'F2 0+1 | C2 1+1 | F2 2+2'],
    ['a walk up to the root', 'F2 0+1 | C2 1+0.5 | D2 1.5+0.5 | F2 2+2'],
    ['a walk down to the root', 'F2 0+1 | D2 1+0.5 | C2 1.5+0.5 | F1 2+2'],
    ['a stop on the and of two', 'F1 0+1.5 | F1 1.5+0.5'],
  ])('with %s, in any feel', (how, last) => {
    for (const feel of ['swing-medium', 'bossa-nova', 'shuffle']) {
      const plain = bars(chart, { feel })
      expect(ending(chart, how, feel)).toBe(last)
      expect(plain.at(-1)).not.toBe(last)
    }
  })

  test.each([
    ['| Dm7 | Gm7 |', 'a walk up to the root', 'G2 0+1 | D2 1+0.5 | F2 1.5+0.5 | G2 2+2'],
    ['| Dm7 | Gm(maj7) |', 'a walk down to the root', 'G2 0+1 | F#2 1+0.5 | D2 1.5+0.5 | G1 2+2'],
    ['| G7 | F/C |', 'a held root', 'C2 0+4'],
    ['time: 3/4\n| C | G7 | C |', 'a held root', 'C2 0+3'],
    ['time: 12/8\n| C7 | G7 | C7 |', 'the fifth between two roots', 'C2 0+1.5 | G1 1.5+1.5 | C2 3+3'],
    ['time: 7/8\n| C7 | G7 | C7 |', 'a held root', 'C2 0+3.5'],
  ])('as its last chord and its metre have it: %s, %s', (text, how, last) => {
    expect(ending(text, how)).toBe(last)
  })

  it('on the root of each chord where the last bar has several', () => {
    expect(ending('| Dm7 | G7 C |', 'a stop on the and of two')).toBe('G1 0+2 | C2 2+2')
  })

  it('only once, though its last bar is played before, and in the last chorus', () => {
    const aa = bars('form: A A\n[A]\n| Fmaj7 | Gm7 | C7 | Fmaj7 |', { choruses: 2, rules: ['end with a held root'] })
    expect(aa.map((bar) => bar === 'F1 0+4')).toEqual([...new Array(15).fill(false), true])
  })

  it('as a must, whatever weight is asked for', () => {
    const { lines, diagnostics } = compose(`rule: end with a held root (weight 2)\n${chart}`)
    expect(diagnostics.map(({ code, fixes }) => [code, fixes])).toEqual([
      ['rule/no-weight', ['end with a held root (must)']],
    ])
    expect(lines[0]!.notes.at(-1)!.name).toBe('F1')
  })

  test.each<[string, Settings, string]>([
    ['rule: end with a held root\n| C |', { loop: true }, 'rule/no-end'],
    ['rule: Bar 1: end with a held root\n| C | F |', {}, 'rule/binds-nothing'],
    ['rule: end with a held root\n| C | N.C. |', {}, 'rule/other-metre'],
    ['time: 5/4\nrule: end with a stop on the and of two\n| C | F |', {}, 'rule/other-metre'],
  ])('not where it cannot, and that is said: %s', (text, settings, code) => {
    const { diagnostics, rules, lines } = compose(text, settings)
    expect(diagnostics.filter((one) => one.code.startsWith('rule/')).map((one) => one.code)).toEqual([code])
    expect(rules).toEqual([])
    expect(lines).toHaveLength(1)
  })

  it('or clashes with what else its last bar has to be', () => {
    const rules = ['last note on the third', 'end with a held root']
    const { clash } = compose(chart, { rules })
    expect(clash?.rules).toEqual(rules.map((rule) => `${rule} (must)`))
    expect(clash?.loosen).toEqual([
      'last note on the third (weight 10)',
      'end with a held root (off)',
      'last note on the third (off)',
    ])
  })
})

describe('A tune opens', () => {
  it('with a pedal on the fifth of its key, in its first phrase', () => {
    const played = bars('key: F\n| F | Bb | C7 | F | Bb | C7 | F | F |', { rules: ['open with a pedal on the fifth'] })
    expect(played.map((bar) => /^(C\d \S+( \| )?)+$/.test(bar))).toEqual([
      ...new Array(4).fill(true),
      ...new Array(4).fill(false),
    ])
  })

  it('in the section called so, however long, and in the first chorus only', () => {
    const played = bars('[Intro]\n| F | C7 |\n[A]\n| F | Bb | C7 | F |', {
      choruses: 2,
      rules: ['open with root and fifth alone'],
    })
    const sparse = played.map((bar) => bar.split(' | ').length <= 2 && /^[FCG]/.test(bar))
    expect(sparse).toEqual([true, true, ...new Array(10).fill(false)])
  })

  it('with what a groove can play', () => {
    const played = bars('| F | Bb | C7 | F | Bb | C7 | F | F |', {
      feel: 'bossa-nova',
      rules: ['open with root and fifth alone'],
    })
    expect(played.slice(0, 4).map((bar) => bar.split(' | ').length)).toEqual([2, 2, 2, 2])
    expect(played[4]!.split(' | ').length).toBeGreaterThan(2)
  })
})
