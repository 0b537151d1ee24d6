import type { FunctionMark, PartBar, PrintedNote, PrintedSymbol } from '../../notation/part.ts'
import { placeRuns } from './chord-runs.ts'
import { STRING_GAP, type SystemHeights, tripletY } from './heights.ts'
import { metreFigures, SMUFL, STAFF_ACCIDENTAL, TEXT_ACCIDENTAL } from './smufl.ts'
import { BRACKETED_SIZE, DEGREE_SHIFT, degreeWidths, tabText } from './spacing.ts'
import { beamedNotes, beamLine, staffY, stemDirections } from './stems.ts'
import type { System, SystemBar } from './systems.ts'

// The rows that are ours: staff and bar lines, clef, signature, metre, chords, tab, degrees with their marks, letters and bar
// numbers, ties. Written as SVG text; colours and faces come from the style sheet of the element. Units: ten to a staff space,
// as the engraver counts.

/** Units of the drawing to a staff space. */
export const UNITS = 10

/** What is drawn beside the bars' own signs. */
export interface SystemFrame {
  /** of the signature, -7 to 7 */
  readonly sharps: number
  readonly strings: number
  /** the first system carries no bar number */
  readonly first: boolean
  /** CSS pixels of a staff space here: type that keeps its size is given in pixels */
  readonly sp: number
}

/** The drawing of a system but for its notes on the staff. */
export interface SystemDrawing {
  /** under everything that can be lit */
  readonly frame: string
  /** one for each bar: symbols, tab, degrees, ties */
  readonly bars: readonly string[]
}

/** Where a chord symbol stands, in sp from the system's upper left corner: for the button over it. */
export interface SymbolBox {
  readonly barIndex: number
  readonly symbol: PrintedSymbol
  readonly x: number
  readonly width: number
}

const FONT = 4 * UNITS
const SIGNATURE_GAP = 0.98

/** Places of the signature in the bass clef, in steps above the middle line, in order of appearance. */
const FLATS = [-2, 1, -3, 0, -4, -1, -5]
const SHARPS = [2, -1, 3, 0, -3, 1, -2]

const BAR_NUMBER_PX = 13

function u(sp: number): string {
  return String(Math.round(sp * UNITS * 100) / 100)
}

function line(className: string, x1: number, y1: number, x2: number, y2: number): string {
  return `<path class="${className}" d="M${u(x1)} ${u(y1)}${x1 === x2 ? `V${u(y2)}` : `H${u(x2)}`}"/>`
}

function sign(text: string, x: number, y: number, size: number, className = 'sign', anchor = ''): string {
  const anchored = anchor ? ` text-anchor="${anchor}"` : ''
  return `<text class="${className}" x="${u(x)}" y="${u(y)}" font-size="${Math.round(size * 100) / 100}"${anchored}>${text}</text>`
}

/** Draws a system's rows. */
export function drawSystem(system: System, heights: SystemHeights, frame: SystemFrame): SystemDrawing {
  return {
    frame: drawFrame(system, heights, frame),
    bars: system.bars.map((placed, index) => drawBar(placed, system, heights, frame, index === 0)),
  }
}

/** The boxes of a system's chord symbols, left to right. */
export function symbolBoxes(system: System): readonly SymbolBox[] {
  const { sizes } = system
  return system.bars.flatMap(({ bar, x, layout }) =>
    bar.symbols.map((symbol, index) => ({
      barIndex: bar.index,
      symbol,
      x: x + layout.symbolX[index]!,
      width: placeRuns(symbol, sizes.measure, sizes.suffixScale).width * sizes.chord,
    })),
  )
}

