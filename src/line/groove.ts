import type { Form } from '../chart/form.ts'
import type { Instrument } from '../music/instrument.ts'
import type { Metre } from '../music/metre.ts'
import type { Pitch } from '../music/pitch.ts'
import type { WeightedCell } from '../rhythm/plan.ts'
import type { Slot } from '../rhythm/slot.ts'
import { IMPOSSIBLE } from '../search/trellis.ts'
import { contextsOf, type LaidBar, type Source } from './groove-bar.ts'
import { barMapOf, strengthOf } from './groove-deal.ts'
import { deadNotes } from './groove-ghost.ts'
import { GrooveNeck } from './groove-neck.ts'
import { type Pairing, pairingsOf, type WeightedPattern } from './groove-pairing.ts'
import { type GroovePlan, GroovePlans } from './groove-plan.ts'
import { comesBefore, Sweep, type Swept, stanceTerms } from './groove-sweep.ts'
import type { GrooveTable, Role } from './groove-table.ts'
import { anchorsOf, type Choice, choiceAt, slotOf, Voicer } from './groove-voice.ts'
import type { CostTerm, SearchedLine, SearchedNote } from './line.ts'
import type { RuleInForce } from './rule.ts'

export type { WeightedPattern } from './groove-pairing.ts'

/** What a groove is built from. */
export interface GrooveRequest {
  /** as played; bars without a chord are empty */
  readonly form: Form
  readonly table: GrooveTable
  /** the feel's; a bar of another is played plainly, one of half its length as the first half of the groove */
  readonly metre: Metre
  /** the vocabulary in force */
  readonly cells: readonly WeightedCell[]
  readonly patterns: readonly WeightedPattern[]
  /** usual range, sounding, both ends included */
  readonly register: { readonly lowest: Pitch; readonly highest: Pitch }
  readonly instrument: Instrument
  /** frets that may be used, both ends included */
  readonly frets: { readonly from: number; readonly to: number }
  readonly rules: readonly RuleInForce[]
  /** the last note has to lead into the first */
  readonly loop: boolean
  /** how many lines, >= 1 */
  readonly variations: number
  /** least share of all their onsets in which two lines differ, 0 to 1 */
  readonly difference: number
}

/** A note of a groove, with where it comes from. */
export interface GrooveNote extends SearchedNote {
  readonly role: Role
  readonly source: Source
  /** its token; an approach that steps or takes a token's place; any note where a must leaves no other */
  readonly kind: Choice['kind']
  /** the pitch that an approach aims at */
  readonly target: Pitch | undefined
  /** octaves that its figure stands above the place of its root, 0 or 1 */
  readonly octave: number
  /** low tokens of its figure are folded up, or its fifth lies on the other side */
  readonly folded: boolean
}

/** A line as the groove search chose it, with its plan. */
export interface GrooveLine extends SearchedLine {
  readonly notes: readonly GrooveNote[]
  readonly plan: {
    /** row of the scheme in the table */
    readonly scheme: number
    readonly a: Pairing
    readonly b: Pairing | undefined
    /** per bar: the fill or walk it ends with */
    readonly figures: readonly (string | undefined)[]
    /** lowest root of the twelve that the line's roots are taken from */
    readonly zone: Pitch
    /** hand position that is home */
    readonly home: number
  }
}

/** The lines, cheapest first, or the bar where no line can go on. */
export type GrooveResult =
  | {
      readonly ok: true
      /** at least one; fewer than asked where no more are different enough, or `exhausted` says that looking on was given up */
      readonly lines: readonly GrooveLine[]
      readonly exhausted: boolean
    }
  | { readonly ok: false; readonly barIndex: number }

/** What the search has by now. */
export interface GrooveProgress {
  readonly done: boolean
  /** the best line found so far, proven or not */
  readonly best: GrooveLine | undefined
  /** no line costs less than this */
  readonly bound: number
  /** plans solved to their exact optimum */
  readonly solved: number
}

