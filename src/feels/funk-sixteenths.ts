import type { Feel } from './feel.ts'
import { compingOf, figuresOf, pairsOf, rolesOf, schemesOf, swingPointsOf, weightedOf } from './feel-rows.ts'
import { GROOVE_DEFAULTS } from './groove-defaults.ts'

/**
 * Sixteenth-note funk: weight on one, space before the back-beat.
 *
 * Sources: swing of 1.2 to one at sixteenths, at any tempo, is the median of 30 drum breaks (Frane 2017); all else common
 * practice, no source. Weights of the groove: see `groove-defaults.ts`.
 */
export const FUNK_SIXTEENTHS: Feel = {
  id: 'funk-sixteenths',
  name: 'sixteenth-note funk',
  metre: '4/4',
  tempo: { from: 84, to: 120, usual: 100 },
  swing: { level: 'sixteenth', points: swingPointsOf('60:1.2') },
  touch: {
    lengthOnBeat: 0.62,
    lengthOffBeat: 0.5,
    placementMs: 0,
    velocities: { first: 108, beat: 88, backBeat: 90, offBeat: 86, finer: 80 },
    ghostVelocity: 34,
    accentAdd: 16,
  },
  register: { lowest: 28, highest: 50 },
  cells: weightedOf(`
    on-the-one:3 one-and-space:2 funk-two-beat:2 funk-broken:2 funk-ladder:1 sixteenth-tresillo:2 gallop:1 e-and-a:1
    beat-with-ghosts:2 ghost-pick-up:1 four-sixteenths:1
  `),
  patterns: weightedOf(`
    root-octave:3 octave-seven-funk:3 root-fifth-flat-seven-octave:3 funk-pickup:2 flat-seven-neighbour:2
    pentatonic-minor-fall:1 root-only:1
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
          one    0  8 20 20 20 20 20 40 40  0 20
          back   0  0  0  1  1  0  3 10  4  2  0
          mid    0  1  0  1  2  1  4 12  8  1  0
        `),
      },
      // the pick-up into the one is the riff
      mostLeads: 8,
      notes: 7,
      // The emptiest figure is not the groove.
      under: 8,
      degrees: [8, 0, 0, 1, 4],
      halves: 4,
      cut: 2,
      unlisted: 12,
      approach: 3,
      // The low string rings on one.
      open: 0,
      zone: 0,
      // The pick-up of fifth and flat seventh may fall to the low root.
      leadDrop: 0,
      pairs: pairsOf(`
        octave-seven-funk             on-the-one            each  funk-pickup            0
        root-fifth-flat-seven-octave  on-the-one            each  funk-pickup            0
        root-octave                   on-the-one            each  funk-pickup            1
        root-only                     one-and-space         each  funk-pickup            3
        root-only                     one-and-space         each  chromatic-root-pickup  8
        octave-seven-funk             one-and-space         each  -                      4
        octave-seven-funk             funk-broken           each  -                      2
        root-octave                   funk-broken           beat  funk-pickup            1
        octave-seven-funk             funk-two-beat*2       each  -                      2
        root-octave                   funk-two-beat*2       each  funk-pickup            2
        root-fifth-flat-seven-octave  funk-ladder           each  -                      1
        root-octave                   sixteenth-tresillo*2  each  -                      3
        flat-seven-neighbour          sixteenth-tresillo*2  each  -                      9
      `),
      leads: [
        { pattern: 'funk-pickup', points: 0 },
        { pattern: 'chromatic-root-pickup', points: 6 },
      ],
      schemes: schemesOf(`
        A B A f A B A F  0
        A A A f A A A F  16
      `),
      fills: figuresOf(`
        funk-pentatonic-fall  2/4: 1 e & a 2 &    8 b7 5 4 b3 1  1  F  minor dominant power
        funk-box              2/4: (1) & a 2 e &  5 b7 8 b7 5    1  F  minor dominant power
        funk-box-six          2/4: (1) & a 2 e &  5 6 8 6 5      1  F  major
        funk-late-pickup      1/4: (1) e & a      >v5 w- h-      1  f  any
        funk-octave-pair      1/4: 1x e & ax      8 b7           1  f  minor dominant
      `),
      walks: [],
      ghosts: { places: ['2e', '3e', '4a', '1a'], most: 2, points: 1 },
      // What was struck before it makes way for the snare.
      releases: ['2', '4'],
      kick: { places: ['1', '1a', '2&', '3&'], missed: 1, against: 1 },
      never: [
        'rest one', // one is always struck
        'only 1 one', // and it is the root
        'notes-over 11', // no wall of sixteenths: the gaps are the groove
      ],
    },
  },
  band: {
    grooves: [
      {
        id: 'funk-sixteen-hat',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=7454 7454 7454 7454', '38=.... 8..2 .2.. 8..2', '36=9..7 ..7. ..7. ....'],
      },
      {
        id: 'funk-eight-hat-ghosts',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=7.5. 7.5. 7.5. 7...', '46=.... .... .... ..6.', '38=.... 8..2 .2.2 8...', '36=9.6. .... .6.7 ..6.'],
      },
      {
        id: 'funk-two-bars',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '42=7454 7454 7454 7454|7454 7454 7454 745.',
          '46=.... .... .... ....|.... .... .... ...6',
          '38=.... 8..2 .2.. 8..2|.... 8..2 .2.. ..8.',
          '36=9... ..7. .7.. ...6|9..7 .... ..7. ....',
        ],
      },
    ],
    fills: [
      {
        id: 'funk-fill-linear',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=7.5. 7.5. ...5 ...5', '38=.... 8..2 6.6. 6.68', '36=9..7 .... .7.. .7..'],
        nextBar: ['49=8', '36=8'],
      },
      {
        id: 'funk-fill-snare-late',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=7454 7454 7454 ....', '38=.... 8..2 .2.. 8778', '36=9..7 ..7. ..7. ....'],
        nextBar: ['49=8', '36=8'],
      },
    ],
    comping: compingOf(`
      funk-comp-scratch  1x ex &. ax 2x ex &x a. 3x ex &. ax 4. ex &x ax  27  0.4   66  2-3  close  60-84
      funk-comp-chop     (1) & (2) e. (&) (3) &. (4) e. (&)               5   0.35  74  3-4  close  48-72
    `),
    // electric bass, fingers
    bassProgram: 33,
  },
  note: 'weight on one; space before the back-beat',
}
