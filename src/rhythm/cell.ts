import type { Span } from '../chart/span.ts'
import { TICKS_PER_WHOLE, type Tick } from '../music/tick.ts'

/** A struck note of a cell, or a sound that comes in from the cell before. */
export interface CellOnset {
  /** from the start of the cell */
  readonly tick: Tick
  /** until the next onset or rest, ties inside the cell added in */
  readonly ticks: Tick
  /** `x`: a dead note, rhythm without a pitch */
  readonly ghost: boolean
  readonly accent: boolean
  readonly length: 'short' | 'long' | undefined
  /** `~` after the last note: tied over the end of the cell */
  readonly tiedOver: boolean
  /** `~1` at the start: nothing is struck, the sound comes from before */
  readonly continues: boolean
}

/** A rhythm figure of a bar or less (or of a few whole bars), written as a teacher counts it: `1 2& 3 4&`. */
export interface Cell {
  readonly upper: number
  readonly lower: number
  readonly bars: number
  /** length of the whole cell, rests included */
  readonly ticks: Tick
  /** in order of time */
  readonly onsets: readonly CellOnset[]
}

/** Where a cell may stand. */
export interface CellPlaces {
  /** metres it may stand in, as written */
  readonly metres: readonly string[]
  /** counts it may start on; `any` is any beat */
  readonly starts: readonly number[] | 'any'
  /** beat groups it asks for; absent: whatever the metre's are */
  readonly groups: readonly number[] | undefined
}

/** A cell with a name, as the vocabulary holds it. */
export interface NamedCell extends Cell, CellPlaces {
  readonly id: string
  readonly name: string
  readonly group: string
  readonly notation: string
  /** order of teaching, 1 to 5 */
  readonly level: number
  readonly feels: readonly string[]
  readonly touch: string
}

/** What can be wrong with the text of a cell. */
export type CellErrorCode =
  | 'empty'
  | 'empty-bar'
  | 'bad-metre'
  | 'unknown-token'
  | 'first-count-missing'
  | 'count-out-of-range'
  | 'goes-back'
  | 'same-place'
  | 'mixed-division'
  | 'bad-fraction'
  | 'mark-twice'
  | 'short-and-long'
  | 'ghost-mark'
  | 'tie-not-last'
  | 'nothing-to-hold'

/** What a text reads as: a cell, or what is wrong and where. */
export type CellReading =
  | { readonly ok: true; readonly cell: Cell }
  | { readonly ok: false; readonly code: CellErrorCode; readonly message: string; readonly span: Span }

/** Parts of a count, as shares of it. */
const PARTS: Readonly<Record<string, readonly [number, number]>> = {
  e: [1, 4],
  '&': [1, 2],
  a: [3, 4],
  trip: [1, 3],
  let: [2, 3],
}

/** Other ways to write a part. */
const SAME_PART: Readonly<Record<string, string>> = { '+': '&', and: '&' }

const HALVES = ['e', '&', 'a']
const THIRDS = ['trip', 'let']

/** A token of a bar, read: where it stands, what it is, and where it is written. */
interface Event {
  readonly tick: Tick
  readonly kind: 'onset' | 'rest' | 'hold'
  readonly marks: string
  readonly span: Span
}

/** Carries the first error out of the phases of {@link parseCell}. */
class Refusal {
  readonly reading: CellReading & { ok: false }
  constructor(code: CellErrorCode, message: string, span: Span) {
    this.reading = { ok: false, code, message, span }
  }
}

