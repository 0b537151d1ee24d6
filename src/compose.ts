import { arrange } from './band/arrange.ts'
import { AS_LOOP, AS_PLAYED, perform } from './band/perform.ts'
import type { Chart, VocabularyWord } from './chart/chart.ts'
import { choruses } from './chart/choruses.ts'
import { Diagnoses, type Diagnostic } from './chart/diagnostic.ts'
import { type Form, unfold } from './chart/form.ts'
import { nearest } from './chart/nearest.ts'
import { parseChart } from './chart/parse.ts'
import type { Feel } from './feels/feel.ts'
import { FEEL_BY_METRE, FEELS, feelOf, playedAs } from './feels/feels.ts'
import { type Alternative, alternativesOf } from './line/alternatives.ts'
import { building } from './line/build.ts'
import { withArc } from './line/chorus-arc.ts'
import type { Clash } from './line/clash.ts'
import type { Line } from './line/line.ts'
import { type BuildRequest, isLooped } from './line/line-search.ts'
import { pedalledForm } from './line/pedalled-form.ts'
import type { RuleInForce } from './line/rule.ts'
import { pricesOf, type RulePrice } from './line/rule-price.ts'
import { type AskedRule, type RuleGround, rulesInForce } from './line/rules-in-force.ts'
import type { KnownWalks } from './line/walk/known.ts'
import { type Arrangement, PARTS, type PartName, type WrittenNote, type WrittenPart } from './music/arrangement.ts'
import type { Instrument } from './music/instrument.ts'
import { INSTRUMENTS, instrumentOf } from './music/instruments.ts'
import { formatMetre, type Metre, metreOf } from './music/metre.ts'
import type { Performance } from './music/performance.ts'
import type { Tick } from './music/tick.ts'
import { type Settings, SURPRISES } from './settings.ts'
import { type Vocabulary, vocabularyOf } from './vocabulary.ts'

// START HERE. From text and settings to everything a player takes away, in six steps:
//   text -> Chart -> Form -> Line -> Arrangement -> Performance
// `read` is the first two, `compose` adds the third, `arrangementOf` and `performanceOf` the last two.

/** A chart read and unfolded, with what it is played on and how. */
export interface Reading {
  readonly chart: Chart
  /** as played, all choruses, with the basses that rules put under chords */
  readonly form: Form
  /** the same without them */
  readonly plainForm: Form
  /** in the order of the text */
  readonly diagnostics: readonly Diagnostic[]
  readonly feel: Feel
  /** of the beat that the chart's metre counts */
  readonly tempoBpm: number
  readonly instrument: Instrument
  /** what a line may be made of; `undefined` without a bar */
  readonly vocabulary: Vocabulary | undefined
  /** the rules that bind it: the text's, then those of the settings */
  readonly rules: readonly RuleInForce[]
}

/** Lines over a chart. */
export interface Composition extends Reading {
  /** cheapest first; none where nothing can be played, and `clash` or a diagnostic says why */
  readonly lines: readonly Line[]
  /** rules that leave no line */
  readonly clash: Clash | undefined
  readonly settings: Settings
}

/** Steps 1 and 2: what the text says, and what is wrong with it. Any text gives a reading. */
export function read(text: string, settings: Settings = {}): Reading {
  return readWith(text, settings, new Diagnoses())
}

