import type { CostTerm } from './line.ts'
import type { Neck } from './neck.ts'
import type { NeckEdge, PitchRange } from './neck-problem.ts'

/** One way for a memory to go on: to which of its states, over which notes, for what. */
export interface MemoryStep {
  readonly to: number
  /** what the note arrived at pays */
  readonly arriving?: readonly CostTerm[]
  /** what the note before pays, since something ends with it */
  readonly leaving?: readonly CostTerm[]
  /** 1 for each place of the neck where the note may be; absent: anywhere */
  readonly places?: Uint8Array
  /** intervals in semitones from the note before; absent: any */
  readonly intervals?: readonly number[]
  /** pairs of pitches, 1 where they may meet, laid out by a {@link PitchRange}; absent: any */
  readonly joins?: Uint8Array
}

/**
 * What a line has to remember for a rule: a finite automaton that reads the line note by note (Pesant 2004, the regular
 * constraint). A rule with no memory needs none of this.
 */
export interface Memory {
  /** what it remembers and for what price: equal for memories that work alike */
  readonly name: string
  /** equal for slots from which equal states go on in equal ways, in any memory of the name */
  key(slot: number): string
  /** the ways to begin with the first note; with a later one, where a chord arrives: all ways there may be, whatever came before */
  begin(slot: number): readonly MemoryStep[]
  /** the ways on from the note of `slot` to the next one; in a loop, from the last back to the first */
  step(slot: number, state: number): readonly MemoryStep[]
  /** what is left to pay after the last note; `undefined` where it may not end */
  end(state: number): readonly CostTerm[] | undefined
}

/** An edge that knows why it costs what it costs. */
export interface MemoryEdge extends NeckEdge {
  readonly arriving: readonly CostTerm[]
  readonly leaving: readonly CostTerm[]
}

/** The product of memories, unrolled over the slots: a track is one state of all of them together. */
export interface Tracks {
  /** per slot and track, the state of each memory */
  readonly states: readonly (readonly (readonly number[])[])[]
  /** per slot and track, the places it may be at, rising; ways to other places lead nowhere */
  readonly places: readonly (readonly Int32Array[])[]
  /** per slot and track, the ways on; in a loop the last slot leads to the first */
  readonly edges: readonly (readonly (readonly MemoryEdge[])[])[]
  readonly startTerms: readonly (readonly CostTerm[])[]
  /** `undefined` where a line may not end */
  readonly endTerms: readonly (readonly CostTerm[] | undefined)[]
}

interface JointStep {
  readonly to: readonly number[]
  readonly arriving: readonly CostTerm[]
  readonly leaving: readonly CostTerm[]
  readonly places: Uint8Array | undefined
  readonly intervals: readonly number[] | undefined
  readonly joins: Uint8Array | undefined
}

/** A step of one memory, or of several together. */
interface Step {
  readonly to: number | readonly number[]
  readonly arriving?: readonly CostTerm[] | undefined
  readonly leaving?: readonly CostTerm[] | undefined
  readonly places?: Uint8Array | undefined
  readonly intervals?: readonly number[] | undefined
  readonly joins?: Uint8Array | undefined
}

const FREE: readonly CostTerm[] = []

const NOTHING: JointStep = {
  to: [],
  arriving: [],
  leaving: [],
  places: undefined,
  intervals: undefined,
  joins: undefined,
}

/** The tracks of one slot. */
interface TrackLayer {
  readonly states: readonly (readonly number[])[]
  readonly places: readonly Int32Array[]
  /** by the keys of the memories, where it leads */
  readonly after: Map<string, TrackStep>
}

interface TrackStep {
  readonly edges: readonly (readonly MemoryEdge[])[]
  readonly next: TrackLayer
  /** per track of the layer it leads on from, the places that have a way on */
  readonly places: readonly Int32Array[]
}

