import type { Pitch } from '../../music/pitch.ts'
import type { Tick } from '../../music/tick.ts'
import { IMPOSSIBLE } from '../../search/trellis.ts'
import { type BarRange, binds, isAboutWholeLine, type RuleInForce } from '../rule.ts'
import { type LaidBar, layKeptBar } from './bar.ts'
import { KnownGrooves } from './known.ts'
import { KnownTests, Musts, type Notes, type Stand, Stands } from './musts.ts'
import { OTHER_BARS } from './plan.ts'
import { DIVE_STANCES, type Problem, problemOf } from './problem.ts'
import type { GrooveRequest } from './request.ts'
import { rhythmsOf, waysOf } from './rhythms.ts'
import { GrooveRules, type Tally } from './rules.ts'
import { GrooveSearch } from './search.ts'
import { HANDS_ON, type HandsOn, handedOn, takesPush } from './standing.ts'
import type { GrooveTable } from './table.ts'

/** Lines on their way at a bar line: the last notes that they may have. */
interface Front {
  /** `undefined`: no note yet */
  readonly last: { readonly stand: Stand; readonly notes: Notes; readonly since: Tick } | undefined
  readonly handed: HandsOn
  readonly tally: Tally
}

/** How lines begin: with anything remembered, with what was handed over, with one note in a state. */
interface Beginning {
  readonly anyState: boolean
  readonly handed: readonly HandsOn[]
  readonly only?: Notes
}

/** Joint states of memories that are followed: in single bars, and in a plan. */
const REMEMBERED = { bars: 48, plans: 512 }

/** Plans that are looked at before bars are looked at with all that rules remember. */
const FIRST_PLANS = 6

/** A plan's rhythm: for each bar, what it may be. */
type Rhythm = readonly (readonly LaidBar[])[]

/** For a form and a vocabulary, all that may be played, where rules ask for patterns with each pattern. */
interface Ground {
  readonly problem: Problem
  readonly asksForPatterns: boolean
  readonly stands: Stands
  /** by bar, whatever the plan */
  ways: Rhythm | undefined
  /** a rhythm of each plan, as they are asked for */
  readonly rhythms: Rhythm[]
  readonly further: Generator<Rhythm, undefined>
  /** by bar, what may take the place of what rules forbid */
  readonly others: LaidBar[][]
}

const undead = new WeakMap<GrooveTable, GrooveTable>()

/** The same table each time: a bar that a rule binds has the dead notes of its cells only, and elsewhere musts see none. */
function withoutDeadNotes(table: GrooveTable): GrooveTable {
  if (!table.ghosts) return table
  const known = undead.get(table) ?? { ...table, ghosts: undefined }
  undead.set(table, known)
  return known
}

/**
 * Whether there is a line at all under some rules: musts alone decide, and notes are free, so the rhythm and the pitches are all there is to
 * look at. First bars are looked at with all their ways at once, whatever the plan; then plans, until one can be played.
 */
export class GrooveMortality {
  readonly #request: GrooveRequest
  readonly #known: KnownGrooves
  readonly #grounds = new Map<string, Ground>()
  #tests: KnownTests | undefined
  #bare: number | 'lives' | undefined

