import { STRAIGHT } from '../rhythm/swing.ts'
import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Country two-beat: root and fifth in turn, walks into the changes.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const COUNTRY_TWO: Feel = {
  id: 'country-two',
  name: 'country two-beat',
  metre: '4/4',
  tempo: { from: 88, to: 208, usual: 120 },
  swing: STRAIGHT,
  touch: {
    lengthOnBeat: 0.72,
    lengthOffBeat: 0.6,
    placementMs: 0,
    velocities: { first: 96, beat: 88, backBeat: 80, offBeat: 78, finer: 72 },
    ghostVelocity: 36,
    accentAdd: 8,
  },
  register: { lowest: 28, highest: 48 },
  cells: weightedOf(`
    two-beat:8 two-beat-walk-up:3 half-notes:2 two-in-two-skip:1 half-and-two:1
  `),
  patterns: weightedOf(`
    root-fifth-down:5 root-fifth-up:4 country-walk-up:3 leading-tone-walk:1
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
          mid   3  4  0  3  6  9  9 20 20  0  6
        `),
      },
      notes: 2,
      degrees: [6, 0, 4, 6, 8],
      halves: 0,
      approach: 5,
      lead: 0,
      open: 0,
      zone: 0,
      zoneMove: 6,
      fold: 0,
      pairs: pairsOf(`
        root-fifth-down  two-beat           each  -  0
        root-fifth-up    two-beat           each  -  1
        root-fifth-down  half-notes         each  -  3
        root-fifth-down  two-in-two-skip*2  half  -  4
      `),
      leads: [],
      schemes: schemesOf(`
        A w A w A w A F  0
      `),
      fills: figuresOf(`
        country-three-up    4/4: 1. 2 3 4     1 >v5 >vn6 >vn7  0  F  any
        country-scale-down  4/4: 1 2 3 4      8 7 6 5          2  F  major
        country-pentatonic  4/4: 1 & 2 & 3 4  1 2 3 5 6 5      4  F  major dominant
      `),
      walks: figuresOf(`
        country-up         2/4: 1 2  >vn6 >vn7  2  change  any
        country-down       2/4: 1 2  >3 >2      2  change  any
        country-chromatic  2/4: 1 2  w- h-      5  change  any
      `),
      ghosts: undefined,
      never: [
        'push', // nothing tied, nothing early
        'degree 3 one', // root on one
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'country-basic',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=5.4. 5.4. 5.4. 5.4.', '37=.... 7... .... 7...', '36=7... .... 7... ....'],
      },
      {
        id: 'country-train',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['38=4344 7344 4344 7344', '36=7... .... 7... ....'],
      },
    ],
    fills: [
      {
        id: 'country-fill-pickup',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=5.4. 5.4. 5.4. ....', '37=.... 7... .... ....', '38=.... .... .... 7.7.', '36=7... .... 7... ....'],
        nextBar: ['49=6', '36=7'],
      },
      {
        id: 'country-fill-train',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['38=4344 7344 5566 7878', '36=7... .... 7... ....'],
        nextBar: ['49=6', '36=7'],
      },
    ],
    comping: compingOf(`
      country-comp-boom-chick  (1) 2. (3) 4.    25  0.5  70  4-5  strummed  52-76
      country-comp-strum       (1) 2 & (3) 4 &  25  0.7  68  4-5  strummed  52-76
    `),
    // acoustic bass
    bassProgram: 32,
  },
  note: 'root and fifth in turn; walk into changes',
}
