/** What a note is against its chord, as the walking weights know it. */
export type ToneKind = 'root' | 'third' | 'fifth' | 'seventh' | 'otherTone' | 'scale' | 'chromatic'

/** Points per kind of tone; `undefined` is never. */
export type ToneCosts = Readonly<Record<ToneKind, number | undefined>>

/** Sizes of a melodic move that the weights tell apart. */
export type MoveSize = 'repeat' | 'step' | 'third' | 'leap'

/** Points of the walking line: whole numbers >= 0, comparable within one table only. */
export interface WalkTable {
  /** on a change, by kind of tone */
  readonly arrival: ToneCosts
  /** at a bar's start while the chord is held */
  readonly barStart: ToneCosts
  /** on the middle beat of the bar */
  readonly middle: ToneCosts
  /** on any other place */
  readonly other: ToneCosts
  /** there, where the next note arrives on a change */
  readonly leading: ToneCosts
  /** on top, where the first note of the line is not the root */
  readonly firstNotRoot: number
  /** on top, for a scale tone a semitone above a chord tone */
  readonly avoid: number
  /** the root of the change to come two notes before it, where it is no root now */
  readonly givenAway: number
  /** by size in semitones, 0 to 12; wider never: into a note on the beat, and into an off-beat note */
  readonly intervals: readonly number[]
  readonly intoOffBeat: readonly number[]
  /** the step into a change */
  readonly approach: {
    readonly semitone: number
    readonly fifth: number
    readonly scaleStep: number
    readonly chordTone: number
    readonly same: number
    readonly leap: number
  }
  /** taken off the step into a change when 7 goes to 3 or 3 to 7 by step; never below 0 for the step */
  readonly guideTones: number
  readonly leftByLeap: number
  readonly chromaticNotBySemitone: number
  readonly reachedByLeap: number
  /** a chromatic note reached by a whole step, unless it leads into a change: it passes inside a whole step and fills no third */
  readonly chromaticByWholeStep: number
  /** a chromatic note that resolves into a mere scale note inside its chord: it belongs next to a chord tone */
  readonly chromaticIntoScale: number
  /** an off-beat note struck again, where it should lead on */
  readonly skipRepeated: number
  /** after a move of the first size, a move of the second, onward or back; a repeat has no direction */
  readonly after: {
    readonly leap: {
      readonly on: Readonly<Record<MoveSize, number>>
      readonly back: Readonly<Record<MoveSize, number>>
    }
    readonly third: {
      readonly on: Readonly<Record<MoveSize, number>>
      readonly back: Readonly<Record<MoveSize, number>>
    }
    readonly step: {
      readonly on: Readonly<Record<MoveSize, number>>
      readonly back: Readonly<Record<MoveSize, number>>
    }
    readonly repeat: { readonly move: number; readonly repeat: number }
  }
  /** the pitch the line rises to and falls from: low at both ends of `bars`, high in the middle */
  readonly contour: {
    readonly low: number
    readonly high: number
    readonly bars: number
    readonly free: number
    readonly points: number
  }
  /** points per semitone above a pitch */
  readonly above: { readonly pitch: number; readonly points: number }
  readonly hand: HandCosts
  /** a chord of three slots or more whose third is not heard */
  readonly thirdNotHeard: number
  /** a chord of three slots or more, arrived at off the root, whose root is not heard; dearer where a section starts or ends, shorter ones too */
  readonly rootNotHeard: { readonly points: number; readonly structural: number }
  /** a chord of four slots or more whose sixth, or altered ninth, eleventh or thirteenth, is written and not heard */
  readonly colourNotHeard: number
  /** a chord held over bars: a bar that does not start on its root after one that did not either */
  readonly heldOffRoot: number
  /** in a chord of two slots, arrival on the fifth */
  readonly fifthOfTwo: number
  /**
   * a pitch struck again where that wastes the moment, on top of the interval: in a chord of two slots, before a change, in a
   * bar of fewer notes than beats, and right after the first note of all
   */
  readonly repeatInHaste: number
  /** with degree patterns chosen: taking another pattern, and an approach taking over from a pattern */
  readonly patternChanged: number
  readonly approachTakesOver: number
}

/** What the fretting hand pays. */
export interface HandCosts {
  /** moving at all, and each 40 mm of the move, about a fret low on the neck */
  readonly move: number
  readonly perStep: number
  /** more for each 40 mm where there is an eighth or less of time */
  readonly hurried: number
  /** a note at the fourth fret of a hand that spans three without effort */
  readonly stretch: number
  readonly openString: number
  /** each fret above the ninth */
  readonly highFret: number
  /** each string between, but for an octave in its shape */
  readonly skippedString: number
  /** a half step that changes the string, neither of its notes open */
  readonly halfStepAcross: number
  /** a fourth or fifth not on the next string, an octave not two strings off */
  readonly outOfShape: number
  /** the same pitch struck again on another string */
  readonly otherString: number
}
