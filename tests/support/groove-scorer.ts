import type { FormBar } from '../../src/chart/form.ts'
import type { GrooveLine, GrooveNote, GrooveRequest } from '../../src/line/groove/groove.ts'
import type { Figure, GrooveTable } from '../../src/line/groove/table.ts'
import type { DegreeToken, Pattern, PatternToken } from '../../src/line/pattern.ts'
import { parsePattern, semitonesOfToken } from '../../src/line/pattern.ts'
import { patternOf } from '../../src/line/patterns.ts'
import { type Chord, degreeAt, familyOf } from '../../src/music/chord.ts'
import type { Metre } from '../../src/music/metre.ts'
import { parseCell } from '../../src/rhythm/cell.ts'
import { priceOf } from './groove-rules.ts'
import { stepsOf } from './hand.ts'

/**
 * What a groove costs, plan and notes: written from the definitions of the terms, apart from the search, its bounds and its
 * tables.
 *
 * @throws Error  if the line does not play its plan
 */
export function scoreGroove(request: GrooveRequest, line: GrooveLine): number {
  const { form, table } = request
  const letters = lettersOf(table.schemes[line.plan.scheme]!.letters, form.bars)
  let total = table.schemes[line.plan.scheme]!.points + variationOf(request, line) + leadsOf(request, line, letters)
  total += 12 * form.bars.filter((bar) => letters[bar.index] === 'B' && answersNothing(request, line, bar)).length
  total +=
    Math.abs(line.plan.zone - request.register.lowest - table.zone) * table.zoneMove + (line.plan.home > 5 ? 6 : 0)
  const bars = form.bars.map((bar) => barOf(request, line, letters[bar.index]!, bar))
  for (const bar of bars) total += bar.points
  const played = bars.flatMap((bar, index) => {
    const pushedAway = index > 0 && bars[index - 1]!.notes.at(-1)?.role === 'push'
    return bar.notes.filter((note) => !(pushedAway && note.tick === form.bars[index]!.startTick))
  })
  if (played.length !== line.notes.length) throw new Error(`${line.notes.length} notes for ${played.length} onsets`)
  for (const [index, plan] of played.entries()) {
    const note = line.notes[index]!
    if (note.slot.startTick !== plan.tick) throw new Error(`a note at ${note.slot.startTick}, an onset at ${plan.tick}`)
    total += noteScore(request, line, played, index)
    if (index > 0) total += stepScore(request, line, played, index - 1, index)
    else if (closes(request) && played.at(-1)!.role !== 'push')
      total += stepScore(request, line, played, played.length - 1, 0)
  }
  return total + request.rules.reduce((sum, rule) => sum + priceOf(request, line, rule), 0)
}

/** An onset as the plan wants it. */
interface Planned {
  readonly tick: number
  readonly bar: FormBar
  readonly role: string
  readonly token: PatternToken
  /** chord that sounds, chord it counts from */
  readonly chord: Chord
  readonly reference: Chord
  readonly next: boolean
  readonly source: 'pattern' | 'lead' | 'fill' | 'walk' | 'plain'
  readonly entry: boolean
  readonly foreign: boolean
  readonly held: boolean
  readonly part: number
  /** all onsets of its bar */
  degrees: readonly Planned[]
}

/** Places of a bar in ticks: its beats, where its later groups begin, where its second half does, and its last beat. */
interface Grid {
  readonly ticks: number
  readonly beats: readonly number[]
  readonly mids: readonly number[]
  readonly half: number
  readonly last: number
  readonly quarters: boolean
}

/** Beats and later groups of each metre, counted as its lower figure says. 7/8 has its groups from the chart. */
const COUNTS: Readonly<Record<string, readonly [beats: readonly number[], mids: readonly number[], half: number]>> = {
  '2/4': [[1, 2], [], 2],
  '3/4': [[1, 2, 3], [], 3],
  '4/4': [[1, 2, 3, 4], [3], 3],
  '5/4': [[1, 2, 3, 4, 5], [4], 4],
  '6/8': [[1, 4], [4], 4],
  '9/8': [[1, 4, 7], [], 4],
  '12/8': [[1, 4, 7, 10], [7], 7],
}

function gridOf({ upper, lower, groups }: Metre): Grid {
  const [a = 0, b = 0] = groups
  const seven = [[1, 1 + a, 1 + a + b], [1 + a, 1 + a + b], 1 + a + b] as const
  const [beats, mids, half] = upper === 7 ? seven : COUNTS[`${upper}/${lower}`]!
  const tick = (count: number) => ((count - 1) * 1920) / lower
  const ticks = tick(upper + 1)
  const last = ticks - (lower === 8 && upper !== 7 ? 720 : 480)
  return { ticks, beats: beats.map(tick), mids: mids.map(tick), half: tick(half), last, quarters: lower === 4 }
}

function isBar(bar: FormBar, { upper, lower }: Metre): boolean {
  return bar.metre.upper === upper && bar.metre.lower === lower
}

