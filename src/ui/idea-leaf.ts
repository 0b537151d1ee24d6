import { css, html, LitElement, nothing, type PropertyValues, type SVGTemplateResult, type TemplateResult } from 'lit'
import { customElement, property, query, state } from 'lit/decorators.js'
import type { ReadPage } from '../compose-messages.ts'
import type { Feel } from '../feels/feel.ts'
import { type PatternToken, parsePattern } from '../line/pattern.ts'
import { PATTERNS, patternOf } from '../line/patterns.ts'
import { barTicks, formatMetre, type Metre } from '../music/metre.ts'
import { type Cell, parseCell } from '../rhythm/cell.ts'
import { CELLS, cellOf } from '../rhythm/cells.ts'
import { fitsBar } from '../rhythm/plan.ts'
import { cellFigure, cellFigureLook, isWide, spokenCell } from './cell-figure.ts'
import { box, figure, plain, quiet, still, word } from './controls.ts'
import { patternContour, patternContourLook, patternDegrees, spokenPattern } from './pattern-contour.ts'
import { tell } from './tell.ts'

/** What the player wants the text to say. No words: the feel's own again. */
export type EditWanted =
  | { readonly kind: 'feel'; readonly id: string }
  | { readonly kind: 'cells' | 'patterns'; readonly words: readonly string[] }

/** `cell-heard`, `pattern-heard`: what was pressed, in its notation. */
export interface WordHeard {
  readonly text: string
}

type Kind = 'cells' | 'patterns'

/** A word of the vocabulary, ready to be shown. */
interface Shown {
  /** as the text names it: an id, or a notation */
  readonly word: string
  readonly notation: string
  readonly wide: boolean
  /** what it is called, and how it is read aloud */
  readonly label: string
  /** its name, or what it is for; empty if it has neither */
  readonly tip: string
  readonly picture: TemplateResult | SVGTemplateResult
}

/** A heading of the long lists and what stands under it. */
interface Group {
  readonly name: string
  readonly words: readonly (Shown & { readonly sought: string; readonly note: string })[]
}

/** A note of a pattern's notation that is aimed at the next chord. */
const APPROACH = /(?:^|\s)[hwsd][+-]/

/** What is said about a kind of words. */
const SAYINGS = {
  cells: {
    heading: 'from these cells',
    one: 'cell',
    heard: 'cell-heard',
    own: 'A cell of your own',
    example: '1 2& 3 4&',
    all: 'all cells',
  },
  patterns: {
    heading: 'and these patterns',
    one: 'pattern',
    heard: 'pattern-heard',
    own: 'A pattern of your own',
    example: '1 3 5 h-',
    all: 'all patterns',
  },
} as const

/**
 * The idea of the line: its feel, and the cells and patterns it is made of.
 *
 * It shows what the text says and changes nothing itself: it tells what the player wants the text to say.
 *
 * @fires edit-wanted    {@link EditWanted}
 * @fires cell-heard     {@link WordHeard}, with every press on a cell
 * @fires pattern-heard  {@link WordHeard}, with every press on a pattern
 */