/**
 * A plan on its way through the queue: the further it is looked into, the closer its bound.
 *
 * `pairing`: a scheme and a bar, its answers not yet found · `laid`: what bars and roles cost is known, and the stances before
 * `stance` are in the queue · `bounded`: in one stance, so many classes of bars and seams are known on the neck by themselves ·
 * `solved`: in one stance, exactly.
 */
type Entry = { readonly bound: number; readonly scheme: number; readonly a: number; readonly b: number } & (
  | { readonly stage: 'pairing'; readonly make: () => readonly GroovePlan[] }
  | { readonly stage: 'laid'; readonly plan: GroovePlan; readonly stance: number }
  | { readonly stage: 'bounded'; readonly plan: GroovePlan; readonly stance: number; readonly looked: number }
  | { readonly stage: 'solved'; readonly plan: GroovePlan; readonly swept: Swept }
)

/** How many pairings and plans a first good line is looked for among, and then better ones. */
const DIVES = [
  { pairings: 8, plans: 1, answers: 12 },
  { pairings: 60, plans: 40, answers: 60 },
  { pairings: 200, plans: 150, answers: undefined },
]

/** The cheapest stances only. */
const DIVE_STANCES = 4

/** Plans solved before looking on is given up; under rules bars share less, and each takes longer. */
const MOST_SOLVED = { free: 1500, ruled: 150 }

/**
 * Plans in their stances that may turn out to have no line before every note is set free; and when it is, before a clash is taken
 * for proven: what is left to differ is hardly more than the rhythm.
 */
const MOST_DEAD = { listed: 60, free: 12 }

/**
 * The best grooves over a form: the exact optimum over every scheme, bar and answer (each bar with its five best answers) and over
 * all notes of each plan; after it the cheapest optima of other plans that differ from each earlier line.
 */
