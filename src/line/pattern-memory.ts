import { type Chord, degreeAt, familyOf } from '../music/chord.ts'
import { type PitchClass, pitchClassOf } from '../music/pitch.ts'
import type { CostTerm } from './line.ts'
import type { Memory, MemoryStep } from './memory.ts'
import { type Pattern, type PatternToken, semitonesOfToken } from './pattern.ts'
import { binds, type RuleInForce } from './rule.ts'
import { chordKey } from './standing.ts'
import type { WalkPlace } from './walk/costs.ts'
import type { PlaceMasks } from './walk/known.ts'
import type { WalkTable } from './walk/table.ts'

/** What a state says: which pattern is in force and where in it the line is. */
export interface PatternState {
  /** `undefined`: no chosen pattern fits the chord, the notes are free */
  readonly pattern: Pattern | undefined
  /** `undefined`: an approach note has taken over from the pattern */
  readonly token: number | undefined
}

/** Intervals by which an approach note that has taken over may lead into its arrival. */
export const LEADS: readonly number[] = [-7, -2, -1, 1, 2, 5]

/** How far an anticipated degree may lie from the note before it, so that it is in the nearest octave. */
const NEAREST: readonly number[] = Array.from({ length: 13 }, (_, i) => i - 6)

/** What a memory of patterns is made for. */
export interface PatternsAsked {
  /** those that may be in force */
  readonly patterns: readonly Pattern[]
  /** notes may be free of any pattern, too: nobody chose patterns, but a rule speaks of one */
  readonly free: boolean
  /** those about patterns count; others are passed over */
  readonly rules: readonly RuleInForce[]
}

/** A rule that counts how often a pattern is begun. Its count stops at `most`: more is a breach, or is not needed. */
interface Counter {
  readonly rule: RuleInForce
  readonly pattern: string
  readonly atLeast: number
  readonly most: number
  /** more than `most` is a breach */
  readonly bounded: boolean
}

/**
 * The memory of degree patterns. A pattern comes into force at a chord change or where the one before it is done, and
 * also at a bar line; it is cut at a change, and begins again when it is done. Register is exact: two tokens of one pattern
 * under one chord are a fixed interval apart. Tokens are dealt to beats: a skip strikes its note again. Over a chord that no pattern names, notes are free.
 *
 * An approach at the end of a pattern aims at whatever is arrived at; at the very end, at the root that the form begins with.
 *
 * Rules that ask for a pattern in some bars are kept note by note; rules that count are counters beside the pattern.
 */
