import type { Form } from '../../chart/form.ts'
import { halvingFactor } from '../../search/sample.ts'
import type { LaidBar } from './bar.ts'
import type { GroovePlan } from './plan.ts'
import type { Problem, Solved } from './problem.ts'
import type { Alternatives, Sweep, Swept } from './sweep.ts'
import { differenceBetween, type Earlier, earlierOf } from './vary.ts'

/**
 * What the same pitch at the same place as an earlier line costs, when another line of the same plan is looked for: the less it
 * costs, the nearer to its best the line stays (Lagrangian relaxation).
 */
const PENALTIES = [20, 6]

/** The bars of a phrase of eight in which a line of the same plan may go another way. */
const ELSEWHERE: readonly ((bar: number) => boolean)[] = [
  () => true,
  (bar) => bar % 8 >= 4,
  (bar) => bar % 2 === 1,
  (bar) => bar % 4 >= 2,
  (bar) => bar % 8 >= 6,
]

/** Where each bar is made by itself, so many ways of each, the cheapest, are tried for other lines. */
const FREE_WAYS = 8

/** A drawn line is at least half to this power as likely as the best. */
const HALVINGS = 8

/** 2^32: chance is a share of it. */
const WHOLE = 4294967296

/** A line of the pool, with what it costs on the whole. */
interface Pooled extends Solved {
  readonly cost: number
  readonly notes: Earlier
}

/** Lines that are known but not proven the next: what further lines are taken from where proving is given up. */
export class Pool {
  readonly #form: Form
  readonly #problem: Problem
  readonly #tie: (solved: Solved) => Solved | undefined
  readonly #lines: Pooled[] = []

  /** @param tie  makes a line the same wherever its bars are played again, if that is asked for */
  constructor(form: Form, problem: Problem, tie: (solved: Solved) => Solved | undefined) {
    this.#form = form
    this.#problem = problem
    this.#tie = tie
  }

  add(solved: Solved): void {
    const notes = soundedOf(this.#form, this.#problem.sweep, solved.swept)
    this.#lines.push({ ...solved, cost: solved.swept.cost + solved.plan.points, notes })
  }

  /** Adds other lines of a plan, which go another way than some lines in some of their bars. */
  addOthers(solved: Solved, others: readonly Earlier[], share: number): void {
    for (const isElsewhere of ELSEWHERE) {
      for (const penalty of PENALTIES) {
        const other = this.#otherLine(solved, others, isElsewhere, penalty)
        if (!other || !differs(other.notes, others, share)) break
        this.#lines.push(other)
      }
    }
  }

  /** The cheapest line known that differs from all others by a share of onsets. */
  next(others: readonly Earlier[], share: number): Solved | undefined {
    this.#lines.sort((a, b) => a.cost - b.cost)
    return this.#lines.find((line) => differs(line.notes, others, share))
  }

  /**
   * A line drawn by chance from the best of each plan that differs from all others: each as likely as half to the power of its distance from
   * the best in `points`. The weights are made by multiplication only and summed in a fixed order, so that equal chance draws equal lines on
   * every machine.
   */
  draw(
    random: () => number,
    optimum: number,
    points: number,
    others: readonly Earlier[],
    share: number,
  ): Solved | undefined {
    this.#lines.sort((a, b) => a.cost - b.cost)
    const factor = halvingFactor(2 * points)
    const most = optimum + HALVINGS * points
    const near = this.#bestOfPlans().filter(({ cost, notes }) => cost <= most && differs(notes, others, share))
    const weights = near.map(({ cost }) => {
      let weight = 1
      for (let step = optimum; step < cost; step++) weight *= factor
      return weight
    })
    let left = (random() / WHOLE) * weights.reduce((sum, weight) => sum + weight, 0)
    for (const [index, weight] of weights.entries()) {
      left -= weight
      if (left < 0) return near[index]
    }
    return near.at(-1)
  }

  /** What each bar of a plan may be; where each is made by itself, only some of it. */
  #waysOf(plan: GroovePlan): Alternatives {
    const all = this.#problem.plans.alternativesOf(plan)
    if (plan.change === undefined) return all
    const cost = ({ points, leastRoles }: LaidBar): number => points + leastRoles
    return all.map((bars) => [...bars].sort((x, y) => cost(x) - cost(y)).slice(0, FREE_WAYS))
  }

  #bestOfPlans(): readonly Pooled[] {
    return this.#lines.filter(({ plan }, index) => this.#lines.findIndex((one) => one.plan === plan) === index)
  }

  /** The best line of a plan in a stance with each note dearer, in some bars, that another line has at the same place. */
  #otherLine(
    { plan, swept: { stance } }: Solved,
    others: readonly Earlier[],
    isElsewhere: (bar: number) => boolean,
    penalty: number,
  ): Pooled | undefined {
    const dearer = (barIndex: number, tick: number, pitch: number): number => {
      if (!isElsewhere(barIndex)) return 0
      const at = this.#form.bars[barIndex]!.startTick + tick
      return penalty * others.filter(({ pitches }) => pitches.get(at) === pitch).length
    }
    const { sweep } = this.#problem
    const priced = sweep.stances.find((one) => one.stance === stance)!
    const swept = sweep.solve(this.#waysOf(plan), priced, undefined, {
      dearer,
      change: plan.change,
    })
    if (!swept) return undefined
    const notes = soundedOf(this.#form, sweep, swept)
    const extra = notes.ticks.flatMap((ticks, barIndex) => {
      const start = this.#form.bars[barIndex]!.startTick
      return ticks.map((tick) => dearer(barIndex, tick - start, notes.pitches.get(tick)!))
    })
    const cost = swept.cost - extra.reduce((sum, points) => sum + points, 0)
    const tied = this.#tie({ plan, swept: { ...swept, cost } })
    return tied && { ...tied, cost: tied.swept.cost + plan.points, notes: soundedOf(this.#form, sweep, tied.swept) }
  }
}

/** What sounds in a swept line, as something to differ from. */
export function soundedOf(form: Form, sweep: Sweep, { notes }: Swept): Earlier {
  const { grips } = sweep.steps.voicer.neck
  return earlierOf(
    form,
    notes.map(({ barIndex, bar, slot, candidate }) => {
      const voiced = bar.slots[slot]!
      const startTick = form.bars[barIndex]!.startTick + voiced.laid.onset.tick
      return { slot: { startTick, barIndex }, pitch: grips[voiced.grips[candidate]!]!.pitch }
    }),
  )
}

/** True if a line differs from each other one by at least a share of onsets. */
export function differs(line: Earlier, others: readonly Earlier[], share: number): boolean {
  return others.every((other) => differenceBetween(line, other) >= share - 1e-9)
}
