import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Diagnostic } from '../../src/chart/diagnostic.ts'
import type { Form, FormBar } from '../../src/chart/form.ts'
import { lineColumn } from '../../src/chart/line-column.ts'
import { shareBeats } from '../../src/chart/place.ts'
import { beatsOf, formatMetre } from '../../src/music/metre.ts'

/** A chart, the bars it is played as, and what is said about it. */
export interface ChartCase {
  readonly title: string
  readonly text: string
  readonly played: string
  readonly said: readonly string[]
}

/**
 * The cases of a folder. In a file `##` begins a case with its title, the rows behind it are the chart, `->` begins what is played
 * (rows of it follow each other), and `!!` what is said, a row each, in order.
 */
export function chartCases(folder: string): readonly ChartCase[] {
  const files = readdirSync(folder).filter((file) => file.endsWith('.txt'))
  return files.flatMap((file) =>
    readFileSync(join(folder, file), 'utf8')
      .split(/^## /m)
      .slice(1)
      .map((block): ChartCase => {
        const [title, ...rows] = block.trimEnd().split('\n')
        const marked = (mark: string) =>
          rows.filter((row) => row.startsWith(mark)).map((row) => row.slice(mark.length).trim())
        const text = rows.filter((row) => !row.startsWith('->') && !row.startsWith('!!'))
        return { title: title!, text: text.join('\n'), played: marked('->').join(' | '), said: marked('!!') }
      }),
  )
}

/**
 * A form as text: `[A] Dm7 G7 | Cmaj7 | (3/4) N.C.`. Slashes stand where the beats are not shared out evenly; a pick-up stands in
 * `< >`.
 */
export function formText(form: Form): string {
  let metre = '4/4'
  return form.bars
    .map((bar) => {
      const own = formatMetre(bar.metre)
      const change = own === metre ? '' : `(${own}) `
      metre = own
      const section = bar.section === undefined ? '' : `[${bar.section}] `
      const chords = chordsText(bar)
      return section + change + (bar.number === 0 ? `< ${chords} >` : chords)
    })
    .join(' | ')
}

function chordsText({ changes, metre }: FormBar): string {
  const lengths = beatsOf(metre)
  let beat = 0
  const beats = changes.map(({ ticks }) => {
    const first = beat
    for (let left = ticks; left > 0; beat++) left -= lengths[beat]!
    return beat - first
  })
  const even = shareBeats(metre, changes.length)
  const isEven = beats.every((count, i) => count === even[i])
  return changes
    .map(({ chord }, i) => (chord?.symbol.text ?? 'N.C.') + (isEven ? '' : ' /'.repeat(beats[i]! - 1)))
    .join(' ')
}

/** A diagnostic as text: severity, code, place, the letters it stands under, and what may stand there instead. */
export function diagnosticText({ severity, code, span, fixes }: Diagnostic, text: string): string {
  const { line, column } = lineColumn(text, span.from)
  const letters = text.slice(span.from, span.to).replaceAll('\n', '\\n')
  return [`${severity} ${code} ${line}:${column} ${letters}`.trimEnd(), ...fixes].join(' => ')
}

/** A chart or a form without its places in the text, to be compared with another. */
export function withoutSpans(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withoutSpans)
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(
    Object.entries(value)
      .filter(([name]) => name !== 'span')
      .map(([name, part]) => [name, withoutSpans(part)]),
  )
}
