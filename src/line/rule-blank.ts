import { nearest } from '../chart/nearest.ts'
import { type Degree, formatDegree, parseDegree } from '../music/degree.ts'
import { highestPitch, lowestPitch } from '../music/instrument.ts'
import { formatNoteName, type NoteName, parseNoteName, pitchClassOfName } from '../music/note-name.ts'
import { type Pitch, pitchClassOf } from '../music/pitch.ts'
import { type Cell, type CellOnset, parseCell, printCell } from '../rhythm/cell.ts'
import { parsePattern } from './pattern.ts'
import { PATTERNS, patternOf } from './patterns.ts'
import type { Blank, Fault, Taken, Word } from './rule-phrase.ts'

// The blanks of rule sentences: what may stand in them, how it is read and printed, and what is out of reach.

/** Numbers in words, from nought. */
const NUMBERS = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
]

function numberIn(word: Word | undefined): number | undefined {
  if (!word) return undefined
  if (/^\d{1,4}$/.test(word.text)) return Number(word.text)
  const index = NUMBERS.indexOf(word.text.toLowerCase())
  return index > 0 ? index : undefined
}

/** A whole number in words up to twelve, in figures beyond. */
const inWords = (count: number): string => NUMBERS[count] ?? `${count}`

/** Reads the words of `text` from `at` on, in any case. */
function follows(words: readonly Word[], at: number, text: string): number | undefined {
  const parts = text.split(' ')
  return parts.every((part, i) => words[at + i]?.text.toLowerCase() === part) ? at + parts.length : undefined
}

/** All the texts of a table that stand at `at`, the longest first. */
function named<Value>(
  words: readonly Word[],
  at: number,
  table: readonly (readonly [text: string, value: Value])[],
): readonly Taken<Value>[] {
  const found = table.flatMap(([text, value]) => {
    const next = follows(words, at, text)
    return next === undefined ? [] : [{ value, next }]
  })
  return found.sort((a, b) => b.next - a.next)
}

// Pitches.

const PITCH_NAMES = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B']

/** A pitch by its plain name, sounding: 28 is E1. */
export function pitchName(pitch: Pitch): string {
  return `${PITCH_NAMES[pitchClassOf(pitch)]}${Math.floor(pitch / 12) - 1}`
}

