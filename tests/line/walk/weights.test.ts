import { describe, expect, it } from 'vitest'
import { compose } from '../../../src/compose.ts'

// What a reader of walking lines marks, a row each: the term of the weights that says it, a line that has it, and one that has not.
// Lines are bars of note names, with the places they stand on where those are not 1 2 3 4. Common practice, no source.

const ROWS: readonly (readonly [term: string, why: string, changes: string, breaks: string, keeps: string])[] = [
  [
    'root-heard',
    'a chord of a bar that never sounds its root is heard as another',
    'F7 | Gm7 | C7 | F6',
    'F2 C2 A1 F1 | Bb1 D2 E2 D2 | C2 D2 E2 G2 | F2 C2 D2 E2',
    'F2 C2 A1 F1 | Bb1 A1 G1 D2 | C2 D2 E2 G2 | F2 C2 D2 E2',
  ],
  [
    'third-heard',
    'nor its third as major or minor',
    'Dm7 | G7 | C6 | %',
    'D2 A1 D2 A1 | G1 A1 B1 G1 | C2 D2 E2 A1 | C2 D2 E2 G2',
    'D2 A1 D2 F2 | G1 A1 B1 G1 | C2 D2 E2 A1 | C2 D2 E2 G2',
  ],
  [
    'colour-heard',
    'a written sixth is what the chord is called by',
    'Cm6 | G7 | Cm6 | G7',
    'C2 G2 Eb2 C2 | G1 A1 B1 D2 | C2 D2 Eb2 A1 | G1 A1 B1 D2',
    'C2 A2 Eb2 C2 | G1 A1 B1 D2 | C2 D2 Eb2 A1 | G1 A1 B1 D2',
  ],
  [
    'held-root-on-one',
    'over a chord that holds on, every second bar at least starts on its root',
    'Dm7 | % | % | %',
    'D2 E2 F2 G2 | A2 G2 F2 E2 | F2 E2 F2 G2 | D2 C2 A1 C2',
    'D2 E2 F2 G2 | A2 G2 F2 E2 | D2 E2 F2 G2 | D2 C2 A1 C2',
  ],
  [
    'chromatic-note-passes',
    'a foreign note passes inside a whole step: B flat denies the sixth of D dorian',
    'Dm7 | % | % | G7',
    'D2 E2 F2 D2 | D3 A2 C3 Bb2 | A2 G2 F2 D2 | G2 A2 B2 D3',
    'D2 E2 F2 D2 | D3 A2 C3 B2 | A2 G2 F2 D2 | G2 A2 B2 D3',
  ],
  [
    'chromatic-note-next-to-a-chord-tone',
    'up to the third it goes 1 2 #2 3',
    'Bb7 | Eb7 | Bb7 | F7',
    'Bb1 B1 C2 D2 | Eb2 F2 G2 A2 | Bb2 F2 D2 E2 | F2 G2 A2 C3',
    'Bb1 C2 C#2 D2 | Eb2 F2 G2 A2 | Bb2 F2 D2 E2 | F2 G2 A2 C3',
  ],
  [
    'change-not-given-away',
    'the root to come is not spent two beats before it',
    'C6 | A7 | Dm7 | G7',
    'C2 E2 G2 Bb2 | A2 E2 D2 C#2 | D2 F2 A2 F#2 | G2 F2 D2 B1',
    'C2 E2 G2 Bb2 | A2 G2 E2 C#2 | D2 F2 A2 F#2 | G2 F2 D2 B1',
  ],
  [
    'skip-leads-on',
    'a skip leads into the beat after it',
    'F7 | Bb7 | F7 | C7',
    'F2 C2 D2 E2 | Bb1@1 D2@2 F2@2& F2@3 E2@4 | F2 C2 A1 C2 | C2 D2 E2 G2',
    'F2 C2 D2 E2 | Bb1@1 D2@2 F2@2& G2@3 E2@4 | F2 C2 A1 C2 | C2 D2 E2 G2',
  ],
  [
    'repeats-where-there-is-time',
    'a line moves on from its first note',
    'Bb7 | Eb7 | Bb7 | F7',
    'Bb1 Bb1 C2 D2 | Eb2 F2 G2 A2 | Bb2 F2 D2 E2 | F2 G2 A2 C3',
    'Bb1 D2 C2 D2 | Eb2 F2 G2 A2 | Bb2 F2 D2 E2 | F2 G2 A2 C3',
  ],
  [
    'repeats-where-there-is-time',
    'two chords in a bar have no beat to spare',
    'F7 | Cm7 F7 | Bb7 | %',
    'F2 A2 C3 A2 | C3 C3 F2 F2 | Bb2 F2 D2 F2 | Bb1 D2 F2 G2',
    'F2 A2 C3 A2 | C3 Eb3 F2 A2 | Bb2 F2 D2 F2 | Bb1 D2 F2 G2',
  ],
  [
    'repeats-where-there-is-time',
    'nor has a bar of three notes',
    'Ab7 | % | Db7 | %',
    'Ab2 C3 Eb3 C3 | Ab2@1 Eb2@3 Eb2@4 | Db2 F2 Ab2 F2 | Db2 Eb2 F2 Ab2',
    'Ab2 C3 Eb3 C3 | Ab2@1 Eb2@3 C2@4 | Db2 F2 Ab2 F2 | Db2 Eb2 F2 Ab2',
  ],
  [
    'moves-after-a-repeat',
    'a pitch is not struck three times, skips counted',
    'Bb7 | Eb7 | Bb7 | F7',
    'Bb2 F2 D2 E2 | Eb2@1 Eb2@2 Eb2@2& G2@3 A2@4 | Bb2 F2 D2 E2 | F2 G2 A2 C3',
    'Bb2 F2 D2 E2 | Eb2@1 G2@2 G2@2& Bb2@3 A2@4 | Bb2 F2 D2 E2 | F2 G2 A2 C3',
  ],
]

/** How many points a term asks of a line that is kept as it is. */
function pointsOf(term: string, changes: string, line: string): number {
  const rules = line.split(' | ').map((bar, index) => {
    const notes = bar.split(' ').map((note) => note.split('@'))
    const places = notes.map(([, place], beat) => place ?? `${beat + 1}`)
    return `Bar ${index + 1}: keep ${notes.map(([name]) => name).join(' ')} on ${places.join(' ')}`
  })
  const { lines, clash } = compose(`| ${changes} |`, { feel: 'swing-medium', rules, loop: false })
  expect(clash).toBeUndefined()
  return lines[0]!.notes
    .flatMap(({ terms }) => terms)
    .reduce((sum, { rule, points }) => sum + (rule === term ? points : 0), 0)
}

describe('what walking weights charge', () => {
  it.each(ROWS)('%s: %s', (term, _, changes, breaks, keeps) => {
    expect(pointsOf(term, changes, breaks)).toBeGreaterThan(pointsOf(term, changes, keeps))
  })
})
