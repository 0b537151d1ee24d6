import type { FormBar } from '../../src/chart/form.ts'
import type { Composition } from '../../src/compose.ts'
import type { Line, LineNote } from '../../src/line/line.ts'
import { type Chord, semitonesOfNumber } from '../../src/music/chord.ts'
import { parseDegree, semitonesOf } from '../../src/music/degree.ts'
import { parseNoteName, pitchClassOfName } from '../../src/music/note-name.ts'
import { type Cell, parseCell } from '../../src/rhythm/cell.ts'
import { cellOf } from '../../src/rhythm/cells.ts'
import { wayOf } from './hand.ts'

// A second reading of every rule: from what its printed sentence means to a player, and from nothing that the program reads rules with.

/** What is looked at. */
export interface Checked {
  readonly composition: Composition
  readonly line: Line
  /** struck notes, without dead ones */
  readonly notes: readonly LineNote[]
  readonly loop: boolean
}

export function checked(composition: Composition, line: Line): Checked {
  const notes = line.notes.filter((note) => !note.slot.ghost)
  return { composition, line, notes, loop: composition.settings.loop === true }
}

/**
 * How often a line breaks a rule. `undefined` where the notes alone do not say it: how often a pattern was begun.
 *
 * @param sentence  as it is printed, without its strength: `Bars 5–8: no leap over a fourth`
 */
export function breachesOf(sentence: string, of: Checked): number | undefined {
  const front =
    /^(?:(?:Chorus(?:es)? ([\d–]+)|(Last) chorus)(?:, |(?=:)))?([Bb]ars? [\d–, ]+|[Ss]ection [^:]+)?: /.exec(sentence)
  const said = sentence.slice(front?.[0].length ?? 0)
  const times = (of.composition.settings.choruses ?? 1) - 1
  const [first = 1, last = first] = front?.[1]?.split('–').map(Number) ?? []
  const inChorus = ({ chorus }: FormBar) =>
    front?.[2] ? chorus === times : !front?.[1] || (first - 1 <= chorus && chorus < last)
  const named = barsNamed(front?.[3], of)
  // A bar of rest and an ending have their own rhythm, whatever else is said of rhythms.
  const isApart = (index: number): boolean =>
    RHYTHM.test(said) &&
    of.composition.rules.some(
      ({ id, bars }) =>
        (id === 'bar-rested' || id === 'ends-with') &&
        (bars?.some(({ from, to }) => from <= index && index < to) ?? true),
    )
  const bars = of.composition.form.bars.map((bar) => named[bar.index]! && inChorus(bar) && !isApart(bar.index))
  for (const [pattern, read] of READERS) {
    const match = pattern.exec(said)
    if (match) return read({ ...of, bars, isNamed: front !== null }, match.slice(1) as string[])
  }
  throw new Error(`the checker does not know: ${said}`)
}

/** What is said of rhythms. */
const RHYTHM = /^(in (two|four)|at (most|least)|more notes|push into|no pushes|no ghost|open with root)/

interface Bound extends Checked {
  /** the sentence names bars */
  readonly isNamed: boolean
  /** true for each played bar that is bound */
  readonly bars: readonly boolean[]
}

/** Which played bars a sentence names, in each chorus. */
function barsNamed(named: string | undefined, { composition }: Checked): readonly boolean[] {
  const { form, chart, settings } = composition
  const { bars } = form
  if (named === undefined) return bars.map(() => true)
  if (/^section /i.test(named)) {
    const name = named.slice('Section '.length).toLowerCase()
    let section = ''
    const sections = chart.bars.map((bar) => {
      section = bar.section?.value.toLowerCase() ?? section
      return section
    })
    return bars.map((bar) => sections[bar.writtenIndex] === name)
  }
  const pickup = bars[0]!.number === 0 ? 1 : 0
  const each = (bars.length - pickup) / (settings.choruses ?? 1)
  const numbers = new Set<number>()
  for (const part of named.replace(/^bars? /i, '').split(', ')) {
    const [first, last] = part.split('–').map(Number)
    for (let number = first!; number <= (last ?? first!); number++) numbers.add(number)
  }
  return bars.map((bar) => numbers.has(bar.number === 0 ? 0 : ((bar.number - 1) % each) + 1))
}