function placeOf(grid: Grid, tick: number): 'one' | 'mid' | 'back' | 'off' | 'fine' {
  if (tick === 0) return 'one'
  if (grid.mids.includes(tick)) return 'mid'
  if (grid.beats.includes(tick)) return 'back'
  return tick % 240 === 0 || (grid.quarters && tick % 160 === 0) ? 'off' : 'fine'
}

/** Letters of the phrases: a section anew, twelve bars as four, four and the last four, else eights and the rest. */
export function lettersOf(eight: readonly string[], bars: readonly FormBar[]): readonly string[] {
  const starts = bars.map((bar, index) => index === 0 || bar.section !== undefined)
  const letters: string[] = []
  for (let from = 0; from < bars.length; ) {
    let to = from + 1
    while (to < bars.length && !starts[to]) to++
    let left = to - from
    if (left === 12) {
      letters.push(...eight.slice(0, 4), ...eight.slice(0, 4), ...eight.slice(4))
      left = 0
    }
    for (; left > 0; left -= Math.min(left, 8)) {
      const here = Math.min(left, 8)
      letters.push(...eight.slice(0, here - 1), eight[7]!)
    }
    from = to
  }
  return letters
}

interface Part {
  readonly chord: Chord
  readonly from: number
  readonly to: number
  readonly arrives: boolean
}

function partsOf(bar: FormBar): readonly Part[] {
  const parts: Part[] = []
  for (const change of bar.changes) {
    if (!change.chord) continue
    const from = change.startTick - bar.startTick
    const last = parts.at(-1)
    if (last && change.held) parts[parts.length - 1] = { ...last, to: from + change.ticks }
    else parts.push({ chord: change.chord, from, to: from + change.ticks, arrives: !change.held })
  }
  return parts
}

function nextOf({ form }: GrooveRequest, bar: FormBar): { readonly chord: Chord; readonly held: boolean } | undefined {
  if (!bar.changes.at(-1)!.chord) return undefined
  const after = form.bars[bar.index + 1]
  const change = (after ?? form.bars[0]!).changes[0]!
  if (!change.chord) return undefined
  const held = after ? change.held : change.chord.symbol.text === bar.changes.at(-1)!.chord!.symbol.text
  return { chord: change.chord, held }
}

/** The pattern over a chord, by the relatives. */
function over(
  table: GrooveTable,
  pattern: Pattern,
  chord: Chord,
): { readonly pattern: Pattern; readonly foreign: boolean } {
  const suits = (one: Pattern) => one.families === 'any' || one.families.includes(familyOf(chord))
  if (suits(pattern)) return { pattern, foreign: false }
  const row = table.relatives.find((one) => one.pattern === pattern.id && one.families.includes(familyOf(chord)))
  const other = row ? patternOf(row.instead)! : pattern
  return { pattern: other, foreign: !suits(other) }
}

/** Tokens for so many onsets, written out onset by onset. */
function dealt(
  { beats, mids, half }: Grid,
  way: string,
  ticks: readonly number[],
  count: number,
  from: number,
  lead: number,
): readonly number[] {
  let beat = -1
  return ticks.map((tick, i) => {
    if (i === 0 || beats.includes(tick)) beat++
    if (way === 'each') return i % count
    if (way === 'run') return (from + i) % count
    if (way === 'beat') return beat % count
    if (way === 'beatrun') return (from + beat) % count
    if (way === 'half') return tick >= half && (ticks[0]! < half || mids.length > 1) ? 1 : 0
    if (way === 'low-high') return beats.includes(tick) ? 0 : 1
    const place = i - (ticks.length - lead - count)
    return place > 0 && place < count ? place : 0
  })
}

/** Tokens already dealt since the chord of a bar began. */
function positionOf({ form, metre }: GrooveRequest, line: GrooveLine['plan']['a'], bar: FormBar): number {
  const { beats } = gridOf(metre)
  let position = 0
  for (const one of form.bars.slice(0, bar.index + 1)) {
    const parts = partsOf(one)
    if (parts[0]?.arrives !== false) position = 0
    if (one === bar) return position
    const last = parts.at(-1)
    if (!last) continue
    if (parts.length > 1) position = 0
    const ticks = line.onsets
      .filter((o) => !o.ghost && !o.continues && o.tick >= last.from && o.tick < last.to)
      .map((o) => o.tick)
    if (line.deal === 'run') position += ticks.length
    if (line.deal === 'beatrun') position += new Set([ticks[0], ...ticks.filter((tick) => beats.includes(tick))]).size
  }
  return position
}

const ONE: DegreeToken = { kind: 'degree', next: false, octave: 0, accidental: undefined, number: 1 }
const isOwnRoot = (token: PatternToken): boolean =>
  token.kind === 'degree' && !token.next && !token.accidental && token.number % 7 === 1
const isKind = (token: PatternToken, kind: 'degree' | 'approach') => token.kind === kind

