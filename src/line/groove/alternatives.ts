import type { Pitch } from '../../music/pitch.ts'
import { IMPOSSIBLE } from '../../search/trellis.ts'
import type { SlotAlternatives } from '../walk/written.ts'
import { linksInBar } from './links.ts'
import type { Problem, Solved } from './problem.ts'
import type { SweptNote } from './steps.ts'
import { choiceIndexAt, type VoicedBar, type VoicedSlot, type Way } from './voiced.ts'

/** A struck slot of a line: one of its bar, with the grips that the line's plan gives it. */
interface Place {
  readonly bar: VoicedBar
  readonly barIndex: number
  readonly slot: number
}

/** From each candidate of a slot in each state on, or up to it. */
type Costs = Int32Array

/**
 * For each struck slot of a groove, what else it could have: each pitch with the cost of the best line of the same bars, in the same
 * stance, that has it there. A pitch that the figure does not give is any note of the feel's degree table, as where a must leaves no
 * other.
 *
 * Costs from the beginning meet costs to the end at each slot; in a loop for each first note (forward and backward, as in hidden Markov
 * models: Rabiner 1989).
 */
export function grooveAlternatives(problem: Problem, solved: Solved): readonly SlotAlternatives[] {
  const chain = new Chain(problem, solved)
  const { places, own } = chain
  const least = places.map(() => new Map<Pitch, number>())
  if (places.length === 0) return []
  const last = places.length - 1
  const first = own[0]!
  const width = problem.sweep.steps.states
  /** Lets any note stand at a place, where what has been and what is to come is known. */
  const meet = (at: number, begin: Costs, toGo: readonly Costs[], sofar: readonly Costs[], end: Costs): void => {
    const freed = chain.freed(at)
    const rest = at === last ? end : chain.back(at, freed, own[at + 1]!, toGo[at + 1]!)
    const reached = at === 0 ? begin : chain.forward(at, own[at - 1]!, freed, sofar[at - 1]!)
    for (let i = 0; i < freed.grips.length; i++) {
      const pitch = freed.choices[choiceIndexAt(freed, i)]!.pitch
      for (let state = 0; state < width; state++) {
        const cost = reached[i * width + state]! + freed.costs[i]! + rest[i * width + state]!
        if (cost < IMPOSSIBLE && cost < (least[at]!.get(pitch) ?? IMPOSSIBLE)) least[at]!.set(pitch, cost)
      }
    }
  }
  if (!chain.turns) {
    const begin = new Int32Array(first.grips.length * width).fill(IMPOSSIBLE)
    for (let i = 0; i < first.grips.length; i++) begin[i * width] = 0
    const nothing = (slot: VoicedSlot): Costs => new Int32Array(slot.grips.length * width)
    const toGo = chain.toGo(nothing(own[last]!))
    const sofar = chain.sofar(begin)
    for (const at of places.keys()) {
      const freed = chain.freed(at)
      const start = new Int32Array(freed.grips.length * width).fill(IMPOSSIBLE)
      for (let i = 0; i < freed.grips.length; i++) start[i * width] = 0
      meet(at, start, toGo, sofar, nothing(freed))
    }
  } else {
    // In a loop each first note is a line of its own: it is led into by the last, and what is remembered then is what it began with.
    for (let candidate = 0; candidate < first.grips.length; candidate++) {
      for (let state = 0; state < width; state++) {
        const begin = only(first, candidate, state, width)
        const toGo = chain.toGo(chain.closing(own[last]!, first, begin))
        if (toGo[0]![candidate * width + state]! >= IMPOSSIBLE) continue
        const sofar = chain.sofar(begin)
        for (let at = 1; at < places.length; at++) {
          const end = at === last ? chain.closing(chain.freed(at), first, begin) : begin
          meet(at, begin, toGo, sofar, end)
        }
      }
    }
    const freed = chain.freed(0)
    for (let candidate = 0; candidate < freed.grips.length; candidate++) {
      for (let state = 0; state < width; state++) {
        const begin = only(freed, candidate, state, width)
        if (last === 0) meet(0, begin, [], [], chain.closing(freed, freed, begin))
        else meet(0, begin, chain.toGo(chain.closing(own[last]!, freed, begin)), [], begin)
      }
    }
  }
  return least.map((costs) => ({
    costs: new Map([...costs].map(([pitch, cost]) => [pitch, cost + chain.constant])),
    beyond: IMPOSSIBLE,
  }))
}

/**
 * The same where bars are played again: a note is changed in all its playings, and all other notes stay where they are. Only its own pitch
 * where rules remember what came before, and where it follows itself.
 *
 * @param repeats  for each bar, the first that is the same
 */
