import { readFileSync } from 'node:fs'
import { join } from 'node:path'

/** Red, green and blue, 0 to 1 each, in light: the gamma of the screen taken out. */
export type Light = readonly [red: number, green: number, blue: number]

/** The two grounds that the page has. */
export type Theme = 'paper' | 'stage'

export const THEMES: readonly Theme[] = ['paper', 'stage']

const TOKENS = readFileSync(join(import.meta.dirname, '../../styles/tokens.css'), 'utf8')

/**
 * The light of a colour written `#rrggbb`. The curve is that of sRGB, IEC 61966-2-1.
 *
 * @throws RangeError  for anything but six hexadecimal digits
 */
export function light(hex: string): Light {
  if (!/^#[0-9a-f]{6}$/i.test(hex)) throw new RangeError(`${hex} is no colour written #rrggbb`)
  const channel = (from: number) => {
    const value = Number.parseInt(hex.slice(from, from + 2), 16) / 255
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4
  }
  return [channel(1), channel(3), channel(5)]
}

/** The colours of styles/tokens.css by name without the dashes, as `#rrggbb`, in one theme. */
export function colours(theme: Theme): ReadonlyMap<string, string> {
  const rows = TOKENS.matchAll(/--([\w-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\);/g)
  return new Map([...rows].map(([, name, paper, stage]) => [name!, theme === 'paper' ? paper! : stage!]))
}