function barOf(
  request: GrooveRequest,
  line: GrooveLine,
  letter: string,
  bar: FormBar,
  isPlayed = true,
): { readonly points: number; readonly notes: readonly Planned[] } {
  const { table } = request
  const parts = partsOf(bar)
  const next = nextOf(request, bar)
  if (parts.length === 0) return { points: 0, notes: [] }
  const feel = gridOf(request.metre)
  const own = isBar(bar, request.metre)
  const half = !own && 2 * bar.ticks === feel.ticks
  const grid = own || half ? feel : gridOf(bar.metre)
  const pairing = letter === 'B' && own && line.plan.b ? line.plan.b : line.plan.a
  const figureId = line.plan.figures[bar.index]
  const figure: Figure | undefined = [...table.fills, ...table.walks].find((one) => one.id === figureId)
  const reading = figure && parseCell(figure.cell)
  const cell = reading?.ok ? reading.cell : undefined
  const end = parts.at(-1)!.to
  const cut = cell ? grid.ticks - cell.ticks : end

  // Onsets with tokens.
  interface Draft {
    tick: number
    part: number
    token: PatternToken
    source: Planned['source']
    foreign: boolean
    tied: boolean
    continues: boolean
    restart: boolean
    added?: boolean
  }
  const drafts: Draft[] = []
  const ghostTicks: number[] = []
  // Half a bar in which the groove strikes once has a note on each beat.
  const strikes = pairing.onsets.filter((o) => !o.ghost && o.tick < bar.ticks).length
  const isGroove = own || (half && (strikes > 1 || parts.length > 1))
  if (!isGroove) {
    const ticks = new Set(grid.beats)
    for (const part of parts) if (part.arrives) ticks.add(part.from)
    for (const tick of [...ticks].sort((a, b) => a - b)) {
      const part = parts.findIndex((one) => tick >= one.from && tick < one.to)
      if (part < 0) continue
      const token = tick === 0 || tick === parts[part]!.from ? ONE : { ...ONE, number: 5 }
      const plain = { source: 'plain' as const, foreign: false, tied: false, continues: false, restart: false }
      drafts.push({ tick, part, token, ...plain })
    }
  } else {
    for (const [index, part] of parts.entries()) {
      const { pattern, foreign } = over(table, pairing.pattern, part.chord)
      const inCell = pairing.onsets.filter((o) => o.tick >= part.from && o.tick < part.to && o.tick < cut)
      // A chord that the cell does not meet gets an onset.
      const isMet = part.from === 0 || !part.arrives || inCell.some((o) => !o.ghost && o.tick === part.from)
      const added = { tick: part.from, ghost: false, continues: false, tiedOver: false }
      const onsets = isMet || part.from >= cut ? inCell : [added, ...inCell.filter((o) => o.tick > part.from)]
      if (onsets !== inCell && drafts.length > 0) drafts.at(-1)!.tied = false
      ghostTicks.push(...onsets.filter((o) => o.ghost).map((o) => o.tick))
      const struck = onsets.filter((o) => !o.ghost && !o.continues && o !== added)
      const leads = index === parts.length - 1 && !figure && next ? pairing.leadTokens : []
      const lead = Math.max(0, Math.min(leads.length, struck.length - 1))
      const from = index === 0 && !part.arrives ? positionOf(request, pairing, bar) : 0
      const ticks = struck.map((o) => o.tick)
      const indices = dealt(grid, pairing.deal, ticks, pattern.tokens.length, from % pattern.tokens.length, lead)
      for (const onset of onsets.filter((o) => !o.ghost)) {
        const i = struck.indexOf(onset)
        const leading = i >= 0 && i >= struck.length - lead
        const isRootless = !pattern.tokens.some((t) => t.kind === 'degree' && t.number % 7 === 1)
        const meets = i === 0 && !leading && part.from > 0 && part.arrives && onset.tick === part.from && !isRootless
        const written = leading ? leads[leads.length - struck.length + i]! : i < 0 ? ONE : pattern.tokens[indices[i]!]!
        drafts.push({
          tick: onset.tick,
          part: index,
          token:
            meets && !isOwnRoot(written)
              ? ONE
              : leading && written.kind === 'degree'
                ? { ...written, next: true }
                : written,
          source: leading ? 'lead' : 'pattern',
          foreign: !leading && foreign,
          tied: onset.tiedOver && !figure && index === parts.length - 1,
          continues: i < 0 && onset !== added,
          added: onset === added,
          restart:
            !leading &&
            i > 0 &&
            pattern.tokens.length > 1 &&
            indices[i] === 0 &&
            ['each', 'beat', 'run', 'beatrun'].includes(pairing.deal),
        })
      }
    }
    if (figure && cell) {
      const parsed = parsePattern(figure.tokens)
      const tokens = parsed.ok ? parsed.tokens : []
      let used = 0
      for (const onset of cell.onsets) {
        const tick = cut + onset.tick
        const part = parts.findLastIndex((one) => one.from <= tick && tick < one.to)
        if (onset.ghost) {
          if (part >= 0) ghostTicks.push(tick)
          continue
        }
        const token = onset.continues ? ONE : tokens[used++]!
        if (part < 0) continue
        const afresh = tick > 0 && parts[part]!.arrives && parts[part]!.from === tick
        drafts.push({
          tick,
          part,
          token: afresh && !isOwnRoot(token) ? ONE : token,
          source: figure.when === 'change' ? 'walk' : 'fill',
          foreign: false,
          tied: onset.tiedOver,
          continues: false,
          restart: false,
        })
      }
      for (const [index, part] of parts.entries()) {
        if (part.from < cut || part.from === 0 || !part.arrives || drafts.some((d) => d.tick === part.from)) continue
        const source = figure.when === 'change' ? ('walk' as const) : ('fill' as const)
        const rest = { foreign: false, tied: false, continues: false, restart: false, added: true }
        const at = drafts.findIndex((d) => d.tick > part.from)
        const draft = { tick: part.from, part: index, token: ONE, source, ...rest }
        if (at !== 0 && drafts.length > 0) drafts.at(at < 0 ? -1 : at - 1)!.tied = false
        drafts.splice(at < 0 ? drafts.length : at, 0, draft)
      }
    }
  }

  // Chords, roles.
  const following = (part: number): Chord | undefined => {
    if (part + 1 < parts.length) return parts[part]!.to === parts[part + 1]!.from ? parts[part + 1]!.chord : undefined
    return next?.chord
  }
  const entered = new Set<string>()
  const notes = drafts.map((draft): Planned => {
    const part = parts[draft.part]!
    const tied = draft.tied && following(draft.part) !== undefined
    let token = draft.token
    if (tied && !(token.kind === 'degree' && token.next)) token = { ...ONE, next: true }
    if (token.kind === 'degree' && token.next && !following(draft.part)) token = { ...token, next: false }
    const isNext = token.kind === 'degree' && token.next
    const arrives = draft.tick === 0 || (part.arrives && part.from === draft.tick)
    const place = placeOf(grid, draft.tick)
    const late = place !== 'one' && place !== 'mid' && draft.tick >= grid.last
    const role = tied ? 'push' : arrives ? 'one' : late ? 'last' : place
    const reference = isNext ? following(draft.part)! : part.chord
    const key = isNext ? 'next' : String(draft.part)
    const entry = isKind(token, 'degree') && (!isNext || tied) && !entered.has(key)
    if (entry) entered.add(key)
    return {
      tick: bar.startTick + draft.tick,
      bar,
      role,
      token,
      chord: part.chord,
      reference,
      next: isNext,
      source: draft.source,
      entry,
      foreign: draft.foreign,
      held: !part.arrives,
      part: draft.part,
      degrees: [],
    }
  })
  for (const note of notes) note.degrees = notes

  // What the bar costs by itself.
  let points = 0
  const role = (name: string) => table.roles[name as keyof GrooveTable['roles']]
  const dead = line.ghosts.filter((slot) => slot.barIndex === bar.index).map((slot) => slot.startTick - bar.startTick)
  const taken = new Set([...drafts.map((d) => d.tick), ...dead])
  for (const note of notes) if (isGroove && note.token.kind === 'degree' && tone(note).adapted) points += table.adapt
  points += 12 * drafts.filter((d) => d.added).length
  if (figure && cell) {
    points += figure.points
    if (!taken.has(0) && cell.ticks < grid.ticks) points += role('one').none
    return { points, notes }
  }
  if (!isGroove || !isPlayed) return { points, notes }
  points += pairing.points
  if (letter === 'w' && own && moves(request, bar)) points += table.walks.length > 0 ? table.noWalk : 0
  if (half || parts.reduce((sum, part) => sum + part.to - part.from, 0) < grid.ticks) return { points, notes }
  if (barsInPhrase(request.form.bars)[bar.index]! % 2 === 1) points += 2 * (dead.length - ghostTicks.length)
  points += deadPoints(table, dead, ghostTicks)
  points += kickPoints(table, grid, drafts)
  const count = drafts.reduce((sum, d) => sum + (d.continues ? 0.5 : 1), 0) + dead.length / 2
  points +=
    count < table.notes
      ? Math.round((table.notes - count) * table.under)
      : Math.round((count - table.notes) * table.over)
  const kinds = new Set(notes.map((note) => (note.token.kind === 'degree' ? tone(note).kind : 'ap')))
  if (kinds.size > 0) points += table.degrees[Math.min(kinds.size, table.degrees.length) - 1]!
  for (const [i, draft] of drafts.entries())
    if (draft.restart) points += table.restart[notes[i]!.role === 'mid' ? 0 : notes[i]!.role === 'back' ? 1 : 2]
  const fromPattern = drafts.filter((d) => d.source === 'pattern' && !d.continues).length
  const length = pairing.pattern.tokens.length
  const cuts = pairing.deal === 'each' || (pairing.deal === 'run' && next?.held !== true)
  if (parts.length === 1 && cuts && length > 1 && fromPattern % length !== 0) points += table.cut
  for (const tick of grid.beats) if (!taken.has(tick)) points += role(placeOf(grid, tick)).none
  const halfText = (from: number) =>
    drafts
      .filter((d) => d.tick >= from && d.tick < from + grid.half)
      .map((d) => `${d.tick - from} ${JSON.stringify(d.token)}`)
      .join()
  const isHalved = grid.mids.length === 1 && 2 * grid.half === grid.ticks
  if (parts.length === 1 && isHalved && halfText(0) === halfText(grid.half)) points += table.halves
  return { points, notes }
}

