import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Half-time shuffle: the back-beat on three, triplets as they are written.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const HALF_TIME_SHUFFLE: Feel = {
  id: 'half-time-shuffle',
  name: 'half-time shuffle',
  metre: '4/4',
  tempo: { from: 72, to: 110, usual: 92 },
  swing: { level: 'written', points: [] },
  touch: {
    lengthOnBeat: 0.9,
    lengthOffBeat: 0.7,
    placementMs: 6,
    velocities: { first: 104, beat: 94, backBeat: 94, offBeat: 86, finer: 80 },
    ghostVelocity: 36,
    accentAdd: 12,
  },
  register: { lowest: 28, highest: 48 },
  cells: weightedOf(`
    half-shuffle-line:3 half-shuffle-drop:3 four-quarters:1 shuffle-pair:1 triplet-without-first:1 quarter-triplet:1
  `),
  patterns: weightedOf(`
    root-fifth-flat-seven-octave:3 root-octave:2 octave-flat-seven-fifth:2 pentatonic-minor-fall:2 root-only:1
  `),
  phraseBars: 4,
  line: {
    kind: 'groove',
    table: {
      ...GROOVE_DEFAULTS,
      //        1  8  5  3  6  7  4  x ap any none
      roles: {
        ...GROOVE_DEFAULTS.roles,
        ...rolesOf(`
          mid   0  1  0  2  2  1  5 12  8  0  0
        `),
      },
      notes: 6,
      degrees: [6, 0, 0, 2, 5],
      halves: 2,
      approach: 3,
      zone: 0,
      zoneMove: 8,
      // The pick-up of fifth and flat seventh may fall to the low root.
      leadDrop: 0,
      pairs: pairsOf(`
        root-fifth-flat-seven-octave  half-shuffle-line  each  -            1
        root-octave                   half-shuffle-line  half  funk-pickup  1
        root-only                     half-shuffle-line  each  funk-pickup  2
        octave-flat-seven-fifth       half-shuffle-line  tail  -            2
        root-fifth-flat-seven-octave  half-shuffle-drop  each  -            0
        root-octave                   half-shuffle-drop  each  -            1
        root-only                     half-shuffle-drop  each  funk-pickup  1
        octave-flat-seven-fifth       four-quarters      each  -            4
      `),
      leads: [{ pattern: 'funk-pickup', points: 0 }],
      schemes: schemesOf(`
        A B A f A B A F  0
        A A A f A A A F  10
      `),
      fills: figuresOf(`
        half-shuffle-fall           2/4: 1 trip let 2 trip let  8 b7 5 4 b3 1  1  F  minor power
        half-shuffle-fall-dominant  2/4: 1 trip let 2 let       8 b7 5 3 1     1  F  dominant
        half-shuffle-fall-major     2/4: 1 trip let 2 let       8 6 5 3 1      1  F  major
        half-shuffle-pickup         1/4: (1) trip let           w- h-          1  f  any
        half-shuffle-five-seven     1/4: 1 let                  >v5 >vb7       1  f  any
      `),
      walks: [],
      ghosts: { places: ['1trip', '3trip'], most: 2, points: 1 },
      never: [
        'degree 3 mid', // the snare is on 3: no new colour under it
        'notes-over 8', // the drums have the triplets
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'half-shuffle-ghosts',
        metre: '4/4',
        ticksPerStep: 160,
        lanes: ['42=7.5 7.5 7.5 7.5', '38=.2. .2. 82. .2.', '36=8.. ... ... ..7'],
      },
      {
        id: 'half-shuffle-kick',
        metre: '4/4',
        ticksPerStep: 160,
        lanes: ['42=7.5 7.5 7.5 7.5', '38=.2. .2. 82. .2.', '36=8.6 ..7 ... .7.'],
      },
    ],
    fills: [
      {
        id: 'half-shuffle-fill',
        metre: '4/4',
        ticksPerStep: 160,
        lanes: [
          '42=7.5 7.5 ... ...',
          '38=.2. .2. 867 ...',
          '45=... ... ... 77.',
          '41=... ... ... ..8',
          '36=8.. ... ... ...',
        ],
        nextBar: ['49=8', '36=8'],
      },
      {
        id: 'half-shuffle-fill-open',
        metre: '4/4',
        ticksPerStep: 160,
        lanes: ['42=7.5 7.5 7.5 7..', '46=... ... ... ..7', '38=.2. .2. 82. 778', '36=8.. ... ... ...'],
        nextBar: ['49=8', '36=8'],
      },
    ],
    comping: compingOf(`
      half-shuffle-comp       1 (let) (2) let. (3) (4) let.  5  0.5   66  3-4  close  48-72
      half-shuffle-comp-held  1 2let                         5  0.95  58  4    close  48-72
    `),
    // electric bass, fingers
    bassProgram: 33,
  },
  note: 'triplets are written, nothing is swung afterwards; back-beat on 3',
}
