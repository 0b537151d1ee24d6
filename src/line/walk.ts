import { bestPath, type CostsToGo, costing, costsToGo, deadLayer, leastCost } from '../search/cost-to-go.ts'
import { ExcessGraph, type Found, loopFrom, type NearDemands } from '../search/excess.ts'
import { bestPaths } from '../search/k-best.ts'
import { leastThrough, leastWith } from '../search/least-through.ts'
import { randomFrom } from '../search/random.ts'
import { halvingFactor, Sampler } from '../search/sample.ts'
import { IMPOSSIBLE } from '../search/trellis.ts'
import type { SearchedLine } from './line.ts'
import type { NeckTrellis } from './neck-step.ts'
import { KnownWalks } from './walk-known.ts'
import {
  notesOf,
  type Surprise,
  type WalkProblem,
  type WalkRequest,
  walkProblem,
  withPatterns,
} from './walk-problem.ts'

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

/** Lines more than asked for that are looked at where bars are to be the same each time. */
const SPARE = 4

/** Draws for each line asked for, before it is given up that more are different enough. */
const DRAWS = 60

/**
 * Drawn lines have only notes of which each stands in some line so many times the points that halve the likelihood above the best, or
 * fewer: what is left out is less likely than one in 4,096.
 */
const HALVINGS = 12

/**
 * The best walking lines over a rhythm plan: the exact optimum over (string, fret, hand, pattern place, last move), and after it
 * the cheapest lines that differ from each earlier one in at least the share asked for; or lines drawn by chance.
 *
 * Where two chords follow each other so that nothing can be played, the answer names the bar.
 */
export function walk(asked: WalkRequest, known = new KnownWalks()): WalkResult {
  const steps = walking(asked, known)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

/** The same a step at a time: yields all lines known so far, none at first, so that the caller may take breath or give it up. */
export function* walking(asked: WalkRequest, known = new KnownWalks()): Generator<readonly SearchedLine[], WalkResult> {
  if (!asked.repeats) return yield* written(asked, known)
  const { repeats, variations } = asked
  // Some lose what made them different when they are made the same each time.
  const steps = written(variations > 1 ? { ...asked, variations: variations + SPARE } : asked, known)
  const lines: SearchedLine[] = []
  let tried = 0
  // No line that stays the same is cheaper than the best that need not.
  let least: number | undefined
  const take = (found: readonly SearchedLine[]): void => {
    least ??= found[0]?.cost
    for (; tried < found.length && lines.length < variations; tried++) {
      const tied = tiedLine(asked, found[tried]!, repeats, least!, known)
      if (tied && lines.every((other) => differs(tied, other, asked.difference))) lines.push(tied)
    }
  }
  for (;;) {
    const step = steps.next()
    if (!step.done) {
      take(step.value)
      if (lines.length === variations) return { ok: true, lines, exhausted: false }
      yield [...lines]
      continue
    }
    if (!step.value.ok) return step.value
    take(step.value.lines)
    if (lines.length === 0) return { ...step.value, repeatsDiffer: true }
    return { ok: true, lines, exhausted: lines.length < variations }
  }
}

/**
 * A line whose bars are the same each time they are played: the notes of one of those times everywhere, all others anew, whichever
 * comes cheapest. Seams are paid like any step. `undefined` if a rule forbids all of them.
 */
function tiedLine(
  request: WalkRequest,
  line: SearchedLine,
  repeats: readonly number[],
  least: number,
  known: KnownWalks,
): SearchedLine | undefined {
  const times = new Map<number, number[]>()
  for (const [slot, first] of repeats.entries()) times.set(first, [...(times.get(first) ?? []), slot])
  const most = Math.max(...[...times.values()].map((slots) => slots.length))
  let best: SearchedLine | undefined
  for (let time = 0; time < most; time++) {
    const fixed = (slot: number) => {
      const again = times.get(repeats[slot]!)!
      return again.length > 1 ? line.notes[again[Math.min(time, again.length - 1)]!] : undefined
    }
    const result = walk({ ...request, repeats: undefined, fixed, variations: 1, surprise: undefined }, known)
    if (result.ok && (!best || result.lines[0]!.cost < best.cost)) best = result.lines[0]
  }
  return best && { ...best, provenWithin: Math.max(0, best.cost - least) }
}

/** True if two lines over the same slots differ in at least a share of them, and in one at least. */
function differs(a: SearchedLine, b: SearchedLine, share: number): boolean {
  const count = a.notes.filter((note, i) => note.pitch !== b.notes[i]!.pitch).length
  return count >= Math.max(1, Math.ceil(share * a.notes.length - 1e-9))
}

/** The lines of a form written out. */
function* written(asked: WalkRequest, known: KnownWalks): Generator<readonly SearchedLine[], WalkResult> {
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
      excess = new ExcessGraph(round, costsToGo(round))
      closing = undefined
      continue
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

/** What the best line costs, the plan apart. */
function bestCost(
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

/** For each sounded slot, what it could have and what that would cost, exactly; none where no line obeys the rules. */
export function walkAlternatives(asked: WalkRequest, known = new KnownWalks()): readonly SlotAlternatives[] {
  const request = withPatterns(asked, known)
  const problem = walkProblem(request, known)
  if (!problem) return []
  const { trellis } = problem
  const toGo = costsToGo(trellis, known.layers)
  if (leastCost(trellis, toGo) >= IMPOSSIBLE) return []
  const excess = new ExcessGraph(trellis, toGo)
  const optimum = bestCost(request, problem, excess, toGo)
  if (optimum === undefined) return []
  const near = excess.within(ALTERNATIVES_WITHIN + optimum - excess.optimum)
  const plan = planCost(request)
  return leastThrough(near, extraOf(request, problem, near)).map((losses) => ({
    costs: new Map([...losses].map(([pitch, loss]) => [pitch, plan + excess.optimum + loss])),
    beyond: plan + optimum + ALTERNATIVES_WITHIN,
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

/** The bar where no line can go on; `undefined` if some line obeys the rules. Much cheaper than building one. */
export function walkDies(request: WalkRequest, known = new KnownWalks()): number | undefined {
  const problem = walkProblem(withPatterns(request, known), known)
  if (!problem) return undefined
  const { trellis, places } = problem
  let dead = trellis.deadEnd()
  if (dead === undefined && request.rules.some((rule) => rule.test.looksAt === 'hand')) {
    const toGo = costsToGo(trellis, known.layers)
    dead = deadLayer(trellis, toGo)
    const hasLoop = () => bestCost(request, problem, new ExcessGraph(trellis, toGo), toGo) !== undefined
    if (dead === undefined && request.loop && !hasLoop()) dead = places.length - 1
  }
  return dead === undefined ? undefined : places[dead]!.slot.barIndex
}

/** How many states the search has, for benchmarks: all of them are expanded once. */
export function statesOfWalk(request: WalkRequest): { readonly slots: number; readonly states: number } {
  const problem = walkProblem(request, new KnownWalks())
  if (!problem) return { slots: 0, states: 0 }
  const { trellis } = problem
  let states = 0
  for (let layer = 0; layer < trellis.layers; layer++) states += trellis.size(layer)
  return { slots: trellis.layers, states }
}
