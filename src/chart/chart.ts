import type { ChordSymbol } from '../music/chord-symbol.ts'
import type { Key } from '../music/key.ts'
import type { Metre } from '../music/metre.ts'
import type { Span } from './span.ts'

/** A value and where it is written. */
export interface Written<T> {
  readonly value: T
  readonly span: Span
}

/** A header as it is written: `name: value`. */
export interface Header extends Written<string> {
  readonly name: string
}

/** A cell or a pattern that the chart asks for: an id, or its notation in quotes. The span is without the quotes. */
export interface VocabularyWord {
  readonly text: string
  readonly quoted: boolean
  readonly span: Span
}

/** What stands at a place of a bar. */
export type BarWord =
  | { readonly kind: 'chord'; readonly symbol: ChordSymbol }
  | { readonly kind: 'no-chord' }
  /** a chord that nobody can read: it plays as the one before */
  | { readonly kind: 'unread'; readonly text: string }
  /** a slash at the start of a bar: the chord before goes on */
  | { readonly kind: 'slash' }

/** A chord with its place in a written bar. */
export interface PlacedChord {
  readonly word: BarWord
  /** how many beats of its bar it lasts, >= 1 */
  readonly beats: number
  readonly span: Span
}

/** A bar as it is written. */
export interface WrittenBar {
  /** from 1 for people; a pick-up is bar 0 */
  readonly number: number
  readonly metre: Metre
  /** in order of time, they fill the bar; none where the bar repeats the one before: `%`, or nothing at all */
  readonly chords: readonly PlacedChord[]
  /** the section that begins here */
  readonly section: Written<string> | undefined
  /** a repeat begins here */
  readonly repeatStart: { readonly span: Span } | undefined
  /** an ending begins here: the times it is played, rising, from 1 */
  readonly ending: Written<readonly number[]> | undefined
  /** a repeat ends here; how often it is played if the text says so */
  readonly repeatEnd: Written<number | undefined> | undefined
  /** the line at its end */
  readonly barLine: 'single' | 'double' | 'final'
  /** from its first sign to its last, bar lines not included */
  readonly span: Span
}

/** The page as it is written. What its text does not say is absent, but for the metre: 4/4 where it says none. */
export interface Chart {
  readonly title: string | undefined
  readonly composer: string | undefined
  readonly key: Key | undefined
  /** of the first bar and of those after it, until a bar changes it */
  readonly metre: Metre
  /** what `tempo:` says: beats a minute, of the beat that the metre counts */
  readonly tempoBpm: number | undefined
  /** an id, as written */
  readonly feel: Written<string> | undefined
  /** names of sections in the order in which they are played, word by word */
  readonly form: readonly Written<string>[] | undefined
  /** beat groups of 5/4 or 7/8, where they are not the usual ones */
  readonly groups: readonly number[] | undefined
  /** the first bar is a pick-up */
  readonly pickup: boolean
  /** id of an instrument, as written */
  readonly bass: Written<string> | undefined
  readonly cells: readonly VocabularyWord[] | undefined
  readonly patterns: readonly VocabularyWord[] | undefined
  /** sentences, in order */
  readonly rules: readonly Written<string>[]
  /** headers we do not know, in order */
  readonly otherHeaders: readonly Header[]
  readonly bars: readonly WrittenBar[]
}
