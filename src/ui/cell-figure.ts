import { css, nothing, type SVGTemplateResult, svg } from 'lit'
import { countAt, type RhythmSign, rhythmOf, type WrittenRhythm } from '../notation/written-rhythm.ts'
import type { Cell } from '../rhythm/cell.ts'

// A rhythm cell on one line, stems up, the count below. Measures in units of the drawing, which are pixels at its usual size;
// a staff space is SPACE of them, and the signs stand at four spaces, as SMuFL fonts are made.

const SPACE = 5.6
const HEIGHT = 54
const LINE = 25
const STEM_TOP = 7.5
const COUNT = 49
const BEAM = 2.8
const BEAM_STEP = 4.3
/** from the left edge to the first note, and from the last place to the right edge */
const MARGIN = { left: 14, right: 12 }

/** SMuFL 1.4 code points, heads and rests by the part of a whole note. */
const HEADS = { 1: '\uE0A2', 2: '\uE0A3' } as const
const BLACK_HEAD = '\uE0A4'
const CROSS_HEADS = { 1: '\uE0A7', 2: '\uE0A8' } as const
const CROSS_HEAD = '\uE0A9'
const FLAGS = { 8: '\uE240', 16: '\uE242', 32: '\uE244' } as const
const RESTS = { 1: '\uE4E3', 2: '\uE4E4', 4: '\uE4E5', 8: '\uE4E6', 16: '\uE4E7', 32: '\uE4E8' } as const
const DOT = '\uE1E7'
const ACCENT_BELOW = '\uE4A1'
const STACCATO_BELOW = '\uE4A3'
const TENUTO_BELOW = '\uE4A5'
const TUPLET_THREE = '\uE883'

/** How wide half of a sign is, in spaces. */
const HALF_HEAD = 0.59
const HALF_WHOLE = 0.845
const HALF_REST = { 1: 0.565, 2: 0.565, 4: 0.54, 8: 0.5, 16: 0.64, 32: 0.78 } as const

/** The style of the drawings, for the element that shows them. */
export const cellFigureLook = css`
  .cell-figure {
    display: block;
    overflow: visible;
    width: 100%;
    height: 100%;
    fill: currentColor;
    stroke: none;
  }
  .cell-figure .sign {
    font-family: var(--signs);
    font-size: 22.4px;
  }
  .cell-figure .tuplet {
    font-size: 17px;
    text-anchor: middle;
  }
  .cell-figure .line {
    stroke: var(--staff);
    stroke-width: 0.8;
  }
  .cell-figure .stem {
    stroke: currentColor;
    stroke-width: 0.9;
  }
  .cell-figure .count {
    font-family: var(--book);
    font-size: 12.5px;
    font-variant-numeric: lining-nums;
    text-anchor: middle;
  }
  .cell-figure .soft {
    fill: var(--ink-3);
  }
`

const WIDTHS = { narrow: 150, wide: 318 }

/** Heads that stand closer than this need the wide drawing, and room for what is said below them. */
const CLOSE = 11

/** Cells of more than a bar, and those with quick notes, need two columns. */
export function isWide(cell: Cell): boolean {
  const places = [...cell.onsets.map(({ tick }) => tick), cell.ticks]
  const gap = Math.min(...places.slice(1).map((tick, index) => tick - places[index]!))
  return cell.bars > 1 || (gap / spanOf(cell)) * (WIDTHS.narrow - MARGIN.left - MARGIN.right) < CLOSE
}

/** A cell of one beat would fall apart over the whole width. */
function spanOf(cell: Cell): number {
  return Math.max(cell.ticks, 960)
}

/**
 * A cell in rhythm notation on one line with its count: what is struck is said, rests on a count quietly. It says nothing to those
 * who do not see it: {@link spokenCell} does.
 *
 * @param width  of the drawing, in the pixels of its usual size
 */
