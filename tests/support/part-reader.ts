import type { Form } from '../../src/chart/form.ts'
import type { Line } from '../../src/line/line.ts'
import type { Instrument } from '../../src/music/instrument.ts'
import type { Key } from '../../src/music/key.ts'
import { beatsOf } from '../../src/music/metre.ts'
import type { Part, PartBar, PrintedNote } from '../../src/notation/part.ts'

/** A note as a player reads it from the staff. */
export interface ReadNote {
  readonly startTick: number
  readonly endTick: number
  /** sounding; `undefined`: a dead note */
  readonly pitch: number | undefined
  /** sounding, from string and fret */
  readonly tabPitch: number | undefined
}

/** Semitones of the letters C D E F G A B, and the order in which sharps come into a signature; flats come the other way. */
const NATURAL = [0, 2, 4, 5, 7, 9, 11]
const SHARPS = [3, 0, 4, 1, 5, 2, 6]
const ALTER = { bb: -2, b: -1, n: 0, '#': 1, '##': 2 }

/** What a signature does to a letter: the count of sharps or flats says which letters they stand on. */
function signed(letter: number, key: Key | undefined): number {
  const sharps = key?.sharps ?? 0
  const order = sharps < 0 ? SHARPS.toReversed() : SHARPS
  return order.slice(0, Math.abs(sharps)).includes(letter) ? Math.sign(sharps) : 0
}

/**
 * Reads a part as a player does: sign by sign, with the signature and the accidentals of the bar, a tie as one sound, the value of a
 * sign as its length. What it reads is independent of how it was written.
 *
 * @throws Error  where the part cannot be read: a tie to another step or to nothing
 */
export function readPart(part: Part, instrument: Instrument): readonly ReadNote[] {
  const read: ReadNote[] = []
  let tied: PrintedNote | undefined
  for (const [index, bar] of part.bars.entries()) {
    const inBar = new Map<number, number>()
    for (const sign of bar.signs) {
      const where = `bar ${bar.number}, tick ${sign.startTick - bar.startTick}`
      if (sign.kind === 'rest') {
        if (tied) throw new Error(`${where}: a tie leads to a rest`)
        continue
      }
      const fromEnd = index === 0 && sign === bar.signs[0]
      if (sign.tiedFromBefore !== (tied !== undefined) && !(fromEnd && sign.tiedFromBefore))
        throw new Error(`${where}: a tie has one end only`)
      if (tied && tied.step !== sign.step) throw new Error(`${where}: a tie leads to another step`)
      const from3 = sign.step + 22
      const letter = from3 % 7
      if (sign.accidental) inBar.set(sign.step, ALTER[sign.accidental])
      const alter = inBar.get(sign.step) ?? signed(letter, part.key)
      const written = 12 * (Math.floor(from3 / 7) + 1) + NATURAL[letter]! + alter
      const endTick = sign.startTick + sign.ticks
      // What a loop ties over its end was struck at the end.
      if (tied) read.splice(-1, 1, ...read.slice(-1).map((note) => ({ ...note, endTick })))
      else if (!sign.tiedFromBefore) {
        const { string, fret } = sign.tab!
        const ghost = sign.head === 'ghost'
        read.push({
          startTick: sign.startTick,
          endTick,
          pitch: ghost ? undefined : written + 12 * instrument.octaveWritten,
          tabPitch: fret === undefined ? undefined : instrument.open[string]! + fret,
        })
      }
      tied = sign.tiedOn ? sign : undefined
    }
  }
  return read
}

/** What is wrong with the shape of a bar, in words; empty if it can be read at sight. */
export function faultsOf(bar: PartBar): readonly string[] {
  const faults: string[] = []
  const { signs, beams, metre, startTick, ticks } = bar
  // They fill the bar.
  let at = startTick
  for (const sign of signs) {
    if (sign.startTick !== at) faults.push(`a sign at ${sign.startTick}, where ${at} was left`)
    at += sign.ticks
    const { part, dots, triplet } = sign.value
    const value = (1920 / part) * (dots === 0 ? 1 : 1.5) * (triplet ? 2 / 3 : 1)
    const silent = sign.kind === 'rest' && sign.ticks === ticks && part === 1
    if (value !== sign.ticks && !silent) faults.push(`a value of ${value} that lasts ${sign.ticks}`)
  }
  if (at !== startTick + ticks) faults.push(`filled to ${at - startTick} of ${ticks}`)

  // Beams hold what has flags, all of a beat between two rests.
  const ends: number[] = []
  for (const beat of beatsOf(metre)) ends.push((ends.at(-1) ?? startTick) + beat)
  const beatOf = (index: number) => ends.findIndex((end) => signs[index]!.startTick < end)
  const flagged = (index: number) => signs[index]?.kind === 'note' && signs[index].value.part >= 8
  const joined = new Map(beams.flatMap((beam, number) => beam.map((index) => [index, number] as const)))
  for (const [index] of signs.entries()) {
    const next = index + 1
    const belong = flagged(index) && flagged(next) && beatOf(index) === beatOf(next)
    const together = joined.get(index) !== undefined && joined.get(index) === joined.get(next)
    if (belong !== together) faults.push(`signs ${index} and ${next} ${belong ? 'lack a beam' : 'have a beam'}`)
  }
  for (const beam of beams) if (beam.length < 2) faults.push(`a beam of ${beam.length}`)

  // The middle of four-four, every dotted beat, and every group can be seen.
  const inside = (edge: number, from: number, to: number) => from < edge && edge < to
  const onBeat = (tick: number) => tick === startTick || ends.includes(tick)
  const groups: number[] = []
  const unit = 1920 / metre.lower
  for (const group of metre.groups) groups.push((groups.at(-1) ?? startTick) + group * unit)
  const uneven = new Set(metre.groups).size > 1
  for (const { startTick: from, ticks: length, kind } of signs) {
    const to = from + length
    if (kind === 'rest' && length === ticks) continue
    if (metre.lower === 4 && metre.upper === 4 && inside(startTick + 960, from, to) && !(onBeat(from) && onBeat(to)))
      if (!bar.triplets.some((list) => list.some((index) => signs[index]!.startTick === from)))
        faults.push(`${from - startTick} to ${to - startTick} hides the middle`)
    if (metre.lower === 8 && ends.some((end) => inside(end, from, to)) && !(onBeat(from) && onBeat(to)))
      faults.push(`${from - startTick} to ${to - startTick} hides a beat`)
    const onGroup = (tick: number) => tick === startTick || groups.includes(tick)
    if (uneven && groups.some((edge) => inside(edge, from, to)) && !(onGroup(from) && onGroup(to)))
      faults.push(`${from - startTick} to ${to - startTick} hides a group`)
  }
  return faults
}

/** When the notes of a line are heard: until the next one, or the end of the form; of dead notes only the start counts. */
export function soundsOfLine({ notes }: Line, form: Form): readonly (readonly [from: number, to: number])[] {
  return notes.map(({ slot }, index) => {
    const next = notes[index + 1]?.slot.startTick ?? form.ticks
    return [slot.startTick, Math.min(slot.startTick + slot.ticks, next, form.ticks)]
  })
}
