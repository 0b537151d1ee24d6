import type { Form, FormBar } from '../chart/form.ts'
import type { Chord } from '../music/chord.ts'
import type { Slot } from '../rhythm/slot.ts'

/** A sounded slot's place in the music, as rules see it. */
export interface Standing {
  readonly slot: Slot
  readonly chord: Chord
  /** the first slot of a chord that was not sounding before */
  readonly arrives: boolean
  /** the slot after it arrives */
  readonly leads: boolean
  /** it is struck on the first beat of a bar, or pushed onto it */
  readonly opensBar: boolean
  /** it opens the first bar of a phrase */
  readonly opensPhrase: boolean
  /** how much of its phrase is over, 0 up to but not with 1 */
  readonly phraseShare: number
  /** the first, and the last, of the line */
  readonly first: boolean
  readonly last: boolean
}

/** Bars of a phrase; a section begins a new one. */
const PHRASE_BARS = 4

/** Bars that belong together, half-open. */
export interface Phrase {
  readonly from: number
  readonly to: number
}

/** The phrase of each bar of a form: four bars at most, begun anew at each section; a pick-up belongs to the first. */
export function phrasesOf(bars: readonly FormBar[]): readonly Phrase[] {
  const starts: number[] = []
  let length = PHRASE_BARS
  for (const bar of bars) {
    const begins = bar.index === 0 || bar.section !== undefined || length === PHRASE_BARS
    if (begins) starts.push(bar.index)
    if (begins) length = 0
    if (bar.number > 0) length++
  }
  return bars.map((bar) => {
    const at = starts.findLastIndex((start) => start <= bar.index)
    return { from: starts[at]!, to: starts[at + 1] ?? bars.length }
  })
}

/**
 * Where each sounded slot stands.
 *
 * @param slots  without ghosts, in order of time, none under N.C.
 * @param loop   the last slot leads into the first
 */
export function standingsOf(form: Form, slots: readonly Slot[], loop: boolean): readonly Standing[] {
  const phrases = phrasesOf(form.bars)
  const began = beganAt(form)
  const arrives = slots.map(
    (slot, index) => index === 0 || began[slot.changeIndex] !== began[slots[index - 1]!.changeIndex],
  )
  return slots.map((slot, index) => {
    const chord = form.changes[slot.changeIndex]?.chord
    if (!chord) throw new RangeError(`slot at tick ${slot.startTick} has no chord`)
    const bar = form.bars[slot.barIndex]!
    const phrase = phrases[slot.barIndex]!
    const start = form.bars[phrase.from]!.startTick
    const end = form.bars[phrase.to]?.startTick ?? form.ticks
    const barEnd = bar.startTick + bar.ticks
    const pushedOver = slot.pushed && slot.startTick + slot.ticks > barEnd
    const after = form.bars[bar.index + 1]
    const opened = pushedOver ? after : bar
    const opensBar = pushedOver || slot.startTick === bar.startTick
    return {
      slot,
      chord,
      arrives: arrives[index]!,
      leads: arrives[index + 1] ?? loop,
      opensBar,
      opensPhrase: opensBar && opened !== undefined && phrases[opened.index]!.from === opened.index,
      phraseShare: (slot.startTick - start) / (end - start),
      first: index === 0,
      last: index === slots.length - 1,
    }
  })
}

/** For each change, the change at which its chord began to sound. */
function beganAt(form: Form): readonly number[] {
  let began = 0
  return form.changes.map((change, index) => {
    if (!change.held) began = index
    return began
  })
}

/** All that rules about neighbours may look at: two standings with equal keys are alike to them. */
export function standingKey(standing: Standing): string {
  const { chord, arrives, leads, opensBar, opensPhrase, first, last, slot } = standing
  const place = Number(arrives) + 2 * Number(leads) + 4 * Number(opensBar) + 8 * Number(opensPhrase)
  const flags = place + 16 * Number(first) + 32 * Number(last) + 64 * Number(slot.pushed)
  return `${chordKey(chord)}|${flags}|${slot.strength}`
}

const KEYS = new WeakMap<Chord, string>()

/** What a chord is for rules and weights: its symbol as typed and its scale. */
export function chordKey(chord: Chord): string {
  const known = KEYS.get(chord) ?? `${chord.symbol.text}|${chord.scale.id}`
  KEYS.set(chord, known)
  return known
}
