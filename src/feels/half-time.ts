import { STRAIGHT } from '../rhythm/swing.ts'
import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Half-time: straight eighths at full tempo under a back-beat on three, so that space is the point.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const HALF_TIME: Feel = {
  id: 'half-time',
  name: 'half-time',
  metre: '4/4',
  tempo: { from: 120, to: 168, usual: 140 },
  swing: STRAIGHT,
  touch: {
    lengthOnBeat: 0.96,
    lengthOffBeat: 0.9,
    placementMs: 6,
    velocities: { first: 106, beat: 92, backBeat: 92, offBeat: 90, finer: 84 },
    ghostVelocity: 34,
    accentAdd: 12,
  },
  register: { lowest: 28, highest: 43 },
  cells: weightedOf(`
    half-notes:3 tresillo:3 whole-note:2 dotted-pair:2 push-over:1 dotted-then-half:2 late-two:1 eighths-stop-four:1
  `),
  patterns: weightedOf(`
    root-only:4 root-fifth-octave:2 rock-four-five:1 flat-seven-neighbour:2 phrygian-neighbour:1
  `),
  phraseBars: 4,
  line: {
    kind: 'groove',
    table: {
      ...GROOVE_DEFAULTS,
      //         1  8  5  3  6  7  4  x ap any none
      roles: {
        ...GROOVE_DEFAULTS.roles,
        ...rolesOf(`
          mid    0  1  0  2  4  2  3 12  8  0  1
          back   0  1  0  1  1  1  3 10  4  3  0
          off    0  1  0  2  2  1  2  6  4  0  0
          last   0  1  0  2  2  0  1  4  2  0  0
        `),
      },
      notes: 3,
      // The root alone is no poor bar where notes are long.
      degrees: [5, 0, 0, 4, 8],
      approach: 8,
      intervals: [0, 0, 0, 0, 0, 0, 4, 0, 2, 2, 1, 8, 1],
      zone: 0,
      // The open string may ring, and the low root is the place.
      open: 0,
      zoneMove: 20,
      pairs: pairsOf(`
        root-only             tresillo           each  -  0
        root-only             dotted-then-half   each  -  0
        flat-seven-neighbour  tresillo           each  -  0
        rock-four-five        tresillo           each  -  2
        root-fifth-octave     tresillo           each  -  1
        root-fifth-octave     late-two           each  -  2
        root-only             late-two           each  -  1
        flat-seven-neighbour  late-two           each  -  1
        phrygian-neighbour    late-two           each  -  4
        root-only             half-notes         each  -  3
        root-only             whole-note         each  -  6
        root-only             eighths-stop-four  each  -  2
        rock-four-five        eighths-stop-four  tail  -  2
        root-only             push-over          each  -  3
      `),
      leads: [],
      schemes: schemesOf(`
        A B A f A B A F  0
        A A A B A A A F  0
        A A A f A A A F  4
      `),
      fills: figuresOf(`
        half-time-pair        1/4: 1 &      >v5 >vb7  1  f  any
        half-time-steps       1/4: 1 &      w- h-     2  f  any
        half-time-hold        4/4: 1 2&     1 1       2  f  any
        half-time-fall        2/4: 1 & 2 &  8 b7 5 4  1  F  minor power
        half-time-fall-third  2/4: 1 & 2 &  8 b7 5 3  1  F  minor dominant
        half-time-fall-six    2/4: 1 & 2 &  8 6 5 3   1  F  major dominant
        half-time-push        2/4: 1 2&~    1 >1      9  F  any
      `),
      walks: [],
      ghosts: undefined,
      kick: { places: ['1', '2&'], missed: 2, against: 1 },
      never: [
        'finer-than eighth', // no sixteenths
        'rest one', // one carries the bar
        'notes-over 7', // space is the point
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'half-time-basic',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=7.5. 6.5. 7.5. 6.5.', '38=.... .... 9... ....', '36=9... ..6. .... ....'],
      },
      {
        id: 'half-time-kick',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=7... 6... 7... 6...', '38=.... .... 9... ....', '36=9... .... ..7. ...7'],
      },
    ],
    fills: [
      {
        id: 'half-time-fill-toms',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '42=7.5. 6.5. .... ....',
          '38=.... .... 9... ....',
          '48=.... .... ..7. ....',
          '45=.... .... .... 7.7.',
          '41=.... .... .... .7.8',
          '36=9... .... .... ....',
        ],
        nextBar: ['49=8', '36=8'],
      },
      {
        id: 'half-time-fill-snare',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=7.5. 6.5. 7... ....', '38=.... .... 9... 6788', '36=9... ..6. .... ....'],
        nextBar: ['49=8', '36=8'],
      },
    ],
    comping: compingOf(`
      half-time-comp-held   1                           30  1.0  64  2  root-and-fifth  40-64
      half-time-comp-chops  1. (2) &. (3) (4) &.        29  0.4  68  2  root-and-fifth  40-64
    `),
    // electric bass, picked
    bassProgram: 34,
  },
  note: 'back-beat on three; long notes, and fewer than at full time',
}
