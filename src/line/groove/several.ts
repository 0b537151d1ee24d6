import { randomFrom } from '../../search/random.ts'
import { IMPOSSIBLE } from '../../search/trellis.ts'
import { type GrooveLine, lineOf } from './line.ts'
import type { Pairing } from './pairing.ts'
import type { GroovePlan, LaidScheme } from './plan.ts'
import { differs, Pool, soundedOf } from './pool.ts'
import { onNeck, type Problem, type Solved } from './problem.ts'
import { sameEachTime } from './repeats.ts'
import type { GrooveRequest, Surprise } from './request.ts'
import type { PricedStance } from './stance.ts'
import { type Earlier, vary } from './vary.ts'

/** Grooves lie so many times as far apart as walking lines, which differ note by note. */
const POINTS_APART = 6

/**
 * Bars whose best plan is solved once the first line is proven, each with its best answer among so many; steps and plans in each round before proving is given up, and rounds while lines are missing; notes looked at for another line
 * of one plan, and on the whole.
 */
const SEVERAL = {
  apart: 20,
  near: 60,
  nearest: 24,
  answers: 12,
  steps: 2000,
  solved: 30,
  rounds: 4,
  notes: 1500,
  allNotes: 6000,
}

/** The lines after the first: the next proven plan that differs enough, another line of a plan, or one of those that are known. */
export class FurtherLines {
  readonly lines: GrooveLine[] = []
  readonly solvedOf = new Map<GrooveLine, Solved>()
  /** set once nothing is left to do */
  end: { readonly exhausted: boolean } | undefined
  readonly #request: GrooveRequest
  readonly #problem: Problem
  /** the lines as something to differ from */
  readonly #earlier: Earlier[] = []
  readonly #pool: Pool
  /** lines whose plans have not been looked at for others yet */
  readonly #taken: Solved[] = []
  #isGathered = false
  /** the plans that are gathered, not yet solved */
  readonly #gathering: { readonly plan: GroovePlan; readonly stance: PricedStance }[] = []
  #turns = 0
  #rounds = 0
  #solvedFirst = 0
  /** notes that may still be looked at for other lines of one plan; what lines that were not looked for cost at least */
  #notes = SEVERAL.allNotes
  #open = IMPOSSIBLE

  constructor(request: GrooveRequest, problem: Problem) {
    this.#request = request
    this.#problem = problem
    this.#pool = new Pool(request.form, problem, (solved) => this.#tied(solved))
  }

  get areWanted(): boolean {
    return this.#request.variations > 1 || this.#request.surprise !== undefined
  }

  /** Takes note of the best line of a plan that was solved. */
  know(solved: Solved): void {
    const tied = this.areWanted ? this.#tied(solved) : undefined
    if (tied) this.#pool.add(tied)
  }

  /** Lines that cost so much were not looked for. */
  leaveOpen(least: number): void {
    this.#open = Math.min(this.#open, least)
  }

  /**
   * What is to be done for further lines before plans are looked into: true if something was.
   *
   * @param front      what plans that are not looked into cost at least
   * @param solved     plans solved so far
   * @param isGivenUp  no more plans are looked into
   */
  step(front: number, solved: number, isGivenUp: boolean): boolean {
    if (this.lines.length === 0) return false
    if (!this.#isGathered) {
      this.#isGathered = true
      this.#solvedFirst = solved
      this.#gather()
      return true
    }
    const gathered = this.#gathering.pop()
    if (gathered) {
      const { plan, stance } = gathered
      const swept = this.#problem.sweep.solve(this.#problem.plans.alternativesOf(plan), stance, IMPOSSIBLE - 1)
      if (swept) this.know({ plan, swept })
      return true
    }
    if (isGivenUp || ++this.#turns > SEVERAL.steps || solved - this.#solvedFirst > SEVERAL.solved) {
      this.#fillUp(front, solved)
      return true
    }
    return false
  }

  /** Takes the best line that is known, since looking into plans is given up; what was not looked into costs at least `front`. */
  takeUnproven(first: Solved, front: number): void {
    this.leaveOpen(front)
    this.#take(first, front)
  }

