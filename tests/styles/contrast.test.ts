import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { colours, light, THEMES } from '../support/colour.ts'

/** Contrast ratio of two colours, 1 to 21: WCAG 2.2, definitions of "contrast ratio" and "relative luminance". */
function contrast(one: string, other: string): number {
  const luminance = (colour: string) => {
    const [red, green, blue] = light(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
  }
  const [dark, bright] = [luminance(one), luminance(other)].sort((a, b) => a - b)
  return (bright! + 0.05) / (dark! + 0.05)
}

const EVERYWHERE = ['paper', 'leaf', 'lift', 'lamp', 'lamp-now', 'graphite-wash']

/** Least ratio asked for: text AA 4.5 and AAA 7 (WCAG 2.2, 1.4.3 and 1.4.6), signs that are no text 3 (1.4.11). */
const AA = 4.5
const AAA = 7
const SIGN = 3

/** What stands on what. Strings fade under the note that sounds, where the figure itself carries the meaning. */
const ROWS: readonly { what: readonly string[]; on: readonly string[]; least: number }[] = [
  { what: ['ink'], on: [...EVERYWHERE, 'red-wash'], least: AAA },
  { what: ['ink-2'], on: ['paper', 'leaf'], least: AAA },
  { what: ['ink-2', 'ink-3', 'graphite', 'red'], on: EVERYWHERE, least: AA },
  {
    what: ['f-root', 'f-third', 'f-fifth', 'f-seventh', 'f-tension', 'f-motion', 'f-ghost'],
    on: EVERYWHERE,
    least: AA,
  },
  { what: ['red'], on: ['red-wash'], least: AA },
  { what: ['staff'], on: ['paper', 'leaf', 'lamp', 'lamp-now'], least: SIGN },
  { what: ['string'], on: ['paper', 'lamp'], least: SIGN },
]

test('The ratio is 21 for black on white, and 4.5 lies between the greys #767676 and #777777', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10)
  expect(contrast('#ffffff', '#767676')).toBeGreaterThan(AA)
  expect(contrast('#ffffff', '#777777')).toBeLessThan(AA)
})

describe.each(THEMES)('On the %s theme', (theme) => {
  const palette = colours(theme)
  for (const { what, on, least } of ROWS) {
    test(`${what.join(', ')} can be told from every ground, ${least} to 1 or more`, () => {
      const ratios = what.flatMap((sign) =>
        on.map((ground) => ({
          pair: `${sign} on ${ground}`,
          ratio: contrast(palette.get(sign)!, palette.get(ground)!),
        })),
      )
      expect(ratios.filter(({ ratio }) => ratio < least)).toEqual([])
    })
  }
})

test('The browser bar has the colour of the ground', () => {
  const html = readFileSync(new URL('../../index.html', import.meta.url), 'utf8')
  const bar = (scheme: string) =>
    new RegExp(`theme-color" media="\\(prefers-color-scheme: ${scheme}\\)" content="(.*?)"`)
  expect(bar('light').exec(html)?.[1]).toBe(colours('paper').get('paper'))
  expect(bar('dark').exec(html)?.[1]).toBe(colours('stage').get('paper'))
})