/** Steps 1 to 3: the best lines over a chart. Any text gives a composition; a wrong one gives diagnostics and perhaps no line. */
export function compose(text: string, settings: Settings = {}): Composition {
  const steps = composing(text, settings)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

/**
 * The same a step at a time: yields the composition with the lines known so far, none at first, so that the caller may show them,
 * take breath, or give the rest up. The first line may not yet be the best there is: `provenWithin` says by how much.
 *
 * @param known  what composing left behind before: with it only what an edit touches is worked out again
 */
export function* composing(
  text: string,
  asked: Settings = {},
  known?: KnownWalks,
): Generator<Composition, Composition> {
  const diagnoses = new Diagnoses()
  const reading = readWith(text, asked, diagnoses)
  const request = buildRequestOf(reading, asked)
  // A rule may close the loop as well, and then it is played so.
  const settings = request && isLooped(request, request.rules) ? { ...asked, loop: true } : asked
  if (!request || reading.diagnostics.some((diagnostic) => diagnostic.severity === 'error')) {
    return { ...reading, lines: [], clash: undefined, settings }
  }
  yield { ...reading, lines: [], clash: undefined, settings }
  const { variations } = request
  const steps = building(known ? { ...request, known } : request)
  let step = steps.next()
  while (!step.done) {
    yield { ...reading, lines: step.value, clash: undefined, settings }
    step = steps.next()
  }
  const result = step.value
  if (result.ok && result.fewer) {
    const found = `${result.lines.length} of ${variations} lines`
    const why = result.fewer === 'none-left' ? 'no more differ that much' : 'the search for more was given up'
    diagnoses.hint('line/fewer', START, `Only ${found} differ by that share of slots: ${why}.`)
  }
  if (result.ok && result.repeatsDiffer) {
    const message = 'No line was found that stays the same each time its bars are played: it is a new one each time.'
    diagnoses.hint('line/repeats-differ', START, message)
  }
  return {
    ...reading,
    diagnostics: inOrder(reading.diagnostics, diagnoses.list),
    lines: result.ok ? result.lines : [],
    clash: result.ok ? undefined : result.clash,
    settings,
  }
}

/** What lines are built from; `undefined` without a bar. */
function buildRequestOf(reading: Reading, settings: Settings): BuildRequest | undefined {
  const { chart, plainForm: form, feel, tempoBpm, instrument, vocabulary, rules } = reading
  if (!vocabulary) return undefined
  return {
    form,
    key: chart.key,
    instrument,
    metre: groupedAs(feel, form),
    tempo: { bpm: tempoBpm, usualBpm: feel.tempo.usual },
    way:
      feel.line.kind === 'walk'
        ? {
            kind: 'walk',
            table: feel.line.table,
            cellsOf: vocabulary.cellsOf,
            cellsChosen: vocabulary.cellsChosen,
            patterns: vocabulary.patternsChosen ? vocabulary.patterns.map(({ pattern }) => pattern) : undefined,
          }
        : {
            kind: 'groove',
            table: feel.line.table,
            cells: vocabulary.cells,
            patterns: vocabulary.patterns,
            register: registerOf(feel, instrument),
          },
    rules,
    loop: settings.loop === true,
    variations: settings.variations ?? 1,
    difference: settings.difference ?? 0.25,
    ...(settings.surprise ? { surprise: { halfPoints: SURPRISES[settings.surprise], seed: settings.seed ?? 1 } } : {}),
  }
}

/** What each rule in force costs the best line, in their order; none where no line is. */
export function rulePricesOf(composition: Composition): readonly RulePrice[] {
  const request = buildRequestOf(composition, composition.settings)
  const [best] = composition.lines
  return request && best ? pricesOf(request, best) : []
}

/** What else each note of the lines could be, by line and note, and what that would cost; `undefined` where nobody knows. */
export function noteAlternativesOf(
  composition: Composition,
): readonly (readonly (readonly Alternative[])[])[] | undefined {
  const request = buildRequestOf(composition, composition.settings)
  return request && alternativesOf(request, composition.lines)
}

/** Step 4: the band around a line, as written notes. */
export function arrangementOf(
  composition: Composition,
  line: Line,
  parts: readonly PartName[] = PARTS,
  loop: boolean = composition.settings.loop ?? false,
): Arrangement {
  const { chart, form, feel, tempoBpm } = composition
  return arrange({
    title: chart.title ?? 'Untitled',
    form,
    line,
    metre: chart.metre,
    tempoBpm,
    key: chart.key,
    band: feel.band,
    bandOfMetre: (metre) => (metre === feel.metre ? feel : FEEL_BY_METRE.get(metre))?.band,
    parts,
    loop,
  })
}

/** Steps 4 and 5: the same as played: swung and placed for a player, loop-true on its own grid for a sequencer. */
export function performanceOf(
  composition: Composition,
  line: Line,
  options: {
    readonly straight?: boolean
    readonly for?: 'player' | 'sequencer'
    readonly parts?: readonly PartName[]
  } = {},
): Performance {
  const { feel } = composition
  // A sequencer plays the file round and round, whether or not the line was built for it.
  const looped = options.for === 'sequencer'
  const arrangement = arrangementOf(composition, line, options.parts, looped || composition.settings.loop === true)
  return perform(
    looped ? arrangement : withDownbeats(arrangement),
    { swing: feel.swing, touch: feel.touch },
    { ...(looped ? AS_LOOP : AS_PLAYED), straight: options.straight ?? false },
  )
}

/**
 * Steps 4 and 5 for one who hears it round and round: the first time, which strikes at once what the last note is tied over into,
 * and every time after that, when it is not struck again. Where nothing is tied over the end, both are the same.
 */
export function roundsOf(
  composition: Composition,
  line: Line,
): { readonly first: Performance; readonly again: Performance } {
  const { feel } = composition
  const arrangement = arrangementOf(composition, line)
  const { parts, ticks } = arrangement
  const manner = { swing: feel.swing, touch: feel.touch }
  const first = perform(withDownbeats(arrangement), manner, AS_PLAYED)
  const tiesOver = parts.some(({ notes }) => notes.some((note) => note.startTick + note.ticks > ticks))
  return { first, again: tiesOver ? perform(arrangement, manner, { ...AS_PLAYED, loopTrue: true }) : first }
}

/** What is heard from the beginning: there nothing is tied over from the end yet. */
function withDownbeats(arrangement: Arrangement): Arrangement {
  return { ...arrangement, parts: arrangement.parts.map((part) => withDownbeat(part, arrangement.ticks)) }
}

/** A part that strikes at the start, as long as it is held there, what is tied over the end; unless it strikes there anyway. */
function withDownbeat(part: WrittenPart, end: Tick): WrittenPart {
  const [first] = part.notes
  if (!first || first.startTick === 0) return part
  const held = part.notes.filter((note) => note.startTick + note.ticks > end)
  const downbeat = held.map((note): WrittenNote => {
    const ticks = Math.min(note.startTick + note.ticks - end, first.startTick)
    return { ...note, startTick: 0, ticks, accent: false, length: undefined, tied: false }
  })
  return { ...part, notes: [...downbeat, ...part.notes] }
}

const START = { from: 0, to: 0 }

function readWith(text: string, settings: Settings, diagnoses: Diagnoses): Reading {
  const parsed = parseChart(text)
  const { chart } = parsed
  const unfolded = unfold(chart)
  const form = choruses(unfolded.form, settings.choruses ?? 1)
  const feel = feelFor(chart, form, settings, diagnoses)
  const bass = settings.bass ?? chart.bass?.value
  const instrument = bass === undefined ? undefined : instrumentOf(bass)
  if (bass !== undefined && !instrument) {
    const near = nearest(
      bass,
      INSTRUMENTS.map(({ id }) => id),
    )
    const message = `There is no bass "${bass}". The ${INSTRUMENTS[0]!.name} is taken instead.`
    diagnoses.warning('chart/unknown-bass', chart.bass?.span ?? START, message, near ? [near] : [])
  }
  if (form.bars.length > 0 && !form.changes.some((change) => change.chord)) {
    diagnoses.error('chart/no-chord', START, 'No bar of this chart has a chord, so there is nothing to play.')
  }
  const vocabulary =
    form.bars.length > 0 ? vocabularyOf(feel, askedWords(chart, settings), form.bars, diagnoses) : undefined
  const ground: RuleGround = {
    written: chart.bars,
    form,
    chorusBars: unfolded.form.bars.filter((bar) => bar.number > 0).length,
    key: chart.key,
    loop: settings.loop === true,
    instrument: instrument ?? INSTRUMENTS[0]!,
  }
  const asked = askedRules(chart, settings)
  const isLong = feel.line.kind === 'walk' && (settings.choruses ?? 1) > 1
  const rules = form.bars.length > 0 ? rulesInForce(isLong ? withArc(asked) : asked, ground, diagnoses) : []
  return {
    chart,
    form: pedalledForm(form, rules),
    plainForm: form,
    diagnostics: inOrder(parsed.diagnostics, unfolded.diagnostics, diagnoses.list),
    feel,
    tempoBpm: settings.tempoBpm ?? chart.tempoBpm ?? feel.tempo.usual,
    instrument: ground.instrument,
    vocabulary,
    rules,
  }
}

/** The feel that is asked for, or the one of the chart's metre. */
function feelFor(chart: Chart, form: Form, settings: Settings, diagnoses: Diagnoses): Feel {
  const usual = FEEL_BY_METRE.get(playedAs(formatMetre(chart.metre)))!
  const asked = settings.feel ?? chart.feel?.value
  const span = chart.feel?.span ?? START
  let feel = asked === undefined ? usual : feelOf(asked)
  if (!feel) {
    const near = nearest(
      asked!,
      FEELS.map(({ id }) => id),
    )
    const message = `There is no feel "${asked}". ${usual.name} is played instead.`
    diagnoses.warning('chart/unknown-feel', span, message, near ? [near] : [])
    feel = usual
  }
  const { bars } = form
  if (bars.length > 0 && !bars.some((bar) => playedAs(formatMetre(bar.metre)) === feel?.metre)) {
    const message = `${feel.name} is in ${feel.metre}, and no bar is: ${usual.name} is played instead.`
    diagnoses.warning('chart/feel-metre', span, message)
    feel = usual
  }
  hintOtherMetres(form, feel, diagnoses)
  return feel
}

/** One hint for each change into a metre that is not the feel's. */
function hintOtherMetres(form: Form, feel: Feel, diagnoses: Diagnoses): void {
  let before = feel.metre
  const said = new Set<number>()
  for (const bar of form.bars) {
    const metre = formatMetre(bar.metre)
    if (metre !== before && metre !== feel.metre && !said.has(bar.writtenIndex)) {
      said.add(bar.writtenIndex)
      diagnoses.hint(
        'chart/other-metre',
        bar.changes[0]?.span ?? START,
        `${feel.name} is in ${feel.metre}; from here on ${metre} is played ${otherMetreWay(feel, metre)}.`,
      )
    }
    before = metre
  }
}

/** How a metre is played that is not the feel's. */
function otherMetreWay(feel: Feel, metre: string): string {
  if (metre === '2/4' && feel.metre === '4/4') return 'as half a bar of it'
  const other = FEEL_BY_METRE.get(metre)
  return other && feel.line.kind === 'walk' ? `as ${other.name} is` : 'plainly, on its beats'
}

/** The words that the settings name, or else the chart; a setting has no place in the text. */
function askedWords(chart: Chart, settings: Settings): Pick<Chart, 'cells' | 'patterns'> {
  const words = (texts: readonly string[] | undefined): readonly VocabularyWord[] | undefined =>
    texts?.map((text) => ({ text, quoted: /[\s"]|^\d/.test(text), span: START }))
  return { cells: words(settings.cells) ?? chart.cells, patterns: words(settings.patterns) ?? chart.patterns }
}

/** The chart's rules, then those of the settings, which have no place in the text. */
function askedRules(chart: Chart, settings: Settings): readonly AskedRule[] {
  return [...chart.rules, ...(settings.rules ?? []).map((value) => ({ value, span: undefined }))]
}

/** The feel's metre, in the beat groups of the first bar that has it. */
function groupedAs(feel: Feel, form: Form): Metre {
  return form.bars.find((bar) => formatMetre(bar.metre) === feel.metre)?.metre ?? metreOf(feel.metre)!
}

/** The feel's register, as far as the instrument has it: never under its lowest string. */
function registerOf(feel: Feel, instrument: Instrument): Feel['register'] {
  const lowest = Math.max(feel.register.lowest, instrument.open[0]!)
  return { lowest, highest: Math.max(feel.register.highest, lowest + 12) }
}

function inOrder(...lists: readonly (readonly Diagnostic[])[]): readonly Diagnostic[] {
  return [...new Set(lists.flat())].sort((a, b) => a.span.from - b.span.from)
}