export function grooveAlternativesEachTime(
  problem: Problem,
  solved: Solved,
  repeats: readonly number[],
): readonly SlotAlternatives[] {
  const chain = new Chain(problem, solved)
  const { places, own } = chain
  const { notes } = solved.swept
  const { grips } = problem.voicer.neck
  const count = places.length
  const playings = new Map<string, number[]>()
  const keyOf = ({ bar, barIndex, slot }: Place): string => `${repeats[barIndex]} ${bar.slots[slot]!.laid.onset.tick}`
  for (const [at, place] of places.entries()) {
    const key = keyOf(place)
    playings.set(key, [...(playings.get(key) ?? []), at])
  }
  const costOf = (at: number, slot: VoicedSlot, candidate: number): number => {
    const before = at > 0 ? at - 1 : chain.turns ? count - 1 : undefined
    const after = at + 1 < count ? at + 1 : chain.turns ? 0 : undefined
    let cost = slot.costs[candidate]!
    if (before !== undefined) cost += chain.step(before, own[before]!, notes[before]!.candidate, slot, candidate)
    if (after !== undefined) cost += chain.step(at, slot, candidate, own[after]!, notes[after]!.candidate)
    return Math.min(cost, IMPOSSIBLE)
  }
  const total = solved.swept.cost + solved.plan.points
  const known = new Map<string, SlotAlternatives>()
  return places.map((place, at) => {
    const key = keyOf(place)
    const found = known.get(key)
    if (found) return found
    const group = playings.get(key)!
    const costs = new Map<Pitch, number>()
    const isAlone = group.every((one) => !group.includes((one + 1) % count))
    if (isAlone && problem.sweep.steps.states === 1) {
      const now = group.reduce((sum, one) => sum + costOf(one, own[one]!, notes[one]!.candidate), 0)
      // Each place on the neck in all playings, the hand as it comes cheapest.
      const sums = new Map<string, { readonly pitch: Pitch; cost: number; times: number }>()
      for (const one of group) {
        const slot = chain.freed(one)
        const least = new Map<string, { readonly pitch: Pitch; readonly cost: number }>()
        for (const [candidate, grip] of slot.grips.entries()) {
          const { pitch, string, fret } = grips[grip]!
          const cost = costOf(one, slot, candidate)
          const spot = `${string} ${fret}`
          if (cost < (least.get(spot)?.cost ?? IMPOSSIBLE)) least.set(spot, { pitch, cost })
        }
        for (const [spot, { pitch, cost }] of least) {
          const sum = sums.get(spot) ?? { pitch, cost: 0, times: 0 }
          sum.cost += cost
          sum.times++
          sums.set(spot, sum)
        }
      }
      for (const { pitch, cost, times } of sums.values())
        if (times === group.length) costs.set(pitch, Math.min(costs.get(pitch) ?? IMPOSSIBLE, total - now + cost))
    }
    const { pitch } = grips[own[at]!.grips[notes[at]!.candidate]!]!
    costs.set(pitch, Math.min(costs.get(pitch) ?? IMPOSSIBLE, total))
    const alternatives = { costs, beyond: total }
    known.set(key, alternatives)
    return alternatives
  })
}

/** The struck slots of a line one after the other, and the steps between them. */
class Chain {
  readonly places: readonly Place[]
  readonly own: readonly VoicedSlot[]
  readonly turns: boolean
  /** what the line costs beside its notes and its steps */
  readonly constant: number
  readonly #problem: Problem
  readonly #solved: Solved
  readonly #freed: VoicedSlot[] = []
  readonly #ways = new Map<VoicedSlot, Map<VoicedSlot, Way | undefined>>()

  constructor(problem: Problem, solved: Solved) {
    this.#problem = problem
    this.#solved = solved
    const { notes, cost } = solved.swept
    const { rules, turns } = problem.sweep.steps
    this.places = notes.map(({ bar, barIndex, slot }) => ({ bar, barIndex, slot }))
    this.own = notes.map(({ bar, slot }) => bar.slots[slot]!)
    this.turns = turns && (rules.judgeSteps || notes.at(-1)?.bar.laid.tiedOver !== true)
    const paid = notes.reduce((sum, note, at) => {
      const before = notes.at(at - 1)!
      const isReached = at > 0 || this.turns
      return sum + this.own[at]!.costs[note.candidate]! + (isReached ? this.#paidStep(at, before, note) : 0)
    }, 0)
    this.constant = cost + solved.plan.points - paid
  }

  #paidStep(at: number, before: SweptNote, note: SweptNote): number {
    const from = at > 0 ? at - 1 : this.places.length - 1
    return this.step(from, this.own[from]!, before.candidate, this.own[at]!, note.candidate, before.state, note.state)
  }

  /** The slot at a place with any note of the neck beside its own. */
  freed(at: number): VoicedSlot {
    const { bar, slot } = this.places[at]!
    this.#freed[at] ??= this.#problem.voicer.freed(bar, slot, this.#solved.swept.stance)
    return this.#freed[at]
  }

