import { STRAIGHT } from '../rhythm/swing.ts'
import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Waltz: the bass on one, the chords on two and three.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const WALTZ: Feel = {
  id: 'waltz',
  name: 'waltz',
  metre: '3/4',
  tempo: { from: 84, to: 190, usual: 132 },
  swing: STRAIGHT,
  touch: {
    lengthOnBeat: 0.74,
    lengthOffBeat: 0.7,
    placementMs: 0,
    velocities: { first: 98, beat: 84, backBeat: 84, offBeat: 78, finer: 72 },
    ghostVelocity: 34,
    accentAdd: 8,
  },
  register: { lowest: 28, highest: 48 },
  cells: weightedOf(`
    waltz-one:4 waltz-short-one:3 waltz-one-three:2 waltz-three:2 waltz-skip-three:1
  `),
  patterns: weightedOf(`
    root-fifth-down:4 waltz-root-fifth-third:3 waltz-root-fifth-fifth:2 walk-up-three:1
  `),
  phraseBars: 8,
  line: {
    kind: 'groove',
    table: {
      ...GROOVE_DEFAULTS,
      //        1  8  5  3  6  7  4  x ap any none
      roles: {
        ...GROOVE_DEFAULTS.roles,
        ...rolesOf(`
          one   0  5  1  4 14 14 20 40 40  0 20
        `),
      },
      notes: 1,
      under: 6,
      degrees: [0, 0, 2, 5, 8],
      approach: 6,
      lead: 0,
      open: 0,
      zone: 0,
      pairs: pairsOf(`
        root-fifth-down         waltz-one        run   -  0
        root-fifth-down         waltz-short-one  run   -  1
        root-fifth-down         waltz-one-three  each  -  3
        waltz-root-fifth-fifth  waltz-three      each  -  5
      `),
      leads: [],
      schemes: schemesOf(`
        A A A w A A A F  0
        A w A w A w A F  2
      `),
      fills: figuresOf(`
        waltz-up    3/4: 1 2 3  1 >vn6 >vn7  0  F  any
        waltz-down  3/4: 1 2 3  8 7 6        2  F  major
      `),
      walks: figuresOf(`
        waltz-walk-up    3/4: 1 2 3  1 >vn6 >vn7  2  change  any
        waltz-walk-down  3/4: 1 2 3  1 >3 >2      2  change  any
      `),
      ghosts: undefined,
      never: [
        'rest one', // bass on one
        'push', // nothing early
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'waltz-basic',
        metre: '3/4',
        ticksPerStep: 120,
        lanes: ['42=.... 5... 5...', '38=.... 4... 4...', '36=7... .... ....'],
      },
      {
        id: 'waltz-rim',
        metre: '3/4',
        ticksPerStep: 120,
        lanes: ['42=5.4. 5.4. 5.4.', '37=.... 6... 6...', '36=7... .... ....'],
      },
    ],
    fills: [
      {
        id: 'waltz-fill-snare',
        metre: '3/4',
        ticksPerStep: 120,
        lanes: ['42=5... .... ....', '38=.... 5.5. 6.7.', '36=7... .... ....'],
        nextBar: ['49=6', '36=7'],
      },
      {
        id: 'waltz-fill-toms',
        metre: '3/4',
        ticksPerStep: 120,
        lanes: ['42=5.4. .... ....', '45=.... 6.6. ....', '41=.... .... 6.7.', '36=7... .... ....'],
        nextBar: ['49=6', '36=7'],
      },
    ],
    comping: compingOf(`
      waltz-comp            3/4: (1) 2. 3.  25  0.45  62  3-4  close  52-76
      waltz-comp-accordion  3/4: (1) 2. 3.  21  0.4   60  3    close  48-72
    `),
    // acoustic bass
    bassProgram: 32,
  },
  note: 'bass on 1, chords on 2 and 3',
}
