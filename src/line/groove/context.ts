import type { Change, Form, FormBar } from '../../chart/form.ts'
import type { Chord } from '../../music/chord.ts'
import { pitchClassOf } from '../../music/pitch.ts'
import type { Tick } from '../../music/tick.ts'
import { type BarMap, barMapOf } from './deal.ts'
import { pairStarts } from './scheme.ts'

/** A stretch of a bar under one chord. */
export interface BarPart {
  readonly chord: Chord
  readonly changeIndex: number
  readonly startTick: Tick
  readonly endTick: Tick
  /** the chord begins to sound here */
  readonly arrives: boolean
}

/** What a bar of a form offers to a groove, whatever is played in it. */
export interface BarContext {
  readonly index: number
  readonly map: BarMap
  /** the metre is the feel's; a bar of half its length is its first half */
  readonly metre: 'own' | 'half' | 'other'
  /** in order of time; stretches without a chord left out */
  readonly parts: readonly BarPart[]
  /** the chord that begins the bar after this, or the form again; `undefined` where silence follows */
  readonly next: { readonly chord: Chord; readonly changeIndex: number; readonly held: boolean } | undefined
  /** no chord sounds at the end of it or at the start of the bar after: the line begins afresh */
  readonly silenceAfter: boolean
  /** the bar's own length, whatever its map's is */
  readonly ticks: Tick
  /** the chord after it is its own last one, which holds on; `undefined` where silence follows */
  readonly isHeldOn: boolean | undefined
  /** its root moves, and so does that of the bar after, with which it makes a pair: one of the two leads on */
  readonly leavesLead: boolean
  /** bars with the same number are laid alike */
  readonly kind: number
  /** the same whatever rules look at */
  readonly music: number
  /** the same wherever the roots of its chords are */
  readonly shape: number
}

/** Numbers of bars by what they are. */
export interface BarNumbers {
  readonly kinds: Map<string, number>
  readonly musics: Map<string, number>
  readonly shapes: Map<string, number>
}

/** No numbers yet. */
export function numbersOfBars(): BarNumbers {
  return { kinds: new Map(), musics: new Map(), shapes: new Map() }
}

/**
 * Reads the bars of a form.
 *
 * @param keyOf    what else tells bars apart: which rules bind them, and where they stand
 * @param numbers  those that are known already; new ones are added
 */
export function contextsOf(
  form: Form,
  feel: BarMap,
  keyOf: (barIndex: number) => string,
  { kinds, musics, shapes }: BarNumbers,
): readonly BarContext[] {
  const first = form.bars[0]?.changes[0]
  const starts = pairStarts(form.bars)
  const indexOf = new Map(form.changes.map((change, index) => [change, index]))
  return form.bars.map((bar) => {
    const ownMap = sameMetre(bar, feel) ? feel : barMapOf(bar.metre)
    const fills = bar.ticks === ownMap.ticks
    const metre = ownMap === feel && fills ? 'own' : 2 * bar.ticks === feel.ticks && fills ? 'half' : 'other'
    // Half a bar is dealt and priced as the first half of the whole one.
    const map = metre === 'half' ? feel : ownMap
    const parts = partsOf(bar, indexOf)
    const change = form.bars[bar.index + 1]?.changes[0] ?? first
    const last = parts.at(-1)
    const isLast = bar.index + 1 === form.bars.length
    const held =
      last !== undefined && change?.chord !== undefined && (isLast ? sameChord(last.chord, change.chord) : change.held)
    const endsInSilence = bar.changes.at(-1)?.chord === undefined
    const next =
      change?.chord && !endsInSilence
        ? { chord: change.chord, changeIndex: isLast ? 0 : indexOf.get(change)!, held }
        : undefined
    const after = form.bars[bar.index + 1]
    const leavesLead = starts[bar.index]! && after !== undefined && movesOn(form, bar) && movesOn(form, after)
    const keyWith = (keyOfChord: (chord: Chord) => string): string =>
      [
        `${bar.metre.upper}/${bar.metre.lower} ${bar.ticks}`,
        ...parts.map((part) => `${part.startTick}-${part.endTick} ${keyOfChord(part.chord)} ${part.arrives}`),
        next ? `${keyOfChord(next.chord)} ${next.held}` : '',
        leavesLead,
      ].join('|')
    const music = keyWith(chordKey)
    const silenceAfter = endsInSilence || change?.chord === undefined
    const basses = [...parts, ...(next ? [next] : [])].map(({ chord }) => chord.bassPc)
    const moves = basses.slice(1).map((bass, at) => bass !== basses[at])
    return {
      index: bar.index,
      map,
      metre,
      parts,
      next,
      silenceAfter,
      ticks: bar.ticks,
      isHeldOn: next?.held,
      leavesLead,
      kind: numberOf(kinds, `${keyOf(bar.index)}|${music}`),
      music: numberOf(musics, music),
      shape: numberOf(shapes, `${keyWith(shapeKey)}|${moves}|${metre}|${silenceAfter}`),
    }
  })
}

/** Whether another root arrives in a bar or at its end. */
function movesOn({ bars }: Form, bar: FormBar): boolean {
  const after = (bars[bar.index + 1] ?? bars[0]!).changes[0]
  const basses = [...bar.changes, after].flatMap((change) => change?.chord?.bassPc ?? [])
  return basses.some((bass) => bass !== basses[0])
}

function numberOf(numbers: Map<string, number>, key: string): number {
  const number = numbers.get(key) ?? numbers.size
  numbers.set(key, number)
  return number
}

function sameMetre(bar: FormBar, map: BarMap): boolean {
  const { metre } = map
  return bar.metre.upper === metre.upper && bar.metre.lower === metre.lower
}

function chordKey(chord: Chord): string {
  return `${chord.symbol.text} ${chord.scale.id}`
}

/** What a chord is wherever its root is. */
function shapeKey({ symbol, scale, rootPc, bassPc }: Chord): string {
  const degrees = symbol.degrees.map(({ number, alter }) => `${number}/${alter}`)
  return `${symbol.quality.id} ${degrees} ${scale.id} ${pitchClassOf(bassPc - rootPc)}`
}

function sameChord(a: Chord, b: Chord): boolean {
  return a.symbol.text === b.symbol.text
}

/** Changes of a bar, held ones joined to the one before. */
function partsOf(bar: FormBar, indexOf: ReadonlyMap<Change, number>): readonly BarPart[] {
  const parts: BarPart[] = []
  for (const [order, change] of bar.changes.entries()) {
    const { chord, startTick, ticks, held } = change
    if (!chord) continue
    const from = startTick - bar.startTick
    const before = parts.at(-1)
    if (order > 0 && held && before?.endTick === from) {
      parts[parts.length - 1] = { ...before, endTick: from + ticks }
      continue
    }
    const changeIndex = indexOf.get(change)!
    parts.push({ chord, changeIndex, startTick: from, endTick: from + ticks, arrives: !held })
  }
  return parts
}
