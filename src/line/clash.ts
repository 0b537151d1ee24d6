import type { Form } from '../chart/form.ts'
import { smallestConflict } from '../search/conflict.ts'
import { type BarRange, hasNoWeight, isAboutWholeLine, type RuleInForce } from './rule.ts'

/** Rules that cannot hold together, and where. */
export interface Clash {
  /** the sentences of a smallest set of rules that clash; empty where the vocabulary alone leaves no line */
  readonly rules: readonly string[]
  /** numbers of the played bars, rising, at least one: in fewer of them the rules would hold */
  readonly bars: readonly number[]
  readonly message: string
  /** sentences of rules, at most three, the mildest first: each would help by itself in place of the one it loosens */
  readonly loosen: readonly string[]
}

const MOST_LOOSENINGS = 3

/** Says at which bar no line can go on under some rules; `undefined` if there is a line. */
interface Mortal {
  dies(rules: readonly RuleInForce[]): number | undefined
  /** slower: looks for a line where it dies at no bar */
  finds(rules: readonly RuleInForce[]): boolean
  diesWithin?(rules: readonly RuleInForce[], bars: BarRange): boolean
}

/**
 * The smallest set of musts that clash, the newest blamed first; the bars where they do; and the single loosenings that help, each
 * tried. Only musts can clash.
 *
 * @param barIndex  a bar at which no line can go on
 */
export function clashOf(
  { form, rules }: { readonly form: Form; readonly rules: readonly RuleInForce[] },
  barIndex: number,
  quick: Mortal,
): Clash {
  const musts = rules.filter((rule) => rule.strength === 'must')
  // What dies at no bar and was not found: then only looking for lines can tell.
  const isTold = quick.dies(musts) !== undefined
  const slow: Mortal = {
    dies: (some) => quick.dies(some) ?? (quick.finds(some) ? undefined : barIndex),
    finds: quick.finds,
  }
  const search = isTold ? quick : slow
  const canObey = (some: readonly RuleInForce[]): boolean => search.dies(some) === undefined
  const blamed = nearby(musts, barIndex, search) ?? smallestConflict(musts, canObey)
  const number = form.bars[barIndex]!.number
  if (!blamed) {
    // The rules hold together; what was not found is a way round.
    const message = `No line was found that leads from bar ${number} back to the beginning of the loop.`
    return { rules: [], bars: [number], message, loosen: ['play it once, not as a loop'] }
  }
  if (blamed.length === 0) {
    const message = `No line at bar ${number}: the cells and patterns chosen cannot be played there.`
    return { rules: [], bars: [number], message, loosen: [] }
  }
  const bars = barsOf(blamed, form, barIndex, search).map((index) => form.bars[index]!.number)
  const { loosen, isAll } = looseningsOf(blamed, musts, canObey)
  const sentences = blamed.map((rule) => `${rule.sentence} (must)`)
  const said = sentences.map((sentence) => `"${sentence}"`).join(' and ')
  const place = bars.length === 1 ? `bar ${bars[0]}` : `bars ${listed(bars)}`
  const more = isAll ? '' : ' They are not the only ones that clash.'
  return {
    rules: sentences,
    bars,
    message: `No line at ${place}: ${said} cannot hold ${blamed.length === 1 ? 'there' : 'together'}.${more}`,
    loosen,
  }
}

/** Bars before the one where all lines die in which the reason is looked for first. */
const NEARBY = [1, 2, 4, 8, 16]

/**
 * The smallest set of rules that clash in a few bars up to a bar, where few bars are enough: looked for there, and tried on the whole.
 * `undefined` where they are not: rules that look at the whole line are left out.
 */
function nearby(musts: readonly RuleInForce[], barIndex: number, search: Mortal): readonly RuleInForce[] | undefined {
  const local = musts.filter(({ test }) => !isAboutWholeLine(test) && test.looksAt !== 'pattern')
  for (const count of search.diesWithin ? NEARBY : []) {
    const bars = { from: Math.max(0, barIndex + 1 - count), to: barIndex + 1 }
    const canObey = (some: readonly RuleInForce[]) => !search.diesWithin!(some, bars)
    if (canObey(local)) continue
    const here = smallestConflict(local, canObey)
    if (!here || here.length === 0) return undefined
    // Elsewhere fewer of them may clash by themselves.
    return smallestConflict(here, (some) => search.dies(some) === undefined)
  }
  return undefined
}

