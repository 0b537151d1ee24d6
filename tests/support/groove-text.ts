import type { Form } from '../../src/chart/form.ts'
import type { GrooveLine } from '../../src/line/groove.ts'
import type { Instrument } from '../../src/music/instrument.ts'

const NAMES = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B']

/** A pitch in ASCII, C4 = 60, flats but for F sharp. */
export function pitchText(pitch: number): string {
  return `${NAMES[pitch % 12]}${Math.floor(pitch / 12) - 1}`
}

/** Count of a place in a bar as a teacher says it: `2&`, `4trip`. */
function countText(tick: number, lower: number): string {
  const unit = 1920 / lower
  const part = (tick % unit) / unit
  const names = [
    [0, ''],
    [0.25, 'e'],
    [0.5, '&'],
    [0.75, 'a'],
    [1 / 3, 'trip'],
    [2 / 3, 'let'],
  ] as const
  const name = names.find(([at]) => Math.abs(at - part) < 0.01)?.[1] ?? '?'
  return `${Math.floor(tick / unit) + 1}${name}`
}

/** A bar of a line: `1 A1 E5 · 2& E2 D2 · 4 F#2 D4*`; `*` an approach, `~` a push, `>` a lead. */
export function barText(line: GrooveLine, form: Form, barIndex: number, instrument: Instrument): string {
  const bar = form.bars[barIndex]!
  const letters = instrument.open.map((open) => NAMES[open % 12]!)
  return line.notes
    .filter((note) => note.slot.barIndex === barIndex)
    .map((note) => {
      const mark = note.slot.pushed ? '~' : note.target !== undefined ? '*' : note.source === 'lead' ? '>' : ''
      const free = note.kind === 'free' ? '!' : ''
      const at = countText(note.slot.startTick - bar.startTick, bar.metre.lower)
      return `${at} ${pitchText(note.pitch)} ${letters[note.string]}${note.fret}${mark}${free}`
    })
    .join(' · ')
}

/** The pitches of a line, a bar of music for each bar of the form: `A1 C#2 | D2`. */
export function pitchesText(line: GrooveLine, form: Form): string {
  return form.bars
    .map((bar) =>
      line.notes
        .filter((note) => note.slot.barIndex === bar.index)
        .map((note) => pitchText(note.pitch))
        .join(' '),
    )
    .join(' | ')
}
