import type { Change, Form, FormBar } from '../../src/chart/form.ts'
import { type Chord, chordAt } from '../../src/music/chord.ts'
import { type ChordSymbol, parseChordSymbol } from '../../src/music/chord-symbol.ts'
import { type Key, parseKey } from '../../src/music/key.ts'
import { barTicks, type Metre, metreOf } from '../../src/music/metre.ts'

const NOWHERE = { from: 0, to: 0 }

/** The symbol of a text that is one. */
export function symbolOf(text: string): ChordSymbol {
  const reading = parseChordSymbol(text)
  if (reading.kind !== 'chord') throw new Error(`${text} is no chord`)
  return reading.symbol
}

/** A chord on its own, or in a key. */
export function chordOf(text: string, key?: Key): Chord {
  return chordAt(symbolOf(text), { key })
}

/**
 * A form straight from chord symbols, without a chart: `[A] Dm7 G7 | Cmaj7 | (3/4) N.C. | %`. Chords share a bar out evenly; `_` is
 * the chord before, held; `(1/4)` is a pick-up of a quarter.
 */
export function chordForm(row: string, options: { readonly metre?: string; readonly key?: string } = {}): Form {
  const bars: FormBar[] = []
  const key = options.key === undefined ? undefined : parseKey(options.key)
  let metre: Metre = metreOf(options.metre ?? '4/4')!
  let sounding: string | undefined
  for (const [index, text] of row.split('|').entries()) {
    let section: string | undefined
    let pickup = false
    const names: string[] = []
    for (const token of text.trim().split(/\s+/)) {
      if (token.startsWith('[')) section = token.slice(1, -1)
      else if (token === '(1/4)') pickup = true
      else if (/^\(\d+\/\d+\)$/.test(token)) metre = metreOf(token.slice(1, -1))!
      else names.push(token)
    }
    const last = bars.at(-1)
    const startTick = last ? last.startTick + last.ticks : 0
    const ticks = pickup ? 480 : barTicks(metre)
    const changes = names.map((name, at): Change => {
      const text = name === '_' || name === '%' ? sounding! : name
      const held = text === sounding
      sounding = text
      return {
        chord: text === 'N.C.' ? undefined : chordOf(text, key),
        startTick: startTick + (at * ticks) / names.length,
        ticks: ticks / names.length,
        barIndex: index,
        held,
        span: NOWHERE,
      }
    })
    const number = pickup ? 0 : (last?.number ?? 0) + 1
    bars.push({
      index,
      number,
      writtenIndex: index,
      writtenNumber: number,
      chorus: 0,
      startTick,
      ticks,
      metre,
      section,
      changes,
    })
  }
  const ticks = bars.reduce((sum, bar) => sum + bar.ticks, 0)
  return { bars, changes: bars.flatMap((bar) => bar.changes), ticks }
}