/** Dead notes beside those of the cell, at the feel's places, no more than it has. */
function deadPoints({ ghosts }: GrooveTable, dead: readonly number[], inCell: readonly number[]): number {
  for (const tick of inCell) if (!dead.includes(tick)) throw new Error(`the dead note of a cell at ${tick} is missing`)
  const added = dead.filter((tick) => !inCell.includes(tick))
  if (added.length === 0) return 0
  const places = ghosts!.places.map(ticksAt)
  if (added.length > ghosts!.most || added.some((tick) => !places.includes(tick)))
    throw new Error('a dead note too many')
  return added.length * ghosts!.points
}

/** Kicks that the bass does not strike with, and what it strikes off the beat without a kick. */
function kickPoints(
  { kick }: GrooveTable,
  { beats }: Grid,
  drafts: readonly { readonly tick: number; readonly continues: boolean }[],
): number {
  if (!kick) return 0
  const kicks = new Set(kick.places.map(ticksAt))
  const bass = new Set(drafts.filter((d) => !d.continues).map((d) => d.tick))
  let points = 0
  for (const tick of kicks) if (!bass.has(tick)) points += kick.missed
  for (const tick of bass) if (!kicks.has(tick) && !beats.includes(tick)) points += kick.against
  return points
}

function ticksAt(place: string): number {
  const parts: Record<string, number> = { '': 0, e: 120, trip: 160, '&': 240, let: 320, a: 360 }
  return 480 * (Number(place[0]) - 1) + parts[place.slice(1)]!
}

