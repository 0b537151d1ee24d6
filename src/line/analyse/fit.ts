import { type Chord, degreeAt, familyOf } from '../../music/chord.ts'
import { type Pitch, type PitchClass, pitchClassOf } from '../../music/pitch.ts'
import type { Tick } from '../../music/tick.ts'
import type { NamedCell } from '../../rhythm/cell.ts'
import type { BarMap } from '../groove/deal.ts'
import { NEXT_ROOT, toneOf } from '../groove/tone.ts'
import { type DegreeToken, type Pattern, type PatternToken, semitonesOfToken } from '../pattern.ts'
import { LEADS, offsetsOf } from '../pattern-memory.ts'
import { chordKey } from '../standing.ts'

/** A sounded note where it stands, for the patterns that may read it. */
export interface PlacedNote {
  readonly pitch: Pitch
  readonly chord: Chord
  /** equal for notes under one chord that holds on */
  readonly run: number
  /** the first of its chord */
  readonly arrives: boolean
  /** the first of its bar, or pushed onto it */
  readonly opensBar: boolean
  /** it is struck early and tied into its chord */
  readonly pushed: boolean
  /** the chords that a token of the next chord may mean: that of the bar after, that of the next change */
  readonly nextChords: readonly Chord[]
  /** the bar that it is struck in, an index */
  readonly bar: number
  readonly map: BarMap
  /** from the bar line */
  readonly tick: Tick
  /** where the chord that sounds there begins in the bar, from the bar line */
  readonly partTick: Tick
  /** what sounded before rings into that place */
  readonly rungInto: boolean
  /** its bar is the last of four, or of its section */
  readonly endsPhrase: boolean
}

/** A figure that is played whole, in its own rhythm, at the end of a bar. */
export interface FigureWord extends Pattern {
  /** it strikes once for each token */
  readonly cell: NamedCell
  /** it closes a phrase */
  readonly isFill: boolean
}

/** The words that a line may be read with. */
export interface PatternVocabulary {
  readonly patterns: readonly Pattern[]
  /** fills and walks */
  readonly figures: readonly FigureWord[]
  /** ids of those that are usual where the line comes from; absent: all */
  readonly usual?: ReadonlySet<string>
}

/** What makes a reading less than literal, in whole points: hand-set, no source. */
const POINTS = {
  /** a low token an octave higher, or a fifth on the other side */
  fold: 1,
  /** a chord of a family that the pattern was not written for */
  foreign: 2,
  /** a token follows the colour of the chord, or its slash bass */
  adapted: 1,
  /** a word that nobody expects here */
  unusual: 2,
  /** an approach at the end leads into the pattern's own beginning, with no new chord or bar there */
  again: 1,
}

/** A pattern over one chord: for each token the semitones over the anchor that it has or aims at. */
export interface Heights {
  readonly anchorPc: PitchClass
  readonly heights: readonly (number | undefined)[]
  readonly points: number
  /** the pitch classes that some token may have, a bit each */
  readonly reach: number
}

const NONE: readonly Pitch[] = []

/** All pitch classes, a bit each. */
const ALL = (1 << 12) - 1

/** A word that may begin on some pitch class. */
export interface FirstWord {
  readonly word: number
  readonly heights: Heights
}

/** What the words of a vocabulary are over chords: the same for every line that is read with them. */
interface KnownWords {
  readonly heights: Map<string, (readonly Heights[])[]>
  /** per pitch class */
  readonly byFirst: Map<string, readonly (readonly FirstWord[])[]>
  /** those that have some token on it, and last all */
  readonly byAny: Map<string, readonly (readonly FirstWord[])[]>
}

const KNOWN = new WeakMap<PatternVocabulary, KnownWords>()

const keyOf = (chord: Chord): string => `${chordKey(chord)}|${chord.bassPc}`

/** Which notes may be which tokens of which words. */
export class TokenFit {
  readonly notes: readonly PlacedNote[]
  /** patterns, then figures, which are read apart */
  readonly words: readonly Pattern[]
  readonly #patterns: number
  /** grooves turn approaches over to the other side of their target where the neck leaves no room */
  readonly turns: boolean
  readonly #unusual: readonly number[]
  readonly #flipping: readonly boolean[]
  readonly #known: KnownWords

