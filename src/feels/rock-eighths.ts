import { STRAIGHT } from '../rhythm/swing.ts'
import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Straight eighths rock: the root driving, the change on the chord.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const ROCK_EIGHTHS: Feel = {
  id: 'rock-eighths',
  name: 'straight eighths rock',
  metre: '4/4',
  tempo: { from: 84, to: 176, usual: 120 },
  swing: STRAIGHT,
  touch: {
    lengthOnBeat: 0.92,
    lengthOffBeat: 0.9,
    placementMs: 0,
    velocities: { first: 100, beat: 95, backBeat: 97, offBeat: 92, finer: 86 },
    ghostVelocity: 38,
    accentAdd: 14,
  },
  register: { lowest: 28, highest: 45 },
  cells: weightedOf(`
    eight-eighths:5 eighths-backbeat:3 short-eighths:1 quarter-and-eighths:2 push-eighths:1 tresillo:2
    dotted-pair-twice:1 eighths-stop-four:1 gallop:1
  `),
  patterns: weightedOf(`
    root-only:5 root-octave:2 root-fifth-octave:2 rock-four-five:2 flat-seven-neighbour:1 pentatonic-minor-run:1
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
          off    0  2  2  3  3  3  4  8  6  0  0
          push   0  4  8  8 12 12 20 40 40  2  0
        `),
      },
      notes: 8,
      degrees: [0, 1, 3, 6, 8],
      halves: 0,
      approach: 6,
      lead: 0,
      intervals: [0, 0, 0, 0, 0, 0, 1, 0, 1, 1, 1, 4, 0],
      wide: 0,
      open: 0,
      zone: 0,
      zoneMove: 20,
      pairs: pairsOf(`
        root-only             eight-eighths        each  -  0
        root-only             eighths-backbeat     each  -  0
        root-octave           eight-eighths        tail  -  2
        root-fifth-octave     eight-eighths        tail  -  2
        rock-four-five        eight-eighths        tail  -  1
        flat-seven-neighbour  eight-eighths        tail  -  2
        root-fifth-up         eighths-backbeat     half  -  3
        root-only             push-eighths         each  -  1
        root-fifth-octave     quarter-and-eighths  tail  -  3
        root-only             eighths-stop-four    each  -  2
        root-only             gallop*4             each  -  3
        root-only             tresillo             each  -  3
      `),
      leads: [
        { pattern: 'fifth-sixth-root', points: 2 },
        { pattern: 'funk-pickup', points: 1 },
      ],
      schemes: schemesOf(`
        A A A f A A A F  0
        A A A B A A A F  1
        A B A f A B A F  1
      `),
      fills: figuresOf(`
        rock-step-pair          1/4: 1 &      w- h-            2  f  any
        rock-five-seven         1/4: 1 &      >v5 >vb7         1  f  minor dominant power
        rock-five-six           1/4: 1 &      >v5 >v6          1  f  major
        rock-octave-fall        2/4: 1 & 2 &  8 b7 5 4         1  F  minor dominant power
        rock-octave-fall-third  2/4: 1 & 2 &  8 b7 5 3         1  F  minor dominant
        rock-octave-fall-major  2/4: 1 & 2 &  8 6 5 3          1  F  major
        rock-climb              2/4: 1 & 2 &  1 >v5 >vn6 >vn7  2  F  any
      `),
      walks: [],
      ghosts: undefined,
      never: [
        'leap-over 12', // inside a bar
        'degree 3 one', // the guitars play fifths: no third under a change
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'rock-basic',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=7.5. 7.5. 7.5. 7.5.', '38=.... 8... .... 8...', '36=8... .... 8... ....'],
      },
      {
        id: 'rock-kick-pair',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=7.5. 7.5. 7.5. 7.5.', '38=.... 8... .... 8...', '36=8... ..6. 8.7. ....'],
      },
      {
        id: 'rock-ride-two-bars',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '51=7.5. 7.5. 7.5. 7.5.|7.5. 7.5. 7.5. 7.5.',
          '38=.... 8... .... 8...|.... 8... .... 8...',
          '36=8... ..7. ..7. ....|8.7. ..7. ..7. ..7.',
        ],
      },
    ],
    fills: [
      {
        id: 'rock-fill-snare',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=7.5. 7.5. .... ....', '38=.... 8... 6.6. 7778', '36=8... .... 8... 7...'],
        nextBar: ['49=8', '36=8'],
      },
      {
        id: 'rock-fill-toms',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '42=7.5. .... .... ....',
          '38=.... 88.. .... ....',
          '48=.... ..88 .... ....',
          '45=.... .... 88.. ....',
          '41=.... .... ..88 88..',
          '36=8... .... .... ..8.',
        ],
        nextBar: ['49=8', '36=8'],
      },
    ],
    comping: compingOf(`
      rock-comp-eighths  1 & 2 & 3 & 4 &   29  0.85  72  2    root-and-fifth  40-64
      rock-comp-push     1> 2 & ~3 & 4 &~  27  0.9   70  3    close           52-76
      rock-comp-held     1                 16  1.0   54  3-4  close           48-72
    `),
    // electric bass, pick
    bassProgram: 34,
  },
  note: 'root driving; change note on the chord',
}
