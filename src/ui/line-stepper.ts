import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import { customElement, property } from 'lit/decorators.js'
import { plain, still } from './controls.ts'
import { tell } from './tell.ts'

/** Another of the lines is wanted, from 0. */
export interface LineWanted {
  readonly index: number
}

/** Which of the lines is on the page, and the way to its neighbours. Fires `line-wanted` with {@link LineWanted}. */
@customElement('line-stepper')
export class LineStepper extends LitElement {
  /** from 0 */
  @property({ type: Number }) index = 0
  @property({ type: Number }) count = 0
  /** more are being looked for, or a better one */
  @property({ type: Boolean }) searching = false

  static override styles = [
    plain,
    css`
      :host {
        display: flex;
        align-items: center;
        font-family: var(--part);
        font-size: 1.3125rem;
        font-weight: 600;
        font-variant-numeric: lining-nums tabular-nums;
        white-space: nowrap;
      }
      button {
        display: grid;
        place-items: center;
        flex: none;
        width: 34px;
        height: 44px;
        border-radius: var(--radius);
      }
      button:hover:enabled {
        background-color: var(--graphite-wash);
      }
      button:disabled {
        color: var(--ink-3);
      }
      path {
        fill: none;
        stroke: currentcolor;
        stroke-width: 1.8;
      }
      .of {
        position: relative;
        min-width: 3.2em;
        text-align: center;
        pointer-events: none;
      }
      .all {
        color: var(--ink-3);
        font-weight: 500;
      }
      /* a pencil dash that wavers: something is still being looked for */
      .dash {
        position: absolute;
        left: 50%;
        bottom: -7px;
        width: 26px;
        margin-left: -13px;
        overflow: visible;
        stroke: var(--graphite);
      }
      @media (max-width: 1100px), (pointer: coarse) {
        button {
          width: 44px;
        }
      }
      @media (max-width: 560px) {
        :host {
          font-size: 1.125rem;
          line-height: 1.15;
          white-space: normal;
        }
        .of {
          min-width: min-content;
        }
      }
      @media (max-width: 374px) {
        button {
          margin: 0 -7px;
        }
      }
    `,
    still,
  ]

  protected override render(): TemplateResult {
    const { index, count } = this
    const step = (to: number) => () => tell(this, 'line-wanted', { index: to })
    return html`
      <button aria-label="line before" ?disabled=${index === 0} @click=${step(index - 1)}>
        <svg viewBox="0 0 12 16" width="12" height="16" aria-hidden="true"><path d="M9 2 3 8l6 6" /></svg>
      </button>
      <span class="of">
        <span class="unseen">line </span>${count === 0 ? '–' : index + 1}<span class="all" aria-hidden="true"> / ${count}</span><span class="unseen"> of ${count}${this.searching ? ', still looking' : ''}</span>
        ${this.searching ? html`<svg class="dash" viewBox="0 0 26 4" height="4" aria-hidden="true"><path d="M1 2.4q6-1.8 12-.4t12 0" /></svg>` : nothing}
      </span>
      <button aria-label="line after" ?disabled=${index + 1 >= count} @click=${step(index + 1)}>
        <svg viewBox="0 0 12 16" width="12" height="16" aria-hidden="true"><path d="m3 2 6 6-6 6" /></svg>
      </button>
    `
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'line-stepper': LineStepper
  }
}
