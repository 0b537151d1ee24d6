/** How far the limiter looks ahead, and so how much later everything sounds. Source: our measurement; 2 ms at 48 kHz. */
export const LOOK_AHEAD_FRAMES = 96

/** No sample is larger. At 0.8 of full scale no true peak is over −1 dBFS, at 0.89 some are. Source: our measurement. */
export const CEILING = 0.8

/** After a peak the gain comes back by two thirds in this time. Source: our design choice. */
const RELEASE_SECONDS = 0.12

/**
 * Keeps a stereo sound under the ceiling without bending its waves: it turns down before a peak, and slowly up after it. What is
 * under the ceiling passes unchanged, {@link LOOK_AHEAD_FRAMES} later.
 *
 * The gain at a frame is the mean, over the look-ahead, of the least gain that any peak within the look-ahead asks for: so it has
 * arrived when the peak has. Source: the usual look-ahead limiter (a sliding minimum, then a mean of the same length).
 */
export class Limiter {
  readonly #kept: number
  // Rings. Sound and gains of the last frames; one more of what was asked for than of what was given.
  readonly #left = new Float32Array(LOOK_AHEAD_FRAMES)
  readonly #right = new Float32Array(LOOK_AHEAD_FRAMES)
  readonly #asked = new Float64Array(LOOK_AHEAD_FRAMES + 1).fill(1)
  readonly #given = new Float64Array(LOOK_AHEAD_FRAMES).fill(1)
  #at = 0
  #askedAt = 0
  #least = 1
  #gain = 1
  #sum = LOOK_AHEAD_FRAMES

  constructor(sampleRate: number) {
    this.#kept = Math.exp(-1 / (RELEASE_SECONDS * sampleRate))
  }

  /** Limits two channels of equal length in place. */
  run(left: Float32Array, right: Float32Array): void {
    for (let index = 0; index < left.length; index++) {
      const gain = this.#gainFor(Math.max(Math.abs(left[index]!), Math.abs(right[index]!)))
      const at = this.#at
      const earlierLeft = this.#left[at]!
      const earlierRight = this.#right[at]!
      this.#left[at] = left[index]!
      this.#right[at] = right[index]!
      left[index] = earlierLeft * gain
      right[index] = earlierRight * gain
      this.#at = (at + 1) % LOOK_AHEAD_FRAMES
      // Differences add up to rounding errors: count anew once a round.
      if (this.#at === 0) this.#sum = this.#given.reduce((sum, given) => sum + given, 0)
    }
  }

  /** The gain for the frame that leaves, when one of this height comes in. */
  #gainFor(peak: number): number {
    // Sliding minimum. Only where the least itself leaves must the others be looked at.
    const asks = peak > CEILING ? CEILING / peak : 1
    const leaving = this.#asked[this.#askedAt]!
    this.#asked[this.#askedAt] = asks
    this.#askedAt = (this.#askedAt + 1) % this.#asked.length
    if (asks <= this.#least) this.#least = asks
    else if (leaving === this.#least) {
      this.#least = 1
      for (const asked of this.#asked) if (asked < this.#least) this.#least = asked
    }

    // Down at once, up slowly; then the mean, which makes a ramp of each step.
    this.#gain = Math.min(this.#least, 1 - (1 - this.#gain) * this.#kept)
    this.#sum += this.#gain - this.#given[this.#at]!
    this.#given[this.#at] = this.#gain
    return this.#sum / LOOK_AHEAD_FRAMES
  }
}
