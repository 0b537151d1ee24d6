import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Samba, in cut time: one damped, three open and heavy with the low drum.
 *
 * Sources: which eighths are early is measured (Gouyon 2007; Naveda et al. 2011), how early by Lindsay & Nordquist 2007; all
 * else common practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const SAMBA: Feel = {
  id: 'samba',
  name: 'samba, cut time',
  metre: '4/4',
  tempo: { from: 168, to: 240, usual: 200 },
  swing: { level: 'samba', points: [] },
  touch: {
    lengthOnBeat: 0.78,
    lengthOffBeat: 0.66,
    placementMs: -4,
    velocities: { first: 84, beat: 84, backBeat: 84, offBeat: 74, finer: 70 },
    ghostVelocity: 34,
    accentAdd: 12,
  },
  register: { lowest: 28, highest: 48 },
  cells: weightedOf(`
    samba-low-drum:6 samba-damped:3 samba-push:2 dotted-pair-twice:1 short-long-short:1
  `),
  patterns: weightedOf(`
    bossa-low-fifth:5 bossa-anticipated:3 root-fifth-up:3 samba-surdo:1 root-fifth-octave:1
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
          mid    2  4  0  6  8  8 10 20 20  0 10
          push   0  4  8  8 12 12 20 40 40  2  0
        `),
      },
      notes: 4,
      degrees: [6, 0, 4, 8, 8],
      halves: 0,
      approach: 4,
      lead: 0,
      zone: 4,
      pairs: pairsOf(`
        bossa-low-fifth    samba-low-drum     each  -  0
        root-fifth-down    samba-low-drum     half  -  1
        bossa-anticipated  samba-low-drum     each  -  1
        root-fifth-up      samba-low-drum     half  -  2
        bossa-low-fifth    samba-damped       each  -  0
        bossa-low-fifth    samba-push         each  -  2
        bossa-low-fifth    dotted-pair-twice  each  -  3
      `),
      leads: [],
      schemes: schemesOf(`
        A A A B A A A f  0
        A B A B A B A f  1
        A A A A A A A f  30
      `),
      fills: figuresOf(`
        samba-step       2/4: 1 2 &    v5 w- h-     1  f  any
        samba-push-over  2/4: 1 2&~    v5 >1        0  f  any
        samba-eighths    2/4: 1 & 2 &  v5 v5 w- h-  1  f  any
      `),
      walks: [],
      ghosts: undefined,
      kick: { places: ['1', '2&', '3', '4&'], missed: 2, against: 1 },
      never: [
        'rest mid', // the low drum is on 3
        'notes-over 6', // two in the bar, never four
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'samba-basic',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '42=6.4. 6.5. 6.4. 6.5.|6.4. 6.5. 6.4. 6.5.',
          '37=6... 6... ..6. ..6.|..6. 6... 6... ..6.',
          '36=4... ..4. 8... ..4.|4... ..4. 8... ..4.',
        ],
      },
      {
        id: 'samba-shaker-low-drum',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['70=7.4. 5.6. 7.4. 5.6.', '41=.... .... 8... ....', '36=4... ..4. 7... ..4.', '38=4.3. 3.5. 4.3. 3.5.'],
      },
    ],
    fills: [
      {
        id: 'samba-fill-snare',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6.4. 6.5. .... ....', '38=.... .... 7.6. 6.8.', '36=4... ..4. 8... ..4.'],
        nextBar: ['49=7', '36=7'],
      },
      {
        id: 'samba-fill-low-drum',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=6.4. 6.5. 6.4. 6.5.', '41=.... ..6. 8... 6.8.', '36=4... ..4. .... ....'],
        nextBar: ['49=7', '36=7'],
      },
    ],
    comping: compingOf(`
      samba-comp-drive  1. 2. (3) &. (4) &. | (1) &. 2. 3. (4) &.  24  0.5  64  3-4  close  52-72
      samba-comp-push   1 2 3& ~4 &~                               0   0.6  60  3-4  close  48-72
    `),
    // electric bass, fingers
    bassProgram: 33,
  },
  note: 'weight on 3 (the low drum), 1 damped; in each half bar the third and fourth eighth a little early: 10 and 15 ms',
}