/** Layers and steps that were unrolled before: equal ones are the same objects, for one neck. */
export class KnownTracks {
  readonly layers = new Map<string, TrackLayer>()
  readonly steps = new Map<string, readonly JointStep[]>()
  readonly unions = new Unions()
  readonly everywhere: Int32Array
  readonly #pitches: readonly number[]
  readonly #sounding = new WeakMap<Int32Array, Uint8Array>()
  readonly #narrowed = new Map<string, readonly Int32Array[]>()

  constructor(neck: Neck) {
    this.everywhere = Int32Array.from(neck.places.keys())
    this.#pitches = neck.places.map(({ pitch }) => pitch)
  }

  /**
   * The places of each track without those that none of its ways leads on from: an approach aims at a note that the next pattern has.
   * The same lists each time, and the given ones where nothing is left out.
   */
  narrowed(places: readonly Int32Array[], edges: readonly (readonly MemoryEdge[])[]): readonly Int32Array[] {
    const alive = new Map<readonly MemoryEdge[], Map<Int32Array, Int32Array>>()
    const lists = places.map((list, track) => {
      const ways = edges[track]!
      if (ways.some(({ intervals }) => !intervals)) return list
      const ofWays = alive.get(ways) ?? new Map<Int32Array, Int32Array>()
      alive.set(ways, ofWays)
      const known = ofWays.get(list) ?? this.#leadingOn(list, ways)
      ofWays.set(list, known)
      return known
    })
    if (lists.every((list, track) => list === places[track])) return places
    const name = lists.map((list) => this.unions.nameOf(list)).join()
    const known = this.#narrowed.get(name) ?? lists
    this.#narrowed.set(name, known)
    return known
  }

