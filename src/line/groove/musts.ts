import type { Form } from '../../chart/form.ts'
import type { Pitch } from '../../music/pitch.ts'
import type { Tick } from '../../music/tick.ts'
import { binds, type Candidate, type RuleInForce, type RuleTest, type Sounding } from '../rule.ts'
import { phrasesOf, type Standing, standingKey } from '../standing.ts'
import type { LaidBar } from './bar.ts'
import type { Grip, GrooveNeck } from './neck.ts'
import { standingIn } from './standing.ts'

/** A slot as rules see it; the same object for the same slot. */
export interface Stand {
  readonly id: number
  /** equal for slots that rules about neighbours cannot tell apart */
  readonly key: number
  readonly standing: Standing
  readonly soundings: Sounding[]
  /** a note in it, on whichever place is asked for */
  readonly note: { -readonly [Key in keyof Candidate]: Candidate[Key] }
  /** the pitch that a rule keeps there */
  readonly kept: Pitch | undefined
  /** pitches of its figure, as far as they lie where notes are not free */
  readonly own: readonly Pitch[]
}

/** The slots of laid bars as rules see them. */
export class Stands {
  readonly #form: Form
  readonly #loop: boolean
  readonly #phrases: ReturnType<typeof phrasesOf>
  readonly #known = new Map<string, Stand>()
  readonly #keys = new Map<string, number>()
  readonly #ofBars = new Map<LaidBar, readonly Stand[]>()
  readonly #ownOf: (laid: LaidBar) => readonly (readonly Pitch[])[]

  /** @param ownOf  by slot of a bar, pitches of its figure where notes are not free */
  constructor(form: Form, loop: boolean, ownOf: (laid: LaidBar) => readonly (readonly Pitch[])[]) {
    this.#form = form
    this.#loop = loop
    this.#ownOf = ownOf
    this.#phrases = phrasesOf(form.bars)
  }

