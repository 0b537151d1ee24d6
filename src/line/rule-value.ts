/**
 * The whole numbers above one, up to a limit.
 *
 * @example
 * upTo(5, 8) // => [6, 7, 8]
 */
export function upTo(above: number, most: number): readonly number[] {
  return Array.from({ length: Math.max(0, most - above) }, (_, i) => above + 1 + i)
}

/**
 * The whole numbers below one, down to a limit.
 *
 * @example
 * downTo(5, 3) // => [4, 3]
 */
export function downTo(below: number, least: number): readonly number[] {
  return Array.from({ length: Math.max(0, below - least) }, (_, i) => below - 1 - i)
}
