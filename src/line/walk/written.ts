import { bestPath, type CostsToGo, costing, costsToGo, deadLayer, leastCost } from '../../search/cost-to-go.ts'
import { ExcessGraph, type Found, loopFrom, type NearDemands } from '../../search/excess.ts'
import { bestPaths } from '../../search/k-best.ts'
import { leastThrough, leastWith } from '../../search/least-through.ts'
import { randomFrom } from '../../search/random.ts'
import { halvingFactor, Sampler } from '../../search/sample.ts'
import { IMPOSSIBLE } from '../../search/trellis.ts'
import type { SearchedLine } from '../line.ts'
import type { NeckTrellis } from '../neck-step.ts'
import { KnownWalks } from './known.ts'
import { notesOf, type Surprise, type WalkProblem, type WalkRequest, walkProblem, withPatterns } from './problem.ts'

/** The lines, cheapest first, or the bar where no line can go on. */
export type WalkResult =
  | {
      readonly ok: true
      /** at least one; fewer than asked where no more are different enough, or `exhausted` says that looking on was given up */
      readonly lines: readonly SearchedLine[]
      readonly exhausted: boolean
      /** no line stays the same wherever its bars are played again, so they have a new one each time */
      readonly repeatsDiffer?: boolean
    }
  | { readonly ok: false; readonly barIndex: number }

/**
 * Distances above the optimum, in points, within which further lines and loops are looked for. They grow by half: the labels
 * of a search grow faster than its limit.
 */
const LIMITS = [5, 8, 12, 18, 24, 36, 54, 80, 120, 180, 270, 400, 600]

/** Points above the best line within which it is known what else a slot could have. */
const ALTERNATIVES_WITHIN = 24

/** Draws for each line asked for, before it is given up that more are different enough. */
const DRAWS = 60

/** Half points that halve the likelihood of lines that are drawn where looking for the cheapest was given up, in turn. */
const FILLING = [2, 4]

/**
 * Drawn lines have only notes of which each stands in some line so many times the points that halve the likelihood above the best, or
 * fewer: what is left out is less likely than one in 4,096.
 */
const HALVINGS = 12

/** The best walking lines over a form written out, each slot with a note of its own: yields all lines known so far, none at first. */
export function* writing(asked: WalkRequest, known: KnownWalks): Generator<readonly SearchedLine[], WalkResult> {
  const request = withPatterns(asked, known)
  const problem = walkProblem(request, known)
  if (!problem) return { ok: true, lines: [lineOf(request, undefined, [], 0, 0)], exhausted: false }
  const { trellis, places } = problem
  const costs = costing(trellis, known.layers)
  let cost = costs.next()
  while (!cost.done) {
    yield []
    cost = costs.next()
  }
  const toGo = cost.value
  if (leastCost(trellis, toGo) >= IMPOSSIBLE) {
    return { ok: false, barIndex: places[deadLayer(trellis, toGo)!]!.slot.barIndex }
  }
  const differing = Math.ceil(request.difference * places.length - 1e-9)
  const steps = request.surprise
    ? drawn(request, request.surprise, problem, toGo, differing)
    : request.variations > 1 && differing <= 1
      ? nearest(request, problem, toGo)
      : different(request, problem, toGo, places.length - differing)
  let step = steps.next()
  while (!step.done) {
    yield step.value
    step = steps.next()
  }
  if (step.value.lines.length === 0) return { ok: false, barIndex: places.at(-1)!.slot.barIndex }
  return { ok: true, ...step.value }
}

type Lines = { readonly lines: readonly SearchedLine[]; readonly exhausted: boolean }