export function patternMemory(
  asked: PatternsAsked,
  places: readonly WalkPlace[],
  table: WalkTable,
  masks: PlaceMasks,
  loop: boolean,
): Memory & { stateOf(state: number): PatternState } {
  const { patterns, free } = asked
  // State 0 has no pattern; each pattern has one state for each token and one for an approach that took over.
  const states: PatternState[] = [{ pattern: undefined, token: 0 }]
  const firstOf = new Map<Pattern, number>()
  for (const pattern of patterns) {
    firstOf.set(pattern, states.length)
    for (const token of pattern.tokens.keys()) states.push({ pattern, token })
    states.push({ pattern, token: undefined })
  }
  const numberOf = (pattern: Pattern | undefined, token: number | undefined): number =>
    pattern ? firstOf.get(pattern)! + (token ?? pattern.tokens.length) : 0
  const maskOf = (pitchClass: PitchClass): Uint8Array =>
    masks.where(`pitch class ${pitchClass}`, (pitch) => pitchClassOf(pitch) === pitchClass)
  const scaleOf = (chord: Chord): Uint8Array =>
    masks.where(`scale of ${chordKey(chord)}`, (pitch) => degreeAt(chord, pitchClassOf(pitch)).standing !== 'chromatic')
  const fits = (pattern: Pattern, chord: Chord): boolean =>
    pattern.families === 'any' || pattern.families.includes(familyOf(chord))
  const at = (slot: number): WalkPlace => places[slot % places.length]!
  /** the chord after the one that sounds at a slot; at the end, the first */
  const nextChord = (slot: number): Chord => {
    const { run } = at(slot)
    for (let later = (slot % places.length) + 1; later < places.length; later++)
      if (places[later]!.run !== run) return places[later]!.chord
    return places[0]!.chord
  }
  const inForce = asked.rules.filter((rule) => rule.test.looksAt === 'patterns-in-force')
  /** the rules that ask for a pattern at a slot */
  const askedAt =
    inForce.length === 0 ? () => [] : (slot: number) => inForce.filter((rule) => binds(rule, at(slot).slot.barIndex))
  const wanted = (rule: RuleInForce): string => (rule.test.looksAt === 'patterns-in-force' ? rule.test.pattern : '')
  const musts = (slot: number): readonly string[] =>
    askedAt(slot)
      .filter((rule) => rule.strength === 'must')
      .map(wanted)
  /** a state may stand at a slot, and what it pays there */
  const judged = (slot: number, pattern: Pattern | undefined): readonly CostTerm[] | undefined => {
    const terms: CostTerm[] = []
    for (const rule of askedAt(slot)) {
      if (wanted(rule) === pattern?.id) continue
      if (rule.strength === 'must') return undefined
      terms.push({ rule: rule.id, points: rule.strength })
    }
    return terms
  }

  /** the note after a slot, skips passed over */
  const afterSkips = (slot: number): number => (places[slot + 1]?.skip ? slot + 2 : slot + 1)
  const endsAt = (slot: number): boolean => afterSkips(slot) >= places.length && !loop
  const isBeforeChange = (slot: number): boolean => {
    const next = afterSkips(slot)
    return next >= places.length ? loop : places[next]!.arrives
  }
  /** where an approach to a pitch class may stand: a scale step in the scale */
  const ledTo = (token: PatternToken & { kind: 'approach' }, chord: Chord, aim: number): Uint8Array => {
    const classes = offsetsOf(token).map((offset) => pitchClassOf(aim + offset))
    const led = classes.filter((pc) => token.by !== 'scale' || degreeAt(chord, pc).standing !== 'chromatic')
    return masks.where(`pitch classes ${led}`, (pitch) => led.includes(pitchClassOf(pitch)))
  }

  /** The steps onto a token; `before` is the token of the note before, if it belongs to the same round of the pattern. */
  const onto = (pattern: Pattern, token: number, slot: number, before: number | undefined): MemoryStep => {
    const to = numberOf(pattern, token)
    const place = at(slot)
    const own = pattern.tokens[token]!
    const previous = before === undefined ? undefined : pattern.tokens[before]!
    const height = heightOf(pattern, token, place.chord)
    const previousHeight = before === undefined ? undefined : heightOf(pattern, before, place.chord)
    if (own.kind === 'degree') {
      const chord = own.next ? nextChord(slot) : place.chord
      const mask = maskOf(pitchClassOf(rootOf(chord) + semitonesAt(own, chord)))
      if (!previous) return { to, places: mask }
      if (own.next) {
        if (previous.kind === 'approach')
          return { to, places: mask, intervals: offsetsOf(previous).map((offset) => -offset) }
        const together = previous.next
        const apart = semitonesAt(own, chord) - (together ? semitonesAt(previous, chord) : 0)
        return { to, places: mask, intervals: together ? [apart] : NEAREST }
      }
      if (previous.kind === 'approach')
        return { to, places: mask, intervals: offsetsOf(previous).map((offset) => -offset) }
      if (previousHeight === undefined) return { to, places: mask }
      return { to, places: mask, intervals: [semitonesAt(own, place.chord) - previousHeight] }
    }
    const offsets = offsetsOf(own)
    // At the very end it aims at the root that the form begins with; else at a degree of its own, if it has one.
    let mask = own.by === 'scale' ? scaleOf(place.chord) : undefined
    if (height !== undefined) mask = ledTo(own, place.chord, rootOf(place.chord) + height)
    else if (height === undefined && endsAt(slot)) mask = ledTo(own, place.chord, places[0]!.chord.bassPc)
    const masked = mask ? { places: mask } : {}
    if (previous?.kind === 'approach') {
      // Both aim at the same note.
      const intervals = offsets.flatMap((offset) => offsetsOf(previous).map((other) => offset - other))
      return { to, intervals, ...masked }
    }
    if (height !== undefined && previousHeight !== undefined) {
      const intervals = offsets.map((offset) => height + offset - previousHeight)
      return { to, intervals, ...masked }
    }
    // Aimed at what comes after the pattern: the step that leaves it makes that true.
    return { to, ...masked }
  }

  /** a bar that stays is free of patterns */
  const stays = (slot: number): boolean => at(slot).kept !== undefined
  /** a pattern's first note, as it is begun by its own and in the place of another */
  interface Beginning {
    readonly pattern: Pattern | undefined
    readonly again: MemoryStep
    readonly instead: MemoryStep
  }
  const beginnings = new Map<string, readonly Beginning[]>()
  const beginningsAt = (slot: number, into: readonly number[] | undefined): readonly Beginning[] => {
    const key = `${slot % places.length} ${into ?? ''}`
    const known = beginnings.get(key)
    if (known) return known
    const required = musts(slot)
    const fitting = patterns.filter((pattern) => required.includes(pattern.id) || fits(pattern, at(slot).chord))
    const made: Beginning[] = []
    const add = (step: MemoryStep, pattern: Pattern | undefined): void => {
      const terms = judged(slot, pattern)
      if (!terms) return
      const narrow = into ? narrowed(step, into) : step
      const own = step.arriving ?? []
      const price = { rule: 'pattern-goes-on', points: table.patternChanged }
      made.push({
        pattern,
        again: { ...narrow, arriving: [...own, ...terms] },
        instead: { ...narrow, arriving: [...own, price, ...terms] },
      })
    }
    if (!stays(slot)) for (const pattern of fitting) add(onto(pattern, 0, slot, undefined), pattern)
    if (fitting.length === 0 || free || stays(slot)) add({ to: numberOf(undefined, 0) }, undefined)
    beginnings.set(key, made)
    return made
  }
  const holds: CostTerm = { rule: 'pattern-holds', points: table.approachTakesOver }
  const begun = new Map<string, readonly MemoryStep[]>()
  /**
   * The ways for patterns to begin at a slot, coming from a pattern, by an interval out of `into` if there is one. What is the same
   * is the same array, and in others the same steps: most states go on in one of a few ways.
   *
   * @param isBroken  the pattern before leaves off on an approach that never arrives
   */
  const begins = (
    slot: number,
    from: Pattern | undefined,
    into: readonly number[] | undefined,
    isBroken = false,
  ): readonly MemoryStep[] => {
    const key = `${slot % places.length} ${from ? firstOf.get(from) : ''} ${into ?? ''} ${isBroken}`
    const known = begun.get(key)
    if (known) return known
    const steps = beginningsAt(slot, into).map(({ pattern, again, instead }) => {
      // To leave patterns costs as much as to change them, where notes may be free of them.
      const changed = from !== undefined && from !== pattern && (pattern !== undefined || free)
      const step = changed ? instead : again
      return isBroken ? { ...step, arriving: [...(step.arriving ?? []), holds] } : step
    })
    begun.set(key, steps)
    return steps
  }

  /** The ways on, the counters apart. */
  const stepsFrom = (slot: number, state: number): readonly MemoryStep[] => {
    const { pattern, token } = states[state]!
    const next = at(slot + 1)
    const seam = slot + 1 === places.length
    const changes = seam || next.arrives
    const opens = changes || next.slot.strength === 'one' || stays(slot) || stays(slot + 1)
    const terms = judged(slot + 1, pattern)
    if (!pattern) {
      if (changes || (free && opens) || stays(slot)) return begins(slot + 1, undefined, undefined)
      return terms ? [{ to: state, arriving: terms }] : begins(slot + 1, undefined, undefined)
    }
    if (stays(slot + 1)) return begins(slot + 1, undefined, undefined)
    // Deals go by the beat.
    if (next.skip && !seam) return terms ? [{ to: state, intervals: [0], arriving: terms }] : []
    if (token === undefined) return begins(slot + 1, pattern, LEADS)
    const done = token + 1 === pattern.tokens.length
    let steps: readonly MemoryStep[] = []
    if (opens || done) {
      const aim = pattern.tokens[token]!
      const isApproach = aim.kind === 'approach'
      // An approach to a token of its own pattern that is cut leads nowhere; one at the end leads into what begins.
      const leads = isApproach && heightOf(pattern, token, at(slot).chord) === undefined
      const into = leads ? offsetsOf(aim).map((offset) => -offset) : undefined
      steps = begins(slot + 1, pattern, into, isApproach && !leads && !stays(slot))
    }
    if (changes || !terms) return steps
    if (!done) steps = [{ ...onto(pattern, token + 1, slot + 1, token), arriving: terms }, ...steps]
    if (isBeforeChange(slot + 1) && pattern.tokens[token]!.kind === 'degree') {
      steps = [...steps, { to: numberOf(pattern, undefined), arriving: [holds, ...terms] }]
    }
    return steps
  }

  const asks = inForce.map(({ sentence, strength }) => `${sentence} (${strength})`)
  const plain: Memory = {
    name: `patterns ${patterns.map(({ id, text, families }) => `${id}=${text}/${families}`).join(' ')} ${free} ${asks}`,
    key(slot) {
      const next = at(slot + 1)
      const seam = slot + 1 === places.length
      const ends = !seam && endsAt(slot + 1)
      const flags = [
        seam || next.arrives,
        next.slot.strength === 'one',
        next.skip,
        !seam && isBeforeChange(slot + 1),
        ends,
        stays(slot),
        stays(slot + 1),
      ]
        .map(Number)
        .join('')
      const chords = [at(slot).chord, next.chord, nextChord((slot + 1) % places.length)]
      const bound = inForce.map((rule) => Number(binds(rule, next.slot.barIndex)))
      return `${chords.map(chordKey).join(' ')} ${flags} ${ends ? places[0]!.chord.bassPc : ''} ${bound.join('')}`
    },
    begin: (slot) => begins(slot, undefined, undefined),
    step: stepsFrom,
    end: () => [],
  }
  const counted = withCounters(plain, countersOf(asked.rules), states, places)
  return { ...counted, stateOf: (state) => states[state % states.length]! }
}

