import type { WrittenBar } from '../chart/chart.ts'
import type { Diagnoses } from '../chart/diagnostic.ts'
import type { Form } from '../chart/form.ts'
import { nearest } from '../chart/nearest.ts'
import type { Span } from '../chart/span.ts'
import { type Instrument, lowestPitch } from '../music/instrument.ts'
import type { Key } from '../music/key.ts'
import { barTicks, formatMetre } from '../music/metre.ts'
import type { Tick } from '../music/tick.ts'
import type { Slot } from '../rhythm/slot.ts'
import { type Ending, lastBarOf, metresOf } from './endings.ts'
import {
  type BarRange,
  binds,
  enforce,
  hasNoWeight,
  isAboutWholeLine,
  type RuleInForce,
  type RuleTest,
} from './rule.ts'
import { formatRule, type RuleReading, readRule, type Stated } from './rule-sentence.ts'
import { formatWhere, type Where } from './rule-where.ts'
import { CONTOUR_FOLLOWED, type Contour } from './rules/contour-followed.ts'
import { ENDS_WITH, lastBarTest } from './rules/ends-with.ts'
import { OPENS_WITH } from './rules/opens-with.ts'
import { PEDAL_HELD, type Pedal, pedalNote } from './rules/pedal-held.ts'
import { phrasesOf } from './standing.ts'

/** What rules are put in force over. */
export interface RuleGround {
  /** as written: they know their sections */
  readonly written: readonly WrittenBar[]
  /** as played, all choruses */
  readonly form: Form
  /** played bars of one chorus, without the pick-up */
  readonly chorusBars: number
  readonly key: Key | undefined
  /** played round and round: it has no end */
  readonly loop: boolean
  readonly instrument: Instrument
}

/** A sentence, and where it stands: in the text, or, without a span, in what is asked beside it. */
export interface AskedRule {
  readonly value: string
  readonly span: Span | undefined
}

/** So many rules may be in force. Our choice: it keeps the worst search within some seconds. */
export const MOST_RULES = 100

/**
 * Rules that count patterns multiply what has to be remembered: each count may be any number up to its own. So much is kept at once, by
 * our choice: some seconds of search.
 */
const MOST_COUNTS = 48

/** What can be said once only: the first counts. */
const ONLY_ONE: readonly string[] = ['repeats', 'motif']

/** What a rule cannot bind today it may tomorrow: the text is right. */
const QUIET: readonly string[] = ['rule/no-such-chorus', 'rule/no-end']

const START: Span = { from: 0, to: 0 }

/** How many times its usual weight a rule weighs. */
const TIMES = { strongly: 3, gently: 1 }

/**
 * The rules that sentences say, over a form, in their order. A sentence that cannot be read, or that names bars or a section which
 * are not there, is diagnosed and binds nothing.
 */
export function rulesInForce(
  asked: readonly AskedRule[],
  ground: RuleGround,
  diagnoses: Diagnoses,
): readonly RuleInForce[] {
  const rules: RuleInForce[] = []
  let counts = 1
  for (const sentence of asked) {
    const say = sayerOf(sentence, diagnoses)
    const reading = readRule(sentence.value, ground.instrument)
    if (!reading.ok) {
      const { code, span, message, fix } = reading.problem
      say(code, span, message, fix)
      continue
    }
    if (reading.stated.strength === 'off') continue
    const rule = inForce(reading, ground, say)
    if (!rule) continue
    const { looksAt } = rule.test
    if (ONLY_ONE.includes(looksAt) && rules.some(({ test }) => test.looksAt === looksAt)) {
      const { statement } = reading.spanOf
      say('rule/said-already', statement, 'An earlier rule says this already, and counts. This one binds nothing.')
      continue
    }
    const counted = counts * countsOf(rule.test)
    if (counted > MOST_COUNTS) {
      const message =
        'Rules that count patterns ask for more counting at once than is possible. This one binds nothing.'
      say('rule/too-many', reading.spanOf.statement, message)
      continue
    }
    counts = counted
    if (rules.length === MOST_RULES) {
      const whole = { from: 0, to: sentence.value.length }
      say('rule/too-many', whole, `At most ${MOST_RULES} rules are in force at once. This one binds nothing.`)
      break
    }
    rules.push(rule)
  }
  return exceptApart(rules, ground.form)
}

