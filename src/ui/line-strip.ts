import { css, html, LitElement, type TemplateResult } from 'lit'
import { customElement, property } from 'lit/decorators.js'
import { plain, still } from './controls.ts'
import { tell } from './tell.ts'

/** A line as its small picture shows it. */
export interface StripLine {
  /** points above the best line of all */
  readonly above: number
  /** what is different from the first line, in a few words; empty where nothing is */
  readonly differs: string
  /** it may not be the best there is: by so many points at most */
  readonly provenWithin: number
  /** sounding pitches in order, dead notes left out */
  readonly pitches: readonly number[]
}

/** The lines side by side: number, cost above the best, and the contour as steps in pitch. Fires `line-wanted`. */
@customElement('line-strip')
export class LineStrip extends LitElement {
  @property({ attribute: false }) lines: readonly StripLine[] = []
  @property({ type: Number }) index = 0

  static override styles = [
    plain,
    css`
      :host {
        display: grid;
        grid-template-columns: repeat(6, minmax(6.5rem, 1fr));
        gap: 18px;
        min-height: 76px;
        overflow: auto hidden;
        scrollbar-width: none;
      }
      button {
        display: grid;
        grid-template-rows: minmax(22px, auto) 34px;
        align-content: start;
        min-height: 72px;
        padding: 11px 0 0;
        box-shadow: inset 0 1px 0 var(--hair);
        color: var(--ink-2);
      }
      button:hover {
        background-color: var(--graphite-wash);
      }
      button:focus-visible {
        outline-offset: -2px;
      }
      button[aria-current='true'] {
        box-shadow: inset 0 3px 0 var(--ink);
        color: var(--ink);
      }
      @media (forced-colors: active) {
        button {
          border-top: 1px solid CanvasText;
        }
        button[aria-current='true'] {
          border-top: 4px solid Highlight;
        }
      }
      .figures {
        display: flex;
        align-items: baseline;
        justify-content: space-between;
        font-family: var(--part);
        font-size: 0.90625rem;
        font-weight: 600;
        line-height: 1;
      }
      i {
        font-family: var(--book);
        font-size: var(--t-0);
        font-weight: 400;
      }
      svg {
        width: 100%;
        height: 30px;
        overflow: visible;
      }
      path {
        fill: none;
        stroke: currentcolor;
        stroke-width: 1.4;
      }
    `,
    still,
  ]

  protected override render(): TemplateResult {
    return html`${this.lines.map((line, index) => {
      const words = wordsOf(line, index)
      return html`
        <button aria-current=${index === this.index} title=${line.differs} @click=${() => tell(this, 'line-wanted', { index })}>
          <span class="figures"><span><span class="unseen">line </span>${index + 1}</span> <i>${words}<span class="unseen">${line.differs && `, ${line.differs}`}</span></i></span>
          <svg viewBox="0 0 130 30" preserveAspectRatio="none" aria-hidden="true"><path vector-effect="non-scaling-stroke" d=${contour(line.pitches)} /></svg>
        </button>
      `
    })}`
  }
}

function wordsOf({ above, provenWithin }: StripLine, index: number): string {
  if (above > 0) return `+${above}`
  if (index > 0) return 'as good'
  return provenWithin > 0 ? `best so far` : 'best'
}

/** A staircase through the pitches, 130 wide and 30 high, the lowest at the bottom. */
function contour(pitches: readonly number[]): string {
  if (pitches.length === 0) return ''
  const low = Math.min(...pitches)
  const high = Math.max(...pitches)
  const y = (pitch: number) => (27 - (24 * (pitch - low)) / Math.max(1, high - low)).toFixed(1)
  const step = 130 / pitches.length
  return `${pitches.map((pitch, i) => (i === 0 ? `M0 ${y(pitch)}` : `H${(i * step).toFixed(1)}V${y(pitch)}`)).join('')}H130`
}

declare global {
  interface HTMLElementTagNameMap {
    'line-strip': LineStrip
  }
}
