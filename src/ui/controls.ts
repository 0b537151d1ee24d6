import { css } from 'lit'

// What can be pressed looks the same everywhere. Each fragment stands in the `static styles` of an element that uses its class.

/** Reset of what browsers do to buttons and fields, and the ring of what has the focus. Every element takes this. */
export const plain = css`
  :host {
    font-family: var(--book);
    font-size: var(--t-2);
    font-variant-numeric: lining-nums;
    line-height: 1.5;
    color: var(--ink);
  }
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  button,
  input,
  select,
  textarea {
    margin: 0;
    padding: 0;
    border: 0;
    border-radius: 0;
    background: none;
    color: inherit;
    font: inherit;
    font-variant-numeric: inherit;
    letter-spacing: inherit;
    text-align: inherit;
  }
  button {
    cursor: pointer;
  }
  button:disabled {
    cursor: default;
  }
  :focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 3px;
    border-radius: 2px;
  }
  [hidden] {
    display: none !important;
  }
  .unseen {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
`

/** `.word`: a word that can be changed, in a sentence or on the part: a dotted rule under it, as in a printed form. */
export const word = css`
  .word {
    border-bottom: 1.5px dotted var(--graphite);
    line-height: 1.25;
    /* It goes to a new row whole, and breaks only where a row is too short for it. */
    max-width: 100%;
    transition: background-color 0.12s ease-out;
  }
  .word:hover {
    background-color: var(--graphite-wash);
    border-bottom-style: solid;
  }
  @media (forced-colors: active) {
    /* the ground that is put behind forced text would hide the rule */
    .word {
      forced-color-adjust: none;
    }
  }
  .word:disabled {
    border-bottom-color: transparent;
    background: none;
  }
  @media (max-width: 1100px), (pointer: coarse) {
    .word {
      position: relative;
    }
    .word::after {
      content: '';
      position: absolute;
      left: 50%;
      top: 50%;
      width: max(100%, 44px);
      height: 44px;
      transform: translate(-50%, -50%);
    }
  }
`

/** `.box`: a button, a word in an ink box as a rehearsal letter is boxed. `aria-pressed` makes it solid. */
export const box = css`
  .box {
    min-height: 34px;
    padding: 5px 11px 4px;
    border: 1.25px solid var(--ink);
    border-radius: 4px;
    font-size: var(--t-1);
    line-height: 1.25;
    transition: background-color 0.12s ease-out;
  }
  .box:hover {
    background-color: var(--graphite-wash);
  }
  .box[aria-pressed='true'] {
    background-color: var(--ink);
    color: var(--paper);
  }
  @media (forced-colors: active) {
    .box[aria-pressed='true'] {
      forced-color-adjust: none;
      background-color: Highlight;
      color: HighlightText;
    }
  }
  .box:disabled {
    border-color: var(--hair);
    background: none;
    color: var(--ink-3);
  }
  @media (max-width: 1100px), (pointer: coarse) {
    .box {
      min-width: 44px;
      min-height: 44px;
    }
  }
`

/** `.quiet`: a button that is a word in italic, for what is pressed seldom. */
export const quiet = css`
  .quiet {
    color: var(--ink-2);
    font-size: var(--t-1);
    font-style: italic;
    line-height: 1.25;
    transition: color 0.12s ease-out;
  }
  .quiet:hover {
    color: var(--ink);
    text-decoration: underline 1px;
    text-underline-offset: 3px;
  }
  .quiet:disabled {
    color: var(--ink-3);
    text-decoration: none;
  }
  @media (max-width: 1100px), (pointer: coarse) {
    .quiet {
      min-width: 44px;
      min-height: 44px;
    }
  }
`

/** `.figure`: something to choose with a hairline under it; chosen it is ink over a heavy rule (`aria-pressed`). */
export const figure = css`
  .figure {
    display: block;
    width: 100%;
    box-shadow: inset 0 -1px 0 var(--hair);
    color: var(--ink-3);
    transition: background-color 0.12s ease-out;
  }
  .figure:hover {
    background-color: var(--graphite-wash);
  }
  .figure[aria-pressed='true'] {
    box-shadow: inset 0 -3px 0 var(--ink);
    color: var(--ink);
  }
  @media (forced-colors: active) {
    .figure[aria-pressed='true'] {
      border-bottom: 3px solid Highlight;
    }
  }
`

/** Nothing moves for a player who asked for that. Last among the styles. */
export const still = css`
  @media (prefers-reduced-motion: reduce) {
    *,
    *::before,
    *::after {
      transition: none !important;
      animation: none !important;
    }
  }
`
