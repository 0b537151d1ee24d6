import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, swingPointsOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Five-four in three and two: the seam at four is heard.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const FIVE_FOUR: Feel = {
  id: 'five-four',
  name: 'five-four',
  metre: '5/4',
  tempo: { from: 100, to: 180, usual: 148 },
  swing: { level: 'eighth', points: swingPointsOf('60:1.9 140:1.8 180:1.6') },
  touch: {
    lengthOnBeat: 0.9,
    lengthOffBeat: 0.7,
    placementMs: 0,
    velocities: { first: 98, beat: 92, backBeat: 92, offBeat: 82, finer: 76 },
    ghostVelocity: 36,
    accentAdd: 10,
  },
  register: { lowest: 28, highest: 52 },
  cells: weightedOf(`
    five-vamp:5 five-three-two:2 five-quarters:3 five-vamp-skip:2 five-eighths:1
  `),
  patterns: weightedOf(`
    root-fifth-flat-seven-octave:3 root-fifth-octave-fifth:3 walking-below:2 root-fifth-octave:2 triad-octave:1
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
          mid   0  0  0  2  3  2  5 20 20  0 10
        `),
      },
      notes: 4,
      degrees: [6, 0, 0, 1, 3],
      approach: 3,
      lead: 1,
      zone: 0,
      zoneMove: 20,
      pairs: pairsOf(`
        root-fifth-flat-seven-octave  five-vamp       each  -            1
        root-fifth-octave-fifth       five-vamp       each  -            0
        triad-octave                  five-vamp       each  -            3
        root-fifth-octave             five-vamp       each  -            3
        root-fifth-up                 five-vamp       half  -            1
        root-only                     five-vamp-skip  each  funk-pickup  2
        root-fifth-octave             five-vamp-skip  each  funk-pickup  1
        walking-below                 five-quarters   each  -            4
        root-fifth-up                 five-three-two  each  -            3
      `),
      leads: [{ pattern: 'funk-pickup', points: 0 }],
      schemes: schemesOf(`
        A B A f A B A F  0
        A A A f A A A F  4
      `),
      fills: figuresOf(`
        five-end        2/4: 1 & 2 &  8 b7 5 h-  1  F  minor dominant power
        five-end-major  2/4: 1 & 2 &  8 6 5 h-   1  F  major
        five-pair       1/4: 1 &      w- h-      1  f  any
        five-walk       2/4: 1 2      8 h-       0  f  any
        five-low        2/4: 1 2      v5 h-      1  f  any
        five-end-low    2/4: 1 & 2 &  1 5 v5 h-  2  F  any
      `),
      walks: [],
      ghosts: undefined,
      never: [
        'rest mid', // the seam at 4 is heard
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'five-ride',
        metre: '5/4',
        ticksPerStep: 120,
        lanes: ['51=7... 8.5. 7... 8... 7.5.', '44=.... 6... .... .... 6...', '36=6... .... .... 6... ....'],
      },
      {
        id: 'five-straight',
        metre: '5/4',
        ticksPerStep: 120,
        lanes: ['42=7.5. 7.5. 7.5. 7.5. 7.5.', '38=.... .... 8... .... 8...', '36=8... ..6. .... 8... ....'],
      },
    ],
    fills: [
      {
        id: 'five-fill-end',
        metre: '5/4',
        ticksPerStep: 120,
        lanes: [
          '51=7... 8.5. 7... .... ....',
          '44=.... 6... .... .... 6...',
          '38=.... .... .... 6.6. 6.7.',
          '36=6... .... .... 6... ....',
        ],
        nextBar: ['49=7', '36=7'],
      },
      {
        id: 'five-fill-toms',
        metre: '5/4',
        ticksPerStep: 120,
        lanes: [
          '42=7.5. 7.5. 7.5. .... ....',
          '38=.... .... 8... .... ....',
          '48=.... .... .... 77.. ....',
          '45=.... .... .... ..77 ....',
          '41=.... .... .... .... 7788',
          '36=8... .... .... 8... ....',
        ],
        nextBar: ['49=8', '36=8'],
      },
    ],
    comping: compingOf(`
      five-comp-vamp  5/4: 1 2& 4 5  0  0.6   62  3-4  close  48-72
      five-comp-held  5/4: 1 4       5  0.95  56  4    close  48-72
    `),
    // acoustic bass
    bassProgram: 32,
  },
  note: 'the group boundary (4) is heard; straight too: set the ratio to 1',
}