  /** The places of a list that some way leads on from, all of them having intervals. */
  #leadingOn(list: Int32Array, ways: readonly MemoryEdge[]): Int32Array {
    const sounding = ways.map(({ places }) => this.#soundingOf(places ?? this.everywhere))
    const leads = (pitch: number): boolean => {
      for (let way = 0; way < ways.length; way++)
        for (const interval of ways[way]!.intervals!) if (sounding[way]![pitch + interval] === 1) return true
      return false
    }
    const left = list.filter((place) => leads(this.#pitches[place]!))
    return left.length === list.length ? list : this.unions.same(left)
  }

  /** 1 for each pitch of some places. */
  #soundingOf(places: Int32Array): Uint8Array {
    const known = this.#sounding.get(places)
    if (known) return known
    const made = new Uint8Array(128)
    for (const place of places) made[this.#pitches[place]!] = 1
    this.#sounding.set(places, made)
    return made
  }
}

/** Unrolls memories over some slots, half-open. Joint states are made only as they are reached; ways that no note can take vanish. */
export function unroll(
  memories: readonly Memory[],
  slots: { readonly from: number; readonly to: number },
  loop: boolean,
  known: KnownTracks,
): Tracks {
  const names = memories.map((memory) => memory.name).join(' & ')
  const keyOf = (slot: number) => `${names}: ${memories.map((memory) => memory.key(slot)).join(' & ')}`
  const [only] = memories
  /** what leads on from a state, the same array for states that go on alike */
  const stepsOf =
    memories.length === 1 && only
      ? (slot: number, _: string, state: readonly number[]): readonly Step[] => only.step(slot, state[0]!)
      : (slot: number, key: string, state: readonly number[]): readonly Step[] => {
          const place = `${key} @ ${state.join()}`
          const made = known.steps.get(place) ?? joint(memories.map((memory, i) => memory.step(slot, state[i]!)))
          known.steps.set(place, made)
          return made
        }

  // The first slot.
  const first = new LayerDraft(known)
  const startTerms: CostTerm[][] = []
  for (const step of joint(memories.map((memory) => memory.begin(slots.from)))) {
    const track = first.track(step.to)
    first.allow(track, step.places)
    // In a loop the step that closes it pays for the first note.
    startTerms[track] = loop ? [] : [...step.arriving]
  }
  const layers = [first.close()]
  const places: (readonly Int32Array[])[] = []

  // Every further slot, from the states that are reached.
  const edges: (readonly (readonly MemoryEdge[])[])[] = []
  for (let slot = slots.from; slot + 1 < slots.to; slot++) {
    const here = layers.at(-1)!
    const key = keyOf(slot)
    let step = here.after.get(key)
    if (!step) {
      const next = new LayerDraft(known)
      const leads = new Map<readonly Step[], readonly MemoryEdge[]>()
      // States share steps as well as whole lists of them.
      const made = new Map<Step, MemoryEdge>()
      const ways = here.states.map((state) => {
        const steps = stepsOf(slot, key, state)
        const known = leads.get(steps)
        if (known) return known
        const leading: MemoryEdge[] = []
        for (const one of steps) {
          let edge = made.get(one)
          if (!edge) {
            if (one.places && !one.places.includes(1)) continue
            const track = next.track(one.to)
            next.allow(track, one.places)
            edge = edgeOf(one, track)
            made.set(one, edge)
          }
          leading.push(edge)
        }
        leads.set(steps, leading)
        return leading
      })
      step = { edges: ways, next: next.close(), places: known.narrowed(here.places, ways) }
      here.after.set(key, step)
    }
    edges.push(step.edges)
    layers.push(step.next)
    // Where a loop begins nothing is left out: what cannot be gone on from is then told there, and not at the end that leads to it.
    places.push(loop && slot === slots.from ? here.places : step.places)
  }

  // The end, or the way round.
  const last = slots.to - 1
  edges.push(
    layers.at(-1)!.states.map((state) => {
      if (!loop) return []
      const ways: MemoryEdge[] = []
      for (const step of joint(memories.map((memory, i) => memory.step(last, state[i]!)))) {
        const track = layers[0]!.states.findIndex((other) => other.every((s, i) => s === step.to[i]))
        if (track >= 0) ways.push(edgeOf(step, track))
      }
      return ways
    }),
  )
  const endTerms = layers.at(-1)!.states.map((state) => {
    if (loop) return []
    const terms = memories.map((memory, i) => memory.end(state[i]!))
    return terms.some((one) => !one) ? undefined : terms.flatMap((one) => one ?? [])
  })
  return {
    states: layers.map((layer) => layer.states),
    places: [...places, layers.at(-1)!.places],
    edges,
    startTerms,
    endTerms,
  }
}

function edgeOf(step: Step, to: number): MemoryEdge {
  const { arriving = FREE, leaving = FREE } = step
  let cost = 0
  for (const { points } of arriving) cost += points
  for (const { points } of leaving) cost += points
  return {
    to,
    cost,
    arriving,
    leaving,
    ...(step.places ? { places: indicesOf(step.places) } : {}),
    ...(step.intervals ? { intervals: step.intervals } : {}),
    ...(step.joins ? { joins: step.joins } : {}),
  }
}

/** Tracks of one slot while they are found. */
class LayerDraft {
  readonly #known: KnownTracks
  readonly #states: (readonly number[])[] = []
  readonly #trackOf = new Map<string | number, number>()
  /** the masks that were allowed, each once; `undefined` once a track may be anywhere */
  readonly #masks: (Set<Uint8Array> | undefined)[] = []

  constructor(known: KnownTracks) {
    this.#known = known
  }

  /** @param state  of one memory, or of each of several */
  track(state: number | readonly number[]): number {
    const key = typeof state === 'number' ? state : state.join()
    const known = this.#trackOf.get(key)
    if (known !== undefined) return known
    const track = this.#states.length
    this.#trackOf.set(key, track)
    this.#states.push(typeof state === 'number' ? [state] : state)
    this.#masks.push(new Set())
    return track
  }

  allow(track: number, places: Uint8Array | undefined): void {
    if (places) this.#masks[track]?.add(places)
    else this.#masks[track] = undefined
  }

  close(): TrackLayer {
    const { layers, unions, everywhere } = this.#known
    const places = this.#masks.map((masks) => (masks ? unions.of([...masks]) : everywhere))
    const key = this.#states.map((state, track) => `${state.join()}:${unions.nameOf(places[track]!)}`).join(' ')
    const known = layers.get(key)
    if (known) return known
    const made = { states: this.#states, places, after: new Map() }
    layers.set(key, made)
    return made
  }
}

/** Places that masks allow together: equal ones are the same list. */
class Unions {
  readonly #names = new WeakMap<object, number>()
  readonly #lists = new Map<string, Int32Array>()
  readonly #equal = new Map<string, Int32Array>()
  #count = 0

  nameOf(list: object): number {
    const name = this.#names.get(list) ?? ++this.#count
    this.#names.set(list, name)
    return name
  }

  of(masks: readonly Uint8Array[]): Int32Array {
    const name = masks.map((mask) => this.nameOf(mask)).join()
    const known = this.#lists.get(name)
    if (known) return known
    const list = this.same(listed(masks.reduce((all, mask) => all.map((allowed, i) => allowed | mask[i]!))))
    this.#lists.set(name, list)
    return list
  }

  /** The list that equals this one. */
  same(list: Int32Array): Int32Array {
    const key = list.join()
    const known = this.#equal.get(key) ?? list
    this.#equal.set(key, known)
    return known
  }
}

/** Masks are made once for each chord and never changed, so what they list is kept. */
const INDICES = new WeakMap<Uint8Array, Int32Array>()

function indicesOf(mask: Uint8Array): Int32Array {
  const known = INDICES.get(mask) ?? listed(mask)
  INDICES.set(mask, known)
  return known
}

function listed(mask: Uint8Array): Int32Array {
  const indices: number[] = []
  for (const [i, allowed] of mask.entries()) if (allowed) indices.push(i)
  return Int32Array.from(indices)
}

/** Every combination of one step of each memory, where their notes have something in common. */
function joint(choices: readonly (readonly MemoryStep[])[]): readonly JointStep[] {
  let steps: JointStep[] = [NOTHING]
  for (const choice of choices) {
    const next: JointStep[] = []
    for (const step of steps) {
      for (const other of choice) {
        const places = both(step.places, other.places)
        const joins = both(step.joins, other.joins)
        const intervals =
          step.intervals && other.intervals
            ? step.intervals.filter((interval) => other.intervals!.includes(interval))
            : (step.intervals ?? other.intervals)
        // Two memories that no pair of notes serves at once: their states never meet.
        if (places === NOWHERE || joins === NOWHERE || intervals?.length === 0) continue
        next.push({
          to: [...step.to, other.to],
          arriving: other.arriving ? [...step.arriving, ...other.arriving] : step.arriving,
          leaving: other.leaving ? [...step.leaving, ...other.leaving] : step.leaving,
          places,
          intervals,
          joins,
        })
      }
    }
    steps = next
  }
  return steps
}

/** What two masks have in common where that is nothing. */
const NOWHERE = new Uint8Array(0)

/** Masks that were laid over each other before. */
const COMMON = new WeakMap<Uint8Array, WeakMap<Uint8Array, Uint8Array>>()

function both(a: Uint8Array | undefined, b: Uint8Array | undefined): Uint8Array | undefined {
  if (!a || !b || a === b) return a ?? b
  const ofA = COMMON.get(a) ?? new WeakMap<Uint8Array, Uint8Array>()
  COMMON.set(a, ofA)
  const known = ofA.get(b)
  if (known) return known
  const common = a.map((allowed, i) => allowed & b[i]!)
  const made = common.includes(1) ? common : NOWHERE
  ofA.set(b, made)
  return made
}

/** The places of a neck, as a mask, whose pitch passes a test. */
export function placesWhere(neck: Neck, test: (pitch: number) => boolean): Uint8Array {
  return Uint8Array.from(neck.places, (place) => (test(place.pitch) ? 1 : 0))
}
