import type { PartName } from '../music/arrangement.ts'
import type { Pitch } from '../music/pitch.ts'

// What the page and the audio thread say to each other. Plain data: it is cloned on the way.

/** A moment on the audio context's clock, in whole frames since it began: seconds × its sample rate. */
export type Frame = number

/** A whole note: once begun it owns its end, so that nothing can hang. */
export interface BandNote {
  readonly part: PartName
  /** a percussion key for drums and click */
  readonly pitch: Pitch
  /** 1 to 127 */
  readonly velocity: number
  readonly startFrame: Frame
  /** later than `startFrame` */
  readonly endFrame: Frame
}

/** What a part sounds like. */
export interface BandSound {
  readonly part: PartName
  /** General MIDI program as sent, 0 to 127; of drums and click the kit, and the standard kit where it is `undefined` */
  readonly program: number | undefined
}

/** What was asked of the band and not done as asked, since the page was opened. */
export interface BandCounts {
  /** notes that came after their start, at most {@link LATEST_MS}, and were begun at once */
  readonly late: number
  /** notes that came later than that, and were not begun */
  readonly dropped: number
  /** voices that sound now */
  readonly voices: number
}

/** A note this late is not begun: after a machine has slept there would be a burst. Source: our design choice. */
export const LATEST_MS = 50

/** From the page to the audio thread. */
export type BandRequest =
  /** the bank's file; handed over, not copied */
  | { readonly kind: 'bank'; readonly bytes: ArrayBuffer }
  /** opens the gate; parts that are not named keep their sound */
  | { readonly kind: 'start'; readonly sounds: readonly BandSound[] }
  | { readonly kind: 'play'; readonly notes: readonly BandNote[] }
  /** takes back every note that starts there or later and has not begun */
  | { readonly kind: 'take-back'; readonly from: Frame }
  /** in decibels against the part's usual level; `undefined`: silent */
  | { readonly kind: 'level'; readonly part: PartName; readonly decibels: number | undefined }
  /** ends everything and keeps the gate shut until the next start */
  | { readonly kind: 'stop' }
  /** asks for the counts */
  | { readonly kind: 'count' }

/** From the audio thread to the page: one answer to `bank`, and one to each `count`. */
export type BandAnswer =
  | { readonly kind: 'ready' }
  /** the bank is none; a sentence for us, not for players */
  | { readonly kind: 'damaged'; readonly message: string }
  | { readonly kind: 'counts'; readonly counts: BandCounts }