function moves(request: GrooveRequest, bar: FormBar): boolean {
  const next = nextOf(request, bar)
  return next !== undefined && next.chord.bassPc !== partsOf(bar).at(-1)!.chord.bassPc
}

/** A degree over its chord, in the chord's colour. */
function tone(note: Planned): { readonly semitones: number; readonly kind: string; readonly adapted: boolean } {
  const { token, reference: chord } = note
  if (token.kind !== 'degree') throw new Error('no degree')
  const family = familyOf(chord)
  const step = (token.number - 1) % 7
  const octave = token.octave + Math.floor((token.number - 1) / 7)
  const written = semitonesOfToken(token, chord) - 12 * octave
  let above = written
  let adapted = false
  const isMinorish = family === 'minor' || family === 'half-diminished'
  const numbers = chord.tones.map(({ number }) => number)
  const isSixth = numbers.includes(6) && !numbers.includes(7)
  if (step === 6 && isSixth && !token.next) {
    adapted = above !== 9 && (token.accidental !== undefined || note.foreign)
    above = 9
  } else if (family === 'major' && step === 6 && (token.accidental === 'b' || (note.foreign && !token.accidental))) {
    adapted = above !== 9
    above = 9
  } else if (family === 'minor' && step === 5 && !token.accidental && !isSixth) above = 10
  else if (token.next && isMinorish && token.accidental === 'n' && (step === 5 || step === 6)) {
    above = step === 5 ? 8 : 10
    adapted = true
  } else if (note.foreign && token.accidental) {
    above = semitonesOfToken({ ...token, accidental: undefined }, chord) - 12 * octave
    adapted = above !== written
  }
  const isRoot = step === 0 && !token.accidental
  const pitchClass = (chord.rootPc + above + 24) % 12
  const kind = isRoot ? (octave === 0 ? '1' : '8') : kindOf(chord, pitchClass)
  const root = (chord.rootPc - chord.bassPc + 12) % 12
  const shift = isRoot ? 0 : root < 5 ? root : root - 12
  if (!isRoot && !token.next && root > 0 && pitchClass === chord.bassPc)
    return { semitones: above + shift + 12 * octave + (root <= 6 ? root : root - 12), kind: '8', adapted: false }
  return { semitones: above + shift + 12 * octave, kind, adapted }
}

function kindOf(chord: Chord, pitchClass: number): string {
  const { degree, standing } = degreeAt(chord, pitchClass)
  const above = (pitchClass - chord.rootPc + 12) % 12
  const step = (degree.number - 1) % 7
  if (standing === 'chromatic') return above === 10 ? '7' : 'x'
  if (step === 0) return '8'
  if (step === 6 || above === 10) return '7'
  if (step === 5) return '6'
  if (standing === 'tone' && step === 4) return '5'
  if (standing === 'tone' && (step === 2 || familyOf(chord) === 'suspended')) return '3'
  return '4'
}

