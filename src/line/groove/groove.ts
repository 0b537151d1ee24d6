import type { SlotAlternatives } from '../walk/written.ts'
import { grooveAlternatives, grooveAlternativesEachTime } from './alternatives.ts'
import { KnownGrooves } from './known.ts'
import type { GrooveLine } from './line.ts'
import { sameEachTime } from './repeats.ts'
import type { GrooveRequest } from './request.ts'
import { type GrooveResult, GrooveSearch } from './search.ts'

export type { GrooveLine, GrooveNote } from './line.ts'
export type { WeightedPattern } from './pairing.ts'
export type { GrooveRequest } from './request.ts'
export type { GrooveProgress, GrooveResult } from './search.ts'

/**
 * The best grooves over a form: the exact optimum over every scheme, bar and answer (each bar with its five best answers) and over
 * all notes of each plan; after it the cheapest lines that differ from each earlier one, other notes of the same plan among them, each with how
 * far it may be from the cheapest. Under a rule about the motif: the bars of a period, or each bar by itself.
 */
export function buildGrooves(request: GrooveRequest, known = new KnownGrooves()): GrooveResult {
  const steps = groovesOf(request, known)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

/** Plans looked into between two breaths: mostly far less than a millisecond of work, and some 20 ms where plans are solved. */
const STEPS_A_BREATH = 4

/** The same a few plans at a time: yields what is known so far, so that the caller may take breath or give it up. */
export function* groovesOf(
  request: GrooveRequest,
  known = new KnownGrooves(),
): Generator<readonly GrooveLine[], GrooveResult> {
  const result = yield* searched(request, known)
  if (result.ok || !request.repeats) return result
  // Nothing was found that stays the same: the lines of the form written out.
  const written = yield* searched({ ...request, repeats: undefined }, known)
  return written.ok ? { ...written, repeatsDiffer: true } : written
}

function* searched(request: GrooveRequest, known: KnownGrooves): Generator<readonly GrooveLine[], GrooveResult> {
  const search = startGrooves(request, known)
  let steps = 1
  for (;;) {
    // The first line is shown as soon as it is there.
    const { done, best } = search.advance(steps)
    if (best) steps = STEPS_A_BREATH
    if (done) return search.result()
    const { lines } = search
    yield lines.length > 0 ? lines : best ? [best] : []
  }
}

/**
 * What else each struck slot of the lines of a request could have, by line; the search is made anew. Where bars are played again, a note
 * is changed in all its playings.
 */
export function alternativesInGrooves(
  request: GrooveRequest,
  known = new KnownGrooves(),
): readonly (readonly SlotAlternatives[])[] {
  const search = startGrooves(request, known)
  while (!search.advance(STEPS_A_BREATH).done);
  const { repeats } = request
  if (!search.result().ok && repeats) return alternativesInGrooves({ ...request, repeats: undefined }, known)
  const { problem, solvedLines } = search
  return solvedLines.map((solved) => {
    const tied = repeats && sameEachTime(repeats, problem, solved)
    return tied ? grooveAlternativesEachTime(problem, tied, repeats) : grooveAlternatives(problem, solved)
  })
}

/** Starts a search that its caller paces. */
export function startGrooves(request: GrooveRequest, known = new KnownGrooves()): GrooveSearch {
  return new GrooveSearch(request, known)
}
