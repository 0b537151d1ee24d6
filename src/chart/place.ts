import { beatsOf, type Metre } from '../music/metre.ts'

/**
 * Shares the beats of a bar out over chords that are written without slashes: evenly in whole beats, the earlier ones getting what is
 * left over. Two chords in 5/4 take a group each.
 *
 * @param chords  how many, at least 1 and at most the beats of the bar
 * @returns       beats of each chord
 */
export function shareBeats(metre: Metre, chords: number): readonly number[] {
  if (metre.upper === 5 && metre.groups.length === chords) return metre.groups
  const beats = beatsOf(metre).length
  const share = Math.floor(beats / chords)
  return Array.from({ length: chords }, (_, i) => share + (i < beats - share * chords ? 1 : 0))
}
