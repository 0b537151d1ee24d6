import type { Form } from '../../chart/form.ts'
import type { Pitch } from '../../music/pitch.ts'
import type { Slot } from '../../rhythm/slot.ts'
import type { CostTerm, SearchedLine, SearchedNote } from '../line.ts'
import type { LaidBar, Source } from './bar.ts'
import type { BarContext } from './context.ts'
import { strengthOf } from './deal.ts'
import type { Pairing } from './pairing.ts'
import type { Problem, Solved } from './problem.ts'
import { sameEachTime } from './repeats.ts'
import type { GrooveRequest } from './request.ts'
import { stanceTerms } from './stance.ts'
import { headPatternOf, slotOf } from './standing.ts'
import { changesPairing } from './sweep.ts'
import type { Role } from './table.ts'
import { anchorsOf } from './voice.ts'
import { type Choice, choiceAt } from './voiced.ts'

/** A note of a groove, with where it comes from. */
export interface GrooveNote extends SearchedNote {
  readonly role: Role
  readonly source: Source
  /** its token; an approach that steps or takes a token's place; any note where a must leaves no other */
  readonly kind: Choice['kind']
  /** the pitch that an approach aims at */
  readonly target: Pitch | undefined
  /** octaves that its figure stands above the place of its root, 0 or 1 */
  readonly octave: number
  /** low tokens of its figure are folded up, or its fifth lies on the other side */
  readonly folded: boolean
}

/** A line as the groove search chose it, with its plan. */
export interface GrooveLine extends SearchedLine {
  readonly notes: readonly GrooveNote[]
  readonly plan: {
    /** row of the scheme in the table */
    readonly scheme: number
    readonly a: Pairing
    readonly b: Pairing | undefined
    /** all bars that it is made of */
    readonly motif: readonly Pairing[]
    /** per bar: the fill or walk it ends with */
    readonly figures: readonly (string | undefined)[]
    /** per bar: the pattern its head is made of */
    readonly patterns: readonly (string | undefined)[]
    /** lowest root of the twelve that the line's roots are taken from */
    readonly zone: Pitch
    /** hand position that is home */
    readonly home: number
  }
}

/**
 * A swept plan as a line whose bars are the same wherever they are played again, if that is asked for; every note with the terms that add up to its cost, taken from the definitions and not from the tables.
 * `undefined` if it breaks a must that the search could not follow.
 */
export function lineOf(
  request: GrooveRequest,
  problem: Problem,
  solved: Solved,
  provenWithin: number,
): GrooveLine | undefined {
  const { repeats } = request
  const tied = repeats ? sameEachTime(repeats, problem, solved) : solved
  if (!tied) return undefined
  const { plan, swept } = tied
  const within = provenWithin + swept.cost - solved.swept.cost
  const { form, table, register } = request
  const { voicer, sweep, contexts, rules } = problem
  const { stance, bars } = swept
  const played = swept.notes.map((note, index): GrooveNote => {
    const { bar, slot: order, candidate, barIndex } = note
    const voiced = bar.slots[order]!
    const choice = choiceAt(voiced, candidate)
    const grip = voicer.neck.grips[voiced.grips[candidate]!]!
    const terms: CostTerm[] = []
    const add = (rule: string, points: number): void => {
      if (points > 0) terms.push({ rule, points })
    }
    const anchors = anchorsOf(bar.laid.context, stance.zone)
    voicer.noteTerms(voiced, choice, grip, anchors, stance, add)
    const before = swept.notes[index - 1]
    const last = swept.notes.at(-1)!
    if (before) sweep.steps.terms(before, note, add)
    else if (sweep.steps.turns) sweep.steps.terms(last, note, add, true)
    const { pitch, string, fret, hand } = grip
    return {
      slot: soundedSlot(form, contexts, bars, barIndex, bar.laid.slots[order]!),
      pitch,
      string,
      fret,
      hand,
      pattern: choice.kind === 'free' ? undefined : voiced.laid.pattern,
      terms,
      role: voiced.laid.role,
      source: voiced.laid.source,
      kind: choice.kind,
      target: choice.target,
      octave: choice.octave,
      folded: choice.folded,
    }
  })
  const charges = rules.charge(played, voicer.neck)
  if (!charges) return undefined
  const notes = played.map((note, index) => ({ ...note, terms: [...note.terms, ...charges[index]!] }))
  const terms: CostTerm[] = [
    ...plan.terms,
    ...stanceTerms(table, register.lowest, stance),
    ...(rules.tallyTerms(swept.tally) ?? []),
  ]
  for (const [barIndex, bar] of bars.entries()) {
    for (const term of bar.terms)
      if (!rules.isKeptAfterAll(term.rule, barIndex, notes)) terms.push({ ...term, barIndex })
    const before = bars[barIndex - 1]
    if (plan.change && before && changesPairing(before, bar))
      terms.push({ rule: 'motif-changes', points: plan.change, barIndex })
  }
  const ghosts = bars.flatMap((bar, barIndex) =>
    bar.ghosts.map((onset): Slot => {
      const context = contexts[barIndex]!
      const part = context.parts.findLast((one) => one.startTick <= onset.tick)!
      const { ticks, cell, accent, length } = onset
      return {
        startTick: form.bars[barIndex]!.startTick + onset.tick,
        ticks,
        barIndex,
        changeIndex: part.changeIndex,
        strength: strengthOf(context.map, onset.tick),
        cell,
        accent,
        length,
        pushed: false,
        ghost: true,
      }
    }),
  )
  const cost = [...terms, ...notes.flatMap((note) => note.terms)].reduce((sum, term) => sum + term.points, 0)
  return {
    notes,
    ghosts: [...ghosts].sort(byTime),
    terms,
    cost,
    provenWithin: within + Math.max(0, cost - swept.cost - plan.points),
    plan: {
      scheme: plan.scheme.row,
      a: plan.motif[0] ?? bars.find((bar) => bar.pairing)?.pairing ?? problem.pairings[0]!,
      b: plan.motif[1],
      motif: plan.motif,
      figures: bars.map((bar) => bar.figure),
      patterns: bars.map(headPatternOf),
      zone: stance.zone,
      home: stance.home,
    },
  }
}

/** A slot with the downbeat that it takes over, if it is pushed. */
function soundedSlot(
  form: Form,
  contexts: readonly BarContext[],
  bars: readonly LaidBar[],
  barIndex: number,
  laid: LaidBar['slots'][number],
): Slot {
  const slot = slotOf(form, contexts[barIndex]!, laid)
  const downbeat = laid.role === 'push' ? bars[barIndex + 1]?.slots[0] : undefined
  return downbeat?.onset.tick === 0 ? { ...slot, ticks: slot.ticks + downbeat.onset.ticks } : slot
}

function byTime(a: Slot, b: Slot): number {
  return a.startTick - b.startTick
}
