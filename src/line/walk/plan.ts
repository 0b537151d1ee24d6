import type { Form, FormBar } from '../../chart/form.ts'
import type { Cell } from '../../rhythm/cell.ts'
import { type Motif, type PlanTerm, planWalk, slotsOf, type WeightedCell } from '../../rhythm/plan.ts'
import type { Slot } from '../../rhythm/slot.ts'
import { repeatedBars, repeatedSlots } from '../repeated-bars.ts'
import { binds, type RuleInForce, type RuleTest } from '../rule.ts'

type KeptBar = Extract<RuleTest, { readonly looksAt: 'kept-bar' }>

/** The rhythm of a walking line, or the bar that rules leave without one. */
export type WalkPlan =
  | {
      readonly ok: true
      readonly slots: readonly Slot[]
      readonly terms: readonly PlanTerm[]
      /** for each sounded slot, the one that it repeats, as an index; `undefined` where no bar is played again as it was */
      readonly repeats: readonly number[] | undefined
      /** for each bar, the first that is the same */
      readonly repeatedBars: readonly number[]
    }
  | { readonly ok: false; readonly barIndex: number }

/** A bar has one of these in every vocabulary: one note a beat. */
const NONE: readonly WeightedCell[] = []

/**
 * The best cells for a walking line under rules: a bar that is to stay has its own cell, and nothing is tied over into it; a bar whose
 * cells are narrowed by a rule has one of those that are left.
 *
 * @param cellsOf  the cells for a bar, by its metre
 * @param options.chosen   a player chose them, so rules offer no others as long as some are left
 * @param options.weighed  rules that are weights have a say in which cells there are, and how many of each; absent: they only charge
 */
export function walkPlan(
  form: Form,
  cellsOf: (bar: FormBar) => readonly WeightedCell[],
  tempo: { readonly bpm: number; readonly usualBpm: number },
  rules: readonly RuleInForce[],
  loop: boolean,
  { chosen = false, weighed = false }: { readonly chosen?: boolean; readonly weighed?: boolean } = {},
): WalkPlan {
  const shaping = weighed ? rules : rules.filter(({ strength }) => strength === 'must')
  const kept = (bar: FormBar | undefined): KeptBar | undefined => (bar ? keptBar(rules, bar.index) : undefined)
  const anew = rules.some(({ test }) => test.looksAt === 'repeats' && test.anew)
  const repeats = anew ? form.bars.map(({ index }) => index) : repeatedBars(form, rules)
  /** the bars that are played as a bar is, itself among them */
  const allOf = (bar: FormBar) => form.bars.filter(({ index }) => repeats[index] === repeats[bar.index])
  const after = (bar: FormBar): FormBar | undefined => form.bars[bar.index + 1] ?? (loop ? form.bars[0] : undefined)
  let dead: number | undefined
  const vocabularyOf = (bar: FormBar): readonly WeightedCell[] => {
    const same = allOf(bar)
    // Into a bar that stays nothing is tied where it is struck, or where it rests.
    const struckNext = same.some((one) => {
      const next = kept(after(one))
      if (!next) return false
      const [first] = next.cell.onsets
      return !first || (first.tick === 0 && !first.continues)
    })
    // What is tied over has to lead into one and the same chord each time.
    const into = new Set(same.map((one) => after(one)?.changes[0]?.chord?.symbol.text ?? ''))
    const own = same.map(kept).find((one) => one !== undefined)
    const isAllowed = ({ cell }: WeightedCell): boolean => {
      if ((struckNext || into.size > 1) && cell.onsets.at(-1)?.tiedOver) return false
      return rules.every((rule) => rule.strength !== 'must' || same.every((one) => obeys(rule, one, cell)))
    }
    const all = own ? [keptCell(own, bar)] : cellsOf(bar)
    const left = all.filter(isAllowed)
    const isOffered = !own && !(chosen && left.length > 0)
    const offers = isOffered ? offersOf(shaping, bar).filter(isAllowed) : []
    const allowed = [...left.filter(({ id }) => offers.every((offer) => offer.id !== id)), ...offers]
    if (allowed.length === 0 && all.length > 0) dead = Math.min(dead ?? bar.index, bar.index)
    return allowed.length > 0 ? allowed : NONE
  }
  const chargesOf = (bar: FormBar, cell: Cell): readonly PlanTerm[] =>
    rules.flatMap((rule) =>
      rule.strength === 'must' || obeys(rule, bar, cell)
        ? []
        : [{ rule: rule.id, points: rule.strength, barIndex: bar.index }],
    )
  const plan = planWalk(form, vocabularyOf, tempo, loop, weighed ? chargesOf : undefined, repeats, motifOf(rules))
  if (dead !== undefined) return { ok: false, barIndex: dead }
  const charges = weighed
    ? []
    : form.bars.flatMap((bar) => {
        const placed = plan.cells.find(({ startTick }) => startTick === bar.startTick)
        return placed ? chargesOf(bar, placed.cell) : []
      })
  const slots = slotsOf(form, plan.cells, loop)
  const isPlayedAgain = repeats.some((first, index) => first !== index)
  const sounded = slots.filter((slot) => !slot.ghost)
  return {
    ok: true,
    slots,
    terms: [...plan.terms, ...charges],
    repeatedBars: repeats,
    repeats: isPlayedAgain ? repeatedSlots(form, sounded, repeats) : undefined,
  }
}

