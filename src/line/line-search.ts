import type { Form, FormBar } from '../chart/form.ts'
import type { Instrument } from '../music/instrument.ts'
import type { Key } from '../music/key.ts'
import { type Metre, tempoBeatTicks } from '../music/metre.ts'
import { TICKS_PER_QUARTER } from '../music/tick.ts'
import type { WeightedCell } from '../rhythm/plan.ts'
import { GrooveMortality } from './groove/dies.ts'
import { alternativesInGrooves, type GrooveRequest, groovesOf, type WeightedPattern } from './groove/groove.ts'
import type { GrooveTable } from './groove/table.ts'
import type { SearchedLine } from './line.ts'
import type { Pattern } from './pattern.ts'
import { pedalledForm } from './pedalled-form.ts'
import { repeatedBars } from './repeated-bars.ts'
import { type BarRange, type RuleInForce, takenApart } from './rule.ts'
import { KnownWalks } from './walk/known.ts'
import { type WalkPlan, walkPlan } from './walk/plan.ts'
import type { Surprise, WalkRequest } from './walk/problem.ts'
import { repeatedAlternatives } from './walk/repeats.ts'
import type { WalkTable } from './walk/table.ts'
import { walkDies, walking } from './walk/walk.ts'
import { type SlotAlternatives, walkAlternatives } from './walk/written.ts'

/** What lines are built from. */
export interface BuildRequest {
  /** as the chart has it; what rules put under its chords comes with the rules */
  readonly form: Form
  readonly key: Key | undefined
  readonly instrument: Instrument
  /** the feel's metre; other bars are played as their own metre is */
  readonly metre: Metre
  readonly tempo: { readonly bpm: number; readonly usualBpm: number }
  readonly way:
    | {
        readonly kind: 'walk'
        readonly table: WalkTable
        /** the cells for a bar */
        readonly cellsOf: (bar: FormBar) => readonly WeightedCell[]
        /** a player named them; absent: they are the feel's */
        readonly cellsChosen?: boolean
        /** absent: the notes are free */
        readonly patterns: readonly Pattern[] | undefined
      }
    | {
        readonly kind: 'groove'
        readonly table: GrooveTable
        readonly cells: readonly WeightedCell[]
        readonly patterns: readonly WeightedPattern[]
        readonly register: { readonly lowest: number; readonly highest: number }
      }
  readonly rules: readonly RuleInForce[]
  readonly loop: boolean
  readonly variations: number
  readonly difference: number
  /** lines are drawn by chance instead of being the cheapest */
  readonly surprise?: Surprise | undefined
  /** what earlier lines left behind; it changes how soon the answer is there, not the answer */
  readonly known?: KnownWalks
}

/** The frets that a line may use unless a rule speaks of higher ones. */
const FRETS = { from: 0, to: 12 }

function fretsOf({ instrument, rules }: BuildRequest): { readonly from: number; readonly to: number } {
  const top = Math.max(...instrument.open)
  const asked = rules.flatMap(({ reach }) => [reach?.fret ?? 0, (reach?.pitch ?? 0) - top])
  return { from: FRETS.from, to: Math.min(instrument.frets, Math.max(FRETS.to, ...asked)) }
}

/** How lines are searched for: the seam between building and the two searches. */
export interface Search {
  /** all lines known so far, a step at a time */
  lines(rules: readonly RuleInForce[]): Generator<readonly SearchedLine[], SearchResult>
  /** the bar where no line can go on under these rules; `undefined` if there is a line */
  dies(rules: readonly RuleInForce[]): number | undefined
  /** whether there is a line under these rules, by looking for one: what dies at no bar can still have none */
  finds(rules: readonly RuleInForce[]): boolean
  /** true if some bars have no line under these rules, whatever comes before and after */
  diesWithin(rules: readonly RuleInForce[], bars: BarRange): boolean
  /** what else each sounded slot of each line could have under these rules; `undefined` where that is not looked for */
  alternatives(rules: readonly RuleInForce[]): readonly (readonly SlotAlternatives[])[] | undefined
}

type SearchResult =
  | {
      readonly ok: true
      readonly lines: readonly SearchedLine[]
      readonly exhausted: boolean
      readonly repeatsDiffer?: boolean
    }
  | { readonly ok: false; readonly barIndex: number }

/** True where the line leads from its end to its beginning, because it was asked for or because a rule says so. */
export function isLooped(request: BuildRequest, rules: readonly RuleInForce[]): boolean {
  return request.loop || rules.some((rule) => rule.test.looksAt === 'loop')
}

