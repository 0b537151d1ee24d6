/**
 * The word that was likely meant: the first of those near; `undefined` if none is.
 *
 * @example
 * nearest('temop', ['title', 'tempo']) // => 'tempo'
 * nearest('colour', ['title', 'tempo']) // => undefined
 */
export function nearest(word: string, words: readonly string[]): string | undefined {
  return byNearness(word, words)[0]
}

/**
 * The words that are near, nearest first: by letters added, left out, changed or swapped, at most two of them and fewer than half of
 * the word; of equals the one of the same length, then the first.
 *
 * @example
 * byNearness('dmi7', ['m7', 'mi7', 'dim7']) // => ['dim7', 'mi7']
 */
export function byNearness(word: string, words: readonly string[]): readonly string[] {
  const limit = Math.min(3, Math.ceil(word.length / 2))
  const near: { readonly other: string; readonly edits: number; readonly longer: number }[] = []
  for (const other of words) {
    const longer = Math.abs(other.length - word.length)
    if (longer >= limit) continue
    const edits = editsBetween(word.toLowerCase(), other.toLowerCase())
    if (edits < limit) near.push({ other, edits, longer })
  }
  return near.sort((a, b) => a.edits - b.edits || a.longer - b.longer).map(({ other }) => other)
}

/** Edits with swaps of neighbours ("optimal string alignment"). */
export function editsBetween(a: string, b: string): number {
  let before: number[] = []
  let last = Array.from({ length: b.length + 1 }, (_, j) => j)
  for (let i = 1; i <= a.length; i++) {
    const row = [i]
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1
      let edits = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + same)
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) edits = Math.min(edits, before[j - 2]! + 1)
      row.push(edits)
    }
    before = last
    last = row
  }
  return last[b.length]!
}
