import { STRAIGHT } from '../rhythm/swing.ts'
import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Son-montuno, in cut time: the bass anticipates, four carries the next root over the bar line.
 *
 * Sources: placement and anticipation are measured from annotated onsets of an open corpus of son and salsa; all else common
 * practice, no source. Claves and congas are written two-three. Weights of the groove: see `groove-defaults.ts`.
 */
export const TUMBAO: Feel = {
  id: 'tumbao',
  name: 'son-montuno, cut time',
  metre: '4/4',
  tempo: { from: 150, to: 230, usual: 190 },
  swing: STRAIGHT,
  touch: {
    lengthOnBeat: 0.92,
    lengthOffBeat: 0.9,
    placementMs: -5,
    velocities: { first: 88, beat: 90, backBeat: 90, offBeat: 90, finer: 80 },
    ghostVelocity: 36,
    accentAdd: 8,
  },
  register: { lowest: 28, highest: 50 },
  cells: weightedOf(`
    tumbao:8 tumbao-with-three:6 tumbao-three-four:5 tumbao-first:1 tumbao-last:1 cinquillo:1
  `),
  patterns: weightedOf(`
    tumbao-anticipated:5 tumbao-octave:3 tumbao-third:2
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
          one    6 12 20 20 20 20 20 40 40  6  0
          mid    1  0  0  1  3  3  6 20 20  0  0
          off    3  2  0  1  3  3  6 12 12  0  3
          push   0  4  8  8 12 12 20 40 40  0  0
        `),
      },
      notes: 3,
      under: 2,
      over: 1,
      degrees: [4, 0, 1, 4, 8],
      approach: 30,
      lead: 0,
      zone: 4,
      pairs: pairsOf(`
        tumbao-anticipated  tumbao             each  -  0
        tumbao-octave       tumbao-with-three  each  -  1
        tumbao-third        tumbao-with-three  each  -  2
        tumbao-approached   tumbao-with-three  each  -  3
        tumbao-anticipated  tumbao-three-four  each  -  1
      `),
      leads: [],
      schemes: schemesOf(`
        A A A A A A A f  12
        A B A B A B A f  0
      `),
      fills: figuresOf(`
        son-third-fifth  4/4: ~1 2& 3 4~   3 5 >1    1  f  any
        son-climb        4/4: ~1 2 & 3 4~  3 5 8 >1  2  f  any
        son-approach     4/4: ~1 2& 3& 4~  5 h- >1   2  f  any
      `),
      walks: [],
      ghosts: undefined,
      never: [
        'strike one', // one is struck at the start of a section only
        'rest four', // four is always there and takes the next chord
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'tumbao-congas-two-three',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '75=.... 7... 7... ....|7... ..7. .... 7...',
          '62=4.4. 6.4. 4.4. 4...|4.4. 6.4. 4.4. 4...',
          '63=.... .... .... 7.7.|.... .... .... 7.7.',
          '56=7... 5... 7... 5...|7... 5... 7... 5...',
          '70=5.5. 5.5. 5.5. 5.5.|5.5. 5.5. 5.5. 5.5.',
        ],
      },
      {
        id: 'tumbao-shell-two-three',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '75=.... 7... 7... ....|7... ..7. .... 7...',
          '65=7... 7.7. ..7. ..7.|7... 7... 7.7. ..7.',
          '62=4.4. 6.4. 4.4. 4...|4.4. 6.4. 4.4. 4...',
          '63=.... .... .... 7.7.|.... .... .... 7.7.',
        ],
      },
    ],
    fills: [
      {
        id: 'tumbao-fill-timbales',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['62=4.4. 6.4. .... ....', '65=.... .... 7.7. 7...', '66=.... .... .... ..8.', '56=7... 5... .... ....'],
        nextBar: ['49=7', '36=7'],
      },
      {
        id: 'tumbao-fill-congas',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['62=4.4. 6... .... ....', '63=.... ..7. 7.7. ....', '64=.... .... .... 7.8.', '56=7... 5... 7... 5...'],
        nextBar: ['49=7'],
      },
    ],
    comping: compingOf(`
      montuno-two-three  1 2 & ~3 & ~4 & | ~1 & ~2 & ~3 & ~4 &  0  0.7  74  3    octaves  60-84
      tumbao-comp-stab   (1) & (2) 3. (4) | 1. 2&. (3) 4.       0  0.4  70  3-4  close    48-72
    `),
    // acoustic bass
    bassProgram: 32,
  },
  note: 'no attack on 1 except where a section starts; keep the clave side',
}
