import type { Span } from '../chart/span.ts'
import type { Instrument } from '../music/instrument.ts'
import type { Rule } from './rule.ts'
import { mended } from './rule-mend.ts'
import { elementsOf, type Fault, type Phrasing, say, type Word, wordsOf } from './rule-phrase.ts'
import {
  FRONT,
  FRONT_WITHOUT_COLON,
  formatWhere,
  type Part,
  type PartReading,
  readWhere,
  type Where,
} from './rule-where.ts'
import { RULES } from './rules.ts'

/** How much a rule weighs. Strongly is three times its usual weight, gently once; off, it is kept and binds nothing. */
export type Strength = 'must' | 'strongly' | 'gently' | 'off' | number

/** A rule as a sentence says it. */
export interface Stated {
  readonly rule: Rule<unknown>
  readonly value: unknown
  /** absent: all bars */
  readonly where: Where | undefined
  readonly strength: Strength
}

/** What is wrong with a sentence. */
export interface RuleProblem {
  readonly code: 'rule/unreadable' | 'rule/out-of-range'
  /** in the sentence */
  readonly span: Span
  readonly message: string
  /** the nearest sentence that can be read, if one is near */
  readonly fix: string | undefined
}

/** What a sentence reads as. */
export type RuleReading =
  | { readonly ok: true; readonly stated: Stated; readonly spanOf: { readonly where: Span; readonly statement: Span } }
  | { readonly ok: false; readonly problem: RuleProblem }

/** The longest sentence that is read, in characters. */
const LONGEST = 400

/** The greatest weight that a sentence may ask for. */
const HEAVIEST = 1000

/** `(e)` and its like are rests of a cell, not how much a rule weighs. */
const RESTS = ['e', 'a', 'and', 'trip', 'let']

/**
 * Reads a rule's sentence: `Bars 5–8: no leap over a fourth (must)`.
 *
 * In front may stand the bars that it binds, `Bar 5:`, `Bars 1, 5–8:`, `Section B:` or `[B]:`, and in which
 * choruses, `Chorus 2:`, `Last chorus, bar 12:`; behind it what it weighs: `(must)`,
 * which is meant where nothing stands there, `(weight 6)`, `(strongly)`, `(gently)`, `(off)`. Letters may be small or capital.
 *
 * @param instrument  whose notes and frets count; absent: any
 * @returns  the rule, or the first thing that is wrong, with its place and the nearest sentence; never throws
 */
export function readRule(text: string, instrument?: Instrument): RuleReading {
  if (text.length > LONGEST) {
    const message = `A rule has at most ${LONGEST} characters, and this one has ${text.length}.`
    return refused('rule/unreadable', { from: 0, to: text.length }, message, undefined)
  }
  const parts = partsOf(text)
  const { statement } = parts
  const frame = (inside: string): string => frameOf(parts, inside)

  // What stands in front, and what stands behind.
  const where = parts.where && readWhere(parts.where)
  const words = wordsOf(statement.text, statement.span.from)
  const reading = readStatement(words, instrument)
  const stated = reading.ok ? say(reading.rule.phrasings, reading.value) : undefined
  if (where && !where.ok) {
    const fix = stated && where.instead ? `${where.instead}${stated}${strengthText(parts)}` : undefined
    return refused(where.code, where.span, where.message, fix)
  }
  if (parts.colonAt !== undefined) {
    const message =
      'Behind the bars that a rule binds stands a colon, as in "Bars 5–8: no leap over a fourth". The rule binds nothing.'
    const near = stated ?? mended(words)
    return refused('rule/unreadable', { from: parts.colonAt, to: parts.colonAt }, message, near && frame(near))
  }
  const strength = parts.strength ? readStrength(parts.strength) : ({ ok: true, value: 'must' } as const)
  if (!strength.ok) {
    const fix = stated && `${whereText(parts)}${stated} (${strength.instead})`
    return refused(strength.code, strength.span, strength.message, fix)
  }

  // The statement itself.
  if (!reading.ok) {
    if (reading.fault)
      return refused('rule/out-of-range', reading.span, reading.message, reading.instead && frame(reading.instead))
    const near = mended(words)
    return refused('rule/unreadable', reading.span, reading.message, near && frame(near))
  }
  return {
    ok: true,
    stated: { rule: reading.rule, value: reading.value, where: where?.value, strength: strength.value },
    spanOf: {
      where: parts.where?.span ?? statement.span,
      statement: { from: words[0]!.from, to: words.at(-1)!.to },
    },
  }
}