  /**
   * @param request  its rules are not looked at
   * @param known    what earlier grooves left behind; it changes no answer
   */
  constructor(request: GrooveRequest, known = new KnownGrooves()) {
    this.#known = known
    this.#request = {
      ...request,
      table: withoutDeadNotes(request.table),
      surprise: undefined,
      variations: 1,
      repeats: undefined,
    }
  }

  /** The bar where no line can go on under some rules; `undefined` if there is a line. */
  dies(rules: readonly RuleInForce[]): number | undefined {
    const musts = mustsOf(rules)
    if (musts.length === 0) {
      this.#bare ??= searchDies({ ...this.#request, rules: [] }, this.#known) ?? 'lives'
      return this.#bare === 'lives' ? undefined : this.#bare
    }
    const ground = this.#groundOf(musts)
    const dead = this.#deadBar(ground, musts, undefined, 1)
    if (dead !== undefined) return dead
    const inPlan = this.#inPlans(ground, musts, 0, FIRST_PLANS)
    if (inPlan === 'lives') return undefined
    const deadRemembering = this.#deadBar(ground, musts, undefined, REMEMBERED.bars)
    if (deadRemembering !== undefined) return deadRemembering
    const inRest = this.#inPlans(ground, musts, FIRST_PLANS, Number.POSITIVE_INFINITY)
    if (inRest === 'lives') return undefined
    return inPlan !== 'unknown' && inRest !== 'unknown'
      ? Math.max(inPlan, inRest)
      : searchDies({ ...this.#request, rules }, this.#known)
  }

  /** True if some bars have no line under these rules, whatever comes before and after. */
  diesWithin(rules: readonly RuleInForce[], bars: BarRange): boolean {
    const musts = mustsOf(rules)
    return this.#deadBar(this.#groundOf(musts), musts, bars, REMEMBERED.bars) !== undefined
  }

  /** The bar where lines die even if each bar is made by itself. */
  #deadBar(
    ground: Ground,
    musts: readonly RuleInForce[],
    bars: BarRange | undefined,
    remember: number,
  ): number | undefined {
    const { form } = this.#request
    const rules = this.#rulesOf(musts, ground.problem)
    const way = new Musts(this.#testsOf(ground), musts, secondsPerTick(this.#request), { remember, pitches: 'all' })
    const forward = new Forward(ground.stands, rules, way, bars === undefined)
    const all: Beginning = { anyState: true, handed: [HANDS_ON.nothing, HANDS_ON.push, HANDS_ON.due] }
    const start: Beginning = { anyState: ground.problem.loop, handed: [HANDS_ON.nothing] }
    ground.ways ??= waysOf(ground.problem, ground.asksForPatterns)
    let fronts = forward.begin(bars && bars.from > 0 ? all : start)
    for (let index = bars?.from ?? 0; index < (bars?.to ?? form.bars.length); index++) {
      const ways = this.#allowed(rules, ground, index, ground.ways[index]!)
      const others = rules.bindsBar(ground.problem.contexts[index]!) ? this.#othersOf(rules, ground, index) : []
      fronts = forward.over(fronts, index, [...ways, ...others])
      if (fronts.length === 0) return index
    }
    if (bars) return undefined
    const isCounted = fronts.some(({ tally }) => rules.tallyPoints(tally) < IMPOSSIBLE)
    return isCounted ? undefined : form.bars.length - 1
  }

  /** Whether a plan of some can be played; else the last bar that any of them comes to. */
  #inPlans(ground: Ground, musts: readonly RuleInForce[], from: number, to: number): 'lives' | 'unknown' | number {
    const tests = this.#testsOf(ground)
    const rules = this.#rulesOf(musts, ground.problem)
    const musted = (pitches: 'register' | 'own') =>
      new Musts(tests, musts, secondsPerTick(this.#request), { remember: REMEMBERED.plans, pitches })
    const free = musted('register')
    const own = musted('own')
    const isFollowed = statesOf(musts) <= REMEMBERED.plans
    const isLooped = ground.problem.loop && free.judgeSteps
    let furthest = 0
    let isKnown = true
    for (let at = from; at < to; at++) {
      const rhythm: Rhythm | undefined = ground.rhythms[at] ?? ground.further.next().value
      if (!rhythm) break
      ground.rhythms[at] = rhythm
      const ways = rhythm.map((bars, index) => this.#waysUnder(rules, ground, index, bars))
      const inRegister = new Forward(ground.stands, rules, free, true)
      if (isFollowed && inRegister.dead(ways, isLooped) === undefined) return 'lives'
      const anywhere = new Forward(ground.stands, rules, own, true)
      const dead = anywhere.dead(ways, isLooped)
      if (dead === undefined) isKnown = false
      else furthest = Math.max(furthest, dead)
    }
    return isKnown ? furthest : 'unknown'
  }

  /** What rules about whole bars leave of a bar's ways; where a must leaves none, the cheapest others. */
  #waysUnder(rules: GrooveRules, ground: Ground, index: number, bars: readonly LaidBar[]): readonly LaidBar[] {
    const context = ground.problem.contexts[index]!
    if (!rules.bindsBar(context)) return bars
    const allowed = this.#allowed(rules, ground, index, bars)
    const isKept = rules.keptBars.some((rule) => binds(rule, index))
    if (allowed.length > 0 || context.metre !== 'own' || isKept) return allowed
    return this.#othersOf(rules, ground, index)
  }

  /** Of some bars those that rules about whole bars allow, and what they keep. */
  #allowed(rules: GrooveRules, ground: Ground, index: number, bars: readonly LaidBar[]): readonly LaidBar[] {
    const context = ground.problem.contexts[index]!
    if (!rules.bindsBar(context)) return bars
    const kept = rules.keptBars
      .filter((rule) => binds(rule, index))
      .flatMap(({ test }) => layKeptBar(this.#request.table, context, test) ?? [])
    return [...kept, ...bars].filter((laid) => rules.barTerms(laid) !== undefined)
  }

  /** The cheapest bars without fill or walk that rules allow; where there are none, those that rules offer. */
  #othersOf(rules: GrooveRules, ground: Ground, index: number): readonly LaidBar[] {
    ground.others[index] ??= []
    const laid = ground.others[index]
    const others: LaidBar[] = []
    for (const [order, pairing] of ground.problem.plans.cheapestFirst.entries()) {
      if (others.length === OTHER_BARS.most) break
      const bar = laid[order] ?? ground.problem.plans.plainBar(index, pairing)
      if (!bar) break
      laid[order] = bar
      if (rules.barTerms(bar)) others.push(bar)
    }
    if (others.length > 0) return others
    const { contexts, plans } = ground.problem
    return plans.offeredBars(index, rules.offersIn(contexts[index]!)).filter((bar) => rules.barTerms(bar))
  }

  #groundOf(musts: readonly RuleInForce[]): Ground {
    const shaping = musts.filter(({ test }) => test.looksAt === 'loop' || test.looksAt === 'motif')
    const asksForPatterns = musts.some(({ test }) => test.looksAt === 'pattern' || test.looksAt === 'patterns-in-force')
    const name = `${asksForPatterns} ${shaping.map(({ sentence }) => sentence)}`
    const known = this.#grounds.get(name)
    if (known) return known
    const { form } = this.#request
    const problem = problemOf({ ...this.#request, rules: shaping }, true, this.#known)
    const ground: Ground = {
      problem,
      asksForPatterns,
      stands: new Stands(form, problem.loop, (laid) => ownPitches(problem, laid)),
      ways: undefined,
      rhythms: [],
      further: placedRhythms(problem, asksForPatterns),
      others: [],
    }
    this.#grounds.set(name, ground)
    return ground
  }

  #testsOf({ problem }: Ground): KnownTests {
    this.#tests ??= new KnownTests(problem.voicer.neck)
    return this.#tests
  }

  #rulesOf(musts: readonly RuleInForce[], { loop }: Problem): GrooveRules {
    const about = musts.filter(({ test }) => !['loop', 'motif', 'repeats'].includes(test.looksAt))
    const options = { loop, secondsPerTick: secondsPerTick(this.#request), forget: true }
    return new GrooveRules(this.#request.form, about, options)
  }
}

/** Lines on their way forward, bar by bar, whatever they cost. */
class Forward {
  readonly #stands: Stands
  readonly #rules: GrooveRules
  readonly #musts: Musts
  readonly #counts: boolean

  /** @param counts  bars are counted for rules that count */
  constructor(stands: Stands, rules: GrooveRules, musts: Musts, counts: boolean) {
    this.#stands = stands
    this.#rules = rules
    this.#musts = musts
    this.#counts = counts
  }

  #beginning: Beginning = { anyState: false, handed: [HANDS_ON.nothing] }

  begin(beginning: Beginning): readonly Front[] {
    this.#beginning = beginning
    return beginning.handed.map((handed) => ({ last: undefined, handed, tally: 0 }))
  }

  /** The bar where a plan dies; `undefined` if it can be played, round the loop if it is one. */
  dead(plan: Rhythm, isLooped: boolean): number | undefined {
    const { fronts, dead } = this.#through(plan, { anyState: isLooped, handed: [HANDS_ON.nothing] })
    if (dead !== undefined || !isLooped) return dead
    if (this.#counted(fronts).some(({ last }) => !last)) return undefined
    // Round the loop it has to come back to the note that it began with, in its first bar or after silent ones.
    const before: LaidBar[][] = []
    let handed: HandsOn = HANDS_ON.nothing
    let passed = 0
    for (const [index, ways] of plan.entries()) {
      for (const first of ways) {
        const [stand] = this.#stands.of(handed === HANDS_ON.due ? dueOf(first) : first)
        const rest = [...before, [first], ...plan.slice(index + 1)]
        if (stand && this.#comesRound(rest, stand, passed + first.slots[0]!.onset.tick)) return undefined
      }
      const silent = ways.filter(({ slots }) => slots.length === 0)
      if (silent.length === 0) break
      before.push(silent)
      handed = handedOn(silent[0]!, handed)
      passed += silent[0]!.context.ticks
    }
    return plan.length - 1
  }

  /** Whether a plan can be played that begins with one slot, so long after its first bar line. */
  #comesRound(plan: Rhythm, first: Stand, ticks: Tick): boolean {
    const musts = this.#musts
    for (const only of musts.each(musts.begin(first, true))) {
      const { fronts } = this.#through(plan, { anyState: true, handed: [HANDS_ON.nothing], only })
      const closes = ({ last }: Front): boolean =>
        last !== undefined && musts.holds(musts.step(last.stand, last.notes, first, last.since + ticks), only)
      if (this.#counted(fronts).some(closes)) return true
    }
    return false
  }

  #through(
    plan: Rhythm,
    beginning: Beginning,
  ): { readonly fronts: readonly Front[]; readonly dead: number | undefined } {
    let fronts = this.begin(beginning)
    for (const [index, ways] of plan.entries()) {
      fronts = this.over(fronts, index, ways)
      if (fronts.length === 0) return { fronts, dead: index }
    }
    return { fronts, dead: this.#counted(fronts).length > 0 ? undefined : plan.length - 1 }
  }

  #counted(fronts: readonly Front[]): readonly Front[] {
    return fronts.filter(({ tally }) => this.#rules.tallyPoints(tally) < IMPOSSIBLE)
  }

  /** Over a bar that may be played in some ways. */
  over(fronts: readonly Front[], index: number, ways: readonly LaidBar[]): readonly Front[] {
    const found = new Map<string, Front>()
    for (const laid of ways) {
      for (const front of fronts) {
        const next = this.#overBar(front, index, laid)
        if (!next) continue
        const { last, handed, tally } = next
        const key = `${last?.stand.key} ${this.#musts.looksAtHand ? last?.since : ''} ${handed} ${tally}`
        const same = found.get(key)
        const joined = same?.last && last ? { ...last, notes: this.#musts.both(same.last.notes, last.notes) } : last
        found.set(key, { last: joined, handed, tally })
      }
    }
    return [...found.values()]
  }

  #overBar({ last, handed, tally }: Front, index: number, laid: LaidBar): Front | undefined {
    const musts = this.#musts
    const stands = this.#stands.of(handed === HANDS_ON.due ? dueOf(laid) : laid)
    const first = handed === HANDS_ON.push && laid.slots[0]?.onset.tick === 0 ? 1 : 0
    if (handed === HANDS_ON.push && !takesPush(laid)) return undefined
    const out = handedOn(laid, handed)
    const counted = this.#counts ? this.#rules.tallied(tally, laid, index) : 0
    const { ticks } = laid.context
    let at = last
    // Where the last onset lies, from this bar line.
    let before = last ? -last.since : 0
    for (let slot = first; slot < stands.length; slot++) {
      const stand = stands[slot]!
      const { tick } = laid.slots[slot]!.onset
      const notes: Notes = at
        ? musts.step(at.stand, at.notes, stand, tick - before)
        : (this.#beginning.only ?? musts.begin(stand, this.#beginning.anyState))
      if (musts.isNone(notes)) return undefined
      at = { stand, notes, since: 0 }
      before = tick
    }
    if (at) at = { ...at, since: ticks - before }
    return { last: at, handed: out, tally: counted }
  }
}

const DUE = new WeakMap<LaidBar, LaidBar>()

/** A bar whose first note is the first of a chord that began before it. */
function dueOf(laid: LaidBar): LaidBar {
  const known = DUE.get(laid) ?? { ...laid, due: true }
  DUE.set(laid, known)
  return known
}

/** Rules that may leave no line: musts, and those that shape the whole, whatever their strength. */
function mustsOf(rules: readonly RuleInForce[]): readonly RuleInForce[] {
  return rules.filter(({ strength, test }) => strength === 'must' || isAboutWholeLine(test))
}

/** The rhythms of all plans, each bar in its own place. */
function* placedRhythms(problem: Problem, asksForPatterns: boolean): Generator<Rhythm, undefined> {
  const placed = problem.contexts.map(() => new Map<LaidBar, LaidBar>())
  for (const plan of rhythmsOf(problem, asksForPatterns))
    yield problem.plans.alternativesOf(plan).map((bars, index) =>
      bars.map((laid) => {
        const known = placed[index]!.get(laid) ?? { ...laid, context: problem.contexts[index]! }
        placed[index]!.set(laid, known)
        return known
      }),
    )
  return undefined
}

/** By slot of a bar, pitches of its figure outside the register, in the stances that are looked at first. */
function ownPitches({ voicer, sweep }: Problem, laid: LaidBar): readonly (readonly Pitch[])[] {
  const register = new Set(voicer.neck.pitches())
  const zones = new Set(sweep.stances.slice(0, DIVE_STANCES).map(({ stance }) => stance.zone))
  const pitched = [...zones].map((zone) => voicer.figurePitches(laid, zone))
  return laid.slots.map((_, index) => {
    const own = new Set(pitched.flatMap((slots) => slots[index]!))
    return [...own].filter((pitch) => !register.has(pitch) && voicer.neck.ofPitch.has(pitch)).sort((a, b) => a - b)
  })
}

/** The bar at which the search itself finds no line. */
function searchDies(request: GrooveRequest, known: KnownGrooves): number | undefined {
  const search = new GrooveSearch(request, known)
  for (;;) {
    const { done, best } = search.advance(1)
    if (best) return undefined
    const result = done ? search.result() : undefined
    if (result && !result.ok) return result.barIndex
  }
}

function statesOf(rules: readonly RuleInForce[]): number {
  return rules.reduce((product, { test }) => product * (test.looksAt === 'memory' ? test.states : 1), 1)
}

function secondsPerTick({ tempoBpm }: GrooveRequest): number {
  return 60 / (480 * (tempoBpm ?? 100))
}
