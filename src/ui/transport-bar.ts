import { css, html, LitElement, type TemplateResult } from 'lit'
import { customElement, property } from 'lit/decorators.js'
import type { PartName } from '../music/arrangement.ts'
import { plain, still } from './controls.ts'
import type { Destination } from './goes-to.ts'
import { tell } from './tell.ts'
import './goes-to.ts'
import './line-stepper.ts'
import './part-level.ts'
import './tempo-field.ts'

/** How one part is set, as the player sees it. */
export interface PartSetting {
  readonly part: PartName
  readonly name: string
  readonly decibels: number
  readonly muted: boolean
  /** another part plays alone */
  readonly silenced: boolean
}

/**
 * Everything that is pressed while music sounds: play, tempo, loop, levels, where sound goes, which line. Fires `play-pressed` and
 * `loop-pressed`; what it holds speaks for itself.
 */
@customElement('transport-bar')
export class TransportBar extends LitElement {
  @property() view: 'desktop' | 'tablet' | 'phone' = 'desktop'
  @property({ type: Boolean }) playing = false
  @property({ type: Number }) tempoBpm = 120
  @property({ type: Boolean }) loop = true
  @property({ attribute: false }) parts: readonly PartSetting[] = []
  @property({ attribute: false }) destinations: readonly Destination[] = []
  @property() destination = ''
  @property({ type: Boolean }) portsKnown = false
  @property({ type: Number }) lineIndex = 0
  @property({ type: Number }) lineCount = 0
  @property({ type: Boolean }) searching = false

  static override styles = [
    plain,
    css`
      :host {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 4px 30px;
        min-height: 84px;
        padding: 4px 52px 4px 34px;
        border-top: 1.5px solid var(--ink);
        background-color: var(--paper);
      }
      .play {
        display: grid;
        flex: none;
        place-items: center;
        width: 60px;
        height: 60px;
        border-radius: 50%;
        background-color: var(--ink);
        transition: transform 120ms ease-out;
      }
      .play:hover {
        transform: scale(1.04);
      }
      .play:active {
        transform: scale(0.97);
      }
      .play[aria-pressed='true'] {
        box-shadow:
          0 0 0 4px var(--paper),
          0 0 0 7px var(--lamp-2);
      }
      .play:focus-visible {
        border-radius: 50%;
        outline-offset: 8px;
      }
      .play svg {
        width: 26px;
        height: 26px;
        fill: var(--paper);
      }
      .tool {
        display: grid;
        flex: none;
        grid-template-rows: minmax(44px, auto) minmax(18px, auto);
        justify-items: start;
        align-items: center;
      }
      small {
        color: var(--ink-2);
        font-size: var(--t-0);
        font-style: italic;
        line-height: 1.2;
        white-space: nowrap;
        pointer-events: none;
      }
      .tool > small {
        justify-self: center;
      }
      .loop {
        display: flex;
        align-items: center;
        gap: 8px;
        min-height: 40px;
        padding: 0 10px;
        border-radius: var(--radius);
        font-family: var(--part);
        font-size: var(--t-2);
        font-weight: 500;
        white-space: nowrap;
      }
      .loop:hover {
        background-color: var(--graphite-wash);
      }
      .loop[aria-pressed='true'] {
        background-color: var(--ink);
        color: var(--paper);
      }
      .loop svg {
        width: 26px;
        height: 18px;
      }
      .room {
        flex: 1;
      }
      .mixer {
        display: flex;
        flex-wrap: wrap;
        gap: 4px 16px;
      }
      goes-to {
        max-width: 220px;
      }
      @media (max-width: 1280px) {
        :host {
          gap: 4px 24px;
          padding: 4px 32px 4px 34px;
        }
      }
      @media (max-width: 1100px), (pointer: coarse) {
        /* as high as a finger, and its ink clear of the label below */
        .loop {
          min-width: 44px;
          min-height: 44px;
          border-block: 3px solid transparent;
          background-clip: padding-box;
        }
      }
      @media (max-width: 1100px) {
        :host {
          justify-content: space-between;
          gap: 4px 12px;
          padding: 4px 40px;
        }
      }
      @media (max-width: 1100px) and (max-height: 780px) {
        :host {
          padding: 4px 16px;
        }
      }
      @media (max-width: 560px) {
        :host {
          display: grid;
          /* Play in the middle, under the thumb: what stands right of it is as wide as the two on its left. */
          grid-template-columns: 1fr 1fr 76px 2fr;
          gap: 0;
          justify-items: center;
          min-height: 92px;
          padding: 4px;
        }
        .tool {
          justify-items: center;
        }
        .play {
          width: 68px;
          height: 68px;
        }
        .loop span {
          display: none;
        }
      }
      /* Where there is little height it goes to the part: what is said below the controls is said to a reader anyway. */
      @media (max-height: 600px) {
        :host {
          min-height: 52px;
        }
        .tool {
          grid-template-rows: minmax(44px, auto);
        }
        .tool > small {
          display: none;
        }
        .play {
          width: 44px;
          height: 44px;
        }
        .play[aria-pressed='true'] {
          box-shadow:
            0 0 0 1px var(--paper),
            0 0 0 4px var(--lamp-2);
        }
      }
      @media (forced-colors: active) {
        .play {
          forced-color-adjust: none;
        }
        .play[aria-pressed='true'],
        .loop[aria-pressed='true'] {
          forced-color-adjust: none;
          background-color: Highlight;
          color: HighlightText;
        }
        .play[aria-pressed='true'] svg {
          fill: HighlightText;
        }
      }
    `,
    still,
  ]