export function cellFigure(cell: Cell, width = isWide(cell) ? WIDTHS.wide : WIDTHS.narrow): SVGTemplateResult {
  const rhythm = rhythmOf(cell)
  const span = spanOf(cell)
  const x = (tick: number) => round(MARGIN.left + ((width - MARGIN.left - MARGIN.right) * tick) / span)
  const end = round(Math.min(width - 4, x(cell.ticks) + 8))
  return svg`<svg class="cell-figure" viewBox="0 0 ${width} ${HEIGHT}" aria-hidden="true">
    <path class="line" d="M4 ${LINE}H${end}" />
    ${Array.from({ length: cell.bars - 1 }, (_, bar) => {
      const at = round(x(((bar + 1) * cell.ticks) / cell.bars) - 9)
      return svg`<path class="stem" d="M${at} ${LINE - 8}v16" />`
    })}
    ${rhythm.signs.map((sign, index) => drawSign(sign, index, rhythm, x, cell.ticks / cell.bars))}
    ${rhythm.beams.map((beam) => drawBeam(beam, rhythm.signs, x))}
    ${rhythm.triplets.map((triplet) => drawThree(triplet, rhythm.signs, x))}
    ${countsOf(cell, rhythm.signs, x).map(
      ({ word, at, soft }) => svg`<text class="count ${soft ? 'soft' : ''}" x=${at} y=${COUNT}>${word}</text>`,
    )}
  </svg>`
}

type Place = (tick: number) => number

function drawSign(sign: RhythmSign, index: number, { signs, beams }: WrittenRhythm, x: Place, bar: number) {
  const { part, dots } = sign.value
  const at = x(sign.startTick)
  if (sign.kind === 'rest') {
    const middle = part === 1 && sign.ticks === bar ? round((at + x(sign.startTick + bar)) / 2 - 4) : at
    return svg`<text class="sign" x=${round(middle - HALF_REST[part] * SPACE)} y=${LINE}>${RESTS[part]}</text>
      ${drawDots(dots, middle + 1.1 * SPACE)}`
  }
  const ghost = sign.head === 'ghost'
  const head = part < 4 ? (ghost ? CROSS_HEADS : HEADS)[part as 1 | 2] : ghost ? CROSS_HEAD : BLACK_HEAD
  const left = round(at - (part === 1 ? HALF_WHOLE : HALF_HEAD) * SPACE)
  const stem = round(at + 0.53 * SPACE)
  const beamed = beams.some((beam) => beam.includes(index))
  const marks = [
    sign.length === 'short' ? STACCATO_BELOW : sign.length === 'long' ? TENUTO_BELOW : '',
    sign.accent ? ACCENT_BELOW : '',
  ].filter((mark) => mark !== '')
  const next = signs[index + 1]
  return svg`<text class="sign" x=${left} y=${LINE}>${head}</text>
    ${part > 1 ? svg`<path class="stem" d="M${stem} ${LINE - (ghost ? 2.5 : 1)}V${STEM_TOP}" />` : nothing}
    ${part > 4 && !beamed ? svg`<text class="sign" x=${round(stem - 0.4)} y=${STEM_TOP + 1}>${FLAGS[part as 8 | 16 | 32]}</text>` : nothing}
    ${drawDots(dots, at + 1.15 * SPACE)}
    ${marks.map((mark, below) => svg`<text class="sign" x=${round(at - (mark === STACCATO_BELOW ? 0.17 : 0.68) * SPACE)} y=${LINE + 6.4 + 3.4 * below}>${mark}</text>`)}
    ${sign.tiedOn ? drawTie(at, next?.tiedFromBefore ? x(next.startTick) : at + 3 * SPACE) : nothing}
    ${sign.tiedFromBefore && index === 0 ? drawTie(at - 2.6 * SPACE, at) : nothing}`
}

function drawDots(dots: number, from: number) {
  return Array.from(
    { length: dots },
    (_, dot) =>
      svg`<text class="sign" x=${round(from + dot * 0.65 * SPACE - 0.2 * SPACE)} y=${LINE - 2.6}>${DOT}</text>`,
  )
}

/** A tie on the side of the heads, from one to the next. */
function drawTie(from: number, to: number) {
  const [a, b, y] = [round(from + 2.5), round(to - 2.5), LINE + 4.5]
  const middle = round((a + b) / 2)
  return svg`<path d="M${a} ${y}Q${middle} ${y + 5} ${b} ${y}Q${middle} ${y + 3.4} ${a} ${y}z" />`
}

