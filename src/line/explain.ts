import type { Form } from '../chart/form.ts'
import { type Chord, degreeAt } from '../music/chord.ts'
import { type Degree, formatDegree, parseDegree, semitonesOf } from '../music/degree.ts'
import type { Instrument } from '../music/instrument.ts'
import type { Key } from '../music/key.ts'
import { LETTERS, parseNoteName, pitchClassOfName } from '../music/note-name.ts'
import { type Pitch, pitchClassOf } from '../music/pitch.ts'
import { spellPitch } from '../music/spelling.ts'
import type { Slot } from '../rhythm/slot.ts'
import type { Line, LineNote, NoteFunction, SearchedLine, SearchedNote } from './line.ts'

/** What explaining a line needs beside the line. */
export interface Explaining {
  readonly form: Form
  readonly instrument: Instrument
  readonly key: Key | undefined
  /** the last note leads into the first */
  readonly loop: boolean
}

/** A searched line with each note's degree, function and spelled name, and with its dead notes put in their places. */
export function explain(line: SearchedLine, context: Explaining): Line {
  const functions = line.notes.map((_, index) => functionOf(line.notes, index, context))
  const names = namesOf(line.notes, context)
  const sounded = line.notes.map((note, index): LineNote => {
    const name = names[index]!
    const does = functions[index]!
    const chord = chordOf(context.form, note.slot)
    const degree = isMotion(does)
      ? spelledDegree(chord, note.pitch, name)
      : degreeAt(chord, pitchClassOf(note.pitch)).degree
    return { ...note, name, degree: formatDegree(numbered(degree, note)), function: does }
  })
  const notes = withGhosts(sounded, line.ghosts, context)
  return { notes, terms: line.terms, cost: line.cost, provenWithin: line.provenWithin }
}

/** The chord a slot belongs to. */
function chordOf(form: Form, slot: Slot): Chord {
  const chord = form.changes[slot.changeIndex]?.chord
  if (!chord) throw new RangeError(`slot at tick ${slot.startTick} has no chord`)
  return chord
}

const isMotion = (does: NoteFunction): boolean =>
  does === 'passing' || does === 'neighbour' || does === 'approach' || does === 'enclosure'

/** Degrees by semitones above the root, counted as they sound. */
const BY_SOUND = ['1', 'b9', '9', 'b3', '3', '11', 'b5', '5', 'b6', '6', 'b7', '7'].map((text) => parseDegree(text)!)

/** Single alterations that name no degree: they are counted as they sound, F under F# as 7. */
const NEVER_WRITTEN = ['b1', '#3', 'b4', '#7']

/** What a note on its way is to the root as it is spelled, F# over C a #4; as it sounds where no degree is written so. */
function spelledDegree({ symbol, rootPc }: Chord, pitch: Pitch, spelled: string): Degree {
  const name = parseNoteName(spelled.replace(/-?\d+$/, ''))
  if (!name) throw new RangeError(`a note's name is a letter with an octave, as F#1, not '${spelled}'`)
  const steps = (LETTERS.indexOf(name.letter) - LETTERS.indexOf(symbol.root.letter) + 7) % 7
  const natural = semitonesOf({ number: steps + 1, alter: 0 })
  const up = pitchClassOf(pitchClassOfName(name) - rootPc - natural)
  const alter = up > 6 ? up - 12 : up
  const degree = { number: steps + 1, alter }
  const written = Math.abs(alter) < 2 && !NEVER_WRITTEN.includes(formatDegree(degree))
  return written ? degree : BY_SOUND[pitchClassOf(pitch - rootPc)]!
}

/** A tension of a pattern keeps its own number, 9 and not 2. */
function numbered(degree: Degree, { number }: SearchedNote): Degree {
  const isTension = number === 9 || number === 11 || number === 13
  return isTension && degree.number === number - 7 ? { ...degree, number } : degree
}

/** The change at which a slot's chord began to sound. */
function arrivalOf(form: Form, slot: Slot): number {
  let index = slot.changeIndex
  while (index > 0 && form.changes[index]!.held) index--
  return index
}

const isStep = (interval: number): boolean => interval !== 0 && Math.abs(interval) <= 2

/**
 * What a note does. Tones of the chord are named by their degree; a note off the chord that is left by step moves: into a change
 * or a chord tone reached from elsewhere it is an approach (an enclosure, if a note off the chord came from the other side), on in the same direction passing, back
 * again a neighbour. What is left off the chord is a tension.
 */
function functionOf(notes: readonly SearchedNote[], index: number, { form, loop }: Explaining): NoteFunction {
  const note = notes[index]!
  if (note.slot.pushed) return 'anticipation'
  const chord = chordOf(form, note.slot)
  const { degree, standing } = degreeAt(chord, pitchClassOf(note.pitch))
  if (pitchClassOf(note.pitch) === chord.bassPc) return 'root'
  if (standing === 'tone') {
    switch (((degree.number - 1) % 7) + 1) {
      case 1:
        return 'root'
      case 3:
        return 'third'
      case 5:
        return 'fifth'
      case 7:
        return 'seventh'
      default:
        return 'tension'
    }
  }
  const next = otherPitch(notes, index, 1, loop)
  const before = otherPitch(notes, index, -1, loop)
  if (!next) return 'tension'
  const leaving = next.pitch - note.pitch
  const changes = arrivalOf(form, next.slot) !== arrivalOf(form, note.slot)
  if (!isStep(leaving)) {
    const fifth = leaving === -7 || leaving === 5
    const intoRoot = changes && pitchClassOf(next.pitch) === chordOf(form, next.slot).bassPc
    return fifth && intoRoot ? 'approach' : 'tension'
  }
  const entering = before ? note.pitch - before.pitch : 0
  if (changes) {
    if (!before || degreeAt(chordOf(form, before.slot), pitchClassOf(before.pitch)).standing === 'tone')
      return 'approach'
    const onOtherSide = (before.pitch - next.pitch) * (note.pitch - next.pitch) < 0
    return onOtherSide && isStep(before.pitch - next.pitch) ? 'enclosure' : 'approach'
  }
  if (isStep(entering)) return Math.sign(entering) === Math.sign(leaving) ? 'passing' : 'neighbour'
  return 'approach'
}

