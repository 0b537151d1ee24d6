import type { Form } from '../chart/form.ts'
import type { Pitch } from '../music/pitch.ts'
import { IMPOSSIBLE } from '../search/trellis.ts'
import type { LaidBar } from './groove-bar.ts'
import type { BarContext } from './groove-context.ts'
import type { AddPoints, Grip, GrooveNeck } from './groove-neck.ts'
import { cellOfBar, headPatternOf, standingIn } from './groove-standing.ts'
import type { CostTerm } from './line.ts'
import { binds, type RuleInForce, type RuleTest } from './rule.ts'
import { type Phrase, phrasesOf, type Standing, standingKey } from './standing.ts'

/** A slot as rules see it. */
export interface RuledPlace {
  readonly standing: Standing
  /** equal for places that rules about neighbours cannot tell apart */
  readonly key: number
  /** by grip: what rules about single notes charge, IMPOSSIBLE where a must forbids it */
  readonly points: Int32Array
}

/** What rules say of a pair of neighbours. */
export interface Judged {
  /** of the rules that have no memory */
  readonly points: number
  /** for each state of the memories the next one; -1 where a must forbids it */
  readonly next: readonly number[]
  readonly statePoints: readonly number[]
}

/** States of all memories together that the search follows; what weights remember beyond that is charged when a line is found. */
const MOST_STATES = 48

/** The states of musts are followed at any rate, up to so many. */
const MOST_MUST_STATES = 512

/** Bars that count for a rule in this bar and all after it, of each such rule, folded into one number. */
export type Tally = number

type TestOf<Kind extends RuleTest['looksAt']> = Extract<RuleTest, { readonly looksAt: Kind }>
type RuleOf<Kind extends RuleTest['looksAt']> = RuleInForce & { readonly test: TestOf<Kind> }

/** The rules in force over a groove, sorted by what they look at, their answers remembered. */
export class GrooveRules {
  readonly isEmpty: boolean
  /** joint states of the memories that the search follows */
  readonly states: number
  /** rules look at neighbours, also over silence and round a loop */
  readonly judgeSteps: boolean
  /** every bar is laid in its own right where one of these binds it */
  readonly keptBars: readonly RuleOf<'kept-bar'>[]
  readonly #all: readonly RuleInForce[]
  readonly #form: Form
  readonly #secondsPerTick: number
  readonly #notes: readonly RuleOf<'note'>[]
  readonly #pairs: readonly RuleOf<'pair'>[]
  readonly #memories: readonly RuleOf<'memory'>[]
  readonly #hands: readonly RuleOf<'hand'>[]
  readonly #bars: readonly (RuleOf<'cell'> | RuleOf<'patterns-in-force'>)[]
  readonly #tallied: readonly (RuleOf<'pattern'> & { readonly radix: number })[]
  readonly #phrases: readonly Phrase[]
  readonly #places = new Map<string, RuledPlace>()
  readonly #keys = new Map<string, number>()
  readonly #judged = new Map<number, Map<number, Judged | undefined>>()
  readonly #handTables = new Map<string, Int32Array>()

  constructor(form: Form, rules: readonly RuleInForce[], secondsPerTick: number) {
    this.#form = form
    this.#all = rules
    this.#secondsPerTick = secondsPerTick
    this.#phrases = phrasesOf(form.bars)
    this.isEmpty = rules.length === 0
    this.#notes = rules.filter((rule) => isOf(rule, 'note'))
    this.#pairs = rules.filter((rule) => isOf(rule, 'pair'))
    this.#hands = rules.filter((rule) => isOf(rule, 'hand'))
    this.#bars = rules.filter((rule) => isOf(rule, 'cell') || isOf(rule, 'patterns-in-force'))
    this.keptBars = rules.filter((rule) => isOf(rule, 'kept-bar'))
    const bars = form.bars.length
    this.#tallied = rules
      .filter((rule) => isOf(rule, 'pattern'))
      .map((rule) => {
        const { atLeast, atMost } = rule.test
        const most = atMost === undefined ? atLeast : rule.strength === 'must' ? Math.max(atLeast, atMost + 1) : bars
        return { ...rule, radix: Math.min(most, bars) + 1 }
      })
    const memories = rules.filter((rule) => isOf(rule, 'memory'))
    const followed: RuleOf<'memory'>[] = []
    let states = 1
    for (const rule of [...memories].sort((a, b) => rankOf(a) - rankOf(b))) {
      const most = rule.strength === 'must' ? MOST_MUST_STATES : MOST_STATES
      if (states * rule.test.states > most) continue
      states *= rule.test.states
      followed.push(rule)
    }
    this.#memories = followed
    this.states = states
    this.judgeSteps = this.#pairs.length + followed.length + this.#hands.length > 0
  }

