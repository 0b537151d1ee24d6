import { css, html, LitElement, type TemplateResult } from 'lit'
import { customElement, property, state } from 'lit/decorators.js'
import { plain, still, word } from './controls.ts'
import { tell } from './tell.ts'

/** Another tempo is wanted: beats a minute, within {@link TEMPO}. */
export interface TempoWanted {
  readonly bpm: number
}

/** What was written is no tempo. */
export interface TempoRefused {
  readonly text: string
}

/** What a chart may say. Source: `tempo:` of the chart language. */
export const TEMPO = { from: 20, to: 400 }

/**
 * The tempo: less, the figure itself, more. The figure opens as a field; Up and Down change it by one, with Shift by five. Fires
 * `tempo-wanted` with {@link TempoWanted} and `tempo-refused` with {@link TempoRefused}.
 */
@customElement('tempo-field')
export class TempoField extends LitElement {
  @property({ type: Number }) bpm = 120
  /** the figure alone, without its two signs */
  @property({ type: Boolean }) brief = false
  @state() private open = false

  static override styles = [
    plain,
    word,
    css`
      :host {
        display: flex;
        align-items: center;
        font-family: var(--part);
        font-size: 1.1875rem;
        font-weight: 600;
        font-variant-numeric: lining-nums tabular-nums;
      }
      .sign {
        display: grid;
        place-items: center;
        flex: none;
        width: 34px;
        min-height: 44px;
        border-radius: var(--radius);
        font-size: var(--t-3);
        font-weight: 500;
      }
      .sign:hover {
        background-color: var(--graphite-wash);
      }
      input {
        width: 3.2em;
        border-bottom: 1.5px solid var(--ink);
        text-align: center;
        appearance: textfield;
      }
      @media (max-width: 1100px), (pointer: coarse) {
        .sign {
          width: 44px;
        }
        .word {
          min-width: 44px;
          text-align: center;
        }
      }
    `,
    still,
  ]

  protected override render(): TemplateResult {
    const figure = this.open
      ? html`<input
          inputmode="numeric"
          aria-label="tempo in beats a minute, ${TEMPO.from} to ${TEMPO.to}"
          .value=${String(this.bpm)}
          @keydown=${this.#key}
          @blur=${this.#take}
        />`
      : html`<button class="word" aria-label="tempo: ${this.bpm} beats a minute" @click=${this.edit} @keydown=${this.#key}>${this.bpm}</button>`
    if (this.brief) return figure
    return html`
      <button class="sign" aria-label="slower" @click=${(event: MouseEvent) => this.#by(event.shiftKey ? -5 : -1)}>−</button>
      ${figure}
      <button class="sign" aria-label="faster" @click=${(event: MouseEvent) => this.#by(event.shiftKey ? 5 : 1)}>+</button>
    `
  }

  /** Opens the figure as a field, with the focus in it. */
  readonly edit = (): void => {
    this.open = true
    void this.updateComplete.then(() => {
      const field = this.renderRoot.querySelector('input')
      field?.focus()
      field?.select()
    })
  }

  #by(step: number): void {
    this.#want(this.bpm + step)
  }

  #want(bpm: number): void {
    const within = Math.min(TEMPO.to, Math.max(TEMPO.from, Math.round(bpm)))
    if (Number.isFinite(within) && within !== this.bpm) tell(this, 'tempo-wanted', { bpm: within })
  }

  readonly #take = (): void => {
    const field = this.renderRoot.querySelector('input')
    if (!this.open || !field) return
    this.open = false
    const bpm = Number(field.value.replace(',', '.'))
    if (field.value.trim() === '') return
    if (bpm >= TEMPO.from && bpm <= TEMPO.to) this.#want(bpm)
    else tell(this, 'tempo-refused', { text: field.value.trim() } satisfies TempoRefused)
  }

  readonly #key = (event: KeyboardEvent): void => {
    const step = event.shiftKey ? 5 : 1
    if (event.key === 'ArrowUp' || event.key === 'ArrowDown') {
      event.preventDefault()
      this.#by(event.key === 'ArrowUp' ? step : -step)
    } else if (this.open && (event.key === 'Enter' || event.key === 'Escape')) {
      event.stopPropagation()
      // The word that takes the focus is not to be pressed by the same key.
      event.preventDefault()
      if (event.key === 'Escape') this.open = false
      else this.#take()
      void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>('.word')?.focus())
    }
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'tempo-field': TempoField
  }
}