/** A beam for each flag that neighbours have in common; a stub where a note has one more than both of them. */
function drawBeam(beam: readonly number[], signs: readonly RhythmSign[], x: Place) {
  const flags = beam.map((index) => Math.log2(signs[index]!.value.part) - 2)
  const stems = beam.map((index) => x(signs[index]!.startTick) + 0.53 * SPACE)
  const bars: SVGTemplateResult[] = []
  for (let level = 1; level <= Math.max(...flags); level++) {
    const y = round(STEM_TOP - 0.6 + (level - 1) * BEAM_STEP)
    for (let first = 0; first < beam.length; first++) {
      if (flags[first]! < level || (first > 0 && flags[first - 1]! >= level)) continue
      let last = first
      while ((flags[last + 1] ?? 0) >= level) last++
      const stub = first === last
      const from = stub && first > 0 ? stems[first]! - 1.1 * SPACE : stems[first]!
      const to = stub && first === 0 ? stems[first]! + 1.1 * SPACE : stems[last]!
      bars.push(svg`<path d="M${round(from - 0.45)} ${y}H${round(to + 0.45)}v${BEAM}H${round(from - 0.45)}z" />`)
    }
  }
  return bars
}

function drawThree(triplet: readonly number[], signs: readonly RhythmSign[], x: Place) {
  const [first, last] = [signs[triplet[0]!]!, signs[triplet.at(-1)!]!]
  const middle = round((x(first.startTick) + x(last.startTick)) / 2 + 0.5 * SPACE)
  return svg`<text class="sign tuplet" x=${middle} y=${STEM_TOP - 2.4}>${TUPLET_THREE}</text>`
}

interface Count {
  readonly word: string
  readonly at: number
  readonly soft: boolean
  /** the count it belongs to */
  readonly count: number
}

/** Widths of what is said, at its size; a figure of the count is 7 wide. */
const WORD_WIDTHS: Readonly<Record<string, number>> = { and: 21, '&': 10, e: 6, a: 6.5, trip: 21, let: 16 }

/** What is said below the signs. Where it is crowded `and` shrinks to `&`, and the parts of a count are left out, all of them. */
function countsOf(cell: Cell, signs: readonly RhythmSign[], x: Place): readonly Count[] {
  const unit = 1920 / cell.lower
  const bar = cell.ticks / cell.bars
  const counts = signs.flatMap((sign): Count[] => {
    const rest = sign.kind === 'rest'
    const word = rest && sign.startTick % unit === 0 ? countAt(sign.startTick % bar, unit) : sign.count
    const count = Math.floor(sign.startTick / unit)
    return word === undefined ? [] : [{ word, at: x(sign.startTick), soft: rest || sign.head === 'ghost', count }]
  })
  const shrunk = counts.map((one, index) => {
    const close = crowds(counts[index - 1], one) || crowds(one, counts[index + 1])
    return close && one.word === 'and' ? { ...one, word: '&' } : one
  })
  const crowded = new Set(shrunk.filter((one, index) => crowds(one, shrunk[index + 1])).map(({ count }) => count))
  return shrunk.filter(({ word, count }) => /^\d+$/.test(word) || !crowded.has(count))
}

/** True if two words that follow each other would touch. */
function crowds(one: Count | undefined, other: Count | undefined): boolean {
  if (!one || !other) return false
  const widthOf = ({ word }: Count) => WORD_WIDTHS[word] ?? 7 * word.length
  return other.at - one.at < (widthOf(one) + widthOf(other)) / 2 + 0.8
}

/**
 * A cell as it is counted aloud: `1 2 and 3 4`; rests on a count are said as such, notes struck dead too.
 *
 * @example
 * spokenCell({ upper: 2, lower: 4, bars: 1, ticks: 960, onsets: [] }) // => 'rest'
 */
export function spokenCell(cell: Cell): string {
  const words = rhythmOf(cell).signs.flatMap(({ kind, head, count, tiedFromBefore }) => {
    if (kind === 'rest') return ['rest']
    if (tiedFromBefore) return []
    return [`${head === 'ghost' ? 'ghost ' : ''}${count ?? 'note'}`]
  })
  return words.filter((word, index) => word !== 'rest' || words[index - 1] !== 'rest').join(' ')
}

function round(value: number): number {
  return Math.round(value * 100) / 100
}