export function buildGrooves(request: GrooveRequest): GrooveResult {
  const steps = groovesOf(request)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

/** Plans looked into between two breaths: mostly far less than a millisecond of work, and some 20 ms where plans are solved. */
const STEPS_A_BREATH = 4

/** The same a few plans at a time: yields what is known so far, so that the caller may take breath or give it up. */
export function* groovesOf(request: GrooveRequest): Generator<readonly GrooveLine[], GrooveResult> {
  const search = startGrooves(request)
  for (;;) {
    const { done, best } = search.advance(STEPS_A_BREATH)
    if (done) return search.result()
    const { lines } = search
    yield lines.length > 0 ? lines : best ? [best] : []
  }
}

/** Starts a search that its caller paces. */
export function startGrooves(request: GrooveRequest): GrooveSearch {
  return new GrooveSearch(request)
}

/**
 * The search for grooves, a step at a time.
 *
 * Plans wait in a queue by what they cost at least. The cheapest is looked into further: from what its bars cost, to what its bars cost
 * on the neck each by itself, to its exact optimum. A plan that comes to the front with its exact cost is the best of all that are
 * left (best-first branch and bound).
 */
export class GrooveSearch {
  readonly #request: GrooveRequest
  readonly #queue = new Heap<Entry>(comesFirst)
  readonly #lines: GrooveLine[] = []
  readonly #onsets: ReadonlySet<string>[] = []
  #problem: Problem
  #best: Solved | undefined
  #shown: { readonly of: Solved; readonly line: GrooveLine } | undefined
  readonly #settled = new Set<GroovePlan>()
  #solved = 0
  #dead = 0
  #dives = 0
  #done = false
  #exhausted = false
  /** the first bar that was found to have no note in any of its ways */
  #deadBar: number | undefined

  constructor(request: GrooveRequest) {
    this.#request = request
    this.#problem = problemOf(request, false)
    this.#fill()
  }

  #fill(): void {
    const { plans, pairings } = this.#problem
    for (const scheme of plans.schemes) {
      for (const a of pairings) {
        const make = () => plans.plansOf(scheme, a, this.#limit)
        this.#queue.push({
          stage: 'pairing',
          bound: plans.quickBound(scheme, a),
          scheme: scheme.row,
          a: a.row,
          b: -1,
          make,
        })
      }
    }
    this.#done = this.#queue.size === 0
  }

  /** Looks into `steps` plans further, as long as lines are missing. */
  advance(steps: number): GrooveProgress {
    for (let step = 0; step < steps && !this.#done; step++) {
      const isLong = this.#request.variations === 1 && !this.#problem.allFree
      const dive = this.#dives < (isLong ? DIVES.length : 1) ? DIVES[this.#dives] : undefined
      if (dive) {
        this.#dives++
        this.#dive(dive)
        // With every note free there are too many to prove anything.
        if (this.#problem.allFree && this.#best) this.#finish(true)
      } else this.#step()
    }
    if (this.#best && this.#best !== this.#shown?.of)
      this.#shown = { of: this.#best, line: lineOf(this.#request, this.#problem, this.#best, 0) }
    const found = this.#lines[0] ?? this.#shown?.line
    const bound = this.#queue.first?.bound ?? found?.cost ?? 0
    const best = found && { ...found, provenWithin: this.#lines[0] ? 0 : Math.max(0, found.cost - bound) }
    return { done: this.#done, best, bound, solved: this.#solved }
  }

  /** The lines that are settled by now, cheapest first. */
  get lines(): readonly GrooveLine[] {
    return [...this.#lines]
  }

  /** The lines found; the bar where all die if there are none. */
  result(): GrooveResult {
    if (this.#lines.length > 0) return { ok: true, lines: this.#lines, exhausted: this.#exhausted }
    if (this.#best) return { ok: true, lines: [this.advance(0).best!], exhausted: true }
    return { ok: false, barIndex: this.#deadBar ?? this.#problem.sweep.deadBar ?? this.#problem.firstBar }
  }

  /**
   * Goes straight to a good line, then to a better one: the plan that looks best by what its bars cost, then the one that looks best
   * on the neck. What costs more than they do need not be looked into.
   */
  #dive({ pairings: most, plans: few, answers }: (typeof DIVES)[number]): void {
    const { plans, pairings, sweep } = this.#problem
    const quick = plans.schemes.flatMap((scheme) =>
      pairings.map((a) => ({ scheme, a, bound: plans.quickBound(scheme, a) })),
    )
    quick.sort((x, y) => x.bound - y.bound)
    const looked = quick
      .slice(0, most)
      .flatMap(({ scheme, a }) => plans.plansOf(scheme, a, this.#limit, answers))
      .map((plan) => ({ plan, bound: plans.laidBound(plan) }))
    looked.sort((x, y) => x.bound - y.bound)
    const onNeck = looked.slice(0, few).flatMap(({ plan }) =>
      sweep.stances.slice(0, DIVE_STANCES).map((stance) => {
        const bounds = plan.classes.map((choice) => sweep.innerBound(choice, stance.stance, plan.pushes))
        const sum = bounds.reduce((total, bound, index) => total + bound * plan.scheme.classes[index]!.count, 0)
        return { plan, stance, bound: plan.points + stance.points + sum }
      }),
    )
    onNeck.sort((x, y) => x.bound - y.bound)
    for (const { plan, stance } of onNeck.slice(0, DIVE_STANCES)) {
      const cost = this.#best ? this.#best.swept.cost + this.#best.plan.points - 1 : IMPOSSIBLE - 1
      const swept = sweep.solve(plans.alternativesOf(plan), stance, cost - plan.points)
      if (swept) this.#best = { plan, swept }
    }
  }

  #step(): void {
    const entry = this.#queue.pop()
    if (!entry) {
      this.#giveWay()
      return
    }
    const { plans, sweep } = this.#problem
    const { scheme, a } = entry
    switch (entry.stage) {
      case 'pairing':
        for (const plan of entry.make()) {
          const bound = Math.max(entry.bound, plans.laidBound(plan)) + sweep.stances[0]!.points
          this.#enter({ stage: 'laid', bound, scheme, a, b: plan.b?.row ?? -1, plan, stance: 0 })
        }
        return
      case 'laid': {
        // This stance is looked into; the next one waits with what it costs more.
        const { stances } = sweep
        const next = stances[entry.stance + 1]
        const laid = entry.bound - stances[entry.stance]!.points
        if (next) this.#enter({ ...entry, bound: laid + next.points, stance: entry.stance + 1 })
        this.#refine({ ...entry, stage: 'bounded', looked: 0 })
        return
      }
      case 'bounded':
        this.#refine(entry)
        return
      case 'solved':
        this.#accept(entry)
    }
  }

  /**
   * Makes the bound of a plan in a stance closer, one class of bars after the other and then one seam after the other, until it is no
   * longer the least of all; if it still is when all are known, the plan is solved.
   */
  #refine(entry: Extract<Entry, { readonly stage: 'bounded' }>): void {
    const { plans, sweep } = this.#problem
    const { plan } = entry
    const { scheme, classes, pushes } = plan
    const { stance } = sweep.stances[entry.stance]!
    // Where a good line is known, nothing is put back that it does not already beat.
    const rival = this.#limit < IMPOSSIBLE ? this.#limit : (this.#queue.first?.bound ?? IMPOSSIBLE)
    const all = classes.length + scheme.seams.length
    let { bound, looked } = entry
    while (looked < all && bound <= rival && bound < IMPOSSIBLE) {
      const choice = classes[looked]
      if (choice) {
        bound += scheme.classes[looked]!.count * (sweep.innerBound(choice, stance, pushes) - choice.least)
      } else {
        const { from, to, count } = scheme.seams[looked - classes.length]!
        const next = to === undefined ? undefined : classes[to]
        const inner = sweep.innerBound(classes[from]!, stance, pushes)
        bound += count * (sweep.seamBound(classes[from]!, next, stance, pushes) - inner)
      }
      looked++
    }
    if (bound >= IMPOSSIBLE) {
      const dead = looked <= classes.length ? looked - 1 : scheme.seams[looked - 1 - classes.length]!.from
      this.#deadBar = Math.min(this.#deadBar ?? Number.POSITIVE_INFINITY, scheme.classes[dead]!.bar)
      this.#bury()
    } else if (looked < all || bound > rival) this.#enter({ ...entry, bound, looked })
    else {
      const priced = sweep.stances[entry.stance]!
      const swept = sweep.solve(plans.alternativesOf(plan), priced, Math.min(this.#limit, IMPOSSIBLE - 1) - plan.points)
      this.#solved++
      if (swept) this.#keep(plan, swept, entry)
      else if (!this.#best) this.#bury()
      if (this.#solved >= (this.#request.rules.length > 0 ? MOST_SOLVED.ruled : MOST_SOLVED.free)) this.#finish(true)
    }
  }

  /** With one line wanted, what costs more than the best so far need not be known. */
  get #limit(): number {
    return this.#request.variations === 1 && this.#best ? this.#best.swept.cost + this.#best.plan.points : IMPOSSIBLE
  }

  #enter(entry: Entry): void {
    if (entry.bound <= this.#limit) this.#queue.push(entry)
  }

  #keep(plan: GroovePlan, swept: Swept, { scheme, a, b }: Entry): void {
    const cost = swept.cost + plan.points
    if (!this.#best || cost < this.#best.swept.cost + this.#best.plan.points) this.#best = { plan, swept }
    this.#enter({ stage: 'solved', bound: cost, scheme, a, b, plan, swept })
  }

  /** Takes a proven plan as a line if it differs enough from those before. */
  #accept({ plan, swept }: Solved): void {
    // Its best line of another zone came first.
    if (this.#settled.has(plan)) return
    this.#settled.add(plan)
    const line = lineOf(this.#request, this.#problem, { plan, swept }, 0)
    const onsets = new Set(line.notes.map((note) => `${note.slot.startTick} ${note.pitch}`))
    if (this.#onsets.every((earlier) => differsBy(earlier, onsets) >= this.#request.difference - 1e-9)) {
      this.#lines.push(line)
      this.#onsets.push(onsets)
    }
    if (this.#lines.length >= this.#request.variations) this.#finish(false)
  }

  #bury(): void {
    this.#dead++
    const most = this.#problem.allFree ? MOST_DEAD.free : MOST_DEAD.listed
    if (this.#dead >= most && this.#request.rules.length > 0) this.#giveWay()
  }

  /** No plan is left: once more with every note free, where rules may be the cause. */
  #giveWay(): void {
    if (this.#best || this.#problem.allFree || this.#request.rules.length === 0) {
      this.#finish(false)
      return
    }
    this.#problem = problemOf(this.#request, true)
    this.#deadBar = undefined
    this.#dead = 0
    this.#dives = 0
    this.#queue.clear()
    this.#fill()
  }

  #finish(exhausted: boolean): void {
    this.#done = true
    this.#exhausted = exhausted
  }
}

/** A plan with the best line of one zone. */
interface Solved {
  readonly plan: GroovePlan
  readonly swept: Swept
}

/** What all plans share. */
interface Problem {
  readonly pairings: readonly Pairing[]
  readonly plans: GroovePlans
  readonly voicer: Voicer
  readonly sweep: Sweep
  readonly allFree: boolean
  readonly contexts: ReturnType<typeof contextsOf>
  /** the first bar that has a chord */
  readonly firstBar: number
}

function problemOf(request: GrooveRequest, allFree: boolean): Problem {
  const { form, table, rules, register, loop } = request
  const map = barMapOf(request.metre)
  const contexts = contextsOf(form, map, rules.length > 0)
  const pairings = pairingsOf(table, map, request.cells, request.patterns)
  const neck = new GrooveNeck(request.instrument, request.frets, table, register)
  const voicer = new Voicer(table, neck, form, rules, allFree)
  const plans = new GroovePlans(form, table, map, contexts, pairings)
  const sweep = new Sweep({ voicer, contexts, table, lowest: register.lowest, loop, rules })
  const firstBar = contexts.find((context) => context.parts.length > 0)?.index ?? 0
  return { pairings, plans, voicer, sweep, allFree, contexts, firstBar }
}

/** The share of all onsets of two lines, pitches included, that only one of them has. */
function differsBy(one: ReadonlySet<string>, other: ReadonlySet<string>): number {
  const oneTicks = new Set([...one, ...other].map((onset) => onset.split(' ')[0]))
  const same = [...one].filter((onset) => other.has(onset)).length
  return oneTicks.size === 0 ? 0 : (oneTicks.size - same) / oneTicks.size
}

function comesFirst(a: Entry, b: Entry): boolean {
  const difference =
    a.bound - b.bound ||
    // What may still turn out to cost as much is looked at before what does.
    Number(a.stage === 'solved') - Number(b.stage === 'solved') ||
    a.scheme - b.scheme ||
    a.a - b.a ||
    a.b - b.b
  if (difference !== 0) return difference < 0
  return a.stage === 'solved' && b.stage === 'solved' && comesBefore(a.swept, b.swept)
}

/** A swept plan as a line, every note with the terms that add up to its cost, taken from the definitions and not from the tables. */
function lineOf(request: GrooveRequest, problem: Problem, { plan, swept }: Solved, provenWithin: number): GrooveLine {
  const { form, table, register } = request
  const { voicer, sweep, contexts } = problem
  const { stance, bars } = swept
  const notes = swept.notes.map((note, index): GrooveNote => {
    const { bar, slot: order, candidate, barIndex } = note
    const voiced = bar.slots[order]!
    const choice = choiceAt(voiced, candidate)
    const grip = voicer.neck.grips[voiced.grips[candidate]!]!
    const terms: CostTerm[] = []
    const add = (rule: string, points: number): void => {
      if (points > 0) terms.push({ rule, points })
    }
    const anchors = anchorsOf(contexts[barIndex]!, stance.zone)
    voicer.noteTerms(voiced, choice, grip, anchors, stance, add)
    const before = swept.notes[index - 1]
    if (before) sweep.stepTerms(before, note, add)
    else if (sweep.closes && !swept.notes.at(-1)!.bar.laid.tiedOver) sweep.stepTerms(swept.notes.at(-1)!, note, add)
    const { pitch, string, fret, hand } = grip
    return {
      slot: soundedSlot(form, contexts, bars, barIndex, bar.laid.slots[order]!),
      pitch,
      string,
      fret,
      hand,
      pattern: choice.kind === 'free' ? undefined : voiced.laid.pattern,
      terms,
      role: voiced.laid.role,
      source: voiced.laid.source,
      kind: choice.kind,
      target: choice.target,
      octave: choice.octave,
      folded: choice.folded,
    }
  })
  const terms: CostTerm[] = [...plan.terms, ...stanceTerms(table, register.lowest, stance)]
  for (const [barIndex, bar] of bars.entries()) for (const term of bar.terms) terms.push({ ...term, barIndex })
  const written = bars.flatMap((bar, barIndex) =>
    bar.ghosts.map((onset): Slot => {
      const context = contexts[barIndex]!
      const part = context.parts.findLast((one) => one.startTick <= onset.tick)!
      const { ticks, cell, accent, length } = onset
      return {
        startTick: form.bars[barIndex]!.startTick + onset.tick,
        ticks,
        barIndex,
        changeIndex: part.changeIndex,
        strength: strengthOf(context.map, onset.tick),
        cell,
        accent,
        length,
        pushed: false,
        ghost: true,
      }
    }),
  )
  const slots = notes.map((note) => note.slot)
  const isOwn = (barIndex: number): boolean => contexts[barIndex]!.metre === 'own'
  const added = table.ghosts ? deadNotes(table.ghosts, form, isOwn, [...slots, ...written].sort(byTime)) : []
  const ghosts = [...written, ...added].sort(byTime)
  return {
    notes: cutBefore(notes, added),
    ghosts,
    terms,
    cost: swept.cost + plan.points,
    provenWithin,
    plan: {
      scheme: plan.scheme.row,
      a: plan.a,
      b: plan.b,
      figures: bars.map((bar) => bar.figure),
      zone: stance.zone,
      home: stance.home,
    },
  }
}

/** A slot with the downbeat that it takes over, if it is pushed. */
function soundedSlot(
  form: Form,
  contexts: Problem['contexts'],
  bars: readonly LaidBar[],
  barIndex: number,
  laid: LaidBar['slots'][number],
): Slot {
  const slot = slotOf(form, contexts[barIndex]!, laid)
  const downbeat = laid.role === 'push' ? bars[barIndex + 1]?.slots[0] : undefined
  return downbeat?.onset.tick === 0 ? { ...slot, ticks: slot.ticks + downbeat.onset.ticks } : slot
}

/** Ends each note where a dead note begins. */
function cutBefore(notes: readonly GrooveNote[], dead: readonly Slot[]): readonly GrooveNote[] {
  if (dead.length === 0) return notes
  return notes.map((note) => {
    const { startTick, ticks } = note.slot
    const inside = dead.find((slot) => slot.startTick > startTick && slot.startTick < startTick + ticks)
    return inside ? { ...note, slot: { ...note.slot, ticks: inside.startTick - startTick } } : note
  })
}

function byTime(a: Slot, b: Slot): number {
  return a.startTick - b.startTick
}

/** A binary heap: the least is first. */
class Heap<T> {
  #items: T[] = []
  readonly #comesFirst: (a: T, b: T) => boolean

  constructor(comesFirst: (a: T, b: T) => boolean) {
    this.#comesFirst = comesFirst
  }

  get size(): number {
    return this.#items.length
  }

  get first(): T | undefined {
    return this.#items[0]
  }

  clear(): void {
    this.#items = []
  }

  push(item: T): void {
    const items = this.#items
    let at = items.length
    items.push(item)
    while (at > 0) {
      const parent = (at - 1) >> 1
      if (!this.#comesFirst(item, items[parent]!)) break
      items[at] = items[parent]!
      at = parent
    }
    items[at] = item
  }

  pop(): T | undefined {
    const items = this.#items
    const first = items[0]
    const last = items.pop()
    if (first === undefined || last === undefined || items.length === 0) return first
    let at = 0
    for (;;) {
      let child = 2 * at + 1
      if (child >= items.length) break
      if (child + 1 < items.length && this.#comesFirst(items[child + 1]!, items[child]!)) child++
      if (!this.#comesFirst(items[child]!, last)) break
      items[at] = items[child]!
      at = child
    }
    items[at] = last
    return first
  }
}
