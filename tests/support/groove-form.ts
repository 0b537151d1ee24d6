import type { Change, Form, FormBar } from '../../src/chart/form.ts'
import { type Chord, chordAt } from '../../src/music/chord.ts'
import { CHORD_QUALITIES } from '../../src/music/chord-qualities.ts'
import type { ChordSymbol } from '../../src/music/chord-symbol.ts'
import { barTicks, beatsOf, type Metre, metreOf } from '../../src/music/metre.ts'
import { parseNoteName } from '../../src/music/note-name.ts'

/** A chord symbol in the suffixes we print: `Bb7`, `F7/C`. */
export function symbolOf(text: string): ChordSymbol {
  const [, root, suffix, , bass] = /^([A-G][b#]?)([^/]*)(\/([A-G][b#]?))?$/.exec(text) ?? []
  const quality = CHORD_QUALITIES.find((one) => one.suffix === suffix)
  if (root === undefined || !quality) throw new Error(`no chord: ${text}`)
  return {
    text,
    root: parseNoteName(root)!,
    degrees: quality.degrees,
    quality,
    exact: true,
    bass: bass === undefined ? undefined : parseNoteName(bass)!,
  }
}

/**
 * A form of one section from changes: `A7 | D7 | % | Dm7 G7 | N.C.`. Chords share a bar out as a chart does; `(3/4)` sets the metre of
 * the bar it stands in and of those after it, `[A]` begins a section.
 */
export function formOf(changes: string, metre = '4/4'): Form {
  const bars: FormBar[] = []
  const all: Change[] = []
  let now: Metre = metreOf(metre)!
  let before: string[] = []
  let sounding = ''
  let at = 0
  const written = changes.split('|').map((bar) => {
    const words = bar.trim().split(/\s+/)
    const section = words[0]?.startsWith('[') ? words.shift()!.slice(1, -1) : undefined
    if (words[0]?.startsWith('(')) now = metreOf(words.shift()!.slice(1, -1))!
    if (words[0] === '%') return { section, metre: now, chords: before }
    before = words
    return { section, metre: now, chords: words }
  })
  const symbols = written.flatMap((bar) => bar.chords)
  let order = 0
  for (const [index, { section, metre: own, chords }] of written.entries()) {
    const beats = beatsOf(own)
    const share = Math.floor(beats.length / chords.length)
    const extra = beats.length - share * chords.length
    let beat = 0
    let tick = at
    const here: Change[] = []
    for (const [place, text] of chords.entries()) {
      const count = share + (place < extra ? 1 : 0)
      const ticks = beats.slice(beat, beat + count).reduce((sum, one) => sum + one, 0)
      beat += count
      const chord: Chord | undefined =
        text === 'N.C.' ? undefined : chordAt(symbolOf(text), { next: nextSymbol(symbols, order) })
      const span = { from: 0, to: 0 }
      here.push({ chord, startTick: tick, ticks, barIndex: index, held: text === sounding, span })
      sounding = text
      tick += ticks
      order++
    }
    const ticks = barTicks(own)
    bars.push({
      index,
      number: index + 1,
      writtenIndex: index,
      writtenNumber: index + 1,
      startTick: at,
      ticks,
      metre: own,
      section,
      changes: here,
    })
    all.push(...here)
    at += ticks
  }
  return { bars, changes: all, ticks: at }
}

function nextSymbol(symbols: readonly string[], order: number): ChordSymbol | undefined {
  const next = symbols[order + 1]
  return next === undefined || next === 'N.C.' ? undefined : symbolOf(next)
}