// Music.

const modulo = (value: number, by: number): number => ((value % by) + by) % by
const chordOf = ({ composition }: Checked, note: LineNote): Chord =>
  composition.form.changes[note.slot.changeIndex]!.chord!
const above = (chord: Chord, pitch: number): number => modulo(pitch - chord.rootPc, 12)
const isRoot = (chord: Chord, pitch: number): boolean => modulo(pitch - chord.bassPc, 12) === 0

function isTone(chord: Chord, pitch: number): boolean {
  return isRoot(chord, pitch) || chord.tones.some((degree) => modulo(semitonesOf(degree), 12) === above(chord, pitch))
}

function isInScale(chord: Chord, pitch: number): boolean {
  const inScale = chord.scale.degrees.some((degree) => modulo(semitonesOf(degree), 12) === above(chord, pitch))
  return inScale || isTone(chord, pitch)
}

const NUMBERS = ['root', '', 'third', 'fourth', 'fifth', 'sixth', 'seventh']
const numberOf = (word: string): number =>
  ({ second: 2, ninth: 9, eleventh: 11, thirteenth: 13 })[word] ?? NUMBERS.indexOf(word) + 1

/** One of the degrees of `the third or b7`. */
function isOneOf(list: string, chord: Chord, pitch: number): boolean {
  return list.split(' or ').some((word) => {
    if (word === 'the root') return isRoot(chord, pitch)
    const degree = word.startsWith('the ') ? undefined : parseDegree(word)!
    const semitones = degree ? semitonesOf(degree) : semitonesOfNumber(chord, numberOf(word.slice(4)))
    return modulo(semitones, 12) === above(chord, pitch)
  })
}

