import type { Form } from '../../src/chart/form.ts'
import { feelOf } from '../../src/feels/feels.ts'
import type { GrooveLine, GrooveRequest } from '../../src/line/groove/groove.ts'
import { buildGrooves } from '../../src/line/groove/groove.ts'
import type { Pattern } from '../../src/line/pattern.ts'
import { parsePattern } from '../../src/line/pattern.ts'
import { patternOf } from '../../src/line/patterns.ts'
import type { Instrument } from '../../src/music/instrument.ts'
import { instrumentOf } from '../../src/music/instruments.ts'
import { metreOf } from '../../src/music/metre.ts'
import { cellOf } from '../../src/rhythm/cells.ts'
import { changes } from './changes.ts'

/** The feels whose lines are grooves. */
export const GROOVE_FEELS = ['shuffle', 'soul-eighths', 'bossa-nova']

export const FOUR_STRINGS = instrumentOf('four-string')!

/** What a groove is built from: a feel's own vocabulary on four strings, not looped, unless something else is asked for. */
export function grooveRequest(feelId: string, row: string | Form, options: Partial<GrooveRequest> = {}): GrooveRequest {
  const feel = feelOf(feelId)
  if (feel?.line.kind !== 'groove') throw new Error(`${feelId} is no feel of grooves`)
  return {
    form: typeof row === 'string' ? changes(row) : row,
    table: feel.line.table,
    metre: metreOf(feel.metre)!,
    cells: feel.cells.map(({ id, weight }) => ({ id, weight, cell: cellOf(id)! })),
    patterns: feel.patterns.map(({ id, weight }) => ({ pattern: patternOf(id)!, weight })),
    register: feel.register,
    instrument: FOUR_STRINGS,
    frets: { from: 0, to: 12 },
    rules: [],
    loop: false,
    variations: 1,
    difference: 0.25,
    ...options,
  }
}

/** A pattern in its notation, for every chord. */
export function patternIn(text: string): Pattern {
  const reading = parsePattern(text)
  if (!reading.ok) throw new Error(reading.message)
  return { id: text, text, tokens: reading.tokens, families: 'any', feels: 'all', level: 'beginner', purpose: '' }
}

/** The lines of a request that has some. */
export function groovesOf(request: GrooveRequest): readonly GrooveLine[] {
  const result = buildGrooves(request)
  if (!result.ok) throw new Error(`no line at bar ${result.barIndex + 1}`)
  return result.lines
}

const NAMES = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B']

/** A pitch in ASCII, C4 = 60, flats but for F sharp. */
function pitchText(pitch: number): string {
  return `${NAMES[pitch % 12]}${Math.floor(pitch / 12) - 1}`
}

/** The pitches of a line, bar by bar: `A1 Db2 E2 | D2`. A push ends in `~`. */
export function pitchesText(line: GrooveLine, form: Form): string {
  const notesOf = (bar: number) => line.notes.filter((note) => note.slot.barIndex === bar)
  return form.bars
    .map((bar) =>
      notesOf(bar.index)
        .map((note) => pitchText(note.pitch) + (note.slot.pushed ? '~' : ''))
        .join(' '),
    )
    .join(' | ')
}

const COUNTS: readonly (readonly [number, string])[] = [
  [0, ''],
  [120, 'e'],
  [160, 'trip'],
  [240, '&'],
  [320, 'let'],
  [360, 'a'],
]

/** A bar as a teacher says it, with string and fret: `1 A1 E5 · 2& E2 A7 · 4& Db2 A4*`; `*` an approach, `~` a push, `!` free. */
export function barText(line: GrooveLine, form: Form, bar: number, { open }: Instrument): string {
  const start = form.bars[bar]!.startTick
  return line.notes
    .filter((note) => note.slot.barIndex === bar)
    .map((note) => {
      const tick = note.slot.startTick - start
      const count = `${Math.floor(tick / 480) + 1}${COUNTS.find(([ticks]) => ticks === tick % 480)?.[1] ?? '?'}`
      const mark = note.slot.pushed ? '~' : note.target !== undefined ? '*' : note.kind === 'free' ? '!' : ''
      return `${count} ${pitchText(note.pitch)} ${NAMES[open[note.string]! % 12]}${note.fret}${mark}`
    })
    .join(' · ')
}