function drawFrame(system: System, heights: SystemHeights, frame: SystemFrame): string {
  const { staff, tab, tabEnd } = heights
  const first = system.bars[0]!.bar
  let svg = ''
  for (let row = 0; row < 5; row++) svg += line('staff', 0, staff + row, system.width, staff + row)
  for (let row = 0; row < frame.strings; row++) {
    svg += line('string', 0, tab + row * STRING_GAP, system.width, tab + row * STRING_GAP)
  }
  svg += line('bar-line', 0.08, staff, 0.08, tabEnd)
  svg += sign(SMUFL.bassClef, 0.75, staff + 1, FONT)
  const places = frame.sharps < 0 ? FLATS : SHARPS
  const accidental = STAFF_ACCIDENTAL[frame.sharps < 0 ? 'b' : '#']
  for (let index = 0; index < Math.abs(frame.sharps); index++) {
    svg += sign(accidental, 3.75 + index * SIGNATURE_GAP, staff + staffY(places[index]!), FONT)
  }
  if (first.metreChanges) {
    const signature = Math.abs(frame.sharps) * SIGNATURE_GAP + (frame.sharps === 0 ? 0.1 : 0.35)
    svg += drawMetre(first, 3.75 + signature + (first.metre.upper >= 10 ? 1.7 : 1.15), staff)
  }
  const middle = (tab + tabEnd) / 2
  for (const [index, letter] of ['T', 'A', 'B'].entries()) {
    svg += sign(letter, 1.6, middle + (index - 1) * 1.42 + 0.52, 1.45 * UNITS, 'text', 'middle')
  }
  return svg + drawHead(first, system, heights, frame)
}

/** The rehearsal letter of a system's first bar and the bar's number. */
function drawHead(bar: PartBar, system: System, heights: SystemHeights, frame: SystemFrame): string {
  const { chord, measure } = system.sizes
  let svg = ''
  let numberX = 0.1
  let numberY = heights.staff - 1.5
  if (bar.section !== undefined) {
    svg += drawLetter(bar.section, 0.1, system)
    numberX += letterWidth(bar.section, chord, measure) + 0.7
    numberY = 0.35 + chord * 1.1
  }
  if (frame.first || bar.number < 1) return svg
  return svg + sign(String(bar.number), numberX, numberY, (BAR_NUMBER_PX / frame.sp) * UNITS, 'number')
}

function letterWidth(letter: string, chord: number, measure: System['sizes']['measure']): number {
  return Math.max(chord * 1.12, measure(letter, 'part') * chord * 0.86 + chord * 0.5)
}

function drawLetter(letter: string, x: number, system: System): string {
  const { chord, measure } = system.sizes
  const width = letterWidth(letter, chord, measure)
  const box = `<rect class="letter-box" x="${u(x)}" y="${u(0.35)}" width="${u(width)}" height="${u(chord * 1.12)}"/>`
  return box + sign(escaped(letter), x + width / 2, 0.35 + chord * 0.86, chord * 0.86 * UNITS, 'text', 'middle')
}

function drawMetre({ metre }: PartBar, x: number, staff: number): string {
  return (
    sign(metreFigures(metre.upper), x, staff + 1, FONT, 'sign', 'middle') +
    sign(metreFigures(metre.lower), x, staff + 3, FONT, 'sign', 'middle')
  )
}

function drawBar(
  placed: SystemBar,
  system: System,
  heights: SystemHeights,
  frame: SystemFrame,
  firstOfSystem: boolean,
): string {
  const { bar, x, width, layout } = placed
  const { sizes } = system
  let svg = drawBarLine(bar, x + width, system, heights)
  if (bar.metreChanges && !firstOfSystem) svg += drawMetre(bar, x + 1.75, heights.staff)
  for (const [index, symbol] of bar.symbols.entries()) {
    svg += drawSymbol(symbol, x + layout.symbolX[index]!, heights.chordBase, sizes)
  }
  const directions = stemDirections(bar)
  svg += '<g class="notes">'
  for (const [index, printed] of bar.signs.entries()) {
    if (printed.kind === 'rest') continue
    const centre = x + layout.x[index]!
    svg += drawFigure(printed, index, centre, heights, frame.strings, sizes)
    svg += drawDegree(printed, centre, heights.degreeBase, sizes)
    svg += drawTie(placed, index, system, heights.staff, directions)
    svg += drawTouch(printed, centre, heights.staff, directions[index]! === 'up')
  }
  for (const group of bar.triplets) svg += drawTriplet(placed, group, heights.staff)
  return `${svg}</g>`
}

function drawBarLine(bar: PartBar, end: number, system: System, { staff, tab, tabEnd }: SystemHeights): string {
  const both = (className: string, x: number) =>
    line(className, x, staff, x, staff + 4) + line(className, x, tab, x, tabEnd)
  const last = end >= system.width - 0.001
  if (bar.barLine === 'final') return both('thick', end - 0.25) + both('bar-line', end - 0.9)
  if (bar.barLine === 'double') return both('bar-line', end - 0.08) + both('bar-line', end - 0.68)
  return both('bar-line', last ? end - 0.08 : end)
}

