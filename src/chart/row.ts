/** A row of a text, its comment cut off. */
export interface Row {
  readonly text: string
  /** where it begins in the text */
  readonly from: number
  /** the comment with its slashes, if there is one */
  readonly comment: string | undefined
}

/** The rows of a text. They end in a line feed, a carriage return, or both; a comment goes from `//` to the end of its row. */
export function rowsOf(text: string): readonly Row[] {
  const rows: Row[] = []
  let from = text.startsWith('\uFEFF') ? 1 : 0
  for (const end of text.matchAll(/\r\n?|\n|$/g)) {
    const whole = text.slice(from, end.index)
    const slashes = whole.indexOf('//')
    rows.push(
      slashes < 0
        ? { text: whole, from, comment: undefined }
        : { text: whole.slice(0, slashes), from, comment: whole.slice(slashes) },
    )
    from = end.index + end[0].length
  }
  return rows
}
