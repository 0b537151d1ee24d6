import type { Chord } from '../../music/chord.ts'
import type { Pitch } from '../../music/pitch.ts'
import type { Tick } from '../../music/tick.ts'
import { parseCell } from '../../rhythm/cell.ts'
import type { CostTerm } from '../line.ts'
import { type ApproachToken, type DegreeToken, formatToken, type PatternToken, parsePattern } from '../pattern.ts'
import type { RuleTest } from '../rule.ts'
import type { BarContext, BarPart } from './context.ts'
import { type BarMap, deal, placeOf, roleOf } from './deal.ts'
import { deadNotes, placeTick } from './ghost.ts'
import type { BarOnset, Pairing } from './pairing.ts'
import type { Figure, GrooveTable, Role } from './table.ts'
import { NEXT_ROOT, ROOT, relativeOf, type Tone, toneOf } from './tone.ts'

/** An approach in the place of a degree that its chord has nowhere else in the bar. */
const DEGREE_LOST = 4

/** What a dead note beside those of its cells costs more where the bar before may have it: a starting value set by hand, no source. */
const DEAD_AGAIN = 2

/** Bars of a phrase. */
const PHRASE = 8

/** A lead beyond those that a phrase bears: a starting value set by hand, no source. */
export const LEAD_TOO_MANY = 12

/** A cell gives way to a chord that arrives where it has no onset: a starting value set by hand, no source. */
const ADDED_ONSET = 12

/** Where a note comes from. */
export type Source = 'pattern' | 'lead' | 'fill' | 'walk' | 'plain' | 'kept'

/** What a struck onset is to play, before it has a pitch. */
export interface LaidSlot {
  readonly onset: BarOnset
  /** the part whose chord sounds */
  readonly part: number
  /** the chord it is counted from: a part, or as many as there are parts for the bar after */
  readonly reference: number
  readonly role: Role
  readonly tone:
    | { readonly kind: 'degree'; readonly tone: Tone; readonly next: boolean }
    /** a note that a rule keeps */
    | { readonly kind: 'kept'; readonly pitch: Pitch }
    /** `target`: the slot it steps into, `undefined` for the arrival in the bar after */
    | { readonly kind: 'approach'; readonly token: ApproachToken; readonly target: number | undefined }
  readonly source: Source
  readonly pattern: string | undefined
  /** what its degree costs on its role, and being struck at all */
  readonly rolePoints: number
  /** what an approach costs that takes its place; `undefined` where none may */
  readonly approachPoints: number | undefined
  /** which chord an approach in its place aims at */
  readonly approachReference: number
  /** the first struck onset of its chord's part */
  readonly entry: boolean
  /** root and fifth alone make the figure: the fifth may lie on either side */
  readonly freeFifth: boolean
  /** the written token differs from the one before, inside a fill */
  readonly freshInFill: boolean
}

/** A bar with onsets, tokens and its own costs, on no neck yet. */
export interface LaidBar {
  readonly context: BarContext
  readonly pairing: Pairing | undefined
  /** id of the fill or walk */
  readonly figure: string | undefined
  /** its first chord began to sound before it, and its first note is the first of that chord; absent: it is not */
  readonly due?: true
  /** the rule that keeps it */
  readonly kept?: KeptBar
  /** struck onsets in order of time */
  readonly slots: readonly LaidSlot[]
  readonly ghosts: readonly BarOnset[]
  /** the last onset is tied over the bar line and takes the next downbeat's place */
  readonly tiedOver: boolean
  readonly terms: readonly CostTerm[]
  readonly points: number
  /** least that its slots cost on their roles */
  readonly leastRoles: number
}

/** What a bar may be: one laid bar, or several where fills or walks are to be chosen. The same for all bars that may be the same. */
export interface BarChoice {
  readonly bars: readonly LaidBar[]
  /** what the cheapest of them and its roles cost at least */
  readonly least: number
  /** one of them ends in a push */
  readonly pushes: boolean
}

/** A bar that a rule keeps as it is. */
export type KeptBar = Extract<RuleTest, { readonly looksAt: 'kept-bar' }>

