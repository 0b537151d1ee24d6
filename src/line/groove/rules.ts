import type { Form } from '../../chart/form.ts'
import type { Pitch } from '../../music/pitch.ts'
import type { WeightedCell } from '../../rhythm/plan.ts'
import { IMPOSSIBLE } from '../../search/trellis.ts'
import type { CostTerm } from '../line.ts'
import { binds, type Candidate, type RuleInForce, type RuleTest, type Sounding } from '../rule.ts'
import { type Phrase, phrasesOf, type Standing, standingKey } from '../standing.ts'
import type { LaidBar } from './bar.ts'
import { chargesOf } from './charge.ts'
import type { BarContext } from './context.ts'
import type { GrooveNeck } from './neck.ts'
import { cellOfBar, headPatternOf, standingIn } from './standing.ts'

/** A slot as rules see it. */
export interface RuledPlace {
  readonly standing: Standing
  /** equal for places that rules about neighbours cannot tell apart */
  readonly key: number
  /** by grip, as far as it was asked for: what rules about single notes charge */
  readonly points: number[]
  /** by pitch, as far as it was asked for */
  readonly soundings: Sounding[]
  /** a note in it, on whichever grip is asked for */
  readonly note: { -readonly [Key in keyof Candidate]: Candidate[Key] }
  readonly noteRules: readonly RuleOf<'note'>[]
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

const PITCHES = 128
const UNKNOWN = -1
const FORBIDDEN = -2

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
  readonly #loop: boolean
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
  /** by the keys of two places: numbers of verdicts on their pitches */
  readonly #judged = new Map<number, Int16Array>()
  readonly #verdicts: Judged[] = []
  readonly #verdictOf = new Map<string, number>()
  readonly #joined = new Map<Int32Array, Map<number, Int32Array>>()
  readonly #handTables = new Map<string, Int32Array>()

