import { STRAIGHT } from '../rhythm/swing.ts'
import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Soul eighths: melodic, connected after a short first note.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const SOUL_EIGHTHS: Feel = {
  id: 'soul-eighths',
  name: 'soul eighths',
  metre: '4/4',
  tempo: { from: 96, to: 132, usual: 116 },
  swing: STRAIGHT,
  touch: {
    lengthOnBeat: 0.8,
    lengthOffBeat: 0.7,
    placementMs: 4,
    velocities: { first: 104, beat: 96, backBeat: 98, offBeat: 90, finer: 84 },
    ghostVelocity: 36,
    accentAdd: 12,
  },
  register: { lowest: 28, highest: 48 },
  cells: weightedOf(`
    soul-line:3 soul-lift:2 eighths-gap-two:2 short-long-short:2 quarter-and-eighths:2 tresillo:1 sync-chain:1
    quarters-then-dotted:2 one-then-off-beats:1 ghost-pick-up:1
  `),
  patterns: weightedOf(`
    rocking-sixth:3 soul-sixth-fall:3 triad-octave:2 digital-one-two-three-five:2 sixth-arpeggio:2
    root-fifth-octave-fifth:2 fifth-approached:1
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
          off   1  0  0  0  0  1  2  3  2  0  0
        `),
      },
      notes: 7,
      degrees: [10, 3, 0, 0, 2],
      halves: 3,
      unlisted: 14,
      approach: 3,
      lead: 2,
      zone: 0,
      zoneMove: 12,
      pairs: pairsOf(`
        rocking-sixth               soul-line             each  -                      1
        triad-octave                soul-line             each  fifth-sixth-root       0
        sixth-arpeggio              soul-line             each  fifth-sixth-root       1
        octave-sixth-fall           soul-line             tail  -                      1
        soul-sixth-fall             soul-lift             each  -                      1
        fifth-approached            soul-lift             each  -                      2
        rocking-sixth               short-long-short*2    each  -                      2
        triad-octave                eighths-gap-two       each  fifth-sixth-root       1
        rocking-sixth               eighths-gap-two       each  chromatic-root-pickup  2
        rocking-sixth               quarter-and-eighths   each  -                      5
        triad-octave                quarter-and-eighths   each  fifth-sixth-root       1
        sixth-arpeggio              quarters-then-dotted  each  -                      1
        digital-one-two-three-five  quarters-then-dotted  each  -                      1
        sixth-arpeggio              one-then-off-beats    each  -                      2
        root-fifth-octave-fifth     sync-chain            each  -                      2
        root-fifth-octave           tresillo              each  -                      3
      `),
      leads: [
        { pattern: 'fifth-sixth-root', points: 0 },
        { pattern: 'chromatic-root-pickup', points: 1 },
      ],
      schemes: schemesOf(`
        A B A f A B A F  0
        A A A f A A A F  12
      `),
      fills: figuresOf(`
        soul-chromatic-four  2/4: 1 & 2 &  1 3 w- h-      1  F  any
        soul-sixth-fall-in   2/4: 1 & 2 &  8 6 5 h-       1  F  major dominant
        soul-five-six-seven  2/4: 1 & 2 &  1 >v5 >vn6 h-  1  F  any
        soul-pick-up         1/4: 1 &      w- h-          1  f  any
        soul-five-six        1/4: 1 &      >v5 >v6        0  f  any
      `),
      walks: [],
      ghosts: { places: ['4a'], most: 1, points: 1 },
      never: [
        'one-degree', // the line is melodic: never a bar of one degree
        'degree x one', // no chromatic note where a chord arrives
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'soul-four-snare',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6.4. 6.4. 6.4. 6.4.', '38=7... 7... 7... 7...', '36=8... ..7. 8... ..7.', '54=.... 6... .... 6...'],
      },
      {
        id: 'soul-backbeat',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6.4. 6.4. 6.4. 6.4.', '38=.... 8... .... 8...', '36=8... ..7. ..7. ....'],
      },
      {
        id: 'soul-backbeat-tambourine',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['54=5.4. 7.4. 5.4. 7.4.', '38=.... 8... .... 8...', '36=8.7. .... 8.7. ....'],
      },
    ],
    fills: [
      {
        id: 'soul-fill-pickup',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6.4. 6.4. 6.4. ....', '38=.... 8... .... 8.88', '36=8... ..7. ..7. ....'],
        nextBar: ['49=8', '36=8'],
      },
      {
        id: 'soul-fill-roll-down',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '42=6.4. 6.4. .... ....',
          '38=.... 8... 7777 ....',
          '45=.... .... .... 77..',
          '41=.... .... .... ..78',
          '36=8... ..7. .... ....',
        ],
        nextBar: ['49=8', '36=8'],
      },
    ],
    comping: compingOf(`
      soul-comp-backbeat  (1) 2. (3) 4.  27  0.25  76  3    close  60-84
      soul-comp-piano     1 2& 3 & 4     0   0.7   64  3-4  close  48-72
    `),
    // electric bass, fingers
    bassProgram: 33,
  },
  note: 'melodic, syncopated, connected after a short one',
}
