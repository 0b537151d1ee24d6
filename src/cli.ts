#!/usr/bin/env node
import { Argument, Command, CommanderError } from 'commander'
import { analyseMidi, analyseTyped } from './analyse.ts'
import { type AnalyseDocument, analyseJson, analysisTable, explained, vocabularyRows } from './cli-analyse.ts'
import { type FileResult, readBytes, readChart, textOf, writeFiles } from './cli-file.ts'
import {
  type CheckDocument,
  type ComposeDocument,
  chartJson,
  type DiagnosticJson,
  diagnosticJson,
  errorJson,
  lineJson,
} from './cli-json.ts'
import { LISTS, listTable } from './cli-list.ts'
import {
  type AnalyseAsked,
  type Asked,
  addAnalyseOptions,
  addComposeOptions,
  analyseAskedOf,
  askedOf,
  type MidiFileAsked,
  rulesOf,
  UsageError,
} from './cli-option.ts'
import { barTable, costRow, heading, noteTable, priceRows, printable, standing } from './cli-table.ts'
import { type Composition, compose, noteAlternativesOf, performanceOf, read, rulePricesOf } from './compose.ts'
import { writeMidi } from './files/midi-writer.ts'

/** Exit statuses: done, the input or the target is no good or the rules clash, the command was called in a wrong way. */
const EXIT = { done: 0, failed: 1, usage: 2 } as const

type ExitStatus = (typeof EXIT)[keyof typeof EXIT]

function print(text: string): void {
  process.stdout.write(`${text}\n`)
}

function complain(text: string): void {
  process.stderr.write(`${printable(text)}\n`)
}

/** `file:line:column: severity code: sentence` for each, and what may stand there instead. */
function complainOf(path: string, diagnostics: readonly DiagnosticJson[]): void {
  for (const { line, column, severity, code, message, fixes } of diagnostics) {
    const perhaps = fixes.length > 0 ? ` Perhaps ${fixes.join(' or ')}?` : ''
    complain(`${path}:${line}:${column}: ${severity} ${code}: ${message}${perhaps}`)
  }
}

function hasError(diagnostics: readonly DiagnosticJson[]): boolean {
  return diagnostics.some((diagnostic) => diagnostic.severity === 'error')
}

/** Lines over a chart: built, written to a file where one is asked for, and shown by `show` where no JSON is asked for. */
async function composeChart(
  path: string,
  asked: Asked & { readonly reasons: boolean },
  show: (document: ComposeDocument, composition: Composition) => string,
): Promise<ExitStatus> {
  const end = (document: ComposeDocument, status: ExitStatus) => {
    if (asked.json) print(JSON.stringify(document, null, 2))
    return status
  }

  const input = await readChart(path)
  if (!input.ok) {
    const diagnostics = [errorJson('input/unreadable', input.message)]
    complainOf(path, diagnostics)
    return end({ chart: null, diagnostics, lines: [], conflict: null }, EXIT.failed)
  }
  const text = input.value
  const rules = await rulesAsked(path, asked)
  if (!rules.ok) {
    complain(`linewright: ${rules.message}`)
    return end(
      { chart: null, diagnostics: [errorJson('input/unreadable', rules.message)], lines: [], conflict: null },
      EXIT.failed,
    )
  }
  const start = performance.now()
  const composition = compose(text, { ...asked.settings, rules: rules.value })
  const timing = { buildMs: Math.round((performance.now() - start) * 10) / 10 }

  const { clash, lines } = composition
  const misfit = composition.diagnostics.find(({ code }) => code === 'cell/fits-no-bar')
  if (misfit && asked.settings.cells) throw new UsageError(`--cells: ${misfit.message.replace(' It is left out.', '')}`)
  const diagnostics = composition.diagnostics.map((diagnostic) => diagnosticJson(diagnostic, text))
  complainOf(path, diagnostics)
  const chart = chartJson(composition)
  const failure = { chart, diagnostics, lines: [], conflict: clash ?? null, timing }
  if (clash) {
    const bar = composition.form.bars.find(({ number }) => number === clash.bars[0])
    const span = bar?.changes[0]?.span ?? { from: 0, to: 0 }
    const severity = 'error'
    const { message, loosen } = clash
    const fixes = loosen.map((rule) => `"${rule}"`)
    complainOf(path, [diagnosticJson({ severity, code: 'line/clash', span, message, fixes }, text)])
    return end(failure, EXIT.failed)
  }
  if (hasError(diagnostics) || lines.length === 0) return end(failure, EXIT.failed)

  const written = asked.file
    ? await writeFiles(midiFiles(composition, asked.file, asked.settings.variations ?? 1))
    : undefined
  if (written && !written.ok) {
    const unwritable = errorJson('output/unwritable', written.message)
    complain(`linewright: ${written.message}`)
    return end({ ...failure, diagnostics: [...diagnostics, unwritable] }, EXIT.failed)
  }
  const best = lines[0]!
  const others = asked.reasons ? noteAlternativesOf(composition) : undefined
  const document = {
    ...failure,
    lines: lines.map((line, index) => lineJson(line, best, composition, others?.[index])),
    ...(asked.reasons ? { rules: rulePricesOf(composition) } : {}),
  }
  if (asked.json) return end(document, EXIT.done)
  print(show(document, composition))
  if (written) print(`\nWritten: ${written.value.map(printable).join(', ')}`)
  return EXIT.done
}