/**
 * Reads a cell in its notation, which is how a teacher counts. Only the counts that matter are named; a note lasts until the
 * next count named, a rest `(2)` is counted without playing.
 *
 * `1 2 3 4` quarters · `1 & 2 &` eighths · `1 e & a` sixteenths · `1 trip let` a triplet · `1 :1/5` any exact place ·
 * `~3` the sound goes on · `4~` tied over the end · marks after a note: `>` accent, `.` short, `-` long, `x` ghost ·
 * `3/4:` the metre, which states the length, 4/4 if absent · `|` a bar line. In x/8 the numbers count eighths, in x/2 halves.
 * The text is never guessed at.
 *
 * @returns the cell, or the first thing that is wrong, with its place in the text
 *
 * @example
 * parseCell('(1)') // => { ok: true, cell: { upper: 4, lower: 4, bars: 1, ticks: 1920, onsets: [] } }
 * parseCell('12/8: 1 7').ok // => true
 * parseCell('1 3 2').ok // => false
 */
export function parseCell(text: string): CellReading {
  try {
    return { ok: true, cell: readCell(text) }
  } catch (refusal) {
    if (refusal instanceof Refusal) return refusal.reading
    throw refusal
  }
}

function readCell(text: string): Cell {
  const whole: Span = { from: 0, to: text.length }
  if (text.trim() === '') throw new Refusal('empty', 'no count given: expected a bar as in 1 2 3 4', whole)

  // The metre in front.
  const prefix = /^\s*(?:(\d+)\s*\/\s*(\d+)\s*:|\S*:(?=\s|$))/.exec(text)
  const upper = prefix ? Number(prefix[1] ?? 0) : 4
  const lower = prefix ? Number(prefix[2] ?? 0) : 4
  if (![2, 4, 8].includes(lower) || upper < 1 || upper > 16) {
    const found = prefix![0].trim()
    const message = `"${found}" is no metre: expected 1 to 16 over 2, 4 or 8, as in 3/4:`
    throw new Refusal('bad-metre', message, spanOf(text, found, 0))
  }
  const start = prefix ? prefix[0].length : 0
  if (text.slice(start).trim() === '') throw new Refusal('empty', 'no count after the metre: expected a bar', whole)

  // The tokens of each bar.
  const unit = TICKS_PER_WHOLE / lower
  const barTicks = upper * unit
  const bars = text.slice(start).split('|')
  const events: Event[] = []
  let from = start
  for (const [bar, barText] of bars.entries()) {
    for (const event of readBar(barText, from, bar + 1, upper, unit))
      events.push({ ...event, tick: bar * barTicks + event.tick })
    from += barText.length + 1
  }

  // The notes: each event lasts until the next.
  const ticks = bars.length * barTicks
  const onsets: CellOnset[] = []
  for (const [index, event] of events.entries()) {
    const before = events[index - 1]
    const length = (events[index + 1]?.tick ?? ticks) - event.tick
    if (event.marks.includes('~') && index + 1 < events.length)
      throw new Refusal('tie-not-last', 'a tie over the end (~) belongs to the last note of the cell', event.span)
    if (event.kind === 'rest') continue
    if (event.kind === 'hold' && before) {
      const sound = onsets.at(-1)
      if (before.kind === 'rest' || !sound)
        throw new Refusal('nothing-to-hold', 'no note sounds here to go on', event.span)
      if (sound.ghost) throw new Refusal('nothing-to-hold', 'a ghost (x) does not ring on', event.span)
      onsets[onsets.length - 1] = { ...sound, ticks: sound.ticks + length }
      continue
    }
    onsets.push({
      tick: event.tick,
      ticks: length,
      ghost: event.marks.includes('x'),
      accent: event.marks.includes('>'),
      length: event.marks.includes('.') ? 'short' : event.marks.includes('-') ? 'long' : undefined,
      tiedOver: event.marks.includes('~'),
      continues: event.kind === 'hold',
    })
  }
  return { upper, lower, bars: bars.length, ticks, onsets }
}

