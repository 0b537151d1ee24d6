import { Heap } from '../../search/heap.ts'
import { IMPOSSIBLE } from '../../search/trellis.ts'
import { comesFirst, type Entry } from './entry.ts'
import type { KnownGrooves } from './known.ts'
import { type GrooveLine, lineOf } from './line.ts'
import { likelyPlans, type PeriodNode, PeriodStance } from './period.ts'
import type { GroovePlan } from './plan.ts'
import { DIVE_STANCES, onNeck, type Problem, problemOf, type Solved } from './problem.ts'
import type { GrooveRequest } from './request.ts'
import { rhythmsOf } from './rhythms.ts'
import { FurtherLines } from './several.ts'

/** The lines, cheapest first, or the bar where no line can go on. */
export type GrooveResult =
  | {
      readonly ok: true
      /** at least one; fewer than asked where no more are different enough, or `exhausted` says that looking on was given up */
      readonly lines: readonly GrooveLine[]
      readonly exhausted: boolean
      /** no line stays the same wherever its bars are played again, so they have a new one each time */
      readonly repeatsDiffer?: boolean
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

/** The search for any line at all, with every note free. */
interface Free {
  readonly problem: Problem
  /** what none of its plans can undercut */
  readonly floor: number
  readonly rhythms: Generator<GroovePlan>
}

/** How many pairings and plans a first good line is looked for among, and then better ones. */
const DIVES = [
  { pairings: 16, plans: 8, answers: 12 },
  { pairings: 60, plans: 40, answers: 60 },
  { pairings: 200, plans: 150, answers: undefined },
]

/** Where each bar is made by itself, of how many pairings. */
const FREE_PAIRINGS = 40

/** Steps into the bars of a period before proving is given up. */
const MOST_PERIOD_STEPS = 30_000

/** For each place of a period, of how many likely bars how many are combined at first, and then, by its length. */
const PERIOD_DIVES: Readonly<Record<number, readonly { readonly likely: number; readonly among: number }[]>> = {
  2: [
    { likely: 8, among: 2 },
    { likely: 50, among: 8 },
  ],
  4: [
    { likely: 8, among: 2 },
    { likely: 50, among: 3 },
  ],
}

/** Under rules bars share less: what is looked among first, and steps taken before proving is given up. */
const RULED = { dive: { pairings: 3, plans: 1, answers: 4 }, steps: 1200 }

/** Plans solved before looking on is given up; under rules bars share less, and each takes longer. */
const MOST_SOLVED = { free: 1500, ruled: 150 }

/**
 * The search for grooves, a step at a time.
 *
 * Plans wait in a queue by what they cost at least. The cheapest is looked into further: from what its bars cost, to what its bars cost
 * on the neck each by itself, to its exact optimum. A plan that comes to the front with its exact cost is the best of all that are
 * left (best-first branch and bound).
 */
export class GrooveSearch {
  readonly #request: GrooveRequest
  readonly #known: KnownGrooves
  readonly #queue = new Heap<Entry>(comesFirst)
  readonly #further: FurtherLines
  /** what cannot be the best line */
  readonly #later: Entry[] = []
  readonly #problem: Problem
  /** `floor`: where it has free notes, what no line with free notes can undercut */
  #best:
    | { readonly cost: number; readonly line: GrooveLine; readonly solved: Solved; readonly floor: number | undefined }
    | undefined
  #solved = 0
  #steps = 0
  /** while it is tried whether there is a line with every note free */
  #free: Free | undefined
  #isTried = false
  #dives = 0
  #diving: Generator<undefined, void> | undefined
  #done = false
  #exhausted = false
  #isGivenUp = false
  /** the first bar that was found to have no note in any of its ways */
  #deadBar: number | undefined

  constructor(request: GrooveRequest, known: KnownGrooves) {
    this.#request = request
    this.#known = known
    this.#problem = problemOf(request, false, known)
    this.#further = new FurtherLines(request, this.#problem)
    this.#fill()
  }

  #fill(): void {
    const { plans, pairings } = this.#problem
    for (const scheme of plans.schemes) {
      if (plans.isFree) {
        const { plan, beyond } = plans.freePlan(scheme, FREE_PAIRINGS)
        const bound = plans.laidBound(plan)
        for (const [stance, { points }] of this.#problem.sweep.stances.entries())
          this.#enter({
            stage: 'free',
            bound: bound + points,
            scheme: scheme.row,
            a: -1,
            b: -1,
            plan,
            beyond,
            stance,
          })
        continue
      }
      if (plans.period > 1) {
        const parts = [...new Array(plans.period).keys()].map((part) => plans.ranked(scheme, part).at(0))
        const least = parts.reduce((sum, first) => sum + (first?.bound ?? IMPOSSIBLE), scheme.points)
        for (const [stance, { points }] of this.#problem.sweep.stances.entries())
          this.#enter({ stage: 'stance', bound: least + points, scheme: scheme.row, a: -1, b: -1, of: scheme, stance })
        continue
      }
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
      if (this.#free) this.#tryFree(this.#free)
      else if (this.#diving) this.#diveOn(1)
      else {
        const dive = this.#nextDive()
        if (!dive) this.#step()
        else {
          this.#diving = this.#dive(dive)
          // The first one leaves a line after one step; the others take breath.
          if (this.#dives === 1) this.#diveOn(Number.POSITIVE_INFINITY)
        }
      }
    }
    const [first] = this.#further.lines
    const found = first ?? this.#best?.line
    const floor = first ? undefined : this.#best?.floor
    const bound = Math.min(this.#queue.first?.bound ?? found?.cost ?? 0, floor ?? IMPOSSIBLE)
    const best = found && {
      ...found,
      provenWithin: first ? found.provenWithin : Math.max(0, found.cost - bound),
    }
    return { done: this.#done, best, bound, solved: this.#solved }
  }

  #nextDive(): (typeof DIVES)[number] | undefined {
    if (this.#problem.plans.isFree) return undefined
    const dives = this.#isRuled ? [RULED.dive] : this.#problem.plans.period > 1 ? DIVES.slice(0, 2) : DIVES
    return dives[this.#dives++]
  }

  get #isRuled(): boolean {
    return !this.#problem.rules.isEmpty
  }

  /** The lines that are settled by now, cheapest first. */
  get lines(): readonly GrooveLine[] {
    return [...this.#further.lines]
  }

  /** The lines found; the bar where all die if there are none. */
  result(): GrooveResult {
    const { lines } = this.#further
    if (lines.length > 0) return { ok: true, lines, exhausted: this.#exhausted }
    if (this.#best) return { ok: true, lines: [this.advance(0).best!], exhausted: true }
    return { ok: false, barIndex: this.#deadBar ?? this.#problem.sweep.deadBar ?? this.#problem.firstBar }
  }

  /** The plans of the lines found, as they were solved; none where notes are free. */
  get solvedLines(): readonly Solved[] {
    const { lines, solvedOf } = this.#further
    if (lines.length > 0) return lines.map((line) => solvedOf.get(line)!)
    return this.#best && this.#best.floor === undefined ? [this.#best.solved] : []
  }

  get problem(): Problem {
    return this.#problem
  }

  /**
   * Goes straight to a good line, then to a better one: the plan that looks best by what its bars cost, then the one that looks best
   * on the neck. What costs more than they do need not be looked into.
   */
  *#dive({ pairings: most, plans: few, answers }: (typeof DIVES)[number]): Generator<undefined, void> {
    const { plans, pairings, sweep } = this.#problem
    const quick = plans.schemes.flatMap((scheme) =>
      pairings.map((a) => ({ scheme, a, bound: plans.quickBound(scheme, a) })),
    )
    quick.sort((x, y) => x.bound - y.bound)
    const ofPeriod = PERIOD_DIVES[plans.period]?.[this.#isRuled ? 1 : this.#dives - 1]
    const likely = ofPeriod && likelyPlans(plans, sweep, sweep.stances.slice(0, DIVE_STANCES), ofPeriod)
    const plansFound = likely ? [...likely] : []
    for (const { scheme, a } of likely ? [] : quick.slice(0, most)) {
      plansFound.push(...plans.plansOf(scheme, a, this.#limit, answers))
      yield
    }
    const looked = plansFound.map((plan) => ({ plan, bound: plans.laidBound(plan) }))
    looked.sort((x, y) => x.bound - y.bound)
    const near: ReturnType<typeof onNeck>[number][] = []
    for (const { plan } of looked.slice(0, few)) {
      near.push(...onNeck(this.#problem, plan))
      yield
    }
    near.sort((x, y) => x.bound - y.bound)
    for (const { plan, stance } of near.slice(0, DIVE_STANCES)) {
      const cost = this.#best ? this.#best.cost - 1 : IMPOSSIBLE - 1
      const swept = sweep.solve(plans.alternativesOf(plan), stance, cost - plan.points)
      if (swept) this.#offer({ plan, swept })
      yield
    }
  }

  #diveOn(steps: number): void {
    for (let step = 0; step < steps && this.#diving; step++) if (this.#diving.next().done) this.#diving = undefined
  }

  #step(): void {
    if (this.#isRuled && !this.#isProven) {
      // Before long proofs there has to be a line, or to be none.
      if (!this.#best && !this.#isTried) {
        this.#setFree()
        return
      }
      if (this.#queue.size > 0 && ++this.#steps > RULED.steps) {
        this.#giveUp()
        return
      }
    }
    const front = this.#queue.first?.bound ?? IMPOSSIBLE
    if (this.#further.step(front, this.#solved, this.#isGivenUp)) {
      this.#goOn()
      return
    }
    const entry = this.#queue.pop()
    if (!entry) {
      // The best may have an answer that is not among the five best by bound.
      this.#further.runOut(this.#best?.floor === undefined ? this.#best?.solved : undefined, this.#solved)
      this.#goOn()
      return
    }
    const { plans, sweep } = this.#problem
    const { scheme, a } = entry
    switch (entry.stage) {
      case 'pairing': {
        const made = entry.make()
        if (made.length === 0 && this.#limit < IMPOSSIBLE && entry.bound <= this.#limit)
          this.#enter({ ...entry, bound: this.#limit + 1 })
        for (const plan of made) {
          const bound = Math.max(entry.bound, plans.laidBound(plan)) + sweep.stances[0]!.points
          this.#enter({ stage: 'laid', bound, scheme, a, b: plan.motif[1]?.row ?? -1, plan, stance: 0 })
        }
        return
      }
      case 'free':
        this.#solveFree(entry)
        return
      case 'stance': {
        const period = new PeriodStance(plans, sweep, entry.of, sweep.stances[entry.stance]!, this.#limit)
        this.#enterNode(entry, period.root)
        return
      }
      case 'period': {
        const { node } = entry
        if (++this.#steps > MOST_PERIOD_STEPS && this.#best) {
          this.#queue.push(entry)
          this.#giveUp()
          return
        }
        const { nodes, plan } = node.of.follow(node)
        for (const next of nodes) this.#enterNode(entry, next)
        if (!plan) return
        const stance = sweep.stances.indexOf(node.of.stance)
        const inner = plan.classes.map((choice) => sweep.bounds.inner(choice, node.of.stance.stance, plan.pushes))
        const sum = inner.reduce((total, bound, index) => total + bound * plan.scheme.classes[index]!.count, 0)
        const bound = Math.max(entry.bound, plan.points + node.of.stance.points + sum)
        const [first, second] = plan.motif
        const looked = plan.classes.length
        this.#enter({ stage: 'bounded', bound, scheme, a: first!.row, b: second?.row ?? -1, plan, stance, looked })
        return
      }
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
      case 'solved': {
        const other = this.#further.accept(entry)
        this.#goOn()
        if (other) this.#keep(other, entry)
      }
    }
  }

  /** The best line that is known stays unproven; others may be wanted. */
  #giveUp(): void {
    const { solved, floor } = this.#best ?? {}
    this.#isGivenUp = true
    if (this.#further.areWanted && !this.#isProven && solved && floor === undefined) {
      this.#further.takeUnproven(solved, this.#queue.first?.bound ?? IMPOSSIBLE)
      this.#goOn()
    } else this.#finish(true)
  }

  /** The best line is known; others are wanted. */
  get #isProven(): boolean {
    return this.#further.lines.length > 0
  }

  /** After a further line: what cannot be the best line is looked at as well. */
  #goOn(): void {
    if (this.#isProven) for (const entry of this.#later.splice(0)) this.#queue.push(entry)
    if (this.#further.end) this.#finish(this.#further.end.exhausted)
  }

  /** Solves a plan in which each bar is made by itself, with the bars that may still be better than the best so far. */
  #solveFree(entry: Extract<Entry, { readonly stage: 'free' }>): void {
    const { plan } = entry
    const { sweep } = this.#problem
    const priced = sweep.stances[entry.stance]!
    const inner = plan.classes.map(({ bars }) =>
      bars.map((laid) => sweep.bounds.innerOf(laid, priced.stance, plan.pushes)),
    )
    const { classes, classOf } = plan.scheme
    const least = inner.reduce((sum, costs, index) => sum + Math.min(...costs, IMPOSSIBLE) * classes[index]!.count, 0)
    const bound = plan.points + priced.points + least
    if (bound > this.#limit) return
    const near = plan.classes.map(({ bars }, index) => {
      const most = this.#limit - bound + Math.min(...inner[index]!)
      return bars.filter((_, at) => inner[index]![at]! <= most)
    })
    const alternatives = classOf.map((index) => near[index]!)
    const swept = sweep.solve(alternatives, priced, undefined, { change: plan.change })
    this.#solved++
    for (const [index, costs] of inner.entries())
      this.#further.leaveOpen(bound - Math.min(...costs) + entry.beyond[index]!)
    if (swept) this.#keep({ plan, swept }, entry)
  }

  #enterNode({ scheme, bound }: Entry, node: PeriodNode | undefined): void {
    if (!node) return
    const [first, second] = node.prefix
    const least = Math.max(bound, node.of.boundOf(node))
    this.#enter({ stage: 'period', bound: least, scheme, a: first?.row ?? -1, b: second?.row ?? -1, node })
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
        bound += scheme.classes[looked]!.count * (sweep.bounds.inner(choice, stance, pushes) - choice.least)
      } else {
        const { from, to, count } = scheme.seams[looked - classes.length]!
        const next = to === undefined ? undefined : classes[to]
        const inner = sweep.bounds.inner(classes[from]!, stance, pushes)
        bound += count * (sweep.bounds.seam(classes[from]!, next, stance, pushes) - inner)
      }
      looked++
    }
    if (bound >= IMPOSSIBLE) {
      const dead = deadClass(plan, looked)
      this.#deadBar = Math.min(this.#deadBar ?? Number.POSITIVE_INFINITY, scheme.classes[dead]!.bar)
    } else if (looked < all || bound > rival) this.#enter({ ...entry, bound, looked })
    else {
      const priced = sweep.stances[entry.stance]!
      const swept = sweep.solve(plans.alternativesOf(plan), priced, Math.min(this.#limit, IMPOSSIBLE - 1) - plan.points)
      this.#solved++
      if (swept) this.#keep({ plan, swept }, entry)
      else if (this.#limit < IMPOSSIBLE) this.#enter({ ...entry, looked, bound: this.#limit + 1 })
      if (this.#solved >= (this.#isRuled ? MOST_SOLVED.ruled : MOST_SOLVED.free)) this.#giveUp()
    }
  }

  /** Until the best line is proven, what costs more than the best so far need not be known. */
  get #limit(): number {
    return !this.#isProven && this.#best ? this.#best.cost : IMPOSSIBLE
  }

  #enter(entry: Entry): void {
    if (entry.bound <= this.#limit) this.#queue.push(entry)
    else if (this.#further.areWanted) this.#later.push(entry)
  }

  #keep(solved: Solved, { scheme, a, b }: Entry): void {
    const { plan, swept } = solved
    const bound = swept.cost + plan.points
    this.#offer(solved)
    this.#further.know(solved)
    this.#enter({ stage: 'solved', bound, scheme, a, b, plan, swept })
  }

  /** Takes note of a line that is better than the best so far. */
  #offer(solved: Solved, problem = this.#problem, floor?: number): void {
    const cost = solved.swept.cost + solved.plan.points
    if (this.#best && cost >= this.#best.cost) return
    const line = lineOf(this.#request, problem, solved, 0)
    if (line) this.#best = { cost, line, solved, floor }
  }

  /** Every note is set free, where rules may be the cause that there is no line. */
  #setFree(): void {
    const problem = problemOf(this.#request, true, this.#known)
    const { plans, pairings, rules } = problem
    const bounds = plans.schemes.flatMap((scheme) => pairings.map((a) => plans.quickBound(scheme, a)))
    const floor = bounds.reduce((least, bound) => Math.min(least, bound), IMPOSSIBLE)
    this.#free = { problem, floor, rhythms: rhythmsOf(problem, rules.asksForPatterns) }
  }

  /**
   * With every note free, whether the rules can hold lies in the rhythm alone: one plan of each is tried, in one stance, until there is a
   * line. That all are tried without one proves a clash.
   */
  #tryFree({ problem, floor, rhythms }: Free): void {
    const { plans, sweep } = problem
    const { value: plan, done } = rhythms.next()
    if (done) {
      this.#deadBar = sweep.deadBar ?? this.#deadBar
      this.#finish(false)
      return
    }
    const swept = sweep.solve(plans.alternativesOf(plan), sweep.stances[0]!, undefined)
    if (swept) this.#offer({ plan, swept }, problem, floor)
    if (!this.#best) return
    this.#isTried = true
    this.#free = undefined
  }

  #finish(exhausted: boolean): void {
    this.#done = true
    this.#exhausted = exhausted
  }
}

/** The class of bars at which a plan turned out to have no line, with so many classes and seams looked into. */
function deadClass({ classes, scheme }: GroovePlan, looked: number): number {
  const empty = classes.findIndex((choice) => choice.least >= IMPOSSIBLE)
  if (empty >= 0) return empty
  return looked <= classes.length ? looked - 1 : scheme.seams[looked - 1 - classes.length]!.from
}
