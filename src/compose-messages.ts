import type { Diagnostic } from './chart/diagnostic.ts'
import type { Form } from './chart/form.ts'
import type { Clash } from './line/build.ts'
import type { Line } from './line/line.ts'
import type { Key } from './music/key.ts'
import type { Metre } from './music/metre.ts'
import type { Performance } from './music/performance.ts'
import type { Part } from './notation/part.ts'

// What the page and the composing worker say to each other. Plain data: it is cloned on the way.

/** A line with everything made of it. */
export interface ComposedLine {
  readonly line: Line
  /** as printed */
  readonly part: Part
  /** as played the first time round, and every time after that: a note tied over the end is not struck again */
  readonly first: Performance
  readonly again: Performance
}

/** What a text says, read: all that the page shows beside the line. */
export interface ReadPage {
  readonly title: string | undefined
  readonly key: Key | undefined
  readonly metre: Metre
  readonly tempoBpm: number
  /** the feel that is played; `undefined`: none that is built can play it */
  readonly feel: { readonly id: string; readonly name: string } | undefined
  readonly instrument: { readonly id: string; readonly name: string }
  /** ids or notations of the words in force, the feel's own where the text names none */
  readonly cells: readonly string[]
  readonly patterns: readonly string[]
  readonly form: Form
  readonly diagnostics: readonly Diagnostic[]
}

/** What is asked for. The newest request wins: what is still being looked for an older one is given up. */
export type ComposeRequest = {
  readonly kind: 'compose'
  /** rises with every request */
  readonly number: number
  readonly text: string
  /** the last note leads into the first */
  readonly loop: boolean
  /** how many lines in the end */
  readonly lines: number
}

/** What comes back, in this order: a first line at once; better ones and further ones later; `done` closes it. */
export type ComposeAnswer =
  /** `lines` are all that are known so far, cheapest first; none where nothing can be played and a diagnostic says why */
  | {
      readonly kind: 'lines'
      readonly number: number
      readonly page: ReadPage
      readonly lines: readonly ComposedLine[]
      /** nothing better and nothing more will come */
      readonly done: boolean
    }
  /** share of the work that is done, 0 to 1, where it takes a while */
  | { readonly kind: 'progress'; readonly number: number; readonly done: number }
  /** no line obeys: the last line stays */
  | { readonly kind: 'clash'; readonly number: number; readonly page: ReadPage; readonly clash: Clash }
  /** a fault of the program, as a sentence */
  | { readonly kind: 'failed'; readonly number: number; readonly message: string }