/** The best line, and the cheapest that have at most `most` notes in common with each earlier one. */
function* different(
  request: WalkRequest,
  problem: WalkProblem,
  toGo: CostsToGo,
  most: number,
): Generator<readonly SearchedLine[], Lines> {
  const { trellis } = problem
  let excess = new ExcessGraph(trellis, toGo)
  let closing = request.loop ? trellis.closing : undefined
  const lines: SearchedLine[] = []
  const others: { labels: readonly number[]; most: number }[] = []
  let firstState: number | undefined
  let least = 0
  while (lines.length < request.variations) {
    const found =
      lines.length === 0 && !closing
        ? plainBest(trellis, toGo)
        : excess.cheapest({ others: [...others], closing }, LIMITS)
    if (found.kind === 'given-up' && closing && firstState !== undefined) {
      // Loops that begin as the best one does are plain paths: those are found, and only not proven to be the best of all.
      const round = loopFrom(trellis, closing, firstState)
      excess = new ExcessGraph(round, costsToGo(round), excess.work)
      closing = undefined
      continue
    }
    if (found.kind === 'given-up' && lines.length > 0) {
      const more = filledUp(request, problem, excess, others, lines.at(-1)!)
      lines.push(...more)
      return { lines, exhausted: lines.length < request.variations }
    }
    if (found.kind !== 'path') return { lines, exhausted: found.kind === 'given-up' }
    others.push({ labels: found.path.map((state, layer) => trellis.label(layer, state)), most })
    firstState ??= found.path[0]!
    if (lines.length === 0) least = found.cost
    const isPart = request.loop && !closing
    lines.push(lineOf(request, problem, found.path, found.cost, isPart ? found.cost - least : found.provenWithin))
    if (lines.length < request.variations) yield [...lines]
  }
  return { lines, exhausted: false }
}

/**
 * Lines that differ from some others and from each other, cheapest first, where looking for the cheapest of them was given up: drawn by
 * chance, near the best first. Loops are those that the graph holds as plain paths. No such line is cheaper than the last one was proven to be.
 */
function filledUp(
  request: WalkRequest,
  problem: WalkProblem,
  excess: ExcessGraph,
  others: readonly { readonly labels: readonly number[]; readonly most: number }[],
  last: SearchedLine,
): readonly SearchedLine[] {
  const wanted = request.variations - others.length
  const taken = [...others]
  const found: { readonly states: readonly number[]; readonly cost: number }[] = []
  const random = randomFrom(1)
  for (const halfPoints of FILLING) {
    const near = excess.within(Math.ceil((HALVINGS * halfPoints) / 2))
    const sampler = new Sampler(near, halvingFactor(halfPoints))
    for (let draw = 0; draw < DRAWS * wanted && found.length < wanted; draw++) {
      const path = sampler.draw(random)
      if (!path) break
      const labels = path.map((state, layer) => near.labels[layer]![state]!)
      const agrees = (other: readonly number[]) => labels.filter((label, i) => label === other[i]).length
      if (taken.some((other) => agrees(other.labels) > other.most)) continue
      const fingered = leastWith(near, labels)!
      taken.push({ labels, most: taken[0]!.most })
      found.push({ states: statesOf(near, fingered.states), cost: excess.optimum + fingered.loss })
    }
  }
  const proven = last.cost - last.provenWithin - planCost(request)
  return found
    .sort((a, b) => a.cost - b.cost)
    .map(({ states, cost }) => lineOf(request, problem, states, cost, cost - proven))
}

/** The best lines that differ in a note at least. */
function* nearest(
  request: WalkRequest,
  problem: WalkProblem,
  toGo: CostsToGo,
): Generator<readonly SearchedLine[], Lines> {
  const excess = new ExcessGraph(problem.trellis, toGo)
  let lines: SearchedLine[] = []
  for (const limit of LIMITS) {
    const near = excess.within(limit)
    lines = []
    for (const { states, loss } of bestPaths(near, extraOf(request, problem, near))) {
      lines.push(lineOf(request, problem, statesOf(near, states), excess.optimum + loss, 0))
      if (lines.length === request.variations) return { lines, exhausted: false }
    }
    if (lines.length > 0) yield [...lines]
  }
  return { lines, exhausted: false }
}

