import type { Form } from '../../src/chart/form.ts'
import type { LineNote } from '../../src/line/line.ts'
import type { WalkTable } from '../../src/line/walk-table.ts'
import type { Chord } from '../../src/music/chord.ts'
import { semitonesOf } from '../../src/music/degree.ts'

/**
 * What a walking line of free notes costs without its plan: written from the sentences of the weights, apart from the search and
 * its tables. Ghosts are passed over.
 */
export function scoreWalk(form: Form, all: readonly LineNote[], table: WalkTable, loop: boolean): number {
  const notes = all.filter((note) => !note.slot.ghost)
  const chordOf = (note: LineNote): Chord => form.changes[note.slot.changeIndex]!.chord!
  const runs = notes.map(
    (note) => form.changes.slice(0, note.slot.changeIndex + 1).filter((change) => !change.held).length,
  )
  const arrives = notes.map((_, i) => i === 0 || runs[i] !== runs[i - 1])
  const inRun = (i: number) => runs.filter((run) => run === runs[i]).length
  let total = 0
  for (const [i, note] of notes.entries()) {
    // The note where it stands.
    const kind = kindOf(chordOf(note), note.pitch)
    const row = arrives[i]
      ? table.arrival
      : note.slot.strength === 'one'
        ? table.barStart
        : note.slot.strength === 'middle'
          ? table.middle
          : table.other
    total += arrives[i] && kind === 'fifth' && inRun(i) === 2 ? table.twoSlots.fifthArrival : row[kind]!
    if (i === 0 && kind !== 'root') total += table.firstNotRoot
    if (kind === 'scale' && isTone(kindOf(chordOf(note), note.pitch - 1))) total += table.avoid
    const bar = form.bars[note.slot.barIndex]!
    const place = ((Math.max(0, bar.number - 1) % 4) + (note.slot.startTick - bar.startTick) / bar.ticks) / 4
    const target = Math.round(place < 0.5 ? 35 + 26 * place : 48 - 26 * (place - 0.5))
    total += Math.max(0, Math.abs(note.pitch - target) - 3) + 2 * Math.max(0, note.pitch - 50)
    total += note.fret === 0 ? 1 : Math.max(0, note.fret - 9)

    // The step into it.
    if (i === 0 && !loop) continue
    const before = notes.at(i - 1)!
    const left = kindOf(chordOf(before), before.pitch)
    const interval = note.pitch - before.pitch
    const size = Math.abs(interval)
    let step = (isOnBeat(note) ? table.intervals : table.intoOffBeat)[size]!
    if (size === 0 && i > 0 && runs[i] === runs[i - 1] && inRun(i) === 2) step += table.twoSlots.repeat
    if (arrives[i]) {
      const known = kindOf(chordOf(note), before.pitch) !== 'chromatic'
      if (size === 1) step += table.approach.semitone
      else if (size === 2 && (left !== 'chromatic' || known)) step += table.approach.scaleStep
      else if ([-7, 5].includes(interval) && kind === 'root' && left !== 'chromatic') step += table.approach.fifth
      else if (isTone(left) && size >= 1 && size <= 4) step += table.approach.chordTone
      else if (size === 0) step += table.approach.same
      else step += table.approach.leap
      const resolves = left === 'seventh' && kind === 'third' && [-1, -2].includes(interval)
      const keeps = left === 'third' && kind === 'seventh' && [-1, 0].includes(interval)
      if (resolves || keeps) step = Math.max(0, step - table.guideTones)
    }
    total += step
    if (!isTone(left) && size > 2) total += table.leftByLeap
    if (left === 'chromatic' && size !== 1) total += table.chromaticNotBySemitone
    if (!isTone(kind) && size > 2) total += table.reachedByLeap

    // The move after the move before; off-beat notes leave no move behind.
    if (isOnBeat(note)) {
      const earlier = lastMoveBefore(notes, i, loop)
      if (earlier !== undefined) total += after(table.after, earlier, interval)
    }

    // The hand.
    const frets = Math.abs(note.hand - before.hand)
    const time = note.slot.startTick - before.slot.startTick + (i === 0 ? form.ticks : 0)
    if (frets > 0) total += before.fret === 0 ? frets : 2 + frets * (time <= 240 ? 2 : 1)
    total += 3 * Math.max(0, Math.abs(note.string - before.string) - 1)
    if (note.pitch === before.pitch && note.string !== before.string) total += 4
  }

  // What each chord of three notes or more left unsaid.
  for (const run of new Set(runs)) {
    const own = notes.filter((_, i) => runs[i] === run)
    if (own.length < 3) continue
    const kinds = own.map((note) => kindOf(chordOf(note), note.pitch))
    if (!kinds.includes('root'))
      total += isStructural(form, run) ? table.rootNotHeard.structural : table.rootNotHeard.points
    const hasThird = Array.from({ length: 12 }, (_, i) => kindOf(chordOf(own[0]!), i)).includes('third')
    if (hasThird && !kinds.includes('third')) total += table.thirdNotHeard
  }
  return total
}

