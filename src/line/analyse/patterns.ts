import type { Chord } from '../../music/chord.ts'
import { pitchClassOf } from '../../music/pitch.ts'
import { toneOf } from '../groove/tone.ts'
import type { Pattern, PatternToken } from '../pattern.ts'
import { offsetsOf } from '../pattern-memory.ts'
import { dealsFrom } from './deals.ts'
import { figuresFrom } from './figures.ts'
import { type FigureWord, type Heights, type PatternVocabulary, type PlacedNote, TokenFit } from './fit.ts'

/** How a stretch is read: a pattern from its beginning, a lead into the next root, or a figure that is played whole. */
export type StretchKind = 'pattern' | 'lead' | 'figure'

const KINDS: readonly StretchKind[] = ['pattern', 'lead', 'figure']

/** Notes that one pattern reads. */
export interface HeardPattern {
  readonly kind: StretchKind
  /** from the first note up to but not with the last */
  readonly from: number
  readonly to: number
  readonly pattern: Pattern
  /** for each note, its place in the pattern, from 0; `undefined`: an approach has taken over */
  readonly places: readonly (number | undefined)[]
  /** it is read to its last token */
  readonly whole: boolean
  /** other patterns that read the same notes just as well, in the order of the table */
  readonly also: readonly Pattern[]
}

/**
 * Points of the segmentation, whole: hand-set, no source. To begin a pattern costs once, so a long stretch is cheap and a note that none
 * reads is dear; the pattern in force goes on for less, as a groove does. What makes a reading less than literal is paid for.
 */
const POINTS = {
  begin: 6,
  /** the pattern in force once more */
  again: 2,
  figure: 2,
  /** a fill elsewhere than at the end of a phrase */
  fillInside: 6,
  /** a root in a figure for a chord that arrives where it strikes nothing */
  added: 3,
  lead: 4,
  unexplained: 7,
  /** a part of one that is read to its end nowhere in the line */
  neverWhole: 1,
  /** left before its end: at a change or a bar line, elsewhere */
  cut: 1,
  cutInside: 3,
  /** after its first note */
  cutAtOnce: 2,
  /** struck again before the next token */
  repeat: 2,
  /** a low token of a lead an octave higher */
  fold: 1,
  /** approaches of a lead come from the other side */
  turned: 1,
  /** the last note before a change is an approach in a token's place */
  takeover: 2,
}

/** Others are named beside a pattern that read the same notes for at most so many points more. */
const AS_WELL = 2

/** A stretch that may be read. */
interface Edge {
  readonly kind: StretchKind
  readonly to: number
  readonly word: number
  /** own points, the beginning left out */
  readonly points: number
  readonly places: readonly (number | undefined)[]
  readonly whole: boolean
  /** only as the pattern in force */
  readonly onlyAgain: boolean
}

/** A stretch with the note that it begins at. */
interface Read {
  readonly from: number
  readonly edge: Edge
}

/** What patterns read of a line. */
export interface HeardPatterns {
  /** in order of time; they do not overlap */
  readonly stretches: readonly HeardPattern[]
  /** for each note, the patterns by which another reading of the whole line has it, about as good, in the order of the table */
  readonly also: readonly (readonly Pattern[])[]
}

/**
 * The line in stretches that patterns read: the least points over all ways, by a dynamic program whose state is the note reached and the
 * pattern in force. Of equals the one of fewest stretches, then the first of the table. Notes that nothing reads are in no stretch.
 *
 * @param notes  sounded notes in order of time
 */
export function patternsHeard(notes: readonly PlacedNote[], vocabulary: PatternVocabulary): HeardPatterns {
  return new Reader(notes, vocabulary).read()
}

class Reader {
  readonly #notes: readonly PlacedNote[]
  readonly #fit: TokenFit
  readonly #figures: readonly FigureWord[]
  readonly #figuresFrom: number
  readonly #leads: readonly number[]

