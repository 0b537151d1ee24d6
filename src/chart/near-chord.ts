import { normaliseChordText, parseChordSymbol } from '../music/chord-symbol.ts'
import { byNearness } from './nearest.ts'

/** Suffixes that players write most, the commonest first, and under the first of a row the others that are typed for it. */
const COMMON_SUFFIXES: readonly (readonly [common: string, ...typed: string[]])[] = [
  ['7', 'dom7'],
  ['m7', 'mi7', 'min7', 'minor7'],
  ['maj7', 'ma7', 'major7'],
  ['m', 'mi', 'min', 'minor'],
  ['dim7'],
  ['m7b5', 'mi7b5', 'min7b5'],
  ['6'],
  ['m6', 'mi6', 'min6'],
  ['9'],
  ['m9', 'mi9', 'min9'],
  ['maj9', 'ma9', 'major9'],
  ['13'],
  ['11'],
  ['m11', 'mi11', 'min11'],
  ['7b9'],
  ['7#9'],
  ['7#11'],
  ['7b13'],
  ['7#5', 'aug7'],
  ['7b5'],
  ['7alt'],
  ['7sus4'],
  ['9sus4'],
  ['sus4'],
  ['sus2'],
  ['dim', 'dimin'],
  ['aug'],
  ['6/9', '69'],
  ['add9'],
  ['m(maj7)', 'mmaj7', 'mima7', 'minmaj7'],
  ['maj7#11'],
  ['maj', 'major'],
]

const COMMON_OF = new Map(COMMON_SUFFIXES.flatMap((row) => row.map((typed) => [typed, row[0]] as const)))

/** At most so many spellings are offered. */
const MOST_FIXES = 3

/**
 * What was likely meant by a chord that nobody can read: common spellings near to it, nearest first, and behind them others that sound
 * otherwise; three at most.
 *
 * @example
 * fixesOfChord('Bdmi7', ['Bmi7', 'B']) // => ['Bdim7', 'Bm7', 'B']
 * fixesOfChord('Cblah', ['C']) // => ['C']
 */
export function fixesOfChord(text: string, others: readonly string[]): readonly string[] {
  const parts = /^([A-G](?:##|x|bb|#|b)?)(.*?)(\/[A-G](?:##|x|bb|#|b)?)?$/.exec(normaliseChordText(text))
  if (!parts) return others
  const [, root, suffix, bass = ''] = parts
  const near = byNearness(suffix!, [...COMMON_OF.keys()]).map((typed) => `${root}${COMMON_OF.get(typed)}${bass}`)
  const fixes: string[] = []
  const sounds = new Set<string>()
  for (const fix of [...near, ...others]) {
    const reading = parseChordSymbol(fix)
    if (reading.kind !== 'chord' || fixes.length === MOST_FIXES) continue
    const sound = JSON.stringify([reading.symbol.root, reading.symbol.degrees, reading.symbol.bass])
    if (!sounds.has(sound)) fixes.push(fix)
    sounds.add(sound)
  }
  return fixes
}