@customElement('idea-leaf')
export class IdeaLeaf extends LitElement {
  static override styles = [
    plain,
    word,
    box,
    quiet,
    figure,
    cellFigureLook,
    patternContourLook,
    css`
      :host {
        display: block;
      }
      p {
        margin: 0;
      }
      .help {
        font-size: var(--t-1);
        line-height: 1.4;
        color: var(--ink-2);
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        align-items: baseline;
        justify-content: space-between;
        gap: 0 12px;
      }
      h3 {
        margin: 12px 0 3px;
        color: var(--ink-2);
        font-size: var(--t-1);
        font-style: italic;
        font-weight: 400;
        line-height: 1.2;
      }
      h4 {
        margin: 14px 0 3px;
        color: var(--ink-2);
        font-size: var(--t-0);
        font-style: italic;
        font-weight: 400;
        line-height: 1.2;
      }
      .feels {
        margin: 6px 0 8px;
        padding: 0;
        border-block: 1px solid var(--hair);
        list-style: none;
      }
      .feels button {
        display: grid;
        grid-template-columns: 1fr auto;
        gap: 0 10px;
        width: 100%;
        min-height: 34px;
        padding: 5px 0;
        line-height: 1.25;
      }
      .feels li + li {
        border-top: 1px solid var(--hair);
      }
      .feels button:disabled {
        color: var(--ink-3);
      }
      .feels button:hover:enabled {
        background-color: var(--graphite-wash);
      }
      .feels [aria-current='true'] {
        box-shadow: inset 3px 0 0 var(--ink);
        padding-left: 10px;
      }
      @media (forced-colors: active) {
        .feels [aria-current='true'] {
          border-left: 3px solid Highlight;
        }
      }
      .feels small {
        grid-column: 1 / -1;
        color: var(--ink-2);
        font-size: var(--t-0);
        font-style: italic;
      }
      .figure {
        position: relative;
      }
      .words {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(max(40%, 7.5rem), 1fr));
        gap: 4px 18px;
      }
      .wide {
        grid-column: 1 / -1;
      }
      .cell {
        height: 3.4375rem;
        padding-bottom: 3px;
      }
      .chip {
        display: flex;
        align-items: center;
        gap: 11px;
        min-height: 35px;
        padding: 2px 0 4px;
      }
      .chip .pattern-degrees {
        font-size: 0.9375rem;
      }
      .chip small {
        flex: 1;
        font-size: var(--t-0);
        font-style: italic;
        line-height: 1.2;
      }
      .all .chip {
        flex-wrap: wrap;
        gap: 0 11px;
      }
      .all .chip small {
        flex: 1 0 100%;
      }
      input {
        width: 100%;
        min-height: 34px;
        padding: 4px 0;
        border-bottom: 1px solid var(--graphite);
        font-size: max(16px, var(--t-1));
        font-style: normal;
      }
      input.typed {
        font-family: var(--typed);
      }
      input::placeholder {
        color: var(--ink-3);
        opacity: 1;
      }
      label {
        display: block;
        color: var(--ink-2);
        font-size: var(--t-1);
        font-style: italic;
      }
      .own {
        margin-top: 14px;
      }
      .own .cell,
      .own .chip {
        color: var(--ink);
      }
      .wrong {
        margin-top: 8px;
        padding-left: 12px;
        border-left: 3px solid var(--red);
        font-size: var(--t-1);
        line-height: 1.4;
        overflow-wrap: anywhere;
      }
      .own .box {
        margin-top: 8px;
      }
      @media (max-width: 1100px), (pointer: coarse) {
        .cell {
          height: 4.125rem;
        }
        .chip {
          min-height: 48px;
        }
        .feels button,
        input {
          min-height: 44px;
        }
      }
    `,
    still,
  ]

  /** What the text says; `undefined` until it has been read. */
  @property({ attribute: false, hasChanged: saysOtherwise }) page: ReadPage | undefined

  @state() private feels: readonly Feel[] = []
  @state() private choosingFeel = false
  /** the kinds whose long list is open, or whose next press begins anew */
  @state() private opened: ReadonlySet<Kind> = new Set()
  @state() private anew: ReadonlySet<Kind> = new Set()
  @state() private sought: Readonly<Record<Kind, string>> = { cells: '', patterns: '' }
  @state() private own: Readonly<Record<Kind, string>> = { cells: '', patterns: '' }

  @query('.word') private readonly feelWord!: HTMLButtonElement

  override connectedCallback(): void {
    super.connectedCallback()
    if (this.feels.length === 0) void this.#loadFeels()
  }

