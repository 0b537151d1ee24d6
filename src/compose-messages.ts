import type { Diagnostic } from './chart/diagnostic.ts'
import type { Form } from './chart/form.ts'
import type { Clash } from './line/clash.ts'
import type { Line } from './line/line.ts'
import type { PartName } from './music/arrangement.ts'
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
export interface ComposeRequest {
  readonly kind: 'compose'
  /** rises with every request */
  readonly number: number
  readonly text: string
  /** the last note leads into the first */
  readonly loop: boolean
  /** how many lines, a whole number >= 1; with one, the best found so far comes before the one that is proven best */
  readonly lines: number
}

/** Asks for the MIDI file of a line that was found over a text. */
export interface FileRequest {
  readonly kind: 'file'
  readonly number: number
  readonly text: string
  readonly loop: boolean
  readonly line: Line
  readonly parts: readonly PartName[]
  /** a player brings the sounds with the file; a sequencer has its own */
  readonly for: 'player' | 'sequencer'
}

/** Asks how a word of the vocabulary sounds: a cell or a pattern, by id or in its notation, over the first chord of a text. */
export interface HearRequest {
  readonly kind: 'hear'
  readonly number: number
  readonly text: string
  readonly word: { readonly kind: 'cell' | 'pattern'; readonly text: string }
}

/** The bass alone, for a bar or as long as the cell is. */
export interface HearAnswer {
  readonly kind: 'hear'
  readonly number: number
  /** `undefined`: it cannot be played there */
  readonly performance: Performance | undefined
}

/** The bytes of a standard MIDI file. */
export interface FileAnswer {
  readonly kind: 'file'
  readonly number: number
  /** `undefined`: the line and the text do not go together */
  readonly bytes: Uint8Array | undefined
}

/**
 * What comes back to a request: `page` at once, then `line` for line 0 (again, where a better one is proven), then for the others;
 * `done` closes it, and so do `clash` and `failed`. Nothing comes any more once a newer request is here.
 */
export type ComposeAnswer =
  | { readonly kind: 'page'; readonly number: number; readonly page: ReadPage }
  /** from 0, cheapest first as far as it is proven */
  | { readonly kind: 'line'; readonly number: number; readonly index: number; readonly line: ComposedLine }
  /** still looking: line 0 is at most so many points above the best */
  | { readonly kind: 'progress'; readonly number: number; readonly provenWithin: number | undefined }
  /** so many lines there are: none where nothing can be played, and a diagnostic of `page` says why */
  | {
      readonly kind: 'done'
      readonly number: number
      readonly lines: number
      readonly provenWithin: number | undefined
      readonly page: ReadPage
    }
  /** no line obeys */
  | { readonly kind: 'clash'; readonly number: number; readonly clash: Clash }
  | FileAnswer
  | HearAnswer
  /** a fault of the program, as a sentence */
  | { readonly kind: 'failed'; readonly number: number; readonly message: string }
