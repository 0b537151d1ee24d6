import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import { customElement, property } from 'lit/decorators.js'
import { plain, still } from './controls.ts'
import { tell } from './tell.ts'

/** A row of the list of keys. */
export interface KeyRow {
  /** as printed */
  readonly keys: string
  readonly does: string
}

/** Single letters are to work as keys, or not. */
export interface LettersChanged {
  readonly on: boolean
}

/** The list of keys, and whether single letters are among them. Fires `letters-changed` with {@link LettersChanged}. */
@customElement('keys-leaf')
export class KeysLeaf extends LitElement {
  @property({ attribute: false }) rows: readonly KeyRow[] = []
  @property({ type: Boolean }) letters = true
  /** where the licences can be read; empty: nowhere yet */
  @property() licences = ''

  static override styles = [
    plain,
    css`
      :host {
        display: block;
      }
      table {
        width: 100%;
        border-collapse: collapse;
        font-size: var(--t-1);
        line-height: 1.4;
      }
      th {
        width: 40%;
        padding: 5px 12px 5px 0;
        font-family: var(--part);
        font-weight: 600;
        text-align: left;
        vertical-align: baseline;
      }
      td {
        padding: 5px 0;
      }
      tr + tr > * {
        border-top: 1px solid var(--hair);
      }
      label {
        display: flex;
        gap: 10px;
        align-items: center;
        min-height: 44px;
        margin-top: 8px;
        font-size: var(--t-1);
      }
      .help {
        margin: 8px 0 0;
        font-size: var(--t-1);
      }
      a {
        display: inline-block;
        padding: 10px 0;
        color: var(--ink-2);
        line-height: 1.5rem;
        text-underline-offset: 3px;
      }
      input {
        width: 20px;
        height: 20px;
        accent-color: var(--ink);
      }
    `,
    still,
  ]

  protected override render(): TemplateResult {
    const changed = (event: Event) =>
      tell(this, 'letters-changed', { on: (event.target as HTMLInputElement).checked } satisfies LettersChanged)
    return html`
      <table>
        ${this.rows.map(({ keys, does }) => html`<tr><th scope="row">${keys}</th><td>${does}</td></tr>`)}
      </table>
      <label><input type="checkbox" .checked=${this.letters} @change=${changed} /> single letters and signs work as keys</label>
      ${this.licences === '' ? nothing : html`<p class="help"><a href=${this.licences} target="_blank">Licences of the sounds, the faces and the libraries</a></p>`}
    `
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'keys-leaf': KeysLeaf
  }
}