/** A fill or walk with its cell read and its tokens apart. */
export interface ReadFigure extends Figure {
  /** its number among all figures of a table */
  readonly order: number
  readonly onsets: readonly BarOnset[]
  readonly ticks: Tick
  readonly parsed: readonly PatternToken[]
}

/**
 * Reads the figures of a table.
 *
 * @param from  the number of the first
 * @throws RangeError  if one does not have a token for each struck onset
 */
export function readFigures(figures: readonly Figure[], from: number): readonly ReadFigure[] {
  return figures.map((figure, index) => {
    const read = parseCell(figure.cell)
    const pattern = parsePattern(figure.tokens)
    const parsed = figure.tokens === '' ? [] : pattern.ok ? pattern.tokens : undefined
    if (!read.ok || !parsed) throw new RangeError(`figure ${figure.id} does not read`)
    const { onsets, ticks } = read.cell
    const struck = onsets.filter((onset) => !onset.ghost && !onset.continues).length
    if (struck !== parsed.length)
      throw new RangeError(`figure ${figure.id} has ${parsed.length} tokens for ${struck} onsets`)
    return {
      ...figure,
      onsets: onsets.map((onset) => ({ ...onset, cell: figure.cell })),
      ticks,
      parsed,
      order: from + index,
    }
  })
}

/** An onset with its token, on its way to a slot. */
interface Draft {
  readonly onset: BarOnset
  readonly part: number
  readonly token: PatternToken
  readonly foreign: boolean
  readonly source: Source
  readonly pattern: string | undefined
  readonly freeFifth: boolean
  readonly restart: boolean
}

/**
 * Lays a pairing on a bar, with a fill or walk at its end if one is given.
 *
 * @param position      tokens already dealt since the first chord began; 0 where it begins here
 * @param as.mayDie     whether dead notes may stand beside those of its cells
 * @param as.isSecond   whether it ends a pair of bars, where dead notes beside those of its cells cost more: in every bar they are a tic
 * @param as.isCrowded  whether the bar before it leads on already, so that an approach is one too many
 */