  protected override render(): TemplateResult {
    const tempo = html`<div class="tool"><tempo-field .bpm=${this.tempoBpm} ?brief=${this.view === 'phone'}></tempo-field><small aria-hidden="true">tempo</small></div>`
    const loop = html`
      <div class="tool">
        <button class="loop" aria-pressed=${this.loop} aria-label="loop all bars" @click=${() => tell(this, 'loop-pressed')}>
          <svg viewBox="0 0 26 18" stroke="currentColor" fill="currentColor" aria-hidden="true">
            <path d="M2 1v16M24 1v16" stroke-width="3" /><path d="M5.6 1v16M20.4 1v16" stroke-width="1.1" />
            <g stroke="none"><circle cx="9" cy="6.4" r="1.5" /><circle cx="9" cy="11.6" r="1.5" /><circle cx="17" cy="6.4" r="1.5" /><circle cx="17" cy="11.6" r="1.5" /></g>
          </svg><span>all</span></button>
        <small aria-hidden="true">loop</small>
      </div>
    `
    const play = html`
      <button class="play" aria-pressed=${this.playing} aria-label=${this.playing ? 'stop' : 'play'} @click=${() => tell(this, 'play-pressed')}>
        <svg viewBox="0 0 26 26" aria-hidden="true"><path d=${this.playing ? 'M5 4h16v18H5z' : 'M7 3.5v19l15.5-9.5z'} /></svg>
      </button>
    `
    const line = html`<div class="tool"><line-stepper .index=${this.lineIndex} .count=${this.lineCount} ?searching=${this.searching}></line-stepper><small aria-hidden="true">line</small></div>`
    if (this.view === 'phone') return html`${tempo}${loop}${play}${line}`
    if (this.view === 'tablet') return html`${play}${tempo}${loop}${line}`
    return html`${play}${tempo}${loop}<span class="room"></span>
      <div class="mixer" role="group" aria-label="balance">${this.parts.map(
        ({ part, name, decibels, muted, silenced }) =>
          html`<part-level .who=${part} .name=${name} .decibels=${decibels} ?muted=${muted} ?silenced=${silenced}></part-level>`,
      )}</div>
      <div class="tool">
        <goes-to alone .destinations=${this.destinations} .chosen=${this.destination} ?portsKnown=${this.portsKnown}></goes-to>
        <small aria-hidden="true">goes to</small>
      </div>
      ${line}`
  }

  /** Takes the focus to the first of the levels. */
  focusBalance(): void {
    this.renderRoot.querySelector('part-level')?.focus()
  }

  /** Opens the tempo as a field. */
  editTempo(): void {
    this.renderRoot.querySelector('tempo-field')?.edit()
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'transport-bar': TransportBar
  }
}
