import { describe, expect, it } from 'vitest'
import { compose } from '../../src/compose.ts'
import { FEELS } from '../../src/feels/feels.ts'
import type { Line } from '../../src/line/line.ts'
import { randomFrom } from '../support/random.ts'
import { pick } from '../support/random-rule.ts'

const CHORDS = ['Dm7', 'G7', 'Cmaj7', 'A7', 'Fm7', 'Bb7', 'Ebmaj7', 'Em7 A7', 'C/E', 'Bm7b5', '%', 'F']

/** Where a line sounds, and what: dead notes are no difference. */
const sounding = (line: Line): ReadonlyMap<number, number> =>
  new Map(line.notes.flatMap(({ slot, pitch }) => (slot.ghost ? [] : [[slot.startTick, pitch] as const])))

/** How many of all onsets of two lines differ: one of them is silent there, or has another pitch. */
function differing(a: Line, b: Line): { readonly different: number; readonly all: number } {
  const [x, y] = [sounding(a), sounding(b)]
  const all = new Set([...x.keys(), ...y.keys()])
  return { different: [...all].filter((tick) => x.get(tick) !== y.get(tick)).length, all: all.size }
}

describe('Different: all pairs of the lines of a request', () => {
  for (const feel of FEELS) {
    it(`differ in the share asked for, ${feel.id}, once and looped, near the best and by chance`, () => {
      const rounds = process.env['SOAK'] ? 20 : 2
      let pairs = 0
      for (let seed = 1; seed <= rounds; seed++) {
        const random = randomFrom(seed)
        const chords = ['C7', ...Array.from({ length: 7 }, () => pick(random, CHORDS))]
        const text = `time: ${feel.metre}\n| ${chords.join(' | ')} |`
        const difference = pick(random, [0.1, 0.25, 0.5])
        for (const loop of [false, true]) {
          const settings = { feel: feel.id, loop, difference, variations: 4 }
          for (const more of [{}, { surprise: 'some', seed } as const]) {
            const { lines, diagnostics } = compose(text, { ...settings, ...more })
            const title = `${text}, ${difference}${loop ? ', looped' : ''} ${JSON.stringify(more)}`
            expect(lines.length, title).toBeGreaterThan(0)
            if (lines.length < 4)
              expect(
                diagnostics.map(({ code }) => code),
                title,
              ).toContain('line/fewer')
            for (const [i, a] of lines.entries()) {
              for (const b of lines.slice(i + 1)) {
                pairs++
                const { different, all } = differing(a, b)
                expect(different, title).toBeGreaterThanOrEqual(difference * all - 1e-9)
              }
            }
          }
        }
      }
      expect(pairs).toBeGreaterThan(rounds)
    }, 3_600_000)
  }
})

/** Ordinary forms of 12, 16 and 32 bars. */
const FORMS = [
  '| F7 | Bb7 | F7 | F7 | Bb7 | Bb7 | F7 | D7 | Gm7 | C7 | F7 | C7 |',
  '| C | Am7 | F | G7 | C | Am7 | Dm7 | G7 | Em7 | A7 | Dm7 | G7 | C | F | Dm7 G7 | C |',
  `| Dm7 | G7 | Cmaj7 | % | Fm7 | Bb7 | Em7 | A7 | Dm7 | G7 | Cmaj7 | Am7 | Dm7 | G7 | Cmaj7 | C7 |
| Fmaj7 | % | Fm7 | Bb7 | Cmaj7 | % | Bm7b5 | E7 | Am7 | D7 | Dm7 | G7 | Em7 | A7 | Dm7 | G7 |`,
]

describe('Walking lines of which many have to differ much', () => {
  it('are all found, each within what is said of the last that was proven', () => {
    for (const loop of [false, true]) {
      const asked = { feel: 'swing-medium', loop, variations: 20, difference: 0.5 }
      const { lines } = compose(FORMS[1]!, asked)
      expect(lines.length).toBe(20)
      for (const [i, a] of lines.entries()) {
        expect(a.cost - a.provenWithin).toBeGreaterThanOrEqual(lines[0]!.cost)
        for (const b of lines.slice(i + 1)) {
          const { different, all } = differing(a, b)
          expect(different).toBeGreaterThanOrEqual(0.5 * all)
        }
      }
      expect(JSON.stringify(compose(FORMS[1]!, asked).lines)).toBe(JSON.stringify(lines))
    }
  }, 600_000)
})

describe('Eight grooves that differ in a quarter', () => {
  for (const feel of FEELS) {
    if (feel.line.kind !== 'groove') continue
    it(`are found over ordinary forms, ${feel.id}`, () => {
      for (const form of FORMS) {
        const text = `feel: ${feel.id}\ntime: ${feel.metre}\n${form}`
        const { lines } = compose(text, { loop: true, variations: 8, difference: 0.25 })
        expect(lines.length, form).toBe(8)
        for (const [index, line] of lines.entries()) {
          // Each is proven within a distance from the one before, which is the least that is left.
          expect(line.cost, form).toBeGreaterThanOrEqual(lines[Math.max(0, index - 1)]!.cost)
          expect(line.cost - line.provenWithin, form).toBeGreaterThanOrEqual(lines[0]!.cost - lines[0]!.provenWithin)
        }
      }
    }, 600_000)
  }

  it('are found where each bar is by itself, and over a groove of four bars', () => {
    for (const feel of ['bossa-nova', 'shuffle', 'country-two', 'hip-hop'])
      for (const rules of [['each bar by itself'], ['the same four bars throughout with fills']])
        expect(compose(`feel: ${feel}\n${FORMS[1]}`, { variations: 8, rules }).lines.length, `${feel} ${rules}`).toBe(8)
  }, 600_000)
})
