import type { Span } from '../chart/span.ts'

/** The bars that a rule names: some, those of a section, or all, in every chorus or in some. */
export type Where = { readonly choruses?: Choruses } & (
  | /** by number, both ends included, from 1; 0 is a pick-up */ {
      readonly kind: 'bars'
      readonly ranges: readonly { readonly first: number; readonly last: number }[]
    }
  | { readonly kind: 'section'; readonly name: string }
  | { readonly kind: 'whole' }
)

/** By number, both ends included, from 1; or the last there is. */
export type Choruses = { readonly first: number; readonly last: number } | 'last'

/** A part of a sentence. */
export interface Part {
  readonly text: string
  readonly span: Span
}

/** What a part reads as. */
export type PartReading<Value> =
  | { readonly ok: true; readonly value: Value }
  | {
      readonly ok: false
      readonly code: 'rule/unreadable' | 'rule/out-of-range'
      readonly span: Span
      readonly message: string
      /** how it ought to be said */
      readonly instead: string | undefined
    }

/** The bars that stand in front of a sentence, with their colon. */
export const FRONT = /^\s*(\[[^\]]*\]|(?:bars?|sections?|chorus(?:es)?|(?:first|last) chorus)\b[^:]*)\s*:/i

/** The same without the colon: the list ends where no number goes on. */
export const FRONT_WITHOUT_COLON =
  /^\s*(\[[^\]]*\]|(?:first|last) chorus\b|(?:bars?|chorus(?:es)?)\b(?:\s*(?:\d+|[-–—,&]|and\b|to\b))*)/i

/** The last bar, and chorus, that a sentence can name. */
const LAST = 9999

/** How a sentence begins that binds some bars: `Bars 1, 5–8: `, `Chorus 2, section B: `; nothing where it binds all. */
export function formatWhere(where: Where | undefined): string {
  if (!where) return ''
  const { choruses } = where
  const named =
    choruses === 'last'
      ? 'last chorus'
      : choruses && `chorus${choruses.last > choruses.first ? 'es' : ''} ${rangeText(choruses)}`
  const parts = [named, barsText(where)].filter((part) => part !== undefined).join(', ')
  return `${parts.charAt(0).toUpperCase()}${parts.slice(1)}: `
}

function barsText(where: Where): string | undefined {
  if (where.kind === 'whole') return undefined
  if (where.kind === 'section') return `section ${where.name}`
  const single = where.ranges.length === 1 && where.ranges[0]!.first === where.ranges[0]!.last
  return `${single ? 'bar' : 'bars'} ${where.ranges.map(rangeText).join(', ')}`
}

function rangeText({ first, last }: { readonly first: number; readonly last: number }): string {
  return first === last ? `${first}` : `${first}–${last}`
}

/** Reads what stands in front of a sentence, without its colon. */
export function readWhere({ text, span }: Part): PartReading<Where> {
  const refuse: Refuse = (from, to, message, instead, code = 'rule/unreadable') => ({
    ok: false,
    code,
    span: { from: span.from + from, to: span.from + to },
    message: `${message} The rule binds nothing.`,
    instead: instead && formatWhere(instead),
  })
  const front =
    /^(?:(first|last) chorus\b|chorus(?:es)?\b\s*(?:(\d+)(?:\s*(?:[-–—]|to\b)\s*(\d+))?)?)\s*(?:,\s*)?/i.exec(text)
  if (!front) return readBars(text, 0, refuse)
  const [said, place, from, to] = front
  const [first, last] = [Number(from), Number(to ?? from)]
  const written = said.trimEnd()
  if (!place && from === undefined)
    return refuse(
      0,
      written.length,
      'A chorus is named by its number, as in "Chorus 2:", or as "First chorus:" or "Last chorus:".',
    )
  if (first > last) {
    const instead = { kind: 'whole', choruses: { first: last, last: first } } as const
    const message = `Choruses ${first} to ${last} go backwards: expected the earlier one first.`
    return refuse(0, written.length, message, instead, 'rule/out-of-range')
  }
  if (place === undefined && (first === 0 || last > LAST))
    return refuse(0, written.length, `There is no chorus ${first === 0 ? 0 : last}.`, undefined, 'rule/out-of-range')
  const choruses: Choruses = place ? (place.toLowerCase() === 'last' ? 'last' : { first: 1, last: 1 }) : { first, last }
  if (said.length === text.length) return { ok: true, value: { kind: 'whole', choruses } }
  const rest = readBars(text.slice(said.length), said.length, (at, end, message, instead, code) =>
    refuse(at, end, message, instead && { ...instead, choruses }, code),
  )
  return rest.ok ? { ok: true, value: { ...rest.value, choruses } } : rest
}

type Refuse = (
  from: number,
  to: number,
  message: string,
  instead?: Where,
  code?: 'rule/unreadable' | 'rule/out-of-range',
) => Extract<PartReading<Where>, { readonly ok: false }>

/** @param offset  where the text begins in the part */
function readBars(text: string, offset: number, refuse: Refuse): PartReading<Where> {
  const section = /^(?:\[([^\]]*)\]|sections?\s+(.*?)\s*)$/is.exec(text)
  if (section) {
    const name = (section[1] ?? section[2] ?? '').trim().replace(/\s+/g, ' ')
    if (name !== '') return { ok: true, value: { kind: 'section', name } }
    return refuse(offset, offset + text.length, 'A section is named, as in "Section B:" or "[B]:".')
  }
  const list = text.replace(/^bars?/i, '')
  const start = offset + text.length - list.length
  const ranges: { first: number; last: number }[] = []
  let at = 0
  for (const match of list.matchAll(/\s*(\d+)(?:\s*(?:[-–—]|to\b)\s*(\d+))?\s*(?:,|and\b|&|$)?/giy)) {
    const [first, last] = [Number(match[1]), Number(match[2] ?? match[1])]
    const place = [
      start + match.index + match[0].search(/\d/),
      start + match.index + match[0].trimEnd().length,
    ] as const
    if (first > last)
      return refuse(
        ...place,
        `Bars ${first} to ${last} go backwards: expected the earlier bar first.`,
        { kind: 'bars', ranges: [{ first: last, last: first }] },
        'rule/out-of-range',
      )
    if (last > LAST) return refuse(...place, `There is no bar ${last}.`, undefined, 'rule/out-of-range')
    ranges.push({ first, last })
    at = match.index + match[0].length
  }
  const rest = list.slice(at)
  if (ranges.length > 0 && rest.trim() === '') return { ok: true, value: { kind: 'bars', ranges: merged(ranges) } }
  const word = /\S+/.exec(rest)
  const from = start + at + (word?.index ?? 0)
  const said = word ? `"${word[0]}" is no number of a bar` : 'No bar is named'
  return refuse(
    from,
    from + (word?.[0].length ?? 0),
    `${said}: expected numbers, as in "Bars 1, 5–8:".`,
    ranges.length > 0 ? { kind: 'bars', ranges: merged(ranges) } : undefined,
  )
}

/** Ranges in order, those that meet made one. */
function merged(ranges: readonly { readonly first: number; readonly last: number }[]) {
  const inOrder = [...ranges].sort((a, b) => a.first - b.first || a.last - b.last)
  const result: { first: number; last: number }[] = []
  for (const { first, last } of inOrder) {
    const before = result.at(-1)
    if (before && first <= before.last + 1) before.last = Math.max(before.last, last)
    else result.push({ first, last })
  }
  return result
}
