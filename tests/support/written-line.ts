import type { Form } from '../../src/chart/form.ts'
import { explain } from '../../src/line/explain.ts'
import type { Line, SearchedNote } from '../../src/line/line.ts'
import type { Instrument } from '../../src/music/instrument.ts'
import type { Key } from '../../src/music/key.ts'
import { parseNoteName, pitchClassOfName } from '../../src/music/note-name.ts'
import type { Slot } from '../../src/rhythm/slot.ts'
import { FOUR_STRINGS } from './grooves.ts'

const TICKS: Readonly<Record<string, number>> = { w: 1920, h: 960, q: 480, e: 240, s: 120, t: 160 }

/** Ticks of `q.` or of `h+e`; `t` is an eighth of a triplet. */
function ticksOf(text: string): number {
  return text.split('+').reduce((sum, value) => sum + TICKS[value[0]!]! * (value.endsWith('.') ? 1.5 : 1), 0)
}

/** The sounding pitch of a name with its octave. */
export function pitchOf(name: string): number {
  const [, letter, octave] = /^(\D+)(-?\d+)$/.exec(name)!
  const { alter } = parseNoteName(letter!)!
  return 12 * (Number(octave) + 1) + pitchClassOfName({ letter: letter![0] as 'C', alter: 0 }) + alter
}

/**
 * A line in a row of notes with their lengths: `F1/q A1/e. r/s x/e C2/q<`: `r` silence, `x` a dead note, `<` pushed, `>` accented, `'`
 * short. Names stay as given; strings are the highest that hold the pitch; degrees and functions are those of the line's own reading.
 */
export function writtenLine(
  form: Form,
  row: string,
  options: { readonly key?: Key; readonly instrument?: Instrument; readonly loop?: boolean } = {},
): Line {
  const { key, instrument = FOUR_STRINGS, loop = false } = options
  const notes: SearchedNote[] = []
  const ghosts: Slot[] = []
  const names: string[] = []
  let tick = 0
  for (const word of row.split(/[\s|]+/)) {
    const [, name, length, marks] = /^(.+)\/([whqest.+]+)([<>']*)$/.exec(word)!
    const ticks = ticksOf(length!)
    if (name !== 'r') {
      const pushed = marks!.includes('<')
      const sounds = pushed ? (tick + ticks - 1) % form.ticks : tick
      const slot: Slot = {
        startTick: tick,
        ticks,
        barIndex: form.bars.findLastIndex((bar) => bar.startTick <= tick),
        changeIndex: form.changes.findLastIndex((change) => change.startTick <= sounds),
        strength: 'beat',
        cell: '1',
        accent: marks!.includes('>'),
        length: marks!.includes("'") ? 'short' : undefined,
        pushed,
        ghost: name === 'x',
      }
      if (slot.ghost) ghosts.push(slot)
      else {
        const pitch = pitchOf(name!)
        const string = instrument.open.findLastIndex((open) => open <= pitch)
        notes.push({
          slot,
          pitch,
          string,
          fret: pitch - instrument.open[string]!,
          hand: 1,
          pattern: undefined,
          terms: [],
        })
        names.push(name!)
      }
    }
    tick += ticks
  }
  const line = explain({ notes, ghosts, terms: [], cost: 0, provenWithin: 0 }, { form, instrument, key, loop })
  let next = 0
  return { ...line, notes: line.notes.map((note) => (note.slot.ghost ? note : { ...note, name: names[next++]! })) }
}
