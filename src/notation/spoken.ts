import type { Line, LineNote } from '../line/line.ts'
import { type Degree, parseDegree } from '../music/degree.ts'
import { countTicks, isCompound, type Metre } from '../music/metre.ts'
import { parseNoteName } from '../music/note-name.ts'
import type { Tick } from '../music/tick.ts'
import type { PartBar, PrintedNote } from './part.ts'
import { spokenName } from './printed-symbol.ts'
import { countAt } from './written-rhythm.ts'

// The part in words, for readers who do not see it: one sentence a bar and one a note.

/** What a bar or a note belongs to. */
export interface SpokenContext {
  readonly line: Line
  /** strings of the bass */
  readonly strings: number
}

/** A note in words. */
export interface SpokenNote {
  /** index into the line's notes */
  readonly noteIndex: number
  readonly text: string
}

/** A bar in words, and its struck notes in order of time. */
export interface SpokenBar {
  /** `bar 4, section B: C minor seven, F seven on beat 3` */
  readonly text: string
  readonly notes: readonly SpokenNote[]
}

/** A bar in words: its number, what changes in it, its chords, and each note that is struck in it. */
export function spokenBar(bar: PartBar, context: SpokenContext): SpokenBar {
  const { number, section, metre, metreChanges, symbols, signs } = bar
  const head = [
    spokenNumber(number),
    section === undefined ? '' : `section ${section}`,
    metreChanges ? `in ${metre.upper} ${metre.lower}` : '',
  ]
  const chords = symbols.map(({ spoken, startTick }) =>
    startTick === bar.startTick ? spoken : `${spoken} on ${spokenPlace(metre, startTick - bar.startTick)}`,
  )
  const [first] = signs
  const held =
    first?.kind === 'note' && first.tiedFromBefore
      ? `${spokenPitch(context.line.notes[first.noteIndex]!)} held over`
      : ''
  const silent = signs.every(({ kind }) => kind === 'rest') ? 'rest' : ''
  const body = [chords.join(', '), held, silent].filter((words) => words !== '').join('; ')
  const words = head.filter((word) => word !== '').join(', ')
  const notes = signs
    .filter((sign): sign is PrintedNote => sign.kind === 'note' && !sign.tiedFromBefore)
    .map((note) => ({ noteIndex: note.noteIndex, text: spokenNote(note, bar, context) }))
  return { text: body === '' ? words : `${words}: ${body}`, notes }
}

/** A printed note in words: `bar 6, beat 4: D flat, third string fret 4, approach from above`. */
export function spokenNote(printed: PrintedNote, bar: PartBar, { line, strings }: SpokenContext): string {
  const note = line.notes[printed.noteIndex]!
  const place = `${spokenNumber(bar.number)}, ${spokenPlace(bar.metre, printed.startTick - bar.startTick)}`
  const string = `${ORDINALS[strings - note.string]} string`
  if (printed.head === 'ghost') return `${place}: dead note, ${string}`
  const words = [
    spokenPitch(note),
    note.fret === 0 ? `${string} open` : `${string} fret ${note.fret}`,
    spokenFunction(note, printed),
    printed.accent ? 'accented' : '',
    printed.length ?? '',
  ]
  return `${place}: ${words.filter((word) => word !== '').join(', ')}`
}

const spokenNumber = (bar: number): string => (bar === 0 ? 'pick-up bar' : `bar ${bar}`)

/** 0 is not used: strings are counted from the highest, degrees from the root. */
const ORDINALS = [
  ...['', 'first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'octave', 'ninth', 'tenth'],
  ...['eleventh', 'twelfth', 'thirteenth', 'fourteenth', 'fifteenth'],
]

/**
 * A place of the bar in words, as it is counted; what no syllable names is `after` the last that one does.
 *
 * @example
 * spokenPlace({ upper: 4, lower: 4, groups: [1, 1, 1, 1] }, 720) // => 'beat 2 and'
 * spokenPlace({ upper: 12, lower: 8, groups: [3, 3, 3, 3] }, 1200) // => 'beat 2, eighth 3'
 */
export function spokenPlace(metre: Metre, tick: Tick): string {
  const unit = countTicks(metre)
  const whole = Math.floor(tick / unit)
  const name = isCompound(metre) ? compoundBeat(whole) : `${metre.lower === 8 ? 'eighth' : 'beat'} ${whole + 1}`
  if (tick % unit === 0) return name
  const syllable = countAt(tick, unit)
  return syllable === undefined ? `after ${name}` : `${name} ${syllable}`
}

/** A dotted beat, and which of its three eighths unless it is the first. */
function compoundBeat(eighths: number): string {
  const beat = `beat ${Math.floor(eighths / 3) + 1}`
  return eighths % 3 === 0 ? beat : `${beat}, eighth ${(eighths % 3) + 1}`
}

function spokenPitch({ name }: LineNote): string {
  const letter = parseNoteName(name.replace(/-?\d+$/, ''))
  if (!letter) throw new RangeError(`a note's name is a letter with an octave, as F#1, not '${name}'`)
  return spokenName(letter)
}

function spokenFunction(note: LineNote, { mark }: PrintedNote): string {
  const from = mark === 'motion-down' ? 'above' : mark === 'motion-up' ? 'below' : undefined
  const degree = parseDegree(note.degree)
  switch (note.function) {
    case 'approach':
    case 'enclosure':
      return from ? `${note.function} from ${from}` : note.function
    case 'passing':
      return mark === 'motion-down' ? 'passing down' : mark === 'motion-up' ? 'passing up' : 'passing'
    case 'neighbour':
      return from === 'above' ? 'upper neighbour' : from === 'below' ? 'lower neighbour' : 'neighbour'
    case 'anticipation':
      return `${degree ? spokenDegree(degree) : 'note'} of the chord to come`
    case 'ghost':
      return 'dead note'
    case 'root':
      return degree && degree.number % 7 !== 1 ? `bass, ${spokenDegree(degree)} of the chord` : 'root'
    default:
      return degree ? spokenDegree(degree) : note.function
  }
}

const ALTERED = ['double flat ', 'flat ', '', 'sharp ', 'double sharp ']

/** A degree in words: `flat third`, `root`. */
function spokenDegree({ number, alter }: Degree): string {
  return number === 1 && alter === 0 ? 'root' : `${ALTERED[alter + 2]}${number === 1 ? 'root' : ORDINALS[number]}`
}