  constructor(notes: readonly PlacedNote[], vocabulary: PatternVocabulary) {
    const { patterns, figures } = vocabulary
    this.#notes = notes
    this.#fit = new TokenFit(notes, vocabulary)
    this.#figures = figures
    this.#figuresFrom = patterns.length
    this.#leads = patterns.flatMap(({ tokens }, word) =>
      tokens.length > 1 && isRootToken(tokens.at(-1)!) ? [word] : [],
    )
  }

  /** Read twice: what is heard to its end somewhere is expected elsewhere too, since a line is made of few patterns. */
  read(): HeardPatterns {
    const edges = this.#notes.map((_, at) => this.#edgesFrom(at))
    const extra = new Uint8Array(this.#fit.words.length)
    const first = this.#least(edges, extra)
    extra.fill(POINTS.neverWhole)
    for (const { edge } of first.read) if (edge.whole) extra[edge.word] = 0
    const { read, cost } = this.#least(edges, extra)
    const stretches = read.map(({ from, edge }) => this.#stretch(from, edge, edges[from]!, extra))
    return { stretches, also: this.#also(edges, extra, cost, stretches) }
  }

  /** The stretches of the cheapest reading, and the cost of each state from the beginning. */
  #least(
    edges: readonly (readonly Edge[])[],
    extra: Uint8Array,
  ): { readonly read: readonly Read[]; readonly cost: Float64Array } {
    const { length } = this.#notes
    // States at a note: no pattern in force yet, or the pattern of a word. Costs are points, and of equal points the stretches.
    const width = this.#figuresFrom + 1
    const cost = new Float64Array((length + 1) * width).fill(FAR)
    const from = new Int32Array((length + 1) * width).fill(-1)
    const by: (Edge | undefined)[] = new Array((length + 1) * width)
    cost[0] = 0
    const reach = (to: number, before: number, points: number, edge: Edge | undefined): void => {
      const sum = cost[before]! + points * POINT + 1
      if (sum >= cost[to]!) return
      cost[to] = sum
      from[to] = before
      by[to] = edge
    }
    const leastAt = (at: number): number => {
      let least = at * width
      for (let state = least + 1; state < (at + 1) * width; state++) if (cost[state]! < cost[least]!) least = state
      return least
    }
    for (const [at, here] of edges.entries()) {
      const base = at * width
      const least = leastAt(at)
      for (const edge of here) {
        const to = edge.to * width
        const points = edge.points + (edge.whole ? 0 : extra[edge.word]!)
        if (edge.kind === 'pattern') {
          const state = edge.word + 1
          if (cost[base + state]! < FAR) reach(to + state, base + state, POINTS.again + points, edge)
          if (!edge.onlyAgain) reach(to + state, least, POINTS.begin + points, edge)
          continue
        }
        const own = points + (edge.kind === 'lead' ? POINTS.lead : POINTS.figure)
        for (let state = 0; state < width; state++)
          if (cost[base + state]! < FAR) reach(to + state, base + state, own, edge)
      }
      for (let state = base; state < base + width; state++)
        if (cost[state]! < FAR) reach(state + width, state, POINTS.unexplained, undefined)
    }
    const read: Read[] = []
    for (let at = leastAt(length); at >= width; at = from[at]!) {
      const edge = by[at]
      if (edge) read.push({ from: Math.floor(from[at]! / width), edge })
    }
    return { read: read.reverse(), cost }
  }

  /** For each note what other readings have it as: those of no more than so many points above the least. */
  #also(
    edges: readonly (readonly Edge[])[],
    extra: Uint8Array,
    cost: Float64Array,
    stretches: readonly HeardPattern[],
  ): readonly (readonly Pattern[])[] {
    const { length } = this.#notes
    const width = this.#figuresFrom + 1
    const words = this.#notes.map(() => new Set<number>())
    // Costs to the end; of equal points the fewest stretches, as in the costs from the beginning.
    const toGo = new Float64Array((length + 1) * width).fill(FAR)
    toGo.fill(0, length * width)
    const cheapest = (at: number): number => {
      let least = FAR
      for (let state = at * width; state < (at + 1) * width; state++) if (cost[state]! < least) least = cost[state]!
      return least
    }
    const most = cheapest(length) + AS_WELL * POINT + POINT - 1
    for (let at = length - 1; at >= 0; at--) {
      const base = at * width
      const least = cheapest(at)
      const after = (to: number, points: number): number => toGo[to]! + points * POINT + 1
      for (let state = base; state < base + width; state++) toGo[state] = after(state + width, POINTS.unexplained)
      for (const edge of edges[at]!) {
        const to = edge.to * width
        const points = edge.points + (edge.whole ? 0 : extra[edge.word]!)
        const mark = (sum: number): void => {
          if (sum <= most) for (let i = at; i < edge.to; i++) words[i]!.add(edge.word)
        }
        if (edge.kind === 'pattern') {
          const state = edge.word + 1
          const again = after(to + state, POINTS.again + points)
          mark(cost[base + state]! + again)
          if (again < toGo[base + state]!) toGo[base + state] = again
          if (edge.onlyAgain) continue
          const anew = after(to + state, POINTS.begin + points)
          mark(least + anew)
          for (let before = base; before < base + width; before++) if (anew < toGo[before]!) toGo[before] = anew
          continue
        }
        const own = points + (edge.kind === 'lead' ? POINTS.lead : POINTS.figure)
        for (let state = 0; state < width; state++) {
          const sum = after(to + state, own)
          mark(cost[base + state]! + sum)
          if (sum < toGo[base + state]!) toGo[base + state] = sum
        }
      }
    }
    for (const { from, to, pattern } of stretches)
      for (let at = from; at < to; at++) words[at]!.delete(this.#fit.words.indexOf(pattern))
    return words.map((some) => [...some].sort((a, b) => a - b).map((word) => this.#fit.words[word]!))
  }

  #stretch(from: number, edge: Edge, others: readonly Edge[], extra: Uint8Array): HeardPattern {
    const { kind, to, places, whole, word } = edge
    const paid = (one: Edge): number => one.points + (one.whole ? 0 : extra[one.word]!)
    const most = paid(edge) + AS_WELL
    const same = others.filter(
      (other) => other.kind === kind && other.to === to && paid(other) <= most && other.word !== word,
    )
    const also = [...new Set(same.map((other) => other.word))].sort((a, b) => a - b)
    const { words } = this.#fit
    return { kind, from, to, pattern: words[word]!, places, whole, also: also.map((other) => words[other]!) }
  }

  /** All stretches that begin at a note, each word's cheapest to each end. */
  #edgesFrom(at: number): Edge[] {
    const note = this.#notes[at]!
    const cheapest = new Map<number, Edge>()
    const keyOf = (kind: StretchKind, word: number, to: number): number =>
      ((to - at) * this.#fit.words.length + word) * KINDS.length + KINDS.indexOf(kind)
    const isCheaper = (kind: StretchKind, word: number, to: number, points: number): boolean => {
      const known = cheapest.get(keyOf(kind, word, to))
      return !known || points < known.points
    }
    const offer = (edge: Edge): void => {
      if (isCheaper(edge.kind, edge.word, edge.to, edge.points))
        cheapest.set(keyOf(edge.kind, edge.word, edge.to), edge)
    }
    for (const { word, heights } of this.#fit.startingWith(note.chord)[pitchClassOf(note.pitch)]!)
      this.#extend(at, word, heights, offer)
    this.#leadsFrom(at, offer)
    dealsFrom(this.#fit, at, {
      isCheaper: (word, to, points) => isCheaper('pattern', word, to, points),
      offer: ({ word, to, points, places, whole }) =>
        offer({ kind: 'pattern', to, word, points, places, whole, onlyAgain: false }),
    })
    for (const { figure, to, places } of figuresFrom(this.#notes, at, this.#figures)) {
      const word = this.#figuresFrom + figure
      const added = POINTS.added * places.filter((place) => place === undefined).length
      const points = added + (this.#figures[figure]!.isFill && !note.endsPhrase ? POINTS.fillInside : 0)
      offer({ kind: 'figure', to, word, points, places, whole: true, onlyAgain: false })
    }
    return [...cheapest.values()].sort((a, b) => a.word - b.word)
  }

  /** A word from its beginning at a note, as far as it goes. */
  #extend(at: number, word: number, heights: Heights, offer: (edge: Edge) => void): void {
    const notes = this.#notes
    const fit = this.#fit
    const { tokens } = fit.words[word]!
    const start = notes[at]!
    for (const anchor of fit.anchorsOf(word, heights, 0, start)) {
      const fits = (k: number, j: number) => fit.fits(word, heights, anchor, k, j, start.run)
      const begins = fits(0, at)
      if (begins === undefined) continue
      let costs: (number | undefined)[] = [heights.points + begins]
      let trails: (readonly (number | undefined)[])[] = [[0]]
      for (let j = at; ; j++) {
        // The stretch may end after note j.
        const ends = j + 1 >= notes.length || notes[j + 1]!.arrives || notes[j + 1]!.opensBar
        for (const [k, soFar] of costs.entries()) {
          if (soFar === undefined) continue
          const whole = k + 1 === tokens.length
          const trail = trails[k]!
          const cut = whole ? 0 : !ends ? POINTS.cutInside : k === 0 ? POINTS.cutAtOnce : POINTS.cut
          // One note of several is a guess, unless the pattern is in force anyway.
          const onlyAgain = !whole && k === 0
          offer({ kind: 'pattern', to: j + 1, word, points: soFar + cut, places: trail, whole, onlyAgain })
          if (!whole && tokens[k]!.kind === 'degree' && fit.takesOver(j + 1, start.run))
            offer({
              kind: 'pattern',
              to: j + 2,
              word,
              points: soFar + POINTS.takeover,
              places: [...trail, undefined],
              whole: false,
              onlyAgain: false,
            })
        }
        const next = notes[j + 1]
        if (!next) break
        const nextCosts: (number | undefined)[] = []
        const nextTrails: (readonly (number | undefined)[])[] = []
        const arrive = (k: number, sum: number, trail: readonly (number | undefined)[]): void => {
          if (nextCosts[k] !== undefined && nextCosts[k]! <= sum) return
          nextCosts[k] = sum
          nextTrails[k] = [...trail, k]
        }
        const repeats = next.pitch === notes[j]!.pitch && next.run === start.run
        for (const [k, soFar] of costs.entries()) {
          if (soFar === undefined) continue
          const fit = k + 1 < tokens.length ? fits(k + 1, j + 1) : undefined
          if (fit !== undefined) arrive(k + 1, soFar + fit, trails[k]!)
          if (repeats && tokens[k]!.kind === 'degree') arrive(k, soFar + POINTS.repeat, trails[k]!)
        }
        if (nextCosts.length === 0) break
        costs = nextCosts
        trails = nextTrails
      }
    }
  }

  /** Leads: the end of a pattern before its own last root, over the chord that it leads into. */
  #leadsFrom(at: number, offer: (edge: Edge) => void): void {
    const notes = this.#notes
    // The note that is led into: the first of the bar or of the chord after it.
    let target = at + 1
    while (target < notes.length && !notes[target]!.arrives && !notes[target]!.opensBar) target++
    const size = target - at
    if (size > MOST_LEAD) return
    const into = notes[target] ?? notes[0]!
    const chord = into.chord
    const isRoot = pitchClassOf(into.pitch) === chord.bassPc
    if (!isRoot) return
    for (const word of this.#leads) {
      const { tokens } = this.#fit.words[word]!
      const missing = tokens.length - 1 - size
      if (missing < 0 || (size < 2 && missing > 0)) continue
      const own = missing + this.#fit.unusual(word)
      for (const turned of this.#fit.turns ? [1, -1] : [1]) {
        let points = turned < 0 ? own + POINTS.turned : own
        let before: number | undefined
        for (let i = 0; i < size && points < FAR; i++) {
          const token = tokens[missing + i]!
          const sign = token.kind === 'approach' ? turned : 1
          const off = overNextRoot(token, chord).map((over) => notes[at + i]!.pitch - into.pitch - sign * over)
          const match = off.find((semitones) => pitchClassOf(semitones) === 0)
          if (match === undefined) points = FAR
          else if (before === undefined ? match !== 0 && target < notes.length : match !== before) points += POINTS.fold
          before = match
        }
        if (points >= FAR) continue
        const places = Array.from({ length: size }, (_, i) => missing + i)
        offer({ kind: 'lead', to: target, word, points, places, whole: missing === 0, onlyAgain: false })
        break
      }
    }
  }
}

/** So many stretches to a point: more than any line has notes. */
const POINT = 1 << 20

const FAR = Number.MAX_SAFE_INTEGER

/** A lead has at most so many notes. */
const MOST_LEAD = 4

function isRootToken(token: PatternToken): boolean {
  return token.kind === 'degree' && !token.next && !token.accidental && token.number === 1 && token.octave === 0
}

/** Semitones over the next root of a token of a lead; the last `1` is the root itself. */
function overNextRoot(token: PatternToken, chord: Chord): readonly number[] {
  if (token.kind === 'approach') return offsetsOf(token)
  return [toneOf({ ...token, next: true }, chord, false).semitones]
}
