import { formatNoteName, LETTERS, type NoteName, parseNoteName } from './note-name.ts'

/** A key with its signature. */
export interface Key {
  readonly tonic: NoteName
  readonly mode: 'major' | 'minor'
  /** sharps of the signature, -7 to 7; flats are negative */
  readonly sharps: number
}

/** Sharps of the major key on each letter. */
const SHARPS: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: -1, G: 1, A: 3, B: 5 }

/**
 * Reads a key as it is written: `F`, `Bb major`, `Dm`, `F# minor`; `undefined` if there is no such key within seven
 * accidentals.
 *
 * @example
 * parseKey('Dm') // => { tonic: { letter: 'D', alter: 0 }, mode: 'minor', sharps: -1 }
 * parseKey('G# major') // => undefined
 */
export function parseKey(text: string): Key | undefined {
  const plain = text.trim().replace(/♭/g, 'b').replace(/♯/g, '#')
  const match = /^([A-G](?:b|#)?)\s*(m|-|min|minor|M|maj|major)?$/.exec(plain)
  if (!match) return undefined
  const tonic = parseNoteName(match[1]!)!
  const word = match[2] ?? ''
  const mode = word === 'm' || word === '-' || word.startsWith('min') ? 'minor' : 'major'
  const sharps = SHARPS[tonic.letter]! + 7 * tonic.alter - (mode === 'minor' ? 3 : 0)
  return Math.abs(sharps) <= 7 ? { tonic, mode, sharps } : undefined
}

/** Writes a key: `F`, `Dm`. */
export function formatKey(key: Key): string {
  return formatNoteName(key.tonic) + (key.mode === 'minor' ? 'm' : '')
}

/** The order in which sharps enter a signature. Flats enter from the other end. */
const ORDER = ['F', 'C', 'G', 'D', 'A', 'E', 'B'] as const

/** The seven names of a signature, C first: in F the B is flat. */
export function signatureOf(key: Key): readonly NoteName[] {
  const altered = key.sharps > 0 ? ORDER.slice(0, key.sharps) : ORDER.slice(7 + key.sharps)
  const alter = Math.sign(key.sharps)
  return LETTERS.map((letter) => ({ letter, alter: altered.includes(letter) && alter !== 0 ? alter : 0 }))
}
