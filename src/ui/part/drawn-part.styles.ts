import { css } from 'lit'

/** Strokes are in units of the drawing, ten to a staff space. */
export const drawnPartStyles = css`
  :host {
    display: block;
    position: relative;
    isolation: isolate;
  }
  .system {
    position: relative;
    scroll-margin-top: var(--part-scroll-margin, 8px);
  }
  svg {
    display: block;
    overflow: visible;
    pointer-events: none;
    fill: var(--ink);
    stroke: none;
  }
  .sign {
    font-family: var(--signs);
    font-weight: 400;
  }
  .engraved {
    color: var(--ink);
  }
  .stem,
  .vf-stem path {
    stroke: var(--ink);
    stroke-width: 1.2px;
  }
  .text,
  .degree {
    font-family: var(--part);
    font-weight: 600;
  }
  .figure {
    font-family: var(--part);
    font-weight: 600;
    text-anchor: middle;
    paint-order: stroke;
    stroke: var(--halo, var(--paper));
    stroke-width: 7.5px;
    stroke-linejoin: round;
  }
  .bracketed {
    fill: var(--ink-3);
  }
  .number {
    font-family: var(--book);
    font-style: italic;
    fill: var(--ink-2);
  }
  .triplet {
    font-family: var(--book);
    font-style: italic;
    font-weight: 500;
  }
  .staff {
    stroke: var(--staff);
    stroke-width: 1.15px;
  }
  .string {
    stroke: var(--string);
    stroke-width: 1px;
  }
  .bar-line {
    stroke: var(--ink);
    stroke-width: 1.6px;
  }
  .thick {
    stroke: var(--ink);
    stroke-width: 5px;
  }
  .letter-box {
    fill: none;
    stroke: var(--ink);
    stroke-width: 1.7px;
  }
  .bracket {
    fill: none;
    stroke: var(--ink);
    stroke-width: 1.3px;
  }
  .f-root { fill: var(--f-root); stroke: var(--f-root); }
  .f-third { fill: var(--f-third); stroke: var(--f-third); }
  .f-fifth { fill: var(--f-fifth); stroke: var(--f-fifth); }
  .f-seventh { fill: var(--f-seventh); stroke: var(--f-seventh); }
  .f-tension { fill: var(--f-tension); stroke: var(--f-tension); }
  .f-motion { fill: var(--f-motion); stroke: var(--f-motion); }
  .f-ghost { fill: var(--f-ghost); stroke: var(--f-ghost); }
  .degree,
  .sign,
  .mark-solid {
    stroke: none;
  }
  .mark {
    fill: none;
  }
  .lamp-bar {
    fill: var(--lamp);
    stroke: var(--lamp-2);
    stroke-opacity: 0.55;
    stroke-width: 1px;
    vector-effect: non-scaling-stroke;
  }
  .lamp-note {
    fill: var(--lamp-now);
  }
  .lamp-foot {
    fill: var(--lamp-2);
  }
  .lit {
    --halo: var(--lamp);
  }
  .sounding {
    --halo: var(--lamp-now);
  }
  .dim > .notes {
    opacity: 0.35;
  }
  .wave {
    fill: none;
    stroke: var(--red);
    stroke-width: 1.7px;
    vector-effect: non-scaling-stroke;
  }
  .changed > .notes {
    animation: come 120ms ease-out;
  }
  @keyframes come {
    from {
      opacity: 0;
    }
  }
  button {
    position: absolute;
    appearance: none;
    margin: 0;
    padding: 0;
    border: 0;
    border-radius: var(--radius, 4px);
    background: none;
    cursor: pointer;
    z-index: 1;
  }
  button:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 1px;
  }
  @media (hover: hover) {
    button:hover {
      background: color-mix(in srgb, var(--graphite) 16%, transparent);
    }
  }
  .words {
    position: absolute;
    width: 1px;
    height: 1px;
    margin: 0;
    padding: 0;
    overflow: hidden;
    contain: strict;
    clip-path: inset(50%);
    white-space: nowrap;
  }
  @media (prefers-reduced-motion: reduce) {
    .changed > .notes {
      animation: none;
    }
  }
`