  of(laid: LaidBar): readonly Stand[] {
    let known = this.#ofBars.get(laid)
    if (!known) {
      const own = this.#ownOf(laid)
      known = laid.slots.map((_, index) => this.#stand(laid, index, own[index]!))
      this.#ofBars.set(laid, known)
    }
    return known
  }

  #stand(laid: LaidBar, index: number, own: readonly Pitch[]): Stand {
    const standing = standingIn(this.#form, this.#phrases, laid, index, this.#loop)
    const { slot, phraseShare } = standing
    const { tone } = laid.slots[index]!
    const kept = tone.kind === 'kept' ? tone.pitch : undefined
    const alike = standingKey(standing)
    const { startTick, barIndex, changeIndex, ticks, cell, accent, length } = slot
    const name = [alike, startTick, barIndex, changeIndex, ticks, cell, accent, length, phraseShare, kept, own].join(
      ' ',
    )
    let stand = this.#known.get(name)
    if (!stand) {
      const key = this.#keys.get(alike) ?? this.#keys.size
      this.#keys.set(alike, key)
      const note = { ...standing, pitch: 0, string: 0, fret: 0, open: [] }
      stand = { id: this.#known.size, key, standing, soundings: [], note, kept, own }
      this.#known.set(name, stand)
    }
    return stand
  }
}

type TestOf<Kind extends RuleTest['looksAt']> = Extract<RuleTest, { readonly looksAt: Kind }>
type MustOf<Kind extends RuleTest['looksAt']> = Omit<RuleInForce, 'test'> & { readonly test: TestOf<Kind> }

const [NO, YES, UNKNOWN] = [0, 1, 2]

/** By spot, whether a note may stand in a slot; the same object where that is the same. */
interface SpotTable {
  readonly id: number
  readonly may: Uint8Array
}

/** What tests say of the notes of a neck, remembered as long as the tests live: a clash asks for many sets of the same rules. */
export class KnownTests {
  readonly neck: GrooveNeck
  readonly pitches: readonly Pitch[]
  /** strings and frets, whatever the hand */
  readonly spots: readonly { readonly grip: Grip; readonly pitch: number }[]
  /** for each grip the number of its pitch */
  readonly pitchOf: readonly number[]
  readonly #notes = new WeakMap<object, SpotTable[]>()
  readonly #tables = new Map<string, SpotTable>()
  readonly #pairs = new WeakMap<object, Map<number, Uint8Array>>()
  readonly #memories = new WeakMap<object, Map<number, Int16Array>>()
  readonly #hands = new WeakMap<object, Map<Tick, Uint8Array>>()

  constructor(neck: GrooveNeck) {
    this.neck = neck
    this.pitches = [...neck.ofPitch.keys()]
    this.pitchOf = neck.grips.map((grip) => this.pitches.indexOf(grip.pitch))
    this.spots = neck.grips
      .map((grip, index) => ({ grip, pitch: this.pitchOf[index]! }))
      .filter(({ grip }, index) => {
        const before = neck.grips[index - 1]
        return before?.string !== grip.string || before.fret !== grip.fret
      })
  }

  note(test: TestOf<'note'>, stand: Stand): SpotTable {
    const known = this.#notes.get(test) ?? []
    this.#notes.set(test, known)
    known[stand.id] ??= this.#noteAnew(test, stand)
    return known[stand.id]!
  }

  #noteAnew(test: TestOf<'note'>, { note }: Stand): SpotTable {
    const may = new Uint8Array(this.spots.length)
    note.open = this.neck.open
    for (const [index, { grip }] of this.spots.entries()) {
      note.pitch = grip.pitch
      note.string = grip.string
      note.fret = grip.fret
      may[index] = test.allows(note) ? YES : NO
    }
    const name = may.join('')
    const table = this.#tables.get(name) ?? { id: this.#tables.size, may }
    this.#tables.set(name, table)
    return table
  }

  /** Whether a pitch may follow another, both as numbers. */
  pair(test: TestOf<'pair'>, from: Stand, x: number, to: Stand, y: number): boolean {
    const { length } = this.pitches
    const table = tableOf(this.#pairs, test, from.key * 65536 + to.key, () =>
      new Uint8Array(length * length).fill(UNKNOWN),
    )
    const at = x * length + y
    if (table[at] === UNKNOWN) table[at] = test.allows(this.#sounding(from, x), this.#sounding(to, y)) ? YES : NO
    return table[at] === YES
  }

  /** The state that follows a state, doubled, and one more where the rule is kept. */
  memory(test: TestOf<'memory'>, from: Stand, x: number, to: Stand, y: number, state: number): number {
    const { length } = this.pitches
    const table = tableOf(this.#memories, test, from.key * 65536 + to.key, () =>
      new Int16Array(length * length * test.states).fill(-1),
    )
    const at = (x * length + y) * test.states + state
    if (table[at]! < 0) {
      const step = test.step(state, this.#sounding(from, x), this.#sounding(to, y))
      table[at] = 2 * step.state + Number(step.kept)
    }
    return table[at]!
  }

  /** Whether the hand may go from a grip to another in a time. */
  hand(test: TestOf<'hand'>, ticks: Tick, secondsPerTick: number, from: number, to: number): boolean {
    const { grips, tenths } = this.neck
    const table = tableOf(this.#hands, test, ticks, () => new Uint8Array(grips.length * grips.length).fill(UNKNOWN))
    const at = from * grips.length + to
    if (table[at] === UNKNOWN) {
      const [one, other] = [grips[from]!, grips[to]!]
      const way = Math.abs(tenths[other.hand]! - tenths[one.hand]!)
      const move = { tenths: way, fromOpen: one.fret === 0, seconds: ticks * secondsPerTick }
      table[at] = test.allows(move) ? YES : NO
    }
    return table[at] === YES
  }

  #sounding(stand: Stand, pitch: number): Sounding {
    stand.soundings[pitch] ??= { ...stand.standing, pitch: this.pitches[pitch]! }
    return stand.soundings[pitch]
  }
}

/** Notes that a slot may have on the way, with the states of the memories: a row of states for each. The same object for the same notes. */
export interface Notes {
  readonly id: number
  readonly marks: Uint8Array
}

/** What of a slot decides which notes it may have; the same object for slots that are alike in it. */
interface Lot {
  readonly id: number
  readonly stand: Stand
  readonly allowed: Uint8Array
}

/** A set of musts about notes, neighbours and the hand: which notes may follow which, whatever they cost. */
export class Musts {
  /** joint states of the memories */
  readonly states: number
  /** rules look at neighbours */
  readonly judgeSteps: boolean
  /** how long a step takes may matter */
  readonly looksAtHand: boolean
  readonly #tests: KnownTests
  readonly #secondsPerTick: number
  readonly #notes: readonly MustOf<'note'>[]
  readonly #pairs: readonly MustOf<'pair'>[]
  readonly #memories: readonly MustOf<'memory'>[]
  readonly #hands: readonly MustOf<'hand'>[]
  /** for each note that is told apart the number of its pitch: pitches, or grips where rules look at the hand */
  readonly #pitchOf: readonly number[]
  readonly #pitches: 'all' | 'register' | 'own'
  readonly #register: ReadonlySet<Pitch>
  /** by bar, which rules about more than one note bind it */
  readonly #bound: string[] = []
  readonly #lots: (Lot | undefined)[] = []
  readonly #named = new Map<string, Lot>()
  readonly #sets = new Map<string, Notes>()
  readonly #steps = new Map<Tick, Map<number, Notes>>()

  /**
   * @param options.remember  memories are followed, as long as their joint states are no more than this
   * @param options.pitches   notes are free on all of the neck, in the register, or there and on pitches of their figures
   */
  constructor(
    tests: KnownTests,
    rules: readonly RuleInForce[],
    secondsPerTick: number,
    options: { readonly remember: number; readonly pitches: 'all' | 'register' | 'own' },
  ) {
    this.#tests = tests
    this.#secondsPerTick = secondsPerTick
    this.#notes = rules.filter((rule) => isOf(rule, 'note'))
    this.#pairs = rules.filter((rule) => isOf(rule, 'pair'))
    this.#hands = rules.filter((rule) => isOf(rule, 'hand'))
    const followed: MustOf<'memory'>[] = []
    let states = 1
    for (const rule of rules.filter((one) => isOf(one, 'memory'))) {
      if (states * rule.test.states > options.remember) continue
      states *= rule.test.states
      followed.push(rule)
    }
    this.#memories = followed
    this.states = states
    this.looksAtHand = this.#hands.length > 0
    this.judgeSteps = this.#pairs.length + this.#hands.length + followed.length > 0
    this.#pitchOf = this.#hands.length > 0 ? tests.pitchOf : tests.pitches.map((_, index) => index)
    this.#pitches = options.pitches
    this.#register = new Set(tests.neck.pitches())
  }

  /** Notes that may begin in a slot: with nothing remembered, or with anything. */
  begin(stand: Stand, anyState: boolean): Notes {
    const { allowed } = this.lotOf(stand)
    const { states } = this
    const marks = new Uint8Array(allowed.length * states)
    for (const [note, may] of allowed.entries())
      if (may) marks.fill(1, note * states, note * states + (anyState ? states : 1))
    return this.#setOf(marks)
  }

  /** Each of some notes by itself. */
  *each({ marks }: Notes): Generator<Notes> {
    for (const [at, mark] of marks.entries()) {
      if (!mark) continue
      const one = new Uint8Array(marks.length)
      one[at] = 1
      yield this.#setOf(one)
    }
  }

  isNone({ marks }: Notes): boolean {
    return !marks.includes(1)
  }

  /** Whether all of some notes are among others. */
  holds(all: Notes, some: Notes): boolean {
    return some.marks.every((mark, at) => !mark || all.marks[at] === 1)
  }

  both(one: Notes, other: Notes): Notes {
    return one === other ? one : this.#setOf(one.marks.map((mark, at) => mark | other.marks[at]!))
  }

  /** Notes that may follow some notes, so long after them. */
  step(from: Stand, notes: Notes, to: Stand, ticks: Tick): Notes {
    const lot = this.lotOf(to)
    const time = this.looksAtHand ? ticks : 0
    let steps = this.#steps.get(time)
    if (!steps) {
      steps = new Map()
      this.#steps.set(time, steps)
    }
    const key = (notes.id * 32768 + lot.id) * 4096 + from.key
    let after = steps.get(key)
    if (!after) {
      after = this.#setOf(this.#stepAnew(from, notes, lot, ticks))
      steps.set(key, after)
    }
    return after
  }

  #stepAnew(from: Stand, { marks }: Notes, { stand, allowed }: Lot, ticks: Tick): Uint8Array {
    const { states } = this
    const { barIndex } = stand.standing.slot
    const pairs = this.#pairs.filter((rule) => binds(rule, barIndex))
    const hands = this.#hands.filter((rule) => binds(rule, barIndex))
    const bound = this.#memories.map((rule) => binds(rule, barIndex))
    const tests = this.#tests
    const after = new Uint8Array(marks.length)
    const whole = states === 1
    for (let note = 0; note < allowed.length; note++) {
      if (!whole && !marks.includes(1, note * states)) break
      let isLive = false
      for (let state = 0; state < states && !isLive; state++) isLive = marks[note * states + state] === 1
      if (!isLive) continue
      const x = this.#pitchOf[note]!
      for (let next = 0; next < allowed.length; next++) {
        if (!allowed[next] || (whole && after[next])) continue
        const y = this.#pitchOf[next]!
        if (pairs.some(({ test }) => !tests.pair(test, from, x, stand, y))) continue
        if (hands.some(({ test }) => !tests.hand(test, ticks, this.#secondsPerTick, note, next))) continue
        for (let state = 0; state < states; state++) {
          if (!marks[note * states + state]) continue
          const into = this.#remember(from, x, stand, y, state, bound)
          if (into >= 0) after[next * states + into] = 1
        }
      }
    }
    return after
  }

  /** The joint state after a joint state; -1 where a must forbids it. */
  #remember(from: Stand, x: number, to: Stand, y: number, joint: number, bound: readonly boolean[]): number {
    let into = 0
    let stride = 1
    for (const [order, { test }] of this.#memories.entries()) {
      const state = Math.floor(joint / stride) % test.states
      const next = this.#tests.memory(test, from, x, to, y, state)
      if (bound[order] && (next & 1) === 0) return -1
      into += (next >> 1) * stride
      stride *= test.states
    }
    return into
  }

  /** Slots of one lot are alike to the rules. */
  lotOf(stand: Stand): Lot {
    const known = this.#lots[stand.id]
    if (known) return known
    const { barIndex } = stand.standing.slot
    const tables = this.#notes.filter((rule) => binds(rule, barIndex)).map(({ test }) => this.#tests.note(test, stand))
    const several = [...this.#pairs, ...this.#memories, ...this.#hands]
    this.#bound[barIndex] ??= several.map((rule) => Number(binds(rule, barIndex))).join('')
    const own = this.#pitches === 'own' ? stand.own : ''
    const name = `${stand.key} ${tables.map(({ id }) => id)} ${this.#bound[barIndex]} ${stand.kept} ${own}`
    let lot = this.#named.get(name)
    if (!lot) {
      lot = { id: this.#named.size, stand, allowed: this.#allowed(stand, tables) }
      this.#named.set(name, lot)
    }
    this.#lots[stand.id] = lot
    return lot
  }

  #allowed({ kept, own }: Stand, tables: readonly SpotTable[]): Uint8Array {
    const { spots, neck } = this.#tests
    const allowed = new Uint8Array(this.#pitchOf.length)
    const isFree = (pitch: Pitch): boolean =>
      this.#pitches === 'all' || this.#register.has(pitch) || (this.#pitches === 'own' && own.includes(pitch))
    for (const [index, { grip, pitch }] of spots.entries()) {
      if (kept === undefined ? !isFree(grip.pitch) : grip.pitch !== kept) continue
      if (tables.some(({ may }) => may[index] === NO)) continue
      if (!this.looksAtHand) allowed[pitch] = 1
      else
        for (const [number, { string, fret }] of neck.grips.entries())
          if (string === grip.string && fret === grip.fret) allowed[number] = 1
    }
    return allowed
  }

  #setOf(marks: Uint8Array): Notes {
    const name = marks.join('')
    const known = this.#sets.get(name) ?? { id: this.#sets.size, marks }
    this.#sets.set(name, known)
    return known
  }
}

function tableOf<Table>(
  known: WeakMap<object, Map<number, Table>>,
  test: object,
  key: number,
  make: () => Table,
): Table {
  let tables = known.get(test)
  if (!tables) {
    tables = new Map()
    known.set(test, tables)
  }
  let table = tables.get(key)
  if (!table) {
    table = make()
    tables.set(key, table)
  }
  return table
}

function isOf<Kind extends RuleTest['looksAt']>(rule: RuleInForce, kind: Kind): rule is RuleInForce & MustOf<Kind> {
  return rule.test.looksAt === kind
}