  /** From a place to the one after it, each with its own slot or a freed one; `undefined`: afresh, for nothing. */
  #way(at: number, from: VoicedSlot, to: VoicedSlot): Way | undefined {
    let known = this.#ways.get(from)
    if (!known) {
      known = new Map()
      this.#ways.set(from, known)
    }
    if (known.has(to)) return known.get(to)
    const way = this.#wayAnew(at, from, to)
    known.set(to, way)
    return way
  }

  #wayAnew(at: number, from: VoicedSlot, to: VoicedSlot): Way | undefined {
    const { steps } = this.#problem.sweep
    const closing = at + 1 === this.places.length
    const [here, there] = [this.places[at]!, this.places[closing ? 0 : at + 1]!]
    const { bar } = here
    if (!closing && here.barIndex === there.barIndex)
      return { ...steps.inBar(bar, here.slot), links: linksInBar(from, to, bar.basses) }
    if (!closing && bar.laid.context.silenceAfter && !steps.rules.judgeSteps) return undefined
    const passed = steps.between(here.barIndex, there.barIndex, closing)
    const withSlot = (one: Place, slot: VoicedSlot): VoicedBar => ({
      ...one.bar,
      slots: one.bar.slots.map((own, index) => (index === one.slot ? slot : own)),
      across: [new Map(), new Map()],
    })
    return steps.over(withSlot(here, from), { bar: withSlot(there, to), first: there.slot, passed }, closing)
  }

  /** What a step costs; IMPOSSIBLE if it may not be taken. */
  step(
    at: number,
    from: VoicedSlot,
    candidate: number,
    to: VoicedSlot,
    next: number,
    state = 0,
    into: number | undefined = undefined,
  ): number {
    const way = this.#way(at, from, to)
    if (!way) return 0
    let least = IMPOSSIBLE
    this.#problem.sweep.steps.successors(from, to, way, candidate, state, (one, reached, cost) => {
      if (one === next && (into === undefined || reached === into)) least = Math.min(least, cost)
    })
    return least
  }

  /** From each candidate of a slot over the step to the next: what is to come. */
  back(at: number, from: VoicedSlot, to: VoicedSlot, toGo: Costs): Costs {
    const { steps } = this.#problem.sweep
    const after = new Int32Array(toGo.length)
    for (let i = 0; i < after.length; i++)
      after[i] = Math.min(toGo[i]! + to.costs[Math.floor(i / steps.states)]!, IMPOSSIBLE)
    const costs = new Int32Array(from.grips.length * steps.states).fill(IMPOSSIBLE)
    const way = this.#way(at, from, to)
    if (way) steps.back(from, to, way, after, costs)
    // Afresh the memories begin anew.
    else costs.fill(Math.min(...after, IMPOSSIBLE))
    return costs
  }

  /** Up to each candidate of a slot from those of the one before, without its own cost. */
  forward(at: number, from: VoicedSlot, to: VoicedSlot, sofar: Costs): Costs {
    const { steps } = this.#problem.sweep
    const { states } = steps
    const costs = new Int32Array(to.grips.length * states).fill(IMPOSSIBLE)
    const way = this.#way(at - 1, from, to)
    for (let i = 0; i < from.grips.length; i++) {
      for (let state = 0; state < states; state++) {
        const paid = sofar[i * states + state]! + from.costs[i]!
        if (paid >= IMPOSSIBLE) continue
        if (!way) {
          for (let next = 0; next < to.grips.length; next++)
            costs[next * states] = Math.min(costs[next * states]!, paid)
          continue
        }
        steps.successors(from, to, way, i, state, (next, into, cost) => {
          costs[next * states + into] = Math.min(costs[next * states + into]!, paid + cost)
        })
      }
    }
    return costs
  }

  /** From the last slot back to the first note, which alone costs nothing. */
  closing(last: VoicedSlot, first: VoicedSlot, begin: Costs): Costs {
    const { steps } = this.#problem.sweep
    const costs = new Int32Array(last.grips.length * steps.states).fill(IMPOSSIBLE)
    const way = this.#way(this.places.length - 1, last, first)
    if (way) steps.back(last, first, way, begin, costs)
    else costs.fill(0)
    return costs
  }

  /** By place, what is to come after each candidate of its own slot. */
  toGo(end: Costs): readonly Costs[] {
    const toGo: Costs[] = new Array(this.places.length)
    toGo[this.places.length - 1] = end
    for (let at = this.places.length - 2; at >= 0; at--)
      toGo[at] = this.back(at, this.own[at]!, this.own[at + 1]!, toGo[at + 1]!)
    return toGo
  }

  /** By place, what each candidate of its own slot has cost up to it. */
  sofar(begin: Costs): readonly Costs[] {
    const sofar: Costs[] = [begin]
    for (let at = 1; at < this.places.length; at++)
      sofar.push(this.forward(at, this.own[at - 1]!, this.own[at]!, sofar[at - 1]!))
    return sofar
  }
}

/** A first note in a state, alone possible. */
function only(slot: VoicedSlot, candidate: number, state: number, states: number): Costs {
  const costs = new Int32Array(slot.grips.length * states).fill(IMPOSSIBLE)
  costs[candidate * states + state] = 0
  return costs
}
