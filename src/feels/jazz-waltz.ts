import type { Feel } from './feel.ts'
import { compingOf, swingPointsOf, weightedOf } from './feel-rows.ts'
import { WALKING_WEIGHTS } from './walking-weights.ts'

/**
 * Jazz waltz: walking in three.
 *
 * Sources: swing by tempo as in medium swing; all else common practice, no source.
 */
export const JAZZ_WALTZ: Feel = {
  id: 'jazz-waltz',
  name: 'jazz waltz',
  metre: '3/4',
  tempo: { from: 104, to: 200, usual: 150 },
  swing: {
    level: 'eighth',
    points: swingPointsOf('112:2.11 137:2.09 162:1.94 187:1.85 212:1.63 237:1.45 262:1.30 297:1.23'),
  },
  touch: {
    lengthOnBeat: 0.94,
    lengthOffBeat: 0.6,
    placementMs: 3,
    velocities: { first: 96, beat: 90, backBeat: 90, offBeat: 76, finer: 70 },
    ghostVelocity: 38,
    accentAdd: 8,
  },
  register: { lowest: 28, highest: 55 },
  cells: weightedOf(`
    waltz-three:5 waltz-one-three:3 waltz-dotted-pair:2 waltz-skip-two:2 waltz-skip-three:1 waltz-late-three:1
    waltz-push:1 waltz-hemiola:1
  `),
  patterns: weightedOf(`
    waltz-approach:3 walk-up-three:2 waltz-root-fifth-fifth:2 triad-up:2 waltz-root-fifth-third:1
  `),
  phraseBars: 8,
  line: { kind: 'walk', table: WALKING_WEIGHTS },
  band: {
    grooves: [
      {
        id: 'jazz-waltz-ride',
        metre: '3/4',
        ticksPerStep: 120,
        lanes: ['51=7... 8.5. 7...', '44=.... 6... ....', '36=5... .... ....'],
      },
      {
        id: 'jazz-waltz-two-over',
        metre: '3/4',
        ticksPerStep: 120,
        lanes: [
          '51=7... 8.5. 7...|7... 8.5. 7.5.',
          '44=.... 6... 6...|.... 6... 6...',
          '38=.... ..4. ....|.... .... ..4.',
          '36=5... .... ....|5... ..4. ....',
        ],
      },
    ],
    fills: [
      {
        id: 'jazz-waltz-fill',
        metre: '3/4',
        ticksPerStep: 120,
        lanes: ['51=7... .... ....', '44=.... 6... ....', '38=.... 5.5. 5.6.', '36=5... .... ....'],
        nextBar: ['49=6', '36=7'],
      },
      {
        id: 'jazz-waltz-fill-triplets',
        metre: '3/4',
        ticksPerStep: 160,
        lanes: ['51=7.. ... ...', '38=... 556 ...', '45=... ... 55.', '41=... ... ..6', '36=5.. ... ...'],
        nextBar: ['49=6', '36=7'],
      },
    ],
    comping: compingOf(`
      jazz-waltz-comp-two   3/4: 1 2&         0  0.6   60  3-4  rootless  48-72
      jazz-waltz-comp-late  3/4: (1) 2 & (3)  0  0.45  60  3-4  rootless  48-72
    `),
    // acoustic bass
    bassProgram: 32,
  },
  note: 'two-bar phrasing; two against three as seasoning',
}
