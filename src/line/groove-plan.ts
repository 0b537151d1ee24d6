import type { Form } from '../chart/form.ts'
import { familyOf } from '../music/chord.ts'
import {
  type BarContext,
  type LaidBar,
  layBar,
  layEmptyBar,
  layPlainBar,
  openingAndEnd,
  type ReadFigure,
  readFigures,
} from './groove-bar.ts'
import { type BarMap, deal } from './groove-deal.ts'
import type { Pairing } from './groove-pairing.ts'
import { layScheme, type PhrasePlace } from './groove-scheme.ts'
import type { Alternatives } from './groove-sweep.ts'
import type { GrooveTable } from './groove-table.ts'
import { relativeOf } from './groove-tone.ts'
import type { CostTerm } from './line.ts'

/** A groove over a form before it has notes: a scheme, the bar it is made of, and that bar's answer. */
export interface GroovePlan {
  /** its row in the table */
  readonly scheme: number
  readonly a: Pairing
  /** `undefined` where the scheme has no answer */
  readonly b: Pairing | undefined
  readonly alternatives: Alternatives
  /** scheme and variation */
  readonly terms: readonly CostTerm[]
  readonly points: number
}

/** A scheme laid over the form. */
interface LaidScheme {
  readonly row: number
  readonly places: readonly PhrasePlace[]
  readonly points: number
  /** bars in which its answer is played */
  readonly answers: readonly number[]
  /** bars that are nothing but groove */
  readonly grooves: readonly number[]
}

/** Each bar of groove is joined by its best answers only. */
const ANSWERS = 5

/** An answer whose opening differs from the bar it answers. */
const OTHER_OPENING = 6

/** All plans of a form, with bounds from below on what they cost. Bars that are alike are laid once. */
export class GroovePlans {
  readonly #table: GrooveTable
  readonly #contexts: readonly BarContext[]
  readonly #map: BarMap
  readonly #pairings: readonly Pairing[]
  readonly #fills: readonly ReadFigure[]
  readonly #walks: readonly ReadFigure[]
  readonly #laid = new Map<string, Map<string, LaidBar>>()
  readonly #positions = new Map<Pairing, readonly number[]>()
  readonly #signatures = new Map<Pairing, ReturnType<typeof openingAndEnd>>()
  readonly schemes: readonly LaidScheme[]

  constructor(
    form: Form,
    table: GrooveTable,
    map: BarMap,
    contexts: readonly BarContext[],
    pairings: readonly Pairing[],
  ) {
    this.#table = table
    this.#contexts = contexts
    this.#map = map
    this.#pairings = pairings
    this.#fills = readFigures(table.fills)
    this.#walks = readFigures(table.walks)
    const schemes: LaidScheme[] = []
    for (const [row, { letters, points }] of table.schemes.entries()) {
      const places = layScheme(letters, form.bars)
      const twin = schemes.some((other) => other.points <= points && isSameLaying(other.places, places))
      if (twin) continue
      const sounding = (letter: string): number[] =>
        contexts
          .filter(({ index, metre, parts }) => metre === 'own' && parts.length > 0 && places[index]!.letter === letter)
          .map((context) => context.index)
      schemes.push({ row, places, points, answers: sounding('B'), grooves: sounding('A') })
    }
    this.schemes = schemes
  }

  /** The least that any plan of a scheme and a bar can cost, without laying it. */
  quickBound(scheme: LaidScheme, a: Pairing): number {
    const answer = scheme.answers.length > 0 ? this.#table.change + this.#leastPairing * scheme.answers.length : 0
    return scheme.points + a.points * scheme.grooves.length + answer
  }

  get #leastPairing(): number {
    return Math.min(...this.#pairings.map((pairing) => pairing.points))
  }

  /** The plans of a scheme and a bar: one, or one for each of its best answers. */
  plansOf(scheme: LaidScheme, a: Pairing): readonly GroovePlan[] {
    if (scheme.answers.length === 0) return [this.#plan(scheme, a, undefined, 0)]
    return this.#answersTo(scheme, a).map(({ pairing, points }) => this.#plan(scheme, a, pairing, points))
  }

  /** A sum that no line of the plan can undercut: what bars and roles cost. */
  laidBound(plan: GroovePlan): number {
    return plan.alternatives.reduce(
      (sum, bars) => sum + Math.min(...bars.map((bar) => bar.points + bar.leastRoles)),
      plan.points,
    )
  }

  #plan(scheme: LaidScheme, a: Pairing, b: Pairing | undefined, variation: number): GroovePlan {
    const terms = [
      { rule: 'scheme', points: scheme.points },
      { rule: 'variation', points: variation },
    ].filter((term) => term.points > 0)
    return {
      scheme: scheme.row,
      a,
      b,
      alternatives: this.#contexts.map((context) => this.#alternativesOf(context, scheme.places[context.index]!, a, b)),
      terms,
      points: scheme.points + variation,
    }
  }

  /**
   * The best answers to a bar by bound: bars of the same vocabulary that are not it. Each pays a point for two changed onsets, more if
   * its opening differs too.
   */
  #answersTo(scheme: LaidScheme, a: Pairing): readonly { readonly pairing: Pairing; readonly points: number }[] {
    const count = scheme.answers.length
    const others = this.#pairings
      .filter((pairing) => pairing !== a)
      .sort((x, y) => x.points - y.points || x.row - y.row)
    const best: { pairing: Pairing; points: number; bound: number }[] = []
    for (const pairing of others) {
      const worst = best[ANSWERS - 1]
      if (worst && pairing.points * count + this.#table.change > worst.bound) break
      const points = this.#variation(a, pairing)
      if (points === undefined) continue
      let bound = points
      for (const bar of scheme.answers) {
        const laid = this.#lay(this.#contexts[bar]!, pairing, undefined)
        bound += laid.points + laid.leastRoles
      }
      best.push({ pairing, points, bound })
      best.sort((x, y) => x.bound - y.bound || x.pairing.row - y.pairing.row)
      best.length = Math.min(best.length, ANSWERS)
    }
    return best
  }

