import type { FormBar } from '../chart/form.ts'
import { type Chord, familyOf } from '../music/chord.ts'
import { formatMetre, type Metre } from '../music/metre.ts'
import { type Pitch, pitchClassOf } from '../music/pitch.ts'
import type { Tick } from '../music/tick.ts'
import { type Cell, type CellOnset, parseCell, printCell } from '../rhythm/cell.ts'
import { type DegreeToken, parsePattern, semitonesOfToken } from './pattern.ts'

/** How a tune ends: on its root, held; with the fifth between two roots; with a few steps up or down to it; with a stop. */
export type Ending = 'held' | 'fifth' | 'up' | 'down' | 'stop'

/** The last bar as it is to be: a cell, and a pitch for each note that is struck. */
export interface LastBar {
  readonly cell: Cell
  readonly notation: string
  readonly pitches: readonly Pitch[]
}

/**
 * The vocabulary of endings: degrees over chords with a minor third, and over the others; cells, one for each metre that has it.
 * Source: common practice, no source.
 */
const ENDINGS: Readonly<Record<Ending, { readonly minor: string; readonly major: string; readonly cells: string }>> = {
  held: { minor: '1', major: '1', cells: '2/4: 1 | 3/4: 1 | 4/4: 1 | 5/4: 1 | 6/8: 1 | 7/8: 1 | 9/8: 1 | 12/8: 1' },
  fifth: { minor: '1 v5 1', major: '1 v5 1', cells: '3/4: 1 2 3 | 4/4: 1 2 3 | 6/8: 1 3 4 | 12/8: 1 4 7' },
  up: { minor: '1 v5 v7 1', major: '1 v5 v6 1', cells: '3/4: 1 2 & 3 | 4/4: 1 2 & 3 | 12/8: 1 4 6 7' },
  down: { minor: '8 7 5 1', major: '8 6 5 1', cells: '3/4: 1 2 & 3 | 4/4: 1 2 & 3 | 12/8: 1 4 6 7' },
  stop: { minor: '1 1', major: '1 1', cells: '3/4: 1 2&. (3) | 4/4: 1 2&. (3) | 12/8: 1 6. (7)' },
}

const MINOR: readonly string[] = ['minor', 'minor-major', 'half-diminished', 'diminished']

/** The metres in which a tune can end so, as written. */
export function metresOf(ending: Ending): readonly string[] {
  return cellsOf(ending).map(({ upper, lower }) => formatMetre({ upper, lower }))
}

function cellsOf(ending: Ending): readonly Cell[] {
  return ENDINGS[ending].cells.split(' | ').map(readCell)
}

function readCell(text: string): Cell {
  const reading = parseCell(text)
  if (!reading.ok) throw new RangeError(`"${text}" is no cell: ${reading.message}`)
  return reading.cell
}

/** An ending over a chord that lasts the bar, its root as low as the instrument has it. `undefined` where its metre has none. */
export function endingOver(
  ending: Ending,
  chord: Chord,
  metre: Pick<Metre, 'upper' | 'lower'>,
  lowest: Pitch,
): LastBar | undefined {
  const cell = cellsOf(ending).find(({ upper, lower }) => upper === metre.upper && lower === metre.lower)
  if (!cell) return undefined
  const reading = parsePattern(ENDINGS[ending][MINOR.includes(familyOf(chord)) ? 'minor' : 'major'])
  if (!reading.ok) throw new RangeError(reading.message)
  const steps = reading.tokens.map((token) => semitonesOverBass(token as DegreeToken, chord))
  const root = lowestOf(chord, lowest - Math.min(...steps))
  return { cell, notation: printCell(cell), pitches: steps.map((step) => root + step) }
}

/** A slash bass takes the place of the root. */
function semitonesOverBass(token: DegreeToken, chord: Chord): number {
  const semitones = semitonesOfToken(token, chord)
  return token.number % 7 === 1 ? semitones : semitones - pitchClassOf(chord.bassPc - chord.rootPc)
}

/** Its root, or its bass, at or above a pitch. */
function lowestOf({ bassPc }: Chord, from: Pitch): Pitch {
  return from + pitchClassOf(bassPc - from)
}

/**
 * The last bar of a form under an ending. Where it has several chords each is met on its root, and the last is held.
 *
 * @param lowest  the lowest pitch there is
 * @returns  `undefined` where nothing sounds in some of it, or its metre has no such ending
 */
export function lastBarOf(ending: Ending, bar: FormBar, lowest: Pitch): LastBar | undefined {
  const arriving = bar.changes.filter(({ held }, order) => order === 0 || !held)
  const chords = arriving.flatMap(({ chord }) => chord ?? [])
  if (chords.length < arriving.length || bar.changes.some(({ chord }) => !chord)) return undefined
  if (chords.length === 1) return endingOver(ending, chords[0]!, bar.metre, lowest)
  const { upper, lower } = bar.metre
  const starts = arriving.map(({ startTick }) => startTick - bar.startTick)
  const onsets = starts.map((tick, order) => onsetAt(tick, starts[order + 1] ?? bar.ticks))
  const cell: Cell = { upper, lower, bars: 1, ticks: bar.ticks, onsets }
  return { cell, notation: printCell(cell), pitches: chords.map((chord) => lowestOf(chord, lowest)) }
}

function onsetAt(tick: Tick, end: Tick): CellOnset {
  return { tick, ticks: end - tick, ghost: false, accent: false, length: undefined, tiedOver: false, continues: false }
}
