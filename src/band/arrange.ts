import type { Form } from '../chart/form.ts'
import type { Line } from '../line/line.ts'
import type { ArrangedBar, Arrangement, PartName, TextMark, WrittenNote, WrittenPart } from '../music/arrangement.ts'
import { type ChordSymbol, normaliseChordText } from '../music/chord-symbol.ts'
import type { Key } from '../music/key.ts'
import type { Metre } from '../music/metre.ts'
import { formatNoteName } from '../music/note-name.ts'
import { microsPerQuarterOf, quartersPerMinute } from '../music/tempo-map.ts'
import type { BandTable } from './band-table.ts'
import { type BandOfMetre, barPlaces } from './bar-place.ts'
import { clickNotes } from './click.ts'
import { compingNotes } from './comping.ts'
import { drumNotes } from './drums.ts'

/** What is arranged. */
export interface ArrangeTask {
  readonly title: string
  /** as it is played: all choruses */
  readonly form: Form
  /** over the same form */
  readonly line: Line
  /** the chart's metre: its beat is what the tempo counts */
  readonly metre: Metre
  /** beats a minute; in bars of other metres the quarter keeps its length */
  readonly tempoBpm: number
  readonly key: Key | undefined
  /** the feel's own table: programs, and sound and register of the chords in metres that have none */
  readonly band: BandTable
  /** tables by metre, the feel's own among them */
  readonly bandOfMetre: BandOfMetre
  /** who plays */
  readonly parts: readonly PartName[]
  /** the first bar follows the last */
  readonly loop: boolean
}

/** In the order of the tracks of a file. */
const PARTS: readonly PartName[] = ['bass', 'chords', 'drums', 'click']

/** The line as the bass player's part. */
function bassNotes(line: Line): readonly WrittenNote[] {
  return line.notes.map(({ slot, pitch, string }) => ({
    startTick: slot.startTick,
    ticks: slot.ticks,
    pitch,
    velocity: undefined,
    share: undefined,
    accent: slot.accent,
    length: slot.length,
    ghost: slot.ghost,
    tied: slot.pushed,
    string,
  }))
}

/** A chord symbol in ASCII, in the one spelling that is printed; one that no quality is exactly, as it was typed. */
function chordName({ text, root, quality, exact, bass }: ChordSymbol): string {
  if (!exact) return normaliseChordText(text).replaceAll('Δ', 'maj').replaceAll('°', 'dim').replaceAll(/ø7?/g, 'm7b5')
  return formatNoteName(root) + quality.suffix + (bass ? `/${formatNoteName(bass)}` : '')
}

/** Chord symbols where they change, `N.C.` where they cease. */
function chordNames(form: Form): readonly TextMark[] {
  return form.changes
    .filter((change) => !change.held)
    .map(({ startTick, chord }) => ({ tick: startTick, text: chord ? chordName(chord.symbol) : 'N.C.' }))
}

function sectionNames(form: Form): readonly TextMark[] {
  return form.bars.flatMap(({ startTick, section }) =>
    section === undefined ? [] : [{ tick: startTick, text: section }],
  )
}

/**
 * The written parts of the band over a form: the line, chords, drums and click as far as they are asked for, in this order.
 *
 * @throws RangeError  if the form has no bars, or the tempo does not fit into a MIDI file
 */
export function arrange(task: ArrangeTask): Arrangement {
  const { form, band, loop } = task
  if (form.bars.length === 0) throw new RangeError('A form without bars cannot be arranged')
  const [usual] = band.comping
  if (!usual) throw new RangeError('A band needs a comping row')
  const bars = form.bars.map(({ startTick, ticks, metre }): ArrangedBar => ({ startTick, ticks, metre }))
  const places = barPlaces(form.bars, task.bandOfMetre)
  const comping = compingNotes(form.bars, places, form.changes, usual, loop)

  // Where bass and chords push together, the kick marks it.
  const pushes = task.line.notes.filter(({ slot }) => slot.pushed && comping.pushes.includes(slot.startTick))
  const parts: Readonly<Record<PartName, () => WrittenPart>> = {
    bass: () => ({ name: 'bass', program: band.bassProgram, notes: bassNotes(task.line) }),
    chords: () => ({ name: 'chords', program: usual.program, notes: comping.notes }),
    drums: () => ({
      name: 'drums',
      program: undefined,
      notes: drumNotes(
        form.bars,
        places,
        pushes.map(({ slot }) => slot.startTick),
        loop,
      ),
    }),
    click: () => ({ name: 'click', program: undefined, notes: clickNotes(bars) }),
  }
  return {
    title: task.title,
    ticks: form.ticks,
    tempo: [{ tick: 0, microsPerQuarter: microsPerQuarterOf(quartersPerMinute(task.tempoBpm, task.metre)) }],
    key: task.key,
    bars,
    sections: sectionNames(form),
    chordNames: chordNames(form),
    parts: PARTS.filter((name) => task.parts.includes(name)).map((name) => parts[name]()),
  }
}
