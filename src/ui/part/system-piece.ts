import type { PrintedSymbol } from '../../notation/part.ts'
import { drawSystem, type SystemFrame, symbolBoxes, UNITS } from './draw-system.ts'
import { barKey, contentKey } from './drawing-key.ts'
import type { SystemHeights } from './heights.ts'
import type { System } from './systems.ts'

const SVG = 'http://www.w3.org/2000/svg'

/** Draws the notes of a system on its staff: one group for each bar. */
export type Engraver = (system: System, heights: SystemHeights) => readonly SVGGElement[]

/** A system with everything that is known of it before it is drawn. */
export interface PlacedSystem {
  readonly system: System
  readonly heights: SystemHeights
  readonly frame: SystemFrame
  /** from the top of the part, in pixels, and its height */
  readonly top: number
  readonly height: number
}

/** What a press on a symbol tells. */
export interface PieceSymbol {
  readonly symbol: PrintedSymbol
  readonly barIndex: number
}

/** One system on the page: its drawing, kept while it looks the same, and the buttons over its symbols. */
export class SystemPiece {
  readonly element = document.createElement('div')
  /** the buttons over the symbols, left to right, each with what it stands for */
  readonly buttons: HTMLButtonElement[] = []
  symbols: readonly PieceSymbol[] = []

  private readonly svg = document.createElementNS(SVG, 'svg')
  private readonly lampLayer = document.createElementNS(SVG, 'g')
  private readonly waveLayer = document.createElementNS(SVG, 'g')
  private placed: PlacedSystem | undefined
  private bars: SVGGElement[] = []
  private contents: readonly string[] = []
  private key = ''
  private drawnKey = ''
  private engraved = false
  private lit: { readonly bar: Element; readonly figure: Element | undefined } | undefined

  constructor() {
    this.element.className = 'system'
    this.svg.setAttribute('aria-hidden', 'true')
    this.element.append(this.svg)
  }

  get system(): System | undefined {
    return this.placed?.system
  }

  get top(): number {
    return this.placed?.top ?? 0
  }

  get height(): number {
    return this.placed?.height ?? 0
  }

  /** Whether it shows what it should: with its notes, once there is an engraver. */
  isDrawn(engraver: Engraver | undefined): boolean {
    return this.drawnKey === this.key && (this.engraved || !engraver)
  }

  /** Takes its place at once; the drawing follows in {@link draw}, and only if it looks different. */
  place(placed: PlacedSystem, barName: (number: number) => string, targetPx: number): void {
    this.placed = placed
    const { system, heights, frame } = placed
    this.key = systemKey(placed)
    this.element.style.height = `${placed.height}px`
    this.placeButtons(system, heights, frame.sp, barName, targetPx)
  }

  draw(engraver: Engraver | undefined): void {
    if (!this.placed || this.isDrawn(engraver)) return
    const { system, heights, frame } = this.placed
    const groups = engraver?.(system, heights)
    if (this.drawnKey !== this.key) {
      const drawing = drawSystem(system, heights, frame)
      const { sp } = frame
      const px = (length: number) => Math.round(length * sp * 100) / 100
      this.svg.setAttribute('width', String(px(system.width)))
      this.svg.setAttribute('height', String(px(heights.height)))
      this.svg.setAttribute('viewBox', `0 0 ${(px(system.width) / sp) * UNITS} ${(px(heights.height) / sp) * UNITS}`)
      const before = this.drawnKey === '' ? undefined : new Set(this.contents)
      this.contents = system.bars.map(({ bar }) => contentKey(bar))
      this.svg.innerHTML =
        `<g>${drawing.frame}</g>` +
        drawing.bars
          .map((bar, index) => {
            const changed = before && !before.has(this.contents[index]!)
            return `<g class="bar${changed ? ' changed' : ''}">${bar}</g>`
          })
          .join('')
      this.bars = [...this.svg.querySelectorAll<SVGGElement>('.bar')]
      this.lampLayer.replaceChildren()
      this.waveLayer.replaceChildren()
      this.svg.prepend(this.lampLayer)
      this.svg.append(this.waveLayer)
      this.lit = undefined
      this.drawnKey = this.key
      this.engraved = false
    }
    if (groups && !this.engraved) {
      for (const [index, group] of groups.entries()) this.bars[index]?.querySelector('.notes')?.append(group)
      this.engraved = true
    }
  }

