import type { GrooveLine, GrooveRequest } from '../../src/line/groove/groove.ts'
import { type BarRange, binds, enforce, type RuleInForce, type RuleTest } from '../../src/line/rule.ts'
import { AT_MOST_IN_A_ROW } from '../../src/line/rules/at-most-in-a-row.ts'
import { standingsOf } from '../../src/line/standing.ts'
import { parseCell } from '../../src/rhythm/cell.ts'
import { wayOf } from './hand.ts'

/** At most so many equal pitches in a row. */
export function atMostInARow(limit: number, strength: 'must' | number): RuleInForce {
  return enforce(AT_MOST_IN_A_ROW, limit, { strength })
}

/** A rule made for a test. */
export function ruleOf(id: string, test: RuleTest, strength: 'must' | number, bars?: readonly BarRange[]): RuleInForce {
  return { id, sentence: id, strength, test, ...(bars ? { bars } : {}) }
}

/** A cell in its notation, kept with pitches. */
export function keptBar(notation: string, pitches: readonly number[]): RuleTest {
  const read = parseCell(notation)
  if (!read.ok) throw new Error(read.message)
  return { looksAt: 'kept-bar', cell: read.cell, notation, pitches }
}

/** What a line pays for a rule that is a weight. */
export function priceOf(request: GrooveRequest, line: GrooveLine, rule: RuleInForce): number {
  return rule.strength === 'must' ? 0 : rule.strength * breachesOf(request, line, rule)
}

/** How often a line breaks a rule, read from its notes, its dead notes and the patterns of its bars. */
export function breachesOf(request: GrooveRequest, line: GrooveLine, rule: RuleInForce): number {
  const { form, instrument } = request
  const { test } = rule
  const { notes } = line
  const loop = request.loop || request.rules.some((other) => other.test.looksAt === 'loop')
  const places = standingsOf(
    form,
    notes.map((note) => note.slot),
    loop,
  ).map((standing, i) => {
    const { pitch, string, fret } = notes[i]!
    return { ...standing, pitch, string, fret, open: instrument.open }
  })
  const bars = form.bars.filter((bar) => binds(rule, bar.index) && bar.changes.some((change) => change.chord))
  const bound = (i: number) => binds(rule, notes[i]!.slot.barIndex)
  const pairs = notes.flatMap((_, i) => (i + 1 < notes.length ? [[i, i + 1]] : loop ? [[i, 0]] : []))
  switch (test.looksAt) {
    case 'several':
      return test.tests.reduce((sum, one) => sum + breachesOf(request, line, { ...rule, test: one }), 0)
    case 'note':
      return places.filter((place, i) => bound(i) && !test.allows(place)).length
    case 'pair':
      return pairs.filter(([i, j]) => bound(j!) && !test.allows(places[i!]!, places[j!]!)).length
    case 'hand':
      return pairs.filter(([i, j]) => {
        const [from, to] = [notes[i!]!, notes[j!]!]
        const ticks = (to.slot.startTick - from.slot.startTick + form.ticks) % form.ticks || form.ticks
        const seconds = (ticks / 480) * (60 / (request.tempoBpm ?? 100))
        const tenths = wayOf(instrument, from.hand, to.hand)
        return bound(j!) && !test.allows({ tenths, fromOpen: from.fret === 0, seconds })
      }).length
    case 'memory': {
      const counts: number[] = []
      for (let start = 0; start < (loop ? test.states : 1); start++) {
        let state = start
        let count = 0
        for (const [i, j] of pairs) {
          const step = test.step(state, places[i!]!, places[j!]!)
          state = step.state
          if (!step.kept && bound(j!)) count++
        }
        if (!loop || state === start || notes.length === 0) counts.push(count)
      }
      return Math.min(...counts)
    }
    case 'cell':
      return bars.filter((bar) => {
        const struck = notes.filter((note) => note.slot.barIndex === bar.index).map((note) => note.slot)
        const dead = line.ghosts.filter((slot) => slot.barIndex === bar.index)
        const onsets = [...struck, ...dead].map((slot) => ({
          tick: slot.startTick - bar.startTick,
          ticks: slot.ticks,
          ghost: slot.ghost,
          accent: slot.accent,
          length: slot.length,
          tiedOver: slot.pushed,
          continues: false,
        }))
        const { upper, lower } = bar.metre
        return !test.allows({ upper, lower, bars: 1, ticks: bar.ticks, onsets })
      }).length
    case 'patterns-in-force':
      return bars.filter((bar) => line.plan.patterns[bar.index] !== test.pattern).length
    case 'pattern': {
      const count = bars.filter((bar) => line.plan.patterns[bar.index] === test.pattern).length
      return Math.max(0, test.atLeast - count, count - (test.atMost ?? count))
    }
    case 'kept-bar':
      return form.bars.filter((bar) => {
        if (!binds(rule, bar.index)) return false
        const struck = notes.filter((note) => note.slot.barIndex === bar.index)
        const wanted = test.cell.onsets.filter((onset) => !onset.ghost && !onset.continues)
        return !(
          struck.length === wanted.length &&
          struck.every((note, i) => {
            const tick = note.slot.startTick - bar.startTick
            return tick === wanted[i]!.tick && note.pitch === test.pitches[i]
          })
        )
      }).length
    case 'repeats':
    case 'motif':
    case 'loop':
      return 0
  }
}