function countersOf(rules: readonly RuleInForce[]): readonly Counter[] {
  return rules.flatMap((rule): readonly Counter[] => {
    const { test } = rule
    if (test.looksAt !== 'pattern') return []
    const { pattern, atLeast, atMost } = test
    return [{ rule, pattern, atLeast, most: atMost ?? atLeast, bounded: atMost !== undefined }]
  })
}

/** A memory of patterns that counts beside: a state is one of the memory's, and what has been counted, in mixed radix above it. */
function withCounters(
  memory: Memory,
  counters: readonly Counter[],
  states: readonly PatternState[],
  places: readonly WalkPlace[],
): Memory {
  if (counters.length === 0) return memory
  const breach = ({ rule }: Counter, times: number): CostTerm[] =>
    rule.strength === 'must' || times === 0 ? [] : [{ rule: rule.id, points: times * rule.strength }]
  const countsOf = (state: number): number[] => {
    let rest = Math.floor(state / states.length)
    return counters.map(({ most }) => {
      const count = rest % (most + 1)
      rest = Math.floor(rest / (most + 1))
      return count
    })
  }
  const stateOf = (base: number, counts: readonly number[]): number => {
    let folded = 0
    for (let i = counters.length - 1; i >= 0; i--) folded = folded * (counters[i]!.most + 1) + counts[i]!
    return folded * states.length + base
  }
  /** counts after a step, if it may be taken */
  const counting = (step: MemoryStep, slot: number, counts: readonly number[]): MemoryStep | undefined => {
    const { pattern, token } = states[step.to]!
    const after = [...counts]
    const arriving = [...(step.arriving ?? [])]
    for (const [i, counter] of counters.entries()) {
      const begins = token === 0 && pattern?.id === counter.pattern && !places[slot]!.skip
      if (!begins || !binds(counter.rule, places[slot]!.slot.barIndex)) continue
      if (after[i]! < counter.most) after[i]!++
      else if (counter.bounded) {
        if (counter.rule.strength === 'must') return undefined
        arriving.push(...breach(counter, 1))
      }
    }
    return { ...step, to: stateOf(step.to, after), arriving }
  }
  const all = (
    steps: readonly MemoryStep[],
    slot: number,
    counts: readonly number[],
    leaving: readonly CostTerm[] = [],
  ) =>
    steps.flatMap((step) => {
      const counted = counting(step, slot, counts)
      if (!counted) return []
      return [leaving.length > 0 ? { ...counted, leaving: [...(counted.leaving ?? []), ...leaving] } : counted]
    })
  const none = counters.map(() => 0)
  /** what is missing at the end; `undefined` if a must forbids it */
  const missing = (counts: readonly number[]): readonly CostTerm[] | undefined => {
    const terms: CostTerm[] = []
    for (const [i, counter] of counters.entries()) {
      const times = Math.max(0, counter.atLeast - counts[i]!)
      if (times > 0 && counter.rule.strength === 'must') return undefined
      terms.push(...breach(counter, times))
    }
    return terms
  }
  const names = counters.map(({ rule }) => `${rule.sentence} (${rule.strength})`)
  return {
    name: `${memory.name} ${names.join(' ')}`,
    key(slot) {
      const { barIndex } = places[(slot + 1) % places.length]!.slot
      return `${memory.key(slot)} ${counters.map(({ rule }) => Number(binds(rule, barIndex))).join('')}`
    },
    begin: (slot) => all(memory.begin(slot), slot, none),
    step(slot, state) {
      const counts = countsOf(state)
      const steps = memory.step(slot, state % states.length)
      if (slot + 1 < places.length) return all(steps, slot + 1, counts)
      // Round again, and the counting begins anew.
      const owed = missing(counts)
      return owed ? all(steps, 0, none, owed) : []
    },
    end(state) {
      const owed = missing(countsOf(state))
      const before = memory.end(state % states.length)
      return owed && before ? [...before, ...owed] : undefined
    },
  }
}

