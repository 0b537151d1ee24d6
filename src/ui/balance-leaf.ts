import { css, html, LitElement, type TemplateResult } from 'lit'
import { customElement, property } from 'lit/decorators.js'
import { plain, still } from './controls.ts'
import type { Destination } from './goes-to.ts'
import type { PartSetting } from './transport-bar.ts'
import './goes-to.ts'
import './part-level.ts'

/** The four levels and where sound goes, on a page too narrow to hold them in its transport. Its parts speak for themselves. */
@customElement('balance-leaf')
export class BalanceLeaf extends LitElement {
  @property({ attribute: false }) parts: readonly PartSetting[] = []
  @property({ attribute: false }) destinations: readonly Destination[] = []
  @property() destination = ''
  @property({ type: Boolean }) portsKnown = false

  static override styles = [
    plain,
    css`
      :host {
        display: block;
      }
      p {
        display: flex;
        flex-wrap: wrap;
        gap: 0 8px;
        align-items: baseline;
        min-height: 44px;
        margin: 8px 0 0;
      }
      .help {
        display: block;
        color: var(--ink-2);
        font-size: var(--t-1);
        line-height: 1.4;
      }
    `,
    still,
  ]

  protected override render(): TemplateResult {
    return html`
      ${this.parts.map(
        ({ part, name, decibels, muted, silenced }) =>
          html`<part-level wide .who=${part} .name=${name} .decibels=${decibels} ?muted=${muted} ?silenced=${silenced}></part-level>`,
      )}
      <p>Sound goes to <goes-to .destinations=${this.destinations} .chosen=${this.destination} ?portsKnown=${this.portsKnown}></goes-to></p>
      <p class="help">Start low: headphones and a bass are loud together. If your ears ring or hurt, stop; if it lasts, see a doctor.</p>
    `
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'balance-leaf': BalanceLeaf
  }
}
