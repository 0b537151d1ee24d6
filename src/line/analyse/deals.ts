import { type Pitch, pitchClassOf } from '../../music/pitch.ts'
import type { Tick } from '../../music/tick.ts'
import { type BarMap, deal } from '../groove/deal.ts'
import type { Deal } from '../groove/table.ts'
import type { Pattern } from '../pattern.ts'
import type { Heights, TokenFit } from './fit.ts'

/** A pattern that a groove deals to the onsets of one chord in one bar, up to a note. */
export interface DealtReading {
  readonly word: number
  /** up to but not with this note */
  readonly to: number
  readonly points: number
  /** for each note, its place in the pattern, from 0; `undefined`: an approach has taken over */
  readonly places: readonly (number | undefined)[]
  /** all its tokens are heard */
  readonly whole: boolean
}

/** Points of a deal, whole: hand-set, no source. */
const POINTS = {
  /** it is dealt another way than one token to each onset */
  way: 1,
  /** it goes on from the bar before */
  position: 1,
  /** a chord that arrives inside the bar begins with its root instead */
  root: 1,
  /** a token of it is never heard */
  unheard: 2,
  /** the last note before a change is an approach in a token's place */
  takeover: 2,
}

const WAYS: readonly Deal[] = ['each', 'beat', 'half', 'tail', 'low-high', 'run', 'beatrun']

/** A lead or the beginning of a fill takes at most so many onsets from the end of a part. */
const MOST_LED = 3

/**
 * All ways to read the notes of one chord in one bar, from its first note on, as a pattern dealt to them as grooves deal them.
 *
 * @param at  a note
 */
export function dealsFrom(fit: TokenFit, at: number, readings: Readings): void {
  const { notes } = fit
  const first = notes[at]!
  const before = notes[at - 1]
  if (first.pushed || (before && before.bar === first.bar && before.run === first.run)) return
  let end = at + 1
  while (end < notes.length && notes[end]!.bar === first.bar && notes[end]!.run === first.run) end++
  // What is pushed out of the bar was dealt a token too.
  const pushes = end < notes.length && notes[end]!.bar === first.bar && notes[end]!.pushed
  if (pushes) end++
  const ticks = notes.slice(at, end).map(({ tick }) => tick)
  const isLate = first.rungInto && first.tick > first.partTick
  const spans: Span[] = [{ fit, at, ticks, missing: 0, pushes, deals: dealsAt(first.map, ticks) }]
  // What rings in took the place of an onset that was dealt a token.
  if (isLate) {
    const all = [first.partTick, ...ticks]
    spans.push({ fit, at, ticks: all, missing: 1, pushes, deals: dealsAt(first.map, all) })
  }
  const isRoot = pitchClassOf(first.pitch) === first.chord.bassPc
  const mayMeetRoot = first.arrives && first.partTick > 0 && isRoot
  const words = fit.withToneOn(first.chord)[mayMeetRoot ? 12 : pitchClassOf(first.pitch)]!
  for (const { word, heights } of words) for (const span of spans) readDeals(span, word, heights, mayMeetRoot, readings)
}

/** Deals to onsets of a bar, known for every part that strikes at the same places. */
const DEALS = new WeakMap<BarMap, Map<string, Map<string, readonly SpanDeal[]>>>()

function dealsAt(map: BarMap, ticks: readonly Tick[]): Map<string, readonly SpanDeal[]> {
  const ofMap = DEALS.get(map) ?? new Map<string, Map<string, readonly SpanDeal[]>>()
  DEALS.set(map, ofMap)
  const key = ticks.join()
  const deals = ofMap.get(key) ?? new Map<string, readonly SpanDeal[]>()
  ofMap.set(key, deals)
  return deals
}

/** Where readings go: what is no cheaper than one of the same word to the same note need not be made. */
export interface Readings {
  isCheaper(word: number, to: number, points: number): boolean
  offer(reading: DealtReading): void
}

/** The notes of one chord in one bar, and what they may be dealt. */
interface Span {
  readonly fit: TokenFit
  readonly at: number
  /** their places, and before them that of an onset that was not struck */
  readonly ticks: readonly Tick[]
  readonly missing: 0 | 1
  readonly pushes: boolean
  /** different deals by length, deals of two tokens apart, and where they may go on */
  readonly deals: Map<string, readonly SpanDeal[]>
}

/** Tokens for the notes of a span. */
interface SpanDeal {
  readonly tokens: readonly number[]
  /** so many notes at the end are left for a lead */
  readonly lead: number
  readonly points: number
}

