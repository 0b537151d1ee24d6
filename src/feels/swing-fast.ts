import type { Feel } from './feel.ts'
import { compingOf, swingPointsOf, weightedOf } from './feel-rows.ts'
import { WALKING_WEIGHTS } from './walking-weights.ts'

/**
 * Fast swing: walking in even quarters, with fewer skips.
 *
 * Sources: swing by tempo and placement as in medium swing, the share of off-beat notes from the same tracks; all else common
 * practice, no source. "On top of the beat" is often said and is not what those tracks show.
 */
export const SWING_FAST: Feel = {
  id: 'swing-fast',
  name: 'fast swing',
  metre: '4/4',
  tempo: { from: 208, to: 320, usual: 240 },
  swing: {
    level: 'eighth',
    points: swingPointsOf('112:2.11 137:2.09 162:1.94 187:1.85 212:1.63 237:1.45 262:1.30 297:1.23'),
  },
  touch: {
    lengthOnBeat: 0.88,
    lengthOffBeat: 0.6,
    placementMs: 3,
    velocities: { first: 94, beat: 92, backBeat: 96, offBeat: 76, finer: 70 },
    ghostVelocity: 40,
    accentAdd: 6,
  },
  register: { lowest: 28, highest: 55 },
  cells: weightedOf(`
    four-quarters:8 walk-skip-four:2 walk-skip-three:2 walk-skip-two:2 walk-skip-one:2 half-notes:1 push-walk:1
  `),
  patterns: weightedOf(`
    walking-scale-step:4 walking-below:4 walking-above:4 digital-one-two-three-five:3 walking-dominant:2
    walking-double-above:1
  `),
  phraseBars: 8,
  line: { kind: 'walk', table: WALKING_WEIGHTS },
  band: {
    grooves: [
      { id: 'fast-ride', metre: '4/4', ticksPerStep: 120, lanes: ['51=7... 8.5. 7... 8.5.', '44=.... 7... .... 7...'] },
      {
        id: 'fast-ride-loose',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: [
          '51=7... 8... 7... 8.5.|7... 8.5. 7... 8...',
          '44=.... 7... .... 7...|.... 7... .... 7...',
          '38=.... .... ..4. ....|.... ..4. .... ....',
        ],
      },
    ],
    fills: [
      {
        id: 'fast-fill-four',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['51=7... 8... .... ....', '44=.... 7... .... 7...', '38=.... .... 6.6. 6.6.'],
        nextBar: ['49=6', '36=7'],
      },
      {
        id: 'fast-fill-offs',
        metre: '4/4',
        ticksPerStep: 120,
        lanes: ['51=7... 8.5. 7... ....', '44=.... 7... .... 7...', '38=.... ..5. ..5. ..6.', '36=.... .... 5... 5...'],
        nextBar: ['49=6', '36=7'],
      },
    ],
    comping: compingOf(`
      fast-comp-charleston  1 2&. (3)               0  0.4  60  3-4  rootless  48-72
      fast-comp-space       (1) 2&. (3) | (1) 4&.~  0  0.4  60  3-4  rootless  48-72
    `),
    // acoustic bass
    bassProgram: 32,
  },
  note: 'even quarters; fewer skips as the tempo rises',
}