/** Bars of rest and an ending have a rhythm of their own: rules about rhythm do not bind them. */
function exceptApart(rules: readonly RuleInForce[], form: Form): readonly RuleInForce[] {
  const apart = rules.filter(({ test }) => test.looksAt === 'kept-bar' && test.apart)
  if (apart.length === 0) return rules
  const isFree = (index: number) => !apart.some((rule) => binds(rule, index))
  const except = (rule: RuleInForce): RuleInForce => {
    const all = rule.bars ?? [{ from: 0, to: form.bars.length }]
    const { milder } = rule
    const rows = milder && (() => milder().map((row) => row.map(except)))
    return {
      ...rule,
      bars: all.flatMap(({ from, to }) => rangesWhere(from, to, isFree)),
      ...(rows ? { milder: rows } : {}),
    }
  }
  return rules.map((rule) => (looksAtCell(rule.test) ? except(rule) : rule))
}

function looksAtCell(test: RuleTest): boolean {
  return test.looksAt === 'cell' || (test.looksAt === 'several' && test.tests.some(looksAtCell))
}

/** How many counts a rule tells apart. */
function countsOf(test: RuleTest): number {
  return test.looksAt === 'pattern' ? (test.atMost ?? test.atLeast) + 1 : 1
}

type SpanOf = Extract<RuleReading, { readonly ok: true }>['spanOf']

type Say = (code: string, span: Span, message: string, fix?: string) => void

function sayerOf({ value, span }: AskedRule, diagnoses: Diagnoses): Say {
  return (code, part, message, fix) => {
    const fixes = fix === undefined ? [] : [fix]
    const at = span ? { from: span.from + part.from, to: span.from + part.to } : START
    const said = span ? message : `In the rule "${shortened(value)}": ${message}`
    if (QUIET.includes(code)) diagnoses.hint(code, at, said)
    else diagnoses.warning(code, at, said, fixes, span)
  }
}

function shortened(text: string): string {
  return text.length > 80 ? `${text.slice(0, 80)}…` : text
}

function inForce(
  { stated, spanOf }: Extract<RuleReading, { readonly ok: true }>,
  ground: RuleGround,
  say: Say,
): RuleInForce | undefined {
  const { rule, value, where, strength } = stated
  const test = rule.test(value)
  if (isAboutWholeLine(test)) {
    if (where || strength !== 'must') {
      const message = 'This rule is about the whole line, and is kept or is not: it is read without bars and as a must.'
      const span = where ? spanOf.where : spanOf.statement
      say('rule/whole-line', span, message, formatRule({ ...stated, where: undefined, strength: 'must' }))
    }
    return enforce(rule, value)
  }
  let bars =
    where && barsOf(where, ground, (code, message, fix) => say(code, spanOf.where, message, fixed(stated, fix)))
  if (where && !bars) return undefined

  if (rule.id === OPENS_WITH.id) bars ??= openingBars(ground)
  if (rule.id === ENDS_WITH.id) return endingInForce(stated, spanOf, bars, ground, say)

  // Some rules are about bars of a metre; a bar is kept in its own only, and where chords sound.
  const isKept = test.looksAt === 'kept-bar' && test.pitches.length > 0
  const metres = isKept ? [formatMetre(test.cell)] : rule.metres
  if (metres) {
    const fits = (index: number) => {
      const bar = ground.form.bars[index]!
      const isSilent = isKept && bar.changes.some(({ chord }) => !chord)
      const isWhole = isKept || bar.ticks === barTicks(bar.metre)
      return metres.includes(formatMetre(bar.metre)) && isWhole && !isSilent
    }
    const all = bars ?? [{ from: 0, to: ground.form.bars.length }]
    const fitting = all.flatMap(({ from, to }) => rangesWhere(from, to, fits))
    if (fitting.length === 0) {
      const message = `This rhythm is a bar of ${metres.join(' or ')}, and no bar that the rule names is one with a chord. The rule binds nothing.`
      say('rule/other-metre', spanOf.statement, message)
      return undefined
    }
    bars = fitting
  }

  // One that looks at the first or the last note has to bind its bar.
  const end = rule.id === 'first-note-on' ? 0 : rule.id === 'last-note-on' ? ground.form.bars.length - 1 : undefined
  if (end !== undefined && bars && !bars.some(({ from, to }) => from <= end && end < to)) {
    const which = end === 0 ? 'first' : 'last'
    const message = `The ${which} note of the line stands in bar ${ground.form.bars[end]!.number}. The rule binds nothing.`
    say('rule/binds-nothing', spanOf.where, message, formatRule({ ...stated, where: undefined }))
    return undefined
  }

  if (hasNoWeight(test)) sayNoWeight(stated, spanOf, say)
  const options = {
    strength: hasNoWeight(test) ? 'must' : strengthOf(stated),
    where: formatWhere(where),
    ...(bars ? { bars } : {}),
  }
  if (rule.id === CONTOUR_FOLLOWED.id && (value as Contour).over !== 'phrase') {
    const { over } = value as Contour
    if (over === 'choruses' && timesOf(ground.form) === 1) {
      say('rule/no-such-chorus', spanOf.statement, 'The form is played once, so nothing goes from chorus to chorus.')
      return undefined
    }
    const all = bars ?? [{ from: 0, to: ground.form.bars.length }]
    return overTime(enforce(rule, value, { ...options, bars: all }), shareOver(over, all, ground.form))
  }
  const inForce = enforce(rule, value, options)
  const on = rule.id === PEDAL_HELD.id ? (value as Pedal).on : value === 'pedal' ? 'fifth' : undefined
  if (typeof on !== 'string') return inForce

  // A pedal on a degree of the key.
  if (!ground.key) {
    const message =
      'This chart names no key, so nobody knows the note: expected a row "key: F", or a note, as in "pedal on C". The rule binds nothing.'
    say('rule/no-key', spanOf.statement, message)
    return undefined
  }
  const octaves = rule.id === PEDAL_HELD.id && (value as Pedal).octaves
  const { id, sentence } = inForce
  return { ...enforce(PEDAL_HELD, { on: pedalNote(on, ground.key), octaves }, options), id, sentence }
}

