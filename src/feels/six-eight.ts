import { STRAIGHT } from '../rhythm/swing.ts'
import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Six-eight: long and short, two beats in the bar.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const SIX_EIGHT: Feel = {
  id: 'six-eight',
  name: 'six-eight',
  metre: '6/8',
  tempo: { from: 46, to: 84, usual: 60 },
  swing: STRAIGHT,
  touch: {
    lengthOnBeat: 0.95,
    lengthOffBeat: 0.85,
    placementMs: 2,
    velocities: { first: 98, beat: 92, backBeat: 92, offBeat: 82, finer: 76 },
    ghostVelocity: 34,
    accentAdd: 8,
  },
  register: { lowest: 28, highest: 50 },
  cells: weightedOf(`
    six-two:4 six-long-short:3 six-lead-in:3 six-run:2 six-all:1 six-three:1 six-push:1
  `),
  patterns: weightedOf(`
    triad-octave:3 root-fifth-octave:3 root-fifth-up:3 root-fifth-tenth:2 triad-and-back:2
  `),
  phraseBars: 4,
  line: {
    kind: 'groove',
    table: {
      ...GROOVE_DEFAULTS,
      notes: 3,
      over: 1,
      degrees: [5, 0, 0, 1, 3],
      halves: 0,
      approach: 1,
      lead: 1,
      zone: 0,
      zoneMove: 5,
      pairs: pairsOf(`
        root-fifth-up      six-lead-in     each  -  1
        root-fifth-octave  six-long-short  each  -  2
        root-fifth-up      six-long-short  half  -  0
        root-octave        six-long-short  half  -  1
        root-fifth-up      six-two         each  -  1
        triad-octave       six-run         each  -  6
        root-fifth-octave  six-run         each  -  3
        root-fifth-octave  six-three       each  -  3
        triad-and-back     six-all         each  -  4
      `),
      leads: [],
      schemes: schemesOf(`
        A B A f A B A F  0
        A A A f A A A F  10
      `),
      fills: figuresOf(`
        six-run-in    3/8: 1 2 3        5 w- h-       0  f  any
        six-walk      6/8: 1 3 4 5 6    1 3 5 w- h-   1  F  any
        six-arpeggio  6/8: 1 2 3 4 5 6  1 3 5 8 5 h-  1  F  any
      `),
      walks: [],
      ghosts: undefined,
      never: [
        'rest one', // the sway starts on one
        'degree 4 one', // chord tones on one
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'six-eight-hat',
        metre: '6/8',
        ticksPerStep: 120,
        lanes: ['42=7.4.5. 6.4.5.', '38=...... 8.....', '36=8..... ......'],
      },
      {
        id: 'six-eight-ride',
        metre: '6/8',
        ticksPerStep: 120,
        lanes: ['51=7.4.5. 6.4.5.|7.4.5. 6.4.5.', '38=...... 8.....|...... 8.....', '36=8...6. ......|8..... ....7.'],
      },
    ],
    fills: [
      {
        id: 'six-eight-fill-snare',
        metre: '6/8',
        ticksPerStep: 120,
        lanes: ['42=7.4.5. ......', '38=...... 7.7.88', '36=8..... ......'],
        nextBar: ['49=8', '36=8'],
      },
      {
        id: 'six-eight-fill-toms',
        metre: '6/8',
        ticksPerStep: 120,
        lanes: ['42=7..... ......', '48=..7.7. ......', '45=...... 7.7...', '41=...... ....8.', '36=8..... ......'],
        nextBar: ['49=8', '36=8'],
      },
    ],
    comping: compingOf(`
      six-comp-broken  6/8: 1 2 3 4 5 6  24  1.0   54  3-4  broken  52-76
      six-comp-two     6/8: 1 4          0   0.95  56  3-4  close   48-72
    `),
    // electric bass, fingers
    bassProgram: 33,
  },
  note: 'tempo counts dotted quarters',
}
