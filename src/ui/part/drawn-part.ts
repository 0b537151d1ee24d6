import { html, LitElement, type PropertyValues } from 'lit'
import { customElement, property } from 'lit/decorators.js'
import type { Span } from '../../chart/span.ts'
import type { Line } from '../../line/line.ts'
import type { Part, PartBar } from '../../notation/part.ts'
import { type SpokenBar, spokenBar } from '../../notation/spoken.ts'
import { tell } from '../tell.ts'
import { symbolText } from './drawing-key.ts'
import { drawnPartStyles } from './drawn-part.styles.ts'
import { heightsOf } from './heights.ts'
import { canvasMeasure, type Face, type FaceFamilies, loadFaces, type Measure, PROBE } from './measure.ts'
import { type PartView, pageOf, viewOf } from './sizes.ts'
import { type Engraver, SystemPiece } from './system-piece.ts'
import { layPart, type PageSizes, pageSizes } from './systems.ts'

/** Where the lamp stands: a played bar, and the note of the line that sounds in it. */
export interface LampPlace {
  readonly barIndex: number
  readonly noteIndex: number | undefined
}

/** A chord symbol was pressed. */
export interface SymbolChosen {
  /** where it is written in the text */
  readonly span: Span
  /** in plain letters: `Bbmaj7` */
  readonly symbolText: string
  readonly barIndex: number
  /** of the symbol, in the window: for a field in its place */
  readonly box: DOMRect
}

/** Milliseconds of drawing before the page gets its turn: right after a change, and in the frames that follow. */
const FIRST_SLICE_MS = 20
const SLICE_MS = 10
/** How long the first drawing waits for the faces before it is set in stand-ins. */
const FACES_MS = 1500
/** How near the window a system is drawn, in pixels. */
const NEAR = 800
/** How long after the drawing the words are written. */
const WORDS_MS = 150

const NO_PART: Part = { key: undefined, strings: 4, bars: [] }

/**
 * The drawn part of a line: systems of staff, tab, chords and degrees, broken to its own width.
 *
 * Properties: `music`, `line`, `view` (by the width where not set), `size` in per cent, `lamp`, `dimmedBars`, `follow`. Events:
 * `symbol-chosen` with a {@link SymbolChosen}; `part-drawn` when what is in view shows the newest music, notes and all. Staff
 * lines, clefs and chord symbols stand at once; the notes follow when the engraver has come.
 */
@customElement('drawn-part')
export class DrawnPart extends LitElement {
  static override styles = drawnPartStyles

  /** `undefined` or without bars: a staff of empty bars */
  @property({ attribute: false }) music: Part | undefined
  /** the line that the music prints, for the part in words; without it only chords are said */
  @property({ attribute: false }) line: Line | undefined
  @property() view: PartView | undefined
  /** the player's own size, 60 to 200 per cent */
  @property({ type: Number }) size = 100
  @property({ attribute: false }) lamp: LampPlace | undefined
  /** played bars whose rules clash: faint, under a red wave */
  @property({ attribute: false }) dimmedBars: readonly number[] = []
  /** scrolls so that the system that sounds is the second from above */
  @property({ type: Boolean }) follow = false

  private pieces: SystemPiece[] = []
  private readonly pieceOf = new WeakMap<Element, SystemPiece>()
  private widthPx = 0
  private families: FaceFamilies | undefined
  private measure: Measure | undefined
  private sizes: PageSizes | undefined
  private sizesKey = ''
  private engraver: Engraver | undefined
  private engraverState: 'none' | 'asked' | 'here' | 'failed' = 'none'
  private readonly near = new Set<SystemPiece>()
  private inView: readonly SystemPiece[] = []
  private frame = 0
  private wordsTimer = 0
  private litPiece: SystemPiece | undefined
  private isFresh = false
  private resolveDrawn: (() => void) | undefined
  private drawnPromise: Promise<void> = Promise.resolve()
  private chosen: { readonly system: number; readonly symbol: number } = { system: 0, symbol: 0 }

  private readonly resizes = new ResizeObserver((entries) => {
    const width = entries.at(-1)?.contentRect.width ?? 0
    if (width <= 0 || Math.abs(width - this.widthPx) < 0.5) return
    this.widthPx = width
    this.awaitDrawing()
    // Not here: laying out changes the height that is being reported.
    requestAnimationFrame(() => this.lay())
  })

