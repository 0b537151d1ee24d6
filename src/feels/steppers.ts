import { STRAIGHT } from '../rhythm/swing.ts'
import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Steppers: kick on all four, the line heavy and steady.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const STEPPERS: Feel = {
  id: 'steppers',
  name: 'steppers',
  metre: '4/4',
  tempo: { from: 112, to: 150, usual: 136 },
  swing: STRAIGHT,
  touch: {
    lengthOnBeat: 0.88,
    lengthOffBeat: 0.84,
    placementMs: 6,
    velocities: { first: 102, beat: 94, backBeat: 96, offBeat: 90, finer: 82 },
    ghostVelocity: 34,
    accentAdd: 8,
  },
  register: { lowest: 28, highest: 43 },
  cells: weightedOf(`
    steppers-line:3 quarter-and-eighths:3 walk-skip-four:2 four-quarters:2 eight-eighths:1 drop-two-bars:1
  `),
  patterns: weightedOf(`
    reggae-low-answer:3 root-only:3 reggae-triad-drop:2 root-octave-fifth:2 reggae-fifth-first:1
    pentatonic-minor-run:1
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
          last   0  1  0  1  2  0  3  4  3  0  0
        `),
      },
      // the lead is the riff
      mostLeads: 8,
      notes: 5,
      degrees: [6, 0, 0, 3, 6],
      halves: 1,
      approach: 6,
      lead: 0,
      intervals: [0, 0, 0, 0, 0, 0, 2, 0, 1, 1, 1, 6, 1],
      zone: 0,
      zoneMove: 20,
      pairs: pairsOf(`
        root-only          steppers-line        each  funk-pickup  0
        reggae-low-answer  steppers-line        each  -            2
        root-octave-fifth  steppers-line        each  -            2
        reggae-low-answer  quarter-and-eighths  each  -            2
        root-only          quarter-and-eighths  each  funk-pickup  1
        root-fifth-up      quarter-and-eighths  half  -            2
        root-octave-fifth  four-quarters        each  -            3
        reggae-triad-drop  four-quarters        each  -            3
        root-only          walk-skip-four       each  funk-pickup  1
      `),
      leads: [{ pattern: 'funk-pickup', points: 0 }],
      // The last is for a vocabulary that has no answer.
      schemes: schemesOf(`
        A B A B A B A f  0
        A A A B A A A f  0
        A A A f A A A f  16
      `),
      fills: figuresOf(`
        steppers-stop        4/4: 1. (2) (3) 4 &  1 v5 v7   1  f  minor dominant
        steppers-stop-major  4/4: 1. (2) (3) 4 &  1 v5 v6   1  f  major
        steppers-fall        2/4: 1 & 2 &         8 b7 5 4  1  f  minor power
      `),
      walks: [],
      ghosts: undefined,
      never: [
        'finer-than eighth', // no sixteenths
        'rest one', // kick and bass together
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'steppers-basic',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6.4. 6.4. 6.4. 6.4.', '37=.... .... 8... ....', '36=8... 7... 8... 7...'],
      },
      {
        id: 'steppers-sixteenths',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6343 6343 6343 6343', '37=.... .... 8... ....', '36=8... 7... 8... 7...'],
      },
    ],
    fills: [
      {
        id: 'steppers-fill-rim',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6.4. 6.4. 6.4. ....', '37=.... ...6 8..6 ..66', '36=8... 7... 8... 7...'],
        nextBar: ['49=7', '36=8'],
      },
      {
        id: 'steppers-fill-toms',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6.4. 6.4. .... ....', '48=.... .... 7.7. ....', '41=.... .... .... 7.77', '36=8... 7... 8... 7...'],
        nextBar: ['49=7', '36=8'],
      },
    ],
    comping: compingOf(`
      steppers-skank         (1) 2. (3) 4.        27  0.2  78  3  close  60-84
      steppers-skank-double  (1) 2. &. (3) 4. &.  27  0.2  74  3  close  60-84
    `),
    // electric bass, fingers
    bassProgram: 33,
  },
  note: 'kick on all four; line heavy and steady',
}
