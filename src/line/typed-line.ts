import type { Diagnostic } from '../chart/diagnostic.ts'
import type { Form, FormBar } from '../chart/form.ts'
import { rowsOf } from '../chart/row.ts'
import type { Span } from '../chart/span.ts'
import type { Chord } from '../music/chord.ts'
import { highestPitch, type Instrument, lowestPitch } from '../music/instrument.ts'
import { formatMetre } from '../music/metre.ts'
import { type Pitch, pitchClassOf } from '../music/pitch.ts'
import type { Tick } from '../music/tick.ts'
import { type Cell, parseCell } from '../rhythm/cell.ts'
import type { HeardNote } from './analyse/analyse.ts'
import { parsePattern, semitonesOfToken } from './pattern.ts'
import { pitchName, pitchNamed, struckOnsets } from './rule-blank.ts'

/** How the notes of a typed line are written: places on the neck, notes with their octaves, or degrees of the chords. */
export const TYPED_WAYS = ['frets', 'notes', 'degrees'] as const

export type TypedWay = (typeof TYPED_WAYS)[number]

/** What a typed line reads as. Where an error is said there are no notes. */
export interface TypedLine {
  /** in order of time, on the grid of the form */
  readonly notes: readonly HeardNote[]
  /** `undefined`: there is no note to tell it by */
  readonly way: TypedWay | undefined
  /** in the order of the text */
  readonly diagnostics: readonly Diagnostic[]
}

/** A word of a typed line, with its place in the text. */
interface TypedWord {
  readonly text: string
  readonly span: Span
}

/** A bar as it is typed. */
interface TypedBar {
  readonly span: Span
  /** `undefined`: that of the bar before */
  readonly rhythm: TypedWord | undefined
  readonly words: readonly TypedWord[]
  /** `%`: the bar before once more */
  readonly again: boolean
}

/** A text taken apart, whatever it is played over. */
interface TypedText {
  readonly way: TypedWay | undefined
  readonly bars: readonly TypedBar[]
}

/**
 * Takes a typed line apart: bars parted by `|`, and in each a rhythm as it is counted, a colon, and a word for each note that is struck.
 * `%` is the bar before once more; a bar without a rhythm has that of the bar before. Rows end where they like; `//` begins a comment. The first word may be
 * `frets`, `notes` or `degrees`.
 */
function takenApart(text: string): TypedText {
  // Comments become blanks, so that places stay.
  let plain = ''
  for (const row of rowsOf(text)) plain = plain.padEnd(row.from) + row.text
  let way: TypedWay | undefined
  const head = /^\s*(frets|notes|degrees)(?=[\s:|]|$):?/i.exec(plain)
  if (head) {
    way = head[1]!.toLowerCase() as TypedWay
    plain = ' '.repeat(head[0].length) + plain.slice(head[0].length)
  }
  const pieces: { text: string; from: number }[] = []
  let from = 0
  for (const piece of plain.split('|')) {
    pieces.push({ text: piece, from })
    from += piece.length + 1
  }
  // What stands before the first bar line and behind the last is no bar if nothing stands there.
  if (pieces.length > 1 && pieces[0]!.text.trim() === '') pieces.shift()
  if (pieces.at(-1)!.text.trim() === '') pieces.pop()
  return { way, bars: pieces.map(barOf) }
}

function barOf({ text, from }: { readonly text: string; readonly from: number }): TypedBar {
  const metre = /^\s*\d+\s*\/\s*\d+\s*:/.exec(text)?.[0].length ?? 0
  const rest = text.slice(metre)
  // The colon of a place such as :1/3 has no blank behind it.
  const colon = [...rest.matchAll(/:(?=\s|$)/g)].at(-1)?.index
  const end = colon === undefined ? undefined : metre + colon
  const words = wordsIn(text.slice(end === undefined ? 0 : end + 1), from + (end === undefined ? 0 : end + 1))
  const rhythm = end === undefined ? undefined : trimmed(text.slice(0, end), from)
  const whole = trimmed(text, from)
  return {
    span: whole.span,
    rhythm,
    words,
    again: rhythm === undefined && words.length === 1 && words[0]!.text === '%',
  }
}

function trimmed(text: string, from: number): TypedWord {
  const start = from + text.length - text.trimStart().length
  const bare = text.trim()
  return { text: bare, span: { from: start, to: start + bare.length } }
}