/** Cells that rules offer for a bar beside the feel's. */
function offersOf(rules: readonly RuleInForce[], bar: FormBar): readonly WeightedCell[] {
  const offers = rules.flatMap((rule) =>
    rule.test.looksAt === 'cell' && binds(rule, bar.index) ? (rule.test.offers?.(bar.metre) ?? []) : [],
  )
  return [...new Map(offers.map((offer) => [offer.id, offer])).values()]
}

/** The motif that a rule asks for; each bar by itself is what walking does anyway. */
function motifOf(rules: readonly RuleInForce[]): Motif | undefined {
  for (const { test } of rules) {
    if (test.looksAt === 'motif' && test.strictness !== 'free')
      return { bars: test.period ?? 1, fills: test.strictness === 'with-fills' }
  }
  return undefined
}

/** The bar that has to stay, if a must says so. */
export function keptBar(rules: readonly RuleInForce[], barIndex: number): KeptBar | undefined {
  for (const rule of rules) {
    if (rule.test.looksAt === 'kept-bar' && rule.strength === 'must' && binds(rule, barIndex)) return rule.test
  }
  return undefined
}

/** The pitch that a bar that stays has at a place; `undefined` where it strikes nothing. */
export function keptPitch({ cell, pitches }: KeptBar, tick: number): number | undefined {
  const struck = cell.onsets.filter((onset) => !onset.ghost && !onset.continues)
  const at = struck.findIndex((onset) => onset.tick === tick)
  return at < 0 ? undefined : pitches[at]
}

function obeys({ test, strength, bars }: RuleInForce, bar: FormBar, cell: Cell): boolean {
  if (!binds(bars ? { bars } : {}, bar.index)) return true
  if (test.looksAt === 'cell') return test.allows(wholeBar(cell, bar))
  // One that is to stay has all its notes, also where another rule keeps some of them. As a weight it is charged note by note.
  return test.looksAt !== 'kept-bar' || strength !== 'must' || struckAt(cell) === struckAt(test.cell)
}

/** The cell of a bar that stays; one in which nothing is struck is as long as its bar. */
function keptCell({ cell, notation }: KeptBar, { metre, ticks }: FormBar): WeightedCell {
  if (cell.onsets.length > 0) return { id: notation, cell, weight: 1 }
  return { id: 'bar-rest', cell: { upper: metre.upper, lower: metre.lower, bars: 1, ticks, onsets: [] }, weight: 1 }
}

/** A shorter cell over and over, as it fills a bar. */
function wholeBar(cell: Cell, { metre, ticks }: FormBar): Cell {
  if (cell.ticks >= ticks) return cell
  const onsets = Array.from({ length: ticks / cell.ticks }, (_, copy) =>
    cell.onsets.map((onset) => ({ ...onset, tick: onset.tick + copy * cell.ticks })),
  ).flat()
  return { upper: metre.upper, lower: metre.lower, bars: 1, ticks, onsets }
}

function struckAt({ onsets }: Cell): string {
  return onsets.flatMap(({ tick, ghost, continues }) => (ghost || continues ? [] : [tick])).join()
}
