import type { FormBar } from '../../chart/form.ts'

/** What a bar is in its phrase. */
export interface PhrasePlace {
  /** `A` the groove, `B` its answer, `f` small fill, `F` large fill, `w` groove, walked out if the root moves */
  readonly letter: string
  /** which bar of the plan is played in it, from 0: the groove, its answer, or another bar of a period */
  readonly part: number
  /** the twelfth bar of a phrase of twelve, where a blues turns around */
  readonly twelfth: boolean
  /** it ends a pair of bars */
  readonly endsPair: boolean
  /** it ends a pair of bars: which bar of the plan is played in the first of them, if it is no fill and no walk */
  readonly answered: number | undefined
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
      const twelfth = length === 12 && bar === 11
      places.push({ letter, part: letter === 'B' ? 1 : 0, twelfth, endsPair: false, answered: undefined, phrase })
    }
  }
  const pickUp = { letter: 'A', part: 0, twelfth: false, endsPair: false, answered: undefined, phrase: 0 }
  return bars[0]?.number === 0 ? [pickUp, ...places] : places
}

/** For each bar, whether it is the first of two that belong together in their phrase. */
export function pairStarts(bars: readonly FormBar[]): readonly boolean[] {
  const starts = phraseLengths(bars).flatMap((length) =>
    Array.from({ length }, (_, bar) => bar % 2 === 0 && bar + 1 < length),
  )
  return bars[0]?.number === 0 ? [false, ...starts] : starts
}

/** How strictly a groove is kept: its bars throughout, with fills and walks where a scheme has them, or each bar by itself. */
export type Strictness = 'strict' | 'with-fills' | 'free'

/** Of how many bars a groove is made, and how strictly it is kept. */
export interface Motif {
  /** bars; `undefined`: as the scheme has it */
  readonly period: 1 | 2 | 4 | undefined
  readonly strictness: Strictness
}

/**
 * Lays a motif over a scheme: the bars of a period follow each other from the beginning of each phrase, and what is strict has neither fill
 * nor walk.
 *
 * @param starts  for each place, whether it begins a pair
 */
export function layMotif(
  places: readonly PhrasePlace[],
  starts: readonly boolean[],
  { period, strictness }: Motif,
): readonly PhrasePlace[] {
  const laid: PhrasePlace[] = []
  let at = 0
  for (const [index, place] of places.entries()) {
    at = index > 0 && places[index - 1]!.phrase === place.phrase ? at + 1 : 0
    const isFigure = !'AB'.includes(place.letter)
    const goesOn = strictness === 'strict' && isFigure
    // A fill that is left out goes on as four bars before, else as two.
    const before = laid[index - Math.min(at, 4)]
    const part = period ? at % period : goesOn ? (before?.part ?? 0) : place.part
    const endsPair = starts[index - 1] === true
    const first = endsPair ? laid[index - 1] : undefined
    const answered = first && 'ABCD'.includes(first.letter) ? first.part : undefined
    laid.push({ ...place, part, endsPair, answered, letter: isFigure && !goesOn ? place.letter : 'ABCD'[part]! })
  }
  return laid
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