  /** Lights a bar of this system and the note that sounds; nothing where `barIndex` is `undefined`. */
  light(barIndex: number | undefined, noteIndex: number | undefined): void {
    this.lit?.bar.classList.remove('lit')
    this.lit?.figure?.classList.remove('sounding')
    this.lit = undefined
    this.lampLayer.replaceChildren()
    const order = this.placed?.system.bars.findIndex(({ bar }) => bar.index === barIndex) ?? -1
    const element = this.bars[order]
    const placed = this.placed?.system.bars[order]
    if (!this.placed || !element || !placed) return
    const { heights, frame } = this.placed
    const { staff, height } = heights
    const corner = (3 / frame.sp) * UNITS
    const wash = rect('lamp-bar', placed.x + 0.35, 0.2, placed.width - 0.7, height - 0.1)
    wash.setAttribute('rx', String(corner))
    this.lampLayer.append(wash)
    const sign = placed.bar.signs.findIndex((printed) => printed.kind === 'note' && printed.noteIndex === noteIndex)
    let figure: Element | undefined
    if (sign >= 0) {
      const left = placed.x + placed.layout.x[sign]! - 1.15
      this.lampLayer.append(
        rect('lamp-note', left, staff - 1.6, 2.3, height - staff + 1.7),
        rect('lamp-foot', left, height - 0.15, 2.3, 0.45),
      )
      figure = element.querySelector(`[data-sign="${sign}"]`) ?? undefined
      figure?.classList.add('sounding')
    }
    element.classList.add('lit')
    this.lit = { bar: element, figure }
  }

  /** Draws the bars named faint, with a red wave over them. */
  dim(barIndices: ReadonlySet<number>): void {
    this.waveLayer.replaceChildren()
    const placed = this.placed
    if (!placed) return
    let from: number | undefined
    const { bars } = placed.system
    for (const [order, { bar, x, width }] of bars.entries()) {
      const dimmed = barIndices.has(bar.index)
      this.bars[order]?.classList.toggle('dim', dimmed)
      if (!dimmed) continue
      from ??= x + 0.5
      const next = bars[order + 1]
      if (next && barIndices.has(next.bar.index)) continue
      const goesOn = !next && barIndices.has(bar.index + 1)
      this.waveLayer.append(wave(from, x + width - (goesOn ? 0 : 0.5), placed.frame.sp))
      from = undefined
    }
  }

  private placeButtons(
    system: System,
    heights: SystemHeights,
    sp: number,
    barName: (number: number) => string,
    targetPx: number,
  ): void {
    const boxes = symbolBoxes(system)
    this.symbols = boxes
    while (this.buttons.length > boxes.length) this.buttons.pop()!.remove()
    while (this.buttons.length < boxes.length) {
      const button = document.createElement('button')
      button.type = 'button'
      button.tabIndex = -1
      this.buttons.push(button)
      this.element.append(button)
    }
    const size = system.sizes.chord * sp
    const top = heights.chordBase * sp - size
    const height = Math.max(size * 1.3, targetPx)
    const numbers = new Map(system.bars.map(({ bar }) => [bar.index, bar.number]))
    for (const [index, { symbol, barIndex, x, width }] of boxes.entries()) {
      const button = this.buttons[index]!
      // Wide enough to hit, but never over the middle of the air to its neighbours.
      const before = boxes[index - 1]
      const after = boxes[index + 1]
      const least = before ? ((before.x + before.width + x) / 2) * sp : -Infinity
      const most = after ? ((x + width + after.x) / 2) * sp : system.width * sp
      const wanted = Math.max(width * sp + 8, targetPx)
      const middle = (x + width / 2) * sp
      const begin = Math.max(least, Math.min(middle - wanted / 2, x * sp - 4))
      const right = Math.min(most, Math.max(begin + wanted, (x + width) * sp + 4))
      // What its next neighbour leaves it short of, it takes on the other side.
      const left = Math.max(least, Math.min(begin, right - wanted))
      const { style } = button
      style.left = `${left.toFixed(1)}px`
      style.width = `${(right - left).toFixed(1)}px`
      style.top = `${(top + size * 0.5 - height / 2).toFixed(1)}px`
      style.height = `${height.toFixed(1)}px`
      const name = `${symbol.spoken}, ${barName(numbers.get(barIndex)!)}`
      if (button.getAttribute('aria-label') !== name) button.setAttribute('aria-label', name)
    }
  }
}

function systemKey({ system, heights, frame, height }: PlacedSystem): string {
  const numbers = [frame.sp, height, system.width, system.clefSpace, heights.staff, heights.tab, heights.degreeBase]
  const { chord, suffixScale } = system.sizes
  return [
    ...numbers.map((number) => number.toFixed(2)),
    frame.sharps,
    frame.strings,
    chord,
    suffixScale,
    frame.first ? '' : system.bars[0]!.bar.number,
    ...system.bars.map(barKey),
  ].join('&')
}

function rect(className: string, x: number, y: number, width: number, height: number): SVGRectElement {
  const element = document.createElementNS(SVG, 'rect')
  element.setAttribute('class', className)
  for (const [name, value] of Object.entries({ x, y, width, height })) {
    element.setAttribute(name, String(Math.round(value * UNITS * 100) / 100))
  }
  return element
}

/** A red pencil's wave over the bars, waves of 8 pixels. */
function wave(from: number, to: number, sp: number): SVGPathElement {
  const k = UNITS / sp
  const path = document.createElementNS(SVG, 'path')
  const count = Math.max(1, Math.floor(((to - from) * UNITS) / (8 * k)))
  const one = `q${2 * k} ${-4 * k} ${4 * k} 0t${4 * k} 0`
  path.setAttribute('class', 'wave')
  path.setAttribute('d', `M${from * UNITS} ${-0.35 * UNITS}${one.repeat(count)}`)
  return path
}