export function layBar(
  table: GrooveTable,
  context: BarContext,
  pairing: Pairing,
  figure: ReadFigure | undefined,
  position: number,
  {
    mayDie,
    isSecond,
    isCrowded,
  }: { readonly mayDie: boolean; readonly isSecond: boolean; readonly isCrowded: boolean },
): LaidBar {
  const deadPrice = (table.ghosts?.points ?? 0) + (isSecond ? DEAD_AGAIN : 0)
  const { parts, map, next } = context
  const length = parts.at(-1)?.endTick ?? 0
  const cut = figure ? map.ticks - figure.ticks : length
  const drafts: Draft[] = []
  const ghosts: BarOnset[] = []

  // The groove's own onsets, dealt afresh where a chord arrives.
  const lastPart = parts.length - 1
  for (const [index, part] of parts.entries()) {
    // What sounds into the figure, into silence or over the end of the bar is cut there.
    const goesOn = parts[index + 1]?.startTick === part.endTick
    const stop = figure ? cut : goesOn ? length : part.endTick
    const within = pairing.onsets.filter(({ tick }) => tick >= part.startTick && tick < part.endTick && tick < cut)
    const met = part.startTick < cut ? meeting(part, within, drafts) : undefined
    const onsets = (met ? [met, ...within.filter(({ tick }) => tick > part.startTick)] : within).map((onset) => {
      const ticks = Math.min(onset.ticks, stop - onset.tick)
      const tiedOver = !figure && onset.tiedOver
      return released(
        table,
        ticks === onset.ticks && tiedOver === onset.tiedOver ? onset : { ...onset, ticks, tiedOver },
      )
    })
    ghosts.push(...onsets.filter((onset) => onset.ghost))
    const { pattern, foreign } = relativeOf(pairing.pattern, part.chord, table.relatives)
    const dealtTo = onsets.filter((onset) => !onset.ghost && !onset.continues && !onset.added)
    const leads = index === lastPart && !figure && next ? pairing.leadTokens : []
    const lead = Math.max(0, Math.min(leads.length, dealtTo.length - 1))
    const from = index === 0 && !part.arrives ? position : 0
    const ticks = dealtTo.map((onset) => onset.tick)
    const dealt = deal(map, ticks, pattern.tokens.length, pairing.deal, from % pattern.tokens.length, lead)
    const freeFifth = isRootAndFifth(pattern.tokens)
    const hasRoot = pattern.tokens.some((token) => token.kind === 'degree' && token.number % 7 === 1)
    for (const onset of onsets) {
      if (onset.ghost) continue
      const order = dealtTo.indexOf(onset)
      // A chord that arrives inside the bar begins with its root, if the pattern has a root at all.
      const meets = order === 0 && part.startTick > 0 && part.arrives && onset.tick === part.startTick
      const leadToken = order >= dealtTo.length - lead ? leads[leads.length - (dealtTo.length - order)] : undefined
      const own = pattern.tokens[dealt.tokens[order]!]
      drafts.push({
        onset,
        part: index,
        token: leadToken ? ofNext(leadToken) : order < 0 || (meets && hasRoot && !isRoot(own!)) ? ROOT : own!,
        foreign: leadToken ? false : foreign,
        source: leadToken ? 'lead' : 'pattern',
        pattern: leadToken ? pairing.lead!.id : pattern.id,
        freeFifth: freeFifth && !leadToken,
        restart: !leadToken && dealt.restarts[order] === true,
      })
    }
  }
  if (figure) {
    let token = 0
    for (const onset of figure.onsets) {
      const at = { ...onset, tick: onset.tick + cut }
      const part = parts.findLastIndex((one) => one.startTick <= at.tick && at.tick < one.endTick)
      const given = onset.ghost ? undefined : onset.continues ? ROOT : figure.parsed[token++]
      if (part < 0) continue
      if (!given) {
        ghosts.push(at)
        continue
      }
      // A figure that meets a change deals afresh there: whatever its token is, the root is heard.
      const arrives = at.tick > 0 && parts[part]!.startTick === at.tick && parts[part]!.arrives
      drafts.push({
        onset: at,
        part,
        token: arrives && !isRoot(given) ? ROOT : given,
        foreign: false,
        source: figure.when === 'change' ? 'walk' : 'fill',
        pattern: figure.id,
        freeFifth: false,
        restart: false,
      })
    }
    for (const [index, part] of parts.entries()) {
      if (part.startTick < cut) continue
      const before = drafts.filter(({ onset }) => onset.tick < part.startTick)
      const after = drafts.filter(({ onset }) => onset.tick >= part.startTick)
      const met = meeting(
        part,
        after.map(({ onset }) => onset),
        before,
      )
      if (!met) continue
      const source = figure.when === 'change' ? 'walk' : 'fill'
      const given = {
        token: ROOT,
        foreign: false,
        source,
        pattern: figure.id,
        freeFifth: false,
        restart: false,
      } as const
      drafts.splice(0, drafts.length, ...before, { onset: met, part: index, ...given }, ...after)
    }
  }

  if (mayDie && !figure && isJudged(context)) {
    const dead = deadOnsets(table, context, drafts, ghosts, deadPrice)
    ghosts.push(...dead)
    // Each ends the note that sounds into it.
    for (const { tick } of dead) {
      const before = drafts.findLastIndex(({ onset }) => onset.tick < tick)
      const draft = drafts[before]
      if (!draft) continue
      const ticks = Math.min(draft.onset.ticks, tick - draft.onset.tick)
      drafts[before] = { ...draft, onset: { ...draft.onset, ticks } }
    }
  }
  const slots = slotsOf(table, context, drafts, isCrowded || context.leavesLead)
  const terms = figure
    ? figureTerms(table, context, figure, drafts, ghosts)
    : grooveTerms(table, context, pairing, drafts, ghosts, slots, deadPrice)
  for (const slot of slots) {
    if (slot.tone.kind === 'degree' && slot.tone.tone.adapted) terms.push({ rule: 'adapt', points: table.adapt })
  }
  for (const { onset } of drafts) if (onset.added) terms.push({ rule: 'onset-on-each-change', points: ADDED_ONSET })
  return finish(context, pairing, figure?.id, slots, ghosts, terms)
}

