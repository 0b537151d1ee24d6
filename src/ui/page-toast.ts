import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import { customElement, property } from 'lit/decorators.js'
import { plain, still } from './controls.ts'
import { tell } from './tell.ts'

/** How long a sentence stays, ms; while it has the focus or the pointer it stays. */
const STAYS_MS = 6000

/**
 * One sentence over the transport, with one word that does something about it. Fires `toast-pressed` with the word, and `toast-read`
 * when the sentence has been there long enough.
 */
@customElement('page-toast')
export class PageToast extends LitElement {
  /** empty: nothing is shown */
  @property() text = ''
  /** rises with every sentence, so that the same one again stays as long as a new one */
  @property({ type: Number }) turn = 0
  /** the word to press; empty: none */
  @property() action = ''
  #timer: ReturnType<typeof setTimeout> | undefined

  static override styles = [
    plain,
    css`
      :host {
        position: absolute;
        z-index: 8;
        inset: auto 16px calc(100% + 12px);
        display: flex;
        justify-content: center;
        pointer-events: none;
      }
      p {
        display: flex;
        margin: 0;
        gap: 18px;
        align-items: center;
        max-width: 66ch;
        padding: 11px 18px 10px;
        border: 1px solid var(--ink);
        border-radius: var(--radius);
        background-color: var(--ink);
        color: var(--paper);
        font-size: var(--t-1);
        line-height: 1.4;
        pointer-events: auto;
      }
      button {
        flex: none;
        min-width: 44px;
        min-height: 44px;
        margin: -10px 0 -9px;
        border-bottom: 0;
        font-style: italic;
        text-decoration: underline 1px;
        text-underline-offset: 4px;
      }
      @media (forced-colors: active) {
        p {
          forced-color-adjust: none;
        }
      }
      :focus-visible {
        outline-color: var(--paper);
        outline-offset: -4px;
      }
    `,
    still,
  ]

  protected override render(): TemplateResult {
    // The place itself is always there, so that a reader hears what comes into it.
    return html`<div role="status">${this.text === '' ? nothing : this.#sentence()}</div>`
  }

  #sentence(): TemplateResult {
    return html`<p @pointerenter=${this.#hold} @focusin=${this.#hold} @pointerleave=${this.#run} @focusout=${this.#run}>
      <span>${this.text}</span>
      ${this.action === '' ? nothing : html`<button @click=${() => tell(this, 'toast-pressed')}>${this.action}</button>`}
    </p>`
  }

  protected override updated(changed: Map<PropertyKey, unknown>): void {
    if (changed.has('turn')) this.#run()
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    this.#hold()
  }

  readonly #hold = (): void => clearTimeout(this.#timer)
  readonly #run = (): void => {
    clearTimeout(this.#timer)
    const isRead = this.renderRoot.querySelector('p')?.matches(':hover, :focus-within')
    if (this.text !== '' && !isRead) this.#timer = setTimeout(() => tell(this, 'toast-read'), STAYS_MS)
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'page-toast': PageToast
  }
}
