import { type Clash, clashOf } from './clash.ts'
import { explain } from './explain.ts'
import type { Line, SearchedLine } from './line.ts'
import { type BuildRequest, isLooped, searchOf } from './line-search.ts'
import { pedalledForm } from './pedalled-form.ts'

/** Lines, cheapest first, or the rules that leave none. */
export type BuildResult =
  | {
      readonly ok: true
      readonly lines: readonly Line[]
      /** fewer lines than asked: no more of them differ enough, or looking for them was given up */
      readonly fewer: 'none-left' | 'given-up' | undefined
      /** bars that are played several times have a new line each time, since none was found that stays the same */
      readonly repeatsDiffer: boolean
    }
  | { readonly ok: false; readonly clash: Clash }

/** The best lines over a form, each note explained. */
export function build(request: BuildRequest): BuildResult {
  const steps = building(request)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

/**
 * The same a step at a time: yields the lines known so far, the first one perhaps not yet the best (`provenWithin`), so that the
 * caller may show them, take breath, or give the rest up.
 */
export function* building(request: BuildRequest): Generator<readonly Line[], BuildResult> {
  const search = searchOf(request)
  const { instrument, key } = request
  const form = pedalledForm(request.form, request.rules)
  const loop = isLooped(request, request.rules)
  // A line comes again with every step, only closer to its proof.
  const known = new Map<SearchedLine['notes'], Line>()
  const explained = (line: SearchedLine): Line => {
    const whole = known.get(line.notes) ?? explain(line, { form, instrument, key, loop })
    known.set(line.notes, whole)
    return { ...whole, provenWithin: line.provenWithin }
  }
  const steps = search.lines(request.rules)
  let step = steps.next()
  while (!step.done) {
    yield step.value.map(explained)
    step = steps.next()
  }
  const result = step.value
  if (!result.ok) return { ok: false, clash: clashOf(request, result.barIndex, search) }
  const lines = result.lines.map(explained)
  const fewer = lines.length === request.variations ? undefined : result.exhausted ? 'given-up' : 'none-left'
  return { ok: true, lines, fewer, repeatsDiffer: result.repeatsDiffer === true }
}
