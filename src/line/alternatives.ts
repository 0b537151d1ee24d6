import { nameAt } from './explain.ts'
import type { Line } from './line.ts'
import { type BuildRequest, isLooped, searchOf } from './line-search.ts'
import { pedalledForm } from './pedalled-form.ts'

/** Another pitch that a note could have. */
export interface Alternative {
  /** as spelled in its place: `F2` */
  readonly name: string
  readonly pitch: number
  /** points of the best line that has it there */
  readonly cost: number
  /** how far that line is above the best of all */
  readonly above: number
}

/** So many are worth reading. */
const MOST = 8

/**
 * What else each note of some lines could be, and what that would cost: by line and by note, the cheapest first, at most eight. A dead
 * note has none. `undefined` where nothing is known of that.
 */
export function alternativesOf(
  request: BuildRequest,
  lines: readonly Line[],
): readonly (readonly (readonly Alternative[])[])[] | undefined {
  const byLine = searchOf(request).alternatives(request.rules)
  if (!byLine) return undefined
  const { instrument, key, rules } = request
  const form = pedalledForm(request.form, rules)
  const context = { form, instrument, key, loop: isLooped(request, rules) }
  return lines.map(({ notes }, line) => {
    const slots = byLine[line] ?? []
    const struck = notes.filter(({ slot }) => !slot.ghost)
    if (struck.length !== slots.length) return notes.map(() => [])
    let index = -1
    return notes.map((note) => {
      if (note.slot.ghost) return []
      index++
      const at = index
      const { costs } = slots[at]!
      const best = Math.min(...costs.values())
      return [...costs]
        .filter(([pitch]) => pitch !== note.pitch)
        .sort(([x, a], [y, b]) => a - b || x - y)
        .slice(0, MOST)
        .map(([pitch, cost]) => ({ name: nameAt(struck, at, pitch, context), pitch, cost, above: cost - best }))
    })
  })
}
