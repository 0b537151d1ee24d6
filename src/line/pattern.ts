import type { Span } from '../chart/span.ts'
import { type Chord, semitonesOfNumber } from '../music/chord.ts'
import type { ChordFamily } from '../music/chord-qualities.ts'
import { semitonesOf } from '../music/degree.ts'

/** An accidental of a token. It fixes the interval from the root; `n` fixes the major or perfect one. */
export type TokenAccidental = 'bb' | 'b' | '#' | '##' | 'n'

/** A degree of a pattern: `3`, `v5`, `b7`, `>1`. */
export interface DegreeToken {
  readonly kind: 'degree'
  /** `>`: of the next chord, sounded before the change, in the octave nearest to the note before it */
  readonly next: boolean
  /** octaves by which it is moved: one up for each `^`, one down for each `v` */
  readonly octave: number
  /** absent: the chord's own degree */
  readonly accidental: TokenAccidental | undefined
  /** 1 to 15; 1 to 7 lie in the octave above the anchor, 8 to 15 in the next */
  readonly number: number
}

/**
 * An approach note: `h-` half a step under its target. It aims at the next token that is none, or, at the end of a pattern, at
 * the next chord's arrival.
 */
export interface ApproachToken {
  readonly kind: 'approach'
  /** half step, whole step, step of the scale that sounds, or the fifth above and the fourth below */
  readonly by: 'half' | 'whole' | 'scale' | 'dominant'
  readonly from: 'above' | 'below'
}

export type PatternToken = DegreeToken | ApproachToken

/** A row of chord degrees with one anchor, the root of its chord in some octave: `1 3 5 6`, `v5 v6 1`, `1 3 5 h-`. */
export interface Pattern {
  readonly id: string
  /** as written */
  readonly text: string
  /** at least one */
  readonly tokens: readonly PatternToken[]
  /** chords it may stand over */
  readonly families: readonly ChordFamily[] | 'any'
  /** ids of the feels that offer it; `technique` is for exercises */
  readonly feels: readonly string[] | 'all'
  readonly level: 'beginner' | 'intermediate' | 'advanced'
  /** what it is for, in a player's words */
  readonly purpose: string
}

/** What is wrong with a pattern. */
export type PatternErrorCode = 'empty' | 'unknown-token' | 'both-octave-marks' | 'number-out-of-range'

/** What a text reads as: the tokens of a pattern, or what is wrong and where. */
export type PatternReading =
  | { readonly ok: true; readonly tokens: readonly PatternToken[] }
  | { readonly ok: false; readonly code: PatternErrorCode; readonly message: string; readonly span: Span }

const APPROACH_BY = { h: 'half', w: 'whole', s: 'scale', d: 'dominant' } as const

const ALTERATIONS: Readonly<Record<TokenAccidental, number>> = { bb: -2, b: -1, '#': 1, '##': 2, n: 0 }

/**
 * Reads a pattern in its notation: tokens separated by blanks, each a degree or an approach.
 *
 * A degree is a number 1 to 15, before it an accidental `bb b # ## n`, before that `v` for each octave lower or `^` for each
 * octave higher, and at the very front `>` where it belongs to the next chord. An approach is `h w s d` with `-` (from below)
 * or `+` (from above).
 *
 * @returns the tokens, at least one, or the first thing that is wrong
 *
 * @example
 * parsePattern('>vb7') // => { ok: true, tokens: [{ kind: 'degree', next: true, octave: -1, accidental: 'b', number: 7 }] }
 * parsePattern('h-') // => { ok: true, tokens: [{ kind: 'approach', by: 'half', from: 'below' }] }
 */
export function parsePattern(text: string): PatternReading {
  const tokens: PatternToken[] = []
  for (const match of text.matchAll(/\S+/g)) {
    const word = match[0]
    const refuse = (code: PatternErrorCode, message: string): PatternReading => ({
      ok: false,
      code,
      message,
      span: { from: match.index, to: match.index + word.length },
    })
    const approach = /^([hwsd])([-+])$/.exec(word)
    if (approach) {
      const by = APPROACH_BY[approach[1] as keyof typeof APPROACH_BY]
      tokens.push({ kind: 'approach', by, from: approach[2] === '+' ? 'above' : 'below' })
      continue
    }
    const degree = /^(>?)([v^]*)(bb|b|##|#|n)?(\d+)$/.exec(word)
    if (!degree)
      return refuse(
        'unknown-token',
        `"${word}" is no degree and no approach: expected a number 1 to 15 as in 3, b7, v5, >1, or one of h w s d with - or +`,
      )
    const marks = degree[2]!
    if (marks.includes('v') && marks.includes('^'))
      return refuse('both-octave-marks', `"${word}" goes down and up: expected v or ^, not both`)
    const number = Number(degree[4])
    if (number < 1 || number > 15)
      return refuse('number-out-of-range', `"${word}" has the number ${degree[4]}: degrees go from 1 to 15`)
    tokens.push({
      kind: 'degree',
      next: degree[1] === '>',
      octave: marks.startsWith('v') ? -marks.length : marks.length,
      accidental: degree[3] as TokenAccidental | undefined,
      number,
    })
  }
  if (tokens.length > 0) return { ok: true, tokens }
  const message = 'a pattern without a token: expected degrees as in 1 3 5 6'
  return { ok: false, code: 'empty', message, span: { from: 0, to: text.length } }
}

/**
 * Writes a token as it is read.
 *
 * @example
 * formatToken({ kind: 'degree', next: false, octave: -1, accidental: undefined, number: 5 }) // => 'v5'
 * formatToken({ kind: 'approach', by: 'scale', from: 'above' }) // => 's+'
 */
export function formatToken(token: PatternToken): string {
  if (token.kind === 'approach') return token.by.charAt(0) + (token.from === 'above' ? '+' : '-')
  const octave = (token.octave < 0 ? 'v' : '^').repeat(Math.abs(token.octave))
  return `${token.next ? '>' : ''}${octave}${token.accidental ?? ''}${token.number}`
}

/**
 * Semitones of a degree above the anchor of its pattern, the root of `chord`; below 0 under it.
 *
 * A plain number is the chord's own degree: its tone of that number, else the degree of its scale; over a suspended chord 3 is
 * the 4 or the 2 that stands for it. An accidental fixes the interval whatever the chord.
 *
 * @param chord  the chord that the token belongs to: the next one where `token.next`
 */
export function semitonesOfToken(token: DegreeToken, chord: Chord): number {
  const { accidental, number, octave } = token
  const semitones =
    accidental === undefined
      ? semitonesOfNumber(chord, number)
      : semitonesOf({ number, alter: ALTERATIONS[accidental] })
  return semitones + 12 * octave
}

/** A pattern of the player's own, known by its text. */
export function ownPattern(text: string, tokens: readonly PatternToken[]): Pattern {
  const purpose = 'the player’s own'
  return { id: text, text, tokens, families: 'any', feels: 'all', level: 'beginner', purpose }
}
