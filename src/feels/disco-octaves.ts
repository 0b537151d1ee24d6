import { STRAIGHT } from '../rhythm/swing.ts'
import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Disco octaves: low on the beat, the octave off it and short.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const DISCO_OCTAVES: Feel = {
  id: 'disco-octaves',
  name: 'disco octaves',
  metre: '4/4',
  tempo: { from: 108, to: 132, usual: 120 },
  swing: STRAIGHT,
  touch: {
    lengthOnBeat: 0.86,
    lengthOffBeat: 0.46,
    placementMs: 0,
    velocities: { first: 100, beat: 98, backBeat: 98, offBeat: 92, finer: 86 },
    ghostVelocity: 34,
    accentAdd: 8,
  },
  register: { lowest: 28, highest: 52 },
  cells: weightedOf(`
    octave-off-beats:8 eight-eighths:2 gallop:2 short-quarters:1 off-beats:1 four-quarters:1 and-a:1
  `),
  patterns: weightedOf(`
    root-octave:8 root-fifth-octave-fifth:1 octave-root:1 chromatic-root-pickup:1
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
          back   0  4  1  3  3  4  4 10  6  0  3
          mid    0  4  1  3  3  4  4 10 10  0  3
          off    4  0  3  4  4  3  4  6  4  0  0
        `),
      },
      notes: 8,
      degrees: [8, 0, 1, 4, 8],
      halves: 0,
      approach: 40,
      lead: 0,
      intervals: [0, 0, 0, 0, 0, 0, 2, 0, 1, 1, 1, 4, 0],
      wide: 0,
      // Open strings ring on and cannot be damped; so in the feels that drop or sit deep.
      open: 3,
      zone: 0,
      zoneMove: 5,
      // From the high octave to the next low root is the figure itself.
      leadDrop: 0,
      pairs: pairsOf(`
        root-octave  octave-off-beats  each      -                      0
        root-octave  eight-eighths     each      -                      1
        root-octave  octave-off-beats  each      chromatic-root-pickup  2
        root-octave  gallop*4          low-high  -                      5
        root-octave  off-beats         tail      -                      6
        root-octave  four-quarters     each      -                      6
      `),
      leads: [{ pattern: 'chromatic-root-pickup', points: 2 }],
      schemes: schemesOf(`
        A A A f A A A F  0
        A A A B A A A F  0
        A A A A A A A F  12
      `),
      fills: figuresOf(`
        disco-gallop-end         2/4: 1 & 2 & a  1 8 1 8 8  1  F  any
        disco-octave-fall        2/4: 1 & 2 &    8 b7 5 h-  1  F  minor dominant
        disco-octave-fall-major  2/4: 1 & 2 &    8 6 5 h-   1  F  major
        disco-chromatic-octaves  2/4: 1 & 2 &    1 8 w- h-  1  F  any
        disco-breath             1/2: (1)        -          1  f  any
        disco-sixteenth-lead     1/4: 1 e & a    8 8 w- h-  2  f  any
      `),
      walks: [],
      ghosts: undefined,
      never: [
        'only 1 mid', // low on the beat
        'rest one', // four on the floor
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'disco-open-off',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6... 6... 6... 6...', '46=..7. ..7. ..7. ..7.', '38=.... 8... .... 8...', '36=8... 8... 8... 8...'],
      },
      {
        id: 'disco-sixteen-hat',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '42=64.4 64.4 64.4 64.4',
          '46=..6. ..6. ..6. ..6.',
          '38=.... 8... .... 8...',
          '39=.... 6... .... 6...',
          '36=8... 8... 8... 8...',
        ],
      },
    ],
    fills: [
      {
        id: 'disco-fill-snare',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6... 6... .... ....', '46=..7. ..7. .... ....', '38=.... 8... 6666 7788', '36=8... 8... 8... 8...'],
        nextBar: ['49=8', '36=8'],
      },
      {
        id: 'disco-fill-toms',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '42=6... 6... 6... ....',
          '46=..7. ..7. ..7. ....',
          '38=.... 8... .... ....',
          '48=.... .... .... 77..',
          '45=.... .... .... ..88',
          '36=8... 8... 8... 8...',
        ],
        nextBar: ['49=8', '36=8'],
      },
    ],
    comping: compingOf(`
      disco-comp-strings  1 2 3 4                                          48  1.0   56  3  close  60-84
      disco-comp-guitar   1. ex &. a. 2x ex &. a. 3. ex &. a. 4x ex &. a.  27  0.35  66  3  close  60-84
    `),
    // electric bass, fingers
    bassProgram: 33,
  },
  note: 'low on the beat, octave off the beat, short',
}
