import {
  history,
  historyKeymap,
  isolateHistory,
  redo,
  redoDepth,
  standardKeymap,
  undo,
  undoDepth,
} from '@codemirror/commands'
import { Annotation, EditorState, type Extension, Prec, StateEffect, Transaction } from '@codemirror/state'
import { EditorView, keymap, placeholder, type ViewUpdate } from '@codemirror/view'
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit'
import { customElement, property, state } from 'lit/decorators.js'
import type { Diagnostic } from '../chart/diagnostic.ts'
import type { TextEdit } from '../chart/header-edit.ts'
import type { Span } from '../chart/span.ts'
import { CHANGES_HEAD, changesHead, headOf, openHead } from './changes-head.ts'
import { CHANGES_LANGUAGE } from './changes-language.ts'
import { CHANGES_MARKS, changesMarks, saidNow, setDiagnostics, setLit } from './changes-marks.ts'
import { box, plain, quiet, still } from './controls.ts'
import { tell } from './tell.ts'

/** `text-changed`: the player, or a control, has changed the text. */
export interface TextChanged {
  readonly text: string
}

/** `history-changed`: whether there is anything to undo or redo. */
export interface HistoryChanged {
  readonly canUndo: boolean
  readonly canRedo: boolean
}

/** A text that was handed in: its owner knows it already. */
const handedIn = Annotation.define<boolean>()

/** A step of its own in the history, whatever is typed before and after it. */
const OWN_STEP = isolateHistory.of('full')

const LOOK = EditorView.theme({
  '&': { color: 'var(--ink)', backgroundColor: 'transparent' },
  '&.cm-focused': { outline: 'none' },
  '.cm-scroller': {
    fontFamily: 'var(--typed)',
    fontSize: 'var(--typed-size)',
    lineHeight: '1.68',
    overflow: 'visible',
  },
  '.cm-content': { padding: '7px 0 6px', caretColor: 'var(--ink)', fontVariantNumeric: 'lining-nums' },
  // A row that is too long goes on a little further in.
  '.cm-line': { padding: '0 0 0 2ch', textIndent: '-2ch' },
  '.cm-line ::selection, .cm-line::selection': { backgroundColor: 'var(--graphite-wash)', color: 'inherit' },
  '.cm-placeholder': { color: 'var(--ink-3)', textIndent: '0' },
  '.cm-wrong': {
    textDecoration: 'underline wavy var(--red) 1.5px',
    textUnderlineOffset: '4px',
    textDecorationSkipInk: 'none',
  },
  '.cm-hint': { textDecoration: 'underline dotted var(--graphite) 1.5px', textUnderlineOffset: '4px' },
  '.cm-lit': { backgroundColor: 'var(--lamp)', boxShadow: '0 0 0 3px var(--lamp)' },
  '.cm-head': {
    overflowWrap: 'anywhere',
    fontFamily: 'var(--book)',
    fontSize: 'var(--t-1)',
    fontStyle: 'italic',
    color: 'var(--ink-2)',
    cursor: 'text',
  },
  '.cm-head:hover': { backgroundColor: 'var(--graphite-wash)' },
})

/**
 * The changes as they are typed, and what is to be said about them.
 *
 * The text is the document: whatever changes it, typing, a fix or a control elsewhere on the page, is a step of its one history.
 *
 * @fires text-changed     {@link TextChanged}
 * @fires history-changed  {@link HistoryChanged}
 */