/** An onset that ends where the feel has a note end that sounds into that place, in full up to there. */
function released({ releases }: GrooveTable, onset: BarOnset): BarOnset {
  if (releases.length === 0 || onset.ghost || onset.tiedOver) return onset
  const end = onset.tick + onset.ticks
  const places = releases.map(placeTick).filter((tick) => tick > onset.tick && tick < end)
  return places.length === 0 ? onset : { ...onset, ticks: Math.min(...places) - onset.tick, length: 'long' }
}

/** Whether a bar is judged as a whole: not half a bar of the feel, nor one that chords do not fill. */
function isJudged({ metre, map, parts }: BarContext): boolean {
  const filled = parts.reduce((sum, part) => sum + part.endTick - part.startTick, 0)
  return metre === 'own' && parts.length > 0 && filled >= map.ticks
}

/** Dead notes of a bar: as many of those that may stand in it as make it cheapest; of two numbers that cost the same, the larger. */
function deadOnsets(
  table: GrooveTable,
  { map, next, silenceAfter }: { readonly map: BarMap; readonly next?: unknown; readonly silenceAfter: boolean },
  drafts: readonly { readonly onset: BarOnset }[],
  ghosts: readonly BarOnset[],
  price: number,
): readonly BarOnset[] {
  if (!table.ghosts) return []
  const onsets = [...drafts.map(({ onset }) => onset), ...ghosts].sort((a, b) => a.tick - b.tick)
  const goesOn = next && !silenceAfter && !onsets.at(-1)?.tiedOver
  const dead = deadNotes(table.ghosts, onsets, goesOn ? map.ticks : undefined).map(
    ({ tick, ticks }): BarOnset => ({
      tick,
      ticks,
      ghost: true,
      accent: false,
      length: undefined,
      tiedOver: false,
      continues: false,
      cell: onsets.findLast((onset) => onset.tick < tick)!.cell,
    }),
  )
  let best = 0
  let least = Number.POSITIVE_INFINITY
  for (let count = 0; count <= dead.length; count++) {
    const points = densityPoints(table, [...onsets, ...dead.slice(0, count)]) + count * price
    if (points <= least) [best, least] = [count, points]
  }
  return dead.slice(0, best)
}

/**
 * An onset for a chord that arrives in a bar where its cell has none, as long as nothing else is struck; what sounds into it, the last of
 * `before`, is cut there. `undefined` where the chord is met, or does not arrive.
 */
function meeting(part: BarPart, onsets: readonly BarOnset[], before: Draft[]): BarOnset | undefined {
  const { startTick, endTick, arrives } = part
  if (startTick === 0 || !arrives || onsets.some(({ tick, ghost }) => tick === startTick && !ghost)) return undefined
  const last = before.at(-1)
  if (last && last.onset.tick + last.onset.ticks > startTick) {
    const onset = { ...last.onset, ticks: startTick - last.onset.tick, tiedOver: false }
    before[before.length - 1] = { ...last, onset }
  }
  const until = Math.min(endTick, ...onsets.filter(({ tick }) => tick > startTick).map(({ tick }) => tick))
  return {
    tick: startTick,
    ticks: until - startTick,
    ghost: false,
    accent: false,
    length: undefined,
    tiedOver: false,
    continues: false,
    cell: onsets[0]?.cell ?? last?.onset.cell ?? 'beats',
    added: true,
  }
}

/** The root or its octave, of the chord that sounds. */
function isRoot(token: PatternToken): boolean {
  return token.kind === 'degree' && !token.next && !token.accidental && token.number % 7 === 1
}

/**
 * A bar of a metre that the feel does not know: one note on each beat, the root on the first and where chords arrive, the fifth
 * between.
 */