function drawSymbol(symbol: PrintedSymbol, x: number, y: number, sizes: System['sizes']): string {
  const { runs } = placeRuns(symbol, sizes.measure, sizes.suffixScale)
  let svg = ''
  for (const run of runs) {
    const className = run.face === 'signs' ? 'sign' : 'text'
    const left = x + run.x * sizes.chord
    const base = y - run.rise * sizes.chord
    const size = Math.round(run.size * sizes.chord * UNITS * 100) / 100
    const place =
      run.narrow === 1
        ? `x="${u(left)}" y="${u(base)}"`
        : `transform="translate(${u(left)} ${u(base)}) scale(${run.narrow} 1)"`
    svg += `<text class="${className}" ${place} font-size="${size}">${escaped(run.text)}</text>`
  }
  return `<g class="symbol">${svg}</g>`
}

function drawFigure(
  note: PrintedNote,
  index: number,
  x: number,
  heights: SystemHeights,
  strings: number,
  sizes: System['sizes'],
): string {
  if (!note.tab) return ''
  const y = heights.tab + (strings - 1 - note.tab.string) * STRING_GAP + 0.33 * sizes.tab
  const size = sizes.tab * (note.tab.bracketed ? BRACKETED_SIZE : 1) * UNITS
  const className = note.tab.bracketed ? 'figure bracketed' : 'figure'
  return `<text class="${className}" data-sign="${index}" x="${u(x)}" y="${u(y)}" font-size="${size}">${tabText(note.tab)}</text>`
}

function drawDegree(note: PrintedNote, x: number, y: number, { degree: size, measure }: System['sizes']): string {
  if (note.mark === 'ghost') return sign('×', x, y, size * UNITS, 'degree f-ghost', 'middle')
  if (!note.degree || !note.mark) return ''
  const colour = note.mark.startsWith('motion') ? 'motion' : note.mark
  const widths = degreeWidths(note.degree, measure)
  const shift = note.degree.accidental ? DEGREE_SHIFT : 0
  const left = x - ((widths.sign + widths.number) / 2 + shift) * size
  let svg = ''
  if (note.degree.accidental) {
    svg += sign(TEXT_ACCIDENTAL[note.degree.accidental], left, y, size * UNITS, `sign f-${colour}`)
  }
  svg += sign(String(note.degree.number), left + widths.sign * size, y, size * UNITS, `degree f-${colour}`)
  return svg + drawMark(note.mark, x, y + 0.52 * size, size)
}

/** The mark under a degree: what the note does, told by shape as well as by colour. */
export function drawMark(mark: FunctionMark, x: number, y: number, size: number): string {
  const k = size / 2
  const thin = `stroke-width="${u(size * 0.125)}"`
  const at = (dx: number, dy: number) => `${u(x + dx * k)} ${u(y + dy * k)}`
  const by = (dx: number, dy: number) => `${u(dx * k)} ${u(dy * k)}`
  switch (mark) {
    case 'root':
      return `<path class="mark f-root" d="M${at(-0.9, 0)}h${u(1.8 * k)}" stroke-width="${u(size * 0.2)}"/>`
    case 'third':
      return `<path class="mark-solid f-third" d="M${at(0, -0.5)}l${by(0.5, 0.5)}l${by(-0.5, 0.5)}l${by(-0.5, -0.5)}z"/>`
    case 'fifth':
      return `<circle class="mark f-fifth" cx="${u(x)}" cy="${u(y)}" r="${u(0.4 * k)}" ${thin}/>`
    case 'seventh':
      return `<path class="mark-solid f-seventh" d="M${at(-0.56, -0.42)}h${u(1.12 * k)}l${by(-0.56, 0.92)}z"/>`
    case 'tension':
      return `<path class="mark f-tension" d="M${at(-0.52, 0)}h${u(1.04 * k)}M${at(0, -0.52)}v${u(1.04 * k)}" ${thin}/>`
    case 'motion-level':
      return `<path class="mark f-motion" d="M${at(-0.6, 0)}H${u(x + 0.6 * k)}m${by(-0.4, -0.36)}l${by(0.4, 0.36)}l${by(-0.4, 0.36)}" ${thin}/>`
    case 'motion-up':
    case 'motion-down': {
      const d = mark === 'motion-up' ? 1 : -1
      const head = `m${by(-0.52, -0.06 * d)}l${by(0.52, 0.06 * d)}l${by(-0.16, 0.5 * d)}`
      return `<path class="mark f-motion" d="M${at(-0.6, 0.4 * d)}L${at(0.6, -0.4 * d)}${head}" ${thin}/>`
    }
    case 'ghost':
      return ''
  }
}

