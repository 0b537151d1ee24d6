import type { Form, FormBar } from '../chart/form.ts'
import type { Instrument } from '../music/instrument.ts'
import type { Key } from '../music/key.ts'
import { type Metre, tempoBeatTicks } from '../music/metre.ts'
import { planWalk, slotsOf, type WeightedCell } from '../rhythm/plan.ts'
import { smallestConflict } from '../search/conflict.ts'
import { explain } from './explain.ts'
import { buildGrooves, type GrooveRequest, groovesOf, type WeightedPattern } from './groove.ts'
import type { GrooveTable } from './groove-table.ts'
import type { Line, SearchedLine } from './line.ts'
import type { Pattern } from './pattern.ts'
import type { RuleInForce } from './rule.ts'
import { canWalk, type WalkRequest, walking } from './walk.ts'
import type { WalkTable } from './walk-table.ts'

/** What lines are built from. */
export interface BuildRequest {
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
}

/** Rules that cannot hold together, and where. */
export interface Clash {
  /** the sentences of a smallest set of rules that clash; empty where the vocabulary alone leaves no line */
  readonly rules: readonly string[]
  /** numbers of the played bars, from 1 */
  readonly bars: readonly number[]
  readonly message: string
  /** what would help, each by itself */
  readonly loosen: readonly string[]
}

/** Lines, cheapest first, or the rules that leave none. */
export type BuildResult =
  | {
      readonly ok: true
      readonly lines: readonly Line[]
      /** fewer lines than asked: no more of them differ enough, or looking for them was given up */
      readonly fewer: 'none-left' | 'given-up' | undefined
    }
  | { readonly ok: false; readonly clash: Clash }

/** The frets that a line may use unless a rule says otherwise. */
const FRETS = { from: 0, to: 12 }

/** The best lines over a form, each note explained. */
export function build(request: BuildRequest): BuildResult {
  const steps = building(request)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

/**
 * The same a step at a time: yields the lines known so far, the first one perhaps not yet the best (`provenWithin`), so that the
 * caller may show them, take breath, or give the rest up.
 */
export function* building(request: BuildRequest): Generator<readonly Line[], BuildResult> {
  const frets = { from: FRETS.from, to: Math.min(FRETS.to, request.instrument.frets) }
  const search = searchOf(request, frets)
  const { form, instrument, key, loop } = request
  // A line comes again with every step, only closer to its proof.
  const known = new Map<SearchedLine['notes'], Line>()
  const explained = (line: SearchedLine): Line => {
    const whole = known.get(line.notes) ?? explain(line, { form, instrument, key, loop })
    known.set(line.notes, whole)
    return { ...whole, provenWithin: line.provenWithin }
  }
  const steps = search.lines(request.rules)
  let step = steps.next()
  while (!step.done) {
    yield step.value.map(explained)
    step = steps.next()
  }
  const result = step.value
  if (!result.ok) return { ok: false, clash: clashOf(request, result.barIndex, search.canObey) }
  const lines = result.lines.map(explained)
  const fewer = lines.length === request.variations ? undefined : result.exhausted ? 'given-up' : 'none-left'
  return { ok: true, lines, fewer }
}

type SearchResult =
  | { readonly ok: true; readonly lines: readonly SearchedLine[]; readonly exhausted: boolean }
  | { readonly ok: false; readonly barIndex: number }

interface Search {
  lines(rules: readonly RuleInForce[]): Generator<readonly SearchedLine[], SearchResult>
  canObey(rules: readonly RuleInForce[]): boolean
}

function searchOf(request: BuildRequest, frets: { readonly from: number; readonly to: number }): Search {
  const { form, instrument, way, loop, variations, difference } = request
  if (way.kind === 'walk') {
    const plan = planWalk(form, way.cellsOf, request.tempo, loop)
    const common: Omit<WalkRequest, 'rules'> = {
      form,
      slots: slotsOf(form, plan.cells, loop),
      planTerms: plan.terms,
      table: way.table,
      instrument,
      frets,
      patterns: way.patterns,
      secondsPerTick: 60 / request.tempo.bpm / tempoBeatTicks(request.metre),
      loop,
      variations,
      difference,
    }
    return {
      lines: (rules) => walking({ ...common, rules }),
      canObey: (rules) => canWalk({ ...common, rules }),
    }
  }
  const { table, cells, patterns, register } = way
  const common: Omit<GrooveRequest, 'rules' | 'variations'> = {
    form,
    table,
    metre: request.metre,
    cells,
    patterns,
    register,
    instrument,
    frets,
    loop,
    difference,
  }
  return {
    lines: (rules) => groovesOf({ ...common, rules, variations }),
    canObey: (rules) => buildGrooves({ ...common, rules, variations: 1 }).ok,
  }
}

/** The smallest set of musts that clash, as sentences. Only musts can. */
function clashOf(request: BuildRequest, barIndex: number, canObey: Search['canObey']): Clash {
  const musts = request.rules.filter((rule) => rule.strength === 'must')
  const blamed = smallestConflict(musts, canObey)
  const bar = request.form.bars[barIndex]!.number
  if (!blamed) {
    // The rules hold together; what was not found is a way round.
    const message = `No line was found that leads from bar ${bar} back to the beginning of the loop.`
    return { rules: [], bars: [bar], message, loosen: ['play it once, not as a loop'] }
  }
  const rules = blamed.map((rule) => `${rule.sentence} (must)`)
  const message =
    rules.length === 0
      ? `No line at bar ${bar}: the cells and patterns chosen cannot be played there.`
      : rules.length === 1
        ? `No line at bar ${bar}: "${rules[0]}" cannot hold there.`
        : `No line at bar ${bar}: ${rules.map((rule) => `"${rule}"`).join(' and ')} cannot hold together.`
  return {
    rules,
    bars: [bar],
    message,
    loosen: blamed.map((rule) => `make "${rule.sentence}" a weight`),
  }
}