/** The rules of `--rule` and then those of `--rules`. */
async function rulesAsked(chart: string, { settings, rulesFile }: Asked): Promise<FileResult<readonly string[]>> {
  const given = settings.rules ?? []
  if (rulesFile === undefined) return { ok: true, value: given }
  if (rulesFile === '-' && chart === '-')
    throw new UsageError('--rules: standard input is the chart, so it cannot be the rules as well')
  const file = await readChart(rulesFile)
  return file.ok ? { ok: true, value: [...given, ...rulesOf(rulesFile, file.value)] } : file
}

/** A file for each line, numbered where several lines are asked for. */
function midiFiles(composition: Composition, asked: MidiFileAsked, variations: number) {
  return composition.lines.map((line, index) => {
    const { straight, parts, reader } = asked
    const performed = performanceOf(composition, line, { straight, parts, for: reader })
    const path = variations === 1 ? asked.path : asked.path.replace(/(\.midi?)$/i, `-${index + 1}$1`)
    return { path, bytes: writeMidi(performed, reader) }
  })
}

/** For a musician: a row a bar. */
function barTables({ chart, lines }: ComposeDocument, composition: Composition): string {
  const isDrawn = composition.settings.surprise !== undefined
  const tables = lines.map((line, index) =>
    [standing(line, index, lines.length, isDrawn), '', barTable(line, composition), '', printable(costRow(line))].join(
      '\n',
    ),
  )
  return [heading(composition, chart?.key ?? null), ...tables].join('\n\n')
}

/** For whoever asks why: a row a note. */
function noteTables({ chart, lines, rules = [] }: ComposeDocument, composition: Composition): string {
  const isDrawn = composition.settings.surprise !== undefined
  const tables = lines.map((line, index) =>
    [standing(line, index, lines.length, isDrawn), '', noteTable(line), '', printable(costRow(line))].join('\n'),
  )
  const prices = rules.length > 0 ? [priceRows(rules)] : []
  return [heading(composition, chart?.key ?? null), ...tables, ...prices].join('\n\n')
}

/** Only what is to be said about the text. */
async function checkChart(path: string, json: boolean): Promise<ExitStatus> {
  const input = await readChart(path)
  let document: CheckDocument
  if (input.ok) {
    const reading = read(input.value)
    const diagnostics = reading.diagnostics.map((diagnostic) => diagnosticJson(diagnostic, input.value))
    document = { chart: chartJson(reading), diagnostics }
  } else document = { chart: null, diagnostics: [errorJson('input/unreadable', input.message)] }
  complainOf(path, document.diagnostics)
  if (json) print(JSON.stringify(document, null, 2))
  else if (document.diagnostics.length === 0) print(`${printable(path)}: nothing to say against it`)
  return hasError(document.diagnostics) ? EXIT.failed : EXIT.done
}

