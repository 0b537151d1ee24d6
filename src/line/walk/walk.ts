import { costsToGo, deadLayer } from '../../search/cost-to-go.ts'
import { ExcessGraph } from '../../search/excess.ts'
import type { SearchedLine } from '../line.ts'
import type { BarRange } from '../rule.ts'
import { KnownWalks } from './known.ts'
import { type WalkRequest, walkMusts, walkProblem, withPatterns } from './problem.ts'
import { repeating } from './repeats.ts'
import { bestCost, type WalkResult, writing } from './written.ts'

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

/**
 * The bar where no line can go on; `undefined` if some line obeys the rules. Much cheaper than building one.
 *
 * @param bars  only these are looked at, whatever comes before and after: where they have no line the whole has none
 */
export function walkDies(asked: WalkRequest, known = new KnownWalks(), bars?: BarRange): number | undefined {
  const request = withPatterns(asked, known)
  const deadIn = (part: BarRange | undefined): number | undefined => {
    const musts = walkMusts(request, known, part)
    const dead = musts?.trellis.deadEnd()
    return dead === undefined ? undefined : musts!.barAt(dead)
  }
  // Most lines that die do so early: what comes later need not be worked out.
  for (const to of bars ? [] : PREFIXES.filter((count) => 2 * count <= request.form.bars.length)) {
    const dead = deadIn({ from: 0, to })
    if (dead !== undefined) return dead
  }
  const dead = deadIn(bars)
  if (dead !== undefined) return dead
  const isAboutHand = request.rules.some((rule) => rule.test.looksAt === 'hand' && rule.strength === 'must')
  return isAboutHand && !bars ? handDies(request, known) : undefined
}

/** Bars from the beginning that are looked at by themselves first. */
const PREFIXES = [2, 4, 8, 16, 64, 256]

/** Where the hand cannot get from one note to the next, the costs have to say. */
function handDies(request: WalkRequest, known: KnownWalks): number | undefined {
  const problem = walkProblem(request, known)
  if (!problem) return undefined
  const { trellis, places } = problem
  const toGo = costsToGo(trellis, known.layers)
  const dead = deadLayer(trellis, toGo)
  if (dead !== undefined) return places[dead]!.slot.barIndex
  const isClosed = () => bestCost(request, problem, new ExcessGraph(trellis, toGo), toGo) !== undefined
  return request.loop && !isClosed() ? places.at(-1)!.slot.barIndex : undefined
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
