import type { Form } from '../../chart/form.ts'
import { familyOf } from '../../music/chord.ts'
import type { WeightedCell } from '../../rhythm/plan.ts'
import { IMPOSSIBLE } from '../../search/trellis.ts'
import type { CostTerm } from '../line.ts'
import { binds } from '../rule.ts'
import { soundsLike } from './answer.ts'
import {
  type BarChoice,
  type LaidBar,
  LEAD_TOO_MANY,
  layBar,
  layEmptyBar,
  layKeptBar,
  layPlainBar,
  type ReadFigure,
} from './bar.ts'
import type { BarContext } from './context.ts'
import { deal } from './deal.ts'
import type { KnownBars } from './laid.ts'
import { OfferedBars } from './offers.ts'
import type { Pairing } from './pairing.ts'
import { RankedList } from './ranked.ts'
import type { GrooveRules } from './rules.ts'
import { layMotif, layScheme, type Motif, type PhrasePlace, pairStarts } from './scheme.ts'
import type { Alternatives } from './sweep.ts'
import type { GrooveTable } from './table.ts'
import { relativeOf } from './tone.ts'

/** A groove over a form before it has notes: a scheme, the bar it is made of, and that bar's answer. */
export interface GroovePlan {
  readonly scheme: LaidScheme
  /** the bars it is made of, by part: the groove, its answer, or all bars of a period */
  readonly motif: readonly Pairing[]
  /** where each bar is made by itself, what a change costs */
  readonly change?: number
  /** for each class of bars of the scheme, what they may be */
  readonly classes: readonly BarChoice[]
  /** some bar may push the next downbeat */
  readonly pushes: boolean
  /** scheme and variation */
  readonly terms: readonly CostTerm[]
  readonly points: number
}

/** A scheme laid over the form. Bars in which the same may happen are a class. */
export interface LaidScheme {
  /** its row in the table */
  readonly row: number
  readonly places: readonly PhrasePlace[]
  readonly points: number
  /** for each bar its class */
  readonly classOf: readonly number[]
  /** for each class its first bar and how many there are, the largest class first */
  readonly classes: readonly { readonly bar: number; readonly count: number }[]
  /** classes that are neighbours, and how often they are; of the last bar, only with itself */
  readonly seams: readonly { readonly from: number; readonly to: number | undefined; readonly count: number }[]
  /** by part, the bars that are nothing but it */
  readonly parts: readonly (readonly number[])[]
}

/** Each bar of groove is joined by its best answers only. */
const ANSWERS = 5

/** Where a must forbids what a plan would play in a bar, so many of the cheapest bars that keep it may take its place. */
export const OTHER_BARS = { most: 12, points: 6 }

/** A bar in which nothing may be played at all. */
const NOTHING: BarChoice = { bars: [], least: IMPOSSIBLE, pushes: false }

const PLAINLY = { isCrowded: false, isSecond: false }

/** More than any pattern has. */
const MOST_TOKENS = 64
const NO_FIGURE = 1022
const UNWALKED = 1023
const KEPT = 900
const PLAIN_AS = 1016
const OTHER = 1021
const PLAIN = 1020

/** An answer whose opening differs from the bar it answers. */
const OTHER_OPENING = 6

/** A bar of answer that sounds as the groove would there: a starting value set by hand, no source. */
const NO_ANSWER = 12

/** All plans of a form, with bounds from below on what they cost. Bars that are alike are laid once. */
export class GroovePlans {
  readonly #table: GrooveTable
  readonly #contexts: readonly BarContext[]
  readonly #known: KnownBars
  readonly #laid: KnownBars['laid']
  readonly #shapes: KnownBars['shapes']
  readonly #choices: KnownBars['choices']
  readonly #positions = new Map<Pairing, readonly number[]>()
  /** per scheme and pairing, after a bar that leads on or not, the least that its bars of answer cost */
  readonly #answerBounds = new Map<LaidScheme, (number | undefined)[]>()
  readonly #rules: GrooveRules
  /** by kind of bar, what may be played where a must forbids the plan's own */
  readonly #others = new Map<number, readonly LaidBar[]>()
  readonly #offered: OfferedBars
  readonly #chargedBars = new Map<LaidBar, readonly LaidBar[]>()
  /** per bar, the bars whose laying it may have beside its own: it is played again where they stand */
  readonly #sources: readonly (readonly BarContext[])[]
  readonly #transplants = new Map<LaidBar, (LaidBar | undefined)[]>()
  readonly #ranked = new Map<LaidScheme, RankedList[]>()
  readonly schemes: readonly LaidScheme[]
  /** bars of the period that is asked for; 0: as the schemes have it */
  readonly period: number
  /** each bar is made by itself */
  readonly isFree: boolean

