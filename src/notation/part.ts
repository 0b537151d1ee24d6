import type { WrittenBar as ChartBar } from '../chart/chart.ts'
import { type Form, type FormBar, soundOf } from '../chart/form.ts'
import type { Line, LineNote } from '../line/line.ts'
import { type Chord, degreeAt } from '../music/chord.ts'
import { type Degree, parseDegree } from '../music/degree.ts'
import type { Instrument } from '../music/instrument.ts'
import type { Key } from '../music/key.ts'
import { formatMetre, type Metre } from '../music/metre.ts'
import { pitchClassOf } from '../music/pitch.ts'
import type { Tick } from '../music/tick.ts'
import { gridOf } from './metre-grid.ts'
import type { NoteValue } from './note-value.ts'
import { type PrintedSymbol, printedSymbol } from './printed-symbol.ts'
import { type Accidental, BarAccidentals, type StaffPlace, signIfAny, staffPlaceOf } from './staff-accidental.ts'
import { type Sound, type WrittenBar, type WrittenValue, writeBar } from './written-rhythm.ts'

export type { NoteValue } from './note-value.ts'
export type { PrintedSymbol } from './printed-symbol.ts'
export type { Accidental } from './staff-accidental.ts'

/** What a note does in the line, as the row under the tab shows it: a mark, and the way motion leads. */
export type FunctionMark =
  | 'root'
  | 'third'
  | 'fifth'
  | 'seventh'
  | 'tension'
  | 'motion-up'
  | 'motion-down'
  | 'motion-level'
  | 'ghost'

/** A degree as it is printed: its sign and its number. */
export interface PrintedDegree {
  readonly accidental: Accidental | undefined
  readonly number: number
}

/** A figure on the tab. */
export interface TabFigure {
  /** 0 the lowest-sounding string */
  readonly string: number
  /** `undefined`: a dead note, printed as a cross */
  readonly fret: number | undefined
  /** tied over a bar line from before: printed in brackets */
  readonly bracketed: boolean
}

/** A printed note: one head. A note of the line that is tied is printed as several. */
export interface PrintedNote {
  readonly kind: 'note'
  /** from the start of the form, in time as written */
  readonly startTick: Tick
  readonly ticks: Tick
  readonly value: NoteValue
  /** place on the bass-clef staff: steps above the middle line (D3 as written, an octave above what sounds) */
  readonly step: number
  /** printed before the head; `undefined`: the signature or the bar says it already */
  readonly accidental: Accidental | undefined
  readonly head: 'plain' | 'ghost'
  /** index into the line's notes */
  readonly noteIndex: number
  readonly tiedFromBefore: boolean
  readonly tiedOn: boolean
  readonly accent: boolean
  readonly length: 'short' | 'long' | undefined
  /** `undefined`: nothing is struck, so nothing is printed */
  readonly tab: TabFigure | undefined
  readonly degree: PrintedDegree | undefined
  readonly mark: FunctionMark | undefined
}

/** A printed rest. */
export interface PrintedRest {
  readonly kind: 'rest'
  readonly startTick: Tick
  readonly ticks: Tick
  /** a bar of rest is a whole rest in every metre */
  readonly value: NoteValue
}

/** A bar of the part, as played. */
export interface PartBar {
  /** index of the played bar */
  readonly index: number
  /** for people; a pick-up is bar 0 */
  readonly number: number
  readonly startTick: Tick
  readonly ticks: Tick
  readonly metre: Metre
  /** the metre differs from that of the bar before: it is printed. Of the first bar too. */
  readonly metreChanges: boolean
  /** the rehearsal letter that stands here */
  readonly section: string | undefined
  readonly symbols: readonly PrintedSymbol[]
  /** in order of time; notes and rests fill the bar */
  readonly signs: readonly (PrintedNote | PrintedRest)[]
  /** indices into `signs` that a beam joins, each at least two */
  readonly beams: readonly (readonly number[])[]
  /** indices into `signs`, three notes' worth each, over or under which a 3 stands */
  readonly triplets: readonly (readonly number[])[]
  readonly barLine: 'single' | 'double' | 'final'
}

/** The printed part of one line: everything there is to draw, before any width is known. */
export interface Part {
  readonly key: Key | undefined
  /** strings of the bass, 4 to 6 */
  readonly strings: number
  readonly bars: readonly PartBar[]
}

/** What is put on paper. */
export interface PartRequest {
  readonly form: Form
  readonly line: Line
  readonly key: Key | undefined
  readonly instrument: Instrument
  /** the bars of the chart: what is typed in them again is printed again; absent: a symbol stands only where the chord changes */
  readonly written?: readonly ChartBar[]
}

