import { css, html, LitElement, type TemplateResult } from 'lit'
import { customElement, property } from 'lit/decorators.js'
import type { PartName } from '../music/arrangement.ts'
import { plain, still } from './controls.ts'
import { tell } from './tell.ts'

/** How loud a part is to be. */
export interface PartLevelChange {
  readonly part: PartName
  /** decibels against the usual level */
  readonly decibels: number
  readonly muted: boolean
}

/** A part is to be heard alone, or all again. */
export type SoloWanted = Pick<PartLevelChange, 'part'>

/** The softest and the loudest that a level can be set to, in decibels. Source: our design choice; the limiter stands behind it. */
export const LEVEL = { from: -30, to: 6 }

/** How long a name is held for a solo, ms. */
const HELD_MS = 500

/**
 * The level of one part: its name mutes it, held or with Shift it plays alone; the rule under it is a slider. Fires `level-changed`
 * with {@link PartLevelChange} and `solo-wanted` with {@link SoloWanted}.
 */
@customElement('part-level')
export class PartLevel extends LitElement {
  @property() who: PartName = 'bass'
  @property() name = 'Bass'
  @property({ type: Number }) decibels = 0
  @property({ type: Boolean }) muted = false
  /** another part plays alone, so this one is not heard */
  @property({ type: Boolean }) silenced = false
  #held: ReturnType<typeof setTimeout> | undefined

  static override styles = [
    plain,
    css`
      :host {
        display: grid;
        align-content: center;
        width: max(74px, 4.625rem);
        min-height: 44px;
        font-size: var(--t-1);
        line-height: 1.2;
      }
      button {
        justify-self: start;
        padding-bottom: 2px;
        touch-action: manipulation;
        user-select: none;
      }
      button:hover {
        background-color: var(--graphite-wash);
      }
      button[aria-pressed='true'] {
        color: var(--ink-3);
        text-decoration: line-through;
      }
      .silenced {
        color: var(--ink-3);
      }
      input {
        width: 100%;
        height: 16px;
        appearance: none;
        cursor: pointer;
      }
      input::-webkit-slider-runnable-track {
        height: 3px;
        border-radius: 2px;
        background: linear-gradient(var(--ink), var(--ink)) 0 / var(--filled) 100% no-repeat, var(--hair);
      }
      input::-moz-range-track {
        height: 3px;
        border-radius: 2px;
        background: linear-gradient(var(--ink), var(--ink)) 0 / var(--filled) 100% no-repeat, var(--hair);
      }
      input::-webkit-slider-thumb {
        appearance: none;
        width: 3px;
        height: 14px;
        margin-top: -5.5px;
        background: var(--ink);
      }
      input::-moz-range-thumb {
        width: 3px;
        height: 14px;
        border: 0;
        border-radius: 0;
        background: var(--ink);
      }
      @media (pointer: coarse) {
        :host(:not([wide])) button {
          display: grid;
          align-content: end;
          width: 100%;
          min-height: 44px;
        }
        :host(:not([wide])) input {
          height: 44px;
          padding-bottom: 24px;
        }
      }
      :host([wide]) {
        grid-template-columns: minmax(96px, auto) 1fr;
        align-items: center;
        gap: 0 8px;
        width: 100%;
        min-height: 48px;
        font-size: var(--t-2);
      }
      :host([wide]) button {
        min-height: 44px;
        width: 100%;
      }
      :host([wide]) input {
        height: 44px;
      }
      @media (forced-colors: active) {
        input {
          forced-color-adjust: none;
        }
      }
    `,
    still,
  ]

  protected override render(): TemplateResult {
    return html`
      <button
        class=${this.silenced ? 'silenced' : ''}
        aria-pressed=${this.muted}
        aria-label="${this.name}: mute${this.silenced ? ', not heard: another plays alone' : ''}"
        aria-description="with Shift, or held: alone"
        @click=${this.#press}
        @pointerdown=${this.#hold}
        @pointerup=${this.#release}
        @pointerleave=${this.#release}
        @pointercancel=${this.#release}
      >${this.name}</button>
      <input
        type="range"
        min=${LEVEL.from}
        max=${LEVEL.to}
        step="1"
        aria-label="${this.name}: level in decibels"
        .value=${String(this.decibels)}
        @input=${(event: Event) => this.#changed(Number((event.target as HTMLInputElement).value), this.muted)}
      />
    `
  }

  protected override updated(): void {
    // Set from here: the page's content policy lets no style attribute through.
    const filled = (100 * (this.decibels - LEVEL.from)) / (LEVEL.to - LEVEL.from)
    this.renderRoot.querySelector('input')?.style.setProperty('--filled', `${filled}%`)
  }

  override focus(): void {
    this.renderRoot.querySelector('button')?.focus()
  }

  #changed(decibels: number, muted: boolean): void {
    tell(this, 'level-changed', { part: this.who, decibels, muted })
  }

  #solo(): void {
    tell(this, 'solo-wanted', { part: this.who })
  }

  #wasHeld = false
  readonly #hold = (event: PointerEvent): void => {
    this.#wasHeld = false
    if (event.button !== 0) return
    this.#held = setTimeout(() => {
      this.#wasHeld = true
      this.#solo()
    }, HELD_MS)
  }
  readonly #release = (): void => clearTimeout(this.#held)
  readonly #press = (event: MouseEvent): void => {
    // The press that ends a hold has done its work; a press of a key is none of it.
    if (this.#wasHeld && event.detail > 0) this.#wasHeld = false
    else if (event.shiftKey) this.#solo()
    else this.#changed(this.decibels, !this.muted)
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'part-level': PartLevel
  }
}
