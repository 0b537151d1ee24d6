import { MOST_TIMES } from './bar-reader.ts'
import type { WrittenBar } from './chart.ts'
import type { Diagnoses } from './diagnostic.ts'
import type { Span } from './span.ts'

/** Bars of an ending, and the times it is played. */
interface Ending {
  readonly numbers: readonly number[]
  readonly span: Span
  readonly from: number
  to: number
  /** `:|` at its end, and how often it says the repeat is played */
  closed: { readonly times: number | undefined; readonly span: Span } | undefined
}

/** A repeat that is not yet at its end. */
interface Repeat {
  readonly from: number
  /** `|:`; `undefined` where it goes back to the beginning */
  readonly start: Span | undefined
  readonly endings: Ending[]
}

/** Bars played one after the other, half-open. */
export interface Run {
  readonly from: number
  readonly to: number
}

/**
 * Runs of written bars in the order in which a stretch of them is played, its repeats and endings followed. A repeat is a run for
 * each time, so there may be many; an end without a start goes back to the repeat before, or to the beginning of the stretch.
 *
 * @param bars     all written bars
 * @param whole    indices of those that are played
 */
export function runsOf(bars: readonly WrittenBar[], whole: Run, diagnoses: Diagnoses): readonly Run[] {
  const runs: Run[] = []
  // Where a repeat end without a start goes back to; bars before it are in `runs` already, or before the stretch.
  let played = whole.from
  let open: Repeat | undefined

  const finish = (to: number, times: number): void => {
    runs.push(...runsOfRepeat(open!, to, times, diagnoses))
    played = to
    open = undefined
  }

  for (let i = whole.from; i < whole.to; i++) {
    const bar = bars[i]!
    if (open?.endings.some(({ closed }) => closed) && (bar.repeatStart || bar.section)) finish(i, 1)
    if (bar.repeatStart) {
      if (open) sayUnclosed(open, true, diagnoses)
      runs.push({ from: played, to: i })
      played = i
      open = { from: i, start: bar.repeatStart.span, endings: [] }
    }
    if (bar.ending) {
      open ??= { from: played, start: undefined, endings: [] }
      const last = open.endings.at(-1)
      if (last && !last.closed) {
        const message = `Ending ${last.numbers.join(', ')} does not end with :| before this one begins. It is read as if it did.`
        diagnoses.warning('chart/ending-not-closed', bar.ending.span, message)
        last.closed = { times: undefined, span: bar.ending.span }
      }
      open.endings.push({ numbers: bar.ending.value, span: bar.ending.span, from: i, to: i + 1, closed: undefined })
    }
    const ending: Ending | undefined = open?.endings.at(-1)
    if (ending && !ending.closed) ending.to = i + 1

    const next = i + 1 < whole.to ? bars[i + 1] : undefined
    if (bar.repeatEnd) {
      const { value: times, span } = bar.repeatEnd
      open ??= { from: played, start: undefined, endings: [] }
      if (!open.start) {
        const message =
          'No |: stands before this end of a repeat. It goes back to the beginning, or to the end of the repeat before.'
        diagnoses.hint('chart/repeat-without-start', span, message)
      }
      if (!ending) finish(i + 1, times ?? 2)
      else {
        ending.closed = { times, span }
        if (!next?.ending) finish(i + 1, 1)
      }
    } else if (bar.barLine !== 'single' && open?.endings.some(({ closed }) => closed)) finish(i + 1, 1)
  }
  if (open?.endings.some(({ closed }) => closed)) finish(whole.to, 1)
  else if (open) sayUnclosed(open, false, diagnoses)
  runs.push({ from: played, to: whole.to })
  return runs
}

function sayUnclosed({ start, endings }: Repeat, nested: boolean, diagnoses: Diagnoses): void {
  const ending = endings[0]
  if (ending && !start) {
    const message = 'An ending belongs to a repeat, and no :| ends it. Its bars are played straight on.'
    diagnoses.warning('chart/ending-outside-repeat', ending.span, message)
  } else if (start && nested) {
    const message = 'Another repeat begins before this one ends, and repeats do not nest. This start is left out.'
    diagnoses.warning('chart/nested-repeat', start, message)
  } else if (start) {
    const message = 'This repeat has no end, :|. Its bars are played once.'
    diagnoses.warning('chart/repeat-without-end', start, message)
  }
}

/**
 * A repeat played out.
 *
 * @param to     index behind its last bar
 * @param times  how often it is played, where it has no endings
 */
function runsOfRepeat({ from, endings }: Repeat, to: number, times: number, diagnoses: Diagnoses): readonly Run[] {
  const first = endings[0]
  if (!first) return Array.from({ length: times }, () => ({ from, to }))
  const ofTime = new Map<number, Ending>()
  for (const ending of endings)
    for (const number of ending.numbers) {
      if (ofTime.has(number)) {
        const message = `This repeat has an ending ${number} already. The first one is played.`
        diagnoses.warning('chart/ending-twice', ending.span, message)
      } else ofTime.set(number, ending)
    }
  let last = Math.max(...ofTime.keys())
  const isAlone = endings.length === 1 && first.closed !== undefined
  for (const { closed } of endings) {
    if (closed?.times === undefined || closed.times === last || (isAlone && closed.times === last + 1)) continue
    const message = `The endings say that this repeat is played ${last} times, and this says ${closed.times}. The endings count.`
    diagnoses.warning('chart/count-and-endings', closed.span, message)
  }
  const runs: Run[] = []
  for (let time = 1; time <= last; time++) {
    runs.push({ from, to: first.from })
    const ending = ofTime.get(time)
    if (ending) runs.push(ending)
    else {
      const before = ofTime.get(time - 1) ?? first
      ofTime.set(time, before)
      runs.push(before)
      const message = `This repeat has no ending ${time}. Time ${time} has ending ${before.numbers.join(', ')}.`
      diagnoses.warning('chart/ending-missing', first.span, message)
    }
  }
  // A first ending alone is skipped the last time, and what stands behind it is the second one.
  if (isAlone && last < MOST_TIMES) {
    last++
    const message = `No ending ${last} is written. Time ${last} skips this ending and goes on behind it.`
    diagnoses.hint('chart/last-ending-missing', first.span, message)
    runs.push({ from, to: first.from })
  }
  return runs
}