  /** The feels hold whole bands: they come after first sight. */
  async #loadFeels(): Promise<void> {
    this.feels = (await import('../feels/feels.ts')).FEELS
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    const before = changed.get('page')
    if (!changed.has('page') || !before || !this.page) return
    for (const kind of ['cells', 'patterns'] as const)
      if (before[kind].join('\n') !== this.page[kind].join('\n')) this.anew = without(this.anew, kind)
  }

  protected override render(): TemplateResult | typeof nothing {
    if (!this.page) return nothing
    return html`${this.#feelSentence(this.page)} ${this.#words('cells', this.page)} ${this.#words('patterns', this.page)}`
  }

  // The feel.

  get #feel(): Feel | undefined {
    return this.feels.find(({ id }) => id === this.page?.feel?.id)
  }

  #feelSentence(page: ReadPage): TemplateResult {
    const { feel, metre } = page
    const button = html`<button
      class="word"
      aria-expanded=${this.choosingFeel}
      aria-controls="feels"
      @click=${() => this.#showFeels(!this.choosingFeel)}
      @keydown=${(event: KeyboardEvent) => this.#feelKey(event)}
    >${feel?.name ?? 'another feel'}</button>`
    const note = this.#feel?.note
    return html`<p>${
      feel
        ? html`The feel is ${button}${note ? html`: ${note}.` : '.'}`
        : html`No feel plays ${formatMetre(metre)} yet. Take ${button}.`
    }</p>
    <ul id="feels" class="feels" ?hidden=${!this.choosingFeel} @keydown=${(event: KeyboardEvent) => this.#feelKey(event)}>
      ${this.choosingFeel ? this.#feelRows(page) : nothing}
    </ul>`
  }

  /** Those of the chart's metre first; one whose metre no bar has cannot be played. */
  #feelRows({ metre, form }: ReadPage): readonly TemplateResult[] {
    const own = formatMetre(metre)
    const metres = new Set([own, ...form.bars.map((bar) => formatMetre(bar.metre))])
    const sorted = [...this.feels].sort((a, b) => Number(b.metre === own) - Number(a.metre === own))
    return sorted.map(
      (
        feel,
      ) => html`<li><button aria-current=${feel.id === this.page?.feel?.id ? 'true' : nothing} ?disabled=${!metres.has(feel.metre)} @click=${() => this.#takeFeel(feel)}>
        <span>${feel.name}</span><span>${feel.metre}</span><small>${metres.has(feel.metre) ? feel.note : `for charts in ${feel.metre}: say time: ${feel.metre}`}</small>
      </button></li>`,
    )
  }

  /** Opens the list of feels, with the focus in it. */
  openFeels(): void {
    void this.#showFeels(true)
  }

  async #showFeels(shown: boolean): Promise<void> {
    this.choosingFeel = shown
    await this.updateComplete
    if (!shown) this.feelWord.focus()
    else {
      const rows = [...this.renderRoot.querySelectorAll<HTMLElement>('.feels button:enabled')]
      const own = rows.find((row) => row.ariaCurrent === 'true') ?? rows[0]
      own?.focus()
    }
  }

  #takeFeel(feel: Feel): void {
    if (feel.id !== this.page?.feel?.id) tell(this, 'edit-wanted', { kind: 'feel', id: feel.id } satisfies EditWanted)
    void this.#showFeels(false)
  }

  #feelKey(event: KeyboardEvent): void {
    if (!this.choosingFeel) return
    if (event.key === 'Escape') {
      event.stopPropagation()
      void this.#showFeels(false)
      return
    }
    const step = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0
    if (step === 0) return
    event.preventDefault()
    event.stopPropagation()
    const rows = [...this.renderRoot.querySelectorAll<HTMLElement>('.feels button:enabled')]
    const at = rows.indexOf((this.renderRoot as ShadowRoot).activeElement as HTMLElement)
    rows[Math.min(rows.length - 1, Math.max(0, at + step))]?.focus()
  }

  // Cells and patterns.

  #words(kind: Kind, page: ReadPage): TemplateResult {
    const { heading, one } = SAYINGS[kind]
    const ids = this.#feel?.[kind].map(({ id }) => id) ?? []
    // The wide ones last, so that the others stand in pairs.
    const offered = [...new Set([...ids, ...page[kind]])]
      .flatMap((text) => shownOf(kind, text))
      .sort((a, b) => Number(a.wide) - Number(b.wide))
    const isOpen = this.opened.has(kind)
    const changed = this.#feel !== undefined && !isSameSet(page[kind], ids)
    return html`<section aria-labelledby=${kind}>
      <div class="row">
        <h3 id=${kind}>${heading}</h3>
        ${
          changed
            ? html`<button class="quiet" @click=${() => this.#want(kind, [])}>the feel’s own</button>`
            : html`<button class="quiet" aria-pressed=${this.anew.has(kind)} @click=${() => this.#toggleAnew(kind)}>
                choose ${one}s
              </button>`
        }
      </div>
      <div class="words" role="group" aria-labelledby=${kind}>${offered.map((shown) => this.#toggle(kind, shown))}</div>
      ${kind === 'patterns' && offered.some(({ notation }) => APPROACH.test(notation)) ? html`<p class="help">The last one leads into the next chord: <i>h</i> by a half-step, <i>w</i> by a whole step, <i>s</i> by a step of the scale, <i>d</i> from its fifth.</p>` : nothing}
      <button class="quiet" aria-expanded=${isOpen} aria-controls="all-${kind}" @click=${() => this.#openAll(kind)}>
        ${isOpen ? 'fewer' : SAYINGS[kind].all}
      </button>
      <div id="all-${kind}" class="all" ?hidden=${!isOpen}>${isOpen ? this.#everything(kind, page) : nothing}</div>
    </section>`
  }

  #toggle(kind: Kind, shown: Shown, note = ''): TemplateResult {
    const on = !this.anew.has(kind) && (this.page?.[kind].includes(shown.word) ?? false)
    const look = kind === 'cells' ? 'cell' : 'chip'
    return html`<button
      class="figure ${look} ${shown.wide ? 'wide' : ''}"
      aria-pressed=${on}
      title=${note === '' && shown.tip !== '' ? shown.tip : nothing}
      @click=${() => this.#press(kind, shown, on)}
    ><span class="unseen">${shown.label}</span>${shown.picture}${note ? html`<small>${note}</small>` : nothing}</button>`
  }

  #press(kind: Kind, { word, notation }: Shown, on: boolean): void {
    tell(this, SAYINGS[kind].heard, { text: notation } satisfies WordHeard)
    const inForce = this.anew.has(kind) ? [] : this.page![kind]
    this.#want(kind, on ? inForce.filter((other) => other !== word) : [...inForce, word])
  }

  /** The feel's own cells, all of them, need no row in the text; patterns do: in a walking line only those that are named are in force. */
  #want(kind: Kind, words: readonly string[]): void {
    const ids = kind === 'cells' ? this.#feel?.cells.map(({ id }) => id) : undefined
    this.anew = without(this.anew, kind)
    tell(this, 'edit-wanted', { kind, words: ids && isSameSet(words, ids) ? [] : words } satisfies EditWanted)
  }

  #toggleAnew(kind: Kind): void {
    this.anew = this.anew.has(kind) ? without(this.anew, kind) : new Set([...this.anew, kind])
  }

  #openAll(kind: Kind): void {
    this.opened = this.opened.has(kind) ? without(this.opened, kind) : new Set([...this.opened, kind])
  }

  // All there are, and the player's own.

  #everything(kind: Kind, page: ReadPage): TemplateResult {
    const sought = this.sought[kind].trim().toLowerCase()
    const groups = groupsOf(kind, page)
      .map(({ name, words }) => ({ name, words: words.filter((one) => one.sought.includes(sought)) }))
      .filter(({ words }) => words.length > 0)
    return html`${this.#ownWord(kind, page)}
      <label class="own">find <input
        type="search"
        .value=${this.sought[kind]}
        @input=${(event: InputEvent) => {
          this.sought = { ...this.sought, [kind]: (event.target as HTMLInputElement).value }
        }}
      /></label>
      ${groups.map(
        ({ name, words }) => html`<h4>${name}</h4>
          <div class="words" role="group" aria-label=${name}>
            ${words.map((shown) => this.#toggle(kind, shown, shown.note))}
          </div>`,
      )}
      ${groups.length === 0 ? html`<p class="help">There is no ${SAYINGS[kind].one} like that.</p>` : nothing}`
  }

  #ownWord(kind: Kind, page: ReadPage): TemplateResult {
    const { own, example, one } = SAYINGS[kind]
    const text = this.own[kind].trim().replace(/\s+/g, ' ')
    const reading = text === '' ? undefined : readOwn(kind, text, page)
    return html`<form
      class="own"
      @submit=${(event: SubmitEvent) => {
        event.preventDefault()
        if (reading?.ok) this.#takeOwn(kind, reading.shown)
      }}
    >
      <label>${own} <input
        class="typed"
        placeholder=${example}
        autocomplete="off"
        autocapitalize="off"
        spellcheck="false"
        aria-describedby="own-${kind}"
        aria-invalid=${reading?.ok === false}
        .value=${this.own[kind]}
        @input=${(event: InputEvent) => {
          this.own = { ...this.own, [kind]: (event.target as HTMLInputElement).value }
        }}
      /></label>
      <div id="own-${kind}" role="status">${
        reading === undefined
          ? nothing
          : reading.ok
            ? html`<div class=${kind === 'cells' ? 'cell' : 'chip'} aria-hidden="true">${reading.shown.picture}</div>
                <span class="unseen">${reading.shown.label}</span>`
            : html`<p class="wrong">${reading.message}</p>`
      }</div>
      ${reading?.ok ? html`<button class="box">use this ${one}</button>` : nothing}
    </form>`
  }

  #takeOwn(kind: Kind, shown: Shown): void {
    this.own = { ...this.own, [kind]: '' }
    const on = !this.anew.has(kind) && this.page![kind].includes(shown.word)
    if (!on) this.#press(kind, shown, false)
  }
}

/** A page is read with every stroke of a key; what the idea is seldom changes. */
function saysOtherwise(now: ReadPage | undefined, before: ReadPage | undefined): boolean {
  const idea = ({ feel, metre, cells, patterns }: ReadPage) =>
    JSON.stringify([feel?.id, formatMetre(metre), cells, patterns])
  return now === undefined || before === undefined ? now !== before : idea(now) !== idea(before)
}

function cellShown(word: string, cell: Cell, notation: string, name: string): Shown {
  const wide = isWide(cell)
  const label = `cell: ${name === '' ? '' : `${name}, `}${spokenCell(cell)}`
  return { word, notation, wide, label, tip: name, picture: cellFigure(cell) }
}

function patternShown(word: string, tokens: readonly PatternToken[], notation: string, tip: string): Shown {
  return {
    word,
    notation,
    wide: tokens.length > 5,
    label: `pattern: ${spokenPattern(tokens)}`,
    tip,
    picture: html`${patternContour(tokens)}${patternDegrees(tokens)}`,
  }
}

/** A word of the text; none if it cannot be read, which the text itself says. */
function shownOf(kind: Kind, text: string): readonly Shown[] {
  if (kind === 'cells') {
    const named = cellOf(text)
    if (named) return [cellShown(text, named, named.notation, named.name)]
    const reading = parseCell(text)
    return reading.ok ? [cellShown(text, reading.cell, text, '')] : []
  }
  const named = patternOf(text)
  if (named) return [patternShown(text, named.tokens, named.text, named.purpose)]
  const reading = parsePattern(text)
  return reading.ok ? [patternShown(text, reading.tokens, text, '')] : []
}

type OwnReading = { readonly ok: true; readonly shown: Shown } | { readonly ok: false; readonly message: string }

/** What the player writes: what is named already is taken by its name. */
function readOwn(kind: Kind, text: string, page: ReadPage): OwnReading {
  const reading = kind === 'cells' ? parseCell(text) : parsePattern(text)
  if (!reading.ok)
    return { ok: false, message: `${reading.message.charAt(0).toUpperCase()}${reading.message.slice(1)}.` }
  if ('cell' in reading && !fitsBar(reading.cell, { metre: page.metre, ticks: barTicks(page.metre) }))
    return { ok: false, message: `This cell does not fill a bar of ${formatMetre(page.metre)}.` }
  const named =
    kind === 'cells'
      ? CELLS.find(({ notation }) => notation === text)
      : PATTERNS.find((pattern) => pattern.text === text)
  return { ok: true, shown: shownOf(kind, named?.id ?? text)[0]! }
}

/** Hundreds of figures: they are drawn when a list is opened first, and then kept. */
const drawnGroups = new Map<string, readonly Group[]>()

function groupsOf(kind: Kind, { metre }: ReadPage): readonly Group[] {
  const key = kind === 'patterns' ? kind : `${formatMetre(metre)} in ${metre.groups.join('+')}`
  const groups = drawnGroups.get(key) ?? (kind === 'patterns' ? patternGroups() : cellGroups(metre))
  drawnGroups.set(key, groups)
  return groups
}

/** Every cell that fills a bar of the metre, in the groups of the table. */
function cellGroups(metre: Metre): readonly Group[] {
  const bar = { metre, ticks: barTicks(metre) }
  const fitting = CELLS.filter((cell) => fitsBar(cell, bar))
  return [...new Set(fitting.map(({ group }) => group))].map((name) => ({
    name,
    words: fitting
      .filter(({ group }) => group === name)
      .map((cell) => ({
        ...cellShown(cell.id, cell, cell.notation, cell.name),
        sought: [cell.id, cell.name, cell.group, cell.notation, ...cell.feels].join(' ').toLowerCase(),
        note: '',
      })),
  }))
}

/** Every pattern, by the player it is for. */
function patternGroups(): readonly Group[] {
  return (['beginner', 'intermediate', 'advanced'] as const).map((level) => ({
    name: level,
    words: PATTERNS.filter((pattern) => pattern.level === level).map((pattern) => ({
      ...patternShown(pattern.id, pattern.tokens, pattern.text, pattern.purpose),
      wide: true,
      sought: [pattern.id, pattern.text, pattern.purpose, pattern.families, pattern.feels]
        .flat()
        .join(' ')
        .toLowerCase(),
      note: pattern.purpose,
    })),
  }))
}

function without<T>(set: ReadonlySet<T>, one: T): ReadonlySet<T> {
  return new Set([...set].filter((other) => other !== one))
}

function isSameSet(a: readonly string[], b: readonly string[]): boolean {
  return a.length === b.length && a.every((one) => b.includes(one))
}

declare global {
  interface HTMLElementTagNameMap {
    'idea-leaf': IdeaLeaf
  }
}
