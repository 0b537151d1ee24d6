import type { Form } from '../../src/chart/form.ts'
import type { GrooveLine, GrooveNote } from '../../src/line/groove/groove.ts'
import { type Chord, degreeAt } from '../../src/music/chord.ts'
import { countTicks, formatMetre, isCompound } from '../../src/music/metre.ts'
import { pitchClassOf } from '../../src/music/pitch.ts'

// What must never happen in a feel, read from the notes of a line alone: neither roles nor kinds of degrees are taken from the search.

/** Counts on which the second half, or a later group, of a bar begins. */
const MIDDLES: Readonly<Record<string, readonly number[]>> = {
  '4/4': [3],
  '12/8': [7],
  '6/8': [4],
  '5/4': [4],
  '7/8': [3, 5],
  '3/4': [],
}

/** A bar of a line. */
interface Bar {
  readonly index: number
  readonly ticks: number
  readonly metre: Form['bars'][number]['metre']
  /** struck in it, without dead notes */
  readonly notes: readonly GrooveNote[]
  /** from the bar line, where notes are struck */
  readonly onsets: readonly number[]
  /** from the bar line, where chords arrive */
  readonly arrivals: readonly number[]
  /** a note sounds into it from the bar before */
  readonly heldInto: boolean
}

/**
 * What a line does that must never happen, as `bar 3: rest one`; none where all is well.
 *
 * `degree` and `only` do not bind fills and walks; `strike one` begins with the second bar. A place sounds that a push holds.
 */
export function breachesOf(never: readonly string[], form: Form, line: GrooveLine): readonly string[] {
  return barsOf(form, line).flatMap((bar) =>
    never.filter((row) => breaks(row, bar, form, line)).map((row) => `bar ${bar.index + 1}: ${row}`),
  )
}

function barsOf(form: Form, line: GrooveLine): readonly Bar[] {
  return form.bars
    .filter((bar) => bar.changes.every((change) => change.chord))
    .map(({ index, startTick, ticks, metre, changes }) => {
      const notes = line.notes.filter(
        (note) => note.slot.startTick >= startTick && note.slot.startTick < startTick + ticks,
      )
      return {
        index,
        ticks,
        metre,
        notes,
        onsets: notes.map((note) => note.slot.startTick - startTick),
        arrivals: changes.filter((change) => !change.held).map((change) => change.startTick - startTick),
        heldInto: line.notes.some(({ slot }) => slot.startTick < startTick && slot.startTick + slot.ticks > startTick),
      }
    })
}

function breaks(row: string, bar: Bar, form: Form, line: GrooveLine): boolean {
  const [what, first, second] = row.split(' ') as [string, string?, string?]
  const { notes, onsets } = bar
  const isFigure = (note: GrooveNote) => note.source === 'fill' || note.source === 'walk'
  const in_ = (place: string) => notes.filter((note, at) => !isFigure(note) && isIn(place, onsets[at]!, bar))
  switch (what) {
    case 'leap-over':
      return notes.slice(1).some((note, at) => Math.abs(note.pitch - notes[at]!.pitch) > Number(first))
    case 'notes-over':
      return notes.length > Number(first)
    case 'degree':
      return in_(second!).some((note) => isKind(first!, note, form))
    case 'only':
      return in_(second!).some((note) => !isKind(first!, note, form))
    case 'rest':
      return placesOf(first!, bar).some((tick) => !onsets.includes(tick) && !(tick === 0 && bar.heldInto))
    case 'strike':
      return bar.index > 0 && placesOf(first!, bar).some((tick) => onsets.includes(tick))
    case 'finer-than':
      return [
        ...onsets,
        ...line.ghosts.filter((slot) => slot.barIndex === bar.index).map((slot) => slot.startTick),
      ].some((tick) => tick % 240 !== 0)
    case 'push':
      return notes.some((note) => note.slot.pushed)
    case 'one-degree':
      return new Set(notes.map((note) => pitchClassOf(note.pitch))).size === 1
    default:
      throw new Error(`"${row}" is not in the grammar`)
  }
}

/** The places of a bar that a word means, in ticks from its bar line. */
function placesOf(place: string, { metre }: Bar): readonly number[] {
  const counts = { one: [1], four: [4], mid: MIDDLES[formatMetre(metre)]! }[place]
  if (!counts) throw new Error(`"${place}" is no place of a bar`)
  return counts.map((count) => (count - 1) * countTicks(metre))
}

/** Whether an onset is in a place: a chord arrives on `one` wherever that is; `back` is any other beat. */
function isIn(place: string, tick: number, bar: Bar): boolean {
  const isOne = tick === 0 || bar.arrivals.includes(tick)
  if (place === 'one') return isOne
  if (place === 'mid') return !isOne && placesOf('mid', bar).includes(tick)
  if (place !== 'back') throw new Error(`"${place}" is no place of a note`)
  const beat = isCompound(bar.metre) ? 720 : 480
  return !isOne && !placesOf('mid', bar).includes(tick) && tick % beat === 0 && tick < bar.ticks - beat
}

/** Whether a note is of a kind, against the chord that it belongs to: the bass of a slash chord is its root. */
function isKind(kind: string, note: GrooveNote, form: Form): boolean {
  const chord = chordOf(note, form)
  const pitchClass = pitchClassOf(note.pitch)
  const isBass = pitchClass === chord.bassPc
  switch (kind) {
    case '1':
      return isBass
    case '3':
      return !isBass && chord.tones.some((tone) => tone.number === 3 && hasPitchClass(chord, tone, pitchClass))
    case '4':
      return !isBass && degreeAt(chord, pitchClass).standing === 'scale' && [2, 4].includes(numberOf(chord, pitchClass))
    case 'x':
      return !isBass && note.target === undefined && degreeAt(chord, pitchClass).standing === 'chromatic'
    default:
      throw new Error(`"${kind}" is no kind that is checked`)
  }
}

function numberOf(chord: Chord, pitchClass: number): number {
  return ((degreeAt(chord, pitchClass).degree.number - 1) % 7) + 1
}

function hasPitchClass(chord: Chord, { number, alter }: Chord['tones'][number], pitchClass: number): boolean {
  const natural = [0, 2, 4, 5, 7, 9, 11][(number - 1) % 7]!
  return pitchClassOf(chord.rootPc + natural + alter) === pitchClass
}

/** A pushed note belongs to the chord that it anticipates, a lead to the one that it leads into. */
function chordOf({ slot, source }: GrooveNote, form: Form): Chord {
  const barEnd = form.bars[slot.barIndex]!.startTick + form.bars[slot.barIndex]!.ticks
  const at = slot.pushed || source === 'lead' ? barEnd % form.ticks : slot.startTick
  return form.changes.find((change) => change.startTick <= at && at < change.startTick + change.ticks)!.chord!
}
