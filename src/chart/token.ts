import type { Row } from './row.ts'
import type { Span } from './span.ts'

/** A bar line with everything that hangs on it. */
export interface BarLine {
  readonly kind: 'line'
  readonly span: Span
  readonly style: 'single' | 'double' | 'final'
  /** `:|` */
  readonly endsRepeat: boolean
  /** `x3` behind it */
  readonly times: number | undefined
  /** `|:` */
  readonly startsRepeat: boolean
  /** `1,3.` behind it */
  readonly ending: readonly number[] | undefined
}

/** What stands in a row of music. Words are chords and whatever else stands between blanks. */
export type Token =
  | BarLine
  | { readonly kind: 'section'; readonly span: Span; readonly name: string; readonly closed: boolean }
  | { readonly kind: 'metre'; readonly span: Span; readonly upper: string; readonly lower: string }
  | { readonly kind: 'road-map'; readonly span: Span; readonly text: string }
  /** the numbers of an ending that stand on their own: `1. Dm7` at the start of a row */
  | { readonly kind: 'ending'; readonly span: Span; readonly text: string; readonly numbers: readonly number[] }
  | { readonly kind: 'word'; readonly span: Span; readonly text: string }

const BLANKS = /\s+/y
const LINE = /(:?)(\|+)(\]?)(:?)/y
const TIMES = /\s*(?:[x×]\s*(\d+)|(\d+)\s*[x×])(?![\p{L}\d])/uy
const ENDING = /\s*(\d+(?:\s*[-–,.]+\s*\d+)*)\s*\./y
const ENDING_ALONE = /(\d+(?:[-–,.]+\d+)*)\./y
const METRE = /\(\s*(\d+)\s*\/\s*(\d+)\s*\)/y
const ROAD_MAP =
  /(?:(?:d\.? ?[cs]\.?|da capo|dal segno)(?: +al +(?:fine|coda))?|to +coda|al +(?:fine|coda)|fine|coda|segno|\u{1D10B}|\u{1D10C})(?=[\s|:[]|$)/iuy

function take(pattern: RegExp, text: string, at: number): RegExpExecArray | undefined {
  pattern.lastIndex = at
  return pattern.exec(text) ?? undefined
}

/** The tokens of a row of music, in order; all of the row but its blanks is in one of them. */
export function tokensOf(row: Row): readonly Token[] {
  const { text } = row
  const tokens: Token[] = []
  let at = 0
  // No parenthesis is closed before this place; so that a row of open ones is not searched again for each.
  let openUntil = 0
  const spanTo = (to: number): Span => ({ from: row.from + at, to: row.from + to })
  while (at < text.length) {
    const blanks = take(BLANKS, text, at)
    if (blanks) {
      at += blanks[0].length
      continue
    }
    const sign = text[at]!
    if (sign === '|' || (sign === ':' && text[at + 1] === '|')) {
      const line = lineAt(text, at)
      tokens.push({ ...line.parts, span: spanTo(line.to) })
      at = line.to
      continue
    }
    if (sign === '[') {
      const end = endOfName(text, at + 1)
      const closed = text[end] === ']'
      tokens.push({
        kind: 'section',
        span: spanTo(closed ? end + 1 : end),
        name: text.slice(at + 1, end).trim(),
        closed,
      })
      at = closed ? end + 1 : end
      continue
    }
    const numbers = take(ENDING_ALONE, text, at)
    if (numbers) {
      const to = at + numbers[0].length
      tokens.push({ kind: 'ending', span: spanTo(to), text: text.slice(at, to), numbers: endingNumbers(numbers[1]!) })
      at = to
      continue
    }
    const metre = take(METRE, text, at)
    if (metre) {
      const to = at + metre[0].length
      tokens.push({ kind: 'metre', span: spanTo(to), upper: metre[1]!, lower: metre[2]! })
      at = to
      continue
    }
    const roadMap = take(ROAD_MAP, text, at)
    if (roadMap) {
      const to = at + roadMap[0].length
      tokens.push({ kind: 'road-map', span: spanTo(to), text: roadMap[0] })
      at = to
      continue
    }
    let to = at
    while (to < text.length && !endsWord(text, to, at)) {
      if (text[to] !== '(' || to < openUntil) {
        to++
        continue
      }
      let close = to + 1
      while (close < text.length && text[close] !== ')' && text[close] !== '|') close++
      if (text[close] === ')') to = close + 1
      else {
        openUntil = close
        to++
      }
    }
    tokens.push({ kind: 'word', span: spanTo(to), text: text.slice(at, to) })
    at = to
  }
  return tokens
}

function endsWord(text: string, at: number, start: number): boolean {
  const sign = text[at]!
  return sign === '|' || (sign === '[' && at > start) || (sign === ':' && text[at + 1] === '|') || /\s/.test(sign)
}

function endOfName(text: string, from: number): number {
  let end = from
  while (end < text.length && text[end] !== ']' && text[end] !== '|') end++
  return end
}

/** A bar line, the count of its repeat and the numbers of the ending that begins at it. */
function lineAt(text: string, from: number): { readonly parts: Omit<BarLine, 'span'>; readonly to: number } {
  const [whole, colon, strokes, bracket, colonAfter] = take(LINE, text, from)! as unknown as string[]
  let to = from + whole!.length
  // `|:|` is a bar line and a repeat's end: the colon belongs to the stroke behind it, unless one stands before.
  let startsRepeat = colonAfter === ':'
  if (startsRepeat && text[to] === '|' && text[to + 1] !== ':') {
    startsRepeat = false
    to--
  }
  let times: number | undefined
  let ending: readonly number[] | undefined
  const count = colon === ':' && !startsRepeat ? take(TIMES, text, to) : undefined
  if (count) {
    times = Number(count[1] ?? count[2])
    to += count[0].length
  }
  const numbers = take(ENDING, text, to)
  if (numbers) {
    ending = endingNumbers(numbers[1]!)
    to += numbers[0].length
  }
  const style = bracket ? 'final' : strokes!.length > 1 ? 'double' : 'single'
  return { parts: { kind: 'line', style, endsRepeat: colon === ':', times, startsRepeat, ending }, to }
}

/** The numbers of an ending, `1,3` or `1-3`, as written, but none above 99 more than once. */
function endingNumbers(text: string): readonly number[] {
  const numbers: number[] = []
  for (const part of text.split(/[,.]+/)) {
    const [first, last] = part.split(/[-–]+/).map((number) => Math.min(Number(number), 100))
    for (let number = first!; number <= (last ?? first!); number++) numbers.push(number)
  }
  return numbers
}