  constructor(
    form: Form,
    known: KnownBars,
    contexts: readonly BarContext[],
    rules: GrooveRules,
    motif: Motif,
    repeats: readonly number[] | undefined,
  ) {
    const { table } = known
    this.#table = table
    this.#known = known
    this.#offered = new OfferedBars(table)
    // Under rules bars are laid in their own right, and so are those that are played again.
    const isPlain = rules.isEmpty && !repeats
    this.#laid = isPlain ? known.laid : []
    this.#choices = isPlain ? known.choices : new Map()
    this.#shapes = repeats ? new Map() : known.shapes
    this.period = motif.strictness === 'free' ? 0 : (motif.period ?? 0)
    this.isFree = motif.strictness === 'free'
    this.#rules = rules
    this.#contexts = contexts
    const firsts = repeats ?? form.bars.map(({ index }) => index)
    const schemes: LaidScheme[] = []
    this.#sources = sourcesOf(contexts, firsts)
    const runs = runsOf(contexts).map((run, bar) => [run, ...this.#sources[bar]!.map(({ kind }) => kind)].join(' '))
    const written = form.bars.filter(({ index }) => firsts[index] === index)
    for (const [row, { letters, points }] of table.schemes.entries()) {
      const laid = layMotif(layScheme(letters, written), pairStarts(written), motif)
      const places = firsts.map((first) => laid[written.findIndex(({ index }) => index === first)]!)
      const twin = schemes.some((other) => other.points <= points && isSameLaying(other.places, places))
      if (!twin) schemes.push(laidScheme(row, places, points, contexts, runs, table.ghosts !== undefined))
    }
    this.schemes = schemes
  }

  /** pairings in order of their points */
  get cheapestFirst(): readonly Pairing[] {
    return this.#known.cheapestFirst
  }

  /** The least that any plan of a scheme and a bar can cost, without laying it. */
  quickBound(scheme: LaidScheme, a: Pairing): number {
    const [grooves, answers] = [scheme.parts[0]!, scheme.parts[1]!]
    const answer = answers.length > 0 ? this.#barest(answers, undefined) : 0
    return scheme.points + this.#barest(grooves, a) + answer
  }

  /** What bars of a pairing, or of any, cost at least: in a bar of one chord, that its places are filled as the feel wants. */
  #barest(bars: readonly number[], pairing: Pairing | undefined): number {
    const whole = bars.filter((bar) => this.#isWhole(this.#contexts[bar]!)).length
    if (pairing) return pairing.points * bars.length + this.#known.barePoints[pairing.row]! * whole
    return this.#known.leastPoints * bars.length + this.#known.leastBare * whole
  }

  #isWhole({ parts, map }: BarContext): boolean {
    return parts.length === 1 && parts[0]!.startTick === 0 && parts[0]!.endTick === map.ticks
  }

  /**
   * The plans of a scheme and a bar: one, or one for each of its best answers. None if all of them cost more than a limit.
   *
   * @param among  how many pairings, the cheapest first, its answers are looked for among; all if absent
   */
  plansOf(scheme: LaidScheme, a: Pairing, limit: number, among?: number): readonly GroovePlan[] {
    let bound = this.quickBound(scheme, a)
    for (const { bar, count } of scheme.classes) {
      if (!scheme.parts[0]!.includes(bar)) continue
      bound += count * (this.#choiceOf(bar, scheme.places[bar]!, [a]).least - this.#barest([bar], a))
      if (bound > limit) return []
    }
    const answers = scheme.parts[1]!.length === 0 ? [] : this.#answersTo(scheme, a, among)
    // Where there is nothing to answer with, the groove goes on.
    const isAlone = answers.length === 0 && (scheme.parts[1]!.length === 0 || among === undefined)
    const plans = isAlone
      ? [this.#plan(scheme, [a], 0)]
      : answers.map(({ pairing, points }) => this.#plan(scheme, [a, pairing], points))
    return plans.filter((plan) => this.#rules.canCount(() => this.alternativesOf(plan)))
  }

  /** A sum that no line of the plan can undercut: what bars and roles cost. */
  laidBound(plan: GroovePlan): number {
    return plan.points + sumOf(plan.classes.map(({ least }, index) => plan.scheme.classes[index]!.count * least))
  }

  /** What each bar of a plan may be. */
  alternativesOf(plan: GroovePlan): Alternatives {
    return plan.scheme.classOf.map((index) => plan.classes[index]!.bars)
  }

  #plan(scheme: LaidScheme, motif: readonly Pairing[], variation: number): GroovePlan {
    const terms = [
      { rule: 'scheme', points: scheme.points },
      { rule: 'variation', points: variation },
      { rule: 'leads-in-a-phrase', points: this.#leadPoints(scheme, motif) },
      { rule: 'no-answer', points: this.#noAnswerPoints(scheme, motif) },
    ].filter((term) => term.points > 0)
    const classes = scheme.classes.map(({ bar }) => this.#choiceOf(bar, scheme.places[bar]!, motif))
    return {
      scheme,
      motif,
      classes,
      pushes: classes.some((choice) => choice.pushes),
      terms,
      points: terms.reduce((sum, term) => sum + term.points, 0),
    }
  }

  /** The plan of the bars of a period; `undefined` if they make a shorter one, or cannot be counted as rules ask. */
  planOf(scheme: LaidScheme, motif: readonly Pairing[]): GroovePlan | undefined {
    const half = motif.length / 2
    if (motif.length > 1 && motif.every((pairing, part) => pairing === motif[part % half])) return undefined
    const variation = sumOf(motif.slice(1).map((pairing) => this.differencePoints(motif[0]!, pairing)))
    const plan = this.#plan(scheme, motif, variation)
    return this.#rules.canCount(() => this.alternativesOf(plan)) ? plan : undefined
  }

  /**
   * The plan in which each bar is made by itself, of the pairings that cost the least there without the neck.
   *
   * @param most  how many pairings for a bar
   * @returns     with what a bar of any other pairing costs at least, by class
   */
  freePlan(scheme: LaidScheme, most: number): { readonly plan: GroovePlan; readonly beyond: readonly number[] } {
    const beyond: number[] = []
    const classes = scheme.classes.map(({ bar }): BarChoice => {
      const place = scheme.places[bar]!
      const all = this.#known.cheapestFirst.map((pairing) =>
        this.#choiceOf(bar, { ...alone(place), part: 0 }, [pairing]),
      )
      all.sort((x, y) => x.least - y.least)
      beyond.push(all[most]?.least ?? IMPOSSIBLE)
      const bars = [...new Set(all.slice(0, most).flatMap((choice) => choice.bars))]
      return { bars, least: all[0]?.least ?? IMPOSSIBLE, pushes: bars.some((laid) => laid.tiedOver) }
    })
    const terms = scheme.points > 0 ? [{ rule: 'scheme', points: scheme.points }] : []
    const pushes = classes.some((choice) => choice.pushes)
    const { change } = this.#table
    return { plan: { scheme, motif: [], change, classes, pushes, terms, points: scheme.points }, beyond }
  }

  /** What the bars of a part of a scheme may be if a pairing is played in it, fills among them, and how many there are of each. */
  choicesOf(scheme: LaidScheme, part: number, pairing: Pairing): readonly (readonly [BarChoice, number])[] {
    const motif = new Array<Pairing>(part + 1).fill(pairing)
    return scheme.classes.flatMap(({ bar, count }) => {
      const place = scheme.places[bar]!
      return place.part === part ? [[this.#choiceOf(bar, alone(place), motif), count] as const] : []
    })
  }

  /** A bar of a pairing without fill or walk; `undefined` where no pairing is played. */
  plainBar(bar: number, pairing: Pairing): LaidBar | undefined {
    const context = this.#contexts[bar]!
    if (context.parts.length === 0 || context.metre !== 'own') return undefined
    return { ...this.#lay(context, pairing, undefined), context }
  }

  /** Bars of cells that rules offer. */
  offeredBars(bar: number, cells: readonly WeightedCell[]): readonly LaidBar[] {
    return this.#offered.of(this.#contexts[bar]!, cells, OTHER_BARS.most)
  }

  /** Pairings by what the bars of a part of a scheme cost at least if they are played in it, bars and roles. */
  ranked(scheme: LaidScheme, part: number): RankedList {
    const parts = this.#ranked.get(scheme) ?? []
    this.#ranked.set(scheme, parts)
    const known = parts[part]
    if (known) return known
    const bars = scheme.parts[part]!
    const quick = this.#known.cheapestFirst.map((pairing) => ({ pairing, bound: this.#barest(bars, pairing) }))
    quick.sort((x, y) => x.bound - y.bound || x.pairing.row - y.pairing.row)
    const list = new RankedList(quick, IMPOSSIBLE, (pairing) =>
      sumOf(this.choicesOf(scheme, part, pairing).map(([{ least }, count]) => least * count)),
    )
    parts[part] = list
    return list
  }

  /** What a bar of a period pays for being another than its first; 0 if it is the same. */
  differencePoints(first: Pairing, other: Pairing): number {
    return this.#variation(first, other) ?? 0
  }

  /**
   * Bars that lead on by their own figure or are walked out, beyond the most that a phrase of eight bears. An approach in the place of a token
   * is charged in its bar: of two bars that belong together only the second leads on for nothing.
   */
  #leadPoints({ places, parts }: LaidScheme, motif: readonly Pairing[]): number {
    const phrases = new Map<number, number>()
    const count = (bar: number): void => {
      const { phrase } = places[bar]!
      phrases.set(phrase, (phrases.get(phrase) ?? 0) + 1)
    }
    for (const [part, pairing] of motif.entries()) if (pairing.leadsOn) parts[part]!.forEach(count)
    if (phrases.size === 0) return 0
    for (const context of this.#contexts)
      if (places[context.index]!.letter === 'w' && context.metre === 'own' && movesOn(context)) count(context.index)
    const { mostLeads } = this.#table
    return sumOf([...phrases.values()].map((leads) => LEAD_TOO_MANY * Math.max(0, leads - mostLeads)))
  }

  /** Bars of answer in which nothing is answered: the two differ where their chords have no room for it. */
  #noAnswerPoints(scheme: LaidScheme, [a, b]: readonly Pairing[]): number {
    if (!a || !b) return 0
    const alike = scheme.parts[1]!.filter((bar) => {
      const context = this.#contexts[bar]!
      return soundsLike(this.#lay(context, a, undefined), this.#lay(context, b, undefined))
    })
    return NO_ANSWER * alike.length
  }

  /**
   * The best answers to a bar by bound: bars of the same vocabulary that are not it. Each pays a point for two changed onsets, more if
   * its opening differs too.
   */
  #answersTo(
    scheme: LaidScheme,
    a: Pairing,
    among: number | undefined,
  ): readonly { readonly pairing: Pairing; readonly points: number }[] {
    const count = scheme.parts[1]!.length
    const best: { pairing: Pairing; points: number; bound: number }[] = []
    for (const pairing of this.#known.cheapestFirst.slice(0, among)) {
      const worst = best[ANSWERS - 1]
      if (worst && pairing.points * count + this.#table.change > worst.bound) break
      const points = pairing === a ? undefined : this.#variation(a, pairing)
      if (points === undefined) continue
      let bound = points + this.#answerBound(scheme, a, pairing)
      if (worst && bound > worst.bound) continue
      bound += this.#noAnswerPoints(scheme, [a, pairing])
      if (worst && bound > worst.bound) continue
      best.push({ pairing, points, bound })
      best.sort((x, y) => x.bound - y.bound || x.pairing.row - y.pairing.row)
      best.length = Math.min(best.length, ANSWERS)
    }
    return best
  }

  /** What bars of answer cost at least; of the bar that they answer it matters whether it leads on. */
  #answerBound(scheme: LaidScheme, a: Pairing, b: Pairing): number {
    const known = this.#answerBounds.get(scheme) ?? []
    this.#answerBounds.set(scheme, known)
    const key = 2 * b.row + (a.leadsOn ? 1 : 0)
    let bound = known[key]
    if (bound === undefined) {
      bound = 0
      for (const { bar, count } of scheme.classes)
        if (scheme.parts[1]!.includes(bar)) bound += count * this.#choiceOf(bar, scheme.places[bar]!, [a, b]).least
      known[key] = bound
    }
    return bound
  }

  /** The share of the onsets of two bars in which they differ, in place or in what is played there: 0 to 1. */
  shareApart(one: Pairing, other: Pairing): number {
    const [x, y] = [this.#known.signatures[one.row]!.onsets, this.#known.signatures[other.row]!.onsets]
    const same = x.filter((onset) => y.includes(onset)).length
    const all = x.length + y.length - same
    return all === 0 ? 0 : (all - same) / all
  }

  /** What an answer pays for being another bar; `undefined` if it is the same. */
  #variation(a: Pairing, b: Pairing): number | undefined {
    const one = this.#known.signatures[a.row]!
    const other = this.#known.signatures[b.row]!
    let same = 0
    for (const onset of one.onsets) if (other.onsets.includes(onset)) same++
    const changed = one.onsets.length + other.onsets.length - 2 * same
    if (changed === 0) return undefined
    return this.#table.change * Math.ceil(changed / 2) + (one.opening === other.opening ? 0 : OTHER_OPENING)
  }

  #choiceOf(bar: number, place: PhrasePlace, motif: readonly Pairing[]): BarChoice {
    const bars = this.#allowed(this.#contexts[bar]!, this.#alternativesOf(this.#contexts[bar]!, place, motif))
    if (bars.length === 0) return NOTHING
    const known = this.#choices.get(bars[0]!) ?? []
    this.#choices.set(bars[0]!, known)
    let choice = known.find((one) => isSameList(one.bars, bars))
    if (!choice) {
      const least = Math.min(...bars.map((laid) => laid.points + laid.leastRoles))
      choice = { bars, least, pushes: bars.some((laid) => laid.tiedOver) }
      known.push(choice)
    }
    return choice
  }

  /** What rules about whole bars leave of a bar's ways; where a must leaves none, other bars of the vocabulary. */
  #allowed(context: BarContext, bars: readonly LaidBar[]): readonly LaidBar[] {
    if (!this.#rules.bindsBar(context)) return bars
    const kept = this.#rules.keptBars.filter((rule) => binds(rule, context.index))
    const keptBars = kept.flatMap(({ test }, order) => {
      const bar = this.#rememberIf(context, 0, KEPT + order, () => layKeptBar(this.#table, context, test))
      return bar ? [bar] : []
    })
    const left = [...keptBars, ...bars].flatMap((bar) => this.#charged(bar))
    const isKept = kept.some(({ strength }) => strength === 'must')
    if (left.length > 0 || context.metre !== 'own' || isKept) return left
    const known = this.#others.get(context.kind)
    if (known) return known
    const others: LaidBar[] = []
    const leaving = (plain: LaidBar): LaidBar => ({
      ...plain,
      terms: [...plain.terms, { rule: 'motif-left', points: OTHER_BARS.points }],
      points: plain.points + OTHER_BARS.points,
    })
    for (const pairing of this.#known.cheapestFirst) {
      if (others.length === OTHER_BARS.most) break
      const plain = this.#lay(context, pairing, undefined)
      const bar = this.#remember(context, pairing.row, OTHER * MOST_TOKENS, () => leaving(plain))
      others.push(...this.#charged(bar))
    }
    if (others.length === 0)
      for (const plain of this.offeredBars(context.index, this.#rules.offersIn(context)))
        others.push(...this.#charged(leaving(plain)))
    this.#others.set(context.kind, others)
    return others
  }

  /** A bar with what rules charge it; none if a must forbids it. */
  #charged(bar: LaidBar): readonly LaidBar[] {
    let charged = this.#chargedBars.get(bar)
    if (!charged) {
      const terms = this.#rules.barTerms(bar)
      const points = terms?.reduce((sum, term) => sum + term.points, bar.points) ?? 0
      charged = !terms ? [] : terms.length === 0 ? [bar] : [{ ...bar, terms: [...bar.terms, ...terms], points }]
      this.#chargedBars.set(bar, charged)
    }
    return charged
  }

  /** What a bar may be under its letter: as its own place lays it, or as another place does where it is played again. */
  #alternativesOf(context: BarContext, place: PhrasePlace, motif: readonly Pairing[]): readonly LaidBar[] {
    const sources = this.#sources[context.index]!
    const own = this.#layingsOf(context, place, motif)
    if (sources.length === 0) return own
    // What is tied over has to lead into one and the same chord each time.
    const steady = sources.some(({ next }) => !next) ? own.filter((bar) => !bar.tiedOver) : own
    return [
      ...steady,
      ...sources.flatMap((source) =>
        this.#layingsOf(source, place, motif).flatMap((bar) => this.#transplant(bar, context) ?? []),
      ),
    ]
  }

  /** A bar laid for one place in another; `undefined` where it is tied over or no other than the place's own. */
  #transplant(bar: LaidBar, context: BarContext): LaidBar | undefined {
    const known = this.#transplants.get(bar) ?? []
    this.#transplants.set(bar, known)
    const { next } = bar.context
    if (bar.tiedOver && next?.chord.symbol.text !== context.next?.chord.symbol.text) return undefined
    const isSame = next?.chord.symbol.text === context.next?.chord.symbol.text
    known[context.kind] ??= { ...bar, context: isSame ? context : { ...context, next } }
    return known[context.kind]
  }

  #layingsOf(context: BarContext, place: PhrasePlace, motif: readonly Pairing[]): readonly LaidBar[] {
    if (context.parts.length === 0 || context.metre === 'other') return [this.#layOther(context)]
    const groove = motif[place.part] ?? motif[0]!
    const isCrowded = place.answered !== undefined && motif[place.answered]?.leadsOn === true
    const plain = this.#lay(context, groove, undefined, { isCrowded, isSecond: place.endsPair })
    // Half a bar in which the groove strikes once has a note on each beat.
    if (context.metre === 'half') return [plain.slots.length > 1 ? plain : this.#layOther(context)]
    switch (place.letter) {
      case 'f':
      case 'F': {
        const sizes = place.twelfth && place.letter === 'F' ? ['F', 'F12'] : [place.letter]
        const fills = this.#known.fills.filter((fill) => sizes.includes(fill.when) && this.#suits(context, fill))
        return fills.length > 0 ? fills.map((fill) => this.#lay(context, groove, fill)) : [plain]
      }
      case 'w': {
        const walks = movesOn(context) ? this.#known.walks.filter((walk) => this.#suits(context, walk)) : []
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

  /**
   * @param as.isCrowded  the bar before it leads on already
   * @param as.isSecond     it ends a pair of bars
   */
  #lay(
    context: BarContext,
    pairing: Pairing,
    figure: ReadFigure | undefined,
    as: { readonly isCrowded: boolean; readonly isSecond: boolean } = PLAINLY,
  ): LaidBar {
    const runs = pairing.deal === 'run' || pairing.deal === 'beatrun'
    const position = runs && context.parts[0]?.arrives === false ? this.#position(pairing, context) : 0
    const isSecond = as.isSecond && this.#table.ghosts !== undefined
    const isPlain = !as.isCrowded && !isSecond
    const way = isPlain ? NO_FIGURE : PLAIN_AS + (as.isCrowded ? 1 : 0) + (isSecond ? 2 : 0)
    const variant = (figure?.order ?? way) * MOST_TOKENS + position
    const lay = (mayDie: boolean): LaidBar =>
      layBar(this.#table, context, pairing, figure, position, { mayDie, isSecond, isCrowded: as.isCrowded })
    return this.#remember(context, pairing.row, variant, () => {
      // A rule about its cell sees the dead notes of the cell, and no others.
      if (this.#rules.bindsBar(context)) return lay(false)
      // Over other roots it is laid alike.
      const key = (context.shape * 65536 + pairing.row) * 65536 + variant
      const shape = this.#shapes.get(key) ?? lay(true)
      this.#shapes.set(key, shape)
      return shape.context === context ? shape : { ...shape, context }
    })
  }

  #unwalked(context: BarContext, pairing: Pairing, plain: LaidBar): LaidBar {
    return this.#remember(context, pairing.row, UNWALKED * MOST_TOKENS, () => {
      const { noWalk } = this.#table
      return { ...plain, terms: [...plain.terms, { rule: 'no-walk', points: noWalk }], points: plain.points + noWalk }
    })
  }

  #layOther(context: BarContext): LaidBar {
    return this.#remember(context, 0, PLAIN * MOST_TOKENS, () =>
      context.parts.length === 0 ? layEmptyBar(context) : layPlainBar(this.#table, context),
    )
  }

  #remember(context: BarContext, row: number, variant: number, lay: () => LaidBar): LaidBar {
    return this.#rememberIf(context, row, variant, lay)!
  }

  #rememberIf(context: BarContext, row: number, variant: number, lay: () => LaidBar | undefined): LaidBar | undefined {
    let bars = this.#laid[context.kind]
    if (!bars) {
      bars = new Map()
      this.#laid[context.kind] = bars
    }
    const key = row * 65536 + variant
    let laid = bars.get(key)
    if (!laid) {
      laid = lay()
      if (laid) bars.set(key, laid)
      this.#known.size++
    }
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

/** Whether the root moves at the end of a bar. */
function movesOn({ parts, next }: BarContext): boolean {
  return next !== undefined && next.chord.bassPc !== parts.at(-1)?.chord.bassPc
}

/** A place whatever is played before it. */
function alone(place: PhrasePlace): PhrasePlace {
  return { ...place, answered: undefined }
}

function isSameList<Item>(one: readonly Item[], other: readonly Item[]): boolean {
  return one.length === other.length && one.every((item, index) => item === other[index])
}

function isSameLaying(one: readonly PhrasePlace[], other: readonly PhrasePlace[]): boolean {
  return one.every(({ letter, part }, bar) => letter === other[bar]!.letter && part === other[bar]!.part)
}

/**
 * For each bar, how else it may be laid where it is played again: as in each place that differs from its own, and, where different
 * chords follow, as leading nowhere.
 */
function sourcesOf(contexts: readonly BarContext[], repeats: readonly number[]): readonly (readonly BarContext[])[] {
  const loose = new Map<number, BarContext>()
  return contexts.map((own) => {
    const same = contexts.filter(({ index }) => repeats[index] === repeats[own.index])
    const others = same.filter(
      ({ music }, at) => music !== own.music && same.findIndex((one) => one.music === music) === at,
    )
    const following = new Set(same.map(({ next }) => next?.chord.symbol.text))
    if (following.size === 1) return others
    const kind = contexts.length + repeats[own.index]!
    const nowhere = loose.get(kind) ?? { ...own, next: undefined, kind, shape: -kind }
    loose.set(kind, nowhere)
    return [...others, nowhere]
  })
}

/** For each bar, how long its first chord has been sounding: where and how many bars ago it began. Dealing may run on through it. */
function runsOf(contexts: readonly BarContext[]): readonly string[] {
  const runs: string[] = []
  let began = 0
  for (const { index, parts } of contexts) {
    runs.push(parts[0]?.arrives === false ? `${contexts[began]!.kind} ${index - began}` : '')
    if (parts.some((part) => part.arrives)) began = index
  }
  return runs
}

function laidScheme(
  row: number,
  places: readonly PhrasePlace[],
  points: number,
  contexts: readonly BarContext[],
  runs: readonly string[],
  pairsDiffer: boolean,
): LaidScheme {
  const keys = contexts.map(({ index, kind }) => {
    const { letter, part, answered, twelfth, endsPair } = places[index]!
    return [kind, letter, part, answered, twelfth, pairsDiffer && endsPair, runs[index]].join(' ')
  })
  const times = (key: string): number => keys.filter((one) => one === key).length
  const names = [...new Set(keys)].sort((one, other) => times(other) - times(one))
  const classOf = keys.map((key) => names.indexOf(key))
  const pairs = classOf.map((from, bar) => ({ from, to: classOf[bar + 1] }))
  const seams = pairs.filter((one, bar) => pairs.findIndex((two) => two.from === one.from && two.to === one.to) === bar)
  const countOf = (one: { from: number; to: number | undefined }): number =>
    pairs.filter((two) => two.from === one.from && two.to === one.to).length
  const under = (letter: string): number[] =>
    contexts
      .filter(({ index, metre, parts }) => metre === 'own' && parts.length > 0 && places[index]!.letter === letter)
      .map((context) => context.index)
  return {
    row,
    places,
    points,
    classOf,
    classes: names.map((key) => ({ bar: keys.indexOf(key), count: times(key) })),
    seams: seams.map((seam) => ({ ...seam, count: countOf(seam) })).sort((one, other) => other.count - one.count),
    parts: [...'ABCD'].map(under),
  }
}

function sumOf(numbers: readonly number[]): number {
  return numbers.reduce((sum, number) => sum + number, 0)
}
