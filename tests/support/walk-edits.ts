import { WALKING_WEIGHTS } from '../../src/feels/walking-weights.ts'
import { patternOf } from '../../src/line/patterns.ts'
import { enforce, type RuleInForce } from '../../src/line/rule.ts'
import type { WalkRequest } from '../../src/line/walk/problem.ts'
import { instrumentOf } from '../../src/music/instruments.ts'
import { changes as formOf } from './changes.ts'
import { pick, type Random, randomStated } from './random-rule.ts'
import { cellsOf, SWING_CELLS, walkRequest } from './walking.ts'

/** What a player has on the page: all that he may touch before he asks for lines again. */
interface Page {
  chords: string[]
  readonly rules: RuleInForce[]
  patterns: readonly string[]
  bass: string
  highest: number
  table: WalkRequest['table']
  loop: boolean
  slow: boolean
  busy: boolean
}

const CHORDS = ['Dm7', 'G7', 'Cmaj7', 'A7b9', 'Fm7', 'Bb7', 'Ebmaj7', 'C/E', 'F#m7b5', 'G7 Db7', 'Bdim7', 'Em7 A7', '%']

/** Another table of the same width, so that nothing can tell it but its figures. */
const DULL: WalkRequest['table'] = { ...WALKING_WEIGHTS, thirdNotHeard: 0, guideTones: 1, approachTakesOver: 2 }

const PATTERN_IDS = ['walking-below', 'triad-up', 'root-fifth-both', 'tumbao-anticipated', 'seventh-arpeggio-up']

/** Rules that say something over few bars, often the same one with another strength or in other bars. */
function randomRule(random: Random, bars: number): RuleInForce | undefined {
  const { rule, value, strength } = randomStated(random, bars)
  if (rule.id === 'keeps-bar' || rule.id === 'motif-throughout' || rule.id === 'line-at-repeats') return undefined
  const from = random(bars)
  const to = Math.min(bars, from + 1 + random(3))
  const places = random(2) === 0 ? { bars: [{ from, to }], where: `Bars ${from + 1}–${to}: ` } : {}
  const points = random(3) > 0 ? ('must' as const) : typeof strength === 'number' ? strength : 1 + random(4)
  return enforce(rule, value, { strength: points, ...places })
}

/** Requests one after the other, as when a player tries this and that on one chart; some go back to what was there before. */
export function* editedRequests(
  random: Random,
  count: number,
): Generator<{ readonly said: string; readonly request: WalkRequest }> {
  let page: Page = {
    chords: Array.from({ length: 6 }, (_, i) => (i === 0 ? 'Dm7' : pick(random, CHORDS))),
    rules: [],
    patterns: [],
    bass: 'four-string',
    highest: 7,
    table: WALKING_WEIGHTS,
    loop: false,
    slow: false,
    busy: false,
  }
  const seen: Page[] = []
  for (let edit = 0; edit < count; edit++) {
    seen.push({ ...page, chords: [...page.chords], rules: [...page.rules] })
    const rule = page.rules.length > 0 ? random(page.rules.length) : -1
    switch (random(14)) {
      case 0:
      case 1:
      case 2:
        page.chords[1 + random(page.chords.length - 1)] = pick(random, CHORDS)
        break
      case 3:
      case 4: {
        const more = page.rules.length < 4 ? randomRule(random, page.chords.length) : undefined
        if (more) page.rules.push(more)
        break
      }
      case 5:
        if (rule >= 0) page.rules.splice(rule, 1)
        break
      case 6:
        // The same rule with another strength.
        if (rule >= 0) page.rules[rule] = { ...page.rules[rule]!, strength: random(2) === 0 ? 'must' : 1 + random(9) }
        break
      case 7:
        page.patterns = random(2) === 0 ? [] : [pick(random, PATTERN_IDS), pick(random, PATTERN_IDS)]
        break
      case 8:
        page.bass = pick(
          random,
          ['four-string', 'five-string', 'double-bass'].filter((id) => instrumentOf(id)),
        )
        break
      case 9:
        page.highest = pick(random, [4, 7, 9])
        break
      case 10:
        page.table = page.table === DULL ? WALKING_WEIGHTS : DULL
        break
      case 11:
        page.loop = !page.loop
        break
      case 12:
        if (random(2) === 0) page.slow = !page.slow
        else page.busy = !page.busy
        break
      default: {
        // Back to what was there before.
        const before = pick(random, seen)
        page = { ...before, chords: [...before.chords], rules: [...before.rules] }
      }
    }
    const { chords, rules, patterns, bass, highest, table, loop, slow, busy } = page
    const changes = chords.join(' | ')
    const said = `${changes}; ${rules.map(({ sentence, strength }) => `${sentence} (${strength})`).join(' + ')}; ${patterns}; ${bass} to ${highest}${loop ? ', looped' : ''}${slow ? ', slow' : ''}${table === DULL ? ', dull' : ''}`
    const request = walkRequest(formOf(changes), {
      cells: busy ? SWING_CELLS : cellsOf('1 2 3 4', '1 2& 3 4'),
      rules: [...rules],
      patterns: patterns.length > 0 ? [...new Set(patterns)].map((id) => patternOf(id)!) : undefined,
      instrument: instrumentOf(bass)!,
      frets: { from: 0, to: highest },
      table,
      loop: loop || rules.some(({ test }) => test.looksAt === 'loop'),
      secondsPerTick: 60 / (slow ? 60 : 200) / 480,
    })
    yield { said, request }
  }
}