export function layPlainBar(table: GrooveTable, context: BarContext): LaidBar {
  const { map, parts } = context
  const drafts: Draft[] = []
  const fifth: DegreeToken = { ...ROOT, number: 5 }
  const starts = new Set([...map.beats, ...parts.filter((part) => part.arrives).map((part) => part.startTick)])
  const ticks = [...starts].filter((tick) => parts.some((part) => tick >= part.startTick && tick < part.endTick))
  ticks.sort((a, b) => a - b)
  for (const [order, tick] of ticks.entries()) {
    const part = parts.findIndex((one) => tick >= one.startTick && tick < one.endTick)
    const end = Math.min(ticks[order + 1] ?? Number.POSITIVE_INFINITY, parts[part]!.endTick)
    drafts.push({
      onset: {
        tick,
        ticks: end - tick,
        ghost: false,
        accent: false,
        length: undefined,
        tiedOver: false,
        continues: false,
        cell: 'beats',
      },
      part,
      token: tick === 0 || tick === parts[part]!.startTick ? ROOT : fifth,
      foreign: false,
      source: 'plain',
      pattern: undefined,
      freeFifth: true,
      restart: false,
    })
  }
  return finish(context, undefined, undefined, slotsOf(table, context, drafts), [], [])
}

/** A bar with exactly the onsets and pitches that a rule keeps; `undefined` where they do not fit its chords. */
export function layKeptBar(table: GrooveTable, context: BarContext, kept: KeptBar): LaidBar | undefined {
  const { parts, ticks: barTicks, next } = context
  const { cell, notation, pitches } = kept
  const partAt = (tick: Tick): number => parts.findIndex((part) => tick >= part.startTick && tick < part.endTick)
  const onsets = cell.onsets
    .filter(({ tick, continues }) => tick < barTicks && !continues)
    .map((onset) => ({ ...onset, ticks: Math.min(onset.ticks, barTicks - onset.tick), cell: notation }))
  const struck = onsets.filter((onset) => !onset.ghost)
  if (struck.length !== pitches.length || onsets.some((onset) => partAt(onset.tick) < 0)) return undefined
  const drafts = struck.map((onset): Draft => {
    const part = partAt(onset.tick)
    return {
      onset: onset.tiedOver && !next ? { ...onset, tiedOver: false } : onset,
      part,
      token: ROOT,
      foreign: false,
      source: 'kept',
      pattern: undefined,
      freeFifth: false,
      restart: false,
    }
  })
  const slots = slotsOf(table, context, drafts).map((slot, index): LaidSlot => {
    const tone = { kind: 'kept', pitch: pitches[index]! } as const
    return { ...slot, tone, rolePoints: 0, approachPoints: undefined }
  })
  const ghosts = onsets.filter((onset) => onset.ghost)
  return { ...finish(context, undefined, undefined, slots, ghosts, []), kept }
}

/** A bar that is played in no way of its own: nothing sounds in it. */
export function layEmptyBar(context: BarContext): LaidBar {
  return finish(context, undefined, undefined, [], [], [])
}

function finish(
  context: BarContext,
  pairing: Pairing | undefined,
  figure: string | undefined,
  slots: readonly LaidSlot[],
  ghosts: readonly BarOnset[],
  terms: readonly CostTerm[],
): LaidBar {
  const kept = terms.filter((term) => term.points > 0)
  const leastRoles = slots.reduce(
    (sum, slot) =>
      // A push before the bar may take the downbeat away.
      sum + (slot.onset.tick === 0 ? 0 : Math.min(slot.rolePoints, slot.approachPoints ?? slot.rolePoints)),
    0,
  )
  return {
    context,
    pairing,
    figure,
    slots,
    ghosts,
    tiedOver: slots.at(-1)?.role === 'push',
    terms: kept,
    points: kept.reduce((sum, term) => sum + term.points, 0),
    leastRoles,
  }
}

function ofNext(token: PatternToken): PatternToken {
  return token.kind === 'degree' ? { ...token, next: true } : token
}

