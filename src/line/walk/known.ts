import type { Instrument } from '../../music/instrument.ts'
import type { Slot } from '../../rhythm/slot.ts'
import { KnownLayers } from '../../search/cost-to-go.ts'
import { KnownGrooves } from '../groove/known.ts'
import { KnownTracks, placesWhere } from '../memory.ts'
import { costAfter, MOVES } from '../move.ts'
import { type Neck, neckOf } from '../neck.ts'
import { acrossCosts, type HandRuleCosts, Identities, type PitchRange, pitchRange } from '../neck-problem.ts'
import { KnownWays } from '../rule-memory.ts'
import type { WalkPlace } from './costs.ts'
import type { WalkTable } from './table.ts'

/** Bytes of one neck's tables, about, before it is begun anew: an evening of editing stays below. */
const MOST_BYTES = 32 * 1024 * 1024

/**
 * What building walking lines leaves behind for the next time: tables, tracks and layers that are asked for again are the same
 * objects, so the search does again only what is new. It changes no answer, only how soon it is there.
 */
export class KnownWalks {
  /** the same of grooves */
  readonly grooves = new KnownGrooves()
  readonly layers = new KnownLayers()
  readonly identities = new Identities()
  readonly #necks = new Map<string, KnownNeck>()
  readonly #widened = new WeakMap<WalkTable, WalkTable>()

  readonly #places = new WeakMap<readonly Slot[], Map<boolean, readonly WalkPlace[]>>()

  /** The places of slots, looped or not, where no rule has a say in them. */
  places(slots: readonly Slot[], loop: boolean, make: () => readonly WalkPlace[]): readonly WalkPlace[] {
    const known = this.#places.get(slots) ?? new Map<boolean, readonly WalkPlace[]>()
    this.#places.set(slots, known)
    const places = known.get(loop) ?? make()
    known.set(loop, places)
    return places
  }

  /** A table made from another; the same object each time. */
  widened(table: WalkTable, make: (table: WalkTable) => WalkTable): WalkTable {
    const known = this.#widened.get(table) ?? make(table)
    this.#widened.set(table, known)
    return known
  }

  /** What is known of a neck under a table of weights. */
  neck(table: WalkTable, instrument: Instrument, frets: { readonly from: number; readonly to: number }): KnownNeck {
    const key = `${this.identities.of(table)} ${instrument.open} ${instrument.frets} ${instrument.scale} ${instrument.hand} ${frets.from}-${frets.to}`
    let known = this.#necks.get(key)
    if (!known || known.bytes > MOST_BYTES) {
      known = new KnownNeck(table, neckOf(instrument, frets))
      if (this.#necks.size > 8) this.#necks.clear()
      this.#necks.set(key, known)
    }
    return known
  }
}

/** Masks of the places of a neck, by name. */
export class PlaceMasks {
  readonly #neck: Neck
  readonly #masks = new Map<string, Uint8Array>()

  constructor(neck: Neck) {
    this.#neck = neck
  }

  /** 1 for each place whose pitch passes the test that the name stands for. */
  where(name: string, test: (pitch: number) => boolean): Uint8Array {
    const known = this.#masks.get(name) ?? placesWhere(this.#neck, test)
    this.#masks.set(name, known)
    return known
  }
}

/** Everything about one neck under one table of weights. */
export class KnownNeck {
  readonly neck: Neck
  readonly range: PitchRange
  readonly masks: PlaceMasks
  readonly tracks: KnownTracks
  readonly ways = new KnownWays()
  /** what it costs to go across the strings, of `acrossCosts` */
  readonly across: Int32Array
  /** cost of a move after a move, `before * MOVES + move` */
  readonly after: Int32Array
  readonly #named = new Map<string, Int32Array>()
  readonly #equal = new Map<string, Int32Array>()
  readonly #handRules = new Map<string, HandRuleCosts>()
  #tableBytes = 0

  constructor(table: WalkTable, neck: Neck) {
    this.neck = neck
    this.range = pitchRange(neck)
    this.masks = new PlaceMasks(neck)
    this.tracks = new KnownTracks(neck)
    this.across = acrossCosts(table.hand, neck)
    this.after = new Int32Array(MOVES * MOVES)
    for (let before = 0; before < MOVES; before++)
      for (let move = 0; move < MOVES; move++) this.after[before * MOVES + move] = costAfter(table.after, before, move)
  }

  /** What its tables, tracks and steps take, about. */
  get bytes(): number {
    const { steps, layers } = this.tracks
    const masks = this.ways.masks.size * this.range.width * this.range.width
    return this.#tableBytes + masks + 500 * (steps.size + this.ways.ways.size) + 20_000 * layers.size
  }

  /** The table of a name. */
  readonly named = (name: string, make: () => Int32Array): Int32Array => {
    const known = this.#named.get(name)
    if (known) return known
    const made = make()
    this.#tableBytes += made.byteLength
    this.#named.set(name, made)
    return made
  }

  /** The table that equals this one. */
  readonly equal = (costs: Int32Array): Int32Array => {
    const key = costs.join()
    const known = this.#equal.get(key)
    if (known) return known
    this.#tableBytes += costs.byteLength + 2 * key.length
    this.#equal.set(key, costs)
    return costs
  }

  readonly #masks = new WeakMap<object, Map<string, Uint8Array>>()

  /** What a rule's test allows where the name says, 1 for each place or pair. It lives as long as the test. */
  readonly allowed = (test: object, name: string, make: () => Uint8Array): Uint8Array => {
    const masks = this.#masks.get(test) ?? new Map<string, Uint8Array>()
    this.#masks.set(test, masks)
    const known = masks.get(name) ?? make()
    masks.set(name, known)
    return known
  }

  handRules(name: string, make: () => HandRuleCosts): HandRuleCosts {
    const known = this.#handRules.get(name) ?? make()
    this.#handRules.set(name, known)
    return known
  }
}
