/** How the bass is touched. */
export interface Touch {
  /** share of the swung slot that sounds, for notes on a beat and for all others, 0 to 1 */
  readonly lengthOnBeat: number
  readonly lengthOffBeat: number
  /** bass against the drums' grid; + is behind */
  readonly placementMs: number
  /** MIDI velocities of the first beat, other beats, back-beats, off-beat eighths, anything finer */
  readonly velocities: {
    readonly first: number
    readonly beat: number
    readonly backBeat: number
    readonly offBeat: number
    readonly finer: number
  }
  /** velocity of a dead note */
  readonly ghostVelocity: number
  /** added for an accent */
  readonly accentAdd: number
}
