import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import { customElement, property } from 'lit/decorators.js'
import { plain, still, word } from './controls.ts'
import { tell } from './tell.ts'

/** The head of the printed part: what it is called, who plays, in which key, how and how fast. Fires `feel-pressed`, `tempo-pressed`. */
@customElement('part-head')
export class PartHead extends LitElement {
  @property() override title = ''
  /** in words, `Key of F`; empty: the chart names none */
  @property() key = ''
  @property() feel = ''
  @property({ type: Number }) tempoBpm = 120
  /** the beat that is counted is a dotted quarter */
  @property({ type: Boolean }) dotted = false
  /** one pencilled sentence; empty: none */
  @property() pencil = ''

  static override styles = [
    plain,
    word,
    css`
      :host {
        display: block;
      }
      .names {
        display: grid;
        grid-template: 'player title key' / minmax(76px, 1fr) auto minmax(76px, 1fr);
        gap: 0 12px;
        align-items: baseline;
      }
      h1 {
        margin: 0;
        font-family: var(--part);
        font-size: var(--t-5);
        font-weight: 500;
        line-height: 1.105;
        letter-spacing: -0.012em;
        text-align: center;
        overflow-wrap: anywhere;
      }
      @media (forced-colors: active) {
        h1 {
          forced-color-adjust: none;
        }
      }
      .player {
        font-family: var(--part);
        font-size: 1.125rem;
        font-weight: 600;
        line-height: 1.2;
      }
      h1 {
        grid-area: title;
      }
      .player {
        grid-area: player;
      }
      .key {
        grid-area: key;
        color: var(--ink-2);
        font-style: italic;
        text-align: right;
      }
      .manner {
        display: flex;
        flex-wrap: wrap;
        gap: 4px 12px;
        align-items: baseline;
        margin: 8px 0;
        font-family: var(--part);
        font-size: 1.0625rem;
        font-weight: 600;
        line-height: 1.3;
      }
      .manner .word {
        font-family: inherit;
        font-weight: inherit;
      }
      .sign {
        font-family: var(--signs);
        font-size: 1.25rem;
        font-weight: 400;
        line-height: 0;
      }
      .pencil {
        margin: 0 0 0 auto;
        color: var(--graphite);
        font-family: var(--book);
        font-size: var(--t-2);
        font-style: italic;
        font-weight: 400;
      }
      @media (max-width: 1100px), (pointer: coarse) {
        .manner {
          margin-bottom: 16px;
        }
      }
      @media (max-width: 560px) {
        .names {
          grid-template:
            'title title'
            'player key' / 1fr auto;
        }
        h1 {
          text-align: left;
        }
        .pencil {
          flex-basis: 100%;
          margin: 0;
          font-size: var(--t-1);
        }
      }
      /* Where the part has little height, the head is one row. */
      @container (max-height: 450px) {
        :host {
          display: flex;
          flex-wrap: wrap;
          gap: 0 16px;
          align-items: baseline;
          padding-bottom: 10px;
        }
        .names {
          display: contents;
        }
        h1 {
          font-size: var(--t-3);
          line-height: 1.3;
        }
        .player {
          display: none;
        }
        .key {
          order: 1;
          margin-left: auto;
          font-size: var(--t-1);
        }
        .manner {
          display: contents;
          font-size: 1rem;
        }
        .manner .word {
          font-size: 1rem;
          font-family: var(--part);
          font-weight: 600;
        }
        .pencil {
          flex-basis: 100%;
          order: 2;
          margin: 0;
          font-size: var(--t-1);
          line-height: 1.3;
        }
      }
      @container (max-height: 450px) and (max-width: 560px) {
        .key {
          order: 0;
        }
      }
      @container (max-height: 260px) {
        .pencil {
          display: none;
        }
      }
    `,
    still,
  ]

  protected override render(): TemplateResult {
    return html`
      <div class="names">
        <h1>${this.title}</h1>
        <div class="player">Bass</div>
        <div class="key">${this.key}</div>
      </div>
      <div class="manner">
        <button class="word" aria-label="feel: ${this.feel}" @click=${() => tell(this, 'feel-pressed')}>${this.feel}</button>
        <span>
          <span class="sign" aria-hidden="true">${this.dotted ? '\uECA5\u2009\uECB7' : '\uECA5'}</span>
          <span aria-hidden="true"> = </span>
          <button class="word" aria-label="tempo: ${this.tempoBpm} beats a minute" @click=${() => tell(this, 'tempo-pressed')}>${this.tempoBpm}</button>
        </span>
        ${this.pencil === '' ? nothing : html`<p class="pencil">${this.pencil}</p>`}
      </div>
    `
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'part-head': PartHead
  }
}
