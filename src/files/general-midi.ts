import type { PartName } from '../music/arrangement.ts'

/** Where a part goes in a MIDI file and on a synthesiser. */
export interface MidiTrack {
  readonly trackName: string
  /** 1 to 16, as people count */
  readonly channel: number
}

/**
 * One named track and one fixed channel for each part. The click shares channel 10 with the drums, in its own track: both are
 * percussion, and they strike different keys.
 *
 * Source: General MIDI System Level 1: percussion on channel 10.
 */
export const MIDI_TRACKS: Readonly<Record<PartName, MidiTrack>> = {
  bass: { trackName: 'Bass', channel: 1 },
  chords: { trackName: 'Chords', channel: 2 },
  drums: { trackName: 'Drums', channel: 10 },
  click: { trackName: 'Click', channel: 10 },
}

/** Controller 7, channel volume, and the value that General MIDI switches on with. Source: General MIDI System Level 1. */
export const CHANNEL_VOLUME = 7
export const USUAL_VOLUME = 100
