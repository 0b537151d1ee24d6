/**
 * The word that was likely meant: the nearest by letters added, left out, changed or swapped, at most two of them and fewer than half
 * of the word; the first of equals; `undefined` if none is near.
 *
 * @example
 * nearest('temop', ['title', 'tempo']) // => 'tempo'
 * nearest('colour', ['title', 'tempo']) // => undefined
 */
export function nearest(word: string, words: readonly string[]): string | undefined {
  let best: string | undefined
  let least = Math.min(3, Math.ceil(word.length / 2))
  for (const other of words) {
    if (Math.abs(other.length - word.length) >= least) continue
    const edits = editsBetween(word.toLowerCase(), other.toLowerCase())
    if (edits < least) {
      best = other
      least = edits
    }
  }
  return best
}

/** Edits with swaps of neighbours ("optimal string alignment"). */
function editsBetween(a: string, b: string): number {
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