@customElement('changes-editor')
export class ChangesEditor extends LitElement {
  static override styles = [
    plain,
    box,
    quiet,
    css`
      :host {
        display: block;
        --typed-size: var(--t-1);
      }
      .typed {
        border-block: 1px solid var(--hair);
      }
      .typed:has(:focus-visible) {
        outline: 2px solid var(--ink);
        outline-offset: 3px;
        border-radius: 2px;
      }
      .said {
        margin: 9px 0 12px;
        padding-left: 12px;
        border-left: 3px solid var(--red);
        font-size: var(--t-1);
        line-height: 1.4;
      }
      .said.hint {
        border-left-color: var(--hair);
        color: var(--ink-2);
      }
      .said p {
        margin: 0;
        overflow-wrap: anywhere;
      }
      .fixes {
        display: flex;
        flex-wrap: wrap;
        gap: 8px;
        margin-top: 8px;
      }
      .fixes .box {
        font-family: var(--typed);
        color: var(--ink);
      }
      @media (pointer: coarse) {
        :host {
          /* below 16 px a phone enlarges the page when the text is touched */
          --typed-size: max(16px, var(--t-1));
        }
      }
      @media (max-width: 1100px), (pointer: coarse) {
        .typed .cm-editor .cm-head {
          padding: calc((var(--touch) - 1.4em) / 2) 0;
          line-height: 1.4;
        }
      }
      @media (forced-colors: active) {
        .typed .cm-editor .cm-lit {
          outline: 2px solid Highlight;
        }
      }
    `,
    still,
  ]

  /** The chart. Set from outside it is one step that can be undone; what is the same already changes nothing. */
  @property() text = ''
  /** What is to be said about the text, in its order. */
  @property({ attribute: false }) diagnostics: readonly Diagnostic[] = []
  /** The bar that sounds. */
  @property({ attribute: false }) litSpan: Span | undefined

  @state() private said: readonly Diagnostic[] = []

  #view: EditorView | undefined
  #left: EditorState | undefined
  /** the cursor is where a player put it; what is said stays when the focus goes on to a fix */
  #entered = false
  /** the cursor came to a chord that was pressed on the part, and has not left it */
  #shownSpan = false
  #canUndo = false
  #canRedo = false

  get canUndo(): boolean {
    return this.#canUndo
  }

  get canRedo(): boolean {
    return this.#canRedo
  }

  /** Takes back the last step; `false` if there is none. */
  undo(): boolean {
    return this.#view !== undefined && undo(this.#view)
  }

  /** Does again what was taken back last; `false` if there is nothing. */
  redo(): boolean {
    return this.#view !== undefined && redo(this.#view)
  }

