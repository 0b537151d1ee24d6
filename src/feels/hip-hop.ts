import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, swingPointsOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Hip-hop, laid back: late, long, few notes.
 *
 * Sources: swing a little over 1.2 to one, the median of 30 drum breaks (Frane 2017); as late as stays under the 19 ms below
 * which asynchronies were liked (Hofmann et al. 2017); all else common practice, no source. Weights of the groove: see
 * `groove-defaults.ts`.
 */
export const HIP_HOP: Feel = {
  id: 'hip-hop',
  name: 'hip-hop, laid back',
  metre: '4/4',
  tempo: { from: 70, to: 100, usual: 88 },
  swing: { level: 'sixteenth', points: swingPointsOf('60:1.25') },
  touch: {
    lengthOnBeat: 0.95,
    lengthOffBeat: 0.8,
    placementMs: 16,
    velocities: { first: 104, beat: 90, backBeat: 88, offBeat: 86, finer: 78 },
    ghostVelocity: 32,
    accentAdd: 10,
  },
  register: { lowest: 28, highest: 43 },
  cells: weightedOf(`
    hip-hop-drop:3 hip-hop-bounce:3 hip-hop-sparse:2 sixteenth-tresillo:2 whole-note:1 charleston:2 habanera-two:1
    bar-rest:1
  `),
  patterns: weightedOf(`
    root-only:4 root-flat-seven-fifth:2 root-fifth-flat-seven-octave:2 octave-seven-funk:1 ninth-arpeggio:1
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
          back   0  1  0  3  3  1  4 10  6  3  0
        `),
      },
      notes: 6,
      under: 2,
      degrees: [3, 0, 1, 4, 8],
      cut: 0,
      approach: 5,
      lead: 0,
      open: 3,
      zone: 0,
      zoneMove: 5,
      pairs: pairsOf(`
        root-flat-seven-fifth  hip-hop-drop          each  -  0
        root-only              hip-hop-drop          each  -  1
        root-flat-seven-fifth  hip-hop-bounce        tail  -  0
        root-only              hip-hop-bounce        each  -  1
        octave-seven-funk      hip-hop-bounce        tail  -  1
        root-only              hip-hop-sparse        each  -  1
        root-fifth-up          hip-hop-sparse        each  -  1
        root-only              sixteenth-tresillo*2  each  -  6
        root-only              charleston            each  -  3
        root-flat-seven-fifth  habanera-two*2        tail  -  3
      `),
      leads: [],
      // The last is for a vocabulary that has no answer.
      schemes: schemesOf(`
        A B A B A B A f  0
        A B A f A B A f  1
        A A A f A A A f  16
      `),
      fills: figuresOf(`
        hip-hop-rest         2/4: (1) 2 &    v5 vb7  1  f  minor dominant power
        hip-hop-rest-major   2/4: (1) 2 &    v5 v6   1  f  major
        hip-hop-silence      2/4: (1)        -       1  f  any
        hip-hop-octave-drop  2/4: (1) a 2 e  8 b7 5  2  f  minor dominant
      `),
      walks: [],
      ghosts: { places: ['2e'], most: 1, points: 0 },
      never: [
        'notes-over 7', // space
        'push', // late, not early
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'hip-hop-basic',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6.5. 6.5. 6.5. 6.5.', '38=.... 8... .... 8...', '36=8..5 ..7. .7.. ....'],
      },
      {
        id: 'hip-hop-two-bars',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '42=6.5. 6.54 6.5. 6.5.|6.5. 6.5. 6.54 6.5.',
          '38=.... 8... .... 8..2|.... 8... .... 8...',
          '36=8... ..7. ..7. .7..|8..7 .... .77. ....',
        ],
      },
    ],
    fills: [
      {
        id: 'hip-hop-fill-drop',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6.5. 6.5. .... ....', '38=.... 8... .... 8..7', '36=8..5 ..7. .... ....'],
        nextBar: ['36=8'],
      },
      {
        id: 'hip-hop-fill-snare',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6.5. 6.5. 6.5. ....', '38=.... 8... .... 8.66', '36=8..5 ..7. .7.. .7..'],
        nextBar: ['36=8'],
      },
    ],
    comping: compingOf(`
      hip-hop-comp-held  1                    5  0.95  58  4  close  48-72
      hip-hop-comp-late  (1) a (2) (3) a (4)  5  0.5   62  4  close  48-72
    `),
    // electric bass, fingers
    bassProgram: 33,
  },
  note: 'bass behind the kick; space',
}