/** A line that somebody played or typed, read against a chart. */
async function analyseLine(path: string, { chart, track, settings, json = false }: AnalyseAsked): Promise<ExitStatus> {
  if (path === '-' && chart === '-')
    throw new UsageError('--chart: standard input is the line, so it cannot be the chart as well')
  const end = (document: AnalyseDocument, status: ExitStatus) => {
    if (json) print(JSON.stringify(document, null, 2))
    return status
  }
  const empty = {
    said: [],
    notes: [],
    stretches: [],
    cells: [],
    superimposed: [],
    vocabulary: { patterns: [], cells: [] },
  }
  const input = await readChart(chart)
  const line = await readBytes(path)
  const isMidi = line.ok && isMidiFile(line.value)
  const typed = line.ok && !isMidi ? textOf(path, line.value) : undefined
  const unread = (result: FileResult<unknown> | undefined): readonly DiagnosticJson[] =>
    result && !result.ok ? [errorJson('input/unreadable', result.message)] : []
  const diagnostics = unread(input)
  const lineDiagnostics = unread(line.ok ? typed : line)
  complainOf(chart, diagnostics)
  complainOf(path, lineDiagnostics)
  if (!input.ok || !line.ok || (typed && !typed.ok))
    return end({ chart: null, diagnostics, lineDiagnostics, ...empty }, EXIT.failed)
  if (typed && track !== undefined)
    throw new UsageError('--track says which track of a MIDI file is the bass, and the line is a text')

  const text = typed?.ok ? typed.value : ''
  const reading = typed
    ? analyseTyped(input.value, text, settings)
    : analyseMidi(input.value, line.value, settings, track)
  const ofChart = reading.diagnostics.map((diagnostic) => diagnosticJson(diagnostic, input.value))
  const ofLine = [
    ...reading.lineDiagnostics.map((diagnostic) => diagnosticJson(diagnostic, text)),
    ...(reading.message === undefined ? [] : [errorJson('line/unreadable', reading.message)]),
  ]
  complainOf(chart, ofChart)
  complainOf(path, ofLine)
  const document = analyseJson(reading, ofChart, ofLine)
  if (!reading.analysis) return end(document, EXIT.failed)
  if (json) return end(document, EXIT.done)
  const said = document.said.map(printable)
  print(
    [
      ...(said.length > 0 ? [said.join('\n')] : []),
      analysisTable(document),
      explained(document),
      vocabularyRows(document),
    ].join('\n\n'),
  )
  return EXIT.done
}

/** The first letters of a standard MIDI file, and of one in an envelope. */
function isMidiFile(bytes: Uint8Array): boolean {
  return ['MThd', 'RIFF'].includes(String.fromCharCode(...bytes.subarray(0, 4)))
}

function commandLine(finish: (status: ExitStatus) => void): Command {
  const program = new Command('linewright')
    .description('Builds bass lines over a chord chart, says why each note is there, and writes MIDI files.')
    .exitOverride()
    .configureOutput({ writeErr: () => undefined })
    .addHelpText(
      'after',
      `
CHART is a text file (*.changes.txt), or - for standard input. Exit status: 0 done; 1 the chart cannot be used,
a file cannot be written, or the rules clash; 2 wrong usage.`,
    )
  const command = (name: string, description: string) =>
    program
      .command(name)
      .description(description)
      .argument('<chart>', 'the chart, a text file, or - for standard input')

  addComposeOptions(command('compose', 'build lines over a chart and show them bar by bar')).action(
    async (chart: string, options: object) =>
      finish(await composeChart(chart, { ...askedOf({ ...options }), reasons: false }, barTables)),
  )
  command('check', 'only say what is wrong with a chart')
    .option('--json', 'one JSON document')
    .action(async (chart: string, { json = false }: { json?: boolean }) => finish(await checkChart(chart, json)))
  addComposeOptions(command('explain', 'build lines over a chart and show them note by note, with the reasons')).action(
    async (chart: string, options: object) =>
      finish(await composeChart(chart, { ...askedOf({ ...options }), reasons: true }, noteTables)),
  )
  addAnalyseOptions(
    program
      .command('analyse')
      .description('read a line against a chart: degrees, functions, patterns, cells')
      .argument('<line>', 'a MIDI file, a typed line, or - for standard input'),
  ).action(async (line: string, options: Readonly<Record<string, unknown>>) =>
    finish(await analyseLine(line, analyseAskedOf(options))),
  )
  program
    .command('list')
    .description('name what there is')
    .addArgument(new Argument('<what>', 'which table').choices(LISTS))
    .action((what: (typeof LISTS)[number]) => print(listTable(what)))
  return program
}

/** Runs the command line and gives its exit status. Never throws. */
async function main(args: readonly string[]): Promise<ExitStatus> {
  let status: ExitStatus = EXIT.done
  const program = commandLine((result) => {
    status = result
  })
  try {
    if (args.length === 0)
      throw new UsageError(
        'nothing to do; compose, check, explain, analyse and list are the commands, and --help says more',
      )
    await program.parseAsync(args, { from: 'user' })
    return status
  } catch (error) {
    if (error instanceof UsageError) return refuse(error.message)
    if (error instanceof CommanderError) {
      if (error.exitCode === 0) return EXIT.done
      return refuse(error.message.replace(/^error: /, '').split('\n')[0]!)
    }
    complain(`linewright: this should not have happened: ${error instanceof Error ? error.message : String(error)}`)
    return EXIT.failed
  }
}

function refuse(message: string): ExitStatus {
  complain(`linewright: ${message.replace(/\.$/, '')}`)
  return EXIT.usage
}

// A reader who has seen enough, as `head` has, is no failure; a full disk is.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') return
  complain(`linewright: standard output cannot be written: the system says ${error.code}`)
  process.once('exit', () => {
    process.exitCode = EXIT.failed
  })
})
process.exitCode = await main(process.argv.slice(2))
