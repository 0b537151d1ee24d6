import { STRAIGHT } from '../rhythm/swing.ts'
import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Cha-cha-chá: four clear quarters in the band, the bass short on one and leaning into the next bar from four.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const CHA_CHA_CHA: Feel = {
  id: 'cha-cha-cha',
  name: 'cha-cha-chá',
  metre: '4/4',
  tempo: { from: 104, to: 136, usual: 120 },
  swing: STRAIGHT,
  touch: {
    lengthOnBeat: 0.74,
    lengthOffBeat: 0.66,
    placementMs: 0,
    velocities: { first: 92, beat: 88, backBeat: 86, offBeat: 82, finer: 76 },
    ghostVelocity: 36,
    accentAdd: 8,
  },
  register: { lowest: 28, highest: 48 },
  cells: weightedOf(`
    cha-cha-walk:4 tresillo:4 cha-cha-eighths:3 habanera:2 half-and-two:1
  `),
  patterns: weightedOf(`
    root-fifth-up:4 root-fifth-both:2 triad-up:2 root-fifth-octave:4 triad-octave:1
  `),
  phraseBars: 8,
  line: {
    kind: 'groove',
    table: {
      ...GROOVE_DEFAULTS,
      //         1  8  5  3  6  7  4  x ap any none
      roles: {
        ...GROOVE_DEFAULTS.roles,
        ...rolesOf(`
          mid    2  1  0  1  3  3  6 20 20  0  0
          off    1  1  0  1  2  2  4 12  8  0  0
          back   1  0  0  1  2  2  4 12  8  2  0
          last   2  0  0  1  1  1  2  4  2  0  0
        `),
      },
      mostLeads: 2,
      notes: 3,
      under: 4,
      over: 1,
      degrees: [8, 0, 0, 3, 8],
      approach: 8,
      zone: 2,
      zoneMove: 5,
      pairs: pairsOf(`
        root-fifth-octave  tresillo         each  -                      0
        root-fifth-octave  cha-cha-walk     each  -                      1
        triad-up           cha-cha-walk     each  -                      1
        triad-up           tresillo         each  -                      1
        root-fifth-both    habanera         each  -                      2
        triad-octave       cha-cha-eighths  each  -                      3
        root-fifth-up      cha-cha-eighths  each  chromatic-root-pickup  2
        root-fifth-up      cha-cha-eighths  each  funk-pickup            2
        root-fifth-up      half-and-two     half  -                      5
      `),
      leads: [
        { pattern: 'funk-pickup', points: 1 },
        { pattern: 'chromatic-root-pickup', points: 1 },
      ],
      schemes: schemesOf(`
        A B A B A B A f  0
        A A A B A A A f  0
        A A A f A A A f  6
      `),
      fills: figuresOf(`
        cha-cha-two-eighths  2/4: 1 2 &    5 w- h-       1  f  any
        cha-cha-fall         2/4: 1 & 2    8 b7 5        1  f  minor dominant
        cha-cha-fall-major   2/4: 1 & 2    8 6 5         1  f  major
        cha-cha-four-down    4/4: 1 2 3 4  8 b7 5 h-     2  f  minor dominant
        cha-cha-over         2/4: 1 2~     5 >1          3  f  any
      `),
      walks: [],
      ghosts: undefined,
      kick: { places: ['1', '4'], missed: 2, against: 0 },
      never: [
        'finer-than eighth', // no sixteenths
        'rest one', // four square
        'rest four', // four leads on
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'cha-cha-bell',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '56=7... 7... 7... 7...',
          '73=7... 5.5. 7... 5.5.',
          '62=4.4. 6.4. 4.4. 4...',
          '63=.... .... .... 7.7.',
          '36=5... .... .... 6...',
        ],
      },
      {
        id: 'cha-cha-guiro',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '74=7... .... 7... ....',
          '73=.... 5.5. .... 5.5.',
          '56=7... 6... 7... 6...',
          '62=4.4. 6.4. 4.4. 4...',
          '63=.... .... .... 7.7.',
        ],
      },
    ],
    fills: [
      {
        id: 'cha-cha-fill-timbales',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['56=7... 7... .... ....', '65=.... .... 7.77 7...', '66=.... .... .... ..8.', '62=4.4. 6... .... ....'],
        nextBar: ['49=7', '36=7'],
      },
      {
        id: 'cha-cha-fill-four',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['56=7... 7... 7... ....', '65=.... .... .... 7777', '62=4.4. 6.4. 4.4. ....'],
        nextBar: ['49=7'],
      },
    ],
    comping: compingOf(`
      cha-cha-comp          1. & (2) 3. & (4)  0  0.4  66  3-4  close    48-72
      cha-cha-comp-octaves  1 & 2 & 3 & 4 &    0  0.6  68  3    octaves  60-84
    `),
    // acoustic bass
    bassProgram: 32,
  },
  note: 'short, four square; four leads into one, and seldom takes it',
}