  constructor(notes: readonly PlacedNote[], vocabulary: PatternVocabulary) {
    const { patterns, figures, usual } = vocabulary
    this.notes = notes
    this.#known = KNOWN.get(vocabulary) ?? { heights: new Map(), byFirst: new Map(), byAny: new Map() }
    KNOWN.set(vocabulary, this.#known)
    this.words = [...patterns, ...figures]
    this.#patterns = patterns.length
    this.turns = figures.length > 0
    // Where root and fifth alone make the figure, the fifth may lie on either side.
    this.#flipping = this.words.map(({ tokens }) =>
      tokens.every((token) => token.kind === 'degree' && !token.next && [1, 5, 8].includes(token.number)),
    )
    this.#unusual = this.words.map(({ id }) => (!usual || usual.has(id) ? 0 : POINTS.unusual))
  }

  /** What a word costs for being nothing that is expected. */
  unusual(word: number): number {
    return this.#unusual[word]!
  }

  /** The words whose first token may sound each pitch class over a chord. */
  startingWith(chord: Chord): readonly (readonly FirstWord[])[] {
    const key = keyOf(chord)
    const known = this.#known.byFirst.get(key)
    if (known) return known
    const made: FirstWord[][] = Array.from({ length: 12 }, () => [])
    for (const [word, { tokens }] of this.words.slice(0, this.#patterns).entries()) {
      const [first] = tokens
      for (const heights of this.heightsOf(word, chord)) {
        const { anchorPc } = heights
        const height = heights.heights[0]
        if (first!.kind === 'degree' && !first!.next) made[pitchClassOf(anchorPc + height!)]!.push({ word, heights })
        else if (first!.kind === 'approach' && height !== undefined)
          for (const offset of offsetsOf(first!))
            made[pitchClassOf(anchorPc + height + offset)]!.push({ word, heights })
        else for (const some of made) some.push({ word, heights })
      }
    }
    this.#known.byFirst.set(key, made)
    return made
  }

  /** The words that may have some token on each pitch class over a chord, and after them all words. */
  withToneOn(chord: Chord): readonly (readonly FirstWord[])[] {
    const key = keyOf(chord)
    const known = this.#known.byAny.get(key)
    if (known) return known
    const all = this.words
      .slice(0, this.#patterns)
      .flatMap((_, word) => this.heightsOf(word, chord).map((heights): FirstWord => ({ word, heights })))
    const made = Array.from({ length: 12 }, (_, pc) => all.filter(({ heights }) => heights.reach & (1 << pc)))
    this.#known.byAny.set(key, [...made, all])
    return [...made, all]
  }

  /** As written over the root, and as a groove colours it over the bass where that is something else. */
  heightsOf(word: number, chord: Chord): readonly Heights[] {
    const key = keyOf(chord)
    const ofChord = this.#known.heights.get(key) ?? []
    this.#known.heights.set(key, ofChord)
    const known = ofChord[word]
    if (known) return known
    const { tokens, families } = this.words[word]!
    const tensions = tokens.filter((token) => isAltered(token, chord)).length
    const foreign = families !== 'any' && !families.includes(familyOf(chord))
    const points = this.#unusual[word]! + (foreign ? POINTS.foreign : 0) + (tensions > 0 ? POINTS.adapted : 0)
    const aims = tokens.map((_, k) => {
      const aim = tokens.slice(k).find((other) => other.kind === 'degree')
      return aim?.kind === 'degree' && !aim.next ? aim : undefined
    })
    const plain = aims.map((aim) => aim && semitonesOfToken(aim, chord))
    const toned = aims.map((aim) => aim && toneOf(aim, chord, foreign).semitones)
    const reachOf = (anchorPc: PitchClass, heights: Heights['heights']) => this.#reachOf(tokens, anchorPc, heights)
    const { rootPc, bassPc } = chord
    const made: Heights[] = [{ anchorPc: rootPc, heights: plain, points, reach: reachOf(rootPc, plain) }]
    if (rootPc !== bassPc || plain.some((height, k) => height !== toned[k]))
      made.push({ anchorPc: bassPc, heights: toned, points: points + POINTS.adapted, reach: reachOf(bassPc, toned) })
    ofChord[word] = made
    return made
  }

  #reachOf(tokens: readonly PatternToken[], anchorPc: PitchClass, heights: Heights['heights']): number {
    let reach = 0
    for (const [k, token] of tokens.entries()) {
      const height = heights[k]
      if (height === undefined) return ALL
      const offsets = token.kind === 'degree' ? [0] : offsetsOf(token)
      for (const offset of this.turns ? [...offsets, ...offsets.map((one) => -one)] : offsets)
        reach |= 1 << pitchClassOf(anchorPc + height + offset)
    }
    return reach
  }

  /** The anchors from which a note may be a token; `undefined` where the token says nothing about it. */
  anchorsOf(word: number, { anchorPc, heights }: Heights, k: number, note: PlacedNote): readonly (Pitch | undefined)[] {
    const token = this.words[word]!.tokens[k]!
    const height = heights[k]
    if (token.kind === 'degree') {
      if (token.next) return [undefined]
      const own = note.pitch - height!
      if (pitchClassOf(own - anchorPc) !== 0) return NONE
      // A low token may itself be the folded one.
      if (token.octave < 0) return [own, own - 12]
      return this.#flipping[word]! && token.number === 5 ? [own, own + 12] : [own]
    }
    if (height === undefined) return [undefined]
    const own = offsetsOf(token).map((offset) => note.pitch - offset - height)
    return own.filter((anchor) => pitchClassOf(anchor - anchorPc) === 0)
  }

  /**
   * What note `j` costs as token `k`; `undefined` where it is none.
   *
   * @param run  of the chord that the word is played over
   */
  fits(
    word: number,
    { anchorPc, heights }: Heights,
    anchor: Pitch | undefined,
    k: number,
    j: number,
    run: number,
  ): number | undefined {
    const { tokens } = this.words[word]!
    const token = tokens[k]!
    const note = this.notes[j]!
    const { pitch, pushed, chord, nextChords } = note
    if (token.kind === 'degree' && token.next) {
      const meant = pushed ? [chord] : nextChords
      return meant.some((next) => pitchClassOf(pitch - nextPitchClass(token, next)) === 0) ? 0 : undefined
    }
    if (note.run !== run) return undefined
    const height = heights[k]
    if (token.kind === 'degree') {
      const off = pitch - (anchor === undefined ? nearestTo(pitch, anchorPc + height!) : anchor + height!)
      if (off === 0) return 0
      if (token.octave < 0 && off === 12) return POINTS.fold
      if (token.number === 5 && (off === -12 || off === 12) && this.#flipping[word]!) return POINTS.fold
      return undefined
    }
    const offsets = offsetsOf(token)
    if (height !== undefined && anchor !== undefined) {
      const off = pitch - anchor - height
      return offsets.includes(off) && (token.by !== 'scale' || isInScale(chord, pitch)) ? 0 : undefined
    }
    return this.#leadsOn(j, j + tokens.length - k, offsets)
  }

  /** A note leads by one of these offsets into a later one, or at the end into the first root. */
  #leadsOn(j: number, target: number, offsets: readonly number[]): number | undefined {
    const aim = this.notes[target]
    if (!aim) {
      if (target > this.notes.length) return undefined
      const first = this.notes[0]!.chord.bassPc
      return offsets.some((offset) => pitchClassOf(this.notes[j]!.pitch - offset - first) === 0) ? 0 : undefined
    }
    const into = aim.arrives || aim.opensBar ? 0 : POINTS.again
    const off = this.notes[j]!.pitch - aim.pitch
    if (offsets.includes(off)) return into
    return offsets.some((offset) => pitchClassOf(off - offset) === 0 || (this.turns && off === -offset))
      ? into + POINTS.fold
      : undefined
  }

  /** A note may be an approach in a token's place: the last under its chord, leading into the next. */
  takesOver(j: number, run: number): boolean {
    const note = this.notes[j]
    const next = this.notes[j + 1]
    if (!note || note.run !== run || note.pushed || !next?.arrives) return false
    return LEADS.some((lead) => pitchClassOf(next.pitch - note.pitch - lead) === 0)
  }
}

/** A plain 9, 11 or 13 over a chord that has an altered one. */
function isAltered(token: PatternToken, chord: Chord): boolean {
  if (token.kind !== 'degree' || token.next || token.accidental || ![9, 11, 13].includes(token.number)) return false
  return semitonesOfToken(token, chord) !== semitonesOfToken({ ...token, accidental: 'n' }, chord)
}

/** Where a token of the next chord sounds. */
function nextPitchClass(token: DegreeToken, chord: Chord): PitchClass {
  const isRoot = token.number === NEXT_ROOT.number && token.accidental === undefined
  return pitchClassOf(isRoot ? chord.bassPc : chord.rootPc + semitonesOfToken(token, chord))
}

function nearestTo(pitch: Pitch, pitchClass: number): Pitch {
  const up = pitchClassOf(pitchClass - pitch)
  return pitch + (up > 6 ? up - 12 : up)
}

function isInScale(chord: Chord, pitch: Pitch): boolean {
  return degreeAt(chord, pitchClassOf(pitch)).standing !== 'chromatic'
}
