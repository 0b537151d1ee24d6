import { describe, expect, it, test } from 'vitest'
import { formatRule, readRule } from '../../src/line/rule-sentence.ts'
import { RULES } from '../../src/line/rules.ts'
import { instrumentOf } from '../../src/music/instruments.ts'
import { randomFrom } from '../support/random.ts'
import { pick, randomStated } from '../support/random-rule.ts'

/** What a sentence reads as, printed; or what is wrong with it, the words it is about, and the fix. */
function shown(sentence: string): string {
  const reading = readRule(sentence, instrumentOf('four-string'))
  if (reading.ok) return formatRule(reading.stated)
  const { code, span, fix } = reading.problem
  return `${code} [${sentence.slice(span.from, span.to)}] => ${fix ?? '-'}`
}

describe('A rule', () => {
  test.each([
    ['no leap over a fourth', 'no leap over a fourth (must)'],
    ['Bars 5–8: no leap over a fourth (must)', 'Bars 5–8: no leap over a fourth (must)'],
    ['bars 5-8: No leap larger than 5 semitones', 'Bars 5–8: no leap over a fourth (must)'],
    ['Bars 1, 5-8: no leap over five semitones', 'Bars 1, 5–8: no leap over a fourth (must)'],
    ['Bars 8, 5 to 7 and 1: no leaps over an octave', 'Bars 1, 5–8: no leap over an octave (must)'],
    ['Bar 5: arrive on the third (weight 6)', 'Bar 5: arrive on the third (weight 6)'],
    [
      'Section B: arrive on the third, the fifth or b7 (strongly)',
      'Section B: arrive on the third or the fifth or b7 (strongly)',
    ],
    ['[Bridge]: arrive on the flat seventh (gently)', 'Section Bridge: arrive on b7 (gently)'],
    ['arrive on the root', 'arrive on the root (must)'],
    ['arrive on root (off)', 'arrive on the root (off)'],
    ['do not arrive on the root', 'do not arrive on the root (must)'],
    ['begin each bar on the fifth', 'begin each bar on the fifth (must)'],
    ['start every phrase on a chord tone', 'begin each phrase on a chord tone (must)'],
    ['stay between E1 and D3', 'stay between E1 and D3 (must)'],
    ['stay between Gb1 and B♭2', 'stay between F#1 and Bb2 (must)'],
    ['stay between frets 0 and five', 'stay between frets 0 and 5 (must)'],
    ['no note more than two times in a row', 'no pitch more than twice in a row (must)'],
    ['no pitch twice in a row', 'no pitch more than once in a row (must)'],
    [
      'approach each change by a half-step below or an enclosure',
      'approach each change by a half-step below or an enclosure (must)',
    ],
    [
      'approach every change from the dominant and the leading note',
      'approach each change by the dominant and the leading note (must)',
    ],
    ['approach changes by the dominant', 'approach each change by the dominant (must)'],
    ['no approach into changes', 'no approach into changes (must)'],
    ['arch over each phrase', 'arch over each phrase (must)'],
    [
      'Bars 1-4: rise over these bars between E1 and E2 within 4 semitones',
      'Bars 1–4: rise over these bars between E1 and E2 within 4 semitones (must)',
    ],
    ['valley over each phrase between G1 and G2', 'valley over each phrase (must)'],
    ['pattern walking-below at least twice', 'pattern walking-below at least twice (must)'],
    ['pattern "1 3 5 6" never', 'pattern "1 3 5 6" never (must)'],
    ['Bars 5-8: pattern walking-below throughout', 'Bars 5–8: pattern walking-below throughout (must)'],
    ['begin on E1', 'first note on E1 (must)'],
    ['last note on the root', 'last note on the root (must)'],
    ['Bar 5: keep D2 F2 A2 Ab2 on 1 2 3 4', 'Bar 5: keep D2 F2 A2 Ab2 on 1 2 3 4 (must)'],
    ['Bar 5: keep D2, A2 on 1 3 (4)', 'Bar 5: keep D2 A2 on 1 3 (4) (must)'],
    ['keep D2 A2 on 1 2 (a) (weight 3)', 'keep D2 A2 on 1 2 (a) (weight 3)'],
    ['no ghost notes', 'no ghost notes (must)'],
    ['new line on every repeat', 'a new line at each repeat (must)'],
    ['the same 2 bars throughout', 'the same two bars throughout (must)'],
    ['the same bar throughout with fills', 'the same bar throughout with fills (must)'],
    ['every bar by itself', 'each bar by itself (must)'],
    ['lead back to the beginning', 'lead back to the beginning (must)'],
    ['Chorus 2: no pushes', 'Chorus 2: no pushes (must)'],
    ['choruses 2 to 3: no pushes', 'Choruses 2–3: no pushes (must)'],
    ['first chorus: no pushes', 'Chorus 1: no pushes (must)'],
    ['Last chorus, bars 5-8: no pushes (gently)', 'Last chorus, bars 5–8: no pushes (gently)'],
    ['Chorus 2 bar 1: no pushes', 'Chorus 2, bar 1: no pushes (must)'],
    ['Chorus 1, [B]: no pushes', 'Chorus 1, section B: no pushes (must)'],
    ['Section Chorus: no pushes', 'Section Chorus: no pushes (must)'],
  ])('is read and printed: %s', (sentence, printed) => {
    expect(shown(sentence)).toBe(printed)
    expect(shown(printed)).toBe(printed)
  })

  test.each([
    ['no lep over a fourth', 'rule/unreadable [lep] => no leap over a fourth (must)'],
    [
      'Bars 5–8: no leap over a fourht (weight 3)',
      'rule/unreadable [fourht] => Bars 5–8: no leap over a fourth (weight 3)',
    ],
    ['no leap', 'rule/unreadable [] => no leap over a fourth (must)'],
    ['Chorus: no pushes', 'rule/unreadable [Chorus] => -'],
    ['Choruses 3-2: no pushes', 'rule/out-of-range [Choruses 3-2] => Choruses 2–3: no pushes (must)'],
    ['Chorus 0: no pushes', 'rule/out-of-range [Chorus 0] => -'],
    ['Last chorus no pushes', 'rule/unreadable [] => Last chorus: no pushes (must)'],
    ['Chorus 2, bars 8-5: no pushes', 'rule/out-of-range [8-5] => Chorus 2, bars 5–8: no pushes (must)'],
    ['Chorus 2, bars one: no pushes', 'rule/unreadable [one] => -'],
    ['Bars 5-8 no leap over a fifth', 'rule/unreadable [] => Bars 5–8: no leap over a fifth (must)'],
    ['[B] arrive on the third', 'rule/unreadable [] => Section B: arrive on the third (must)'],
    ['Bars 5-x: no leap over a fifth', 'rule/unreadable [-x] => Bar 5: no leap over a fifth (must)'],
    ['Bars: no leap over a fifth', 'rule/unreadable [] => -'],
    ['Bars 8-5: no leap over a fifth', 'rule/out-of-range [8-5] => Bars 5–8: no leap over a fifth (must)'],
    ['no leap over a fifth (weight 0)', 'rule/out-of-range [weight 0] => no leap over a fifth (weight 1)'],
    ['no leap over a fifth (weight 1.5)', 'rule/out-of-range [weight 1.5] => no leap over a fifth (weight 2)'],
    ['no leap over a fifth (soft)', 'rule/unreadable [soft] => no leap over a fifth (must)'],
    ['no leap over 99 semitones', 'rule/out-of-range [99 semitones] => no leap over 36 semitones (must)'],
    ['stay between D3 and E1', 'rule/out-of-range [E1] => stay between E1 and D3 (must)'],
    ['stay between frets 5 and 99', 'rule/out-of-range [99] => stay between frets 5 and 20 (must)'],
    ['stay between frets 9 and 5', 'rule/out-of-range [5] => stay between frets 5 and 9 (must)'],
    ['stay between C1 and D3', 'rule/out-of-range [C1] => stay between E1 and D3 (must)'],
    ['begin on A4', 'rule/out-of-range [A4] => first note on Eb4 (must)'],
    [
      'pattern walking-belov at least twice',
      'rule/out-of-range [walking-belov] => pattern walking-below at least twice (must)',
    ],
    ['pattern "1 3 99" never', 'rule/out-of-range ["1 3 99"] => -'],
    ['keep D2 F2 on 1 2 3 4', 'rule/out-of-range [1 2 3 4] => -'],
    ['keep D2 F2 on 1 3 2', 'rule/out-of-range [1 3 2] => -'],
    [
      'approach each change by a quarter tone',
      'rule/unreadable [quarter] => approach each change by a half-step below (must)',
    ],
    ['root', 'rule/unreadable [root] => arrive on the root (must)'],
    ['', 'rule/unreadable [] => -'],
    ['sing it like you mean it', 'rule/unreadable [sing] => -'],
    ['x'.repeat(500), `rule/unreadable [${'x'.repeat(500)}] => -`],
  ])('is refused with its place and the nearest sentence: %s', (sentence, said) => {
    expect(shown(sentence)).toBe(said)
  })

  it('reads back as the same rule when it is printed, whatever its value', () => {
    const said = new Set<string>()
    for (let seed = 1; seed <= (process.env['SOAK'] ? 50_000 : 5000); seed++) {
      const random = randomFrom(seed)
      const stated = randomStated(random, 32)
      const sentence = formatRule(stated)
      const reading = readRule(sentence)
      if (!reading.ok) throw new Error(`${sentence}: ${reading.problem.message}`)
      const { rule, value, where, strength } = reading.stated
      expect([rule.id, value, where, strength], sentence).toEqual([
        stated.rule.id,
        stated.value,
        stated.where,
        stated.strength,
      ])
      expect(formatRule(reading.stated)).toBe(sentence)
      said.add(rule.id)
    }
    expect([...said].sort()).toEqual(RULES.map(({ id }) => id).sort())
  })

  it('with a word put out of place is read, or refused with a place in it and a sentence that can be read', () => {
    let mended = 0
    for (let seed = 1; seed <= (process.env['SOAK'] ? 20_000 : 2000); seed++) {
      const random = randomFrom(seed)
      const words = formatRule(randomStated(random, 32)).split(' ')
      const at = random(words.length)
      if (random(2) === 0) words.splice(at, 1)
      else
        words.splice(
          at,
          random(2),
          pick(random, ['leap', '(', ')', 'Bars', ':', '-3', 'fret', 'ö', '"', 'or', ',', 'E1']),
        )
      const sentence = words.join(' ')
      const reading = readRule(sentence)
      if (reading.ok) continue
      const { span, message, fix } = reading.problem
      expect(span.from >= 0 && span.from <= span.to && span.to <= sentence.length, sentence).toBe(true)
      expect(message, sentence).toMatch(/\.$/)
      if (fix === undefined) continue
      mended++
      expect(readRule(fix).ok, `${sentence} => ${fix}`).toBe(true)
    }
    expect(mended).toBeGreaterThan(500)
  }, 600_000)
})
