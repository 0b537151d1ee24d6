import { STRAIGHT } from '../rhythm/swing.ts'
import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Gospel in twelve-eight: long notes, lead-ins, runs into the change.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const GOSPEL_TWELVE: Feel = {
  id: 'gospel-twelve',
  name: 'gospel in twelve-eight',
  metre: '12/8',
  tempo: { from: 44, to: 80, usual: 62 },
  swing: STRAIGHT,
  touch: {
    lengthOnBeat: 0.97,
    lengthOffBeat: 0.86,
    placementMs: 6,
    velocities: { first: 100, beat: 94, backBeat: 98, offBeat: 86, finer: 80 },
    ghostVelocity: 36,
    accentAdd: 12,
  },
  register: { lowest: 28, highest: 52 },
  cells: weightedOf(`
    twelve-lead-in:4 twelve-dotted:3 twelve-half:2 twelve-run-out:3 twelve-lead-in-one:2 twelve-push:1
    twelve-mid-run:1
  `),
  patterns: weightedOf(`
    root-fifth-octave:3 root-fifth-up:3 gospel-walk-to-four:2 gospel-walk-to-five:2 root-octave:2 gospel-climb:1
    root-fifth-tenth:1
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
          mid    0  0  0  2  4  4  6 20 12  0  4
          last   3  2  1  1  1  1  1  2  0  0  0
        `),
      },
      notes: 4,
      degrees: [5, 0, 0, 1, 3],
      halves: 0,
      approach: 0,
      lead: 2,
      zone: 3,
      pairs: pairsOf(`
        root-fifth-up      twelve-lead-in      half  -                      1
        root-fifth-octave  twelve-lead-in      each  -                      1
        root-octave        twelve-lead-in      half  -                      1
        root-fifth-octave  twelve-lead-in-one  each  -                      2
        root-fifth-octave  twelve-dotted       each  -                      3
        root-fifth-octave  twelve-run-out      each  chromatic-root-pickup  1
        root-fifth-octave  twelve-run-out      each  fifth-sixth-root       1
        root-fifth-up      twelve-half         each  -                      3
        root-fifth-octave  twelve-push         each  -                      3
      `),
      leads: [
        { pattern: 'chromatic-root-pickup', points: 0 },
        { pattern: 'fifth-sixth-root', points: 0 },
      ],
      schemes: schemesOf(`
        A w A w A w A F  0
      `),
      fills: figuresOf(`
        gospel-climb-half      6/8: 1 2 3 4 5 6  1 b3 n3 5 6 8   1  F  major dominant
        gospel-fall-half       6/8: 1 2 3 4 5 6  8 6 5 b3 n3 h-  4  F  major dominant
        gospel-chromatic-half  6/8: 1 3 4 5 6    1 3 >v5 w- h-   1  F  any
      `),
      walks: figuresOf(`
        gospel-run   3/8: 1 2 3  >v5 w- h-  1  change  any
        gospel-pair  3/8: 1 3    w- h-      2  change  any
        gospel-down  3/8: 1 2 3  >4 >3 >2   2  change  any
      `),
      ghosts: undefined,
      never: [
        'degree x back', // blue and chromatic notes lead, they do not stand on a dotted beat
        'rest one', // long root on one
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'gospel-hat',
        metre: '12/8',
        ticksPerStep: 240,
        lanes: ['42=7.5 6.5 7.5 6.5', '38=... 8.. ... 8..', '36=8.. ..6 7.. ..6'],
      },
      {
        id: 'gospel-ride-clap',
        metre: '12/8',
        ticksPerStep: 240,
        lanes: ['51=745 645 745 645', '39=... 7.. ... 7..', '38=... 8.. ... 8.2', '36=8.. ..7 ..7 ...'],
      },
    ],
    fills: [
      {
        id: 'gospel-fill-run',
        metre: '12/8',
        ticksPerStep: 120,
        lanes: [
          '42=7.5. .... 7... .... .... ....',
          '38=.... .... 8... .... 6667 7788',
          '36=8... .... .... .... 8... ....',
        ],
        nextBar: ['49=8', '36=8'],
      },
      {
        id: 'gospel-fill-toms',
        metre: '12/8',
        ticksPerStep: 240,
        lanes: [
          '42=7.5 6.5 ... ...',
          '38=... 8.. 77. ...',
          '45=... ... ..7 7..',
          '41=... ... ... .78',
          '36=8.. ... ..7 ...',
        ],
        nextBar: ['49=8', '36=8'],
      },
    ],
    comping: compingOf(`
      gospel-comp-triplets  12/8: 1 2 3 4 5 6 7 8 9 10 11 12  0   0.9   58  3-4  close  60-84
      gospel-comp-organ     12/8: 1 6 7 12                    16  0.95  60  4    close  48-72
    `),
    // electric bass, fingers
    bassProgram: 33,
  },
  note: 'tempo counts dotted quarters',
}
