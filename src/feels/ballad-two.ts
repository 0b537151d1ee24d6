import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, swingPointsOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Ballad two-beat: long singing halves.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const BALLAD_TWO: Feel = {
  id: 'ballad-two',
  name: 'ballad two-beat',
  metre: '4/4',
  tempo: { from: 54, to: 84, usual: 66 },
  swing: { level: 'eighth', points: swingPointsOf('50:1.9 90:2.0') },
  touch: {
    lengthOnBeat: 0.98,
    lengthOffBeat: 0.7,
    placementMs: 6,
    velocities: { first: 86, beat: 80, backBeat: 80, offBeat: 66, finer: 60 },
    ghostVelocity: 34,
    accentAdd: 8,
  },
  register: { lowest: 28, highest: 52 },
  cells: weightedOf(`
    half-notes:6 half-and-two:3 two-beat-skip:2 charleston-held:1 dotted-then-half:1 two-and-half:1 half-triplet:1
  `),
  patterns: weightedOf(`
    root-fifth-up:4 two-beat-dominant:3 two-beat-below:2 two-beat-above:1 tenth:1 root-fifth-tenth:1
    guide-tones-up:1
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
          mid    3  2  0  0  2  2  6 20  3  0  5
          last   2  2  0  1  1  1  1  1  0  0  0
        `),
      },
      notes: 2,
      under: 5,
      over: 1,
      degrees: [5, 0, 0, 3, 5],
      halves: 0,
      open: 0,
      approach: 1,
      lead: 2,
      zone: 3,
      pairs: pairsOf(`
        root-fifth-up      half-notes        each  -  0
        root-fifth-down    half-notes        each  -  1
        two-beat-dominant  half-notes        each  -  2
        tenth              half-notes        each  -  3
        root-fifth-up      half-and-two      each  -  2
        root-fifth-tenth   half-and-two      each  -  2
        root-fifth-up      two-beat-skip     each  -  1
        root-fifth-octave  two-beat-skip     each  -  1
        root-fifth-tenth   dotted-then-half  each  -  2
        root-fifth-tenth   two-and-half      each  -  2
      `),
      leads: [],
      schemes: schemesOf(`
        A B A f A B A F  0
        A A A f A A A F  12
      `),
      fills: figuresOf(`
        ballad-two-quarters  2/4: 1 2        5 h-         1  f  any
        ballad-above         2/4: 1 2        3 h+         1  f  any
        ballad-walk          4/4: 1 2 3 4    1 3 5 h-     1  F  any
        ballad-walk-scale    4/4: 1 2 3 4 &  1 2 3 w- h-  2  F  any
      `),
      walks: [],
      ghosts: undefined,
      never: [
        'notes-over 5', // long notes
        'degree x one', // sing the chord
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'ballad-brush',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['38=3... 4.3. 3... 4.3.', '44=.... 5... .... 5...', '36=3... .... 3... ....'],
      },
      {
        id: 'ballad-rim',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=4... 4... 4... 4...', '37=.... .... .... 5...', '44=.... 5... .... 5...', '36=4... .... 3... ....'],
      },
    ],
    fills: [
      {
        id: 'ballad-fill-swell',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['38=3... 4.3. 3... 4.3.', '44=.... 5... .... 5...', '51=.... .... ..2. 3.4.', '36=3... .... .... ....'],
        nextBar: ['51=5', '36=4'],
      },
      {
        id: 'ballad-fill-toms',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '38=3... 4.3. .... ....',
          '44=.... 5... .... 5...',
          '45=.... .... 4... ....',
          '41=.... .... .... 4...',
          '36=3... .... .... ....',
        ],
        nextBar: ['51=5', '36=4'],
      },
    ],
    comping: compingOf(`
      ballad-comp-held    1 3      0  1.0  52  4    close   48-72
      ballad-comp-broken  1 2 3 4  0  1.0  46  3-4  broken  48-76
    `),
    // acoustic bass
    bassProgram: 32,
  },
  note: 'long, singing; walk in four at the bridge',
}