/**
 * A rule as a sentence, which reads back as the same rule: `Bars 5–8: no leap over a fourth (must)`.
 */
export function formatRule({ rule, value, where, strength }: Stated): string {
  return `${formatWhere(where)}${say(rule.phrasings, value)} (${formatStrength(strength)})`
}

export function formatStrength(strength: Strength): string {
  return typeof strength === 'number' ? `weight ${strength}` : strength
}

function refused(code: RuleProblem['code'], span: Span, message: string, fix: string | undefined): RuleReading {
  return { ok: false, problem: { code, span, message, fix } }
}

// A sentence in three parts.

interface Parts {
  readonly where: Part | undefined
  /** where a colon ought to stand behind it */
  readonly colonAt: number | undefined
  readonly statement: Part
  /** what stands in the brackets */
  readonly strength: Part | undefined
}

function partsOf(text: string): Parts {
  const front = FRONT.exec(text)
  const open = front ? undefined : FRONT_WITHOUT_COLON.exec(text)
  const named = front?.[1] ?? open?.[1]
  const at = (front ?? open)?.[0].length ?? 0
  const behind = /\(\s*([a-z][^()]*?)\s*\)?\s*$/i.exec(text.slice(at))
  const weighs = behind && !RESTS.includes(behind[1]!.toLowerCase()) ? behind : undefined
  const end = weighs ? at + weighs.index : text.length
  const part = (from: number, to: number): Part => ({ text: text.slice(from, to), span: { from, to } })
  const whereFrom = named === undefined ? 0 : text.indexOf(named)
  const inside = weighs ? at + weighs.index + weighs[0].indexOf(weighs[1]!) : 0
  return {
    where: named === undefined ? undefined : part(whereFrom, whereFrom + named.trimEnd().length),
    colonAt: open ? at : undefined,
    statement: part(at, end),
    strength: weighs ? part(inside, inside + weighs[1]!.length) : undefined,
  }
}

/** A mended statement between what stands around it, as that is printed. */
function frameOf(parts: Parts, statement: string): string {
  return `${whereText(parts)}${statement}${strengthText(parts)}`
}

function whereText({ where }: Parts): string {
  const reading = where && readWhere(where)
  return reading?.ok ? formatWhere(reading.value) : ''
}

function strengthText({ strength }: Parts): string {
  const reading = strength && readStrength(strength)
  return ` (${reading?.ok ? formatStrength(reading.value) : 'must'})`
}

function readStrength({ text, span }: Part): PartReading<Strength> {
  const word = text.toLowerCase().replace(/\s+/g, ' ')
  if (word === 'must' || word === 'strongly' || word === 'gently' || word === 'off') return { ok: true, value: word }
  const match = /^(?:weight|weighs) ?(-?\d+(?:\.\d+)?)$/.exec(word)
  const weight = Number(match?.[1])
  if (Number.isInteger(weight) && weight > 0 && weight <= HEAVIEST) return { ok: true, value: weight }
  const near = Math.min(HEAVIEST, Math.max(1, Math.round(weight)))
  return {
    ok: false,
    code: match ? 'rule/out-of-range' : 'rule/unreadable',
    span,
    message: match
      ? `A weight is a whole number of points from 1 to ${HEAVIEST}, not ${match[1]}. The rule binds nothing.`
      : `"${text}" is not how much a rule weighs: expected (must), (weight 6), (strongly), (gently) or (off). The rule binds nothing.`,
    instead: match ? `weight ${near}` : 'must',
  }
}

// The statement.

type StatementReading =
  | { readonly ok: true; readonly rule: Rule<unknown>; readonly value: unknown }
  | {
      readonly ok: false
      readonly fault: boolean
      readonly span: Span
      readonly message: string
      readonly instead?: string | undefined
    }

