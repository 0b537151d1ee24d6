import { columns } from './cli-table.ts'
import { FEELS } from './feels/feels.ts'
import { PATTERNS } from './line/patterns.ts'
import { pitchName } from './line/rule-blank.ts'
import { examplesOf, RULES } from './line/rules.ts'
import { INSTRUMENTS } from './music/instruments.ts'
import { CELLS } from './rhythm/cells.ts'

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
    ...INSTRUMENTS.map(({ id, open, frets, name }) => [id, open.map(pitchName).join(' '), `${frets}`, name]),
  ],
  rules: () => [
    ['rule', 'weight', 'as in'],
    ...RULES.flatMap((rule) =>
      examplesOf(rule).map((example, i) => [i === 0 ? rule.id : '', i === 0 ? `${rule.defaultWeight}` : '', example]),
    ),
  ],
} satisfies Readonly<Record<string, () => readonly (readonly string[])[]>>

/** What can be listed. */
export const LISTS = ['feels', 'cells', 'patterns', 'basses', 'rules'] as const

/** A table of the vocabulary, a row an entry, its id first. */
export function listTable(list: keyof typeof TABLES): string {
  return columns(TABLES[list]())
}
