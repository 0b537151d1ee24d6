import { type Form, unfold } from '../../src/chart/form.ts'
import { parseChart } from '../../src/chart/parse.ts'

/**
 * The form of a row of changes: `changes("Dm7 G7 | Cmaj7")`. Repeats, endings and sections may stand in it as in any chart.
 *
 * @throws Error  if there is anything to be said about it: a test's own chart is right
 */
export function changes(
  row: string,
  headers: { readonly key?: string; readonly time?: string; readonly feel?: string; readonly form?: string } = {},
): Form {
  const text = [...Object.entries(headers).map(([name, value]) => `${name}: ${value}`), row].join('\n')
  const { chart, diagnostics } = parseChart(text)
  const unfolded = unfold(chart)
  for (const { severity, message } of [...diagnostics, ...unfolded.diagnostics])
    if (severity !== 'hint') throw new Error(`${row}: ${message}`)
  return unfolded.form
}