  /** @param options.forget  what weights remember is not followed at all */
  constructor(
    form: Form,
    rules: readonly RuleInForce[],
    options: { readonly loop: boolean; readonly secondsPerTick: number; readonly forget: boolean },
  ) {
    const { loop, secondsPerTick, forget } = options
    this.#form = form
    this.#loop = loop
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
      const most = rule.strength === 'must' ? MOST_MUST_STATES : forget ? 0 : MOST_STATES
      if (states * rule.test.states > most) continue
      states *= rule.test.states
      followed.push(rule)
    }
    this.#memories = followed
    this.states = states
    this.judgeSteps = this.#pairs.length + followed.length + this.#hands.length > 0
  }

  /** What rules about notes, neighbours and the hand charge a line, by note; `undefined` if a must is broken. */
  charge(notes: Parameters<typeof chargesOf>[2], neck: GrooveNeck): readonly (readonly CostTerm[])[] | undefined {
    const options = { loop: this.#loop, neck, secondsPerTick: this.#secondsPerTick }
    return chargesOf(this.#all, this.#form, notes, options)
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
  place(laid: LaidBar, index: number): RuledPlace {
    const standing = standingIn(this.#form, this.#phrases, laid, index, this.#loop)
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
    const place: RuledPlace = {
      standing,
      key: this.#keyOf(standing),
      points: [],
      soundings: [],
      note: { ...standing, pitch: 0, string: 0, fret: 0, open: [] },
      noteRules: this.#notes.filter((rule) => binds(rule, slot.barIndex)),
    }
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

  /** What rules about single notes charge a grip in a place; IMPOSSIBLE if a must forbids it. */
  pointsOf(place: RuledPlace, grip: number, neck: GrooveNeck): number {
    const known = place.points[grip]
    if (known !== undefined) return known
    const { note } = place
    const { pitch, string, fret } = neck.grips[grip]!
    note.pitch = pitch
    note.string = string
    note.fret = fret
    note.open = neck.open
    let sum = 0
    for (const rule of place.noteRules) {
      if (rule.test.allows(note)) continue
      sum = rule.strength === 'must' ? IMPOSSIBLE : sum + rule.strength
      if (sum >= IMPOSSIBLE) break
    }
    place.points[grip] = sum
    return sum
  }

  /** What rules about neighbours say of two pitches; `undefined` if a must forbids them. */
  judge(from: RuledPlace, x: Pitch, to: RuledPlace, y: Pitch): Judged | undefined {
    const key = from.key * 65536 + to.key
    let table = this.#judged.get(key)
    if (!table) {
      table = new Int16Array(PITCHES * PITCHES).fill(UNKNOWN)
      this.#judged.set(key, table)
    }
    const at = x * PITCHES + y
    if (table[at] === UNKNOWN) table[at] = this.#judgeAnew(from, x, to, y)
    return this.#verdicts[table[at]!]
  }

  /** The number of a verdict on two pitches. */
  #judgeAnew(from: RuledPlace, x: Pitch, to: RuledPlace, y: Pitch): number {
    from.soundings[x] ??= { ...from.standing, pitch: x }
    to.soundings[y] ??= { ...to.standing, pitch: y }
    const [one, other] = [from.soundings[x]!, to.soundings[y]!]
    const { barIndex } = other.slot
    let points = 0
    for (const rule of this.#pairs) {
      if (!binds(rule, barIndex) || rule.test.allows(one, other)) continue
      if (rule.strength === 'must') return FORBIDDEN
      points += rule.strength
    }
    const next = new Array<number>(this.states).fill(0)
    const statePoints = new Array<number>(this.states).fill(0)
    let stride = 1
    for (const { test, strength, ...rule } of this.#memories) {
      const bound = binds(rule, barIndex)
      const steps = Array.from({ length: test.states }, (_, state) => test.step(state, one, other))
      for (let joint = 0; joint < this.states; joint++) {
        if (next[joint]! < 0) continue
        const { state, kept } = steps[Math.floor(joint / stride) % test.states]!
        next[joint] = !kept && bound && strength === 'must' ? -1 : next[joint]! + state * stride
        if (!kept && bound && strength !== 'must') statePoints[joint]! += strength
      }
      stride *= test.states
    }
    if (next.every((state) => state < 0)) return FORBIDDEN
    const key = `${points} ${next.join()} ${statePoints.join()}`
    const known = this.#verdictOf.get(key)
    if (known !== undefined) return known
    this.#verdicts.push({ points, next, statePoints })
    this.#verdictOf.set(key, this.#verdicts.length - 1)
    return this.#verdicts.length - 1
  }

  /**
   * Costs from grip to grip with what rules about neighbours and the hand add, whatever they remember; IMPOSSIBLE where a must forbids
   * it.
   */
  joined(
    from: RuledPlace,
    to: RuledPlace,
    neck: GrooveNeck,
    bits: number,
    ticks: number,
    barIndex: number,
  ): Int32Array {
    const reach = this.reach(neck, bits, ticks, barIndex)
    let tables = this.#joined.get(reach)
    if (!tables) {
      tables = new Map()
      this.#joined.set(reach, tables)
    }
    const key = from.key * 65536 + to.key
    const known = tables.get(key)
    if (known) return known
    const { grips } = neck
    const table = new Int32Array(reach.length).fill(IMPOSSIBLE)
    for (const [i, { pitch: x }] of grips.entries()) {
      for (const [j, { pitch: y }] of grips.entries()) {
        const judged = this.judge(from, x, to, y)
        const remembered = this.states === 1 ? judged?.statePoints[0] : 0
        if (judged) table[i * grips.length + j] = reach[i * grips.length + j]! + judged.points + remembered!
      }
    }
    tables.set(key, table)
    return table
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
    const { grips, tenths } = neck
    const seconds = ticks * this.#secondsPerTick
    const table = Int32Array.from(plain, (cost, at) => {
      const [from, to] = [grips[Math.floor(at / grips.length)]!, grips[at % grips.length]!]
      const way = Math.abs(tenths[to.hand]! - tenths[from.hand]!)
      const move = { tenths: way, fromOpen: from.fret === 0, seconds }
      const broken = bound.filter((rule) => !rule.test.allows(move))
      if (broken.some((rule) => rule.strength === 'must')) return IMPOSSIBLE
      return broken.reduce((sum, rule) => sum + Number(rule.strength), cost)
    })
    this.#handTables.set(key, table)
    return table
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

  /** Whether what a bar was charged for not being kept falls away, since its notes turned out to be those that are kept. */
  isKeptAfterAll(
    id: string,
    barIndex: number,
    notes: readonly {
      readonly slot: { readonly startTick: number; readonly barIndex: number }
      readonly pitch: Pitch
    }[],
  ): boolean {
    const struck = notes.filter((note) => note.slot.barIndex === barIndex)
    const start = this.#form.bars[barIndex]!.startTick
    return this.keptBars.some(({ test, ...rule }) => {
      if (rule.id !== id || !binds(rule, barIndex)) return false
      const onsets = test.cell.onsets.filter((onset) => !onset.ghost && !onset.continues)
      const isSame = (note: (typeof struck)[number], at: number): boolean =>
        note.slot.startTick - start === onsets[at]!.tick && note.pitch === test.pitches[at]
      return onsets.length === struck.length && struck.every(isSame)
    })
  }

  /** The cells that musts offer for a bar, each once. */
  offersIn({ index, map }: BarContext): readonly WeightedCell[] {
    const offers = this.#bars.flatMap(({ test, strength, ...rule }) =>
      test.looksAt === 'cell' && strength === 'must' && binds(rule, index) ? (test.offers?.(map.metre) ?? []) : [],
    )
    return [...new Map(offers.map((offer) => [offer.id, offer])).values()]
  }

  /** Whether a rule about whole bars binds a bar. */
  bindsBar(context: BarContext): boolean {
    return [...this.#bars, ...this.keptBars].some((rule) => binds(rule, context.index))
  }

  /** Whether rules that count and are musts may still be kept, whichever way is taken in each bar. */
  canCount(barsOf: () => readonly (readonly LaidBar[])[]): boolean {
    if (this.#tallied.length === 0) return true
    const bars = barsOf()
    return this.#tallied.every((rule) => {
      if (rule.strength !== 'must') return true
      const { pattern, atLeast, atMost } = rule.test
      const bound = bars.filter((_, index) => binds(rule, index))
      const heads = bound.map((ways) => ways.map((way) => headPatternOf(way) === pattern))
      const most = heads.filter((ways) => ways.includes(true)).length
      const least = heads.filter((ways) => ways.length > 0 && !ways.includes(false)).length
      return most >= atLeast && (atMost === undefined || least <= atMost)
    })
  }

  /** Which pattern makes the head of a bar may matter. */
  get asksForPatterns(): boolean {
    return this.#tallied.length > 0 || this.#bars.some((rule) => rule.test.looksAt !== 'cell')
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
