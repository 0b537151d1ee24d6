import { css, html, LitElement, type TemplateResult } from 'lit'
import { customElement, property } from 'lit/decorators.js'
import { box, plain, still } from './controls.ts'
import { tell } from './tell.ts'

/** A MIDI file of the line on the page is wanted. */
export interface FileWanted {
  readonly for: 'player' | 'sequencer'
}

/** What can be taken away of a line. Fires `file-wanted` with {@link FileWanted}. */
@customElement('take-away-leaf')
export class TakeAwayLeaf extends LitElement {
  /** for people, from 1; 0: there is none */
  @property({ type: Number }) line = 0
  /** what became of the last file; empty: nothing yet */
  @property() said = ''

  static override styles = [
    plain,
    box,
    css`
      :host {
        display: block;
      }
      p {
        margin: 0 0 8px;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 8px;
      }
      .help {
        margin: 8px 0 0;
        color: var(--ink-2);
        font-size: var(--t-1);
        line-height: 1.4;
      }
    `,
    still,
  ]

  protected override render(): TemplateResult {
    const none = this.line === 0
    const want = (reader: FileWanted['for']) => () => tell(this, 'file-wanted', { for: reader } satisfies FileWanted)
    return html`
      <p>${none ? 'There is no line to take away yet.' : `Line ${this.line} as a MIDI file, with the band around it.`}</p>
      <div class="row">
        <button class="box" ?disabled=${none} @click=${want('player')}>for a player</button>
        <button class="box" ?disabled=${none} @click=${want('sequencer')}>for a sequencer</button>
      </div>
      <p class="help">The first brings its sounds and the swing along, and plays as it is heard here. The second brings notes and swing only, on its own grid, and goes round without a seam. Parts that are muted are left out, but for the bass.</p>
      <p class="help" role="status">${this.said}</p>
    `
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'take-away-leaf': TakeAwayLeaf
  }
}