/** What a search comes to in the end. */
function resultOf(steps: Generator<unknown, SearchResult>): SearchResult {
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

/** What a rule looks at that has a say in the plan of a walking line. */
const PLANNED: readonly string[] = ['cell', 'kept-bar', 'repeats', 'motif']

/** The search over one form. */
type SearchOver = Omit<Search, 'finds'>

/** The search for a request, under any rules. */
export function searchOf(request: BuildRequest): Search {
  // Rules that put a bass under chords change the form, so each set of them has a search of its own.
  const searches = new Map<Form, SearchOver>()
  const under = (rules: readonly RuleInForce[]): SearchOver => {
    const form = pedalledForm(request.form, rules)
    const search = searches.get(form) ?? searchOver({ ...request, form })
    searches.set(form, search)
    return search
  }
  return {
    lines: (rules) => under(rules).lines(takenApart(rules)),
    dies: (rules) => under(rules).dies(takenApart(rules)),
    finds: (rules) => {
      const steps = under(rules).lines(takenApart(rules))
      for (;;) {
        const step = steps.next()
        if (step.done) return step.value.ok
        if (step.value.length > 0) return true
      }
    },
    diesWithin: (rules, bars) => under(rules).diesWithin(takenApart(rules), bars),
    alternatives: (rules) => under(rules).alternatives(takenApart(rules)),
  }
}

/** The search over the request's form as it stands, for rules that look at one thing each. */
function searchOver(request: BuildRequest): SearchOver {
  const frets = fretsOf(request)
  const { form, instrument, way, variations, difference } = request
  if (way.kind === 'walk') {
    const known = request.known ?? new KnownWalks()
    // Few rules say anything about the plan, and a clash asks for many sets of the others.
    const plans = new Map<string, WalkPlan>()
    const planUnder = (rules: readonly RuleInForce[], loop: boolean, weighed: boolean): WalkPlan => {
      const aboutPlan = rules.filter(({ test }) => PLANNED.includes(test.looksAt))
      const key = `${loop} ${weighed} ${aboutPlan.map((rule) => known.identities.of(rule))}`
      const options = { chosen: way.cellsChosen === true, weighed }
      const plan = plans.get(key) ?? walkPlan(form, way.cellsOf, request.tempo, aboutPlan, loop, options)
      plans.set(key, plan)
      return plan
    }
    type Asked = WalkRequest | { readonly barIndex: number }
    const walkOf = (rules: readonly RuleInForce[], weighed: boolean): Asked => {
      const loop = isLooped(request, rules)
      const plan = planUnder(rules, loop, weighed)
      if (!plan.ok) return plan
      return {
        form,
        slots: plan.slots,
        planTerms: plan.terms,
        repeats: plan.repeats,
        repeatedBars: plan.repeatedBars,
        table: way.table,
        instrument,
        frets,
        patterns: way.patterns,
        rules,
        secondsPerTick: 60 / request.tempo.bpm / tempoBeatTicks(request.metre),
        loop,
        variations,
        difference,
        surprise: request.surprise,
      }
    }
    const deadIn = (asked: Asked, rules: readonly RuleInForce[]): number | undefined => {
      if ('barIndex' in asked) return asked.barIndex
      return rules.some(({ strength }) => strength === 'must') ? walkDies(asked, known) : undefined
    }
    // Musts alone decide whether there is a line: where the rhythm that weights ask for leaves none, they only charge.
    const askedOf = (rules: readonly RuleInForce[]): Asked => {
      const weigh = rules.some(({ strength, test }) => strength !== 'must' && test.looksAt === 'cell')
      const weighed = weigh ? walkOf(rules, true) : undefined
      if (weighed && deadIn(weighed, rules) === undefined) return weighed
      const bare = walkOf(rules, false)
      const dead = deadIn(bare, rules)
      return dead === undefined ? bare : { barIndex: dead }
    }
    return {
      *lines(rules) {
        const asked = askedOf(rules)
        return 'barIndex' in asked ? { ok: false, barIndex: asked.barIndex } : yield* walking(asked, known)
      },
      dies(rules) {
        const asked = walkOf(rules, false)
        return 'barIndex' in asked ? asked.barIndex : walkDies(asked, known)
      },
      diesWithin(rules, bars) {
        const asked = walkOf(rules, false)
        return 'barIndex' in asked || walkDies(asked, known, bars) !== undefined
      },
      alternatives(rules) {
        const asked = askedOf(rules)
        if ('barIndex' in asked) return undefined
        const { repeats } = asked
        const found = repeats && resultOf(walking(asked, known))
        if (repeats && found?.ok && !found.repeatsDiffer)
          return found.lines.map((line) => repeatedAlternatives(asked, line, repeats, known))
        return new Array<readonly SlotAlternatives[]>(variations).fill(walkAlternatives(asked, known))
      },
    }
  }
  const { table, cells, patterns, register } = way
  const repeatsUnder = (rules: readonly RuleInForce[]) => {
    if (rules.some(({ test }) => test.looksAt === 'repeats' && test.anew)) return undefined
    const firsts = repeatedBars(form, rules)
    return firsts.some((first, bar) => first !== bar) ? firsts : undefined
  }
  const common: Omit<GrooveRequest, 'rules' | 'variations' | 'loop'> = {
    form,
    table,
    metre: request.metre,
    cells,
    patterns,
    register,
    instrument,
    frets,
    tempoBpm: (request.tempo.bpm * tempoBeatTicks(request.metre)) / TICKS_PER_QUARTER,
    difference,
    surprise: request.surprise,
  }
  const grooveOf = (rules: readonly RuleInForce[]): GrooveRequest => {
    return { ...common, repeats: repeatsUnder(rules), rules, variations, loop: isLooped(request, rules) }
  }
  const { grooves } = request.known ?? new KnownWalks()
  const mortality = new GrooveMortality({ ...common, rules: [], variations: 1, loop: request.loop }, grooves)
  return {
    *lines(rules) {
      const steps = groovesOf(grooveOf(rules), grooves)
      const first = steps.next()
      if (first.done) return first.value
      // Where the first plans have no line, whether any has one is told sooner than it is found.
      const dead = first.value.length === 0 ? mortality.dies(rules) : undefined
      if (dead !== undefined) return { ok: false, barIndex: dead }
      yield first.value
      return yield* steps
    },
    dies: (rules) => mortality.dies(rules),
    diesWithin: (rules, bars) => mortality.diesWithin(rules, bars),
    alternatives: (rules) => alternativesInGrooves(grooveOf(rules), grooves),
  }
}
