import { compose } from '../../src/compose.ts'
import type { Settings } from '../../src/settings.ts'

/** What is asked, and the hash of all that is answered. */
export type Hashed = readonly [text: string, settings: Settings, hash: string]

/**
 * The lines that requests give on any machine, as hashes of their JSON: walking and grooves, once and looped, under rules, several that
 * differ, and drawn by chance. Worked out by the test itself; a change that changes lines changes these.
 */
export const HASHED: readonly Hashed[] = [
  ['| Dm7 | G7 | Cmaj7 | A7b9 |', {}, '0a636d738a82fc26'],
  [
    '| F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7/C | D7b9 | Gm7 | C7 | F7 D7 | Gm7 C7 |',
    { loop: true, variations: 4 },
    '362416e76c8875f8',
  ],
  ['| Fm7 | Bb7 | Ebmaj7 | % |', { patterns: ['walking-below', 'triad-up'], bass: 'five-string' }, 'a140442f3d87130e'],
  [
    '| Em7b5 | A7 | Dm | Dm |',
    { rules: ['no open strings', 'arrive on the third (weight 8)', 'no leap over a fifth'] },
    '0ef14f40f47fc8d5',
  ],
  ['| Dm7 | G7 | Cmaj7 | A7b9 |', { surprise: 'little', seed: 3, variations: 3 }, '22409c79e716a6f4'],
  ['| Dm7 | G7 | Cmaj7 | A7b9 |', { surprise: 'free', seed: 4, variations: 3, loop: true }, '53a3ef8be6d835b6'],
  ['| C7 | F7 | C7 | G7 |', { feel: 'shuffle', loop: true, variations: 2 }, '382589e2af072e4d'],
  ['| Dm7 | G7 | Cmaj7 | A7 |', { feel: 'bossa-nova', surprise: 'some', seed: 5 }, '3f2388517fb62320'],
]

/** All lines of a request as JSON: notes, places, terms, costs. */
export function linesText(text: string, settings: Settings): string {
  return JSON.stringify(compose(text, settings).lines)
}

/** A hash of a text in hexadecimal: two rounds of 32-bit FNV-1a, with whole numbers only. */
export function hashOf(text: string): string {
  const round = (begin: number): number => {
    let hash = begin
    for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193)
    return hash >>> 0
  }
  return [round(0x811c9dc5), round(0x7ee3623a)].map((half) => half.toString(16).padStart(8, '0')).join('')
}