/** The bars of a section called an introduction, where the first is one, else those of the first phrase. */
function openingBars({ written, form }: RuleGround): readonly BarRange[] {
  const names = sectionNames(written)
  const isIntro = (index: number) => /^intro/.test(names[form.bars[index]!.writtenIndex] ?? '')
  const pickup = form.bars[0]?.number === 0 ? 1 : 0
  const named = rangesWhere(0, form.bars.length, (index) => form.bars[index]!.chorus === 0 && isIntro(index))
  if (named[0] && named[0].from <= pickup) return named.slice(0, 1)
  return [{ from: 0, to: phrasesOf(form.bars)[pickup]?.to ?? form.bars.length }]
}

/** An ending over the chord of the last bar. */
function endingInForce(
  stated: Stated,
  spanOf: SpanOf,
  bars: readonly BarRange[] | undefined,
  { form, instrument, loop }: RuleGround,
  say: Say,
): RuleInForce | undefined {
  const bar = form.bars.at(-1)!
  if (bars && !binds({ bars }, bar.index)) {
    const message = `The last bar is bar ${bar.number}. The rule binds nothing.`
    say('rule/binds-nothing', spanOf.where, message, formatRule({ ...stated, where: undefined }))
    return undefined
  }
  if (loop) {
    say('rule/no-end', spanOf.statement, 'A loop has no end, so this rule waits until the form is played once.')
    return undefined
  }
  const ending = stated.value as Ending
  const last = lastBarOf(ending, bar, lowestPitch(instrument))
  if (!last) {
    const message = bar.changes.every(({ chord }) => chord)
      ? `This ending is a bar of ${metresOf(ending).join(' or ')}, and the last bar is one of ${formatMetre(bar.metre)}. The rule binds nothing.`
      : 'No chord sounds in all of the last bar. The rule binds nothing.'
    say('rule/other-metre', spanOf.statement, message)
    return undefined
  }
  sayNoWeight(stated, spanOf, say)
  const options = { where: formatWhere(stated.where), bars: [{ from: bar.index, to: bar.index + 1 }] }
  return { ...enforce(ENDS_WITH, ending, options), test: lastBarTest(last) }
}

function sayNoWeight(stated: Stated, { statement }: SpanOf, say: Say): void {
  if (stated.strength === 'must') return
  const message = 'This is kept or is not: it is read as a must.'
  say('rule/no-weight', statement, message, formatRule({ ...stated, strength: 'must' }))
}

/** A must, or points for each breach. */
function strengthOf({ rule, strength }: Stated): 'must' | number {
  if (strength === 'must') return strength
  if (strength === 'strongly' || strength === 'gently') return TIMES[strength] * rule.defaultWeight
  return typeof strength === 'number' ? strength : rule.defaultWeight
}

/** The sentence with other bars in front. */
function fixed(stated: Stated, where: Where | undefined): string | undefined {
  return where && formatRule({ ...stated, where })
}

