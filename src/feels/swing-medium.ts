import type { Feel } from './feel.ts'
import { compingOf, swingPointsOf, weightedOf } from './feel-rows.ts'
import { WALKING_WEIGHTS } from './walking-weights.ts'

/**
 * Medium swing: a walking line.
 *
 * Sources: swing by tempo is the median of trio drummers by tempo band, placement +3 ms the median of 1,200 trio tracks (automatic
 * onsets), the share of off-beat notes is from the same tracks; lengths, velocities, patterns, drums and comping are common
 * practice, no source.
 */
export const SWING_MEDIUM: Feel = {
  id: 'swing-medium',
  name: 'medium swing, walking',
  metre: '4/4',
  tempo: { from: 108, to: 208, usual: 144 },
  swing: {
    level: 'eighth',
    points: swingPointsOf('112:2.11 137:2.09 162:1.94 187:1.85 212:1.63 237:1.45 262:1.30 297:1.23'),
  },
  touch: {
    lengthOnBeat: 0.94,
    lengthOffBeat: 0.6,
    placementMs: 3,
    velocities: { first: 96, beat: 94, backBeat: 100, offBeat: 76, finer: 70 },
    ghostVelocity: 40,
    accentAdd: 8,
  },
  register: { lowest: 28, highest: 55 },
  cells: weightedOf(`
    four-quarters:5 walk-skip-four:2 walk-skip-three:3 walk-skip-two:1 walk-skip-one:3 walk-ghost-two:2 walk-triplet-four:1
    push-walk:1 half-and-two:4
  `),
  patterns: weightedOf(`
    walking-below:4 walking-above:4 walking-scale-step:3 walking-dominant:2 walking-scale-below:2
    digital-one-two-three-five:2 seventh-arpeggio-up:2 walking-enclosure:1 walking-double-below:1
  `),
  phraseBars: 8,
  line: { kind: 'walk', table: WALKING_WEIGHTS },
  band: {
    grooves: [
      {
        id: 'swing-ride',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['51=7... 8.5. 7... 8.5.', '44=.... 7... .... 7...', '36=2... 2... 2... 2...'],
      },
      {
        id: 'swing-ride-comp',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '51=7... 8.5. 7... 8.5.|7... 8.5. 7... 8.5.',
          '44=.... 7... .... 7...|.... 7... .... 7...',
          '38=.... ..4. .... ....|..4. .... .... ..5.',
          '36=2... 2... 2... 2...|2... 2... 2.5. 2...',
        ],
      },
      {
        id: 'swing-hat-two',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['42=7... ..4. 7... ..4.', '46=.... 6... .... 6...', '36=3... .... 3... ....'],
      },
    ],
    fills: [
      {
        id: 'swing-fill-trade',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['51=7... 8.5. .... ....', '44=.... 7... .... 7...', '38=.... .... 6.4. 6.7.', '36=2... 2... ..5. ....'],
        nextBar: ['49=6', '36=7'],
      },
      {
        id: 'swing-fill-triplets',
        metre: '4/4',
        ticksPerStep: 160,
        lanes: [
          '51=7.. 8.5 ... ...',
          '44=... 7.. ... 7..',
          '38=... ... 556 ...',
          '45=... ... ... 55.',
          '41=... ... ... ..6',
          '36=2.. 2.. ... ...',
        ],
        nextBar: ['49=6', '36=7'],
      },
    ],
    comping: compingOf(`
      swing-comp-charleston  1 2&. (3)             0   0.5   62  3-4  rootless     48-72
      swing-comp-late        (1) &. (2) (3) & (4)  0   0.45  60  3-4  rootless     48-72
      swing-comp-push        1 2&. (3) 4&~         0   0.5   62  3-4  rootless     48-72
      swing-comp-four        1. 2. 3. 4.           27  0.55  52  3    guide-tones  52-67
    `),
    // acoustic bass
    bassProgram: 32,
  },
  note: 'long notes, 2 and 4 a little over',
}