  /** What an answer pays for being another bar; `undefined` if it is the same. */
  #variation(a: Pairing, b: Pairing): number | undefined {
    const one = this.#signature(a)
    const other = this.#signature(b)
    const added = [...other.onsets].filter((onset) => !one.onsets.has(onset)).length
    const left = [...one.onsets].filter((onset) => !other.onsets.has(onset)).length
    if (added + left === 0) return undefined
    return this.#table.change * Math.ceil((added + left) / 2) + (one.opening === other.opening ? 0 : OTHER_OPENING)
  }

  #signature(pairing: Pairing): ReturnType<typeof openingAndEnd> {
    const known = this.#signatures.get(pairing) ?? openingAndEnd(this.#map, pairing)
    this.#signatures.set(pairing, known)
    return known
  }

  /** What a bar may be under its letter. */
  #alternativesOf(context: BarContext, place: PhrasePlace, a: Pairing, b: Pairing | undefined): readonly LaidBar[] {
    if (context.parts.length === 0 || context.metre === 'other') return [this.#layOther(context)]
    const groove = place.letter === 'B' && b ? b : a
    const plain = this.#lay(context, groove, undefined)
    if (context.metre === 'half') return [plain]
    switch (place.letter) {
      case 'f':
      case 'F': {
        const sizes = place.twelfth && place.letter === 'F' ? ['F', 'F12'] : [place.letter]
        const fills = this.#fills.filter((fill) => sizes.includes(fill.when) && this.#suits(context, fill))
        return fills.length > 0 ? fills.map((fill) => this.#lay(context, groove, fill)) : [plain]
      }
      case 'w': {
        const { next } = context
        const moves = next && next.chord.bassPc !== context.parts.at(-1)!.chord.bassPc
        const walks = moves ? this.#walks.filter((walk) => this.#suits(context, walk)) : []
        if (walks.length === 0) return [plain]
        return [...walks.map((walk) => this.#lay(context, groove, walk)), this.#unwalked(context, groove, plain)]
      }
      default:
        return [plain]
    }
  }

  /** A figure suits the family of its chord, or of the next where it is made of that chord's sevenths. */
  #suits(context: BarContext, figure: ReadFigure): boolean {
    if (figure.ticks > context.map.ticks) return false
    const { next } = context
    const leads = figure.parsed.some((token) => token.kind === 'approach' || token.next)
    if (leads && !next) return false
    if (figure.families === 'any') return true
    const aimsAtSeventh = figure.parsed.some(
      (token) => token.kind === 'degree' && token.next && token.number === 7 && token.accidental === 'b',
    )
    const chord = aimsAtSeventh && next ? next.chord : context.parts.at(-1)!.chord
    return figure.families.includes(familyOf(chord))
  }

  #lay(context: BarContext, pairing: Pairing, figure: ReadFigure | undefined): LaidBar {
    const runs = pairing.deal === 'run' || pairing.deal === 'beatrun'
    const position = runs && context.parts[0]?.arrives === false ? this.#position(pairing, context) : 0
    return this.#remember(context, `${pairing.row} ${figure?.id ?? ''} ${position}`, () =>
      layBar(this.#table, context, pairing, figure, position),
    )
  }

  #unwalked(context: BarContext, pairing: Pairing, plain: LaidBar): LaidBar {
    return this.#remember(context, `${pairing.row} unwalked`, () => {
      const { noWalk } = this.#table
      return { ...plain, terms: [...plain.terms, { rule: 'no-walk', points: noWalk }], points: plain.points + noWalk }
    })
  }

  #layOther(context: BarContext): LaidBar {
    return this.#remember(context, '', () =>
      context.parts.length === 0 ? layEmptyBar(context) : layPlainBar(this.#table, context),
    )
  }

  #remember(context: BarContext, key: string, lay: () => LaidBar): LaidBar {
    let bars = this.#laid.get(context.key)
    if (!bars) {
      bars = new Map()
      this.#laid.set(context.key, bars)
    }
    const laid = bars.get(key) ?? lay()
    bars.set(key, laid)
    return laid
  }

  /** Tokens dealt since the chord of a bar began, as the pairing would deal them in every bar. */
  #position(pairing: Pairing, context: BarContext): number {
    let positions = this.#positions.get(pairing)
    if (!positions) {
      const counted: number[] = []
      let dealt = 0
      for (const { parts, map } of this.#contexts) {
        counted.push(parts[0]?.arrives === false ? dealt : 0)
        const last = parts.at(-1)
        if (!last) continue
        const struck = pairing.onsets.filter(
          ({ ghost, continues, tick }) => !ghost && !continues && tick >= last.startTick && tick < last.endTick,
        )
        const ticks = struck.map((onset) => onset.tick)
        const { used } = deal(map, ticks, pairing.pattern.tokens.length, pairing.deal, 0, 0)
        dealt = used + (parts.length === 1 && !last.arrives ? dealt : 0)
      }
      positions = counted
      this.#positions.set(pairing, positions)
    }
    const { pattern } = relativeOf(pairing.pattern, context.parts[0]!.chord, this.#table.relatives)
    return positions[context.index]! % pattern.tokens.length
  }
}

function isSameLaying(one: readonly PhrasePlace[], other: readonly PhrasePlace[]): boolean {
  return one.every((place, bar) => place.letter === other[bar]!.letter)
}