/** Roots that patterns are anchored on: a pattern counts from the chord's root even where the bass is another note. */
function rootOf(chord: Chord): PitchClass {
  return chord.rootPc
}

/** Heights of tokens over chords: the same few are asked for at every slot. */
const HEIGHTS = new WeakMap<Chord, Map<PatternToken, number>>()

function semitonesAt(token: PatternToken & { kind: 'degree' }, chord: Chord): number {
  const known = HEIGHTS.get(chord) ?? new Map<PatternToken, number>()
  HEIGHTS.set(chord, known)
  const height = known.get(token) ?? semitonesOfToken(token, chord)
  known.set(token, height)
  return height
}

/** Semitones above the anchor of the note that a token sounds or aims at; `undefined` where it belongs to what comes after. */
function heightOf(pattern: Pattern, token: number, chord: Chord): number | undefined {
  const aim = pattern.tokens.slice(token).find((other) => other.kind === 'degree')
  return !aim || aim.next ? undefined : semitonesAt(aim, chord)
}

/** Semitones from the target to an approach note. A scale step is one or two; which, the scale decides. */
export function offsetsOf(token: PatternToken & { kind: 'approach' }): readonly number[] {
  const sign = token.from === 'above' ? 1 : -1
  switch (token.by) {
    case 'half':
      return [sign]
    case 'whole':
      return [2 * sign]
    case 'scale':
      return [sign, 2 * sign]
    case 'dominant':
      return [token.from === 'above' ? 7 : -5]
  }
}

function narrowed(step: MemoryStep, intervals: readonly number[]): MemoryStep {
  return { ...step, intervals: step.intervals ? step.intervals.filter((i) => intervals.includes(i)) : intervals }
}
