import { parseKey } from '../../../src/music/key.ts'
import { metreOf } from '../../../src/music/metre.ts'
import type {
  Accidental,
  FunctionMark,
  NoteValue,
  Part,
  PartBar,
  PrintedNote,
  PrintedRest,
  PrintedSymbol,
} from '../../../src/notation/part.ts'

// A printed part in rows of text, for tests of drawing: what stands where, not whether it is good music.
//
//   '[A] 4/4 Cm7 F7@2 | -3q -1q# 0q. 2e | r h' ...
//
// A bar is `symbols : signs`; bars are parted by `|`. A symbol may say its beat from 0 (`F7@2`). A sign is a step above the
// middle line with an accidental (b n # bb ##), a value (w h q e s) and dots, then: `x` a ghost, `~` tied on, `t` of a
// triplet; `r` for the step is a rest. Tab and degree are dealt out by the step.

const PARTS: Readonly<Record<string, NoteValue['part']>> = { w: 1, h: 2, q: 4, e: 8, s: 16 }
const SIGN = /^(r|-?\d+)(bb|b|n|##|#)?([whqes])(\.?)(t?)(x?)(~?)$/
const SYMBOL = /^([A-G]|N\.C\.)(bb|b|##|#)?(m(?!aj))?([^@]*?)(?:\/([A-G])(b|#)?)?(?:@([\d.]+))?$/

const DEGREES: readonly (readonly [Accidental | undefined, number, FunctionMark])[] = [
  [undefined, 1, 'root'],
  ['b', 3, 'third'],
  [undefined, 5, 'fifth'],
  ['b', 7, 'seventh'],
  ['#', 11, 'tension'],
  [undefined, 9, 'motion-down'],
  ['b', 9, 'motion-up'],
]

export interface RowsOptions {
  readonly key?: string
  readonly strings?: number
  readonly metre?: string
  /** letters by bar index */
  readonly sections?: Readonly<Record<number, string>>
  /** first bar is a pick-up */
  readonly pickup?: boolean
}

/** The part written in rows. */
export function printedRows(rows: string, options: RowsOptions = {}): Part {
  const metre = metreOf(options.metre ?? '4/4')!
  let tick = 0
  let noteIndex = 0
  let tied = false
  const texts = rows.split('|').map((text) => text.trim())
  const bars = texts.map((text, index): PartBar => {
    const [symbolText = '', signText = ''] = text.includes(':')
      ? text.split(':').map((part) => part.trim())
      : ['', text]
    const startTick = tick
    const triplets: number[] = []
    const signs = signText
      .split(/\s+/)
      .filter((word) => word !== '')
      .map((word, place): PrintedNote | PrintedRest => {
        const match = SIGN.exec(word)
        if (!match) throw new RangeError(`${word} is not a sign`)
        const [, step, accidental, letter, dot, triplet, ghost, tie] = match
        const part = PARTS[letter!]!
        const value = { part, dots: dot ? 1 : 0, triplet: triplet !== '' } as const
        const ticks = ((1920 / part) * (dot ? 1.5 : 1) * (triplet ? 2 : 3)) / 3
        const at = tick
        tick += ticks
        if (triplet) triplets.push(place)
        if (step === 'r') return { kind: 'rest', startTick: at, ticks, value }
        const height = Number(step)
        const deal = DEGREES[(((height + 70) % 7) + (accidental ? 1 : 0)) % 7]!
        const again = tied && place === 0
        const silent = tied && place > 0
        const note: PrintedNote = {
          kind: 'note',
          startTick: at,
          ticks,
          value,
          step: height,
          accidental: accidental as Accidental | undefined,
          head: ghost ? 'ghost' : 'plain',
          noteIndex: tied ? noteIndex - 1 : noteIndex++,
          tiedFromBefore: tied,
          tiedOn: tie !== '',
          accent: false,
          length: undefined,
          tab: silent
            ? undefined
            : {
                string: Math.min((options.strings ?? 4) - 1, Math.max(0, Math.floor((height + 8) / 3))),
                fret: ghost ? undefined : (((height * 5 + 55) % 14) + 14) % 14,
                bracketed: again,
              },
          degree: ghost || tied ? undefined : { accidental: deal[0], number: deal[1] },
          mark: ghost ? 'ghost' : tied ? undefined : deal[2],
        }
        tied = tie !== ''
        return note
      })
    const ticks = signs.length > 0 ? tick - startTick : 1920
    if (signs.length === 0) tick += 1920
    return {
      index,
      number: options.pickup ? index : index + 1,
      startTick,
      ticks,
      metre,
      metreChanges: index === 0,
      section: options.sections?.[index],
      symbols: symbolText
        .split(/\s+/)
        .filter((word) => word !== '')
        .map((word, order, all) => symbolOf(word, startTick, ticks, order, all.length)),
      signs,
      beams: beamsOf(signs, startTick),
      triplets: triplets.length === 3 ? [triplets] : [],
      barLine: index === texts.length - 1 ? 'final' : options.sections?.[index + 1] ? 'double' : 'single',
    }
  })
  return { key: options.key ? parseKey(options.key) : undefined, strings: options.strings ?? 4, bars }
}

function symbolOf(word: string, startTick: number, ticks: number, order: number, count: number): PrintedSymbol {
  const match = SYMBOL.exec(word)
  if (!match) throw new RangeError(`${word} is not a symbol`)
  const [, root, accidental, minor, suffix, bass, bassAccidental, beat] = match
  return {
    startTick: startTick + (beat === undefined ? (ticks / count) * order : Number(beat) * 480),
    root: root!,
    accidental: accidental as Accidental | undefined,
    minor: minor !== undefined,
    suffix: suffix!.replace(/b(?=\d)/g, '♭').replace(/#/g, '♯'),
    bass: bass ? { letter: bass, accidental: bassAccidental as Accidental | undefined } : undefined,
    spoken: word,
    span: { from: startTick, to: startTick + word.length },
  }
}

/** Notes shorter than a quarter, joined by the beat. */
function beamsOf(signs: PartBar['signs'], startTick: number): readonly (readonly number[])[] {
  const beats = new Map<number, number[][]>()
  for (const [index, sign] of signs.entries()) {
    const beat = Math.floor((sign.startTick - startTick) / 480 + 1e-6)
    const groups = beats.get(beat) ?? []
    beats.set(beat, groups)
    if (sign.kind === 'rest' || sign.value.part < 8) groups.push([])
    else if (groups.length === 0) groups.push([index])
    else groups.at(-1)!.push(index)
  }
  return [...beats.values()].flat().filter((group) => group.length > 1)
}
