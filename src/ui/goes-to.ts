import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import { customElement, property, state } from 'lit/decorators.js'
import { plain, quiet, still, word } from './controls.ts'
import { tell } from './tell.ts'

/** A place that sound can go to. */
export interface Destination {
  readonly id: string
  readonly name: string
}

/** Another place was chosen. */
export interface DestinationChosen {
  readonly id: string
}

/**
 * Where sound goes: a word that opens the list of places. Fires `destination-chosen` with {@link DestinationChosen}, `ports-wanted`
 * where the machine is to be searched for MIDI ports, and `silence-wanted` where a note hangs.
 */
@customElement('goes-to')
export class GoesTo extends LitElement {
  @property({ attribute: false }) destinations: readonly Destination[] = []
  @property() chosen = ''
  /** MIDI ports were looked for and may be used */
  @property({ type: Boolean }) portsKnown = false
  /** nobody beside it says that sound can be loud */
  @property({ type: Boolean }) alone = false
  @state() private open = false

  static override styles = [
    plain,
    word,
    quiet,
    css`
      :host {
        position: relative;
        display: block;
      }
      .word {
        max-width: 100%;
        overflow-wrap: anywhere;
      }
      ul {
        position: absolute;
        z-index: 9;
        bottom: calc(100% + 6px);
        left: -12px;
        min-width: 240px;
        max-height: calc(100dvh - 120px);
        overflow: auto;
        margin: 0;
        padding: 6px 12px 8px;
        border-top: 3px solid var(--ink);
        background-color: var(--lift);
        list-style: none;
      }
      /* In a leaf it opens where it stands, and scrolls with the leaf: over it, its upper end would be out of reach. */
      @media (max-width: 1100px) {
        ul {
          position: static;
          min-width: min(240px, 100%);
          margin-top: 8px;
        }
      }
      @media (forced-colors: active) {
        ul {
          border: 1px solid CanvasText;
        }
      }
      li + li {
        border-top: 1px solid var(--hair);
      }
      li button {
        width: 100%;
        min-height: 44px;
        line-height: 1.25;
      }
      li button:hover {
        background-color: var(--graphite-wash);
      }
      [aria-current='true'] {
        font-weight: 600;
      }
      .quiet {
        font-size: var(--t-1);
      }
      .caution {
        padding: 8px 0 2px;
        color: var(--ink-2);
        font-size: var(--t-0);
        line-height: 1.3;
      }
    `,
    still,
  ]

  protected override render(): TemplateResult {
    const name = this.destinations.find(({ id }) => id === this.chosen)?.name ?? ''
    return html`
      <button class="word" aria-expanded=${this.open} aria-label="sound goes to: ${name}" @click=${() => {
        this.open = !this.open
      }}>${name}</button>
      ${this.open ? this.#list() : nothing}
    `
  }

  #list(): TemplateResult {
    return html`
      <ul @keydown=${this.#key} @focusout=${this.#left}>
        ${this.destinations.map(
          ({ id, name }) =>
            html`<li><button aria-current=${id === this.chosen} @click=${() => this.#choose(id)}>${name}</button></li>`,
        )}
        <li><button class="quiet" @click=${this.#look}>${this.portsKnown ? 'look for MIDI ports again' : 'look for MIDI ports'}</button></li>
        <li><button class="quiet" @click=${() => tell(this, 'silence-wanted')}>all notes off</button></li>
        ${this.alone ? html`<li class="caution">Start low: headphones and a bass are loud together.</li>` : nothing}
      </ul>
    `
  }

  override connectedCallback(): void {
    super.connectedCallback()
    addEventListener('pointerdown', this.#elsewhere)
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    removeEventListener('pointerdown', this.#elsewhere)
  }

  readonly #elsewhere = (event: PointerEvent): void => {
    if (!event.composedPath().includes(this)) this.open = false
  }

  protected override updated(changed: Map<PropertyKey, unknown>): void {
    if (changed.has('open') && this.open) this.renderRoot.querySelector<HTMLElement>('li button')?.focus()
  }

  #choose(id: string): void {
    this.#shut()
    tell(this, 'destination-chosen', { id })
  }

  readonly #look = (): void => {
    tell(this, 'ports-wanted')
  }

  readonly #key = (event: KeyboardEvent): void => {
    if (event.key === 'Escape') {
      event.stopPropagation()
      this.#shut()
    }
    if (event.key !== 'ArrowDown' && event.key !== 'ArrowUp') return
    const all = [...this.renderRoot.querySelectorAll<HTMLElement>('li button')]
    const at = all.indexOf(event.target as HTMLElement)
    all[(at + (event.key === 'ArrowDown' ? 1 : all.length - 1)) % all.length]?.focus()
    event.preventDefault()
  }

  readonly #left = (event: FocusEvent): void => {
    if (event.relatedTarget && !this.renderRoot.contains(event.relatedTarget as Node)) this.open = false
  }

  #shut(): void {
    this.open = false
    this.renderRoot.querySelector<HTMLElement>('.word')?.focus()
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'goes-to': GoesTo
  }
}
