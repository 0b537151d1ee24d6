import { Identities } from '../neck-problem.ts'
import type { Bounds } from './bound.ts'
import { type BarNumbers, numbersOfBars } from './context.ts'
import { type BarMap, barMapOf } from './deal.ts'
import { KnownBars } from './laid.ts'
import { GrooveNeck } from './neck.ts'
import { type Pairing, pairingsOf } from './pairing.ts'
import type { GrooveRequest } from './request.ts'
import type { Voicer } from './voice.ts'

/** Laid bars of one vocabulary before it is begun anew: some ten charts of 32 bars. */
const MOST_BARS = 150_000

/** Vocabularies that are kept. */
const MOST_GROUNDS = 4

/**
 * What building grooves leaves behind for the next time: bars that are laid and what they cost on the neck, by their chords and by what
 * follows them. So an edit works out anew what it touches. It changes no answer, only how soon it is there.
 */
export class KnownGrooves {
  readonly #identities = new Identities()
  readonly #grounds = new Map<string, KnownGround>()

  /** What is known of a vocabulary on an instrument. */
  groundOf(request: GrooveRequest): KnownGround {
    const { table, metre, cells, patterns, instrument, frets, register } = request
    const name = [
      this.#identities.of(table),
      `${metre.upper}/${metre.lower} ${metre.groups}`,
      ...cells.map(({ id, weight, cell }) => `${id} ${weight} ${cell.ticks} ${cell.upper}/${cell.lower}`),
      ...patterns.map(({ pattern, weight }) => `${pattern.id} ${weight} ${pattern.text}`),
      `${instrument.open} ${instrument.frets} ${instrument.scale} ${instrument.hand} ${frets.from}-${frets.to}`,
      `${register.lowest}-${register.highest}`,
    ].join('|')
    let known = this.#grounds.get(name)
    if (!known || known.bars.size > MOST_BARS) {
      this.#grounds.delete(name)
      if (this.#grounds.size >= MOST_GROUNDS) this.#grounds.clear()
      known = new KnownGround(request)
      this.#grounds.set(name, known)
    }
    return known
  }
}

/** A vocabulary on an instrument, and all that does not depend on rules or on the form. */
export class KnownGround {
  readonly map: BarMap
  readonly pairings: readonly Pairing[]
  readonly neck: GrooveNeck
  readonly bars: KnownBars
  readonly numbers: BarNumbers = numbersOfBars()
  /** bars on the neck without rules, once they were asked for */
  onNeck: { readonly voicer: Voicer; readonly bounds: Bounds } | undefined

  constructor({ table, metre, cells, patterns, instrument, frets, register }: GrooveRequest) {
    this.map = barMapOf(metre)
    this.pairings = pairingsOf(table, this.map, cells, patterns)
    this.neck = new GrooveNeck(instrument, frets, table, register)
    this.bars = new KnownBars(table, this.map, this.pairings)
  }
}