  private readonly nearings = new IntersectionObserver(
    (entries) => {
      for (const { target, isIntersecting } of entries) {
        const piece = this.pieceOf.get(target)
        if (!piece) continue
        if (isIntersecting) this.near.add(piece)
        else this.near.delete(piece)
      }
      this.drawSoon()
    },
    { rootMargin: `${NEAR}px 0px`, scrollMargin: `${NEAR}px 0px` },
  )

  /** Resolves when what is in view shows the newest music, with its notes. */
  get drawn(): Promise<void> {
    return this.updateComplete.then(() => this.drawnPromise)
  }

  override connectedCallback(): void {
    super.connectedCallback()
    document.fonts.addEventListener('loadingdone', this.onFaces)
    this.resizes.observe(this)
    for (const piece of this.pieces) this.nearings.observe(piece.element)
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    document.fonts.removeEventListener('loadingdone', this.onFaces)
    this.resizes.disconnect()
    this.nearings.disconnect()
    cancelAnimationFrame(this.frame)
    clearTimeout(this.wordsTimer)
    this.frame = 0
  }

  protected override render() {
    return html`
      <div class="systems" role="group" aria-label="Chord symbols" @click=${this.onClick} @focusin=${this.onFocus} @keydown=${this.onKey}></div>
      <ol class="words" aria-label="The part in words"></ol>
    `
  }

  protected override firstUpdated(): void {
    const style = getComputedStyle(this)
    const face = (name: string, usual: string) => style.getPropertyValue(name).trim() || usual
    const families = {
      part: face('--part', 'Besley, serif'),
      signs: face('--signs', 'Bravura'),
      book: face('--book', 'Vollkorn, serif'),
    }
    this.families = families
    this.awaitDrawing()
    const late = new Promise((resolve) => setTimeout(resolve, FACES_MS))
    void Promise.race([loadFaces(families), late]).then(() => {
      this.measure = canvasMeasure(families)
      this.lay()
    })
  }

  protected override updated(changed: PropertyValues<this>): void {
    if (changed.has('music') || changed.has('view') || changed.has('size')) {
      this.awaitDrawing()
      this.lay()
      return
    }
    if (changed.has('line')) this.sayWords()
    if (changed.has('dimmedBars')) this.dim()
    if (changed.has('lamp')) this.light()
  }

  private awaitDrawing(): void {
    this.isFresh = false
    if (this.resolveDrawn) return
    this.drawnPromise = new Promise((resolve) => {
      this.resolveDrawn = resolve
    })
  }

  // Laying out: every system gets its place at once; drawing follows.

  private lay(): void {
    const host = this.renderRoot.querySelector<HTMLElement>('.systems')
    if (!host || !this.measure) return
    if (this.widthPx === 0) this.widthPx = this.getBoundingClientRect().width
    if (this.widthPx <= 0) return
    // Asked for before anything is changed: afterwards the browser would have to lay the page out for it.
    const hostTop = this.getBoundingClientRect().top
    const music = this.music ?? NO_PART
    const sizes = this.pageSizes(this.measure, music.bars.length)
    const { page } = sizes
    const view = this.view ?? viewOf(this.widthPx)
    const target = view === 'desktop' && !matchMedia('(pointer: coarse)').matches ? 24 : 44
    const systems = layPart(music, sizes)
    while (this.pieces.length > systems.length) this.removePiece(this.pieces.pop()!)
    while (this.pieces.length < systems.length) host.append(this.addPiece().element)
    let top = 0
    for (const [index, system] of systems.entries()) {
      const piece = this.pieces[index]!
      const sp = page.sp * system.scale
      const heights = heightsOf(system, music.strings)
      const gap = index === systems.length - 1 ? 1 : page.gap
      const height = Math.round(heights.height * sp + gap * page.sp)
      const frame = { sharps: music.key?.sharps ?? 0, strings: music.strings, first: index === 0, sp }
      piece.place({ system, heights, frame, top, height }, barName, target)
      top += height
    }
    this.rove()
    this.inView = this.piecesInView(hostTop)
    this.isFresh = true
    this.drawNow(FIRST_SLICE_MS)
  }

  private pageSizes(measure: Measure, barCount: number): PageSizes {
    const view = this.view ?? viewOf(this.widthPx)
    const { size } = this
    const key = `${view} ${this.widthPx} ${size} ${Math.min(3, barCount)}`
    if (!this.sizes || key !== this.sizesKey || this.sizes.airy.measure !== measure) {
      this.sizes = pageSizes(pageOf(view, this.widthPx, size, barCount), measure)
      this.sizesKey = key
    }
    return this.sizes
  }

