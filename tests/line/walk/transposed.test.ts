import { describe, expect, it } from 'vitest'
import { WALKING_WEIGHTS } from '../../../src/feels/walking-weights.ts'
import { patternOf } from '../../../src/line/patterns.ts'
import { enforce, type RuleInForce } from '../../../src/line/rule.ts'
import { walk } from '../../../src/line/walk/walk.ts'
import { changes as formOf } from '../../support/changes.ts'
import { randomFrom } from '../../support/random.ts'
import { pick, randomStated } from '../../support/random-rule.ts'
import { FOUR_STRINGS, walkRequest } from '../../support/walking.ts'

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B']

/** Chords as root numbers and qualities. */
const CHARTS = [
  '2m7 | 7 | 0maj7 | 9 7b9 | 2m7 | 7 7 | 0maj7 | 0 6',
  '[A] 5 7 | 10 7 | 5 7 | 0m7 5 7 | [B] 10 7 | 11dim7 | 9m7b5 | 2 7b9',
]

/** Rules that name a pitch or a fret move with the neck; those are left out here. */
const ABSOLUTE = [
  'inside-range',
  'contour-followed',
  'keeps-bar',
  'first-note-on',
  'last-note-on',
  'motif-throughout',
  'line-at-repeats',
]

describe('Transposing the changes', () => {
  it('transposes the lines, where the neck, the arch and the top move with them: whatever the rules, the patterns, the seam', () => {
    const random = randomFrom(1)
    for (let up = 1; up <= 11; up++) {
      for (const chart of CHARTS) {
        const at = (by: number) =>
          chart.replaceAll(
            /(\d+) ?(m7b5|maj7|m7|dim7|7b9|7|6|)(?= |$)/g,
            (_, root, quality) => `${ROOTS[(Number(root) + by) % 12]}${quality}`,
          )
        const rules: RuleInForce[] = []
        while (rules.length < random(4)) {
          const { rule, value } = randomStated(random, 8)
          if (ABSOLUTE.includes(rule.id)) continue
          rules.push(enforce(rule, value, { strength: 1 + random(9) }))
        }
        const patterns =
          random(3) === 0 ? [patternOf(pick(random, ['walking-below', 'triad-up', 'walking-scale-step']))!] : undefined
        const options = { rules, patterns, loop: random(2) === 0, variations: 3 }
        const low = walk(walkRequest(formOf(at(0)), options))
        const { contour, above } = WALKING_WEIGHTS
        const table = {
          ...WALKING_WEIGHTS,
          contour: { ...contour, low: contour.low + up, high: contour.high + up },
          above: { ...above, pitch: above.pitch + up },
        }
        const instrument = { ...FOUR_STRINGS, open: FOUR_STRINGS.open.map((pitch) => pitch + up) }
        const high = walk(walkRequest(formOf(at(up)), { ...options, table, instrument }))
        const title = `${at(0)} up ${up}: ${rules.map(({ sentence }) => sentence).join(' + ')}`
        if (!low.ok || !high.ok) throw new Error(`${title}: no line`)
        const seen = ({ lines }: typeof low, by: number) =>
          lines.map(({ cost, notes }) => [
            cost,
            ...notes.map((note) => `${note.pitch - by} ${note.string}/${note.fret}`),
          ])
        expect(seen(high, up), title).toEqual(seen(low, 0))
      }
    }
  })
})