/** A phrasing with all its blanks read, and the words that each was read from. */
interface Match {
  readonly rule: Rule<unknown>
  readonly way: Phrasing<unknown>
  readonly parts: readonly unknown[]
  readonly spans: readonly Span[]
}

function readStatement(words: readonly Word[], instrument: Instrument | undefined): StatementReading {
  const farthest = new Farthest()
  let faulty: StatementReading | undefined
  for (const rule of RULES) {
    for (const way of rule.phrasings) {
      for (const match of matchesOf(rule, way, words, farthest)) {
        const fault = faultOf(match, instrument)
        if (!fault) return { ok: true, rule, value: way.valueOf(match.parts) }
        faulty ??= { ok: false, fault: true, ...fault }
      }
    }
  }
  if (faulty) return faulty
  const word = words[farthest.at]
  const last = words.at(-1)?.to ?? 0
  const span = word ? { from: word.from, to: word.to } : { from: last, to: last }
  const found = word
    ? `"${word.text}" is not understood here`
    : words.length === 0
      ? 'There is no rule'
      : 'The rule breaks off'
  return { ok: false, fault: false, span, message: `${found}: expected ${farthest.expected}. The rule binds nothing.` }
}

/** How far any phrasing could be read, and what would have gone on. */
class Farthest {
  at = 0
  readonly #expected = new Set<string>()

  note(at: number, expected: string): void {
    if (at < this.at) return
    if (at > this.at) this.#expected.clear()
    this.at = at
    this.#expected.add(expected)
  }

  /** The likeliest few. */
  get expected(): string {
    const some = [...this.#expected]
    if (some.length > 6) return 'one of the sentences that the list of rules shows'
    return some.join(', or ')
  }
}

function matchesOf(
  rule: Rule<unknown>,
  way: Phrasing<unknown>,
  words: readonly Word[],
  farthest: Farthest,
): readonly Match[] {
  const elements = elementsOf(way)
  const matches: Match[] = []
  const go = (element: number, at: number, parts: readonly unknown[], spans: readonly Span[]): void => {
    const next = elements[element]
    if (!next) {
      if (at === words.length) matches.push({ rule, way, parts, spans })
      else farthest.note(at, 'the end of the rule')
      return
    }
    if (next.kind === 'word') {
      const said = words[at]?.text.toLowerCase()
      if (said !== undefined && next.spellings.includes(said)) go(element + 1, at + 1, parts, spans)
      else if (!next.optional) farthest.note(at, `"${next.spellings[0]}"`)
      if (next.optional) go(element + 1, at, parts, spans)
      return
    }
    const readings = next.blank.read(words, at)
    if (readings.length === 0) farthest.note(behindArticle(words, at), next.blank.expected)
    for (const { value, next: after } of readings) {
      const span = { from: words[at]!.from, to: words[after - 1]!.to }
      go(element + 1, after, [...parts, value], [...spans, span])
    }
  }
  go(0, 0, [], [])
  return matches
}

/** `a` and `the` say nothing by themselves: what is not understood stands behind them. */
function behindArticle(words: readonly Word[], at: number): number {
  return words[at + 1] && /^(an?|the)$/i.test(words[at]!.text) ? at + 1 : at
}

/** What is wrong with what was read. */
function faultOf(
  { rule, way, parts, spans }: Match,
  instrument: Instrument | undefined,
): { readonly span: Span; readonly message: string; readonly instead: string | undefined } | undefined {
  const blanks = way.items.filter((item) => typeof item !== 'string')
  const sayOf = (index: number, fault: Fault<unknown>, instead: readonly unknown[] | undefined) => {
    const said = blanks[index]!.print(parts[index])
    return {
      span: spans[index]!,
      message: `"${said}" ${fault.message}. The rule binds nothing.`,
      instead: instead && say(rule.phrasings, way.valueOf(instead)),
    }
  }
  for (const [index, blank] of blanks.entries()) {
    const fault = blank.fault?.(parts[index], instrument)
    if (!fault) continue
    const instead =
      fault.instead === undefined ? undefined : parts.map((part, i) => (i === index ? fault.instead : part))
    return sayOf(index, fault, instead)
  }
  const together = blanks.length > 0 ? way.fault(parts) : undefined
  return together && sayOf(blanks.length - 1, together, together.instead)
}