/** `1 5`, `1 v5 v5 1` and their like; with an octave in it the figure has a shape to keep. */
function isRootAndFifth(tokens: readonly PatternToken[]): boolean {
  return (
    tokens.some((token) => token.kind === 'degree' && token.number === 5) &&
    tokens.every((token) => token.kind === 'degree' && !token.accidental && (token.number === 5 || token.number === 1))
  )
}

/** Gives each draft its chord, role and price. */
function slotsOf(
  table: GrooveTable,
  context: BarContext,
  drafts: readonly Draft[],
  isCrowded = false,
): readonly LaidSlot[] {
  const { map, parts, next } = context
  const after = parts.length
  const barEnd = parts.at(-1)?.endTick ?? 0
  const chordOf = (reference: number): Chord => parts[reference]?.chord ?? next!.chord
  const followingOf = (part: number): number | undefined => {
    const following = part + 1
    if (following < after) return parts[following]!.startTick === parts[part]!.endTick ? following : undefined
    return next && !context.silenceAfter ? after : undefined
  }
  const entered = new Set<number>()
  // A token of a chord that does not follow is a token of the chord that sounds.
  const tokens = drafts.map(({ onset, part, token }): PatternToken => {
    if (onset.tiedOver && followingOf(part) !== undefined && onset.tick + onset.ticks >= barEnd)
      return token.kind === 'degree' && token.next ? token : NEXT_ROOT
    return token.kind === 'degree' && token.next && followingOf(part) === undefined ? { ...token, next: false } : token
  })
  return drafts.map((draft, index): LaidSlot => {
    const { onset, part, source } = draft
    const token = tokens[index]!
    const inFigure = source === 'fill' || source === 'walk'
    const plain = source === 'plain' || source === 'kept'
    const tied = onset.tiedOver && token.kind === 'degree' && token.next && onset.tick + onset.ticks >= barEnd
    const arrives = onset.tick === 0 || (parts[part]!.arrives && parts[part]!.startTick === onset.tick)
    const role: Role = tied ? 'push' : roleOf(map, onset.tick, arrives)
    const prices = table.roles[role]
    const following = followingOf(part)

    if (token.kind === 'approach') {
      const target = tokens.findIndex((other, at) => at > index && other.kind === 'degree')
      const inBar = target >= 0 && drafts[target]!.part - part <= 1
      const aimed = inBar ? tokens[target]! : undefined
      const reference = inBar
        ? aimed?.kind === 'degree' && aimed.next
          ? (followingOf(drafts[target]!.part) ?? drafts[target]!.part)
          : drafts[target]!.part
        : (following ?? part)
      return {
        onset,
        part,
        reference,
        role,
        tone: { kind: 'approach', token, target: inBar ? target : undefined },
        source,
        pattern: draft.pattern,
        rolePoints: (source === 'lead' || inFigure ? 0 : prices.ap) + prices.any,
        approachPoints: undefined,
        approachReference: reference,
        entry: false,
        freeFifth: false,
        freshInFill: inFigure,
      }
    }

    const reference = token.next ? following! : part
    const tone = toneOf(token, chordOf(reference), draft.foreign)
    const waived = plain || (inFigure && token.next && role !== 'one')
    const entry = (!token.next || tied) && !entered.has(reference)
    if (entry) entered.add(reference)
    // The last onset before a root moves may give way to an approach.
    const later = drafts[index + 1]
    const isLastOfPart = later === undefined || later.part !== part
    const until = isLastOfPart ? parts[part]!.endTick - onset.tick : undefined
    const laterToken = tokens[index + 1]
    const meetsRoot =
      later === undefined || (laterToken?.kind === 'degree' && laterToken.number === 1 && !laterToken.octave)
    const mayApproach =
      source === 'pattern' &&
      !token.next &&
      role !== 'one' &&
      until !== undefined &&
      until <= map.beatTicks &&
      meetsRoot &&
      following !== undefined &&
      chordOf(following).bassPc !== chordOf(part).bassPc
    const isOnly = !drafts.some(
      (other, at) =>
        at !== index && other.part === part && other.source === 'pattern' && isSameDegree(tokens[at]!, token),
    )
    const tooMany = isCrowded && table.mostLeads < PHRASE ? LEAD_TOO_MANY : 0
    const before = drafts[index - 1]
    return {
      onset,
      part,
      reference,
      role,
      tone: { kind: 'degree', tone, next: token.next },
      source,
      pattern: draft.pattern,
      rolePoints: waived ? 0 : prices[tone.kind] + prices.any,
      approachPoints: mayApproach
        ? prices.ap + prices.any + table.approach + (isOnly ? DEGREE_LOST : 0) + tooMany
        : undefined,
      approachReference: following ?? part,
      entry,
      freeFifth: draft.freeFifth,
      freshInFill: inFigure && before !== undefined && !isSameToken(tokens[index - 1]!, token),
    }
  })
}

