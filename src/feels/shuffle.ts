import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, swingPointsOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Shuffle: boxes and boogie in swung eighths.
 *
 * Sources: common practice, no source, the ratio of two to one too. Weights of the groove: see `groove-defaults.ts`.
 */
export const SHUFFLE: Feel = {
  id: 'shuffle',
  name: 'shuffle',
  metre: '4/4',
  tempo: { from: 92, to: 176, usual: 126 },
  swing: { level: 'eighth', points: swingPointsOf('60:2.0 140:2.0 180:1.8 220:1.6') },
  touch: {
    lengthOnBeat: 0.86,
    lengthOffBeat: 0.62,
    placementMs: 4,
    velocities: { first: 102, beat: 96, backBeat: 98, offBeat: 84, finer: 78 },
    ghostVelocity: 36,
    accentAdd: 10,
  },
  register: { lowest: 28, highest: 50 },
  cells: weightedOf(`
    shuffle-box:3 four-quarters:4 shuffle-quarters-skip:3 shuffle-two-skip:2 walk-triplet-four:1
  `),
  patterns: weightedOf(`
    boogie:4 boogie-octave:3 shuffle-walk:2 walking-below:2 triad-and-back:1
  `),
  phraseBars: 4,
  line: {
    kind: 'groove',
    table: {
      ...GROOVE_DEFAULTS,
      //     1  8  5  3  6  7  4  x ap any none
      roles: {
        ...GROOVE_DEFAULTS.roles,
        ...rolesOf(`
          off   0  0  0  0  0  0  2  3  2  0  0
          mid   1  0  0  2  1  1  5 12  8  0  4
        `),
      },
      notes: 6,
      degrees: [9, 6, 2, 0, 0],
      halves: 0,
      approach: 2,
      lead: 1,
      zone: 1,
      pairs: pairsOf(`
        boogie          shuffle-box            beat     -  0
        boogie-octave   shuffle-box            beat     -  1
        boogie          shuffle-box            each     -  1
        boogie          four-quarters          run      -  0
        boogie-octave   four-quarters          run      -  1
        triad-and-back  four-quarters          each     -  3
        boogie          shuffle-quarters-skip  beatrun  -  0
        boogie          shuffle-two-skip       beatrun  -  0
        boogie-octave   shuffle-two-skip       beatrun  -  1
        boogie          shuffle-box            beatrun  -  0
        walking-below   four-quarters          each     -  3
      `),
      leads: [],
      schemes: schemesOf(`
        A A A f A A A F  0
        A A A A A A A F  1
      `),
      fills: figuresOf(`
        shuffle-turn-up       2/4: 1 & 2 &     1 3 w- h-   1  F    any
        shuffle-turn-down     2/4: 1 & 2 &     8 b7 5 h+   1  F    dominant minor
        shuffle-triplet-lead  1/4: 1 trip let  >v5 w- h-   1  f    any
        shuffle-chromatic     1/4: 1 &         w- h-       1  f    any
        shuffle-turnaround    4/4: 1 2 3 & 4   1 3 4 #4 5  1  F12  dominant major
      `),
      walks: [],
      ghosts: undefined,
      never: [
        'leap-over 12', // the line walks
        'degree 4 one', // no fourth on one
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'shuffle-hat',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=7.5. 7.5. 7.5. 7.5.', '38=.... 8... .... 8...', '36=8... .... 8... ....'],
      },
      {
        id: 'shuffle-ride-two-hands',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['51=7.5. 7.5. 7.5. 7.5.', '38=3.3. 8.3. 3.3. 8.3.', '36=8... 6... 8... 6...', '44=.... 5... .... 5...'],
      },
      {
        id: 'shuffle-kick-skip',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['51=7.5. 7.5. 7.5. 7.5.', '38=.... 8... .... 8...', '36=8... ..6. 8... ..6.', '44=.... 5... .... 5...'],
      },
    ],
    fills: [
      {
        id: 'shuffle-fill-triplets',
        metre: '4/4',
        ticksPerStep: 160,
        lanes: [
          '42=75. 75. ... ...',
          '38=... 8.. 777 ...',
          '45=... ... ... 77.',
          '41=... ... ... ..8',
          '36=8.. ... 8.. ...',
        ],
        nextBar: ['49=8', '36=8'],
      },
      {
        id: 'shuffle-fill-snare',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=7.5. 7.5. 7.5. ....', '38=.... 8... ..6. 7.8.', '36=8... .... 8... ....'],
        nextBar: ['49=8', '36=8'],
      },
    ],
    comping: compingOf(`
      shuffle-comp-charleston  1 2&. (3)        16  0.6  68  3-4  close            48-72
      shuffle-comp-two-notes   1 & 2 & 3 & 4 &  27  0.7  66  2    fifth-and-sixth  40-64
    `),
    // electric bass, fingers
    bassProgram: 33,
  },
  note: 'long beats, skips lead on',
}
