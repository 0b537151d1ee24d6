/**
 * Where an offset stands in a text, as an editor counts: rows and columns from 1, columns in UTF-16 units. An offset behind the end
 * stands at the end. Rows end in a line feed, a carriage return, or both.
 *
 * @param offset  in UTF-16 units from 0
 *
 * @example
 * lineColumn('key: F\n| F7 |', 9) // => { line: 2, column: 3 }
 */
export function lineColumn(text: string, offset: number): { readonly line: number; readonly column: number } {
  let line = 1
  let start = 0
  const end = Math.min(offset, text.length)
  for (let at = 0; at < end; at++) {
    const sign = text[at]
    if (sign !== '\n' && (sign !== '\r' || text[at + 1] === '\n')) continue
    line++
    start = at + 1
  }
  return { line, column: end - start + 1 }
}