function isSameToken(a: PatternToken, b: PatternToken): boolean {
  if (a.kind === 'approach' || b.kind === 'approach')
    return a.kind === 'approach' && b.kind === 'approach' && a.by === b.by && a.from === b.from
  return a.number === b.number && a.accidental === b.accidental && a.octave === b.octave && a.next === b.next
}

/** The same degree of the chord that sounds, in any octave. */
function isSameDegree(a: PatternToken, b: DegreeToken): boolean {
  return a.kind === 'degree' && !a.next && a.accidental === b.accidental && (a.number - b.number) % 7 === 0
}

/** What a bar of groove costs by itself. */
function grooveTerms(
  table: GrooveTable,
  context: BarContext,
  pairing: Pairing,
  drafts: readonly Draft[],
  ghosts: readonly BarOnset[],
  slots: readonly LaidSlot[],
  deadPrice: number,
): CostTerm[] {
  const { map, parts } = context
  const terms: CostTerm[] = [...pairing.terms]
  // Half a bar of the feel, or a bar that chords do not fill, is judged by its notes alone.
  if (!isJudged(context)) return terms
  const struck = drafts.map((draft) => draft.onset)
  terms.push({ rule: 'density', points: densityPoints(table, [...struck, ...ghosts]) })
  const dead = ghosts.filter(({ tick }) => !pairing.onsets.some((one) => one.ghost && one.tick === tick))
  if (table.ghosts) terms.push({ rule: 'dead-note', points: dead.length * deadPrice })
  terms.push({ rule: 'kick', points: kickPoints(table, map, struck) })
  const degrees = new Set(slots.map((slot) => (slot.tone.kind === 'degree' ? slot.tone.tone.kind : 'ap')))
  if (degrees.size > 0) {
    const points = table.degrees[Math.min(degrees.size, table.degrees.length) - 1]!
    terms.push({ rule: 'degrees', points })
  }
  for (const [index, draft] of drafts.entries()) {
    if (!draft.restart) continue
    const role = slots[index]!.role
    const points = table.restart[role === 'mid' ? 0 : role === 'back' ? 1 : 2]
    terms.push({ rule: 'restart', points })
  }
  const dealt = drafts.filter((draft) => draft.source === 'pattern' && !draft.onset.continues).length
  const { length } = pairing.pattern.tokens
  // A run is cut where its chord ends, another deal at each bar line.
  const isCut = pairing.deal === 'each' || (pairing.deal === 'run' && context.next?.held !== true)
  if (parts.length === 1 && isCut && length > 1 && dealt % length !== 0) terms.push({ rule: 'cut', points: table.cut })

  terms.push(...emptyPlaces(table, map, [...drafts.map((draft) => draft.onset), ...ghosts]))
  if (parts.length === 1 && map.middles.length === 1 && 2 * map.half === map.ticks) {
    const second = drafts.filter(({ onset }) => onset.tick >= map.half)
    const isAlike =
      2 * second.length === drafts.length &&
      second.every(({ onset, token }, index) => {
        const first = drafts[index]!
        return first.onset.tick === onset.tick - map.half && isSameToken(first.token, token)
      })
    if (isAlike) terms.push({ rule: 'halves', points: table.halves })
  }
  return terms
}