  /** Makes edits of a control, which count places in `text` and do not overlap, as one step. */
  apply(edits: TextEdit | readonly TextEdit[]): void {
    const view = this.#view
    if (!view) throw new RangeError('The editor takes edits when it is on the page, and it is not.')
    const list = 'insert' in edits ? [edits] : edits
    const changes = list
      .filter(({ from, to, insert }) => from < to || insert !== '')
      .map(({ from, to, insert }) => ({ from: this.#placeOf(from), to: this.#placeOf(to), insert }))
    if (changes.length > 0) view.dispatch({ changes, annotations: OWN_STEP, userEvent: 'control' })
  }

  /** Selects a stretch of the text, brings it into sight and takes the focus. */
  showSpan(span: Span): void {
    if (this.#view) this.#show(this.#spanOf(span))
  }

  #show({ from: anchor, to: head }: Span): void {
    const view = this.#view!
    const { head: headers } = headOf(view.state)
    const effects = [EditorView.scrollIntoView(anchor, { y: 'center' })]
    if (headers && anchor <= headers.to && head >= headers.from) effects.push(openHead.of(true))
    view.dispatch({ selection: { anchor, head }, effects })
    view.focus()
    this.#shownSpan = true
  }

  override focus(): void {
    this.#view?.focus()
  }

  override connectedCallback(): void {
    super.connectedCallback()
    this.requestUpdate()
  }

  /** The state stays, history and all, for when the element comes back to another place. */
  override disconnectedCallback(): void {
    super.disconnectedCallback()
    this.#left = this.#view?.state
    this.#view?.destroy()
    this.#view = undefined
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    const isNew = this.#view === undefined
    this.#view ??= this.#open()
    if (changed.has('text')) this.#take(this.text)
    if (isNew || changed.has('diagnostics'))
      this.#view.dispatch({ effects: setDiagnostics.of(this.#placed(this.diagnostics)) })
    if (isNew || changed.has('litSpan'))
      this.#view.dispatch({ effects: setLit.of(this.litSpan && this.#spanOf(this.litSpan)) })
  }

  protected override render(): TemplateResult {
    return html`
      <div class="typed">${this.#view?.dom}</div>
      <div id="said" role="status">${this.said.map((diagnostic, index) => this.#saying(diagnostic, index === 0))}</div>
      ${
        this.diagnostics.length > this.said.length
          ? html`<button class="quiet" @click=${() => this.#showNext()}>next of ${this.diagnostics.length}</button>`
          : nothing
      }
    `
  }

  #saying(diagnostic: Diagnostic, first: boolean): TemplateResult {
    const { severity, message, fixes } = diagnostic
    return html`<div class="said ${severity === 'hint' ? 'hint' : ''}">
      <p>${message}</p>
      ${
        fixes.length === 0
          ? nothing
          : html`<div class="fixes" role="group" aria-label="Put right">
              ${fixes.map(
                (fix, index) =>
                  html`<button
                    class="box"
                    aria-keyshortcuts=${first && index === 0 ? 'Alt+Enter' : nothing}
                    title=${first && index === 0 ? 'Alt Enter' : nothing}
                    @click=${() => this.#fix(diagnostic, fix)}
                  >
                    ${fix}
                  </button>`,
              )}
            </div>`
      }
    </div>`
  }

  // The editor itself.

  #open(): EditorView {
    const state =
      this.#left ??
      EditorState.create({
        doc: this.text,
        selection: { anchor: startOfMusic(toRows(this.text)) },
        extensions: this.#extensions(),
      })
    return new EditorView({ root: this.renderRoot as ShadowRoot, state })
  }

  #extensions(): Extension {
    return [
      history({ newGroupDelay: 700, minDepth: 10_000 }),
      Prec.high(
        keymap.of([
          { key: 'Escape', run: (view) => this.#leave(view) },
          // A chord that was pressed on the part is written when Enter says so; elsewhere Enter ends a row.
          { key: 'Enter', run: (view) => this.#shownSpan && this.#leave(view) },
          { key: 'Alt-Enter', run: () => this.#fixFirst() },
          { key: 'Mod-Shift-z', run: redo, preventDefault: true },
        ]),
      ),
      keymap.of([...standardKeymap, ...historyKeymap]),
      EditorView.lineWrapping,
      EditorView.contentAttributes.of({
        'aria-label': 'Changes',
        'aria-describedby': 'said',
        autocapitalize: 'off',
        autocorrect: 'off',
        spellcheck: 'false',
      }),
      placeholder('| F7 | Bb7 | F7 | C7 |'),
      CHANGES_LANGUAGE,
      CHANGES_MARKS,
      CHANGES_HEAD,
      LOOK,
      EditorView.updateListener.of((update) => this.#afterUpdate(update)),
    ]
  }

  #afterUpdate(update: ViewUpdate): void {
    const { state: now } = update
    if (update.docChanged) {
      const text = this.#textOf(now)
      const told = update.transactions.some((transaction) => transaction.annotation(handedIn))
      if (!told) {
        this.text = text
        tell(this, 'text-changed', { text } satisfies TextChanged)
      }
    }
    const canUndo = undoDepth(now) > 0
    const canRedo = redoDepth(now) > 0
    if (canUndo !== this.#canUndo || canRedo !== this.#canRedo) {
      this.#canUndo = canUndo
      this.#canRedo = canRedo
      tell(this, 'history-changed', { canUndo, canRedo } satisfies HistoryChanged)
    }
    const { diagnostics } = now.field(changesMarks)
    if (update.focusChanged || update.transactions.some((step) => step.isUserEvent('select'))) {
      this.#shownSpan &&= update.view.hasFocus && !update.transactions.some((step) => step.isUserEvent('select'))
    }
    if (update.view.hasFocus && !this.#entered) {
      this.#entered = true
      void this.#loadCompletion()
    }
    const cursor = this.#entered ? now.selection.main.head : undefined
    const row = cursor === undefined ? undefined : now.doc.lineAt(cursor)
    const said = saidNow(diagnostics, cursor, row)
    if (said.length !== this.said.length || said.some((one, index) => !isSame(one, this.said[index]))) this.said = said
  }

  /** Nobody needs it before the first letter. */
  async #loadCompletion(): Promise<void> {
    const { CHANGES_COMPLETION } = await import('./changes-completion.ts')
    this.#view?.dispatch({ effects: StateEffect.appendConfig.of(CHANGES_COMPLETION) })
  }

  /** A text handed in: only what differs is exchanged, so that the cursor stays. */
  #take(text: string): void {
    const view = this.#view!
    if (text === this.#textOf(view.state)) return
    const before = view.state.doc.toString()
    const after = toRows(text)
    const most = Math.min(before.length, after.length)
    let from = 0
    while (from < most && before[from] === after[from]) from++
    let tail = 0
    while (tail < most - from && before.at(-1 - tail) === after.at(-1 - tail)) tail++
    const isFirst = before === '' && undoDepth(view.state) === 0
    view.dispatch({
      changes: { from, to: before.length - tail, insert: after.slice(from, after.length - tail) },
      ...(isFirst || from === 0 ? { selection: { anchor: startOfMusic(after) } } : {}),
      annotations: [OWN_STEP, handedIn.of(true), Transaction.addToHistory.of(!isFirst)],
    })
  }

  // Line ends: the editor counts each as one sign, and gives back those it was given.

  #textOf(now: EditorState): string {
    const text = now.doc.toString()
    return this.#lineEnd === '\n' ? text : text.replaceAll('\n', this.#lineEnd)
  }

  get #lineEnd(): string {
    return /\r\n|\n/.exec(this.text)?.[0] ?? '\n'
  }

  #placeOf(place: number): number {
    if (!this.text.includes('\r\n')) return place
    return this.text.slice(0, place).replaceAll('\r\n', '\n').length
  }

  #spanOf({ from, to }: Span): Span {
    return { from: this.#placeOf(from), to: this.#placeOf(to) }
  }

  #placed(diagnostics: readonly Diagnostic[]): readonly Diagnostic[] {
    const length = this.#view!.state.doc.length
    return diagnostics
      .map((diagnostic) => ({ ...diagnostic, span: this.#spanOf(diagnostic.span) }))
      .filter(({ span }) => span.to <= length)
  }

  // Keys and presses.

  #fix({ span, fixSpan }: Diagnostic, fix: string): void {
    const view = this.#view!
    const { from, to } = fixSpan ?? span
    view.dispatch({
      changes: { from, to, insert: fix },
      selection: { anchor: from + fix.length },
      annotations: OWN_STEP,
      userEvent: 'input.fix',
      scrollIntoView: true,
    })
    view.focus()
  }

  /** The next thing that is said, and after the last the first. */
  #showNext(): void {
    const { diagnostics } = this.#view!.state.field(changesMarks)
    const said = this.said.at(-1)
    const at = diagnostics.findIndex((diagnostic) => said !== undefined && isSame(diagnostic, said))
    const next = diagnostics[(at + 1) % diagnostics.length]
    if (next) this.#show(next.span)
  }

  #fixFirst(): boolean {
    const fixable = this.said.find(({ fixes }) => fixes.length > 0)
    if (!fixable) return false
    this.#fix(fixable, fixable.fixes[0]!)
    return true
  }

  #leave(view: EditorView): boolean {
    this.#shownSpan = false
    view.dispatch({ effects: openHead.of(false) })
    view.contentDOM.blur()
    return true
  }
}

/** The text with the line ends that the editor counts. */
function toRows(text: string): string {
  return text.replace(/\r\n?/g, '\n')
}

/** Where the first row below the headers begins. */
function startOfMusic(text: string): number {
  const head = changesHead(text)
  if (!head) return 0
  const music = /\S/.exec(text.slice(head.to))
  return music ? head.to + music.index : text.length
}

function isSame(a: Diagnostic, b: Diagnostic | undefined): boolean {
  return b !== undefined && a.message === b.message && a.span.from === b.span.from && a.span.to === b.span.to
}

declare global {
  interface HTMLElementTagNameMap {
    'changes-editor': ChangesEditor
  }
}
