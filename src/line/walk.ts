import { costsToGo, deadLayer } from '../search/cost-to-go.ts'
import { ExcessGraph } from '../search/excess.ts'
import type { SearchedLine } from './line.ts'
import { KnownWalks } from './walk-known.ts'
import { type WalkRequest, walkProblem, withPatterns } from './walk-problem.ts'
import { repeating } from './walk-repeats.ts'
import { bestCost, type WalkResult, writing } from './walk-written.ts'

/**
 * The best walking lines over a rhythm plan: the exact optimum over (string, fret, hand, pattern place, last move), and after it
 * the cheapest lines that differ from each earlier one in at least the share asked for; or lines drawn by chance. Bars that are played
 * again are the same each time, if they are to be.
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
  return yield* asked.repeats ? repeating(asked, asked.repeats, known) : writing(asked, known)
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