/** Lines drawn by chance, each with its cheapest fingering, that differ from each other as asked. */
function* drawn(
  request: WalkRequest,
  { halfPoints, seed }: Surprise,
  problem: WalkProblem,
  toGo: CostsToGo,
  differing: number,
): Generator<readonly SearchedLine[], Lines> {
  const excess = new ExcessGraph(problem.trellis, toGo)
  const optimum = bestCost(request, problem, excess, toGo)
  if (optimum === undefined) return { lines: [], exhausted: false }
  const near = excess.within(Math.ceil((HALVINGS * halfPoints) / 2) + optimum - excess.optimum)
  const extra = extraOf(request, problem, near)
  const sampler = new Sampler(near, halvingFactor(halfPoints))
  const random = randomFrom(seed)
  const lines: SearchedLine[] = []
  const taken: (readonly number[])[] = []
  for (let draw = 0; draw < DRAWS * request.variations && lines.length < request.variations; draw++) {
    const path = sampler.draw(random, extra)
    if (!path) break
    const labels = path.map((state, layer) => near.labels[layer]![state]!)
    const isNew = taken.every(
      (other) => labels.filter((label, i) => label !== other[i]).length >= Math.max(1, differing),
    )
    if (!isNew) continue
    const fingered = leastWith(near, labels, extra)!
    const cost = excess.optimum + fingered.loss
    taken.push(labels)
    lines.push(lineOf(request, problem, statesOf(near, fingered.states), cost, cost - optimum))
    if (lines.length < request.variations) yield [...lines]
  }
  return { lines, exhausted: lines.length < request.variations }
}

/** What the best line costs, the plan apart; `undefined` if none closes the loop. */
export function bestCost(
  { loop }: WalkRequest,
  { trellis }: WalkProblem,
  excess: ExcessGraph,
  toGo: CostsToGo,
): number | undefined {
  if (!loop) return leastCost(trellis, toGo)
  const found = excess.cheapest({ others: [], closing: trellis.closing }, LIMITS)
  return found.kind === 'path' ? found.cost : undefined
}

/** What else a slot could have: the best line with each other pitch there. */
export interface SlotAlternatives {
  /** pitch to the cost of the whole line, its own pitch among them; those that are not listed cost more than `beyond` */
  readonly costs: ReadonlyMap<number, number>
  readonly beyond: number
}

/**
 * For each sounded slot, what it could have and what that would cost, exactly; none where no line obeys the rules.
 *
 * @param within  points above the best line within which it is looked for
 */
export function walkAlternatives(
  asked: WalkRequest,
  known = new KnownWalks(),
  within = ALTERNATIVES_WITHIN,
): readonly SlotAlternatives[] {
  const request = withPatterns(asked, known)
  const problem = walkProblem(request, known)
  if (!problem) return []
  const { trellis } = problem
  const toGo = costsToGo(trellis, known.layers)
  if (leastCost(trellis, toGo) >= IMPOSSIBLE) return []
  const excess = new ExcessGraph(trellis, toGo)
  const optimum = bestCost(request, problem, excess, toGo)
  if (optimum === undefined) return []
  const near = excess.within(within + optimum - excess.optimum)
  const plan = planCost(request)
  return leastThrough(near, extraOf(request, problem, near)).map((losses) => ({
    costs: new Map([...losses].map(([pitch, loss]) => [pitch, plan + excess.optimum + loss])),
    beyond: plan + optimum + within,
  }))
}

function extraOf({ loop }: WalkRequest, { trellis }: WalkProblem, near: NearDemands) {
  return loop ? near.closingLoss(trellis.closing) : undefined
}

function statesOf(near: NearDemands, path: readonly number[]): readonly number[] {
  return path.map((state, layer) => near.states[layer]![state]!)
}

function planCost({ planTerms }: WalkRequest): number {
  return planTerms.reduce((sum, term) => sum + term.points, 0)
}

function lineOf(
  request: WalkRequest,
  problem: WalkProblem | undefined,
  path: readonly number[],
  cost: number,
  provenWithin: number,
): SearchedLine {
  return {
    notes: problem ? notesOf(request, problem, path) : [],
    ghosts: request.slots.filter((slot) => slot.ghost),
    terms: request.planTerms,
    cost: planCost(request) + cost,
    provenWithin,
  }
}

function plainBest(trellis: NeckTrellis, toGo: CostsToGo): Found {
  const path = bestPath(trellis, toGo)
  return path ? { kind: 'path', path, cost: leastCost(trellis, toGo), provenWithin: 0 } : { kind: 'none' }
}