function wordsIn(text: string, from: number): readonly TypedWord[] {
  return [...text.matchAll(/[^\s,]+/g)].map((match) => {
    const start = from + match.index
    return { text: match[0], span: { from: start, to: start + match[0].length } }
  })
}

/** How many bars a typed line has, however wrong they are. */
export function typedBars(text: string): number {
  return takenApart(text).bars.length
}

/** What a word is, or what is wrong with it. */
type WordReading =
  | { readonly ok: true; readonly pitch: Pitch }
  | { readonly ok: false; readonly code: string; readonly message: string; readonly fix?: string }

/**
 * Reads a line that was typed over a form, from its first bar on.
 *
 * What the words are is settled once for the whole line: by its first word, or else by what all of them can be on this bass, notes before
 * frets. Where all can be both, a hint says so. A fret is the name of its string and a number, `A3`, or as tables have it `3/3`, strings counted
 * from the highest. A note is a name with its octave, as it sounds. A degree is a token of the pattern notation, from the chord's lowest root on the bass.
 *
 * @returns never throws; with errors where a word, a rhythm or a bar cannot be read
 */
export function readTypedLine(text: string, form: Form, instrument: Instrument): TypedLine {
  const { way: said, bars } = takenApart(text)
  const diagnostics: Diagnostic[] = []
  const error = (code: string, span: Span, message: string, fixes: readonly string[] = []): void => {
    diagnostics.push({ code, severity: 'error', span, message, fixes })
  }
  if (bars.length === 0) {
    const message = 'No bar is written here: expected a rhythm and its notes, as in 1 2 3 4: D2 F2 A2 C3.'
    error('line/typed-empty', { from: 0, to: text.length }, message)
    return { notes: [], way: said, diagnostics }
  }
  const words = bars.flatMap((bar) => (bar.again ? [] : bar.words))
  const way = said ?? wayOf(words, instrument)
  if (!said && way === 'notes' && words.every((word) => readFret(word.text, instrument).ok)) {
    const message =
      'Each of these can be a note and a place on the neck. They are read as notes; begin with the word frets to have places.'
    diagnostics.push({ code: 'line/typed-both', severity: 'hint', span: words[0]!.span, message, fixes: [] })
  }
  const notes: HeardNote[] = []
  const tied = new Set<Tick>()
  let rhythm: { cell: Cell; text: string } | undefined
  let before: TypedBar | undefined
  for (const [index, typed] of bars.entries()) {
    const bar = form.bars[index]
    if (!bar) {
      const message = `The line has ${bars.length} bars and the chart ${form.bars.length}.`
      error('line/typed-too-long', typed.span, message)
      break
    }
    if (typed.again && !before) error('line/typed-nothing-before', typed.span, 'No bar stands before this %.')
    const own = typed.again ? (before ?? typed) : typed
    if (own.rhythm) rhythm = rhythmOf(own.rhythm, bar, error)
    else rhythm ??= onCounts(bar)
    if (!typed.again) before = { ...own }
    if (typed.again && !before) continue
    if (!rhythm) continue
    const { cell } = rhythm
    if (cell.ticks !== bar.ticks) {
      const message = `"${rhythm.text}" is no bar of ${formatMetre(bar.metre)}, which bar ${bar.number} is.`
      error('line/typed-metre', own.rhythm?.span ?? own.span, message)
      continue
    }
    placeBar(own, typed, bar, cell, rhythm.text, way, instrument, notes, tied, error)
  }
  const failed = diagnostics.some(({ severity }) => severity === 'error')
  return {
    notes: failed ? [] : joined(notes, tied),
    way,
    diagnostics: diagnostics.sort((a, b) => a.span.from - b.span.from),
  }
}

type Say = (code: string, span: Span, message: string, fixes?: readonly string[]) => void

/** One note on each count, where no rhythm was ever given. */
function onCounts(bar: FormBar): { cell: Cell; text: string } | undefined {
  const text = Array.from({ length: bar.metre.upper }, (_, i) => `${i + 1}`).join(' ')
  const reading = parseCell(`${formatMetre(bar.metre)}: ${text}`)
  return reading.ok ? { cell: reading.cell, text } : undefined
}