function pitchOf(name: string): number {
  const [, letters, octave] = /^([A-G][#b]?)(-?\d)$/.exec(name)!
  return 12 * (Number(octave) + 1) + pitchClassOfName(parseNoteName(letters!)!)
}

const INTERVALS = [
  ...['a unison', 'a half-step', 'a whole step', 'a minor third', 'a third', 'a fourth', 'a tritone', 'a fifth'],
  ...['a minor sixth', 'a sixth', 'a minor seventh', 'a seventh', 'an octave'],
  ...['a minor ninth', 'a ninth', 'a minor tenth', 'a tenth'],
]
const semitonesIn = (text: string): number => (/^\d/.test(text) ? Number.parseInt(text, 10) : INTERVALS.indexOf(text))

const WORDS = ['', 'once', 'twice', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve']
const timesIn = (text: string): number => {
  const word = text.replace(/ times$/, '')
  return /^\d/.test(word) ? Number(word) : WORDS.indexOf(word)
}

// Places.

/** The change at which the chord of a note began to sound. */
function began({ composition }: Checked, note: LineNote): number {
  const { changes } = composition.form
  let index = note.slot.changeIndex
  while (index > 0 && changes[index]!.held) index--
  return index
}

/** The first note over a chord that was not sounding before. */
function arrives(of: Checked, index: number): boolean {
  return index === 0 || began(of, of.notes[index]!) !== began(of, of.notes[index - 1]!)
}

/** The bar that a note begins, struck on its first tick or pushed over the bar line before. */
function barBegun({ composition }: Checked, { slot }: LineNote): FormBar | undefined {
  const { bars } = composition.form
  const bar = bars[slot.barIndex]!
  if (slot.startTick === bar.startTick) return bar
  const over = slot.pushed && slot.startTick + slot.ticks > bar.startTick + bar.ticks
  // Pushed over the end of all it begins the first bar again.
  return over ? (bars[bar.index + 1] ?? ({ ...bars[0]!, index: -1 } as FormBar)) : undefined
}

/** Bars at which phrases begin: every four, and anew with each section; the pick-up is of the first. */
function phraseStarts({ composition }: Checked): readonly number[] {
  const starts: number[] = []
  let bars = 0
  for (const bar of composition.form.bars) {
    if (bar.index === 0 || bar.section !== undefined || bars === 4) {
      starts.push(bar.index)
      bars = 0
    }
    if (bar.number > 0) bars++
  }
  return starts
}

/** The bars of a section called an introduction, or of the first phrase, with the pick-up. */
function introduction(of: Checked): readonly boolean[] {
  const { bars } = of.composition.form
  const end = phraseStarts(of).find((start) => bars[start]!.number > 1) ?? bars.length
  return bars.map(({ index, number }) => number > 0 && index < end)
}

const STRONG: Readonly<Record<string, readonly number[]>> = {
  '2/4': [0],
  '3/4': [0],
  '4/4': [0, 960],
  '5/4': [0, 1440],
  '6/8': [0, 720],
  '9/8': [0],
  '12/8': [0, 1440],
}

function isStrong({ composition }: Checked, { slot }: LineNote): boolean {
  const bar = composition.form.bars[slot.barIndex]!
  // a pick-up may be of any length
  return (STRONG[`${bar.metre.upper}/${bar.metre.lower}`] ?? [0]).includes(slot.startTick - bar.startTick)
}

// Counting.

/** Bound notes that fail. */
function notesThat(of: Bound, fails: (note: LineNote, chord: Chord, index: number) => boolean): number {
  return of.notes.filter((note, i) => of.bars[note.slot.barIndex] && fails(note, chordOf(of, note), i)).length
}

/** Notes that fail after the one before them; in a loop the first follows the last. */
function stepsThat(of: Bound, fails: (from: LineNote, to: LineNote, index: number) => boolean): number {
  const { notes, loop, bars } = of
  return notes.filter((to, i) => {
    if (!bars[to.slot.barIndex] || (i === 0 && !loop)) return false
    return fails(notes[(i + notes.length - 1) % notes.length]!, to, i)
  }).length
}

/** Bound bars that fail. */
function barsThat(of: Bound, fails: (bar: FormBar, notes: readonly LineNote[]) => boolean): number {
  return of.composition.form.bars.filter((bar) => {
    const notes = of.line.notes.filter(({ slot }) => slot.barIndex === bar.index)
    return of.bars[bar.index] && fails(bar, notes)
  }).length
}

const PLACES = {
  arrive: (of: Checked, index: number) => arrives(of, index),
  bar: (of: Checked, index: number) => barBegun(of, of.notes[index]!) !== undefined,
  phrase: (of: Checked, index: number) => {
    const bar = barBegun(of, of.notes[index]!)
    return bar !== undefined && phraseStarts(of).includes(bar.index)
  },
}
const placeIn = (text: string) => (/phrase/.test(text) ? PLACES.phrase : /bar/.test(text) ? PLACES.bar : PLACES.arrive)

/** Semitones of the notes before the target, as ways into a change name them: the last note stands last. */
const WAYS: Readonly<Record<string, readonly (readonly (number | 'step above' | 'step below')[])[]>> = {
  'a half-step': [[-1], [1]],
  'a half-step below': [[-1]],
  'a half-step above': [[1]],
  'a scale step': [['step below'], ['step above']],
  'a scale step below': [['step below']],
  'a scale step above': [['step above']],
  'a whole step': [[-2], [2]],
  'a whole step below': [[-2]],
  'a whole step above': [[2]],
  'the dominant': [[7], [-5]],
  'a fifth above': [[7]],
  'a fourth below': [[-5]],
  'a double chromatic': [
    [-2, -1],
    [2, 1],
  ],
  'a double chromatic from below': [[-2, -1]],
  'a double chromatic from above': [[2, 1]],
  'an enclosure': [
    ['step above', -1],
    [-1, 'step above'],
    [1, -1],
  ],
  'an enclosure from above': [['step above', -1]],
  'an enclosure from below': [[-1, 'step above']],
  'a chromatic enclosure': [[1, -1]],
  'the dominant and the leading note': [[7, -1]],
}

function isApproached(of: Checked, index: number, way: string): boolean {
  const { notes, loop } = of
  const target = notes[index]!
  const before = (by: number): LineNote | undefined =>
    loop ? notes[modulo(index - by, notes.length)] : notes[index - by]
  if (way === 'an anticipation')
    return target.slot.pushed || (before(1) !== undefined && modulo(before(1)!.pitch - target.pitch, 12) === 0)
  return WAYS[way]!.some((steps) =>
    steps.every((step, i) => {
      const note = before(steps.length - i)
      if (!note) return false
      const distance = note.pitch - target.pitch
      if (typeof step === 'number') return distance === step
      const [near, far] = step === 'step above' ? [1, 2] : [-1, -2]
      return (distance === near || distance === far) && isInScale(chordOf(of, note), note.pitch)
    }),
  )
}

/** How far a note lies from a line between two pitches, times the length of its stretch: whole numbers, nothing is rounded. */
function isInBand(
  of: Bound,
  note: LineNote,
  shape: string,
  over: string,
  band: readonly [number, number, number],
): boolean {
  const { bars, ticks } = of.composition.form
  const [lowest, highest, within] = band
  const at = note.slot.barIndex
  let from = at
  let to = at + 1
  if (over === 'each phrase') {
    const starts = phraseStarts(of)
    from = starts.findLast((start) => start <= at)!
    to = starts.find((start) => start > at) ?? bars.length
  } else if (over === 'each section') {
    while (from > 0 && bars[from]!.section === undefined) from--
    while (to < bars.length && bars[to]!.section === undefined) to++
  } else {
    while (from > 0 && of.bars[from - 1]) from--
    while (to < bars.length && of.bars[to]) to++
  }
  const start = bars[from]!.startTick
  const length = (bars[to]?.startTick ?? ticks) - start
  const gone = note.slot.startTick - start
  const there = Math.abs(2 * gone - length)
  const height = { rise: gone, fall: length - gone, arch: length - there, valley: there }[shape]!
  return Math.abs((note.pitch - lowest) * length - (highest - lowest) * height) <= within * length
}

/** Beats are counted in dotted quarters in compound metres. */
function secondsOf({ composition }: Checked, ticks: number): number {
  const { metre } = composition.feel
  const beat = /^(6|9|12)\/8$/.test(metre) ? 720 : 480
  return (ticks / beat) * (60 / composition.tempoBpm)
}

/** The cells of some notes; where the plan has no cell, it is one note a beat. */
function cellsIn(notes: readonly LineNote[]): readonly Cell[] {
  return [...new Set(notes.map(({ slot }) => slot.cell))].flatMap((name) => {
    const reading = parseCell(name)
    return cellOf(name) ?? (reading.ok ? reading.cell : [])
  })
}

const COUNTS = ['', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve']

/** A note was struck before the bar and sounds into it. */
function isPushedInto(of: Checked, { startTick, index }: Pick<FormBar, 'startTick' | 'index'>): boolean {
  const { ticks } = of.composition.form
  return of.notes.some(({ slot }) => {
    const over = slot.startTick + slot.ticks
    return (slot.startTick < startTick && over > startTick) || (of.loop && index === 0 && over > ticks)
  })
}

type Reader = readonly [sentence: RegExp, breaches: (of: Bound, parts: readonly string[]) => number | undefined]

const READERS: readonly Reader[] = [
  [
    /^chromatic notes only into changes$/,
    (of) =>
      notesThat(of, ({ pitch }, chord, i) => {
        const leads = i + 1 < of.notes.length ? arrives(of, i + 1) : of.loop
        return !isInScale(chord, pitch) && !leads
      }),
  ],
  [
    /^hear (.+) in each chord$/,
    (of, [list]) => {
      const { notes } = of
      const starts = notes.flatMap((_, i) => (arrives(of, i) ? [i] : []))
      // It is told where the next chord arrives, or at the last note of all; nothing is told of a single note.
      const told = new Set<number>()
      for (const [k, start] of starts.entries()) {
        const end = starts[k + 1] ?? notes.length
        const at = end < notes.length ? end : of.loop ? 0 : end - 1
        const isHeard = notes.slice(start, end).some((note) => isOneOf(list!, chordOf(of, note), note.pitch))
        if (!isHeard && (at > 0 || of.loop)) told.add(at)
      }
      return [...told].filter((at) => of.bars[notes[at]!.slot.barIndex]).length
    },
  ],
  [
    /^no change given away by the two notes before it$/,
    (of) =>
      stepsThat(of, (from, to, i) => {
        if (!arrives(of, i) || chordOf(of, from).bassPc === chordOf(of, to).bassPc) return false
        return [i - 1, i - 2].some((before) => {
          const at = of.loop ? modulo(before, of.notes.length) : before
          const note = of.notes[at]
          return note !== undefined && !arrives(of, at) && modulo(note.pitch - to.pitch, 12) === 0
        })
      }),
  ],
  [
    /^stay between frets (\d+) and (\d+)$/,
    (of, [from, to]) => notesThat(of, ({ fret }) => fret < Number(from) || fret > Number(to)),
  ],
  [
    /^stay between (\S+) and (\S+)$/,
    (of, [low, high]) => notesThat(of, ({ pitch }) => pitch < pitchOf(low!) || pitch > pitchOf(high!)),
  ],
  [
    /^shift no faster than the tempo allows$/,
    (of) =>
      stepsThat(of, (from, to) => {
        const way = wayOf(of.composition.instrument, from.hand, to.hand)
        const ticks = to.slot.startTick - from.slot.startTick
        const seconds = secondsOf(of, ticks > 0 ? ticks : ticks + of.composition.form.ticks)
        const least = way === 0 ? 0 : way <= 900 ? 0.25 : way <= 2050 ? 0.5 : 1
        return from.fret !== 0 && seconds < least - 1e-7
      }),
  ],
  [/^stay in position$/, (of) => stepsThat(of, (from, to) => from.hand !== to.hand)],
  [/^play low on the neck$/, (of) => notesThat(of, ({ fret }) => fret > 4)],
  [/^play high on the neck$/, (of) => notesThat(of, ({ fret }) => fret < 7)],
  [/^no open strings$/, (of) => notesThat(of, ({ fret }) => fret === 0)],
  [
    /^open strings where possible$/,
    (of) => notesThat(of, ({ fret, pitch }) => fret !== 0 && of.composition.instrument.open.includes(pitch)),
  ],
  [
    /^no leap over (.+)$/,
    (of, [interval]) => stepsThat(of, (from, to) => Math.abs(from.pitch - to.pitch) > semitonesIn(interval!)),
  ],
  [
    /^(arrive|begin each bar|begin each phrase) on a chord tone$/,
    (of, [place]) => notesThat(of, ({ pitch }, chord, i) => placeIn(place!)(of, i) && !isTone(chord, pitch)),
  ],
  [
    /^do not (arrive|begin a bar|begin a phrase) on the root$/,
    (of, [place]) => notesThat(of, ({ pitch }, chord, i) => placeIn(place!)(of, i) && isRoot(chord, pitch)),
  ],
  [
    /^(arrive|begin each bar|begin each phrase) on (.+)$/,
    (of, [place, list]) =>
      notesThat(of, ({ pitch }, chord, i) => placeIn(place!)(of, i) && !isOneOf(list!, chord, pitch)),
  ],
  [
    /^approach each change by (.+)$/,
    (of, [ways]) =>
      stepsThat(of, (_, __, i) => arrives(of, i) && !ways!.split(' or ').some((way) => isApproached(of, i, way))),
  ],
  [
    /^no approach into changes$/,
    (of) => stepsThat(of, (from, _, i) => arrives(of, i) && !isTone(chordOf(of, from), from.pitch)),
  ],
  [
    /^chord tones on strong beats$/,
    (of) => notesThat(of, (note, chord) => isStrong(of, note) && !isTone(chord, note.pitch)),
  ],
  [
    /^non-chord tones resolve by step$/,
    (of) => stepsThat(of, (from, to) => !isTone(chordOf(of, from), from.pitch) && Math.abs(from.pitch - to.pitch) > 2),
  ],
  [
    /^pedal on (?:([A-G][#b]?)|the (root|fifth) of the key)( in octaves)?$/,
    (of, [name, degree, octaves]) => {
      const { tonic } = of.composition.chart.key ?? { tonic: undefined }
      const on = name ? parseNoteName(name)! : tonic!
      const isOn = ({ pitch }: LineNote) =>
        modulo(pitch - pitchClassOfName(on) - (degree === 'fifth' ? 7 : 0), 12) === 0
      const leaps = octaves ? 0 : stepsThat(of, (from, to) => isOn(from) && isOn(to) && from.pitch !== to.pitch)
      return leaps + notesThat(of, (note) => !isOn(note))
    },
  ],
  [/^stay in the scale$/, (of) => notesThat(of, ({ pitch }, chord) => !isInScale(chord, pitch))],
  [
    /^no pitch more than (.+) in a row$/,
    (of, [often]) =>
      stepsThat(of, (_, to, i) => {
        let before = 0
        const { notes, loop } = of
        while (
          before < notes.length &&
          (loop || before < i) &&
          notes[modulo(i - before - 1, notes.length)]!.pitch === to.pitch
        )
          before++
        return before + 1 > timesIn(often!)
      }),
  ],
  [
    /^(rise|fall|arch|valley) over (each phrase|each section|these bars)(?: between (\S+) and (\S+) within (\d+) semitones?)?$/,
    (of, [shape, over, low = 'G1', high = 'G2', within = '5']) =>
      notesThat(of, (note) => !isInBand(of, note, shape!, over!, [pitchOf(low), pitchOf(high), Number(within)])),
  ],
  [
    /^(rise|fall|arch|valley) over the choruses(?: between (\S+) and (\S+) within (\d+) semitones?)?$/,
    (of, [shape, low = 'A1', high = 'A2', within = '7']) => {
      const { bars } = of.composition.form
      const steps = bars.at(-1)!.chorus
      return notesThat(of, ({ pitch, slot }) => {
        const gone = bars[slot.barIndex]!.chorus
        const there = Math.abs(2 * gone - steps)
        const height = { rise: gone, fall: steps - gone, arch: steps - there, valley: there }[shape!]!
        const above = (pitch - pitchOf(low)) * steps - (pitchOf(high) - pitchOf(low)) * height
        return Math.abs(above) > Number(within) * steps
      })
    },
  ],
  [
    /^pattern ("[^"]+"|\S+) throughout$/,
    (of, [pattern]) => {
      const name = pattern!.replaceAll('"', '')
      const others = notesThat(of, (note) => note.pattern !== undefined && note.pattern !== name)
      return others > 0 ? others : undefined
    },
  ],
  [
    /^pattern ("[^"]+"|\S+) never$/,
    (of, [pattern]) => {
      return notesThat(of, (note) => note.pattern === pattern!.replaceAll('"', ''))
    },
  ],
  [/^pattern /, () => undefined],
  [
    /^first note on ([A-G][#b]?-?\d)$/,
    (of, [name]) => notesThat(of, ({ pitch }, _, i) => i === 0 && pitch !== pitchOf(name!)),
  ],
  [
    /^last note on ([A-G][#b]?-?\d)$/,
    (of, [name]) => notesThat(of, ({ pitch }, _, i) => i === of.notes.length - 1 && pitch !== pitchOf(name!)),
  ],
  [
    /^first note on (.+)$/,
    (of, [list]) => notesThat(of, ({ pitch }, chord, i) => i === 0 && !isOneOf(list!, chord, pitch)),
  ],
  [
    /^last note on (.+)$/,
    (of, [list]) => notesThat(of, ({ pitch }, chord, i) => i === of.notes.length - 1 && !isOneOf(list!, chord, pitch)),
  ],
  // Copies of a bar and of a motif are the builders' own to keep, and their tests'.
  [/^(a new|the same) line at each repeat$/, () => undefined],
  [/^(the same .* throughout|each bar by itself)/, () => undefined],
  [
    /^open with (a pedal on the fifth|root and fifth alone)$/,
    (of, [opening]) => {
      const { form } = of.composition
      const wanted = of.isNamed ? form.bars.map(({ number }) => number > 0) : introduction(of)
      const opens = { ...of, bars: of.bars.map((bound, index) => bound && wanted[index]!) }
      if (opening!.startsWith('a pedal')) {
        const fifth = pitchClassOfName(of.composition.chart.key!.tonic) + 7
        const isOn = ({ pitch }: LineNote) => modulo(pitch - fifth, 12) === 0
        const leaps = stepsThat(opens, (from, to) => isOn(from) && isOn(to) && from.pitch !== to.pitch)
        return leaps + notesThat(opens, (note) => !isOn(note))
      }
      const busy = barsThat(opens, (_, notes) => notes.filter(({ slot }) => !slot.ghost).length > 2)
      return busy + notesThat(opens, ({ pitch }, chord) => !isOneOf('the root or the fifth', chord, pitch))
    },
  ],
  [
    /^end with (a held root|the fifth between two roots|a walk (?:up|down) to the root|a stop on the and of two)$/,
    (of, [ending]) => {
      const bar = of.composition.form.bars.at(-1)!
      const notes = of.notes.filter(({ slot }) => slot.barIndex === bar.index)
      const roots = bar.changes.filter(({ held }, i) => i === 0 || !held)
      const isRootOf = (i: number) => isRoot(roots[i]!.chord!, notes[i]?.pitch ?? -1)
      const isHeld = (note: LineNote | undefined) =>
        (note?.slot.startTick ?? 0) + (note?.slot.ticks ?? 0) >= bar.startTick + bar.ticks
      if (roots.length > 1)
        return roots.every((root, i) => isRootOf(i) && notes[i]!.slot.startTick === root.startTick) ? 0 : 1
      const steps = notes.map(({ pitch }) => pitch - notes.at(-1)!.pitch)
      const beats = notes.map(({ slot }) => (slot.startTick - bar.startTick) / (bar.metre.lower === 8 ? 720 : 480))
      const isEnd = isRoot(roots[0]!.chord!, notes.at(-1)?.pitch ?? -1) && beats[0] === 0
      const isRight = {
        'a held root': () => notes.length === 1 && isHeld(notes[0]),
        'the fifth between two roots': () => notes.length === 3 && steps[0] === 0 && steps[1]! < -3 && isHeld(notes[2]),
        'a walk up to the root': () => notes.length === 4 && steps[0] === 0 && steps[1]! < steps[2]! && steps[2]! < 0,
        'a walk down to the root': () =>
          notes.length === 4 && steps[0] === 12 && steps[1]! > steps[2]! && steps[2]! > 0,
        'a stop on the and of two': () => notes.length === 2 && steps[0] === 0 && beats[1]! > 1 && beats[1]! < 2,
      }[ending!]!
      return isEnd && isRight() ? 0 : 1
    },
  ],
  [/^lead back to the beginning$/, (of) => (of.loop ? 0 : 1)],
  [
    /^keep (.+) on (.+)$/,
    (of, [names, notation]) => {
      const reading = parseCell(notation!)
      if (!reading.ok) throw new Error(reading.message)
      const { cell } = reading
      const pitches = names!.split(' ').map(pitchOf)
      const struck = cell.onsets.filter((onset) => !onset.ghost && !onset.continues)
      const wanted = struck.map(({ tick }, i) => `${tick} ${pitches[i]}`)
      return barsThat(of, (bar, notes) => {
        if (bar.metre.upper !== cell.upper || bar.metre.lower !== cell.lower) return false
        if (bar.changes.some(({ chord }) => !chord)) return false
        const sounded = notes.filter(({ slot }) => !slot.ghost)
        const there = sounded.map(({ slot, pitch }) => `${slot.startTick - bar.startTick} ${pitch}`)
        // In a groove a push may have struck the downbeat before its time.
        const isPushed = of.notes.some(({ slot }) => slot.barIndex === bar.index - 1 && slot.pushed)
        const pushed = of.composition.feel.line.kind === 'groove' && (isPushed || (bar.index === 0 && of.loop))
        return there.join() !== wanted.join() && !(pushed && there.join() === wanted.slice(1).join())
      })
    },
  ],
  [
    /^(?:at (most|least) (\S+) notes? a bar|(at most a note a beat|more notes than beats))$/,
    (of, [side, number, byBeats]) =>
      barsThat(of, ({ metre, changes, ...bar }, notes) => {
        if (bar.number === 0 || changes.some(({ chord }) => !chord)) return false
        const beats =
          metre.lower === 8 ? (metre.upper === 7 ? 3 : metre.upper / 3) : metre.upper === 5 ? 2 : metre.upper
        const wanted = number === undefined ? beats : /^\d/.test(number) ? Number(number) : COUNTS.indexOf(number)
        const sounding = notes.filter(({ slot }) => !slot.ghost).length
        // A push may have taken its first.
        if (side === 'least') return sounding + Number(isPushedInto(of, bar)) < wanted
        return byBeats?.startsWith('more') ? sounding + Number(isPushedInto(of, bar)) <= beats : sounding > wanted
      }),
  ],
  [/^rest$/, (of) => barsThat(of, (bar, notes) => notes.length > 0 || isPushedInto(of, bar))],
  [
    /^push into the next bar$/,
    (of) =>
      barsThat(of, ({ changes, number }, notes) => {
        if (number === 0 || changes.some(({ chord }) => !chord)) return false
        return notes.length > 0 && !cellsIn(notes).some(({ onsets }) => onsets.some(({ tiedOver }) => tiedOver))
      }),
  ],
  [
    /^in (two|four)$/,
    (of, [felt]) =>
      barsThat(of, ({ metre, index, number }, notes) => {
        const name = `${metre.upper}/${metre.lower}`
        const beat = name === '4/4' ? 480 : name === '12/8' ? 720 : undefined
        const { startTick, changes } = of.composition.form.bars[index]!
        if (!beat || number === 0 || changes.every(({ chord }) => !chord)) return false
        // What was pushed over the bar line stands for the first beat.
        const isPushed = isPushedInto(of, { startTick, index })
        const struck = notes.filter(({ slot }) => !slot.ghost).map(({ slot }) => (slot.startTick - startTick) / beat)
        const on = [0, 1, 2, 3].map((at) => struck.includes(at) || (at === 0 && isPushed))
        if (felt === 'four') return on.includes(false)
        return !on[0] || !on[2] || struck.some((at) => at > 0 && at < 2)
      }),
  ],
  [/^no ghost notes$/, (of) => barsThat(of, (_, notes) => notes.some(({ slot }) => slot.ghost))],
  [
    /^no pushes$/,
    (of) =>
      barsThat(of, ({ index }, notes) => {
        // In a groove a tie into silence is cut.
        const after = of.composition.form.bars[index + 1]?.changes[0]
        if (of.composition.feel.line.kind === 'groove' && after && !after.chord) return false
        return cellsIn(notes).some(({ onsets }) => onsets.some(({ tiedOver }) => tiedOver))
      }),
  ],
]
