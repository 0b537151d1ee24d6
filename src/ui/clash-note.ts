import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import { customElement, property } from 'lit/decorators.js'
import { box, plain, still } from './controls.ts'
import { tell } from './tell.ts'

/** Something that would help, in a press. */
export interface WayOut {
  readonly id: string
  /** as printed */
  readonly name: string
}

/** One of the ways out was chosen. */
export interface WayOutChosen {
  readonly id: string
}

/** What is in the way of a line, in red pencil at the foot of the page. Fires `way-out-chosen` with {@link WayOutChosen}. */
@customElement('clash-note')
export class ClashNote extends LitElement {
  @property() sentence = ''
  /** what would help, in words; empty: nothing is known */
  @property() help = ''
  @property({ attribute: false }) ways: readonly WayOut[] = []

  static override styles = [
    plain,
    box,
    css`
      :host {
        position: relative;
        display: block;
        height: 100%;
        padding-top: 12px;
        overflow: auto;
        border-top: 1px solid var(--hair);
      }
      :host::before {
        content: '';
        position: absolute;
        top: 0;
        left: 0;
        width: 140px;
        height: 3px;
        background-color: var(--red);
      }
      p {
        max-width: 74ch;
        margin: 0 0 8px;
        font-size: var(--t-1);
        line-height: 1.4;
      }
      .sign {
        color: var(--red);
        font-family: Georgia, serif;
        font-weight: 700;
      }
      .ways {
        display: flex;
        flex-wrap: wrap;
        gap: 8px;
      }
    `,
    still,
  ]

  protected override render(): TemplateResult {
    return html`
      <div role="alert">
        <p><span class="sign" aria-hidden="true">‡</span> ${this.sentence}</p>
        ${this.help === '' ? nothing : html`<p>${this.help}</p>`}
      </div>
      <div class="ways">${this.ways.map(
        ({ id, name }) =>
          html`<button class="box" @click=${() => tell(this, 'way-out-chosen', { id } satisfies WayOutChosen)}>${name}</button>`,
      )}</div>
    `
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'clash-note': ClashNote
  }
}