/** The pitch of a name with its octave; `undefined` if it is none. A small b is a flat, never the note. */
export function pitchNamed(text: string): Pitch | undefined {
  const plain = text.replaceAll('♯', '#').replaceAll('♭', 'b')
  const match = /^([A-Gac-g])(##|bb|x|#|b)?(-?\d)$/.exec(plain)
  const name = match && parseNoteName(match[1]!.toUpperCase() + (match[2] ?? ''))
  if (!name) return undefined
  const octave = Number(match[3])
  // Cb2 sounds as B1 and B#1 as C2: the octave is the letter's.
  const letter = pitchClassOfName({ letter: name.letter, alter: 0 })
  return 12 * (octave + 1) + letter + name.alter
}

function pitchFault(
  pitch: Pitch,
  instrument: Parameters<NonNullable<Blank<Pitch>['fault']>>[1],
): Fault<Pitch> | undefined {
  if (!instrument) return undefined
  const [lowest, highest] = [lowestPitch(instrument), highestPitch(instrument)]
  if (pitch >= lowest && pitch <= highest) return undefined
  return {
    message: `is not on the ${instrument.name}: it has ${pitchName(lowest)} to ${pitchName(highest)}`,
    instead: Math.min(highest, Math.max(lowest, pitch)),
  }
}

export const PITCH: Blank<Pitch> = {
  expected: 'a note with its octave, as it sounds, as in E1 or Bb2',
  usual: 28,
  read: (words, at) => {
    const pitch = pitchNamed(words[at]?.text ?? '')
    return pitch === undefined ? [] : [{ value: pitch, next: at + 1 }]
  },
  print: pitchName,
  fault: pitchFault,
}

/** A note in whichever octave. */
export const NOTE_NAME: Blank<NoteName> = {
  expected: 'a note, as in G or Bb',
  usual: { letter: 'G', alter: 0 },
  read: (words, at) => {
    const plain = (words[at]?.text ?? '').replaceAll('♯', '#').replaceAll('♭', 'b')
    // A small b is a flat, never the note.
    const name = /^[A-Gac-g](#|b)?$/.test(plain)
      ? parseNoteName(plain.charAt(0).toUpperCase() + plain.slice(1))
      : undefined
    return name ? [{ value: name, next: at + 1 }] : []
  },
  print: formatNoteName,
}

/** Pitches one after the other, at least one. */
export const PITCHES: Blank<readonly Pitch[]> = {
  expected: 'the notes, each with its octave, as in D2 F2 A2 Ab2',
  usual: [38],
  read: (words, at) => {
    const pitches: Pitch[] = []
    let next = at
    for (;;) {
      const pitch = pitchNamed(words[next]?.text ?? '')
      if (pitch === undefined) break
      pitches.push(pitch)
      next += words[next + 1]?.text === ',' ? 2 : 1
    }
    return pitches.length === 0 ? [] : [{ value: pitches, next }]
  },
  print: (pitches) => pitches.map(pitchName).join(' '),
  fault: (pitches, instrument) => {
    for (const pitch of pitches) {
      const fault = pitchFault(pitch, instrument)
      if (fault) return { message: `has ${pitchName(pitch)}, which ${fault.message}` }
    }
    return undefined
  },
}

// Frets, counts, times.

export const FRET: Blank<number> = {
  expected: 'the number of a fret, as in 5',
  usual: 5,
  read: (words, at) => {
    const fret = words[at]?.text.toLowerCase() === 'nut' ? 0 : numberIn(words[at])
    return fret === undefined ? [] : [{ value: fret, next: at + 1 }]
  },
  print: (fret) => `${fret}`,
  fault: (fret, instrument) =>
    instrument && fret > instrument.frets
      ? { message: `is no fret of the ${instrument.name}: it has ${instrument.frets}`, instead: instrument.frets }
      : undefined,
}

/** A number of notes, from one. */
export function notes(most: number): Blank<number> {
  return {
    expected: 'how many notes, as in three notes',
    usual: 3,
    read: (words, at) => {
      const number = words[at]?.text === '0' ? 0 : numberIn(words[at])
      return number !== undefined && /^notes?$/i.test(words[at + 1]?.text ?? '')
        ? [{ value: number, next: at + 2 }]
        : []
    },
    print: (number) => `${inWords(number)} ${number === 1 ? 'note' : 'notes'}`,
    fault: (number) =>
      number < 1
        ? { message: 'is too few: expected one or more', instead: 1 }
        : number > most
          ? { message: `is too many: expected at most ${inWords(most)}`, instead: most }
          : undefined,
  }
}

/** How often: once, twice, three times. */
export function times(most: number): Blank<number> {
  return {
    expected: 'how often, as in twice or 3 times',
    usual: 2,
    read: (words, at) => {
      const known = named(words, at, [
        ['once', 1],
        ['twice', 2],
      ])
      const count = numberIn(words[at])
      const next = at + 1
      const said = words[next]?.text.toLowerCase()
      return count !== undefined && (said === 'times' || said === 'time') ? [{ value: count, next: next + 1 }] : known
    },
    print: (count) => (count === 1 ? 'once' : count === 2 ? 'twice' : `${inWords(count)} times`),
    fault: (count) =>
      count < 1
        ? { message: 'is too few: expected once or more', instead: 1 }
        : count > most
          ? { message: `is too many: expected at most ${inWords(most)} times`, instead: most }
          : undefined,
  }
}

// Intervals.

/** The names of intervals by semitones; the first is printed. Common names, no source. */
const INTERVALS: readonly (readonly string[])[] = [
  ['a unison'],
  ['a half-step', 'a half step', 'a semitone', 'a minor second'],
  ['a whole step', 'a whole-step', 'a whole tone', 'a tone', 'a second', 'a major second', 'a step'],
  ['a minor third'],
  ['a third', 'a major third'],
  ['a fourth', 'a perfect fourth'],
  ['a tritone', 'an augmented fourth', 'a diminished fifth'],
  ['a fifth', 'a perfect fifth'],
  ['a minor sixth'],
  ['a sixth', 'a major sixth'],
  ['a minor seventh'],
  ['a seventh', 'a major seventh'],
  ['an octave'],
  ['a minor ninth'],
  ['a ninth', 'a major ninth'],
  ['a minor tenth'],
  ['a tenth', 'a major tenth'],
]
const INTERVAL_NAMES = INTERVALS.flatMap((names, semitones) => names.map((name): [string, number] => [name, semitones]))
const SEMITONES = ['semitones', 'semitone', 'half-steps', 'half-step']

/** The widest interval that a sentence may ask for: three octaves. */
export const WIDEST = 36

/** An interval in semitones. */
export const INTERVAL: Blank<number> = {
  expected: 'an interval, as in a fourth or 5 semitones',
  usual: 5,
  read: (words, at) => {
    const count = words[at]?.text === '0' ? 0 : numberIn(words[at])
    if (count !== undefined && SEMITONES.includes(words[at + 1]?.text.toLowerCase() ?? ''))
      return [{ value: count, next: at + 2 }]
    const bare = INTERVAL_NAMES.map(([name, semitones]): [string, number] => [name.replace(/^an? /, ''), semitones])
    return named(words, at, [...INTERVAL_NAMES, ...bare])
  },
  print: (semitones) => INTERVALS[semitones]?.[0] ?? `${semitones} semitones`,
  names: INTERVAL_NAMES.map(([name]) => name),
  fault: (semitones) =>
    semitones > WIDEST
      ? { message: `is wider than three octaves, the most that is asked for`, instead: WIDEST }
      : undefined,
}

/** A number of semitones to either side, 1 to 24. */
export const SEMITONES_AROUND: Blank<number> = {
  expected: 'a number of semitones, as in 5 semitones',
  usual: 5,
  read: (words, at) => {
    const count = numberIn(words[at])
    return count !== undefined && SEMITONES.includes(words[at + 1]?.text.toLowerCase() ?? '')
      ? [{ value: count, next: at + 2 }]
      : []
  },
  print: (count) => (count === 1 ? '1 semitone' : `${count} semitones`),
  fault: (count) =>
    count < 1 || count > 24
      ? { message: 'is out of reach: expected 1 to 24 semitones', instead: Math.min(24, Math.max(1, count)) }
      : undefined,
}

// Degrees.

/** A degree that a note is to be. Without an accidental it is the chord's own; 1 is its root, or its bass where one is written. */
export interface TargetDegree {
  /** 1 to 7, 9, 11, 13 */
  readonly number: number
  /** semitones from the major or perfect interval; `undefined`: whatever the chord has */
  readonly alter: number | undefined
}

const ORDINALS: readonly (readonly [word: string, number: number])[] = [
  ['root', 1],
  ['octave', 1],
  ['second', 2],
  ['third', 3],
  ['fourth', 4],
  ['fifth', 5],
  ['sixth', 6],
  ['seventh', 7],
  ['ninth', 9],
  ['eleventh', 11],
  ['thirteenth', 13],
]

const ALTERED: Readonly<Record<string, number>> = { flat: -1, sharp: 1 }

function targetIn(words: readonly Word[], at: number): Taken<TargetDegree> | undefined {
  const from = words[at]?.text.toLowerCase() === 'the' ? at + 1 : at
  const word = words[from]?.text ?? ''
  const accidental = ALTERED[word.toLowerCase()]
  const noun = words[accidental === undefined ? from : from + 1]?.text.toLowerCase()
  const ordinal = ORDINALS.find(([name]) => name === noun)?.[1]
  if (ordinal !== undefined && !(ordinal === 1 && accidental !== undefined))
    return {
      value: { number: ordinal, alter: accidental },
      next: accidental === undefined ? from + 1 : from + 2,
    }
  const degree = parseDegree(word.replaceAll('♯', '#').replaceAll('♭', 'b'))
  if (!degree) return undefined
  const value = targetOf(degree, /^\d/.test(word))
  return value && { value, next: from + 1 }
}

/** The root, third, fifth and seventh of the octave above are those of the one below; a lowered or raised root is none. */
function targetOf({ number, alter }: Degree, own: boolean): TargetDegree | undefined {
  const low = number === 15 ? 1 : [8, 10, 12, 14].includes(number) ? number - 7 : number
  if (low === 1 && !own) return undefined
  return { number: low, alter: own ? undefined : alter }
}

function printTarget({ number, alter }: TargetDegree): string {
  if (alter !== undefined) return formatDegree({ number, alter })
  return `the ${ORDINALS.find(([, of]) => of === number)![0]}`
}

/** Degrees, any of which will do: `the third, the fifth or b7`. At least one. */
export const DEGREES: Blank<readonly TargetDegree[]> = {
  expected: 'a degree, as in the third or b7',
  usual: [{ number: 3, alter: undefined }],
  read: (words, at) => listOf(words, at, targetIn),
  print: (degrees) => degrees.map(printTarget).join(' or '),
  names: ORDINALS.map(([name]) => `the ${name}`),
}

/** One and then others, parted by `or` or commas; what is listed twice stands once. All the lengths that can be read, the longest first. */
function listOf<Value>(
  words: readonly Word[],
  at: number,
  read: (words: readonly Word[], at: number) => Taken<Value> | undefined,
): readonly Taken<readonly Value[]>[] {
  const lists: Taken<readonly Value[]>[] = []
  let values: readonly Value[] = []
  let next = at
  for (;;) {
    const one = read(words, next)
    if (!one) return lists.reverse()
    const key = JSON.stringify(one.value)
    if (!values.some((value) => JSON.stringify(value) === key)) values = [...values, one.value]
    lists.push({ value: values, next: one.next })
    next = one.next
    if (words[next]?.text === ',') next++
    if (words[next]?.text.toLowerCase() === 'or') next++
    if (next === one.next) return lists.reverse()
  }
}

/** Names of a table, any of which will do. */
export function anyOf<Name extends string>(
  expected: string,
  usual: Name,
  table: Readonly<Record<Name, string>>,
): Blank<readonly Name[]> {
  const rows = Object.entries(table).map(([name, text]): [string, Name] => [text as string, name as Name])
  return {
    expected,
    usual: [usual],
    read: (words, at) => listOf(words, at, (all, from) => named(all, from, rows)[0]),
    print: (names) => names.map((name) => table[name]).join(' or '),
    names: rows.map(([text]) => text),
  }
}

/** One name of a table. */
export function oneOf<Name extends string>(
  expected: string,
  usual: Name,
  table: Readonly<Record<Name, string>>,
): Blank<Name> {
  const rows = Object.entries(table).map(([name, text]): [string, Name] => [text as string, name as Name])
  return {
    expected,
    usual,
    read: (words, at) => named(words, at, rows),
    print: (name) => table[name],
    names: rows.map(([text]) => text),
  }
}

// Cells.

/** A cell of one bar in its notation, as it is printed; it takes the rest of the sentence. */
export const CELL: Blank<string> = {
  expected: 'a rhythm as it is counted, as in 1 2& 3 4',
  usual: '1 2 3 4',
  read: (words, at) => {
    const rest = words.slice(at).map((word) => word.text)
    if (rest.length === 0) return []
    const text = rest.join(' ')
    const reading = parseCell(text)
    return [{ value: reading.ok ? printCell(reading.cell) : text, next: words.length }]
  },
  print: (notation) => notation,
  fault: (notation) => {
    const reading = parseCell(notation)
    if (!reading.ok) return { message: `is no cell: ${reading.message}` }
    return reading.cell.bars === 1 ? undefined : { message: `is ${reading.cell.bars} bars long: expected one` }
  },
}

/** The onsets of a cell that have pitches, in order of time. */
export function struckOnsets(cell: Cell): readonly CellOnset[] {
  return cell.onsets.filter((onset) => !onset.ghost && !onset.continues)
}

/**
 * Whether a cell has one note at least and so many at most, dead ones apart. What it holds from before counts: it is struck where nothing
 * came before.
 */
export function hasFewNotes({ onsets }: Cell, most: number): boolean {
  const notes = onsets.filter((onset) => !onset.ghost).length
  return notes > 0 && notes <= most
}

// Patterns.

/** The id of a pattern, or a pattern of one's own in its notation, in quotes; the value is as the vocabulary names it. */
export const PATTERN: Blank<string> = {
  expected: 'a pattern, as in walking-below or "1 3 5 6"',
  usual: 'root-fifth-up',
  read: (words, at) => {
    const first = words[at]?.text
    if (first === undefined) return []
    if (!/^["“”„]/.test(first))
      return /^[a-z]+(-[a-z]+)*$/i.test(first) ? [{ value: first.toLowerCase(), next: at + 1 }] : []
    const last = words.findIndex((word, i) => i >= at && /["“”]$/.test(word.text) && (i > at || word.text.length > 1))
    if (last < 0) return []
    const text = words
      .slice(at, last + 1)
      .map((word) => word.text)
      .join(' ')
    return [{ value: text.replace(/["“”„]/g, '').trim(), next: last + 1 }]
  },
  print: (pattern) => (/^[a-z]{2}[a-z-]*$/.test(pattern) ? pattern : `"${pattern}"`),
  fault: (pattern) => {
    if (patternOf(pattern)) return undefined
    if (/^[a-z]{2}[a-z-]*$/.test(pattern)) {
      const near = nearest(
        pattern,
        PATTERNS.map(({ id }) => id),
      )
      return { message: 'is no pattern that we know; one of your own stands in quotes', instead: near }
    }
    const reading = parsePattern(pattern)
    return reading.ok ? undefined : { message: `is no pattern: ${reading.message}` }
  },
}