  /** No plan is left to be looked into. */
  runOut(first: Solved | undefined, solved: number): void {
    const { surprise } = this.#request
    if (this.areWanted && this.lines.length === 0 && first) this.#take(first, IMPOSSIBLE)
    else if (surprise && this.lines.length > 0) this.#draw(surprise)
    else if (this.lines.length > 0 && this.#open < IMPOSSIBLE) this.#fillUp(IMPOSSIBLE, solved)
    else this.end = { exhausted: false }
  }

  /**
   * Takes a proven plan as a line if it differs enough from those before; else another line of the plan is looked for.
   *
   * @returns  that other line
   */
  accept(solved: Solved): Solved | undefined {
    const { plans, sweep } = this.#problem
    const { form, difference, surprise, repeats } = this.#request
    const { plan, swept } = solved
    if (surprise && this.lines.length > 0) return undefined
    const tied = this.#tied(solved)
    if (tied && differs(soundedOf(form, sweep, tied.swept), this.#earlier, difference)) {
      this.#take(tied, Math.min(this.#open, swept.cost + plan.points))
      return undefined
    }
    if (this.#notes <= 0 || plan.change !== undefined || repeats) {
      this.leaveOpen(swept.cost + plan.points)
      return undefined
    }
    const priced = sweep.stances.find(({ stance }) => stance === swept.stance)!
    const most = Math.min(SEVERAL.notes, this.#notes)
    const varied = vary(sweep, form, plans.alternativesOf(plan), priced, this.#earlier, difference, most)
    this.#notes -= varied.looked
    if (varied.kind === 'given-up') this.leaveOpen(varied.bound + plan.points)
    return varied.kind === 'line' ? { plan, swept: varied.swept } : undefined
  }

  /** Has the best plan solved of each of the bars that look best and differ from each other as lines have to. */
  #gather(): void {
    const { plans, pairings } = this.#problem
    if (plans.isFree) return
    const { difference } = this.#request
    const bars = plans.schemes.flatMap((scheme) =>
      pairings.map((a) => ({ scheme, a, bound: plans.quickBound(scheme, a) })),
    )
    bars.sort((x, y) => x.bound - y.bound)
    // Some that look best, and some that lie apart from each other.
    const apart: typeof bars = []
    for (const bar of bars) {
      if (apart.length === SEVERAL.apart) break
      if (apart.every(({ a }) => plans.shareApart(a, bar.a) >= difference)) apart.push(bar)
    }
    const near = bars.slice(0, SEVERAL.near).filter((bar) => !apart.includes(bar))
    const best = (taken: typeof bars) =>
      taken
        .flatMap(({ scheme, a }) => {
          const made =
            plans.period > 1 ? this.#periodOf(scheme, a) : plans.plansOf(scheme, a, IMPOSSIBLE, SEVERAL.answers)
          const [plan] = [...made].sort((x, y) => plans.laidBound(x) - plans.laidBound(y))
          return plan ? [onNeck(this.#problem, plan)[0]!] : []
        })
        .sort((x, y) => x.bound - y.bound)
    this.#gathering.push(...best(apart), ...best(near).slice(0, SEVERAL.nearest))
  }

  /** A bar goes on as a period: every second bar is it, and those between are the two that go best with it. */
  #periodOf(scheme: LaidScheme, a: Pairing): readonly GroovePlan[] {
    const { plans } = this.#problem
    const ranked = plans.ranked(scheme, 1)
    const others = Array.from({ length: SEVERAL.answers }, (_, rank) => ranked.at(rank))
      .flatMap((one) => (one && one.pairing !== a ? [one] : []))
      .map(({ pairing, bound }) => ({ pairing, bound: bound + plans.differencePoints(a, pairing) }))
      .sort((x, y) => x.bound - y.bound)
      .map(({ pairing }) => pairing)
    const [first, second] = others
    const motif = plans.period === 2 ? [a, first] : [a, first, a, second]
    const plan = motif.every((one) => one !== undefined) ? plans.planOf(scheme, motif) : undefined
    return plan ? [plan] : []
  }

  /** A solved plan with its bars the same wherever they are played again, if that is asked for. */
  #tied(solved: Solved): Solved | undefined {
    const { repeats } = this.#request
    return repeats ? sameEachTime(repeats, this.#problem, solved) : solved
  }

  /** Takes a line; what may be open costs at least `least`. */
  #take(solved: Solved, least: number): void {
    const { form, variations, surprise } = this.#request
    const cost = solved.swept.cost + solved.plan.points
    const line = lineOf(this.#request, this.#problem, solved, Math.max(0, cost - least))
    if (!line) return
    this.lines.push(line)
    this.solvedOf.set(line, solved)
    this.#taken.push(solved)
    this.#earlier.push(soundedOf(form, this.#problem.sweep, solved.swept))
    // A drawn line comes after the best is known and others are gathered.
    const isDrawn = surprise && !this.#isGathered
    if (this.lines.length >= variations && !isDrawn) this.end = { exhausted: false }
  }

  /** Draws lines by chance from those that are known. */
  #draw({ halfPoints, seed }: Surprise): void {
    const { difference, variations } = this.#request
    const optimum = this.lines[0]!.cost
    const random = randomFrom(seed)
    this.lines.length = 0
    this.#earlier.length = 0
    while (!this.end) {
      const next = this.#pool.draw(random, optimum, (POINTS_APART * halfPoints) / 2, this.#earlier, difference)
      if (next) this.#take(next, optimum)
      if (!next || this.lines.length === variations) this.end = { exhausted: this.lines.length < variations }
    }
  }

  /** Takes one of the lines that are missing from those that are known. */
  #fillUp(front: number, solved: number): void {
    if (this.#request.surprise) {
      this.#draw(this.#request.surprise)
      return
    }
    // Whatever comes after these is not proven either.
    this.leaveOpen(front)
    const { difference } = this.#request
    const taken = this.#taken.pop()
    if (taken) {
      this.#pool.addOthers(taken, this.#earlier, difference)
      return
    }
    const next = this.#pool.next(this.#earlier, difference)
    if (next) this.#take(next, this.#open)
    else if (++this.#rounds >= SEVERAL.rounds) this.end = { exhausted: true }
    else {
      this.#turns = 0
      this.#solvedFirst = solved
    }
    this.lines.sort((a, b) => a.cost - b.cost)
  }
}
