import { describe, expect, it } from 'vitest'
import type { Form, FormBar } from '../../src/chart/form.ts'
import { WALKING_WEIGHTS } from '../../src/feels/walking-weights.ts'
import { build } from '../../src/line/build.ts'
import { binds, type Candidate, enforce, type Rule, type RuleExample, type RuleInForce } from '../../src/line/rule.ts'
import { say } from '../../src/line/rule-phrase.ts'
import { AT_MOST_IN_A_ROW } from '../../src/line/rules/at-most-in-a-row.ts'
import { BETWEEN_FRETS } from '../../src/line/rules/between-frets.ts'
import { CHANGE_APPROACHED_BY } from '../../src/line/rules/change-approached-by.ts'
import { CHANGE_OFF_ROOT } from '../../src/line/rules/change-off-root.ts'
import { CHANGE_ON_CHORD_TONE } from '../../src/line/rules/change-on-chord-tone.ts'
import { CHANGE_ON_ROOT } from '../../src/line/rules/change-on-root.ts'
import { CHORD_TONE_ON_STRONG_BEAT } from '../../src/line/rules/chord-tone-on-strong-beat.ts'
import { INSIDE_RANGE } from '../../src/line/rules/inside-range.ts'
import { INSIDE_SCALE } from '../../src/line/rules/inside-scale.ts'
import { NO_LEAP_OVER } from '../../src/line/rules/no-leap-over.ts'
import { RULES } from '../../src/line/rules.ts'
import { standingsOf } from '../../src/line/standing.ts'
import { walk } from '../../src/line/walk/walk.ts'
import { metreOf } from '../../src/music/metre.ts'
import { parseNoteName, pitchClassOfName } from '../../src/music/note-name.ts'
import { printCell } from '../../src/rhythm/cell.ts'
import { slotsOf } from '../../src/rhythm/plan.ts'
import { changes as formOf } from '../support/changes.ts'
import { wayOf } from '../support/hand.ts'
import { randomFrom } from '../support/random.ts'
import { cellsOf, FOUR_STRINGS, SWING_CELLS, walkRequest } from '../support/walking.ts'