/** The metre of the bar is understood where the rhythm names none. */
function rhythmOf({ text, span }: TypedWord, bar: FormBar, error: Say): { cell: Cell; text: string } | undefined {
  const named = /^\d+\s*\/\s*\d+\s*:/.test(text)
  const front = named ? '' : `${formatMetre(bar.metre)}: `
  const reading = parseCell(front + text)
  if (reading.ok) return { cell: reading.cell, text }
  const shift = span.from - front.length
  const from = Math.max(span.from, reading.span.from + shift)
  const said = reading.message.charAt(0).toUpperCase() + reading.message.slice(1)
  error(`cell/${reading.code}`, { from, to: Math.max(from, Math.min(span.to, reading.span.to + shift)) }, `${said}.`)
  return undefined
}

/** The notes of one bar onto the form. */
function placeBar(
  { words, span }: TypedBar,
  typed: TypedBar,
  bar: FormBar,
  cell: Cell,
  rhythm: string,
  way: TypedWay | undefined,
  instrument: Instrument,
  notes: HeardNote[],
  tied: Set<Tick>,
  error: Say,
): void {
  const struck = struckOnsets(cell)
  if (struck.length !== words.length) {
    if (typed.again) return
    const isMore = words.length > struck.length
    const at = words.length > 0 ? { from: words[0]!.span.from, to: words.at(-1)!.span.to } : span
    const kept = words.slice(0, struck.length).map(({ text }) => text)
    const message = `"${rhythm}" strikes ${struck.length} and ${words.length} are given: expected one for each that is struck.`
    error(
      isMore ? 'line/typed-too-many' : 'line/typed-too-few',
      at,
      message,
      isMore && kept.length > 0 ? [kept.join(' ')] : [],
    )
    return
  }
  let next = 0
  for (const onset of cell.onsets) {
    const startTick = bar.startTick + onset.tick
    const marks = { accent: onset.accent, length: onset.length }
    const last = notes.at(-1)
    if (onset.continues) {
      // What is held goes on; where nothing rings, nothing is heard.
      if (last && last.startTick + last.ticks >= startTick)
        notes[notes.length - 1] = { ...last, ticks: startTick + onset.ticks - last.startTick }
      if (last && !onset.tiedOver) tied.delete(last.startTick)
      continue
    }
    if (onset.ghost) {
      const pitch = last?.pitch ?? instrument.open[0]!
      notes.push({ startTick, ticks: onset.ticks, ghost: true, pitch, marks })
      continue
    }
    const word = words[next++]!
    const reading = readWord(word.text, way, chordAt(bar, startTick), instrument)
    if (!reading.ok) {
      if (!typed.again) error(reading.code, word.span, reading.message, reading.fix === undefined ? [] : [reading.fix])
      continue
    }
    if (onset.tiedOver) tied.add(startTick)
    notes.push({ startTick, ticks: onset.ticks, ghost: false, pitch: reading.pitch, marks })
  }
}

/** A tie over the end of a bar rings on to the next stroke, a quarter at most, where the next bar does not say how long it is held. */
function joined(notes: readonly HeardNote[], tied: ReadonlySet<Tick>): readonly HeardNote[] {
  return notes.map((note, i) => {
    const end = note.startTick + note.ticks
    const next = notes[i + 1]?.startTick ?? Number.POSITIVE_INFINITY
    return tied.has(note.startTick) ? { ...note, ticks: Math.min(end + LONGEST_TIE, next) - note.startTick } : note
  })
}

const LONGEST_TIE = 480

function chordAt(bar: FormBar, tick: number): Chord | undefined {
  return bar.changes.findLast(({ startTick }) => startTick <= tick)?.chord
}

/** What all words can be; else what most of them can be. */
function wayOf(words: readonly TypedWord[], instrument: Instrument): TypedWay | undefined {
  if (words.length === 0) return undefined
  const counts: readonly (readonly [TypedWay, number])[] = [
    ['notes', words.filter(({ text }) => readNote(text, instrument).ok).length],
    ['frets', words.filter(({ text }) => readFret(text, instrument).ok).length],
    ['degrees', words.filter(({ text }) => isDegree(text)).length],
  ]
  return counts.reduce((most, one) => (one[1] > most[1] ? one : most))[0]
}

function readWord(
  text: string,
  way: TypedWay | undefined,
  chord: Chord | undefined,
  instrument: Instrument,
): WordReading {
  if (way === 'frets') return readFret(text, instrument)
  if (way === 'degrees') return readDegree(text, chord, instrument)
  return readNote(text, instrument)
}

