import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, swingPointsOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Second line, in cut time: a street parade's three against four, between even and swung, the drum loudest on four.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const SECOND_LINE: Feel = {
  id: 'second-line',
  name: 'second line, cut time',
  metre: '4/4',
  tempo: { from: 160, to: 220, usual: 184 },
  swing: { level: 'eighth', points: swingPointsOf('100:1.35') },
  touch: {
    lengthOnBeat: 0.78,
    lengthOffBeat: 0.66,
    placementMs: 2,
    velocities: { first: 98, beat: 92, backBeat: 92, offBeat: 84, finer: 78 },
    ghostVelocity: 36,
    accentAdd: 12,
  },
  register: { lowest: 28, highest: 48 },
  cells: weightedOf(`
    tresillo:4 habanera:3 cinquillo:2 short-long-short-twice:2 two-beat:2 four-quarters:1 sync-chain:1
  `),
  patterns: weightedOf(`
    triad-octave:3 root-fifth-octave-fifth:2 sixth-arpeggio:2 root-fifth-down:2 triad-up:2 boogie:1
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
          mid    1  1  0  1  1  2  4 12  8  0  1
          off    2  1  0  0  1  1  3  8  5  0  0
          last   1  0  0  1  0  1  2  4  1  0  0
        `),
      },
      notes: 3,
      under: 4,
      over: 1,
      degrees: [8, 1, 0, 1, 4],
      approach: 4,
      zone: 2,
      zoneMove: 4,
      pairs: pairsOf(`
        sixth-arpeggio           habanera                each  -  0
        triad-up                 tresillo                each  -  0
        triad-octave             habanera                each  -  1
        root-fifth-octave-fifth  habanera                each  -  2
        root-fifth-down          two-beat                each  -  9
        sixth-arpeggio           four-quarters           each  -  2
        boogie                   four-quarters           run   -  2
        sixth-arpeggio           cinquillo               tail  -  2
        triad-octave             sync-chain              tail  -  3
        triad-up                 short-long-short-twice  each  -  2
      `),
      leads: [],
      schemes: schemesOf(`
        A B A f A B A F  0
        A A A f A A A F  14
      `),
      fills: figuresOf(`
        second-line-step        1/4: 1 &          w- h-        1  f  any
        second-line-five        2/4: 1 2 &        5 w- h-      1  f  any
        second-line-blue-third  2/4: (1) & 2 &    b3 n3 5      1  f  major dominant
        second-line-turn        2/4: 1 & 2 &      8 5 w- h-    1  F  any
        second-line-fall        2/4: 1 & 2 &      8 b7 5 4     1  F  minor
        second-line-fall-six    2/4: 1 & 2 &      8 6 5 3      1  F  major dominant
        second-line-climb       4/4: 1 & 2& 3& 4  1 3 5 6 8    2  F  major dominant
      `),
      walks: [],
      ghosts: undefined,
      kick: { places: ['1', '2&', '4'], missed: 1, against: 1 },
      never: [
        'finer-than eighth', // no sixteenths
        'rest one', // the feet need it
        'leap-over 12',
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'second-line-clave',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['38=7.33 5.73 3373 7.5.', '36=8... ..7. .... 8...', '44=.... 5... .... 5...'],
      },
      {
        id: 'second-line-two-bars',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '38=7.35 3.73 3.73 7.53|3.73 3373 7.35 3.7.',
          '36=8... ..7. .... 8...|.... 7... ..7. 8...',
          '44=.... 5... .... 5...|.... 5... .... 5...',
        ],
      },
    ],
    fills: [
      {
        id: 'second-line-fill-roll',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['38=7.33 5.73 5566 7788', '36=8... ..7. .... ....', '44=.... 5... .... 5...'],
        nextBar: ['49=8', '36=8'],
      },
      {
        id: 'second-line-fill-call',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['38=8... ..8. ..8. 8...', '36=8... ..8. .... 8...', '56=7... 5... 7... 5...'],
        nextBar: ['49=8', '36=8'],
      },
    ],
    comping: compingOf(`
      second-line-comp        1 2& 3& (4)        0   0.5  66  3-4  close  48-72
      second-line-comp-horns  (1) 2. (3) & 4.    61  0.4  70  3    close  60-84
    `),
    // electric bass, fingers
    bassProgram: 33,
  },
  note: 'between even and swung; lean on four with the drums',
}