  /** Which rules bind a bar, and what of its place in the form they may look at: bars with equal keys are alike to them. */
  keyOfBar(index: number): string {
    if (this.isEmpty) return ''
    const { from, to } = this.#phrases[index]!
    const bound = this.#all.map((rule) => Number(binds(rule, index))).join('')
    // Only a rule about one note, made for some bars, may look at the time itself.
    const own = this.#notes.some((rule) => rule.bars && binds(rule, index)) ? index : ''
    return `${bound} ${index - from}/${to - from} ${index === 0} ${index === this.#form.bars.length - 1} ${own}`
  }

  /** A struck slot of a laid bar as rules see it. */
  place(laid: LaidBar, index: number, neck: GrooveNeck, loop: boolean): RuledPlace {
    const standing = standingIn(this.#form, this.#phrases, laid, index, loop)
    const { slot, phraseShare } = standing
    const key = [
      standingKey(standing),
      laid.context.index,
      slot.startTick,
      slot.ticks,
      slot.cell,
      slot.accent,
      slot.length,
      slot.pushed,
      phraseShare,
    ].join(' ')
    const known = this.#places.get(key)
    if (known) return known
    const points = Int32Array.from(neck.grips, (grip) => {
      let sum = 0
      const kept = this.noteTerms(standing, grip, neck, (_, more) => {
        sum += more
      })
      return kept ? sum : IMPOSSIBLE
    })
    const place = { standing, key: this.#keyOf(standing), points }
    this.#places.set(key, place)
    return place
  }

  #keyOf(standing: Standing): number {
    const bound = [...this.#pairs, ...this.#memories].map((rule) => Number(binds(rule, standing.slot.barIndex)))
    const key = `${standingKey(standing)} ${bound.join('')}`
    const known = this.#keys.get(key) ?? this.#keys.size
    this.#keys.set(key, known)
    return known
  }

  /** What rules about single notes ask of a grip; `false` if a must forbids it. */
  noteTerms(standing: Standing, grip: Grip, neck: GrooveNeck, add: AddPoints): boolean {
    for (const rule of this.#notes) {
      if (!binds(rule, standing.slot.barIndex)) continue
      const { pitch, string, fret } = grip
      if (rule.test.allows({ ...standing, pitch, string, fret, open: neck.open })) continue
      if (rule.strength === 'must') return false
      add(rule.id, rule.strength)
    }
    return true
  }

  /** What rules about neighbours say of two pitches; `undefined` if a must forbids them. */
  judge(from: RuledPlace, x: Pitch, to: RuledPlace, y: Pitch): Judged | undefined {
    const key = from.key * 65536 + to.key
    let table = this.#judged.get(key)
    if (!table) {
      table = new Map()
      this.#judged.set(key, table)
    }
    const pair = x * 128 + y
    if (table.has(pair)) return table.get(pair)
    const judged = this.judgeAnew(from.standing, x, to.standing, y)
    table.set(pair, judged)
    return judged
  }

  /** The same, with each term named; `state` absent: of a rule without a memory. */
  judgeAnew(
    from: Standing,
    x: Pitch,
    to: Standing,
    y: Pitch,
    note?: (rule: string, points: number, state?: number) => void,
  ): Judged | undefined {
    const one = { ...from, pitch: x }
    const other = { ...to, pitch: y }
    let points = 0
    for (const rule of this.#pairs) {
      if (!binds(rule, to.slot.barIndex) || rule.test.allows(one, other)) continue
      if (rule.strength === 'must') return undefined
      points += rule.strength
      note?.(rule.id, rule.strength)
    }
    const next = new Array<number>(this.states).fill(0)
    const statePoints = new Array<number>(this.states).fill(0)
    let stride = 1
    for (const { id, test, strength, ...rule } of this.#memories) {
      const bound = binds(rule, to.slot.barIndex)
      const steps = Array.from({ length: test.states }, (_, state) => test.step(state, one, other))
      for (let joint = 0; joint < this.states; joint++) {
        if (next[joint]! < 0) continue
        const { state, kept } = steps[Math.floor(joint / stride) % test.states]!
        if (!kept && bound && strength === 'must') {
          next[joint] = -1
          continue
        }
        next[joint]! += state * stride
        if (kept || !bound) continue
        statePoints[joint]! += Number(strength)
        note?.(id, Number(strength), joint)
      }
      stride *= test.states
    }
    return { points, next, statePoints }
  }

  /** Costs from grip to grip, by `bits` of the reach, with what rules about the hand add over a time. */
  reach(neck: GrooveNeck, bits: number, ticks: number, barIndex: number): Int32Array {
    const plain = neck.reach(bits)
    if (this.#hands.length === 0) return plain
    const bound = this.#hands.filter((rule) => binds(rule, barIndex))
    if (bound.length === 0) return plain
    const key = `${bits} ${ticks} ${bound.map((rule) => this.#hands.indexOf(rule)).join()}`
    const known = this.#handTables.get(key)
    if (known) return known
    const { grips } = neck
    const table = Int32Array.from(plain, (cost, at) => {
      let sum = cost
      const [from, to] = [grips[Math.floor(at / grips.length)]!, grips[at % grips.length]!]
      const kept = this.handTerms(from, to, ticks, barIndex, (_, points) => {
        sum += points
      })
      return kept ? sum : IMPOSSIBLE
    })
    this.#handTables.set(key, table)
    return table
  }

  /** What rules about the hand ask of a step; `false` if a must forbids it. */
  handTerms(from: Grip, to: Grip, ticks: number, barIndex: number, add: AddPoints): boolean {
    const move = {
      frets: Math.abs(to.hand - from.hand),
      fromOpen: from.fret === 0,
      seconds: ticks * this.#secondsPerTick,
    }
    for (const rule of this.#hands) {
      if (!binds(rule, barIndex) || rule.test.allows(move)) continue
      if (rule.strength === 'must') return false
      add(rule.id, rule.strength)
    }
    return true
  }

  /** What rules about whole bars charge a laid bar; `undefined` if a must forbids it. */
  barTerms(laid: LaidBar): readonly CostTerm[] | undefined {
    const terms: CostTerm[] = []
    for (const rule of [...this.#bars, ...this.keptBars]) {
      const { test } = rule
      const { index, parts } = laid.context
      if (!binds(rule, index)) continue
      if (test.looksAt === 'kept-bar') {
        if (laid.kept === test) continue
      } else if (parts.length === 0) continue
      else if (test.looksAt === 'cell') {
        if (test.allows(cellOfBar(laid))) continue
      } else if (headPatternOf(laid) === test.pattern) continue
      if (rule.strength === 'must') return undefined
      terms.push({ rule: rule.id, points: rule.strength })
    }
    return terms
  }

  /** Whether a rule about whole bars binds a bar. */
  bindsBar(context: BarContext): boolean {
    return [...this.#bars, ...this.keptBars].some((rule) => binds(rule, context.index))
  }

  /** A tally with one more bar before it. */
  tallied(tally: Tally, bar: LaidBar, barIndex: number): Tally {
    if (this.#tallied.length === 0) return tally
    let sum = tally
    let stride = 1
    for (const rule of this.#tallied) {
      const counts = binds(rule, barIndex) && headPatternOf(bar) === rule.test.pattern
      const digit = Math.floor(tally / stride) % rule.radix
      if (counts && digit + 1 < rule.radix) sum += stride
      stride *= rule.radix
    }
    return sum
  }

  /** What rules that count charge a whole line; `undefined` if a must forbids it. */
  tallyTerms(tally: Tally): readonly CostTerm[] | undefined {
    const terms: CostTerm[] = []
    let stride = 1
    for (const { id, strength, test, radix } of this.#tallied) {
      const count = Math.floor(tally / stride) % radix
      const breaches = Math.max(0, test.atLeast - count, count - (test.atMost ?? count))
      if (breaches > 0 && strength === 'must') return undefined
      if (breaches > 0) terms.push({ rule: id, points: breaches * Number(strength) })
      stride *= radix
    }
    return terms
  }

  /** The same as a sum; IMPOSSIBLE if a must forbids it. */
  tallyPoints(tally: Tally): number {
    if (this.#tallied.length === 0) return 0
    return this.tallyTerms(tally)?.reduce((sum, term) => sum + term.points, 0) ?? IMPOSSIBLE
  }
}

function isOf<Kind extends RuleTest['looksAt']>(rule: RuleInForce, kind: Kind): rule is RuleOf<Kind> {
  return rule.test.looksAt === kind
}

/** Memories are followed musts first, then the dearest weights. */
function rankOf({ strength }: RuleInForce): number {
  return strength === 'must' ? Number.NEGATIVE_INFINITY : -strength
}
