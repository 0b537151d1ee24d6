import type { Span } from '../chart/span.ts'
import type { Instrument } from '../music/instrument.ts'

/** A word of a sentence with its place in it. A comma is a word. */
export interface Word extends Span {
  readonly text: string
}

/**
 * The words of a text.
 *
 * @param from  where the text begins in the sentence
 */
export function wordsOf(text: string, from: number): readonly Word[] {
  return [...text.matchAll(/,|[^\s,]+/g)].map((match) => ({
    text: match[0],
    from: from + match.index,
    to: from + match.index + match[0].length,
  }))
}

/** A value read from words, and the index of the word behind it. */
export interface Taken<Value> {
  readonly value: Value
  readonly next: number
}

/** A place in a sentence that holds a value. */
export interface Blank<Value> {
  /** what belongs there, in a player's words, with an example */
  readonly expected: string
  /** a value for an example, and for a sentence that is mended */
  readonly usual: Value
  /** every way to read a value from the word at `at` on, the longest first; none if it is no such value */
  read(words: readonly Word[], at: number): readonly Taken<Value>[]
  print(value: Value): string
  /** texts that are read for a value, where they are a list: what is misspelled is taken for the nearest */
  readonly names?: readonly string[]
  /** what is wrong with a value that could be read, as a sentence without its subject; `undefined` if nothing is */
  fault?(value: Value, instrument: Instrument | undefined): Fault<Value> | undefined
}

/** What is wrong, and a value that would be right, where one lies near. */
export interface Fault<Value> {
  readonly message: string
  readonly instead?: Value | undefined
}

/**
 * Words, or a blank. A word may have others that are read for it, `leap|leaps`. One that may be left out is printed, `the~`, or is
 * not, `the?`.
 */
export type PhraseItem = string | Blank<unknown>

type PartsOf<Items> = Items extends readonly [infer First, ...infer Rest]
  ? First extends Blank<infer Value>
    ? readonly [Value, ...PartsOf<Rest>]
    : PartsOf<Rest>
  : readonly []

/** One way to say a value: what is printed is what is read. */
export interface Phrasing<Value> {
  readonly items: readonly PhraseItem[]
  /** @param parts  what the blanks hold, in order */
  valueOf(parts: readonly unknown[]): Value
  /** what the blanks hold for a value; `undefined` if it is not said in this way */
  partsOf(value: Value): readonly unknown[] | undefined
  /** what is wrong with parts that are right each by itself; it is said of the last blank */
  fault(parts: readonly unknown[]): Fault<readonly unknown[]> | undefined
}

/** A way to say a value in words with blanks. */
export function phrasing<Value, const Items extends readonly PhraseItem[]>(
  items: Items,
  make: (...parts: PartsOf<Items>) => Value,
  partsOf: (value: Value) => PartsOf<Items> | undefined,
  fault?: (...parts: PartsOf<Items>) => Fault<PartsOf<Items>> | undefined,
): Phrasing<Value> {
  return {
    items,
    valueOf: (parts) => make(...(parts as PartsOf<Items>)),
    partsOf: partsOf as (value: Value) => readonly unknown[] | undefined,
    fault: (parts) => fault?.(...(parts as PartsOf<Items>)) as Fault<readonly unknown[]> | undefined,
  }
}

/** Words without a blank: they say all there is to say. */
export function plainly(words: string): Phrasing<void> {
  return phrasing(
    [words],
    () => undefined,
    () => [],
  )
}

/** A value in the first of the ways that can say it. */
export function say<Value>(phrasings: readonly Phrasing<Value>[], value: Value): string {
  for (const way of phrasings) {
    const parts = way.partsOf(value)
    if (parts) return printed(way, parts)
  }
  throw new RangeError(`no phrasing says ${JSON.stringify(value)}`)
}

/** A phrasing with its blanks filled. */
export function printed(way: Pick<Phrasing<unknown>, 'items'>, parts: readonly unknown[]): string {
  let blank = 0
  const texts = way.items.map((item) => {
    if (typeof item !== 'string') return item.print(parts[blank++])
    const words = item.split(' ').filter((word) => !word.endsWith('?'))
    return words.map((word) => word.replace('~', '').split('|')[0]).join(' ')
  })
  return texts.join(' ')
}

/** A word of a phrasing, or a blank. */
export type PhraseElement =
  | { readonly kind: 'word'; readonly spellings: readonly string[]; readonly optional: boolean }
  | { readonly kind: 'blank'; readonly blank: Blank<unknown> }

const ELEMENTS = new WeakMap<readonly PhraseItem[], readonly PhraseElement[]>()

/** A phrasing word by word. */
export function elementsOf({ items }: Pick<Phrasing<unknown>, 'items'>): readonly PhraseElement[] {
  const known = ELEMENTS.get(items)
  if (known) return known
  const elements = items.flatMap((item): PhraseElement[] => {
    if (typeof item !== 'string') return [{ kind: 'blank', blank: item }]
    return item.split(' ').map((word) => {
      const optional = /[?~]$/.test(word)
      return { kind: 'word', spellings: (optional ? word.slice(0, -1) : word).split('|'), optional }
    })
  })
  ELEMENTS.set(items, elements)
  return elements
}
