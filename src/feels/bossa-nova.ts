import { STRAIGHT } from '../rhythm/swing.ts'
import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Bossa nova: root and fifth in even eighths.
 *
 * Sources: common practice, no source. Weights of the groove: see `groove-defaults.ts`. The rim clave is written two-three.
 */
export const BOSSA_NOVA: Feel = {
  id: 'bossa-nova',
  name: 'bossa nova',
  metre: '4/4',
  tempo: { from: 112, to: 160, usual: 132 },
  swing: STRAIGHT,
  touch: {
    lengthOnBeat: 0.84,
    lengthOffBeat: 0.7,
    placementMs: 0,
    velocities: { first: 84, beat: 78, backBeat: 76, offBeat: 72, finer: 68 },
    ghostVelocity: 34,
    accentAdd: 8,
  },
  register: { lowest: 28, highest: 48 },
  cells: weightedOf(`
    dotted-pair-twice:8 half-notes:2 dotted-pair:1 habanera:1 dotted-then-half:1 push-both:1
  `),
  patterns: weightedOf(`
    bossa-root-fifth:5 bossa-low-fifth:3 bossa-anticipated:2 root-fifth-octave:1
  `),
  phraseBars: 8,
  line: {
    kind: 'groove',
    table: {
      ...GROOVE_DEFAULTS,
      //     1  8  5  3  6  7  4  x ap any none
      roles: {
        ...GROOVE_DEFAULTS.roles,
        ...rolesOf(`
          mid   2  3  0  4  6  6 10 20 12  0  4
          last  0  1  0  3  3  3  4  3  1  0  0
        `),
      },
      notes: 4,
      degrees: [6, 0, 3, 6, 8],
      halves: 0,
      approach: 4,
      lead: 0,
      zone: 2,
      pairs: pairsOf(`
        bossa-root-fifth   dotted-pair-twice  each  -  0
        bossa-low-fifth    dotted-pair-twice  each  -  0
        bossa-anticipated  dotted-pair-twice  each  -  1
        root-fifth-up      half-notes         each  -  3
        bossa-root-fifth   dotted-then-half   each  -  1
        bossa-root-fifth   habanera           each  -  2
      `),
      leads: [],
      schemes: schemesOf(`
        A A A B A A A f  0
        A A A A A A A f  12
      `),
      fills: figuresOf(`
        bossa-step-in    2/4: 1 2&   5 h-     1  f  any
        bossa-above      2/4: 1 2&   5 h+     1  f  any
        bossa-two-steps  2/4: 1 2 &  5 w- h-  1  f  any
      `),
      walks: [],
      ghosts: undefined,
      kick: { places: ['1', '2&', '3', '4&'], missed: 2, against: 1 },
      never: [
        'notes-over 5', // out of the guitar's way
        'degree 3 one', // root on one
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'bossa-rim-clave',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '42=5.4. 5.4. 5.4. 5.4.|5.4. 5.4. 5.4. 5.4.',
          '37=6... ..6. .... 6...|.... 6... ..6. ....',
          '36=6... ..4. 6... ..4.|6... ..4. 6... ..4.',
        ],
      },
      {
        id: 'bossa-rim-simple',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=5.4. 5.4. 5.4. 5.4.', '37=.... 5... .... 5...', '36=6... ..4. 6... ..4.', '44=.... 4... .... 4...'],
      },
    ],
    fills: [
      {
        id: 'bossa-fill-rim',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=5.4. 5.4. 5.4. ....', '37=6... ..6. ..6. 6.6.', '36=6... ..4. 6... ..4.'],
        nextBar: ['51=6', '36=6'],
      },
      {
        id: 'bossa-fill-toms',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=5.4. 5.4. .... ....', '45=.... .... 5.5. ....', '41=.... .... .... 5.5.', '36=6... ..4. 6... ..4.'],
        nextBar: ['51=6', '36=6'],
      },
    ],
    comping: compingOf(`
      bossa-comp-clave   1 2& 4 | (1) 2 3& (4)  24  0.75  60  3  rootless  52-72
      bossa-comp-gentle  (1) 2 & ~3 & (4) &~    24  0.75  58  3  rootless  52-72
    `),
    // acoustic bass
    bassProgram: 32,
  },
  note: 'soft; even eighths; 3 not under 1',
}