type Kind = 'root' | 'third' | 'fifth' | 'seventh' | 'otherTone' | 'scale' | 'chromatic'

function kindOf(chord: Chord, pitch: number): Kind {
  const mod = (x: number) => ((x % 12) + 12) % 12
  if (mod(pitch) === chord.bassPc) return 'root'
  const above = mod(pitch - chord.rootPc)
  const tone = chord.tones.find((degree) => mod(semitonesOf(degree)) === above)
  if (tone) {
    if (tone.number === 1) return 'fifth'
    if (tone.number === 3) return 'third'
    if (tone.number === 5) return 'fifth'
    if (tone.number === 6 || tone.number === 7) return 'seventh'
    return chord.tones.some((degree) => degree.number === 3) ? 'otherTone' : 'third'
  }
  return chord.scale.degrees.some((degree) => mod(semitonesOf(degree)) === above) ? 'scale' : 'chromatic'
}

const isTone = (kind: Kind) => kind !== 'scale' && kind !== 'chromatic'

const isOnBeat = (note: LineNote) => note.slot.pushed || !['off', 'fine'].includes(note.slot.strength)

/** The interval of the last on-beat note before note i that had one. */
function lastMoveBefore(notes: readonly LineNote[], i: number, loop: boolean): number | undefined {
  const count = notes.length
  for (let back = 1; back <= count; back++) {
    const at = i - back
    if (at < 0 && !loop) return undefined
    const note = notes.at(((at % count) + count) % count)!
    const before = notes.at((((at - 1) % count) + count) % count)!
    if (at === 0 && !loop) return undefined
    if (isOnBeat(note)) return note.pitch - before.pitch
  }
  return undefined
}

function after(table: WalkTable['after'], before: number, now: number): number {
  const name = (interval: number): 'repeat' | 'step' | 'third' | 'leap' => {
    const size = Math.abs(interval)
    return size === 0 ? 'repeat' : size <= 2 ? 'step' : size <= 4 ? 'third' : 'leap'
  }
  const [a, b] = [name(before), name(now)]
  if (a === 'repeat') return b === 'repeat' ? table.repeat.repeat : table.repeat.move
  if (b === 'repeat') return table[a].on.repeat
  return before > 0 === now > 0 ? table[a].on[b] : table[a].back[b]
}

function isStructural(form: Form, run: number): boolean {
  const starts = form.changes.filter((change) => !change.held)
  if (run === 1 || run === starts.length) return true
  const opens = (index: number) => {
    const change = starts[index]
    const bar = change && form.bars[change.barIndex]!
    return bar !== undefined && bar.section !== undefined && bar.startTick === change!.startTick
  }
  return opens(run - 1) || opens(run)
}