/** The tie that leaves a note, or the second half of one that comes over from the system before. */
function drawTie(
  placed: SystemBar,
  index: number,
  system: System,
  staff: number,
  directions: readonly ('up' | 'down')[],
): string {
  const note = placed.bar.signs[index] as PrintedNote
  const side = directions[index] === 'up' ? 1 : -1
  const x = placed.x + placed.layout.x[index]!
  const y = staff + staffY(note.step) + side * 0.62
  let svg = ''
  if (note.tiedFromBefore && index === 0 && placed === system.bars[0]) {
    svg += tie(system.clefSpace - 0.9, x - 0.55, y, side, 0.6)
  }
  if (note.tiedOn) {
    const next = placed.layout.x[index + 1]
    const over = system.bars[system.bars.indexOf(placed) + 1]
    const end =
      next !== undefined
        ? placed.x + next - 0.55
        : over?.layout.x[0] !== undefined
          ? over.x + over.layout.x[0] - 0.55
          : placed.x + placed.width - 0.3
    svg += tie(x + 0.55, end, y, side, Math.min(1.15, 0.45 + (end - x) * 0.06))
  }
  return svg
}

/** A tie: 0.34 sp thick in the middle, to nothing at its ends. */
function tie(from: number, to: number, y: number, side: number, height: number): string {
  const middle = (from + to) / 2
  const bend = y + side * height * 1.7
  return `<path class="ink" d="M${u(from)} ${u(y)}Q${u(middle)} ${u(bend)} ${u(to)} ${u(y)}Q${u(middle)} ${u(bend + side * 0.34)} ${u(from)} ${u(y)}z"/>`
}

/** Accent, staccato and tenuto: on the side of the head, out of the staff's lines. */
function drawTouch(note: PrintedNote, x: number, staff: number, stemUp: boolean): string {
  let svg = ''
  const side = stemUp ? 1 : -1
  let y = staffY(note.step) + side
  if (note.length) {
    // A dot or a dash inside the staff stands in a space.
    if (y > -0.25 && y < 4.25 && Number.isInteger(y)) y += side * 0.5
    const glyph =
      note.length === 'short'
        ? stemUp
          ? SMUFL.staccatoBelow
          : SMUFL.staccatoAbove
        : stemUp
          ? SMUFL.tenutoBelow
          : SMUFL.tenutoAbove
    svg += sign(glyph, x, staff + y, FONT, 'sign', 'middle')
    y += side
  }
  if (note.accent) {
    y = stemUp ? Math.max(y, 4.4) : Math.min(y, -0.4)
    svg += sign(stemUp ? SMUFL.accentBelow : SMUFL.accentAbove, x, staff + y, FONT, 'sign', 'middle')
  }
  return svg
}

/** The 3 of a triplet, at its beam; a bracket where no beam holds it together. */
function drawTriplet({ bar, x, layout }: SystemBar, group: readonly number[], staff: number): string {
  const joined = bar.beams.some((beam) => group.every((index) => beam.includes(index)))
  const from = x + layout.x[group[0]!]!
  const to = x + layout.x[group.at(-1)!]!
  const edge = tripletY(bar.signs, group, layout.x, bar.beams)
  const below = edge > 2
  const base = staff + edge + (below ? -0.2 : 1.5)
  const centre = (from + to) / 2
  const three = sign('3', centre, base, 1.7 * UNITS, 'triplet', 'middle')
  if (joined) {
    const { notes, x: places } = beamedNotes(bar, group, layout.x)
    const beam = beamLine(notes, places)
    return sign('3', x + (beam.from.x + beam.to.x) / 2, base, 1.7 * UNITS, 'triplet', 'middle')
  }
  const y = staff + edge + 1
  const half = (a: number, b: number, hook: number) => `M${u(hook)} ${u(y + 0.7)}V${u(y)}M${u(a)} ${u(y)}H${u(b)}`
  return `${three}<path class="bracket" d="${half(from - 0.6, centre - 0.9, from - 0.6)}${half(centre + 0.9, to + 0.6, to + 0.6)}"/>`
}

function escaped(text: string): string {
  return text.replace(/&/g, '&amp;').replace(/</g, '&lt;')
}