  private addPiece(): SystemPiece {
    const piece = new SystemPiece()
    this.pieces.push(piece)
    this.pieceOf.set(piece.element, piece)
    this.nearings.observe(piece.element)
    return piece
  }

  private removePiece(piece: SystemPiece): void {
    this.nearings.unobserve(piece.element)
    this.near.delete(piece)
    piece.element.remove()
    if (this.litPiece === piece) this.litPiece = undefined
  }

  // Drawing: what is in view first, in slices.

  private drawNow(sliceMs: number): void {
    const start = performance.now()
    const { inView } = this
    const queue = [...inView, ...this.near].filter((piece) => !piece.isDrawn(this.engraver))
    let left = queue.length
    for (const piece of queue) {
      piece.draw(this.engraver)
      left--
      if (performance.now() - start > sliceMs) break
    }
    this.dim()
    this.light()
    this.askForEngraver()
    const engraved = this.engraverState === 'here' || this.engraverState === 'failed'
    if (this.isFresh && engraved && inView.every((piece) => piece.isDrawn(this.engraver))) this.tellDrawn()
    if (left > 0) this.drawSoon()
    else this.sayWords()
  }

  private drawSoon(): void {
    if (this.frame || !this.isConnected) return
    this.frame = requestAnimationFrame(() => {
      this.frame = 0
      this.drawNow(SLICE_MS)
    })
  }

  private tellDrawn(): void {
    const resolve = this.resolveDrawn
    if (!resolve) return
    this.resolveDrawn = undefined
    resolve()
    tell(this, 'part-drawn')
  }

  private piecesInView(top: number): readonly SystemPiece[] {
    return this.pieces.filter((piece) => top + piece.top + piece.height > 0 && top + piece.top < window.innerHeight)
  }

  /** The engraver is large: it is asked for when the rows are on the screen. */
  private askForEngraver(): void {
    if (this.engraverState !== 'none' || !this.isFresh) return
    this.engraverState = 'asked'
    requestAnimationFrame(() => setTimeout(() => void this.loadEngraver(), 0))
  }

  private async loadEngraver(): Promise<void> {
    try {
      const { loadEngraver } = await import('./engrave.ts')
      this.engraver = await loadEngraver()
      this.engraverState = 'here'
    } catch {
      // Chords, tab and degrees stand without it.
      this.engraverState = 'failed'
    }
    this.drawSoon()
  }

  /** Faces that came in after they were measured: everything is measured anew. */
  private readonly onFaces = (): void => {
    const { families, measure } = this
    if (!families || !measure) return
    const fresh = canvasMeasure(families)
    const faces = Object.keys(PROBE) as Face[]
    if (faces.every((face) => Math.abs(fresh(PROBE[face], face) - measure(PROBE[face], face)) < 0.0005)) return
    this.measure = fresh
    this.lay()
  }

  // Lamp and red pencil: nothing is drawn anew.

  private light(): void {
    const { lamp } = this
    const piece = lamp && this.pieceAt(lamp.barIndex)
    if (this.litPiece && this.litPiece !== piece) this.litPiece.light(undefined, undefined)
    piece?.light(lamp?.barIndex, lamp?.noteIndex)
    if (piece && piece !== this.litPiece && this.follow) this.scrollToSystem(piece)
    this.litPiece = piece
  }

  private pieceAt(barIndex: number): SystemPiece | undefined {
    return this.pieces.find(({ system }) => system?.bars.some(({ bar }) => bar.index === barIndex))
  }

  private dim(): void {
    const dimmed = new Set(this.dimmedBars)
    for (const piece of this.pieces) piece.dim(dimmed)
  }

  /** The first two systems need only be in view; from then on the one before is the topmost. */
  /** Brings a played bar into sight, with no more of a move than that takes. */
  showBar(barIndex: number): void {
    this.pieceAt(barIndex)?.element.scrollIntoView({ block: 'nearest', behavior: 'instant' })
  }

  private scrollToSystem(piece: SystemPiece): void {
    const index = this.pieces.indexOf(piece)
    const still = matchMedia('(prefers-reduced-motion: reduce)').matches
    const behavior = still ? 'instant' : 'smooth'
    if (index < 2) piece.element.scrollIntoView({ block: 'nearest', behavior })
    else this.pieces[index - 1]!.element.scrollIntoView({ block: 'start', behavior })
  }

