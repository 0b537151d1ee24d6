import type { FormBar } from '../chart/form.ts'

/** What a bar is in its phrase. */
export interface PhrasePlace {
  /** `A` the groove, `B` its answer, `f` small fill, `F` large fill, `w` groove, walked out if the root moves */
  readonly letter: string
  /** the twelfth bar of a phrase of twelve, where a blues turns around */
  readonly twelfth: boolean
  /** which eight bars it is among, from 0; a phrase of twelve counts as eight and four */
  readonly phrase: number
}

const PHRASE = 8

/**
 * Lays the letters of a phrase of eight over a form, one a bar. They begin anew at each section and at the top of each chorus, and
 * after every eight bars; a phrase of twelve takes the first four twice and then the last four; a shorter one all but its last
 * bar from the front, and the last letter. A pick-up has none of its own: it is groove.
 *
 * @param letters  eight of them
 */
export function layScheme(letters: readonly string[], bars: readonly FormBar[]): readonly PhrasePlace[] {
  const places: PhrasePlace[] = []
  let phrase = 0
  for (const length of phraseLengths(bars)) {
    const laid =
      length === 12
        ? [...letters.slice(0, 4), ...letters.slice(0, 4), ...letters.slice(4)]
        : [...letters.slice(0, length - 1), letters.at(-1)!]
    for (const [bar, letter] of laid.entries()) {
      if (bar % PHRASE === 0 && places.length > 0) phrase++
      places.push({ letter, twelfth: length === 12 && bar === 11, phrase })
    }
  }
  return bars[0]?.number === 0 ? [{ letter: 'A', twelfth: false, phrase: 0 }, ...places] : places
}

/** Lengths of the phrases in bars: 12, or 8 and what is left over. A pick-up is in none. */
function phraseLengths(bars: readonly FormBar[]): readonly number[] {
  const played = bars[0]?.number === 0 ? bars.slice(1) : bars
  const sections: number[] = []
  for (const [index, bar] of played.entries()) {
    const isTop = bar.writtenIndex === played[0]!.writtenIndex && sections.at(-1)! >= PHRASE
    if (index === 0 || bar.section !== undefined || isTop) sections.push(0)
    sections[sections.length - 1]!++
  }
  return sections.flatMap((length) => {
    if (length === 12) return [length]
    const phrases = Array.from({ length: Math.floor(length / PHRASE) }, () => PHRASE)
    return length % PHRASE === 0 ? phrases : [...phrases, length % PHRASE]
  })
}