/** The tokens of one bar, ticks counted from its bar line. */
function readBar(text: string, from: number, bar: number, upper: number, unit: Tick): readonly Event[] {
  const events: Event[] = []
  /** per count, whether halves and quarters or thirds are named in it */
  const divisions = new Map<number, 'halves' | 'thirds'>()
  let count: number | undefined
  let last = -1
  for (const match of text.matchAll(/\S+/g)) {
    const word = match[0]
    const span: Span = { from: from + match.index, to: from + match.index + word.length }
    const refuse = (code: CellErrorCode, message: string): never => {
      throw new Refusal(code, `"${word}" ${message}`, span)
    }
    const kind = word.startsWith('(') ? 'rest' : word.startsWith('~') ? 'hold' : 'onset'
    if (kind === 'rest' && !word.endsWith(')')) refuse('unknown-token', 'opens a bracket and does not close it')
    const body = kind === 'rest' ? word.slice(1, -1) : kind === 'hold' ? word.slice(1) : word
    const place = /^(\d+)?(?:(trip|let|and|[e&+a])|:(\d+)\/(\d+))?/.exec(body)!
    const marks = body.slice(place[0].length)
    if (place[0] === '' || !/^[>.\-x~]*$/.test(marks))
      refuse('unknown-token', 'is no count: expected a number, e & a trip let or :1/3, and marks > . - x ~')
    if (kind !== 'onset' && marks !== '') refuse('unknown-token', 'has a mark: marks belong to struck notes')
    if (new Set(marks).size !== marks.length) refuse('mark-twice', 'has the same mark twice')

    // Where it stands.
    if (place[1] !== undefined) {
      count = Number(place[1])
      if (count < 1 || count > upper) refuse('count-out-of-range', `is outside the bar: it counts 1 to ${upper}`)
    }
    if (count === undefined)
      return refuse('first-count-missing', `has no count before it: bar ${bar} begins with 1, (1) or ~1`)
    const part = SAME_PART[place[2] ?? ''] ?? place[2]
    let share: readonly [number, number] = [0, 1]
    if (part !== undefined) {
      share = PARTS[part]!
      const division = HALVES.includes(part) ? 'halves' : 'thirds'
      if ((divisions.get(count) ?? division) !== division)
        refuse(
          'mixed-division',
          `mixes sixteenths and triplets in count ${count}; write one of them as fractions, :1/3`,
        )
      divisions.set(count, division)
    } else if (place[3] !== undefined) {
      share = [Number(place[3]), Number(place[4])]
      const [p, q] = share
      if (q === 0 || p >= q || (unit * p) % q !== 0)
        refuse(
          'bad-fraction',
          `is no place of the count: expected less than 1, and a whole number of its ${unit} ticks`,
        )
    }
    const tick = (count - 1) * unit + (unit * share[0]) / share[1]
    if (events.length === 0 && tick !== 0)
      refuse('first-count-missing', `is not the beginning: bar ${bar} begins with 1, (1) or ~1`)
    if (tick === last) refuse('same-place', 'stands where the token before it stands')
    if (tick < last) refuse('goes-back', 'goes back: places rise')
    last = tick

    // What its marks say together.
    if (marks.includes('.') && marks.includes('-')) refuse('short-and-long', 'is short (.) and long (-) at once')
    if (marks.includes('x') && /[-.~]/.test(marks)) refuse('ghost-mark', 'is a ghost (x), which takes no . - or ~')
    events.push({ tick, kind, marks, span })
  }
  if (events.length === 0)
    throw new Refusal('empty-bar', `bar ${bar} has no count: expected 1, (1) or ~1`, { from, to: from + text.length })
  return events
}

function spanOf(text: string, part: string, after: number): Span {
  const from = text.indexOf(part, after)
  return { from, to: from + part.length }
}

/**
 * Writes a cell in its shortest form: the metre only if it is not 4/4, the number of a count only where it changes, ties only
 * at a bar line, marks in the order `> . - x ~`. It reads back as an equal cell.
 *
 * @example
 * printCell({ upper: 3, lower: 4, bars: 1, ticks: 1440, onsets: [] }) // => '3/4: (1)'
 */