function readNote(text: string, instrument: Instrument): WordReading {
  const pitch = pitchNamed(text)
  if (pitch === undefined) {
    const letter = /^h/i.exec(text) && pitchNamed(`B${text.slice(1)}`) !== undefined ? `B${text.slice(1)}` : undefined
    const lower = pitchNamed(text.charAt(0).toUpperCase() + text.slice(1)) !== undefined
    const fix = letter ?? (lower ? text.charAt(0).toUpperCase() + text.slice(1) : undefined)
    const message = `"${text}" is no note: expected a name with its octave, as it sounds, as in E1 or Bb2.`
    return { ok: false, code: 'line/typed-no-note', message, ...(fix === undefined ? {} : { fix }) }
  }
  return onBass(text, pitch, instrument)
}

function onBass(text: string, pitch: Pitch, instrument: Instrument): WordReading {
  const [lowest, highest] = [lowestPitch(instrument), highestPitch(instrument)]
  if (pitch >= lowest && pitch <= highest) return { ok: true, pitch }
  const range = `${pitchName(lowest)} to ${pitchName(highest)}`
  const octaves = pitch < lowest ? Math.ceil((lowest - pitch) / 12) : -Math.ceil((pitch - highest) / 12)
  const message = `"${text}" is not on the ${instrument.name}: it has ${range}.`
  return { ok: false, code: 'line/typed-off-the-bass', message, fix: pitchName(pitch + 12 * octaves) }
}

function readFret(text: string, instrument: Instrument): WordReading {
  const { open, frets, name } = instrument
  const strings = open.map((pitch) => pitchName(pitch).replace(/-?\d+$/, ''))
  const counted = /^(\d{1,2})\/(\d{1,3})$/.exec(text)
  const named = /^([A-Ga-g](?:b|#|♭|♯)?)(\d{1,3})$/.exec(text)
  const example = `${strings[1] ?? strings[0]}3`
  if (!counted && !named) {
    const message = `"${text}" is no place: expected a string and a fret, as in ${example}.`
    return { ok: false, code: 'line/typed-no-place', message }
  }
  const letter = named ? named[1]!.charAt(0).toUpperCase() + named[1]!.slice(1).replace('♭', 'b').replace('♯', '#') : ''
  const candidates = counted
    ? [open.length - Number(counted[1])].filter((string) => string >= 0 && string < open.length)
    : strings.flatMap((string, i) => (string === letter ? [i] : []))
  if (candidates.length === 0) {
    const has = `${strings.slice(0, -1).join(', ')} and ${strings.at(-1)}`
    const which = counted ? `There is no string ${counted[1]}` : `There is no string ${letter}`
    return { ok: false, code: 'line/typed-no-string', message: `${which} on the ${name}: it has ${has}.` }
  }
  const fret = Number((counted ?? named)![2])
  const string = candidates[0]!
  if (candidates.length > 1) {
    const places = candidates.map((one) => `${open.length - one}/${fret}`)
    const message = `The ${name} has ${candidates.length} strings called ${letter}: count them from the highest, as in ${places[0]}.`
    return { ok: false, code: 'line/typed-two-strings', message, fix: places[0]! }
  }
  if (fret <= frets) return { ok: true, pitch: open[string]! + fret }
  const pitch = open[string]! + fret
  const other = open.findIndex((one) => pitch - one >= 0 && pitch - one <= frets)
  const fix = other >= 0 ? `${strings[other]}${pitch - open[other]!}` : `${strings[string]}${frets}`
  const message = `There is no fret ${fret} on the ${name}: it has ${frets}.`
  return { ok: false, code: 'line/typed-no-fret', message, fix }
}

function isDegree(text: string): boolean {
  const reading = parsePattern(text)
  return reading.ok && reading.tokens[0]!.kind === 'degree' && !reading.tokens[0]!.next
}

function readDegree(text: string, chord: Chord | undefined, instrument: Instrument): WordReading {
  const reading = parsePattern(text)
  const token = reading.ok ? reading.tokens[0]! : undefined
  if (token?.kind !== 'degree' || token.next) {
    const message = `"${text}" is no degree: expected a number 1 to 15 with its accidental, v an octave lower and ^ higher, as in 1, b3 or v5.`
    return { ok: false, code: 'line/typed-no-degree', message }
  }
  if (!chord) {
    const message = `"${text}" has no chord under it to be a degree of.`
    return { ok: false, code: 'line/typed-no-chord', message }
  }
  const lowest = lowestPitch(instrument)
  const root = lowest + pitchClassOf(chord.rootPc - lowest)
  return onBass(text, root + semitonesOfToken(token, chord), instrument)
}