/** A written line as candidates, each at its lowest place on the neck unless string and fret stand behind it: `A1@0/5`. */
function candidatesOf(form: Form, { line, cells = [] }: RuleExample<unknown>): readonly Candidate[] {
  const names = line === '' ? [] : line.split(' | ').flatMap((bar) => bar.split(' '))
  const placed = form.bars.map((bar) => ({ ...cellsOf(cells[bar.index] ?? '1 2 3 4')[0]!, startTick: bar.startTick }))
  const slots = slotsOf(form, placed, false).filter((slot) => !slot.ghost)
  expect(names, line).toHaveLength(slots.length)
  return standingsOf(form, slots, false).map((standing, i) => {
    const [, name, octave, place] = /^([A-G][#b]*)(\d)(?:@(\d\/\d+))?$/.exec(names[i]!)!
    const pitch = 12 * (Number(octave) + 1) + pitchClassOfName(parseNoteName(name!)!)
    const { open } = FOUR_STRINGS
    const string = place ? Number(place[0]) : open.findLastIndex((one) => one <= pitch)
    const fret = pitch - open[string]!
    if (place) expect(`${string}/${fret}`).toBe(place)
    return { ...standing, pitch, string, fret, open }
  })
}

/** True if an example keeps its rule, by what the kinds of test are said to mean. */
function keeps(rule: Rule<unknown>, example: RuleExample<unknown>, test = rule.test(example.value)): boolean {
  const form = formOf(example.changes)
  const notes = candidatesOf(form, example)
  const { hands = [], bpm = 120, patterns = [], cells = [] } = example
  const cell = (bar: number) => cellsOf(cells[bar] ?? '1 2 3 4')[0]!.cell
  switch (test.looksAt) {
    case 'note':
    case 'pair':
    case 'memory':
      return isKept({ ...enforce(rule, example.value), test }, notes)
    case 'several':
      return test.tests.every((one) => keeps(rule, example, one))
    case 'hand':
      return notes.every((note, i) => {
        if (i === 0) return true
        const before = notes[i - 1]!
        const seconds = ((note.slot.startTick - before.slot.startTick) / 480) * (60 / bpm)
        return test.allows({
          tenths: wayOf({ scale: 8636 }, hands[i - 1]!, hands[i]!),
          fromOpen: before.fret === 0,
          seconds,
        })
      })
    case 'pattern': {
      const count = patterns.filter((id) => id === test.pattern).length
      return count >= test.atLeast && count <= (test.atMost ?? count)
    }
    case 'patterns-in-force':
      return form.bars.every((bar) => patterns[bar.index] === test.pattern)
    case 'cell':
      return form.bars.every((bar) => test.allows(cell(bar.index)))
    case 'kept-bar':
      return (
        form.bars.every((bar) => printCell(cell(bar.index)) === printCell(test.cell)) &&
        notes.map((note) => note.pitch).join() === form.bars.flatMap(() => test.pitches).join()
      )
    case 'repeats': {
      const notesOf = (bar: number) => notes.filter(({ slot }) => slot.barIndex === bar).map(({ pitch }) => pitch)
      const firstOf = (bar: FormBar) => form.bars.find(({ writtenIndex }) => writtenIndex === bar.writtenIndex)!
      return test.anew || form.bars.every((bar) => notesOf(bar.index).join() === notesOf(firstOf(bar).index).join())
    }
    case 'motif':
      // Rhythm alone: a motif in another place of the scale is still one.
      return form.bars.every(({ index }) => {
        if (test.strictness === 'free' || (test.strictness === 'with-fills' && index % 4 === 3)) return true
        return printCell(cell(index)) === printCell(cell(index % (test.period ?? 1)))
      })
    case 'loop':
      return true
  }
}

/** True if a line keeps a rule in all the bars that it binds: an independent reading. */
function isKept({ test, ...rule }: RuleInForce, notes: readonly Candidate[]): boolean {
  const bound = (note: Candidate) => binds(rule, note.slot.barIndex)
  switch (test.looksAt) {
    case 'note':
      return notes.every((note) => !bound(note) || test.allows(note))
    case 'pair':
      return notes.every((note, i) => i === 0 || !bound(note) || test.allows(notes[i - 1]!, note))
    case 'memory': {
      let state = 0
      for (let i = 1; i < notes.length; i++) {
        const step = test.step(state, notes[i - 1]!, notes[i]!)
        expect(step.state).toBeLessThan(test.states)
        state = step.state
        if (bound(notes[i]!) && !step.kept) return false
      }
      return true
    }
    default:
      throw new RangeError(`${rule.id} looks at ${test.looksAt}`)
  }
}

describe('every rule', () => {
  for (const rule of RULES) {
    it(`keeps what it shows as kept, and breaks what it shows as broken: ${rule.id}`, () => {
      // What a loop is, its last note and its first say: there is no example of a line by itself.
      if (rule.id === 'leads-back') return expect(rule.test(undefined).looksAt).toBe('loop')
      expect(rule.keeps.length).toBeGreaterThan(0)
      expect(rule.breaks.length).toBeGreaterThan(0)
      const shown = (example: RuleExample<unknown>) =>
        `${say(rule.phrasings, example.value)}: ${example.changes}: ${example.line}`
      for (const example of rule.keeps) expect(keeps(rule, example), shown(example)).toBe(true)
      for (const example of rule.breaks) expect(keeps(rule, example), shown(example)).toBe(false)
    })

    it(`has a name that is a statement and a weight: ${rule.id}`, () => {
      expect(rule.id).toMatch(/^[a-z]+(-[a-z]+)+$/)
      expect(Number.isInteger(rule.defaultWeight) && rule.defaultWeight > 0).toBe(true)
    })

    it(`asks less and less by its milder values: ${rule.id}`, () => {
      for (const { value } of rule.breaks)
        for (const row of rule.milder?.(value) ?? []) {
          const kept = row.map((milder) => rule.breaks.filter((one) => keeps(rule, { ...one, value: milder })).length)
          expect(kept).toEqual([...kept].sort((a, b) => a - b))
        }
    })
  }

  it('refuses a weight that is not a whole number of points', () => {
    for (const strength of [0, -1, 1.5, Number.NaN])
      expect(() => enforce(NO_LEAP_OVER, 5, { strength })).toThrow(RangeError)
  })
})

const CHART = 'Am7b5 | D7b9 | Gm7 | % | Cm7 F7 | Bbmaj7 | Ebmaj7 | D7'

/** A rule of chance, as a must, for all bars or some. */
function randomRule(random: (limit: number) => number): RuleInForce {
  const from = random(6)
  const bars = random(2) === 0 ? {} : { bars: [{ from, to: from + 1 + random(3) }] }
  const lowest = 28 + random(12)
  const fret = random(6)
  switch (random(10)) {
    case 0:
      return enforce(AT_MOST_IN_A_ROW, 1 + random(2), bars)
    case 1:
      return enforce(BETWEEN_FRETS, { from: fret, to: fret + 3 + random(4) }, bars)
    case 2:
      return enforce(CHANGE_APPROACHED_BY, ['half-step-below', random(2) === 0 ? 'dominant' : 'scale-step'], bars)
    case 3:
      return enforce(CHANGE_OFF_ROOT, undefined, bars)
    case 4:
      return enforce(CHANGE_ON_CHORD_TONE, undefined, bars)
    case 5:
      return enforce(CHANGE_ON_ROOT, undefined, bars)
    case 6:
      return enforce(CHORD_TONE_ON_STRONG_BEAT, undefined, bars)
    case 7:
      return enforce(INSIDE_RANGE, { lowest, highest: lowest + 6 + random(12) }, bars)
    case 8:
      return enforce(INSIDE_SCALE, undefined, bars)
    default:
      return enforce(NO_LEAP_OVER, 2 + random(8), bars)
  }
}

describe('rules in a walking line', () => {
  const form = formOf(CHART)
  const soundings = (result: Extract<ReturnType<typeof walk>, { ok: true }>): readonly Candidate[] => {
    const { notes } = result.lines[0]!
    const { open } = FOUR_STRINGS
    const slots = notes.map((note) => note.slot)
    return standingsOf(form, slots, false).map((standing, i) => ({ ...notes[i]!, ...standing, open }))
  }

  it('are kept by every line that is built, whatever musts are put together; else no line is', () => {
    const tries = process.env['SOAK'] ? 1000 : 60
    let built = 0
    for (let seed = 1; seed <= tries; seed++) {
      const random = randomFrom(seed)
      const rules = Array.from({ length: 1 + random(4) }, () => randomRule(random))
      const result = walk(walkRequest(form, { rules }))
      if (!result.ok) continue
      built++
      for (const rule of rules) expect(isKept(rule, soundings(result)), `seed ${seed}, ${rule.id}`).toBe(true)
    }
    expect(built).toBeGreaterThan(tries / 5)
  })

  it('cost their weight for each breach', () => {
    const plain = walk(walkRequest(form))
    const rule = enforce(CHANGE_OFF_ROOT, undefined, { strength: 1 })
    const result = walk(walkRequest(form, { rules: [rule] }))
    if (!plain.ok || !result.ok) throw new Error('no line')
    const breaches = soundings(result).filter((note) => !isKept(rule, [note])).length
    const terms = result.lines[0]!.notes.flatMap((note) => note.terms).filter((term) => term.rule === 'change-off-root')
    expect(terms.map((term) => term.points)).toEqual(Array(breaches).fill(1))
    expect(breaches).toBeGreaterThan(0)
    expect(result.lines[0]!.cost).toBeLessThanOrEqual(plain.lines[0]!.cost + 9)
  })
})

describe('rules that leave no line', () => {
  const request = (rules: readonly RuleInForce[]) =>
    build({
      form: formOf(CHART),
      key: undefined,
      instrument: FOUR_STRINGS,
      metre: metreOf('4/4')!,
      tempo: { bpm: 144, usualBpm: 144 },
      way: { kind: 'walk', table: WALKING_WEIGHTS, cellsOf: () => SWING_CELLS, patterns: undefined },
      rules,
      loop: false,
      variations: 1,
      difference: 0.25,
    })

  it('are named with the bar, and only those that clash', () => {
    const result = request([
      enforce(INSIDE_SCALE, undefined),
      enforce(CHANGE_ON_ROOT, undefined, { bars: [{ from: 2, to: 3 }] }),
      enforce(NO_LEAP_OVER, 7),
      enforce(CHANGE_OFF_ROOT, undefined, { bars: [{ from: 1, to: 4 }] }),
    ])
    if (result.ok) throw new Error('a line was built')
    expect(result.clash.bars).toEqual([3])
    expect(result.clash.rules).toEqual(['arrive on the root (must)', 'do not arrive on the root (must)'])
    expect(result.clash.message).toContain('bar 3')
    expect(result.clash.loosen).toEqual([
      'do not arrive on the root (weight 10)',
      'arrive on the root (weight 10)',
      'do not arrive on the root (off)',
    ])
  })

  it('are a smallest set: with any one of them gone there is a line', () => {
    let clashes = 0
    for (let seed = 1; seed <= (process.env['SOAK'] ? 100 : 14); seed++) {
      const random = randomFrom(1000 + seed)
      const rules = Array.from({ length: 7 }, () => randomRule(random))
      const result = request(rules)
      if (result.ok) continue
      clashes++
      const named = rules.filter((rule) => result.clash.rules.includes(`${rule.sentence} (must)`))
      expect(request(named).ok, `seed ${seed}`).toBe(false)
      if (named.length === result.clash.rules.length)
        for (const one of named) expect(request(named.filter((rule) => rule !== one)).ok, `seed ${seed}`).toBe(true)
    }
    expect(clashes).toBeGreaterThan(2)
  })
})