const anchor = (line: GrooveLine, chord: Chord) => line.plan.zone + ((chord.bassPc - line.plan.zone + 120) % 12)

/** The place of a pitch nearest to a row of frets, the lower among equals. */
function nearest(request: GrooveRequest, pitch: number, from: number, to: number, openIsNear: boolean) {
  const places = request.instrument.open
    .map((open, string) => ({ string, fret: pitch - open }))
    .filter(({ fret }) => fret >= request.frets.from && fret <= request.frets.to)
  const away = (fret: number) => (openIsNear && fret === 0 ? 0 : Math.max(from - fret, fret - to, 0))
  return places.sort((a, b) => away(a.fret) - away(b.fret) || a.fret - b.fret)[0]
}

function noteScore(request: GrooveRequest, line: GrooveLine, played: readonly Planned[], index: number): number {
  const { table, register } = request
  const plan = played[index]!
  const note = line.notes[index]!
  const prices = table.roles[plan.role as keyof GrooveTable['roles']]
  let points = 0
  if (note.kind === 'free') {
    const chord = plan.role === 'push' ? plan.reference : plan.chord
    const isRoot = (note.pitch - chord.bassPc) % 12 === 0
    const kind = isRoot ? (note.pitch === anchor(line, chord) ? '1' : '8') : kindOf(chord, note.pitch % 12)
    points += prices[kind as '1'] + prices.any + table.unlisted
  } else if (note.kind === 'takeover') {
    const distance = Math.abs(note.pitch - note.target!)
    points += prices.ap + prices.any + table.approach + (distance === 1 ? 0 : distance === 2 ? 1 : 2)
    if (isCrowded(request, line, plan.bar)) points += 12
    const sameDegree = (other: Planned) =>
      other.bar === plan.bar &&
      other.part === plan.part &&
      other.source === 'pattern' &&
      !other.next &&
      other.token.kind === 'degree' &&
      plan.token.kind === 'degree' &&
      (other.token.number - plan.token.number) % 7 === 0 &&
      other.token.accidental === plan.token.accidental
    // Where a push has taken the downbeat away its degree was still planned.
    if (!plan.degrees.some((other) => other !== plan && sameDegree(other))) points += 4
  } else if (note.kind === 'approach') {
    const waived = plan.source !== 'pattern'
    points += (waived ? 0 : prices.ap) + prices.any
    if (plan.token.kind === 'approach' && plan.token.from === 'below' && note.pitch > note.target!) points += table.fold
    if (plan.source === 'fill' && strikesAgain(line, played, index)) points += 6
  } else {
    const { semitones, kind } = tone(plan)
    const inFigure = plan.source === 'fill' || plan.source === 'walk'
    if (plan.source !== 'plain' && !(inFigure && plan.next && plan.role !== 'one'))
      points += prices[kind as '1'] + prices.any
    const root = anchor(line, plan.reference) + 12 * note.octave
    if (note.pitch !== root + semitones) {
      if (Math.abs(note.pitch - root - semitones) !== 12 || !note.folded)
        throw new Error(`no token gives ${note.pitch}`)
      points += table.fold
      const after = played[index + 1]
      const goesOn = after?.bar === plan.bar && after.next && after.role !== 'push'
      if (plan.next && plan.role !== 'push' && semitones < 0 && !goesOn) points += table.leadDrop
    }
    if (plan.entry && note.octave === 1) points += 4
    const home = nearest(request, root, line.plan.home, line.plan.home + 3, line.plan.home === 1)
    const isAt = (spot: { string: number; fret: number }) => note.string === spot.string && note.fret === spot.fret
    if (home && note.pitch === root && !isAt(home)) points += 4
    if (home && note.pitch !== root) {
      const shape = nearest(request, note.pitch, home.fret - 1, home.fret + 3, false)
      if (shape && !isAt(shape)) points += 3
    }
  }
  if (note.kind !== 'free' && givesAway(request, line, played, index)) points += 4
  points += Math.max(0, register.lowest - note.pitch) + 2 * Math.max(0, note.pitch - register.highest)
  if (note.fret === 0) points += table.open
  points += Math.max(0, note.fret - 9)
  if (plan.entry && note.fret > 0)
    points += (note.hand > 5 ? 1 : 0) + table.home * Math.max(0, Math.abs(note.hand - line.plan.home) - 1)
  return points
}