/** Played bars that are named, in every chorus or in some; `undefined` if one of them is not there. */
function barsOf(
  where: Where,
  { written, form, chorusBars }: RuleGround,
  refuse: (code: string, message: string, instead?: Where) => void,
): readonly BarRange[] | undefined {
  const { choruses } = where
  const times = timesOf(form)
  if (choruses && choruses !== 'last' && choruses.last > times) {
    const often = times === 1 ? 'once' : `${times} times`
    const message = `The form is played ${often}, so there is no chorus ${Math.max(choruses.first, times + 1)}. The rule binds nothing.`
    refuse('rule/no-such-chorus', message)
    return undefined
  }
  const [first, last] = !choruses
    ? [0, times - 1]
    : choruses === 'last'
      ? [times - 1, times - 1]
      : [choruses.first - 1, choruses.last - 1]
  const inChorus = (index: number): boolean => first <= form.bars[index]!.chorus && form.bars[index]!.chorus <= last
  const pickup = form.bars[0]?.number === 0 ? 1 : 0
  if (where.kind === 'whole') return rangesWhere(0, form.bars.length, inChorus)
  if (where.kind === 'section') {
    const names = sectionNames(written)
    const plain = plainName(where.name)
    const bound = (index: number) => names[form.bars[index]!.writtenIndex] === plain && inChorus(index)
    const bars = rangesWhere(0, form.bars.length, bound)
    if (bars.length > 0) return bars
    const sections = [...new Set(written.flatMap(({ section }) => (section ? [section.value] : [])))]
    const near = nearest(where.name, sections)
    const list = sections.length > 0 ? `the sections are ${shortened(sections.join(', '))}` : 'a section is written [A]'
    const message = `No section "${shortened(where.name)}" is played: ${list}. The rule binds nothing.`
    refuse('rule/no-such-section', message, near === undefined ? undefined : { ...where, name: near })
    return undefined
  }
  const lowest = 1 - pickup
  const outside = where.ranges.find(({ first, last }) => first < lowest || last > chorusBars)
  if (outside) {
    const number = outside.first < lowest ? outside.first : Math.max(outside.first, chorusBars + 1)
    const inside = where.ranges
      .map(({ first, last }) => ({ first: Math.max(first, lowest), last: Math.min(last, chorusBars) }))
      .filter(({ first, last }) => first <= last)
    const message = `There is no bar ${number}: played once, this chart has bars ${lowest} to ${chorusBars}. The rule binds nothing.`
    refuse('rule/no-such-bar', message, inside.length > 0 ? { ...where, ranges: inside } : undefined)
    return undefined
  }
  const named = (number: number) => where.ranges.some(({ first, last }) => first <= number && number <= last)
  const bound = (index: number) => inChorus(index) && named(index < pickup ? 0 : ((index - pickup) % chorusBars) + 1)
  return rangesWhere(0, form.bars.length, bound)
}

/** The name of the section that each written bar belongs to. */
function sectionNames(written: readonly WrittenBar[]): readonly (string | undefined)[] {
  let name: string | undefined
  return written.map((bar) => {
    if (bar.section) name = plainName(bar.section.value)
    return name
  })
}

/** Names are compared without capitals, and a blank is a blank. */
function plainName(name: string): string {
  return name.toLowerCase().trim().split(/\s+/).join(' ')
}

/** The bars that pass, as ranges. */
function rangesWhere(from: number, to: number, passes: (index: number) => boolean): readonly BarRange[] {
  const ranges: { from: number; to: number }[] = []
  for (let index = from; index < to; index++) {
    if (!passes(index)) continue
    const before = ranges.at(-1)
    if (before?.to === index) before.to++
    else ranges.push({ from: index, to: index + 1 })
  }
  return ranges
}

/** How often a form is played. */
function timesOf(form: Form): number {
  return form.bars.at(-1)!.chorus + 1
}

type ShareAt = (slot: Slot) => number | undefined

/** How much of its time is over at a slot, 0 to 1: of the stretch of bars, of the section, or of the choruses, level in each. */
function shareOver(over: Contour['over'], bars: readonly BarRange[], form: Form): ShareAt {
  if (over === 'choruses') return ({ barIndex }) => form.bars[barIndex]!.chorus / (timesOf(form) - 1)
  const starts = form.bars.filter(({ index, section }) => index === 0 || section !== undefined)
  const sections = starts.map(({ index }, at) => ({ from: index, to: starts[at + 1]?.index ?? form.bars.length }))
  const startOf = (index: number): Tick => form.bars[index]?.startTick ?? form.ticks
  return ({ barIndex, startTick }) => {
    const within = (over === 'section' ? sections : bars).find((one) => binds({ bars: [one] }, barIndex))
    if (!within) return undefined
    const { from, to } = within
    return (startTick - startOf(from)) / (startOf(to) - startOf(from))
  }
}

/** A contour over another time than its phrases. */
function overTime(rule: RuleInForce, shareAt: ShareAt): RuleInForce {
  const shared = (test: RuleTest): RuleTest => {
    if (test.looksAt !== 'note') return test
    return {
      looksAt: 'note',
      // A bar that is played again may lie elsewhere: there it is not bound.
      allows: (note) => {
        const phraseShare = shareAt(note.slot)
        return phraseShare === undefined || test.allows({ ...note, phraseShare })
      },
    }
  }
  const { milder } = rule
  const rows = milder && (() => milder().map((row) => row.map((one) => ({ ...one, test: shared(one.test) }))))
  return { ...rule, test: shared(rule.test), ...(rows ? { milder: rows } : {}) }
}