/** The part of a line: its bars as played, each filled with notes and rests. */
export function partOf({ form, line, key, instrument, written = [] }: PartRequest): Part {
  const sounds = soundsOf(line, form)
  const symbols = symbolsOf(form, line, written)
  const writer = new NoteWriter({ form, line, key, instrument }, sounds)
  let next = 0
  const bars = form.bars.map((bar, index): PartBar => {
    const end = bar.startTick + bar.ticks
    while (next < sounds.length && sounds[next]!.to <= bar.startTick) next++
    const inBar: Sound[] = []
    for (let i = next; i < sounds.length && sounds[i]!.from < end; i++) {
      const { from, to, kind, index: noteIndex } = sounds[i]!
      inBar.push({
        from: Math.max(0, from - bar.startTick),
        to: Math.min(bar.ticks, to - bar.startTick),
        kind,
        index: noteIndex,
      })
    }
    const printed = inBar.length > 0 ? writeBar(gridOf(bar.metre), inBar) : restBar(bar)
    const before = form.bars[index - 1]
    const after = form.bars[index + 1]
    return {
      index: bar.index,
      number: bar.number,
      startTick: bar.startTick,
      ticks: bar.ticks,
      metre: bar.metre,
      metreChanges: !before || formatMetre(before.metre) !== formatMetre(bar.metre),
      section: bar.section,
      symbols: symbols.get(bar.index) ?? [],
      signs: writer.signsOf(bar, printed.values),
      beams: printed.beams,
      triplets: printed.triplets,
      barLine: !after ? 'final' : after.section !== undefined ? 'double' : 'single',
    }
  })
  return { key, strings: instrument.open.length, bars }
}

/** A bar in which nothing sounds. */
function restBar({ ticks }: FormBar): WrittenBar {
  const value: NoteValue = { part: 1, dots: 0, triplet: false }
  return { values: [{ from: 0, to: ticks, kind: 'rest', value, index: -1 }], beams: [], triplets: [] }
}

/**
 * When each note of the line sounds: until the next one at most. What a loop ties over the end of the form sounds on at its start.
 */
function soundsOf({ notes }: Line, form: Form): readonly Sound[] {
  const sounds = notes.map(({ slot }, index): Sound => {
    const next = notes[index + 1]?.slot.startTick ?? Number.POSITIVE_INFINITY
    const to = Math.min(slot.startTick + slot.ticks, next)
    return { from: slot.startTick, to, kind: slot.ghost ? 'ghost' : 'note', index }
  })
  const last = sounds.at(-1)
  if (!last || last.to <= form.ticks) return sounds
  const over = Math.min(last.to - form.ticks, sounds[0]!.from)
  const kept = [...sounds.slice(0, -1), { ...last, to: form.ticks + over }]
  return over > 0 ? [{ ...last, from: 0, to: over }, ...kept] : kept
}

/**
 * The symbols of each bar: where the chord changes, at the first bar, and where a chord is typed, even one that nobody can read and
 * that plays as the chord before. A push brings its symbol along, up to the bar line.
 */
function symbolsOf(
  form: Form,
  { notes }: Line,
  written: readonly ChartBar[],
): ReadonlyMap<number, readonly PrintedSymbol[]> {
  const pushes = new Map<number, Tick>()
  for (const { slot } of notes) {
    const change = form.changes[slot.changeIndex]
    if (slot.pushed && change?.barIndex === slot.barIndex && slot.startTick < change.startTick)
      pushes.set(slot.changeIndex, Math.min(slot.startTick, pushes.get(slot.changeIndex) ?? change.startTick))
  }
  const symbols = new Map<number, PrintedSymbol[]>()
  let index = -1
  for (const bar of form.bars) {
    const typed = written[bar.writtenIndex]?.chords ?? []
    for (const [place, { chord, held, startTick, span }] of bar.changes.entries()) {
      index++
      const word = typed[place]?.word.kind
      if (held && (word === undefined || word === 'slash')) continue
      const symbol = printedSymbol(chord?.symbol, { startTick: pushes.get(index) ?? startTick, span })
      symbols.set(bar.index, [...(symbols.get(bar.index) ?? []), symbol])
    }
  }
  return symbols
}

/** Writes the notes of bars one after another. */
class NoteWriter {
  readonly #line: Line
  readonly #form: Form
  readonly #key: Key | undefined
  readonly #places: readonly StaffPlace[]
  /** where each note's sound ends; after the end of the form, of a note tied over it */
  readonly #ends: ReadonlyMap<number, Tick>
  /** the chord that the last printed degree of a note counts against */
  readonly #counted = new Map<number, Chord | undefined>()

  constructor({ form, line, key, instrument }: PartRequest, sounds: readonly Sound[]) {
    this.#ends = new Map(sounds.map(({ index, to }) => [index, to]))
    this.#line = line
    this.#form = form
    this.#key = key
    this.#places = line.notes.map(({ name }) => staffPlaceOf(name, instrument.octaveWritten))
  }

