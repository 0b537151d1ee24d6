import { type Pattern, semitonesOfToken } from '../../src/line/pattern.ts'
import { patternNamed } from '../../src/line/patterns.ts'
import { binds, type RuleInForce } from '../../src/line/rule.ts'
import type { WalkRequest } from '../../src/line/walk/problem.ts'
import { type Chord, familyOf } from '../../src/music/chord.ts'
import { semitonesOf } from '../../src/music/degree.ts'
import type { Slot } from '../../src/rhythm/slot.ts'

// A second reading of degree patterns: a row of pitches is parted into stretches, each under one pattern or free, in every way there is.

type Asked = Pick<WalkRequest, 'table' | 'patterns' | 'rules' | 'loop'>

interface Places {
  readonly slots: readonly Slot[]
  readonly chords: readonly Chord[]
  /** which chord each slot belongs to, counted by changes */
  readonly runs: readonly number[]
  /** a must keeps the slot's bar */
  readonly kept: readonly boolean[]
}

/** Notes under one pattern, from its first token on; a free stretch is one note. */
interface Stretch {
  readonly from: number
  readonly to: number
  readonly pattern: Pattern | undefined
  /** its last note is an approach that took over */
  readonly taken: boolean
  /** semitones that the next note may lie from its last one; absent: any */
  readonly leads: readonly number[] | undefined
}

/** True where patterns are chosen or a rule speaks of one. */
export function isPatterned({ patterns, rules }: Pick<Asked, 'patterns' | 'rules'>): boolean {
  return patterns !== undefined || rules.some((rule) => namedIn(rule) !== undefined)
}

function namedIn({ test }: RuleInForce): string | undefined {
  return test.looksAt === 'pattern' || test.looksAt === 'patterns-in-force' ? test.pattern : undefined
}

/**
 * What patterns and the rules about them cost a row of pitches: the cheapest way to part it into stretches.
 *
 * A pattern begins at a change, at a bar's first beat, or when the one before is done; it is cut at a change. Where none was chosen
 * notes may be free, too; where some were, over chords that none of them names. An approach may take over from a pattern on the
 * last beat before a change. Tokens are dealt to beats: a skip, which is one off-beat note between beats in a bar that has at most half as
 * many as beats, strikes the note before it again. Counts are of stretches that begin in the bars of their rule.
 */
