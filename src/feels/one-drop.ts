import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, swingPointsOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Reggae one drop, in the quick count: one left out, the drop on three.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const ONE_DROP: Feel = {
  id: 'one-drop',
  name: 'reggae one drop, quick count',
  metre: '4/4',
  tempo: { from: 116, to: 168, usual: 144 },
  swing: { level: 'eighth', points: swingPointsOf('60:1.15') },
  touch: {
    lengthOnBeat: 0.86,
    lengthOffBeat: 0.8,
    placementMs: 10,
    velocities: { first: 100, beat: 92, backBeat: 92, offBeat: 88, finer: 80 },
    ghostVelocity: 34,
    accentAdd: 10,
  },
  register: { lowest: 28, highest: 43 },
  cells: weightedOf(`
    drop-line:4 drop-line-low:3 drop-melody:3 drop-two-bars:2 rest-on-one:2 bar-rest:1 steppers-line:1
  `),
  patterns: weightedOf(`
    reggae-triad-drop:3 reggae-low-answer:3 reggae-fifth-first:2 root-octave-fifth:1 pentatonic-minor-fall:1
    root-only:1
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
          one    0  6  6  6 20 20 20 40 40  4  0
          mid    0  1  0  1  8  6 10 20 20  0  8
          back   0  0  0  1  3  1  4 10  6  0  0
        `),
      },
      notes: 4,
      degrees: [8, 1, 0, 1, 3],
      approach: 8,
      lead: 0,
      intervals: [0, 0, 0, 0, 0, 0, 2, 0, 1, 1, 1, 6, 1],
      zone: 0,
      zoneMove: 5,
      pairs: pairsOf(`
        reggae-triad-drop   drop-line      each  -            1
        reggae-low-answer   drop-line      each  -            0
        reggae-fifth-first  drop-line      each  -            3
        reggae-low-answer   drop-melody    each  -            2
        triad-and-back      drop-melody    each  -            1
        root-octave-fifth   drop-melody    each  -            2
        reggae-fifth-first  rest-on-one    each  -            2
        triad-up            rest-on-one    each  -            1
        root-only           drop-line-low  each  -            2
        root-only           steppers-line  each  funk-pickup  2
      `),
      leads: [{ pattern: 'funk-pickup', points: 1 }],
      // The last is for a vocabulary that has no answer.
      schemes: schemesOf(`
        A B A B A B A f  0
        A A A B A A A f  1
        A A A f A A A f  16
      `),
      fills: figuresOf(`
        drop-silence    4/4: (1) 3    1        0  f  any
        drop-two        4/4: (1) 2 3  1 1      1  f  any
        drop-climb      2/4: 1 & 2 &  1 3 5 8  2  f  any
        drop-low-three  2/4: 1 2 &    1 v5 v7  1  f  minor dominant
      `),
      walks: [],
      ghosts: undefined,
      never: [
        'finer-than eighth', // no sixteenths
        'strike one', // one belongs to nobody
        'rest mid', // the drop is on 3
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'one-drop-basic',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6.4. 6.4. 6.4. 6.4.', '37=.... .... 8... ....', '36=.... .... 8... ....'],
      },
      {
        id: 'one-drop-open-hat',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6.4. 6.4. 6.4. 6...', '46=.... .... .... ..6.', '37=.... .... 8... ....', '36=.... .... 8... ....'],
      },
    ],
    fills: [
      {
        id: 'one-drop-fill-pickup',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6.4. 6.4. 6.4. ....', '37=.... .... 8... ....', '38=.... .... .... 7.77', '36=.... .... 8... ....'],
        nextBar: ['49=7', '36=8'],
      },
      {
        id: 'one-drop-fill-timbale',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6.4. .... .... ....', '65=.... 7.77 7... ....', '66=.... .... ..7. 7...', '36=.... .... 8... ....'],
        nextBar: ['49=7', '36=8'],
      },
    ],
    comping: compingOf(`
      skank-two-four  (1) 2. (3) 4.              27  0.2  78  3  close  60-84
      skank-organ     (1) &. 2. &. (3) &. 4. &.  16  0.3  62  3  close  48-72
    `),
    // electric bass, fingers
    bassProgram: 33,
  },
  note: 'round tone, low; one often left out; skank on 2 and 4, drop on 3 (in the slow count: skank on the off-beats, drop on 2 and 4)',
}
