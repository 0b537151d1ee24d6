import { type Composition, composing, performanceOf } from './compose.ts'
import type {
  ComposeAnswer,
  ComposedLine,
  ComposeRequest,
  FileAnswer,
  FileRequest,
  ReadPage,
} from './compose-messages.ts'
import { writeMidi } from './files/midi-writer.ts'
import type { Line } from './line/line.ts'
import { partOf } from './notation/part.ts'
import type { Settings } from './settings.ts'

// Composing beside the page: one request at a time, a breath every few milliseconds in which a newer one may come.

/** Work between two breaths, ms: what a keystroke may have to wait for at most, where a step itself takes no longer. */
const BREATH_MS = 12

/** Further lines are looked for when nothing new was asked for so long, ms: while somebody types, only the first one counts. */
const QUIET_MS = 180

/** How often the page hears that a search still runs, ms. */
const PROGRESS_MS = 200

/** The same worker from inside; the page's own types know only its outside. */
const page = self as unknown as {
  onmessage: ((event: MessageEvent<ComposeRequest | FileRequest>) => void) | null
  postMessage(answer: ComposeAnswer): void
}

let newest = -1

/** What the page was last shown, line by line: a file is made of it. */
let shown: { readonly composition: Composition; readonly lines: Line[] } | undefined

page.onmessage = ({ data }) => {
  if (data.kind === 'file') return page.postMessage(fileOf(data))
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
  const { number, text, loop } = request
  const send = (answer: ComposeAnswer) => page.postMessage(answer)
  try {
    // The first line alone, which is the quickest way to it.
    const first = await lookFor(request, { loop, variations: 1 })
    if (!first) return
    if (first.clash) return send({ kind: 'clash', number, clash: first.clash })
    if (request.lines === 1 || first.lines.length === 0) {
      return send({ kind: 'done', number, lines: first.lines.length, page: pageOf(first) })
    }
    await new Promise((go) => setTimeout(go, QUIET_MS))
    if (newest !== number) return
    const all = await lookFor({ ...request, text }, { loop, variations: request.lines }, first)
    if (all) send({ kind: 'done', number, lines: all.lines.length, page: pageOf(all) })
  } catch (fault) {
    if (newest === number)
      send({ kind: 'failed', number, message: fault instanceof Error ? fault.message : String(fault) })
  }
}

/**
 * Composes, and sends what is new: the page and line 0, or beside what `before` has sent the lines after it.
 *
 * @returns `undefined` as soon as something newer is asked for
 */
async function lookFor(
  { number, text }: ComposeRequest,
  settings: Settings,
  before?: Composition,
): Promise<Composition | undefined> {
  const sent: (Line | undefined)[] = [before?.lines[0]]
  let pageSent = before !== undefined
  const show = (composition: Composition) => {
    if (!pageSent) page.postMessage({ kind: 'page', number, page: pageOf(composition) })
    pageSent = true
    for (const [index, line] of composition.lines.entries()) {
      if (sent[index] && sameNotes(sent[index], line)) continue
      sent[index] = line
      if (index === 0) shown = { composition, lines: [] }
      shown!.lines[index] = line
      page.postMessage({ kind: 'line', number, index, line: composedLine(composition, line) })
    }
  }
  const steps = composing(text, settings)
  let breathed = performance.now()
  let told = breathed
  for (let step = steps.next(); ; step = steps.next()) {
    const now = performance.now()
    if (step.done) {
      show(step.value)
      return step.value
    }
    // A search for several lines may find its first one in another way: only its end counts.
    if (!before) show(step.value)
    if (now - told > PROGRESS_MS) {
      told = now
      page.postMessage({ kind: 'progress', number, provenWithin: step.value.lines[0]?.provenWithin })
    }
    if (now - breathed > BREATH_MS) {
      await takeBreath()
      if (newest !== number) return undefined
      breathed = performance.now()
    }
  }
}

function sameNotes(a: Line, b: Line): boolean {
  if (a.notes === b.notes) return true
  return (
    a.notes.length === b.notes.length &&
    a.notes.every((note, index) => {
      const other = b.notes[index]!
      return (
        note.slot.startTick === other.slot.startTick &&
        note.slot.ticks === other.slot.ticks &&
        note.string === other.string &&
        note.fret === other.fret
      )
    })
  )
}

function composedLine(composition: Composition, line: Line): ComposedLine {
  const { form, chart, instrument, settings } = composition
  const again = performanceOf(composition, line, { for: 'repeat' })
  return {
    line,
    part: partOf({ form, line, key: chart.key, instrument }),
    first: settings.loop ? performanceOf(composition, line) : again,
    again,
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

function fileOf({ number, index, for: reader }: FileRequest): FileAnswer {
  const line = shown?.lines[index]
  if (!shown || !line) return { kind: 'file', number, for: reader, bytes: undefined }
  const bytes = writeMidi(performanceOf(shown.composition, line, { for: reader }), reader)
  return { kind: 'file', number, for: reader, bytes }
}