/** The next note, or with -1 the note before, of another pitch: one that is struck again is one note on its way. */
function otherPitch(
  notes: readonly SearchedNote[],
  index: number,
  step: 1 | -1,
  loop: boolean,
): SearchedNote | undefined {
  for (let away = step; Math.abs(away) < notes.length; away += step) {
    const at = index + away
    if (!loop && (at < 0 || at >= notes.length)) return undefined
    const note = notes.at(at % notes.length)!
    if (note.pitch !== notes[index]!.pitch) return note
  }
  return undefined
}

/**
 * Spelled from the last note to the first: a note on its way takes its letter from where it goes. The first of two chromatic notes
 * in a row has the same target as the second: Bb B C. So has one before a chord tone that leads on by half-step into a change, unless
 * a longer rise or fall by half-steps comes through it: F Bb B | C, but A A# B | C.
 */
function namesOf(notes: readonly SearchedNote[], context: Explaining): readonly string[] {
  const { loop } = context
  const names: string[] = new Array(notes.length)
  const at = (index: number) => (loop ? notes.at(index % notes.length) : index < 0 ? undefined : notes[index])
  let next = loop && notes.length > 0 ? spelled(notes[0]!, undefined, undefined, context) : undefined
  for (let index = notes.length - 1; index >= 0; index--) {
    next = spelled(notes[index]!, at(index - 1), next, context)
    names[index] = next.name
  }
  return names
}

/** A note with its name, for the notes before it. */
interface Aim {
  readonly note: SearchedNote
  readonly name: string
  /** true if it is named by where it goes */
  readonly onTheWay: boolean
  /** the note after it */
  readonly beyond: Aim | undefined
}

function spelled(
  note: SearchedNote,
  before: SearchedNote | undefined,
  next: Aim | undefined,
  { form, key }: Explaining,
): Aim {
  const chord = chordOf(form, note.slot)
  const { standing } = degreeAt(chord, pitchClassOf(note.pitch))
  const leaving = next ? next.note.pitch - note.pitch : 0
  const onTheWay = standing === 'chromatic' && isStep(leaving)
  let aim = next
  const beyond = next?.beyond
  if (onTheWay && beyond && beyond.note.pitch - next.note.pitch === leaving && isStep(2 * leaving)) {
    const leads = arrivalOf(form, beyond.note.slot) !== arrivalOf(form, next.note.slot)
    const isRun = before !== undefined && note.pitch - before.pitch === leaving
    if (next.onTheWay || (leads && !isRun)) aim = beyond
  }
  const name = spellPitch(note.pitch, {
    chord,
    ...(key ? { key } : {}),
    ...(onTheWay ? { as: { kind: 'approach', target: aim!.note.pitch, targetName: aim!.name } } : {}),
  })
  return { note, name, onTheWay, beyond: next }
}

/** So many notes on, a note's name no longer depends on them. */
const AIM = 4

/** The name of another pitch in the place of a note, in ASCII with its octave. */
export function nameAt(notes: readonly SearchedNote[], index: number, pitch: Pitch, context: Explaining): string {
  const rest = context.loop ? [...notes.slice(index + 1), ...notes] : notes.slice(index + 1)
  const before = notes.at(context.loop || index > 0 ? index - 1 : notes.length)
  const round = [...(before ? [before] : []), { ...notes[index]!, pitch }, ...rest.slice(0, AIM - 1)]
  return namesOf(round, { ...context, loop: false })[before ? 1 : 0]!
}

/** Dead notes lie on the string under the hand and have the pitch last fretted there; at the very start, the next note's string, open. */
function withGhosts(
  notes: readonly LineNote[],
  ghosts: readonly Slot[],
  { form, instrument, key }: Explaining,
): LineNote[] {
  const all = [...notes]
  for (const slot of ghosts) {
    const before = notes.findLast((note) => note.slot.startTick < slot.startTick)
    const next = notes.find((note) => note.slot.startTick > slot.startTick)
    const string = before?.string ?? next?.string ?? 0
    const fretted = before ? { pitch: before.pitch, fret: before.fret } : { pitch: instrument.open[string]!, fret: 0 }
    const chord = chordOf(form, slot)
    all.push({
      slot,
      pitch: fretted.pitch,
      string,
      fret: fretted.fret,
      hand: before?.hand ?? next?.hand ?? 1,
      name: before?.name ?? spellPitch(fretted.pitch, { chord, ...(key ? { key } : {}) }),
      degree: formatDegree(degreeAt(chord, pitchClassOf(fretted.pitch)).degree),
      function: 'ghost',
      pattern: undefined,
      terms: [],
    })
  }
  return all.sort((a, b) => a.slot.startTick - b.slot.startTick)
}