export function patternParses(asked: Asked, places: Places, pitches: readonly number[]): number {
  const { table, rules, loop } = asked
  const { slots, chords, runs, kept } = places
  const count = pitches.length
  if (count === 0) return 0
  const chosen = asked.patterns ?? []
  const named = [...new Set(rules.flatMap((rule) => namedIn(rule) ?? []))]
  const offered = [
    ...chosen,
    ...named.flatMap((name) => (chosen.some(({ id }) => id === name) ? [] : (patternNamed(name) ?? []))),
  ]
  const isFree = asked.patterns === undefined
  const arrives = (i: number) => i === 0 || i === count || runs[i] !== runs[i - 1]
  const isBeat = (i: number) => slots[i]!.pushed || !['off', 'fine'].includes(slots[i]!.strength)
  const isSkip = (i: number) => {
    if (i >= count || arrives(i) || isBeat(i)) return false
    const inBar = slots.flatMap(({ barIndex }, j) => (barIndex === slots[i]!.barIndex ? [j] : []))
    const beats = inBar.filter(isBeat).length
    const alone = inBar.includes(i - 1) && isBeat(i - 1) && (i + 1 === count || isBeat(i + 1))
    return alone && 2 * (inBar.length - beats) <= beats
  }
  /** the slots of a stretch that have a token */
  const dealt = (from: number, to: number) =>
    Array.from({ length: to - from }, (_, k) => from + k).filter((i) => i === from || !isSkip(i))
  const inForce = (i: number) =>
    rules.flatMap(({ test, bars, strength }) =>
      test.looksAt === 'patterns-in-force' && binds(bars ? { bars } : {}, slots[i]!.barIndex)
        ? [{ pattern: test.pattern, strength }]
        : [],
    )
  /** what a note pays for standing under a pattern or none, where rules ask for one */
  const standing = (i: number, pattern: Pattern | undefined): number => {
    let total = 0
    for (const { pattern: wanted, strength } of inForce(i)) {
      if (wanted !== pattern?.id) total += strength === 'must' ? Number.POSITIVE_INFINITY : strength
    }
    return total
  }
  const demanded = (i: number) => inForce(i).flatMap(({ pattern, strength }) => (strength === 'must' ? [pattern] : []))
  const fitting = (i: number) =>
    offered.filter(
      ({ id, families }) => demanded(i).includes(id) || families === 'any' || families.includes(familyOf(chords[i]!)),
    )
  const nextChord = (i: number) => chords[runs.findIndex((run, j) => j > i && run !== runs[i])] ?? chords[0]!

  /** all stretches that may begin at a slot, whatever is before them */
  const stretchesAt = (from: number): Stretch[] => {
    if (kept[from]) return [{ from, to: from + 1, pattern: undefined, taken: false, leads: undefined }]
    const found: Stretch[] = []
    for (const pattern of isSkip(from) ? [] : fitting(from)) {
      for (let to = from + 1; to <= count; to++) {
        const last = to - 1
        if (last > from && (arrives(last) || kept[last])) break
        if (!Number.isFinite(standing(last, pattern))) break
        if (isSkip(last) && pitches[last] !== pitches[last - 1]) break
        if (isSkip(to)) continue
        const size = dealt(from, to).length
        // The pattern itself.
        const cutHere = arrives(to) || slots[to]?.strength === 'one' || kept[to] || size === pattern.tokens.length
        const sounds = soundsAs(pattern, from, to)
        if (sounds && cutHere) {
          const leads = leadsOf(pattern, size - 1)
          if (to < count || loop || !leads || endsOn(leads, last))
            found.push({ from, to, pattern, taken: false, leads })
        }
        // An approach on its last note.
        const before = pattern.tokens[size - 2]
        const isLast = arrives(to) && (to < count || loop)
        if (size >= 2 && isLast && before?.kind === 'degree' && soundsAs(pattern, from, dealt(from, to).at(-1)!))
          found.push({ from, to, pattern, taken: true, leads: [-7, -2, -1, 1, 2, 5] })
      }
    }
    if (isFree || fitting(from).length === 0)
      found.push({ from, to: from + 1, pattern: undefined, taken: false, leads: undefined })
    return found
  }

  /** at the very end an approach aims at the root that the form begins with */
  const endsOn = (leads: readonly number[], last: number): boolean =>
    leads.some((interval) => modulo(pitches[last]! + interval - chords[0]!.bassPc) === 0)

  const soundsAs = (pattern: Pattern, from: number, to: number): boolean => {
    const own = dealt(from, to)
    const tokens = pattern.tokens.slice(0, own.length)
    if (tokens.length < own.length) return false
    const chord = chords[from]!
    const anchored = tokens.findIndex((token) => token.kind === 'degree' && !token.next)
    const height = (k: number) => {
      const token = pattern.tokens[k]!
      return token.kind === 'degree' ? semitonesOfToken(token, chord) : Number.NaN
    }
    const anchor = anchored < 0 ? undefined : pitches[own[anchored]!]! - height(anchored)
    if (anchor !== undefined && modulo(anchor - chord.rootPc) !== 0) return false
    return tokens.every((token, k) => {
      const pitch = pitches[own[k]!]!
      const earlier = pitches[own[k - 1]!]
      if (token.kind === 'degree' && !token.next) return pitch === anchor! + height(k)
      if (token.kind === 'degree') {
        const root = nextChord(own[k]!)
        if (modulo(pitch - root.rootPc - semitonesOfToken(token, root)) !== 0) return false
        if (k === 0) return true
        const before = pattern.tokens[k - 1]!
        if (before.kind === 'degree' && before.next)
          return pitch - earlier! === semitonesOfToken(token, root) - semitonesOfToken(before, root)
        if (before.kind === 'approach') return offsets(before).includes(earlier! - pitch)
        return Math.abs(pitch - earlier!) <= 6
      }
      if (token.by === 'scale' && !isInScale(chord, pitch)) return false
      // Aimed at a degree of its own: a step from where that one lies, or, before there is any, from the same target as the approach after it.
      const aim = pattern.tokens.findIndex((other, at) => at > k && other.kind === 'degree')
      const target = pattern.tokens[aim]
      if (anchor !== undefined && target?.kind === 'degree' && !target.next)
        return offsets(token).includes(pitch - anchor - height(aim))
      const isOwn = target?.kind === 'degree' && !target.next
      if (isOwn && !offsets(token).some((offset) => modulo(pitch - chord.rootPc - height(aim) - offset) === 0))
        return false
      const after = pattern.tokens[k + 1]
      if (k + 1 < tokens.length && after?.kind === 'approach')
        return offsets(token).some((a) => offsets(after).some((b) => pitches[own[k + 1]!]! - pitch === b - a))
      return true
    })
  }

  /** where a stretch leads that ends on a token: an approach to what comes after the pattern does */
  const leadsOf = (pattern: Pattern, token: number): readonly number[] | undefined => {
    const last = pattern.tokens[token]!
    if (last.kind === 'degree') return undefined
    const aim = pattern.tokens.find((other, at) => at > token && other.kind === 'degree')
    if (aim?.kind === 'degree' && !aim.next) return undefined
    return offsets(last).map((offset) => -offset)
  }

  const counts = rules.flatMap(({ test, strength, bars }) =>
    test.looksAt === 'pattern' ? [{ ...test, strength, bars }] : [],
  )
  /** how often each rule that counts has counted, after a stretch */
  const countedAfter = (times: readonly number[], one: Stretch): readonly number[] =>
    counts.map(({ pattern, bars }, k) => {
      const begins = one.pattern?.id === pattern && binds(bars ? { bars } : {}, slots[one.from]!.barIndex)
      return times[k]! + (begins ? 1 : 0)
    })
  const owed = (times: readonly number[]): number => {
    let total = 0
    for (const [k, { atLeast, atMost, strength }] of counts.entries()) {
      const breaches = Math.max(0, atLeast - times[k]!) + (atMost === undefined ? 0 : Math.max(0, times[k]! - atMost))
      if (breaches > 0) total += strength === 'must' ? Number.POSITIVE_INFINITY : breaches * strength
    }
    return total
  }

  /** what it costs to go from a stretch to one that begins where it ends; infinite where that may not be */
  const joined = (before: Stretch, next: Stretch): number => {
    const { pattern } = before
    const isKept = kept[before.to - 1] || kept[next.from]
    if (!isKept && before.leads) {
      const interval = pitches[next.from]! - pitches[before.to - 1]!
      if (!before.leads.includes(interval)) return Number.POSITIVE_INFINITY
    }
    if (!pattern) {
      // A free note in a chord that has patterns is followed by another, or by a bar line.
      const fresh =
        arrives(next.from) || kept[before.to - 1] || kept[next.from] || (isFree && slots[next.from]!.strength === 'one')
      if (fresh || !next.pattern) return 0
      return Number.isFinite(standing(next.from, undefined)) ? Number.POSITIVE_INFINITY : 0
    }
    if (isKept || next.pattern === pattern) return 0
    return next.pattern || isFree ? table.patternChanged : 0
  }

  /** it leaves off on an approach to a degree of its own, which never comes */
  const isBroken = ({ from, to, pattern, taken }: Stretch): boolean => {
    if (!pattern || taken || (to === count && !loop)) return false
    const token = dealt(from, to).length - 1
    return pattern.tokens[token]!.kind === 'approach' && leadsOf(pattern, token) === undefined
  }

  const known = pitches.map((_, i) => stretchesAt(i))
  const own = (one: Stretch): number => {
    let cost = one.taken || isBroken(one) ? table.approachTakesOver : 0
    for (let i = one.from; i < one.to; i++) cost += standing(i, one.pattern)
    return cost
  }
  // What is to come depends on the stretch before and on what was counted; in a loop on the first stretch, too.
  let best = Number.POSITIVE_INFINITY
  for (const first of known[0]!) {
    const toCome = new Map<string, number>()
    const after = (before: Stretch, times: readonly number[]): number => {
      if (before.to === count) return (loop ? joined(before, first) : 0) + owed(times)
      const key = `${before.from} ${before.to} ${before.pattern?.id} ${before.taken} ${times}`
      const made = toCome.get(key)
      if (made !== undefined) return made
      let least = Number.POSITIVE_INFINITY
      for (const one of known[before.to]!) {
        const cost = joined(before, one) + own(one)
        if (Number.isFinite(cost)) least = Math.min(least, cost + after(one, countedAfter(times, one)))
      }
      toCome.set(key, least)
      return least
    }
    const cost = own(first)
    if (Number.isFinite(cost))
      best = Math.min(
        best,
        cost +
          after(
            first,
            countedAfter(
              counts.map(() => 0),
              first,
            ),
          ),
      )
  }
  return best
}

const modulo = (x: number): number => ((x % 12) + 12) % 12

function isInScale(chord: Chord, pitch: number): boolean {
  return [...chord.tones, ...chord.scale.degrees].some(
    (degree) => modulo(pitch - chord.rootPc - semitonesOf(degree)) === 0,
  )
}

/** Semitones from its target at which an approach lies. */
function offsets(token: Pattern['tokens'][number]): readonly number[] {
  if (token.kind === 'degree') return [0]
  const above = token.from === 'above'
  return {
    half: [above ? 1 : -1],
    whole: [above ? 2 : -2],
    scale: above ? [1, 2] : [-1, -2],
    dominant: [above ? 7 : -5],
  }[token.by]
}
