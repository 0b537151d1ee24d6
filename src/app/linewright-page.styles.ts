import { css } from 'lit'
import { plain, quiet, still, word } from '../ui/controls.ts'

/** How the page is laid out: a book opened on the desk, the right leaf alone elsewhere. */
export const PAGE_STYLES = [
  plain,
  word,
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

    /* the left leaf: what you say */
    .verso {
      overflow: auto;
      padding: 22px 22px 28px 34px;
      background-color: var(--leaf);
      scrollbar-width: thin;
      scrollbar-color: var(--hair) transparent;
    }
    .running {
      display: flex;
      flex-wrap: wrap;
      gap: 0 12px;
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
    @media (max-width: 1100px), (pointer: coarse) {
      .running {
        column-gap: 4px;
      }
      .running .quiet {
        padding: 0 4px;
        text-align: center;
      }
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
      --beside: 52px;
    }
    @media (max-width: 1280px) {
      .recto {
        --beside: 32px;
      }
    }
    .leaves {
      display: flex;
      flex-wrap: wrap;
      gap: 0 22px;
      justify-content: flex-end;
      padding: 18px var(--beside) 0;
    }
    .scroll {
      position: relative;
      overflow: auto;
      grid-row: 2;
      padding: 8px var(--beside) 24px;
      scrollbar-width: thin;
      scrollbar-color: var(--hair) transparent;
      /* its head asks how high it is */
      container-type: size;
      /* Nothing is cut in half: it fades at both ends, and what fades is empty where nothing more comes. */
      mask-image: linear-gradient(transparent, #000 8px calc(100% - 18px), transparent);
    }
    @media print {
      .scroll {
        mask-image: none;
      }
    }
    /* A system far below keeps its old width until it comes near: it makes nothing wider meanwhile. */
    drawn-part {
      overflow-x: clip;
      overflow-clip-margin: 16px;
    }
    .under {
      grid-row: 3;
      height: calc(54px + 2.375rem);
      margin: 0 var(--beside);
    }

    .desktop {
      grid-template-columns: clamp(392px, 24.5rem, 36vw) minmax(0, 1fr);
    }
    .desktop.folded {
      grid-template-columns: minmax(0, 1fr);
    }
    .desktop .verso {
      box-shadow:
        inset -14px 0 18px -16px rgb(0 0 0 / 22%),
        inset -1px 0 0 var(--hair);
    }

    /* Elsewhere a word lifts its leaf from below. The part gives way and stays: a whole system of it is in sight. */
    .tablet,
    .phone {
      grid-template-rows: minmax(0, 1fr) auto auto auto;
    }
    .tablet .recto,
    .phone .recto {
      grid-row: 1;
    }
    .tablet .transport,
    .phone .transport {
      grid-row: 4;
    }
    .tablet .verso,
    .phone .verso {
      grid-row: 2;
      max-height: min(66dvh, 100dvh - 134px - 280px);
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
    .tablet .recto {
      --beside: 40px;
    }
    .tablet .scroll {
      padding-top: 22px;
      padding-bottom: 20px;
    }
    /* with a leaf open the height is the part's; what is in the way of a line is still said */
    .tablet .verso:not([hidden]) + .recto .under:has(line-strip) {
      display: none;
    }
    .tablet .verso:not([hidden]) + .recto .scroll,
    .phone .verso:not([hidden]) + .recto .scroll {
      padding-top: 8px;
    }
    .index {
      display: flex;
      flex-wrap: wrap;
      grid-row: 3;
      justify-content: space-between;
      min-height: 50px;
      padding: 0 36px;
      border-top: 1px solid var(--hair);
      background-color: var(--paper);
      z-index: 7;
    }
    .index button {
      min-width: 44px;
      min-height: 44px;
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
      max-height: min(66dvh, max(44dvh, 100dvh - 138px - 240px));
      padding: 8px 16px 16px;
    }
    .phone .recto {
      --beside: 16px;
    }
    .phone .scroll {
      padding-top: 14px;
      padding-bottom: 20px;
    }
    .phone .under {
      height: auto;
      max-height: 120px;
      overflow: auto;
    }
    .phone .index {
      min-height: 46px;
      padding: 0 16px;
    }
    .phone .index button {
      font-size: 1rem;
    }

    /* a page that is wider than high: the leaf lies beside the part, as on the desk, and the index beside the transport */
    @media (max-height: 780px) {
      .tablet {
        grid-template: minmax(0, 1fr) auto auto / minmax(0, 1fr);
      }
      .tablet:has(> .verso:not([hidden])) {
        grid-template-columns: clamp(300px, 50vw, 358px) minmax(0, 1fr);
      }
      .tablet .verso,
      .tablet .verso:not([hidden]) + .recto {
        grid-row: 1;
      }
      .tablet .verso {
        max-height: none;
        padding: 6px 14px 16px 16px;
        border-top: 0;
        border-right: 1px solid var(--hair);
        box-shadow: none;
      }
      .tablet .recto {
        --beside: 24px;
      }
      .tablet .scroll {
        padding-top: 8px;
      }
      .tablet .index {
        grid-column: 1 / -1;
        grid-row: 2;
        min-height: 44px;
        padding: 0 12px;
      }
      .tablet .index button {
        font-size: 1rem;
      }
      .tablet .transport {
        grid-row: 3;
      }
    }
    @media (max-height: 780px) and (min-width: 800px) {
      .tablet,
      .tablet:has(> .verso:not([hidden])) {
        grid-template: minmax(0, 1fr) auto / clamp(300px, 50vw, 358px) minmax(0, 1fr);
      }
      .tablet .recto {
        grid-column: 1 / -1;
      }
      .tablet .verso:not([hidden]) + .recto {
        grid-column: 2;
      }
      .tablet .index {
        grid-column: 1;
        border-top: 1.5px solid var(--ink);
      }
      .tablet .transport {
        grid-column: 2;
        grid-row: 2;
      }
    }
    /* and one that is low altogether: the lines are gone through in the transport */
    @media (max-height: 600px) {
      .under:has(line-strip) {
        display: none;
      }
      .under {
        height: auto;
        max-height: 96px;
        overflow: auto;
      }
      .leaves {
        padding-top: 4px;
      }
      .phone .index {
        min-height: 44px;
      }
      .phone .verso {
        max-height: min(66dvh, max(44dvh, 100dvh - 96px - 230px));
      }
    }
    @media (forced-colors: active) {
      .verso {
        border-right: 1px solid CanvasText;
      }
      .index button[aria-expanded='true'] {
        border-top: 3px solid Highlight;
      }
    }
  `,
  still,
]
