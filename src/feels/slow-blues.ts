import { STRAIGHT } from '../rhythm/swing.ts'
import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Slow blues in twelve-eight: dotted quarters, run out into the changes.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const SLOW_BLUES: Feel = {
  id: 'slow-blues',
  name: 'slow blues in twelve-eight',
  metre: '12/8',
  tempo: { from: 48, to: 76, usual: 60 },
  swing: STRAIGHT,
  touch: {
    lengthOnBeat: 0.95,
    lengthOffBeat: 0.8,
    placementMs: 8,
    velocities: { first: 98, beat: 94, backBeat: 96, offBeat: 84, finer: 78 },
    ghostVelocity: 36,
    accentAdd: 10,
  },
  register: { lowest: 28, highest: 50 },
  cells: weightedOf(`
    twelve-dotted:4 twelve-long-short:3 twelve-run-out:2 twelve-mid-run:1 twelve-rolling:1 twelve-lead-in:1
  `),
  patterns: weightedOf(`
    sixth-arpeggio:3 boogie:2 minor-to-major-third:2 walking-below:2 gospel-walk-to-four:1
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
          back   0  0  0  0  0  1  4 10  3  0  1
        `),
      },
      notes: 5,
      degrees: [8, 4, 1, 0, 0],
      halves: 1,
      approach: 1,
      lead: 2,
      wide: 4,
      zone: 3,
      zoneMove: 5,
      pairs: pairsOf(`
        sixth-arpeggio        twelve-dotted      each     -                      0
        boogie                twelve-dotted      run      -                      1
        walking-below         twelve-dotted      each     -                      1
        sixth-arpeggio        twelve-long-short  beat     -                      0
        boogie                twelve-long-short  beatrun  -                      1
        sixth-arpeggio        twelve-run-out     each     chromatic-root-pickup  0
        triad-octave          twelve-run-out     each     chromatic-root-pickup  2
        root-fifth-up         twelve-lead-in     half     -                      2
        minor-to-major-third  twelve-mid-run     tail     -                      3
      `),
      leads: [{ pattern: 'chromatic-root-pickup', points: 0 }],
      schemes: schemesOf(`
        A B A f A B A F  0
        A A A f A A A F  12
      `),
      fills: figuresOf(`
        blues-run-out     3/8: 1 2 3        5 w- h-         0  f  any
        blues-run-low     3/8: 1 2 3        v5 w- h-        1  f  any
        blues-blue-third  6/8: 1 2 3 4 5 6  1 b3 n3 5 6 h-  1  F  dominant major
        blues-fall        6/8: 1 2 3 4 5 6  8 b7 5 b5 4 h+  2  F  dominant minor
        blues-walk-run    6/8: 1 4 5 6      5 d+ w- h-      1  F  any
      `),
      walks: [],
      ghosts: undefined,
      never: [
        'leap-over 12', // the line walks
        'degree x back', // blue and chromatic notes pass, they do not stand on a dotted beat
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'twelve-hat',
        metre: '12/8',
        ticksPerStep: 240,
        lanes: ['42=745 645 745 645', '38=... 8.. ... 8..', '36=8.. ... 8.. ...'],
      },
      {
        id: 'twelve-ride-kick',
        metre: '12/8',
        ticksPerStep: 240,
        lanes: ['51=745 645 745 645', '38=... 8.. ... 8..', '36=8.. ..6 8.. ...', '44=... 5.. ... 5..'],
      },
    ],
    fills: [
      {
        id: 'twelve-fill-snare',
        metre: '12/8',
        ticksPerStep: 240,
        lanes: ['42=745 645 7.. ...', '38=... 8.. .67 778', '36=8.. ... 8.. ...'],
        nextBar: ['49=8', '36=8'],
      },
      {
        id: 'twelve-fill-toms',
        metre: '12/8',
        ticksPerStep: 240,
        lanes: [
          '42=745 6.. ... ...',
          '38=... 8.. ... ...',
          '48=... ... 777 ...',
          '45=... ... ... 7..',
          '41=... ... ... .78',
          '36=8.. ... ... ...',
        ],
        nextBar: ['49=8', '36=8'],
      },
    ],
    comping: compingOf(`
      slow-blues-comp-held   12/8: 1 7 12               16  0.95  58  3-4  close  48-72
      slow-blues-comp-stabs  12/8: (1) 4. (5) 10. (11)  27  0.3   66  3    close  60-84
    `),
    // electric bass, fingers
    bassProgram: 33,
  },
  note: 'tempo counts dotted quarters',
}