  // Symbols: buttons, one stop for the tab key, arrows between them.

  private rove(): void {
    const piece = this.pieces[this.chosen.system]
    if (!piece?.buttons[this.chosen.symbol]) {
      const system = this.pieces.findIndex(({ buttons }) => buttons.length > 0)
      this.chosen = { system: Math.max(0, system), symbol: 0 }
    }
    for (const [system, { buttons }] of this.pieces.entries()) {
      for (const [symbol, button] of buttons.entries()) {
        const index = system === this.chosen.system && symbol === this.chosen.symbol ? 0 : -1
        if (button.tabIndex !== index) button.tabIndex = index
      }
    }
  }

  private placeOf(target: EventTarget | null): { readonly system: number; readonly symbol: number } | undefined {
    if (!(target instanceof HTMLButtonElement)) return undefined
    const system = this.pieces.findIndex(({ buttons }) => buttons.includes(target))
    return system < 0 ? undefined : { system, symbol: this.pieces[system]!.buttons.indexOf(target) }
  }

  private onFocus(event: FocusEvent): void {
    const place = this.placeOf(event.target)
    if (!place) return
    this.chosen = place
    this.rove()
  }

  private onKey(event: KeyboardEvent): void {
    const place = this.placeOf(event.target)
    if (!place || event.ctrlKey || event.metaKey || event.altKey || event.shiftKey) return
    const all = this.pieces.flatMap(({ buttons }) => buttons)
    const at = all.indexOf(event.target as HTMLButtonElement)
    const next = {
      ArrowRight: all[at + 1],
      ArrowLeft: all[at - 1],
      Home: all[0],
      End: all.at(-1),
      ArrowUp: this.symbolBeside(place, -1),
      ArrowDown: this.symbolBeside(place, 1),
    }[event.key]
    if (!next) return
    event.preventDefault()
    event.stopPropagation()
    next.focus()
  }

  /** The symbol of the system before or after that stands nearest. */
  private symbolBeside({ system, symbol }: { system: number; symbol: number }, step: number) {
    const left = this.pieces[system]!.buttons[symbol]!.offsetLeft
    const distance = (button: HTMLButtonElement) => Math.abs(button.offsetLeft - left)
    let row = system + step
    while (this.pieces[row] && this.pieces[row]!.buttons.length === 0) row += step
    return [...(this.pieces[row]?.buttons ?? [])].sort((a, b) => distance(a) - distance(b))[0]
  }

  private onClick(event: MouseEvent): void {
    const place = this.placeOf(event.target)
    if (!place) return
    const piece = this.pieces[place.system]!
    const chosen = piece.symbols[place.symbol]
    if (!chosen) return
    const { symbol, barIndex } = chosen
    const box = piece.buttons[place.symbol]!.getBoundingClientRect()
    const detail: SymbolChosen = { span: symbol.span, symbolText: symbolText(symbol), barIndex, box }
    tell(this, 'symbol-chosen', detail)
  }

  // The same for readers: bars and notes in words, when the drawing has had its turn.

  private sayWords(): void {
    clearTimeout(this.wordsTimer)
    this.wordsTimer = window.setTimeout(() => {
      const list = this.renderRoot.querySelector('.words')
      const { line, music } = this
      if (!list || !music) return
      const strings = music.strings
      const words = music.bars.map((bar) => (line ? barInWords(spokenBar(bar, { line, strings })) : chordsInWords(bar)))
      while (list.children.length > words.length) list.lastElementChild!.remove()
      while (list.children.length < words.length) list.append(document.createElement('li'))
      for (const [index, text] of words.entries()) {
        const item = list.children[index]!
        if (item.textContent !== text) item.textContent = text
      }
    }, WORDS_MS)
  }
}

function barInWords({ text, notes }: SpokenBar): string {
  // Each note's sentence begins with its bar, which has been said.
  return `${text}. ${notes.map((note) => note.text.replace(/^[^,:]*, /, '')).join('; ')}`
}

function chordsInWords(bar: PartBar): string {
  return [barName(bar.number), ...bar.symbols.map(({ spoken }) => spoken)].join(', ')
}

function barName(number: number): string {
  return number < 1 ? 'the pick-up' : `bar ${number}`
}

declare global {
  interface HTMLElementTagNameMap {
    'drawn-part': DrawnPart
  }
  interface HTMLElementEventMap {
    'symbol-chosen': CustomEvent<SymbolChosen>
    'part-drawn': CustomEvent<void>
  }
}
