import type { GrooveTable } from '../line/groove/table.ts'
import { relativesOf, rolesOf } from './feel-rows.ts'

/**
 * What a groove starts from; each feel overrides it. Roles: the points of each kind of degree, of being struck at all (`any`) and
 * of being left empty (`none`). A place under a chord arrival is `one`. A push costs 4 for being early at all.
 *
 * Source: found by hand over some forty charts of our own in twenty feels, judged on paper; common practice, no source.
 */
export const GROOVE_DEFAULTS = {
  //     1  8  5  3  6  7  4  x ap any none
  roles: rolesOf(`
    one   0  5 10 10 14 14 20 40 40  0 12
    mid   0  1  0  1  2  2  4 12  8  0  2
    back  0  1  0  1  1  1  3 10  4  0  0
    off   1  0  0  1  1  0  2  4  3  0  0
    fine  0  0  1  3  2  0  3  5  3  0  0
    last  2  1  0  1  0  0  1  3  0  0  0
    push  0  4  8  8 12 12 20 40 40  4  0
  `),
  notes: 4,
  under: 4,
  over: 2,
  degrees: [6, 0, 1, 3, 6],
  halves: 2,
  restart: [0, 2, 6],
  cut: 1,
  unlisted: 8,
  approach: 3,
  mostLeads: 4,
  lead: 1,
  intervals: [0, 0, 0, 0, 1, 0, 6, 0, 3, 3, 2, 12, 1],
  wide: 1,
  shift: 2,
  shiftStep: 1,
  skip: 2,
  open: 1,
  home: 1,
  zone: 2,
  zoneMove: 3,
  fold: 2,
  adapt: 1,
  change: 1,
  noWalk: 8,
  leadDrop: 12,
  releases: [],
  kick: undefined,
  // Colour above the fifth adapts to the chord: pattern, the one in its place, over which chords.
  relatives: relativesOf(`
    boogie                 minor-boogie             minor
    boogie                 boogie-octave            major
    boogie-octave          minor-boogie             minor
    sixth-arpeggio         seventh-arpeggio-up      half-diminished
    triad-octave           root-fifth-octave-fifth  suspended power
    triad-and-back         root-fifth-octave-fifth  suspended power half-diminished
    triad-up               root-fifth-octave        suspended power half-diminished
    rocking-sixth          root-fifth-octave-fifth  suspended power half-diminished
    octave-sixth-fall      octave-flat-seven-fifth  minor
    soul-sixth-fall        seventh-arpeggio-down    minor half-diminished
    reggae-triad-drop      root-octave-fifth        suspended power half-diminished
    reggae-fifth-first     triad-down               half-diminished dominant
    gospel-climb           triad-octave             minor
    pentatonic-minor-fall  octave-sixth-fall        major dominant
  `),
} satisfies Partial<GrooveTable>
