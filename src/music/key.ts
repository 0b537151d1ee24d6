import { Key as TonalKey } from 'tonal'
import { formatNoteName, LETTERS, type NoteName, parseNoteName } from './note-name.ts'

/** A key with its signature. */
export interface Key {
  readonly tonic: NoteName
  readonly mode: 'major' | 'minor'
  /** sharps of the signature, -7 to 7; flats are negative */
  readonly sharps: number
}

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
  const sharps = (mode === 'minor' ? TonalKey.minorKey(match[1]!) : TonalKey.majorKey(match[1]!)).alteration
  return Math.abs(sharps) <= 7 ? { tonic, mode, sharps } : undefined
}

/** Writes a key: `F`, `Dm`. */
export function formatKey(key: Key): string {
  return formatNoteName(key.tonic) + (key.mode === 'minor' ? 'm' : '')
}

/** The seven names of a signature, C first: in F the B is flat. */
export function signatureOf({ tonic, mode }: Key): readonly NoteName[] {
  const name = formatNoteName(tonic)
  const scale = mode === 'minor' ? TonalKey.minorKey(name).natural.scale : TonalKey.majorKey(name).scale
  return LETTERS.map((letter) => parseNoteName(scale.find((note) => note.startsWith(letter))!)!)
}
