import type { ToneCosts, WalkTable } from '../line/walk-table.ts'

/** Another chord tone (ninth, eleventh) costs what a scale tone does, but for arrivals, where it costs what a seventh does. */
const ARRIVAL: ToneCosts = { root: 0, third: 8, fifth: 6, seventh: 12, otherTone: 12, scale: 15, chromatic: undefined }
const BAR_START: ToneCosts = { root: 0, third: 5, fifth: 0, seventh: 9, otherTone: 6, scale: 6, chromatic: 8 }
const MIDDLE: ToneCosts = { root: 0, third: 0, fifth: 1, seventh: 5, otherTone: 2, scale: 2, chromatic: 7 }
const OTHER: ToneCosts = { root: 0, third: 2, fifth: 1, seventh: 5, otherTone: 3, scale: 3, chromatic: 5 }

/**
 * The weights of a walking line, 3 points per halving of how often players do it.
 *
 * Source: tones and guide tones are fitted to the walking lines of a corpus of transcribed jazz solos with their bass (held-out
 * third of the solos for judging) and rounded; intervals, the step into a change and what follows a move are half way between
 * that fit and the measured shares of steps, thirds and leaps. By hand, no source: skips, `intervals[0]` (a repeat costs as much as a
 * step, so that half notes come from cells), arrivals on scale and chromatic tones, contour, top, hand, what is not heard, spans
 * of two notes, patterns.
 */
export const WALKING_WEIGHTS: WalkTable = {
  arrival: ARRIVAL,
  barStart: BAR_START,
  middle: MIDDLE,
  other: OTHER,
  firstNotRoot: 20,
  avoid: 1,
  intervals: [6, 6, 6, 6, 6, 5, 6, 5, 7, 8, 8, 8, 8],
  // A skip is mostly the note before struck again, a step, or a fifth or octave under the hand.
  intoOffBeat: [1, 4, 4, 5, 5, 5, 8, 5, 8, 8, 8, 9, 4],
  approach: { semitone: 1, fifth: 1, scaleStep: 3, chordTone: 4, same: 4, leap: 3 },
  guideTones: 4,
  leftByLeap: 3,
  chromaticNotBySemitone: 3,
  reachedByLeap: 2,
  after: {
    leap: {
      on: { repeat: 8, step: 4, third: 6, leap: 7 },
      back: { repeat: 8, step: 2, third: 3, leap: 3 },
    },
    third: {
      on: { repeat: 9, step: 0, third: 1, leap: 6 },
      back: { repeat: 9, step: 2, third: 3, leap: 3 },
    },
    step: {
      on: { repeat: 9, step: 0, third: 2, leap: 4 },
      back: { repeat: 9, step: 4, third: 3, leap: 3 },
    },
    repeat: { move: 4, repeat: 20 },
  },
  contour: { low: 35, high: 48, bars: 4, free: 3, points: 1 },
  above: { pitch: 50, points: 2 },
  hand: { move: 2, perFret: 1, hurried: 1, openString: 1, highFret: 1, skippedString: 3, otherString: 4 },
  thirdNotHeard: 8,
  rootNotHeard: { points: 8, structural: 16 },
  twoSlots: { fifthArrival: 12, repeat: 6 },
  patternChanged: 12,
  approachTakesOver: 12,
}
