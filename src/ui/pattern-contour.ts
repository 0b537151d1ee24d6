import { css, html, nothing, type SVGTemplateResult, svg, type TemplateResult } from 'lit'
import type { ApproachToken, DegreeToken, PatternToken } from '../line/pattern.ts'
import { semitonesOf } from '../music/degree.ts'

const WIDTH = 34
const HEIGHT = 22
const EDGE = 3.2

/** The style of what is drawn here, for the element that shows it. */
export const patternContourLook = css`
  .pattern-contour {
    display: block;
    flex: none;
    width: 34px;
    height: 22px;
    fill: currentColor;
  }
  .pattern-contour path {
    fill: none;
    stroke: currentColor;
    stroke-width: 1.2;
  }
  .pattern-degrees {
    font-family: var(--part);
    font-size: 15px;
    font-weight: 500;
    line-height: 1.25;
    word-spacing: 0.12em;
  }
  .pattern-degrees .low {
    vertical-align: -0.22em;
  }
  .pattern-degrees .high {
    vertical-align: 0.22em;
  }
  .pattern-degrees i {
    font-family: var(--book);
  }
  .pattern-degrees svg {
    width: 8px;
    height: 9px;
    fill: none;
    stroke: currentColor;
    stroke-width: 1.3;
  }
`

const ALTER = { bb: -2, b: -1, '#': 1, '##': 2, n: 0 } as const
const SIGNS = { bb: '𝄫', b: '♭', '#': '♯', '##': '𝄪', n: '♮' } as const
const SIGN_WORDS = { bb: 'double flat ', b: 'flat ', '#': 'sharp ', '##': 'double sharp ', n: 'natural ' } as const
const APPROACHES = {
  half: { from: { above: 1, below: -1 }, letter: 'h', words: 'half step' },
  whole: { from: { above: 2, below: -2 }, letter: 'w', words: 'whole step' },
  scale: { from: { above: 2, below: -2 }, letter: 's', words: 'scale step' },
  dominant: { from: { above: 7, below: -5 }, letter: 'd', words: 'fifth or fourth' },
} as const

/**
 * How high each token of a pattern lies over the root of its chord, in semitones, as over a major chord: enough for a picture. What
 * belongs to the next chord, or leads to it, is taken as near as the same root allows.
 *
 * @example
 * contourOf([{ kind: 'degree', next: false, octave: -1, accidental: 'b', number: 7 }]) // => [-2]
 */
export function contourOf(tokens: readonly PatternToken[]): readonly number[] {
  const heights: number[] = []
  for (const [index, token] of tokens.entries()) {
    const before = heights.at(-1) ?? 0
    if (token.kind === 'degree') {
      heights.push(heightOf(token, before))
      continue
    }
    const target = tokens.slice(index).find((other) => other.kind === 'degree')
    const aim = target ? heightOf(target, before) : nearestOctave(0, before)
    heights.push(aim + APPROACHES[token.by].from[token.from])
  }
  return heights
}

function heightOf({ next, octave, accidental, number }: DegreeToken, before: number): number {
  const height = semitonesOf({ number, alter: accidental ? ALTER[accidental] : 0 }) + 12 * octave
  return next ? nearestOctave(height, before) : height
}

function nearestOctave(height: number, before: number): number {
  return height + 12 * Math.round((before - height) / 12)
}

/** The rise and fall of a pattern as a small picture. */
export function patternContour(tokens: readonly PatternToken[]): SVGTemplateResult {
  const heights = contourOf(tokens)
  const [low, high] = [Math.min(...heights), Math.max(...heights)]
  const points = heights.map((height, index) => {
    const x = heights.length === 1 ? WIDTH / 2 : EDGE + ((WIDTH - 2 * EDGE) * index) / (heights.length - 1)
    const y = high === low ? HEIGHT / 2 : HEIGHT - EDGE - ((HEIGHT - 2 * EDGE) * (height - low)) / (high - low)
    return [Math.round(10 * x) / 10, Math.round(10 * y) / 10] as const
  })
  const radius = points.length > 9 ? 1.2 : 2.3
  return svg`<svg class="pattern-contour" viewBox="0 0 ${WIDTH} ${HEIGHT}" aria-hidden="true">
    <path d="M${points.map((point) => point.join(' ')).join('L')}" />
    ${points.map(([x, y]) => svg`<circle cx=${x} cy=${y} r=${radius} />`)}
  </svg>`
}

/** The degrees of a pattern as they are printed: `1 3 ♭7`; lower ones stand lower, an approach is a letter and the way it leads. */
export function patternDegrees(tokens: readonly PatternToken[]): TemplateResult {
  return html`<span class="pattern-degrees" aria-hidden="true">${tokens.map(
    (token, index) =>
      html`${index > 0 ? ' ' : nothing}${token.kind === 'degree' ? printDegree(token) : printApproach(token)}`,
  )}</span>`
}

function printDegree({ next, octave, accidental, number }: DegreeToken) {
  const text = `${next ? '›' : ''}${accidental ? SIGNS[accidental] : ''}${number}`
  return octave === 0 ? text : html`<span class=${octave < 0 ? 'low' : 'high'}>${text}</span>`
}

function printApproach({ by, from }: ApproachToken) {
  const arrow = from === 'below' ? 'M1 8L7 2M3 2H7V6' : 'M1 2L7 8M3 8H7V4'
  return html`<i>${APPROACHES[by].letter}</i>${svg`<svg viewBox="0 0 8 10"><path d=${arrow} /></svg>`}`
}

/**
 * A pattern in words, for those who hear it.
 *
 * @example
 * spokenPattern([{ kind: 'approach', by: 'half', from: 'below' }]) // => 'half step from below'
 * spokenPattern([{ kind: 'degree', next: true, octave: -1, accidental: 'b', number: 7 }]) // => 'low flat 7 of the next chord'
 */
export function spokenPattern(tokens: readonly PatternToken[]): string {
  return tokens
    .map((token) => {
      if (token.kind === 'approach') return `${APPROACHES[token.by].words} from ${token.from}`
      const height = token.octave < 0 ? 'low ' : token.octave > 0 ? 'high ' : ''
      const sign = token.accidental ? SIGN_WORDS[token.accidental] : ''
      return `${height}${sign}${token.number}${token.next ? ' of the next chord' : ''}`
    })
    .join(', ')
}
