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
  /** what the ways out are, to one who hears them */
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
        container-type: inline-size;
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
      /* Beside the sentence, where there is room and a pointer: all is in sight. */
      @media (pointer: fine) {
        @container (min-width: 44rem) {
          .beside {
            display: grid;
            grid-template-columns: minmax(0, 1fr) auto;
            gap: 0 2rem;
          }
          .ways {
            flex-flow: column;
            align-items: stretch;
            gap: 3px;
            margin-top: -3px;
          }
          .ways button {
            min-height: 24px;
            padding-block: 0;
            text-align: start;
          }
        }
      }
    `,
    still,
  ]

  protected override render(): TemplateResult {
    const { ways } = this
    return html`
      <div class="beside">
        <div role="alert"><p><span class="sign" aria-hidden="true">‡</span> ${this.sentence}</p></div>
        ${
          ways.length === 0
            ? nothing
            : html`<div class="ways" role="group" aria-label=${this.help || 'What would help'}>${ways.map(
                ({ id, name }) =>
                  html`<button class="box" @click=${() => tell(this, 'way-out-chosen', { id } satisfies WayOutChosen)}>${name}</button>`,
              )}</div>`
        }
      </div>
    `
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'clash-note': ClashNote
  }
}
