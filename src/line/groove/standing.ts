import type { Form } from '../../chart/form.ts'
import type { Cell } from '../../rhythm/cell.ts'
import type { Slot } from '../../rhythm/slot.ts'
import type { Phrase, Standing } from '../standing.ts'
import type { LaidBar, LaidSlot } from './bar.ts'
import type { BarContext } from './context.ts'
import { strengthOf } from './deal.ts'

/** A laid slot as a slot of the line, with its own cell's length. */
export function slotOf(form: Form, context: BarContext, slot: LaidSlot): Slot {
  const pushed = slot.role === 'push'
  return {
    startTick: form.bars[context.index]!.startTick + slot.onset.tick,
    ticks: slot.onset.ticks,
    barIndex: context.index,
    changeIndex: pushed ? context.next!.changeIndex : context.parts[slot.part]!.changeIndex,
    strength: strengthOf(context.map, slot.onset.tick),
    cell: slot.onset.cell,
    accent: slot.onset.accent,
    length: slot.onset.length,
    pushed,
    ghost: false,
  }
}

/**
 * Where a slot of a laid bar stands, as `standingsOf` says it of the whole line.
 *
 * @param loop  the last note leads into the first
 */
export function standingIn(
  form: Form,
  phrases: readonly Phrase[],
  laid: LaidBar,
  index: number,
  loop: boolean,
): Standing {
  const { slots, context } = laid
  const slot = slots[index]!
  const { parts, next } = context
  const pushed = slot.role === 'push'
  const bar = form.bars[context.index]!
  const sounds = (one: typeof bar): boolean => one.changes.some((change) => change.chord !== undefined)
  const first = index === 0 && bar === form.bars.find(sounds)
  const isLastBar = bar === form.bars.findLast(sounds)
  const last = isLastBar && index === slots.length - 1
  const after = form.bars[bar.index + 1]
  const opened = pushed ? after : bar
  const opensBar = pushed || slot.onset.tick === 0
  const phrase = phrases[bar.index]!
  const start = form.bars[phrase.from]!.startTick
  const end = form.bars[phrase.to]?.startTick ?? form.ticks
  const leadsOn = isLastBar ? loop : slot.part + 1 < parts.length || (context.isHeldOn !== true && !pushed)
  const startTick = bar.startTick + slot.onset.tick
  return {
    slot: slotOf(form, context, slot),
    chord: pushed ? next!.chord : parts[slot.part]!.chord,
    arrives: first || arrivesAt(laid, index),
    leads: index + 1 < slots.length ? arrivesAt(laid, index + 1) : leadsOn,
    opensBar,
    opensPhrase: opensBar && opened !== undefined && phrases[opened.index]!.from === opened.index,
    phraseShare: (startTick - start) / (end - start),
    first,
    last,
  }
}

/** The first slot of a chord in its bar, if the chord begins there or is anticipated. */
function arrivesAt({ slots, context, due }: LaidBar, index: number): boolean {
  const slot = slots[index]!
  if (due && index === 0) return true
  if (slot.role === 'push') return !context.next!.held
  return slots[index - 1]?.part !== slot.part && context.parts[slot.part]!.arrives
}

/** What a bar hands on to the next: nothing; a push, which is its downbeat; a chord that holds on and has not been struck yet. */
export const HANDS_ON = { nothing: 0, push: 1, due: 2 } as const

export type HandsOn = (typeof HANDS_ON)[keyof typeof HANDS_ON]

/** What a bar hands on, and `from` what was handed to it. */
export function handedOn({ slots, context, tiedOver }: LaidBar, from: HandsOn): HandsOn {
  if (tiedOver) return HANDS_ON.push
  const last = context.parts.at(-1)
  if (!last || !context.isHeldOn || slots.at(-1)?.part === context.parts.length - 1) return HANDS_ON.nothing
  return last.arrives || from === HANDS_ON.due ? HANDS_ON.due : HANDS_ON.nothing
}

/** Whether a push may lead into a bar: the downbeat of one that is kept is struck, and one that rests is silent. */
export function takesPush({ kept, slots }: LaidBar): boolean {
  return !kept || (slots[0] !== undefined && slots[0].onset.tick > 0)
}

/** All onsets of a laid bar as one cell, whatever they came from. */
export function cellOfBar({ slots, ghosts, context }: LaidBar): Cell {
  const { metre } = context.map
  // A tie into silence is cut.
  const struck = slots.map((slot) => ({ ...slot.onset, tiedOver: slot.role === 'push' }))
  const onsets = [...struck, ...ghosts].sort((a, b) => a.tick - b.tick)
  return { upper: metre.upper, lower: metre.lower, bars: 1, ticks: context.ticks, onsets }
}

/**
 * The pattern that the head of a bar is made of: of its own figure, not of a lead, a fill or a walk. A relative that takes its place over
 * some chords counts as it.
 */
export function headPatternOf({ slots, pairing }: LaidBar): string | undefined {
  return slots.some((slot) => slot.source === 'pattern') ? pairing?.pattern.id : undefined
}