/** One of the last two notes of a fill that is not tied over, on the bass of the chord that comes next. */
function givesAway(request: GrooveRequest, line: GrooveLine, played: readonly Planned[], index: number): boolean {
  const plan = played[index]!
  const bar = played.filter((one) => one.bar === plan.bar)
  if (plan.source !== 'fill' || bar.at(-1)!.role === 'push' || bar.indexOf(plan) < bar.length - 2) return false
  const next = nextOf(request, plan.bar)
  return (
    next !== undefined && next.chord.bassPc !== plan.chord.bassPc && line.notes[index]!.pitch % 12 === next.chord.bassPc
  )
}

/** An approach of a fill on a pitch that the fill has struck before, though not just before. */
function strikesAgain(line: GrooveLine, played: readonly Planned[], index: number): boolean {
  const { bar, source } = played[index]!
  return played.some(
    (one, i) =>
      one.bar === bar &&
      one.source === source &&
      i < index - 1 &&
      (line.notes[i]!.pitch - line.notes[index]!.pitch) % 12 === 0,
  )
}

function stepScore(request: GrooveRequest, line: GrooveLine, played: readonly Planned[], i: number, j: number): number {
  const { table, form } = request
  const [from, to] = [line.notes[i]!, line.notes[j]!]
  const [one, other] = [played[i]!, played[j]!]
  const inBar = one.bar === other.bar && j > i
  if (!inBar && silenceAfter(form.bars, one.bar)) return 0
  const size = Math.abs(to.pitch - from.pitch)
  let points = size <= 12 ? table.intervals[size]! : table.intervals[12]! + table.wide * (size - 9)
  if (size === 0 && from.string !== to.string) points += 4
  if (from.hand !== to.hand)
    points += (from.fret === 0 ? 0 : table.shift) + table.shiftStep * stepsOf(request.instrument, from.hand, to.hand)
  const strings = Math.abs(from.string - to.string)
  if (size === 12) points += strings === 2 ? 0 : 2
  else points += table.skip * Math.max(0, strings - 1)
  if (inBar && size > 12) points += 20
  if (size === 1 && strings > 0 && from.fret * to.fret > 0) points += 2
  if (to.target !== undefined && size > 7) points += 5
  const heard = to.kind === 'takeover' && (from.pitch - to.target!) % 12 === 0
  if (inBar && heard && Math.abs(to.pitch - to.target!) <= 2) points += 4
  const isFill = (plan: Planned) => plan.source === 'fill' || plan.source === 'walk'
  const sameToken = JSON.stringify(one.token) === JSON.stringify(other.token)
  const before = played[j - 1]
  if (isFill(other) && before?.bar === other.bar && to.kind !== 'free') {
    const fresh = to.kind === 'approach' || !(sameToken && i === j - 1)
    if (fresh && size === 0) points += 6
  }
  const chordAfter = (note: GrooveNote, plan: Planned) =>
    note.kind === 'pattern' || (note.kind === 'free' && plan.role === 'push') ? plan.reference : plan.chord
  if (chordAfter(from, one).bassPc !== chordAfter(to, other).bassPc) {
    const lead = [3, 0, 0, 2, 2, 1, 4, 1, 4, 4, 4, 4, 3][size] ?? 4
    points += table.lead * lead
    if ([1, 2, 10, 11].includes(size % 12) && size > 2) points += table.leadDrop
    if (size % 12 === 0) points += 2
  }
  if (from.target !== undefined && from.target !== (to.target ?? to.pitch)) points += 12
  else if (!inBar && other.held && from.kind === 'pattern' && !one.next && to.kind === 'pattern' && !other.next)
    points += from.octave === to.octave ? 0 : 4
  return points
}

function silenceAfter(bars: readonly FormBar[], bar: FormBar): boolean {
  const after = bars[bar.index + 1] ?? bars[0]!
  return !bar.changes.at(-1)!.chord || !after.changes[0]!.chord
}

function closes({ form, loop, rules }: GrooveRequest): boolean {
  const turns = loop || rules.some((rule) => rule.test.looksAt === 'loop')
  return turns && !silenceAfter(form.bars, form.bars.at(-1)!)
}

/** Whether a bar of answer strikes what the groove itself would strike there, in any octave. */
function answersNothing(request: GrooveRequest, line: GrooveLine, bar: FormBar): boolean {
  if (!line.plan.b || !isBar(bar, request.metre) || partsOf(bar).length === 0) return false
  const sound = (letter: string) =>
    barOf(request, line, letter, bar, false).notes.map((note, index, notes) => {
      const { tick, token, reference } = note
      if (token.kind === 'degree') return [tick, (reference.bassPc + tone(note).semitones + 48) % 12].join()
      const target = notes.slice(index).find((other) => isKind(other.token, 'degree'))
      const { bassPc } = target?.reference ?? nextOf(request, bar)?.chord ?? reference
      return [tick, ...(token.by === 'dominant' ? [(bassPc + 7) % 12] : [token.by, token.from, bassPc])].join()
    })
  return sound('A').join(' ') === sound('B').join(' ')
}

