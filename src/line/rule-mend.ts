import { editsBetween } from '../chart/nearest.ts'
import { type Blank, elementsOf, type PhraseElement, type Phrasing, say, type Word, wordsOf } from './rule-phrase.ts'
import { RULES } from './rules.ts'

/**
 * What it costs, in tenths, to take a word for another one wholly unlike it, to put one in, to leave one out, to fill a blank, and to
 * leave out a word that stands in its place.
 */
const PRICE = { unlike: 20, insert: 7, drop: 12, fill: 10, misplaced: 4 }

/** So many words that are not understood may stand in a blank's place. */
const MOST_MISPLACED = 3

/** A mended sentence may have cost so much for each of its words. */
const MOST_PER_WORD = 5

/** Longer ones are not mended. */
const MOST_WORDS = 30

/**
 * The statement that is nearest to words that cannot be read: by letters and words added, left out and changed, over all that rules
 * can say. What was understood in a blank is kept; a blank that was not gets its usual value. `undefined` if nothing is near.
 */
export function mended(words: readonly Word[]): string | undefined {
  if (words.length === 0 || words.length > MOST_WORDS) return undefined
  let best: { readonly cost: number; readonly text: string } | undefined
  for (const rule of RULES) {
    for (const way of rule.phrasings) {
      const { cost, parts } = nearestParts(way, words)
      if (best && cost >= best.cost) continue
      if (cost > MOST_PER_WORD * Math.max(words.length, elementsOf(way).length)) continue
      const fault = way.fault(parts)
      if (fault && !fault.instead) continue
      best = { cost, text: say(rule.phrasings, way.valueOf(fault?.instead ?? parts)) }
    }
  }
  return best?.text
}

interface Way {
  readonly cost: number
  readonly parts: readonly unknown[]
}

/** The cheapest way to make words into a phrasing: an alignment, word by word, from the end. */
function nearestParts(way: Phrasing<unknown>, words: readonly Word[]): Way {
  const elements = elementsOf(way)
  let row: Way[] = words.map((_, at) => ({ cost: PRICE.drop * (words.length - at), parts: [] }))
  row.push({ cost: 0, parts: [] })
  for (let index = elements.length - 1; index >= 0; index--) {
    const after = row
    const element = elements[index]!
    const here: Way[] = []
    for (let at = words.length; at >= 0; at--) {
      const ways = [missing(element, after[at]!)]
      if (at < words.length) {
        ways.push({ cost: here[at + 1]!.cost + PRICE.drop, parts: here[at + 1]!.parts })
        ways.push(...taken(element, words, at, after))
      }
      here[at] = ways.reduce((best, one) => (one.cost < best.cost ? one : best))
    }
    row = here
  }
  return row[0]!
}

function missing(element: PhraseElement, after: Way): Way {
  if (element.kind === 'blank') return { cost: after.cost + PRICE.fill, parts: [element.blank.usual, ...after.parts] }
  return { cost: after.cost + (element.optional ? 0 : PRICE.insert), parts: after.parts }
}

function taken(element: PhraseElement, words: readonly Word[], at: number, after: readonly Way[]): readonly Way[] {
  if (element.kind === 'blank') return filled(element.blank, words, at, after)
  const said = words[at]!.text.toLowerCase()
  const price = Math.min(...element.spellings.map((spelling) => unlikeness(said, spelling)))
  return [{ cost: after[at + 1]!.cost + price, parts: after[at + 1]!.parts }]
}

/** A blank with what can be read there, else with the nearest that it knows, or with its usual value. */
function filled(blank: Blank<unknown>, words: readonly Word[], at: number, after: readonly Way[]): readonly Way[] {
  const ways: Way[] = []
  const fill = (value: unknown, next: number, price: number) => {
    if (!blank.fault?.(value, undefined))
      ways.push({ cost: after[next]!.cost + price, parts: [value, ...after[next]!.parts] })
  }
  const readings = blank.read(words, at)
  for (const { value, next } of readings) fill(value, next, 0)
  if (readings.length > 0) return ways
  for (const name of blank.names ?? []) {
    const meant = wordsOf(name, 0)
    const said = words.slice(at, at + meant.length)
    if (said.length < meant.length) continue
    const price = meant.reduce((sum, { text }, i) => sum + unlikeness(said[i]!.text.toLowerCase(), text), 0)
    const value = blank.read(meant, 0)[0]?.value
    if (price < PRICE.unlike) fill(value, at + meant.length, price)
  }
  for (let next = at + 1; next <= Math.min(words.length, at + MOST_MISPLACED); next++)
    fill(blank.usual, next, PRICE.fill + PRICE.misplaced * (next - at))
  return ways
}

/** 0 for the same word, up to a word wholly unlike. */
function unlikeness(said: string, spelling: string): number {
  if (said === spelling) return 0
  const share = editsBetween(said.slice(0, 40), spelling) / Math.max(said.length, spelling.length)
  return share > 0.5 ? PRICE.unlike : Math.ceil(PRICE.unlike * share)
}
