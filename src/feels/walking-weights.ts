import type { ToneCosts, WalkTable } from '../line/walk/table.ts'

/** Another chord tone (ninth, eleventh) costs what a scale tone does, but for arrivals, where it costs what a seventh does. */
const ARRIVAL: ToneCosts = { root: 0, third: 8, fifth: 3, seventh: 12, otherTone: 12, scale: 15, chromatic: undefined }
const BAR_START: ToneCosts = { root: 0, third: 2, fifth: 0, seventh: 7, otherTone: 4, scale: 5, chromatic: 6 }
const MIDDLE: ToneCosts = { root: 0, third: 0, fifth: 0, seventh: 4, otherTone: 2, scale: 3, chromatic: 5 }
const OTHER: ToneCosts = { root: 0, third: 1, fifth: 1, seventh: 4, otherTone: 3, scale: 4, chromatic: 5 }
const LEADING: ToneCosts = { root: 0, third: 4, fifth: 2, seventh: 5, otherTone: 3, scale: 4, chromatic: 4 }

/**
 * The weights of a walking line, about 3 points per halving of how often players do it.
 *
 * Source: tones and guide tones were fitted to the walking lines of a corpus of transcribed jazz solos with their bass (held-out
 * third of the solos for judging); then all were moved by whole points until the best lines over progressions of our own take their
 * intervals, their degrees on each beat and what follows a move about as often as real lines do, measured over others
 * (`npm run bench -- music`), and read. By hand, no source: skips, arrivals on scale and chromatic tones, contour, top, hand, what
 * is not heard, spans of two notes, a chromatic note inside a third, patterns.
 */
export const WALKING_WEIGHTS: WalkTable = {
  arrival: ARRIVAL,
  barStart: BAR_START,
  middle: MIDDLE,
  other: OTHER,
  leading: LEADING,
  firstNotRoot: 20,
  avoid: 3,
  givenAway: 4,
  intervals: [7, 6, 6, 6, 6, 6, 6, 5, 7, 8, 8, 8, 8],
  // A skip is mostly the note before struck again, a step, or a fifth or octave under the hand.
  intoOffBeat: [2, 4, 4, 5, 5, 5, 8, 5, 8, 8, 8, 9, 4],
  approach: { semitone: 1, fifth: 0, scaleStep: 3, chordTone: 8, same: 7, leap: 2 },
  guideTones: 4,
  leftByLeap: 5,
  chromaticNotBySemitone: 4,
  reachedByLeap: 2,
  chromaticByWholeStep: 4,
  chromaticIntoScale: 3,
  skipRepeated: 10,
  after: {
    leap: {
      on: { repeat: 4, step: 3, third: 5, leap: 7 },
      back: { repeat: 6, step: 1, third: 3, leap: 3 },
    },
    third: {
      on: { repeat: 4, step: 2, third: 0, leap: 5 },
      back: { repeat: 7, step: 2, third: 3, leap: 3 },
    },
    step: {
      on: { repeat: 6, step: 0, third: 3, leap: 3 },
      back: { repeat: 6, step: 3, third: 3, leap: 2 },
    },
    repeat: { move: 3, repeat: 20 },
  },
  contour: { low: 35, high: 48, bars: 8, free: 2, points: 1 },
  above: { pitch: 50, points: 1 },
  hand: {
    move: 2,
    perStep: 1,
    hurried: 1,
    stretch: 1,
    openString: 1,
    highFret: 1,
    skippedString: 3,
    halfStepAcross: 2,
    outOfShape: 3,
    otherString: 4,
  },
  thirdNotHeard: 8,
  rootNotHeard: { points: 8, structural: 16 },
  colourNotHeard: 5,
  heldOffRoot: 8,
  fifthOfTwo: 12,
  repeatInHaste: 7,
  patternChanged: 12,
  approachTakesOver: 32,
}
