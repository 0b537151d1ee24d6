import { type Degree, parseDegree } from '../music/degree.ts'
import type { Pitch } from '../music/pitch.ts'

/** Who can play a voicing. */
export type VoicingHand = 'left hand' | 'either hand' | 'two hands' | 'guitar'

/** A way to lay a chord out, from the bottom up, each tone the nearest above the one before. */
export interface VoicingShape {
  readonly id: string
  readonly hand: VoicingHand
  readonly degrees: readonly Degree[]
  /** lowest pitch of its bottom tone */
  readonly notBelow: Pitch
  /** ids of the chord qualities that it is made for */
  readonly qualities: readonly string[]
}

function row(id: string, hand: VoicingHand, degrees: string, notBelow: Pitch, qualities: string): VoicingShape {
  return {
    id,
    hand,
    degrees: degrees.split(' ').map((text) => parseDegree(text)!),
    notBelow,
    qualities: qualities.split(' '),
  }
}

/**
 * Voicings for keyboard and guitar: shells, rootless forms A (third at the bottom) and B (seventh at the bottom), triads, fourths,
 * drop two, upper structures, open positions for two hands.
 *
 * Source: common practice of jazz keyboard and guitar handbooks; forms A and B as public handbooks of jazz harmony print them.
 */
// biome-ignore format: a table, one voicing a row
export const VOICINGS: readonly VoicingShape[] = [
  row('shell-7', 'left hand', '1 b7 3', 48, 'dominant-7 dominant-9 dominant-13'), // root, seventh, third: three notes that name the chord; leave the root out when the bass plays it
  row('shell-3', 'left hand', '1 3 b7', 48, 'dominant-7 dominant-9 dominant-13'), // root, third, seventh
  row('shell-7', 'left hand', '1 b7 b3', 48, 'minor-7 minor-9 minor-11'),
  row('shell-3', 'left hand', '1 b3 b7', 48, 'minor-7 minor-9 minor-11'),
  row('shell-7', 'left hand', '1 7 3', 48, 'major-7 major-9 major-13'),
  row('shell-3', 'left hand', '1 3 7', 48, 'major-7 major-9 major-13'),
  row('shell-6', 'left hand', '1 6 3', 48, 'major-6 six-nine'), // sixth for the seventh
  row('shell-6', 'left hand', '1 6 b3', 48, 'minor-6 minor-six-nine'),
  row('shell-7', 'left hand', '1 b7 b3 b5', 48, 'half-diminished'), // the flat five is needed: it names the chord
  row('guide-tones-3-below', 'either hand', '3 b7', 50, 'dominant-7 dominant-9 dominant-13'), // two notes, third below
  row('guide-tones-7-below', 'either hand', 'b7 3', 50, 'dominant-7 dominant-9 dominant-13'), // two notes, seventh below
  row('rootless-a', 'left hand', '3 5 7 9', 50, 'major-7 major-9'), // form A: third at the bottom
  row('rootless-b', 'left hand', '7 9 3 5', 50, 'major-7 major-9'), // form B: seventh at the bottom
  row('rootless-a-six', 'left hand', '3 5 6 9', 50, 'major-6 six-nine'),
  row('rootless-b-six', 'left hand', '6 9 3 5', 50, 'major-6 six-nine'),
  row('rootless-a', 'left hand', 'b3 5 b7 9', 50, 'minor-7 minor-9'),
  row('rootless-b', 'left hand', 'b7 9 b3 5', 50, 'minor-7 minor-9'),
  row('rootless-a', 'left hand', '3 13 b7 9', 50, 'dominant-7 dominant-9 dominant-13'), // thirteenth for the fifth
  row('rootless-b', 'left hand', 'b7 9 3 13', 50, 'dominant-7 dominant-9 dominant-13'),
  row('rootless-a', 'left hand', '3 b13 b7 #9', 50, 'altered dominant-7-sharp-9-flat-13 dominant-7-sharp-5-sharp-9'),
  row('rootless-b', 'left hand', 'b7 #9 3 b13', 50, 'altered dominant-7-sharp-9-flat-13 dominant-7-sharp-5-sharp-9'),
  row('rootless-a', 'left hand', '3 b13 b7 b9', 50, 'dominant-7-flat-9-flat-13 dominant-7-sharp-5-flat-9 altered'),
  row('rootless-b', 'left hand', 'b7 b9 3 b13', 50, 'dominant-7-flat-9-flat-13 dominant-7-sharp-5-flat-9 altered'),
  row('rootless-a', 'left hand', '3 13 b7 b9', 50, 'dominant-13-flat-9 dominant-7-flat-9'), // half-whole colour
  row('rootless-b', 'left hand', 'b7 b9 3 13', 50, 'dominant-13-flat-9 dominant-7-flat-9'),
  row('rootless-a', 'left hand', 'b3 b5 b7 1', 50, 'half-diminished'), // the root takes the place of the ninth
  row('rootless-b', 'left hand', 'b7 1 b3 b5', 51, 'half-diminished'), // a whole step at the bottom: not below Eb3
  row('rootless-a-eleven', 'left hand', 'b3 b5 b7 11', 50, 'half-diminished half-diminished-11'), // the eleventh is the safe tension
  row('rootless-a', 'left hand', 'b3 5 6 9', 50, 'minor-6 minor-six-nine'),
  row('rootless-b', 'left hand', '6 9 b3 5', 50, 'minor-6 minor-six-nine'),
  row('rootless-a', 'left hand', 'b3 5 7 9', 50, 'minor-major-7 minor-major-9'),
  row('rootless-b', 'left hand', '7 9 b3 5', 50, 'minor-major-7 minor-major-9'),
  row('closed-diminished', 'left hand', 'b3 b5 bb7 1', 50, 'diminished-7'), // any inversion is the same shape
  row('diminished-with-ninth', 'left hand', 'b3 b5 bb7 9', 50, 'diminished-7 diminished-9'), // ninth for the root: a whole step above it
  row('suspended-rootless', 'left hand', 'b7 9 4 13', 50, 'dominant-9-sus4 dominant-13-sus4 dominant-11'), // the major seventh chord a whole step under the root
  row('suspended-fifth', 'left hand', '4 b7 9 5', 50, 'dominant-7-sus4 dominant-9-sus4'), // stacked from the fourth
  row('triad-root', 'either hand', '1 3 5', 48, 'major'), // root position
  row('triad-first-inversion', 'either hand', '3 5 1', 48, 'major'),
  row('triad-second-inversion', 'either hand', '5 1 3', 48, 'major'),
  row('triad-root', 'either hand', '1 b3 5', 48, 'minor'),
  row('triad-first-inversion', 'either hand', 'b3 5 1', 48, 'minor'),
  row('triad-second-inversion', 'either hand', '5 1 b3', 48, 'minor'),
  row('suspended-triad', 'either hand', '1 4 5', 48, 'sus4'),
  row('second-triad', 'either hand', '1 2 5', 51, 'sus2'), // a whole step at the bottom: not below Eb3
  row('added-ninth', 'either hand', '3 5 9', 50, 'add-9'), // with the root in the bass
  row('power', 'guitar', '1 5 8', 40, 'power'), // root, fifth, octave
  row('fourths', 'two hands', '5 1 11 b7 9', 50, 'minor-11'), // fourths from the fifth up, then a third: root in the bass
  row('fourths-six-nine', 'either hand', '3 6 9', 50, 'six-nine'), // two fourths
  row('drop-two-root', 'guitar', '1 5 7 3', 50, 'major-7'), // second voice from the top dropped an octave
  row('drop-two-second-inversion', 'guitar', '5 1 3 7', 50, 'major-7'),
  row('drop-two-root', 'guitar', '1 5 b7 b3', 50, 'minor-7'),
  row('drop-two-second-inversion', 'guitar', '5 1 b3 b7', 50, 'minor-7'),
  row('drop-two-root', 'guitar', '1 5 b7 3', 50, 'dominant-7'),
  row('drop-two-second-inversion', 'guitar', '5 1 3 b7', 50, 'dominant-7'),
  row('drop-two-root', 'guitar', '1 b5 b7 b3', 50, 'half-diminished'),
  row('upper-triad-two', 'two hands', '3 b7 9 #11 13', 48, 'dominant-9-sharp-11 dominant-13-sharp-11'), // left hand 3 b7, right hand the major triad a whole step up
  row('upper-triad-flat-six', 'two hands', '3 b7 b13 1 #9', 48, 'altered dominant-7-sharp-9-flat-13'), // left hand 3 b7, right hand the major triad on b6
  row('upper-triad-six', 'two hands', '3 b7 13 b9 3', 48, 'dominant-13-flat-9'), // left hand 3 b7, right hand the major triad on 6
  row('open-two-hand-major', 'two hands', '3 7 9 5', 48, 'major-9 major-7'), // third and seventh in the left, ninth and fifth in the right
  row('open-two-hand-minor', 'two hands', 'b3 b7 9 5', 48, 'minor-9 minor-7'),
  row('open-two-hand-dominant', 'two hands', '3 b7 9 13', 48, 'dominant-13 dominant-9'),
]

/**
 * The lowest pitch that the lower tone of an interval may have before it growls, by the interval in semitones. Where two
 * authorities differ, the higher.
 *
 * Source: a public glossary of arranging terms and common arranging practice ("low interval limits").
 */
export const LOW_LIMITS: ReadonlyMap<number, Pitch> = new Map([
  [1, 52],
  [2, 51],
  [3, 48],
  [4, 47],
  [5, 46],
  [6, 47],
  [7, 37],
  [8, 41],
  [9, 41],
  [10, 41],
  [11, 41],
  [13, 40],
  [14, 39],
  [15, 36],
  [16, 34],
])
