import type { Form } from '../../src/chart/form.ts'
import type { Instrument } from '../../src/music/instrument.ts'
import type { Slot } from '../../src/rhythm/slot.ts'
import { isReached, isStretched } from './hand.ts'
import type { Figure } from './walking-figures.ts'

// What the fretting hand does in lines, counted from their notes.

/** A note as the hand sees it. */
interface Held {
  readonly slot: Slot
  readonly pitch: number
  readonly string: number
  readonly fret: number
  readonly hand: number
}

/** A line with the form and the bass that it is for. */
export interface Fingered {
  readonly form: Form
  readonly instrument: Instrument
  readonly notes: readonly Held[]
}

/** A tally of yes and no. */
class Share {
  yes = 0
  count = 0

  add(isSo: boolean): void {
    this.count++
    if (isSo) this.yes++
  }

  figure(name: string, range?: Figure['range']): Figure {
    const value = this.count === 0 ? (range?.[1] ?? 0) : (100 * this.yes) / this.count
    return { name, value, count: this.count, ...(range ? { range } : {}) }
  }
}

/**
 * The hand's habits, counted over lines.
 *
 * - An equal bar under equal chords lies at the same frets each time.
 * - Root and fifth, root and octave, one after the other under a chord, lie as the hand has them: the fifth a string up and two frets on,
 *   the octave two strings up and two frets on, the fifth below at the same fret a string down. Only what this neck has is counted.
 * - A half step between fretted notes lies on one string where the hand that plays one of the two could play both there.
 */
export function handFigures(lines: readonly Fingered[]): readonly Figure[] {
  const sameFigure = new Share()
  const inShape = new Share()
  const oneString = new Share()
  const open = new Share()
  const stretched = new Share()
  const moves = new Share()
  for (const { form, instrument, notes } of lines) {
    const frets = new Map<string, string>()
    for (const bar of form.bars) {
      const own = notes.filter(({ slot }) => slot.barIndex === bar.index)
      if (own.length === 0) continue
      const chords = bar.changes.map(({ chord, startTick }) => `${startTick - bar.startTick}:${chord?.symbol.text}`)
      const sound = own.map(({ slot, pitch }) => `${slot.startTick - bar.startTick}=${pitch}`)
      const key = `${chords.join()} ${sound.join()}`
      const places = own.map(({ string, fret }) => `${string}:${fret}`).join()
      if (frets.has(key)) sameFigure.add(frets.get(key) === places)
      else frets.set(key, places)
    }
    for (const [index, note] of notes.entries()) {
      open.add(note.fret === 0)
      stretched.add(isStretched(instrument, note.fret, note.hand))
      const next = notes[index + 1]
      if (!next) continue
      moves.add(next.hand !== note.hand)
      const size = Math.abs(next.pitch - note.pitch)
      if (size === 1 && note.fret > 0 && next.fret > 0) {
        const allowed = instrument.open.some((string) =>
          [note.hand, next.hand].some((hand) =>
            [note, next].every(({ pitch }) => pitch > string && isReached(instrument, pitch - string, hand)),
          ),
        )
        if (allowed) oneString.add(note.string === next.string)
      }
      if (note.slot.changeIndex !== next.slot.changeIndex) continue
      const { chord } = form.changes[note.slot.changeIndex]!
      const [low, high] = note.pitch < next.pitch ? [note, next] : [next, note]
      const isRoot = (pitch: number) => chord !== undefined && (pitch - chord.bassPc) % 12 === 0
      const shape =
        size === 12 && isRoot(low.pitch)
          ? { strings: 2, frets: 2 }
          : size === 7 && isRoot(low.pitch)
            ? { strings: 1, frets: 2 }
            : size === 5 && isRoot(high.pitch)
              ? { strings: 1, frets: 0 }
              : undefined
      if (!shape) continue
      const isThere = instrument.open.some(
        (string, at) => low.pitch >= string && instrument.open[at + shape.strings] === string + size - shape.frets,
      )
      if (!isThere) continue
      inShape.add(high.string - low.string === shape.strings && high.fret - low.fret === shape.frets)
    }
  }
  return [
    sameFigure.figure('an equal bar under equal chords at the same frets', [95, 100]),
    inShape.figure('root and fifth, root and octave in shape', [98, 100]),
    oneString.figure('half steps on one string where the hand has both there'),
    open.figure('open strings'),
    stretched.figure('notes that the hand opens wide for'),
    moves.figure('notes that the hand moves for'),
  ]
}