/** Changed onsets of the answer, two a point; six if its opening differs. */
function variationOf({ table, form, metre }: GrooveRequest, line: GrooveLine): number {
  const grid = gridOf(metre)
  const { a, b } = line.plan
  const letters = lettersOf(table.schemes[line.plan.scheme]!.letters, form.bars)
  const answered = form.bars.some((bar) => letters[bar.index] === 'B' && isBar(bar, metre) && partsOf(bar).length > 0)
  if (!b || !answered) return 0
  const onsets = (pairing: GrooveLine['plan']['a']) => {
    const struck = pairing.onsets.filter((o) => !o.ghost)
    const given = struck.filter((o) => !o.continues)
    const ticks = given.map((o) => o.tick)
    const indices = dealt(grid, pairing.deal, ticks, pairing.pattern.tokens.length, 0, pairing.leadTokens.length)
    return struck.map((onset) => {
      const i = given.indexOf(onset)
      const lead = i >= 0 ? pairing.leadTokens[pairing.leadTokens.length - given.length + i] : undefined
      const token = lead ?? (i < 0 ? ONE : pairing.pattern.tokens[indices[i]!]!)
      const next = token.kind === 'degree' && (token.next || lead !== undefined)
      const text = onset.tiedOver ? '>1' : JSON.stringify({ ...token, next })
      return { tick: onset.tick, text: `${onset.tick} ${text}` }
    })
  }
  const [one, other] = [onsets(a), onsets(b)]
  const texts = (rows: typeof one) => rows.map((row) => row.text)
  const changed =
    texts(one).filter((text) => !texts(other).includes(text)).length +
    texts(other).filter((text) => !texts(one).includes(text)).length
  const opening = (rows: typeof one) => texts(rows.filter((row) => row.tick < grid.half)).join()
  return table.change * Math.ceil(changed / 2) + (opening(one) === opening(other) ? 0 : 6)
}

/** Twelve points for each bar of groove with a lead of its own beyond those that a phrase of eight bears. */
function leadsOf({ form, metre, table }: GrooveRequest, line: GrooveLine, letters: readonly string[]): number {
  let points = 0
  let leads = 0
  for (const [bar, at] of barsInPhrase(form.bars).entries()) {
    // A phrase of twelve counts as eight and four, like any other rest.
    if (at % 8 === 0) leads = 0
    const sounds = isBar(form.bars[bar]!, metre) && partsOf(form.bars[bar]!).length > 0
    const pairing = letters[bar] === 'A' ? line.plan.a : letters[bar] === 'B' ? line.plan.b : undefined
    const walks = letters[bar] === 'w' && isBar(form.bars[bar]!, metre) && movesAfter(form.bars, bar)
    const isLed = sounds && pairing !== undefined && leadsOn(pairing)
    if ((isLed || walks) && ++leads > table.mostLeads) points += 12
  }
  // Walks by themselves are none too many.
  const isLed = [line.plan.a, line.plan.b].some((pairing) => pairing && leadsOn(pairing))
  return isLed ? points : 0
}

function movesAfter(bars: readonly FormBar[], bar: number): boolean {
  const after = (bars[bar + 1] ?? bars[0]!).changes[0]!.chord
  const last = partsOf(bars[bar]!).at(-1)
  return after !== undefined && bars[bar]!.changes.at(-1)!.chord !== undefined && last!.chord.bassPc !== after.bassPc
}

/** For each bar, which of its section it is. */
function barsInPhrase(bars: readonly FormBar[]): readonly number[] {
  let section = 0
  return bars.map((bar) => {
    section = bar.index === 0 || bar.section !== undefined ? bar.index : section
    return bar.index - section
  })
}

const leadsOn = ({ lead, pattern }: GrooveLine['plan']['a']) =>
  lead !== undefined || pattern.tokens.some((token) => isKind(token, 'approach'))

/** Whether an approach in a bar is one too many: of two bars that make a pair one leads on. */
function isCrowded(request: GrooveRequest, line: GrooveLine, bar: FormBar): boolean {
  const { form, table } = request
  if (table.mostLeads >= 8) return false
  const at = barsInPhrase(form.bars)
  const [before, after] = [form.bars[bar.index - 1], form.bars[bar.index + 1]]
  if (at[bar.index]! % 2 === 1) {
    const letter = lettersOf(table.schemes[line.plan.scheme]!.letters, form.bars)[before!.index]!
    const isPlain = isBar(bar, request.metre) && line.plan.figures[bar.index] === undefined
    const pairing = letter === 'A' ? line.plan.a : letter === 'B' ? line.plan.b : undefined
    return isPlain && pairing !== undefined && leadsOn(pairing)
  }
  const movesOn = (one: FormBar) => {
    const following = (form.bars[one.index + 1] ?? form.bars[0]!).changes[0]!
    const basses = [...one.changes, following].flatMap(({ chord }) => chord?.bassPc ?? [])
    return new Set(basses).size > 1
  }
  return after !== undefined && at[after.index] === at[bar.index]! + 1 && movesOn(bar) && movesOn(after)
}
