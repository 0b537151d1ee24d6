import { randomFrom } from '../search/random.ts'
import { IMPOSSIBLE } from '../search/trellis.ts'
import { type GrooveLine, lineOf } from './groove-line.ts'
import type { GroovePlan } from './groove-plan.ts'
import { differs, Pool, soundedOf } from './groove-pool.ts'
import { onNeck, type Problem, type Solved } from './groove-problem.ts'
import { sameEachTime } from './groove-repeats.ts'
import type { GrooveRequest, Surprise } from './groove-request.ts'
import type { PricedStance } from './groove-stance.ts'
import { type Earlier, vary } from './groove-vary.ts'

/** Grooves lie so many times as far apart as walking lines, which differ note by note. */
const POINTS_APART = 6

/**
 * Bars whose best plan is looked at once the first line is proven, each with its best answer among so many, and of these the plans that are
 * solved; steps and plans in each round before proving is given up, and rounds while lines are missing; notes looked at for another line
 * of one plan, and on the whole.
 */
const SEVERAL = {
  bars: 80,
  answers: 12,
  plans: 20,
  steps: 2000,
  solved: 30,
  rounds: 4,
  notes: 1500,
  allNotes: 6000,
}

/** The lines after the first: the next proven plan that differs enough, another line of a plan, or one of those that are known. */
export class FurtherLines {
  readonly lines: GrooveLine[] = []
  /** set once nothing is left to do */
  end: { readonly exhausted: boolean } | undefined
  readonly #request: GrooveRequest
  readonly #problem: Problem
  /** the lines as something to differ from */
  readonly #earlier: Earlier[] = []
  readonly #pool: Pool
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
    this.#pool = new Pool(request.form, problem.plans, problem.sweep)
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
   * @param front   what plans that are not looked into cost at least
   * @param solved  plans solved so far
   */
  step(front: number, solved: number): boolean {
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
    if (++this.#turns > SEVERAL.steps || solved - this.#solvedFirst > SEVERAL.solved) {
      this.#fillUp(front, solved)
      return true
    }
    return false
  }

  /** No plan is left to be looked into. */
  runOut(first: Solved | undefined): void {
    const { surprise } = this.#request
    if (this.areWanted && this.lines.length === 0 && first) this.#take(first, IMPOSSIBLE)
    else if (surprise && this.lines.length > 0) this.#draw(surprise)
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

  /** Solves the best plan of each of the bars that look best, so that there are lines which differ. */
  #gather(): void {
    const { plans, pairings } = this.#problem
    if (plans.isFree) return
    const bars = plans.schemes.flatMap((scheme) =>
      pairings.map((a) => ({ scheme, a, bound: plans.quickBound(scheme, a) })),
    )
    bars.sort((x, y) => x.bound - y.bound)
    const taken = bars.filter(({ a }, index) => bars.findIndex((other) => other.a === a) === index)
    const looked = taken.slice(0, SEVERAL.bars).flatMap(({ scheme, a }) => {
      const made = plans.plansOf(scheme, a, IMPOSSIBLE, SEVERAL.answers)
      const [plan] = [...made].sort((x, y) => plans.laidBound(x) - plans.laidBound(y))
      return plan ? [onNeck(this.#problem, plan)[0]!] : []
    })
    looked.sort((x, y) => x.bound - y.bound)
    this.#gathering.push(...looked.slice(0, SEVERAL.plans))
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
    const next = this.#pool.next(this.#earlier, this.#request.difference)
    if (next) this.#take(next, this.#open)
    else if (++this.#rounds >= SEVERAL.rounds) this.end = { exhausted: true }
    else {
      this.#turns = 0
      this.#solvedFirst = solved
    }
    this.lines.sort((a, b) => a.cost - b.cost)
  }
}
