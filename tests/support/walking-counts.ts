// How often walking bass players do what: counts over the held-out solos of a public database of jazz solos with one bass pitch a beat (MIT; machine-made,
// 4/4 with swing feel; bars in two left out). Totals only: no line can be rebuilt from them.

/** Degrees above the root in semitones, 0 to 11, by where the beat stands: on a change, at the start of a bar that holds its chord, on 3, on 2, on 4. */
export const REAL_DEGREES: Readonly<Record<string, readonly number[]>> = {
  arrival: [709, 63, 48, 57, 49, 70, 63, 144, 31, 42, 44, 54],
  barStart: [56, 2, 8, 2, 10, 0, 8, 54, 7, 8, 5, 13],
  beat3: [151, 46, 110, 126, 141, 80, 36, 148, 20, 128, 64, 41],
  beat2: [200, 70, 179, 92, 198, 55, 90, 189, 45, 74, 121, 89],
  beat4: [197, 80, 68, 51, 242, 79, 157, 192, 51, 88, 90, 100],
}

/** Intervals from -13 (more than an octave down) to 13, by the move before: its size (a step, a third, a fourth and more) and direction. */
export const REAL_MOTIONS: Readonly<Record<string, readonly number[]>> = {
  repeat: [2, 1, 1, 8, 2, 7, 20, 12, 13, 15, 8, 24, 39, 0, 28, 24, 25, 16, 25, 9, 23, 6, 4, 6, 4, 0, 2],
  'step up': [3, 9, 22, 10, 12, 39, 24, 30, 31, 37, 34, 49, 63, 68, 395, 171, 85, 77, 27, 18, 20, 2, 2, 2, 1, 1, 6],
  'step down': [5, 3, 6, 11, 3, 28, 22, 30, 31, 33, 84, 152, 248, 60, 66, 45, 46, 67, 53, 21, 40, 8, 6, 12, 7, 6, 2],
  'third up': [4, 4, 10, 5, 15, 13, 44, 20, 22, 18, 21, 58, 56, 40, 122, 42, 31, 13, 39, 6, 3, 1, 1, 1, 2, 0, 0],
  'third down': [0, 1, 1, 1, 0, 6, 15, 7, 2, 23, 15, 32, 48, 29, 55, 28, 22, 35, 35, 17, 7, 2, 1, 4, 1, 3, 1],
  'leap up': [19, 25, 21, 20, 18, 21, 70, 37, 26, 19, 53, 140, 99, 52, 47, 25, 24, 20, 33, 7, 10, 2, 2, 1, 0, 0, 1],
  'leap down': [0, 1, 0, 0, 0, 13, 8, 7, 2, 12, 22, 40, 62, 60, 119, 59, 56, 67, 103, 43, 36, 7, 15, 26, 22, 14, 40],
}
