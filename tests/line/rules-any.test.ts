import { describe, expect, it } from 'vitest'
import { compose } from '../../src/compose.ts'
import { formatRule } from '../../src/line/rule-sentence.ts'
import { randomFrom } from '../support/random.ts'
import { pick, type Random, randomStated } from '../support/random-rule.ts'
import { breachesOf, checked } from '../support/rule-checker.ts'

const CHARTS = [
  '| Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | % |',
  'tempo: 220\n[A]\n| F7 | Bb7 | F7 | Cm7 F7 |\n[B]\n| Bb7 | Bdim7 | F7/C | D7b9 |',
  'pickup: yes\nkey: Fm\n[A]\n(1/4) C7 | (4/4) Fm7 | C/E | Db7 | C7 |',
  '[B]\n| Em7 | Am7 D7 | Gmaj7 | % | F#m7b5 | B7 | Em | N.C. |',
]
const WALKS = ['swing-medium', 'swing-fast']
const GROOVES = ['shuffle', 'soul-eighths', 'bossa-nova', 'rock-eighths', 'tumbao', 'country-two']

/** Sentences that nobody can read, or that ask for what is not there. */
const ABSURD = [
  'no leap over a fourht',
  'stay between D3 and E1',
  'stay between frets 30 and 40',
  'Bars 90-95: no pushes',
  'Bars 9-1: no pushes',
  'Section Nowhere: arrive on the root',
  'no pushes (weight 0)',
  'pattern nobody-knows throughout',
  'Bar 1: keep A0 on 1',
  'Bar 2: keep D2 on 7/8: 1',
  '🎸',
]

/** Their breaches are of cells, or bars in a groove and notes in a walking line: what a bar owes, the tests of both say. */
const COUNTED_BY_THE_SEARCH = [
  'keeps-bar',
  'ends-with',
  'notes-a-bar',
  'bar-pushed-over',
  'pattern-throughout',
  'pattern-so-many-times',
]

/** Rules of chance as sentences; sometimes there are many, sometimes all are musts. */
function rulesOfChance(random: Random): readonly string[] {
  const isStrict = random(4) === 0
  const count = random(5) === 0 ? 12 : 1 + random(5)
  return Array.from({ length: count }, () => {
    if (random(12) === 0) return pick(random, ABSURD)
    const stated = randomStated(random, 8)
    const strength = isStrict ? 'must' : random(3) === 0 ? 1 + random(9) : stated.strength
    return formatRule({ ...stated, strength })
  })
}

describe('Any set of rules', () => {
  it('gives a line that keeps every must and pays for each breach of a weight, or a clash of musts with its bars', () => {
    const tries = process.env['SOAK'] ? 3000 : 300
    let lines = 0
    let clashes = 0
    const seen = new Set<string>()
    for (let seed = 1; seed <= tries; seed++) {
      const random = randomFrom(seed)
      const chart = pick(random, CHARTS)
      const feel = pick(random, random(4) === 0 ? GROOVES : WALKS)
      const rules = rulesOfChance(random)
      const settings = { feel, rules, loop: random(3) === 0, choruses: random(8) === 0 ? 2 : 1 }
      const title = `seed ${seed}, ${feel}, ${chart}: ${rules.join(' + ')}`
      const composition = compose(chart, settings)
      const { clash } = composition
      if (clash) {
        clashes++
        expect(clash.bars.length, title).toBeGreaterThan(0)
        const musts = composition.rules.filter(({ strength }) => strength === 'must')
        for (const rule of clash.rules)
          expect(
            musts.map(({ sentence }) => `${sentence} (must)`),
            title,
          ).toContain(rule)
        if (clash.rules.length === 0) expect(compose(chart, { ...settings, rules: [] }).lines, title).toHaveLength(0)
        continue
      }
      lines++
      const [line] = composition.lines
      if (!line) throw new Error(`${title}: no line and no reason`)
      const of = checked(composition, line)
      const owed = new Map<string, number | undefined>()
      for (const { id, sentence, strength } of composition.rules) {
        seen.add(id)
        const breaches = breachesOf(sentence, of)
        if (strength === 'must') expect([sentence, breaches ?? 0], title).toEqual([sentence, 0])
        else {
          const before = owed.has(id) ? owed.get(id) : 0
          owed.set(id, before === undefined || breaches === undefined ? undefined : before + breaches * strength)
        }
      }
      const terms = [...line.terms, ...line.notes.flatMap((note) => note.terms)]
      for (const [id, points] of owed) {
        if (points === undefined || COUNTED_BY_THE_SEARCH.includes(id)) continue
        const paid = terms.filter(({ rule }) => rule === id).reduce((sum, term) => sum + term.points, 0)
        expect([id, paid], title).toEqual([id, points])
      }
    }
    expect(lines).toBeGreaterThan(tries / 3)
    expect(clashes).toBeGreaterThan(tries / 20)
    expect(seen.size).toBeGreaterThan(30)
  }, 3_600_000)
})
