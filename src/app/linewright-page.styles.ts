import { css } from 'lit'
import { box, plain, quiet, still, word } from '../ui/controls.ts'

/** How the page is laid out: a book opened on the desk, the right leaf alone elsewhere. */
export const PAGE_STYLES = [
  plain,
  word,
  box,
  quiet,
  css`
    :host {
      display: block;
      height: 100dvh;
      overflow: hidden;
      background-color: var(--paper);
    }
    .page {
      position: relative;
      display: grid;
      grid-template: minmax(0, 1fr) auto / minmax(0, 1fr);
      height: 100%;
    }
    .transport {
      position: relative;
      z-index: 7;
      grid-column: 1 / -1;
    }
    .heading {
      display: flex;
      align-items: baseline;
      justify-content: space-between;
    }
    h2 {
      margin: 0 0 9px;
      font-family: var(--part);
      font-size: 1rem;
      font-weight: 600;
      line-height: 1.2;
    }
    .help {
      margin: 8px 0 0;
      color: var(--ink-2);
      font-size: var(--t-1);
      line-height: 1.4;
    }
    .together {
      white-space: nowrap;
    }
    .row {
      display: flex;
      flex-wrap: wrap;
      gap: 8px;
    }

    /* the left leaf: what you say */
    .verso {
      overflow: auto;
      padding: 22px 30px 28px 34px;
      background-color: var(--leaf);
      scrollbar-width: thin;
      scrollbar-color: var(--hair) transparent;
    }
    .running {
      display: flex;
      gap: 12px;
      align-items: baseline;
      margin-bottom: 16px;
    }
    .running b {
      margin-right: auto;
      font-family: var(--part);
      font-size: 0.9375rem;
      font-weight: 500;
      letter-spacing: 0.01em;
    }
    .running .quiet {
      font-size: var(--t-0);
      white-space: nowrap;
    }
    section {
      margin-top: 20px;
    }
    /* the right leaf: what you play */
    .recto {
      display: grid;
      grid-template: auto minmax(0, 1fr) auto / minmax(0, 1fr);
      min-width: 0;
      min-height: 0;
    }
    .leaves {
      display: flex;
      gap: 22px;
      justify-content: flex-end;
      padding: 18px 52px 0;
    }
    .scroll {
      position: relative;
      overflow: auto;
      grid-row: 2;
      padding: 0 52px 24px;
      scrollbar-width: thin;
      scrollbar-color: var(--hair) transparent;
    }
    .under {
      grid-row: 3;
      height: 92px;
      margin: 0 52px;
    }
    .clash {
      position: relative;
      height: 100%;
      padding-top: 12px;
      overflow: auto;
      border-top: 1px solid var(--hair);
    }
    .clash::before {
      content: '';
      position: absolute;
      top: 0;
      left: 0;
      width: 140px;
      height: 3px;
      background-color: var(--red);
    }
    .clash p {
      max-width: 74ch;
      margin: 0 0 8px;
      font-size: var(--t-1);
      line-height: 1.4;
    }
    .clash .sign {
      color: var(--red);
      font-family: Georgia, serif;
      font-weight: 700;
    }

    .desktop {
      grid-template-columns: 392px minmax(0, 1fr);
    }
    .desktop.folded {
      grid-template-columns: minmax(0, 1fr);
    }
    .desktop .verso {
      box-shadow:
        inset -14px 0 18px -16px rgb(0 0 0 / 22%),
        inset -1px 0 0 var(--hair);
    }

    /* elsewhere a word lifts its leaf from below; the part and the transport stay */
    .tablet,
    .phone {
      grid-template-rows: minmax(0, 1fr) auto auto;
    }
    .tablet .verso,
    .phone .verso {
      position: absolute;
      z-index: 6;
      inset: auto 0 calc(84px + 50px);
      max-height: 66dvh;
      padding: 10px 40px 20px;
      border-top: 1.5px solid var(--ink);
      box-shadow: 0 -10px 24px -14px rgb(0 0 0 / 35%);
      animation: lift var(--leaf-time) ease-out;
    }
    @keyframes lift {
      from {
        transform: translateY(24px);
      }
    }
    .tablet .running,
    .phone .running {
      align-items: center;
      margin-bottom: 0;
    }
    .tablet section,
    .phone section {
      margin-top: 8px;
    }
    .tablet .scroll {
      padding: 22px 40px 20px;
    }
    .tablet .under {
      margin: 0 40px;
    }
    .index {
      display: flex;
      justify-content: space-between;
      height: 50px;
      padding: 0 36px;
      border-top: 1px solid var(--hair);
      background-color: var(--paper);
      z-index: 7;
    }
    .index button {
      min-width: 44px;
      padding: 0 4px;
      color: var(--ink-2);
      font-family: var(--part);
      font-size: 1.0625rem;
    }
    .index button[aria-expanded='true'] {
      box-shadow: inset 0 3px 0 var(--ink);
      color: var(--ink);
    }
    .phone .verso {
      inset: auto 0 calc(92px + 46px);
      padding: 8px 16px 16px;
    }
    .phone .scroll {
      padding: 14px 16px 18px;
    }
    .phone .under {
      height: auto;
      max-height: 120px;
      margin: 0 16px;
      overflow: auto;
    }
    .phone .index {
      height: 46px;
      padding: 0 16px;
    }
    .phone .index button {
      font-size: 1rem;
    }
  `,
  still,
]
