import { IMPOSSIBLE } from '../../search/trellis.ts'
import type { Pairing } from './pairing.ts'
import type { GroovePlan, GroovePlans, LaidScheme } from './plan.ts'
import { RankedList } from './ranked.ts'
import type { PricedStance } from './stance.ts'
import type { Sweep } from './sweep.ts'

/** The first bars of a period, and how far down the list the next one is looked for. */
export interface PeriodNode {
  readonly of: PeriodStance
  readonly prefix: readonly Pairing[]
  /** what the first bars and their differences cost at least */
  readonly spent: number
  readonly rank: number
}

/**
 * The bars of a period in one stance, found in the order of what they cost at least: of each place in the period the bars of the vocabulary
 * are ranked by themselves, and combinations are looked into as their sums come (best-first, as the k best sums of sorted lists).
 */
export class PeriodStance {
  readonly scheme: LaidScheme
  readonly stance: PricedStance
  readonly #plans: GroovePlans
  readonly #lists: readonly RankedList[]
  /** from each place on, the least that the rest of the period costs */
  readonly #rest: readonly number[]

  /** @param limit  what costs more need not be ranked */
  constructor(plans: GroovePlans, sweep: Sweep, scheme: LaidScheme, stance: PricedStance, limit: number) {
    this.#plans = plans
    this.scheme = scheme
    this.stance = stance
    const laid = [...new Array(plans.period).keys()].map((part) => plans.ranked(scheme, part))
    const least = laid.map((list) => list.at(0)?.bound ?? IMPOSSIBLE)
    const base = scheme.points + stance.points + least.reduce((sum, bound) => sum + bound, 0)
    this.#lists = laid.map((list, part) => {
      const most = limit - base + least[part]!
      return new RankedList(list, most, (pairing, at) => innerOf(plans, sweep, scheme, part, pairing, stance, at))
    })
    // What one place costs at least leaves so much less to the others.
    const inner = this.#lists.map((list) => list.at(0)?.bound ?? IMPOSSIBLE)
    const sum = scheme.points + stance.points + inner.reduce((total, bound) => total + bound, 0)
    for (const [part, list] of this.#lists.entries()) list.limitTo(limit - sum + inner[part]!)
    const rest = [0]
    for (const list of this.#lists.toReversed()) rest.unshift(rest[0]! + (list.at(0)?.bound ?? IMPOSSIBLE))
    this.#rest = rest
  }

  /** Where to begin; `undefined` if some place in the period has no bar. */
  get root(): PeriodNode | undefined {
    if (this.#lists.some((list) => !list.at(0))) return undefined
    return { of: this, prefix: [], spent: this.scheme.points + this.stance.points, rank: 0 }
  }

  /** What no line below a node can undercut. */
  boundOf({ prefix, spent, rank }: PeriodNode): number {
    return spent + this.#lists[prefix.length]!.at(rank)!.bound + this.#rest[prefix.length + 1]!
  }

  /** The nodes that follow a node, and the plan that it makes whole. */
  follow(node: PeriodNode): { readonly nodes: readonly PeriodNode[]; readonly plan: GroovePlan | undefined } {
    const { prefix, spent, rank } = node
    const list = this.#lists[prefix.length]!
    const { pairing, bound } = list.at(rank)!
    const nodes: PeriodNode[] = list.at(rank + 1) ? [{ ...node, rank: rank + 1 }] : []
    const motif = [...prefix, pairing]
    if (motif.length === this.#lists.length) return { nodes, plan: this.#plans.planOf(this.scheme, motif) }
    const differs = prefix.length > 0 ? this.#plans.differencePoints(motif[0]!, pairing) : 0
    nodes.push({ of: this, prefix: motif, spent: spent + bound + differs, rank: 0 })
    return { nodes, plan: undefined }
  }
}

/**
 * What the bars of a part cost at least on the neck in a stance, each by itself, if a pairing is played in it; IMPOSSIBLE where that is
 * more than `most`.
 */
function innerOf(
  plans: GroovePlans,
  sweep: Sweep,
  scheme: LaidScheme,
  part: number,
  pairing: Pairing,
  { stance }: PricedStance,
  most: number,
): number {
  const choices = plans.choicesOf(scheme, part, pairing)
  let sum = choices.reduce((total, [{ least }, count]) => total + count * least, 0)
  for (const [choice, count] of choices) {
    sum += count * (sweep.bounds.inner(choice, stance, true) - choice.least)
    if (sum > most) return IMPOSSIBLE
  }
  return sum
}

/**
 * Plans to begin with: of each place in the period the bars that look best in one of the cheapest stances, combined.
 *
 * @param most.likely  bars by what they cost without the neck that are ranked on it
 * @param most.among   how many of these are combined
 */
export function likelyPlans(
  plans: GroovePlans,
  sweep: Sweep,
  stances: readonly PricedStance[],
  most: { readonly likely: number; readonly among: number },
): readonly GroovePlan[] {
  return plans.schemes.flatMap((scheme) => {
    let motifs: readonly (readonly Pairing[])[] = [[]]
    for (let part = 0; part < plans.period; part++) {
      const laid = plans.ranked(scheme, part)
      const first = Array.from({ length: most.likely }, (_, rank) => laid.at(rank)).filter((one) => one !== undefined)
      const ranked = first.map(({ pairing }) => ({
        pairing,
        bound: Math.min(
          ...stances.map((stance) => stance.points + innerOf(plans, sweep, scheme, part, pairing, stance, IMPOSSIBLE)),
        ),
      }))
      ranked.sort((x, y) => x.bound - y.bound || x.pairing.row - y.pairing.row)
      const likely = ranked.slice(0, most.among)
      motifs = motifs.flatMap((motif) => likely.map(({ pairing }) => [...motif, pairing]))
    }
    return motifs.flatMap((motif) => plans.planOf(scheme, motif) ?? [])
  })
}