export function printCell(cell: Cell): string {
  const unit = TICKS_PER_WHOLE / cell.lower
  const barTicks = cell.upper * unit
  const tokens = tokensOf(cell, barTicks)
  const bars: string[] = []
  for (let bar = 0; bar < cell.bars; bar++) {
    const inBar = tokens.filter(({ tick }) => Math.floor(tick / barTicks) === bar)
    const places = inBar.map(({ tick }) => placeOf(tick - bar * barTicks, unit))
    let count = 0
    const words = inBar.map((token, index) => {
      const place = places[index]!
      const mixed = places.some((other) => other.count === place.count && HALVES.includes(other.part))
      const part = mixed && THIRDS.includes(place.part) ? `:${PARTS[place.part]!.join('/')}` : place.part
      const written = place.count === count && part !== '' ? part : `${place.count}${part}`
      count = place.count
      return `${token.before}${written}${token.after}`
    })
    bars.push(words.join(' '))
  }
  const metre = cell.upper === 4 && cell.lower === 4 ? '' : `${cell.upper}/${cell.lower}: `
  return metre + bars.join(' | ')
}

/** The places that have to be named, with what stands before and after each. */
function tokensOf(
  cell: Cell,
  barTicks: Tick,
): readonly { readonly tick: Tick; readonly before: string; readonly after: string }[] {
  const tokens: { tick: Tick; before: string; after: string }[] = []
  // From one change of sound to the next; at a bar line what goes on is named again.
  const add = (from: Tick, to: Tick, before: string, after: string, again: string) => {
    tokens.push({ tick: from, before, after })
    for (let line = (Math.floor(from / barTicks) + 1) * barTicks; line < to; line += barTicks)
      tokens.push({ tick: line, before: again, after: again === '(' ? ')' : '' })
  }
  let at = 0
  for (const onset of cell.onsets) {
    if (onset.tick > at) add(at, onset.tick, '(', ')', '(')
    const length = onset.length === 'short' ? '.' : onset.length === 'long' ? '-' : ''
    const marks = `${onset.accent ? '>' : ''}${length}${onset.ghost ? 'x' : ''}${onset.tiedOver ? '~' : ''}`
    add(onset.tick, onset.tick + onset.ticks, onset.continues ? '~' : '', marks, '~')
    at = onset.tick + onset.ticks
  }
  if (at < cell.ticks) add(at, cell.ticks, '(', ')', '(')
  return tokens
}

/** The count a place of the bar belongs to, and its part of that count. */
function placeOf(tick: Tick, unit: Tick): { readonly count: number; readonly part: string } {
  const count = Math.floor(tick / unit) + 1
  const rest = tick % unit
  if (rest === 0) return { count, part: '' }
  const named = Object.entries(PARTS).find(([, [p, q]]) => rest * q === unit * p)
  if (named) return { count, part: named[0] }
  const divisor = greatestCommonDivisor(rest, unit)
  return { count, part: `:${rest / divisor}/${unit / divisor}` }
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b)
}

/**
 * Where a cell may stand by its length alone: a quarter on any beat of 2/4 to 5/4, a dotted quarter on any beat of 6/8, 9/8
 * and 12/8, two quarters in 2/4 and on 1 and 3 of 4/4, anything else in whole bars of its own metre.
 */
export function placesOfLength(cell: Pick<Cell, 'upper' | 'lower' | 'bars'>): CellPlaces {
  const metre = `${cell.upper}/${cell.lower}`
  if (cell.bars === 1 && metre === '1/4')
    return { metres: ['2/4', '3/4', '4/4', '5/4'], starts: 'any', groups: undefined }
  if (cell.bars === 1 && metre === '3/8') return { metres: ['6/8', '9/8', '12/8'], starts: 'any', groups: undefined }
  if (cell.bars === 1 && metre === '2/4') return { metres: ['2/4', '4/4'], starts: [1, 3], groups: undefined }
  return { metres: [metre], starts: [1], groups: undefined }
}
