import type { GrooveRequest } from '../../src/line/groove/groove.ts'
import type { BarRange, RuleInForce, RuleTest } from '../../src/line/rule.ts'
import { keptBar, ruleOf } from './groove-rules.ts'

const within = (from: number, to: number): readonly BarRange[] => [{ from, to }]

/** A rule of any kind, sensible or not. */
export function randomRule(random: (below: number) => number, request: GrooveRequest, number: number): RuleInForce {
  const pick = <T>(rows: readonly T[]): T => rows[random(rows.length)]!
  const bars = request.form.bars.length
  const range = (): readonly BarRange[] | undefined => {
    if (random(2) === 0) return undefined
    const from = random(bars)
    return within(from, from + 1 + random(bars - from))
  }
  const low = 26 + random(14)
  const high = low + 3 + random(22)
  const fret = random(8)
  const size = 2 + random(12)
  const states = 1 + random(3)
  const pattern = pick(request.patterns).pattern.id
  const tests: readonly RuleTest[] = [
    { looksAt: 'note', allows: ({ pitch }) => pitch >= low && pitch <= high },
    { looksAt: 'note', allows: (note) => note.fret >= fret && note.fret <= fret + 5 },
    { looksAt: 'note', allows: (note) => note.fret > 0 },
    { looksAt: 'note', allows: (note) => !note.arrives || note.pitch % 12 === note.chord.bassPc },
    { looksAt: 'note', allows: (note) => !note.opensPhrase || note.pitch >= 33 },
    { looksAt: 'note', allows: (note) => note.pitch >= 28 + 8 * note.phraseShare },
    { looksAt: 'note', allows: (note) => !(note.first || note.last) || note.pitch % 12 === note.chord.bassPc },
    { looksAt: 'pair', allows: (from, to) => Math.abs(from.pitch - to.pitch) <= size },
    { looksAt: 'pair', allows: (from, to) => !to.arrives || Math.abs(from.pitch - to.pitch) <= 2 },
    { looksAt: 'pair', allows: (from, to) => !from.leads || from.pitch !== to.pitch },
    {
      looksAt: 'memory',
      states,
      step: (state, from, to) =>
        from.pitch === to.pitch
          ? { state: Math.min(state + 1, states - 1), kept: state + 1 < states }
          : { state: 0, kept: true },
    },
    {
      looksAt: 'memory',
      states: 3,
      step: (state, from, to) => {
        const way = Math.sign(to.pitch - from.pitch)
        return { state: way + 1, kept: !(state === way + 1 && Math.abs(to.pitch - from.pitch) > 5) }
      },
    },
    { looksAt: 'hand', allows: ({ tenths, fromOpen, seconds }) => fromOpen || tenths <= 900 || seconds > 0.4 },
    { looksAt: 'pattern', pattern, atLeast: random(3), atMost: pick([undefined, 4, 6]) },
    { looksAt: 'pattern', pattern, atLeast: 0, atMost: random(3) },
    { looksAt: 'patterns-in-force', pattern },
    { looksAt: 'cell', allows: (cell) => cell.onsets.every((onset) => !onset.ghost) },
    { looksAt: 'cell', allows: (cell) => cell.onsets.every((onset) => !onset.tiedOver) },
    keptBar(pick(['1 3', '1 2 3 4', '1 2& 4', '(1)']), [pick([33, 36]), pick([40, 38]), 43, 45]),
    { looksAt: 'loop' },
  ]
  const test = pick(tests)
  const strength = random(3) === 0 ? 'must' : 1 + random(6)
  if (test.looksAt === 'kept-bar') {
    const bar = random(bars)
    const count = test.cell.onsets.length
    return ruleOf(`rule-${number}`, { ...test, pitches: test.pitches.slice(0, count) }, strength, within(bar, bar + 1))
  }
  return ruleOf(`rule-${number}`, test, strength, range())
}
