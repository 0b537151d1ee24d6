import { columns } from './cli-table.ts'
import { FEELS } from './feels/feels.ts'
import { PATTERNS } from './line/patterns.ts'
import { INSTRUMENTS } from './music/instruments.ts'
import { type Pitch, pitchClassOf } from './music/pitch.ts'
import { CELLS } from './rhythm/cells.ts'

/** Plain names of the twelve pitch classes; C4 is 60. */
const PITCH_NAMES = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B']

function stringName(open: Pitch): string {
  return `${PITCH_NAMES[pitchClassOf(open)]}${Math.floor(open / 12) - 1}`
}

const TABLES = {
  feels: () => [
    ['feel', 'name', 'metre', 'tempo', 'note'],
    ...FEELS.map(({ id, name, metre, tempo, note }) => [id, name, metre, `${tempo.from}-${tempo.to}`, note]),
  ],
  cells: () => [
    ['cell', 'notation', 'metres', 'level', 'name'],
    ...CELLS.map(({ id, notation, metres, level, name }) => [id, notation, metres.join(' '), `${level}`, name]),
  ],
  patterns: () => [
    ['pattern', 'degrees', 'chords', 'level', 'purpose'],
    ...PATTERNS.map(({ id, text, families, level, purpose }) => [
      id,
      text,
      families === 'any' ? 'any' : families.join(' '),
      level,
      purpose,
    ]),
  ],
  basses: () => [
    ['bass', 'strings', 'frets', 'name'],
    ...INSTRUMENTS.map(({ id, open, frets, name }) => [id, open.map(stringName).join(' '), `${frets}`, name]),
  ],
} satisfies Readonly<Record<string, () => readonly (readonly string[])[]>>

/** What can be listed. */
export const LISTS = ['feels', 'cells', 'patterns', 'basses'] as const

/** A table of the vocabulary, a row an entry, its id first. */
export function listTable(list: keyof typeof TABLES): string {
  return columns(TABLES[list]())
}
