import type { OutputErrorCode } from '../play/note-output.ts'

/** A sentence for the player, and one word that does something about it. */
export interface Notice {
  readonly text: string
  readonly action?: 'play' | 'look again' | 'load again'
}

/** What the page says when the world says no. */
export const SENTENCES: Readonly<Record<OutputErrorCode, Notice>> = {
  'sound/held-back': { text: 'The browser holds the sound back. Press play once more.', action: 'play' },
  'sound/no-device': {
    text: 'No sound device was found. A MIDI port still plays, and the line can be read and taken away.',
  },
  'sound/bank': { text: 'The built-in sound could not be loaded. A MIDI port still plays.', action: 'load again' },
  'midi/not-in-this-browser': { text: 'This browser has no MIDI. The built-in sound plays instead.' },
  'midi/not-allowed': {
    text: 'The browser does not let this page use MIDI. The built-in sound plays on; MIDI can be allowed beside the address.',
    action: 'look again',
  },
  'midi/failed': {
    text: 'MIDI could not be started on this machine. The built-in sound plays on.',
    action: 'look again',
  },
  'midi/no-port': { text: 'No MIDI port is plugged in. The built-in sound plays instead.', action: 'look again' },
  'midi/port-lost': { text: 'The MIDI port is gone. The built-in sound plays on.', action: 'look again' },
}