  signsOf(bar: FormBar, values: readonly WrittenValue[]): readonly (PrintedNote | PrintedRest)[] {
    const accidentals = new BarAccidentals(this.#key)
    return values.map((written): PrintedNote | PrintedRest => {
      const { from, to, kind, value } = written
      const time = { startTick: bar.startTick + from, ticks: to - from, value }
      return kind === 'rest' ? { kind: 'rest', ...time } : this.#note(written, time, bar, accidentals)
    })
  }

  #note(
    { kind, index, from }: WrittenValue,
    time: { readonly startTick: Tick; readonly ticks: Tick; readonly value: NoteValue },
    bar: FormBar,
    accidentals: BarAccidentals,
  ): PrintedNote {
    const note = this.#line.notes[index]!
    const { slot } = note
    const ghost = kind === 'ghost'
    const struck = time.startTick === slot.startTick
    const place = this.#places[index]!
    const counted = struck ? this.#struck(note, index) : from === 0 ? this.#heldOver(note, index, bar) : undefined
    return {
      kind: 'note',
      ...time,
      step: place.step,
      accidental: struck && !ghost ? accidentals.strike(place) : undefined,
      head: ghost ? 'ghost' : 'plain',
      noteIndex: index,
      tiedFromBefore: !struck,
      tiedOn: !ghost && this.#soundsOn(index, time.startTick, time.startTick + time.ticks),
      accent: struck && slot.accent,
      length: struck ? slot.length : undefined,
      tab:
        struck || from === 0
          ? { string: note.string, fret: ghost ? undefined : note.fret, bracketed: !struck }
          : undefined,
      degree: counted && !ghost ? printedDegree(counted.degree) : undefined,
      mark: ghost ? 'ghost' : counted?.mark,
    }
  }

  /** Whether a note is heard after a piece of it; a piece before its stroke is one tied over the end of a loop. */
  #soundsOn(index: number, from: Tick, to: Tick): boolean {
    const { startTick } = this.#line.notes[index]!.slot
    return (from < startTick ? to + this.#form.ticks : to) < this.#ends.get(index)!
  }

  #struck(note: LineNote, index: number): { readonly degree: Degree; readonly mark: FunctionMark } {
    const chord = this.#form.changes[note.slot.changeIndex]?.chord
    this.#counted.set(index, chord)
    const written = parseDegree(note.degree)
    if (!written) throw new RangeError(`a degree is an accidental and a number, as b3, not '${note.degree}'`)
    return { degree: written, mark: this.#mark(note, index, written, chord) }
  }

  /** Over a bar line a degree stands again if another chord has come under it. */
  #heldOver(
    note: LineNote,
    index: number,
    bar: FormBar,
  ): { readonly degree: Degree; readonly mark: FunctionMark } | undefined {
    const chord = bar.changes[0]?.chord
    const before = this.#counted.has(index)
      ? this.#counted.get(index)
      : this.#form.changes[note.slot.changeIndex]?.chord
    if (!chord || !before || soundOf(chord.symbol) === soundOf(before.symbol)) return undefined
    this.#counted.set(index, chord)
    const { degree } = degreeAt(chord, pitchClassOf(note.pitch))
    return { degree, mark: standingMark(note.pitch, degree, chord) }
  }

  #mark(note: LineNote, index: number, degree: Degree, chord: Chord | undefined): FunctionMark {
    switch (note.function) {
      case 'passing':
      case 'neighbour':
      case 'approach':
      case 'enclosure': {
        const next = this.#nextPitch(index)
        return next > note.pitch ? 'motion-up' : next < note.pitch ? 'motion-down' : 'motion-level'
      }
      case 'anticipation':
        return chord ? standingMark(note.pitch, degree, chord) : 'tension'
      // The bass of a slash chord is a root to the line, and on paper the degree that is printed above its mark.
      case 'root':
        return markOf(degree)
      default:
        return note.function
    }
  }

  /** The pitch struck next; after the last note the first. */
  #nextPitch(index: number): number {
    const { notes } = this.#line
    for (let away = 1; away <= notes.length; away++) {
      const next = notes[(index + away) % notes.length]!
      if (!next.slot.ghost) return next.pitch
    }
    return notes[index]!.pitch
  }
}

/** What a note is to its chord alone. */
function standingMark(pitch: number, degree: Degree, chord: Chord): FunctionMark {
  const pitchClass = pitchClassOf(pitch)
  const belongs = pitchClass === chord.bassPc || degreeAt(chord, pitchClass).standing === 'tone'
  return belongs ? markOf(degree) : 'tension'
}

/** The mark of a degree, whatever note is in the bass. */
function markOf(degree: Degree): FunctionMark {
  switch ((degree.number - 1) % 7) {
    case 0:
      return 'root'
    case 2:
      return 'third'
    case 4:
      return 'fifth'
    case 6:
      return 'seventh'
    default:
      return 'tension'
  }
}

function printedDegree({ number, alter }: Degree): PrintedDegree {
  return { number, accidental: signIfAny(alter) }
}
