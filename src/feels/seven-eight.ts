import { STRAIGHT } from '../rhythm/swing.ts'
import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Seven-eight: each group is said.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const SEVEN_EIGHT: Feel = {
  id: 'seven-eight',
  name: 'seven-eight',
  metre: '7/8',
  tempo: { from: 84, to: 150, usual: 116 },
  swing: STRAIGHT,
  touch: {
    lengthOnBeat: 0.88,
    lengthOffBeat: 0.82,
    placementMs: 0,
    velocities: { first: 100, beat: 94, backBeat: 94, offBeat: 88, finer: 82 },
    ghostVelocity: 36,
    accentAdd: 12,
  },
  register: { lowest: 28, highest: 50 },
  cells: weightedOf(`
    seven-groups:4 seven-groups-lead:3 seven-drive:2 seven-all:1 seven-push:1
  `),
  patterns: weightedOf(`
    root-fifth-octave:3 root-octave:2 root-fifth-flat-seven-octave:2 root-fifth-octave-fifth:2 walk-up-three:1
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
          mid   0  0  0  2  3  1  5 20 20  0  8
        `),
      },
      notes: 4,
      degrees: [6, 0, 0, 1, 3],
      approach: 2,
      lead: 1,
      zone: 0,
      pairs: pairsOf(`
        root-fifth-octave-fifth       seven-groups-lead  each  -  0
        root-fifth-flat-seven-octave  seven-groups-lead  each  -  1
        root-octave                   seven-groups-lead  each  -  1
        root-only                     seven-groups-lead  each  -  2
        root-fifth-octave             seven-groups       each  -  1
        root-octave                   seven-drive        beat  -  2
        root-only                     seven-drive        each  -  2
        root-octave                   seven-all          tail  -  4
      `),
      leads: [],
      schemes: schemesOf(`
        A B A f A B A F  0
        A A A f A A A F  4
      `),
      fills: figuresOf(`
        seven-last-three      3/8: 1 2 3      5 w- h-      0  f  any
        seven-last-low        3/8: 1 2 3      v5 w- h-     1  f  any
        seven-end-low         4/8: 1 2 3 4    1 v5 w- h-   2  F  any
        seven-five-run        5/8: 1 2 3 4 5  8 b7 5 4 h-  1  F  minor dominant power
        seven-five-run-major  5/8: 1 2 3 4 5  8 6 5 3 h-   1  F  major
      `),
      walks: [],
      ghosts: undefined,
      never: [
        'rest mid', // each group is said
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'seven-basic',
        metre: '7/8',
        ticksPerStep: 120,
        lanes: ['42=7.5. 7.5. 7.5.5.', '38=.... 8... ......', '36=8... .... 8.....'],
      },
      {
        id: 'seven-backbeat',
        metre: '7/8',
        ticksPerStep: 120,
        lanes: [
          '42=7.5. 7.5. 7.5.5.|7.5. 7.5. 7.5.5.',
          '38=.... 8... ....7.|.... 8... ....7.',
          '36=8... .... 8.....|8.6. .... 8.....',
        ],
      },
    ],
    fills: [
      {
        id: 'seven-fill-snare',
        metre: '7/8',
        ticksPerStep: 120,
        lanes: ['42=7.5. 7.5. ......', '38=.... 8... 778878', '36=8... .... 8.....'],
        nextBar: ['49=8', '36=8'],
      },
      {
        id: 'seven-fill-toms',
        metre: '7/8',
        ticksPerStep: 120,
        lanes: [
          '42=7.5. .... ......',
          '38=.... 88.. ......',
          '45=.... ..88 ......',
          '41=.... .... 88.8.8',
          '36=8... .... ..8...',
        ],
        nextBar: ['49=8', '36=8'],
      },
    ],
    comping: compingOf(`
      seven-comp-groups  7/8: 1 3 5                    27  0.8  64  3    close  52-76
      seven-comp-off     7/8: (1) 2. (3) 4. (5) 6. 7.  5   0.4  62  3-4  close  48-72
    `),
    // electric bass, fingers
    bassProgram: 33,
  },
  note: 'tempo counts quarters; groups of the chart rule',
}