/** Numbers, those that follow each other as a stretch: `2, 5–8`. */
function listed(numbers: readonly number[]): string {
  const stretches: [number, number][] = []
  for (const number of numbers) {
    const last = stretches.at(-1)
    if (last && last[1] + 1 === number) last[1] = number
    else stretches.push([number, number])
  }
  return stretches.map(([from, to]) => (from === to ? `${from}` : `${from}–${to}`)).join(', ')
}

/** A smallest set of bars in which the rules clash when they bind nowhere else: next to where they die, or else the earliest. */
function barsOf(blamed: readonly RuleInForce[], form: Form, barIndex: number, search: Mortal): readonly number[] {
  const bound = form.bars.map(({ index }) => index).filter((index) => blamed.some((rule) => bindsBar(rule, index)))
  const canObeyIn = (bars: readonly number[]): boolean => {
    const ranges = bars.map((index): BarRange => ({ from: index, to: index + 1 }))
    return search.dies(blamed.map((rule) => (isOfWhole(rule) ? rule : within(rule, ranges)))) === undefined
  }
  const dead = search.dies(blamed) ?? barIndex
  for (const near of [[dead], [dead - 1, dead], [dead, dead + 1]]) {
    const there = near.filter((index) => bound.includes(index))
    if (there.length < near.length || canObeyIn(there)) continue
    const bars = smallestConflict(there, canObeyIn)
    if (bars && bars.length > 0) return bars
  }
  const bars = smallestConflict([...bound].reverse(), canObeyIn)
  return bars && bars.length > 0 ? [...bars].sort((a, b) => a - b) : [dead]
}

function bindsBar({ bars }: RuleInForce, index: number): boolean {
  return !bars || bars.some(({ from, to }) => from <= index && index < to)
}

/** A count over bars is another demand in fewer bars, and what is asked of the whole line has no bars. */
function isOfWhole(rule: RuleInForce): boolean {
  return rule.test.looksAt === 'pattern' || isAboutWholeLine(rule.test)
}

function within(rule: RuleInForce, ranges: readonly BarRange[]): RuleInForce {
  return { ...rule, bars: ranges.filter(({ from }) => bindsBar(rule, from)) }
}

/** What would help by itself, the mildest first: a number or a range that asks a little less, a weight, nothing at all. */
function looseningsOf(
  blamed: readonly RuleInForce[],
  musts: readonly RuleInForce[],
  canObey: (rules: readonly RuleInForce[]) => boolean,
): { readonly loosen: readonly string[]; readonly isAll: boolean } {
  const newestFirst = [...blamed].reverse()
  const without = (rule: RuleInForce, basis: readonly RuleInForce[]) => basis.filter((other) => other !== rule)
  const helpful = newestFirst.filter((rule) => canObey(without(rule, musts)))
  const isAll = helpful.length > 0
  const basis = isAll ? musts : blamed
  const rules = isAll ? helpful : newestFirst
  const numbers = milderOf(rules, (rule, milder) => canObey([...without(rule, basis), milder]))
  const weighable = rules.filter(({ test }) => !hasNoWeight(test))
  const weights = weighable.map((rule) => `${rule.sentence} (weight ${rule.usualWeight ?? 1})`)
  const dropped = rules.map((rule) => `${rule.sentence} (off)`)
  const all = [...numbers.map((rule) => `${rule.sentence} (must)`), ...weights, ...dropped]
  return { loosen: all.slice(0, MOST_LOOSENINGS), isAll }
}

/** The first of each row of milder rules that helps, those fewest steps away before others. A row asks less and less. */
function milderOf(
  rules: readonly RuleInForce[],
  helps: (rule: RuleInForce, milder: RuleInForce) => boolean,
): readonly RuleInForce[] {
  const found: { readonly rule: RuleInForce; readonly steps: number }[] = []
  for (const rule of rules) {
    for (const row of rule.milder?.() ?? []) {
      // If the mildest does not help, none does.
      if (row.length === 0 || !helps(rule, row.at(-1)!)) continue
      let failed = 0
      let works = row.length
      // Most often a few steps are enough.
      for (let step = 1; step < works; step *= 2) {
        if (helps(rule, row[step - 1]!)) works = step
        else failed = step
      }
      while (works - failed > 1) {
        const middle = (works + failed) >> 1
        if (helps(rule, row[middle - 1]!)) works = middle
        else failed = middle
      }
      found.push({ rule: row[works - 1]!, steps: works })
    }
  }
  return found.sort((a, b) => a.steps - b.steps).map(({ rule }) => rule)
}
