import { type Composition, compose, composing, performanceOf, read, roundsOf } from './compose.ts'
import type {
  ComposeAnswer,
  ComposedLine,
  ComposeRequest,
  FileRequest,
  HearRequest,
  ReadPage,
} from './compose-messages.ts'
import { writeMidi } from './files/midi-writer.ts'
import type { Line } from './line/line.ts'
import { KnownWalks } from './line/walk/known.ts'
import { formatKey } from './music/key.ts'
import { formatMetre, metreOf } from './music/metre.ts'
import type { Performance } from './music/performance.ts'
import { partOf } from './notation/part.ts'
import { type Cell, parseCell, placesOfLength } from './rhythm/cell.ts'
import { cellOf } from './rhythm/cells.ts'

// Composing beside the page: one request at a time, a breath every few milliseconds in which a newer one may come.

/** Work between two breaths, ms: what a keystroke may have to wait for at most, where a step itself takes no longer. */
const BREATH_MS = 12

/** How often the page hears that a search still runs, ms. */
const PROGRESS_MS = 200

/** The same worker from inside; the page's own types know only its outside. */
const page = self as unknown as {
  onmessage: ((event: MessageEvent<ComposeRequest | FileRequest | HearRequest>) => void) | null
  postMessage(answer: ComposeAnswer): void
}

let newest = -1

/** What composing leaves behind for the next request. */
const known = new KnownWalks()

page.onmessage = ({ data }) => {
  if (data.kind === 'file')
    return page.postMessage({ kind: 'file', number: data.number, bytes: orNothing(() => fileOf(data)) })
  if (data.kind === 'hear') {
    return page.postMessage({ kind: 'hear', number: data.number, performance: orNothing(() => heard(data)) })
  }
  newest = data.number
  void answer(data)
}

/** Lets waiting messages in. */
const breath = new MessageChannel()
const waiting: (() => void)[] = []
breath.port1.onmessage = () => waiting.shift()?.()
function takeBreath(): Promise<void> {
  return new Promise((go) => {
    waiting.push(go)
    breath.port2.postMessage(undefined)
  })
}

async function answer(request: ComposeRequest): Promise<void> {
  const { number } = request
  const send = (answer: ComposeAnswer) => page.postMessage(answer)
  try {
    const composition = await lookFor(request)
    if (!composition) return
    if (composition.clash) send({ kind: 'clash', number, clash: composition.clash })
    else {
      const { lines } = composition
      const provenWithin = lines[0]?.provenWithin
      send({ kind: 'done', number, lines: lines.length, provenWithin, page: pageOf(composition) })
    }
  } catch (fault) {
    const message = fault instanceof Error ? fault.message : String(fault)
    if (newest === number) send({ kind: 'failed', number, message })
  }
}

/**
 * Composes, and sends what is new: the page once, and lines when they are found or give way to better ones.
 *
 * @returns `undefined` as soon as something newer is asked for
 */
async function lookFor({ number, text, loop, lines }: ComposeRequest): Promise<Composition | undefined> {
  const sent: Line['notes'][] = []
  let pageSent = false
  const show = (composition: Composition) => {
    if (!pageSent) page.postMessage({ kind: 'page', number, page: pageOf(composition) })
    pageSent = true
    for (const [index, line] of composition.lines.entries()) {
      if (sent[index] === line.notes) continue
      sent[index] = line.notes
      page.postMessage({ kind: 'line', number, index, line: composedLine(composition, line) })
    }
  }
  const steps = composing(text, { loop, variations: lines }, known)
  let breathed = performance.now()
  let told = breathed
  for (let step = steps.next(); ; step = steps.next()) {
    const now = performance.now()
    if (step.done) {
      show(step.value)
      return step.value
    }
    if (now - told > PROGRESS_MS) {
      told = now
      page.postMessage({ kind: 'progress', number, provenWithin: step.value.lines[0]?.provenWithin })
    }
    // What the text says is known: a newer text may be here before its search begins.
    const isRead = !pageSent
    // A search for several lines may come to its first one by another that is not as good; the second one settles it.
    show(lines === 1 || step.value.lines.length > 1 ? step.value : { ...step.value, lines: [] })
    if (isRead || now - breathed > BREATH_MS) {
      await takeBreath()
      if (newest !== number) return undefined
      breathed = performance.now()
    }
  }
}

function composedLine(composition: Composition, line: Line): ComposedLine {
  const { form, chart, instrument } = composition
  return {
    line,
    part: partOf({ form, line, key: chart.key, instrument, written: chart.bars }),
    ...roundsOf(composition, line),
  }
}

function pageOf({ chart, form, diagnostics, feel, tempoBpm, instrument, vocabulary }: Composition): ReadPage {
  return {
    title: chart.title,
    key: chart.key,
    metre: chart.metre,
    tempoBpm,
    feel: feel && { id: feel.id, name: feel.name },
    instrument: { id: instrument.id, name: instrument.name },
    cells: vocabulary?.cells.map(({ id }) => id) ?? [],
    patterns: vocabulary?.patterns.map(({ pattern }) => pattern.id) ?? [],
    form,
    diagnostics,
  }
}

/** What goes wrong with a file or a word is no fault of the composing beside it. */
function orNothing<T>(make: () => T | undefined): T | undefined {
  try {
    return make()
  } catch {
    return undefined
  }
}

function fileOf({ text, loop, line, parts, for: reader }: FileRequest): Uint8Array {
  const settings = { loop }
  const composition: Composition = { ...read(text, settings), lines: [line], clash: undefined, settings }
  return writeMidi(performanceOf(composition, line, { for: reader, parts }), reader)
}

/** A word played over the first chord of the chart, in its feel and tempo. */
function heard({ text, word }: HearRequest): Performance | undefined {
  const { chart, form, feel, tempoBpm, instrument } = read(text)
  const symbol = form.changes.find(({ chord }) => chord)?.chord?.symbol.text ?? 'C7'
  const cell = word.kind === 'cell' ? (cellOf(word.text) ?? parsedCell(word.text)) : undefined
  const bars = [symbol, ...new Array<string>((cell?.bars ?? 1) - 1).fill('%')]
  const sample = [
    `time: ${cell ? metreFor(cell, formatMetre(chart.metre)) : formatMetre(chart.metre)}`,
    ...(chart.key ? [`key: ${formatKey(chart.key)}`] : []),
    ...(feel ? [`feel: ${feel.id}`] : []),
    `tempo: ${tempoBpm}`,
    `bass: ${instrument.id}`,
    `| ${bars.join(' | ')} |`,
  ].join('\n')
  const composition = compose(sample, word.kind === 'cell' ? { cells: [word.text] } : { patterns: [word.text] })
  const line = composition.lines[0]
  return line && performanceOf(composition, line, { parts: ['bass'] })
}

function parsedCell(text: string): Cell | undefined {
  const reading = parseCell(text)
  return reading.ok ? reading.cell : undefined
}

/** The chart's metre where the cell may stand in it, else the cell's own. */
function metreFor(cell: Cell, usual: string): string {
  const own = `${cell.upper}/${cell.lower}`
  return placesOfLength(cell).metres.includes(usual) || metreOf(own) === undefined ? usual : own
}