function dealsOf({ fit, at, ticks, deals }: Span, word: number): readonly SpanDeal[] {
  const { map, arrives } = fit.notes[at]!
  const { length } = fit.words[word]!.tokens
  const ways = waysOf(fit.words[word]!)
  const goesOn = !arrives && fit.unusual(word) === 0
  const key = `${length} ${ways.length} ${goesOn}`
  const known = deals.get(key)
  if (known) return known
  const made: SpanDeal[] = []
  const seen = new Set<string>()
  for (const way of ways) {
    const most = way === 'tail' ? Math.min(MOST_LED, ticks.length - 1) : 0
    const positions = (way === 'run' || way === 'beatrun') && goesOn ? length : 1
    for (let lead = 0; lead <= most; lead++)
      for (let position = 0; position < positions; position++) {
        const { tokens } = deal(map, ticks, length, way, position, lead)
        const text = `${tokens.slice(0, ticks.length - lead).join(' ')}`
        if (seen.has(text)) continue
        seen.add(text)
        made.push({ tokens, lead, points: (way === 'each' ? 0 : POINTS.way) + (position > 0 ? POINTS.position : 0) })
      }
  }
  deals.set(key, made)
  return made
}

function readDeals(span: Span, word: number, heights: Heights, mayMeetRoot: boolean, readings: Readings): void {
  const { fit, at, missing } = span
  const first = fit.notes[at]!
  const { tokens } = fit.words[word]!
  const meetsRoot = mayMeetRoot && tokens.some(isRootToken)
  if (!meetsRoot && (heights.reach & (1 << pitchClassOf(first.pitch))) === 0) return
  for (const dealt of dealsOf(span, word)) {
    const place = dealt.tokens[missing]
    if (place === undefined) continue
    for (const anchor of fit.anchorsOf(word, heights, place, first))
      readDealt(span, word, heights, dealt, anchor, meetsRoot, readings)
    if (meetsRoot) readDealt(span, word, heights, dealt, undefined, true, readings)
  }
}

/** The ways in which a pattern may be dealt. */
function waysOf({ tokens }: Pattern): readonly Deal[] {
  if (tokens.length === 1 || tokens.some((token) => token.kind === 'degree' && token.next)) return ['each']
  return tokens.length === 2 ? WAYS : WAYS.filter((way) => way !== 'half' && way !== 'low-high')
}

function readDealt(
  { fit, at, missing, pushes }: Span,
  word: number,
  heights: Heights,
  { tokens: dealt, lead, points: own }: SpanDeal,
  anchor: Pitch | undefined,
  meetsRoot: boolean,
  readings: Readings,
): void {
  const { notes } = fit
  const { tokens } = fit.words[word]!
  const first = notes[at]!
  const size = dealt.length - missing - lead
  let points = heights.points + own
  let anchored = anchor
  let folded = false
  const places: (number | undefined)[] = []
  // Bit n: token n is heard.
  let heard = 0
  const all = 2 ** tokens.length - 1
  for (let i = 0; i < size; i++) {
    const j = at + i
    const note = notes[j]!
    const place = dealt[i + missing]!
    const token = tokens[place]!
    let cost: number | undefined
    if (pushes && j === at + dealt.length - missing - 1 && !(token.kind === 'degree' && token.next))
      cost = pitchClassOf(note.pitch) === note.chord.bassPc ? 0 : undefined
    else {
      if (anchored === undefined && i > 0)
        anchored = fit.anchorsOf(word, heights, place, note).find((one) => one !== undefined)
      cost = fit.fits(word, heights, anchored, place, j, first.run)
      if (cost === undefined && i === 0 && meetsRoot) cost = POINTS.root
    }
    if (cost === undefined) {
      if (!fit.takesOver(j, first.run)) break
      const whole = heard === all
      const last = points + POINTS.takeover + (whole ? 0 : POINTS.unheard)
      if (i > 0 && readings.isCheaper(word, j + 1, last))
        readings.offer({ word, to: j + 1, points: last, places: [...places, undefined], whole })
      break
    }
    // A figure folds as a whole.
    if (cost === 0 || !folded) points += cost
    if (cost > 0) folded = true
    heard |= 1 << place
    places.push(place)
    const left = dealt.length - missing - 1 - i
    const next = notes[j + 1]
    const mayEnd = lead > 0 ? left === lead : left <= MOST_LED || next?.map.beats.includes(next.tick)
    if (!mayEnd) continue
    const whole = heard === all
    const sum = points + (whole ? 0 : POINTS.unheard)
    if (readings.isCheaper(word, j + 1, sum))
      readings.offer({ word, to: j + 1, points: sum, places: [...places], whole })
  }
}

function isRootToken(token: Pattern['tokens'][number]): boolean {
  return token.kind === 'degree' && !token.accidental && token.number % 7 === 1
}