/** Onsets missing and onsets too many; a dead note and a sound from before count half. */
function densityPoints(table: GrooveTable, onsets: readonly BarOnset[]): number {
  const count = onsets.reduce((sum, onset) => sum + (onset.ghost || onset.continues ? 0.5 : 1), 0)
  return Math.round(count < table.notes ? (table.notes - count) * table.under : (count - table.notes) * table.over)
}

/** Strokes of the feel's kick that the bass misses, and its notes off the beat that are against it. */
function kickPoints({ kick }: GrooveTable, map: BarMap, onsets: readonly BarOnset[]): number {
  if (!kick) return 0
  const kicks = kick.places.map(placeTick)
  const struck = onsets.filter((onset) => !onset.ghost && !onset.continues).map(({ tick }) => tick)
  const missed = kicks.filter((tick) => !struck.includes(tick)).length
  const against = struck.filter((tick) => !kicks.includes(tick) && !map.beats.includes(tick)).length
  return missed * kick.missed + against * kick.against
}

/** Places where the feel wants an onset and none is. */
function emptyPlaces(table: GrooveTable, map: BarMap, onsets: readonly BarOnset[]): readonly CostTerm[] {
  const places = [...new Set([0, ...map.middles, ...map.beats])]
  const empty = places.filter((tick) => !onsets.some((onset) => onset.tick === tick))
  return empty.map((tick) => ({ rule: 'empty-place', points: table.roles[placeOf(map, tick)].none }))
}

/** What the onsets of a pairing cost in any whole bar of one chord, whatever they play. */
export function barePoints(table: GrooveTable, map: BarMap, { onsets }: Pairing): number {
  const goesOn = { map, next: true, silenceAfter: false } as const
  const drafts = onsets.filter((onset) => !onset.ghost).map((onset) => ({ onset }))
  const ghosts = onsets.filter((onset) => onset.ghost)
  const each = table.ghosts?.points ?? 0
  const dead = deadOnsets(table, goesOn, drafts, ghosts, each)
  const all = [...onsets, ...dead]
  const empty = emptyPlaces(table, map, all).reduce((sum, term) => sum + term.points, 0)
  const price = dead.length * each
  return densityPoints(table, all) + price + empty + kickPoints(table, map, onsets)
}

/** What a fill or a walk costs by itself. */
function figureTerms(
  table: GrooveTable,
  context: BarContext,
  figure: ReadFigure,
  drafts: readonly Draft[],
  ghosts: readonly BarOnset[],
): CostTerm[] {
  const terms: CostTerm[] = [{ rule: figure.when === 'change' ? 'walk' : 'fill', points: figure.points }]
  const struck = drafts.some(({ onset }) => onset.tick === 0) || ghosts.some((ghost) => ghost.tick === 0)
  if (!struck && figure.ticks < context.map.ticks) terms.push({ rule: 'empty-place', points: table.roles.one.none })
  return terms
}

/** Onsets with their tokens on a bar of one chord, for comparing two pairings: those of its first half, and all. */
export function signatureOf(
  map: BarMap,
  pairing: Pairing,
): { readonly opening: string; readonly onsets: readonly string[] } {
  const struck = pairing.onsets.filter((onset) => !onset.ghost)
  const dealtTo = struck.filter((onset) => !onset.continues)
  const lead = pairing.leadTokens.length
  const { tokens } = pairing.pattern
  const ticks = dealtTo.map((onset) => onset.tick)
  const dealt = deal(map, ticks, tokens.length, pairing.deal, 0, lead)
  const onsets = struck.map((onset) => {
    const order = dealtTo.indexOf(onset)
    const fromEnd = dealtTo.length - order
    const token =
      order < 0 ? ROOT : fromEnd <= lead ? ofNext(pairing.leadTokens[lead - fromEnd]!) : tokens[dealt.tokens[order]!]!
    return `${onset.tick}=${formatToken(onset.tiedOver ? NEXT_ROOT : token)}`
  })
  const opening = onsets.filter((_, order) => struck[order]!.tick < map.half)
  return { opening: opening.join(), onsets }
}
